/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A header card as it looks on its bag: the front, or the back from behind; painted by the one
 * painter in a thread. CSS node: foldedpreview. */
#pragma once

#include <gtk/gtk.h>

#include "job/state.h"

G_BEGIN_DECLS

#define SB_TYPE_FOLDED_PREVIEW (sb_folded_preview_get_type ())
G_DECLARE_FINAL_TYPE (SbFoldedPreview, sb_folded_preview, SB, FOLDED_PREVIEW, GtkWidget)

/* `view` shows the card (job/layout-view.h). */
void sb_folded_preview_show (SbFoldedPreview *self, SbState *view, gboolean back);

G_END_DECLS
