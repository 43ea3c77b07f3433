/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A page as it will leave the printer: painted by the one painter in a thread, with nothing in the
 * non-printable strip. Never stretched. CSS node: pagepreview. */
#pragma once

#include <gtk/gtk.h>

#include "job/state.h"

G_BEGIN_DECLS

#define SB_TYPE_PAGE_PREVIEW (sb_page_preview_get_type ())
G_DECLARE_FINAL_TYPE (SbPagePreview, sb_page_preview, SB, PAGE_PREVIEW, GtkWidget)

/* Shows page `index` of `state`; what was shown stays until it is painted. */
void sb_page_preview_show (SbPagePreview *self, SbState *state, guint index);

G_END_DECLS
