/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The part of Details about a design's border: its shape and measures, what a hand with a tool
 * makes of the outline, and what is seldom changed. Sliders show the outline live. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_DETAILS_BORDER (sb_details_border_get_type ())
G_DECLARE_FINAL_TYPE (SbDetailsBorder, sb_details_border, SB, DETAILS_BORDER, GtkWidget)

/* Once, before anything is shown. */
void sb_details_border_set_desk (SbDetailsBorder *self, SbDesk *desk);

/* Shows `design` (of the state that is shown now), or lets go with NULL. */
void sb_details_border_show (SbDetailsBorder *self, SbDesign *design);

G_END_DECLS
