/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One line below the pages that tells what the overlay's patterns mean; gone while none is on. */
#pragma once

#include "window/canvas/pages-view.h"

G_BEGIN_DECLS

#define SB_TYPE_LEGEND (sb_legend_get_type ())
G_DECLARE_FINAL_TYPE (SbLegend, sb_legend, SB, LEGEND, GtkWidget)

GtkWidget *sb_legend_new (void);

/* Shows what is on in `view`, with the figures of its job. */
void sb_legend_update (SbLegend *self, SbPagesView *view);

G_END_DECLS
