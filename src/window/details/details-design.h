/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The part of Details about one design: name, size, border, cut guide, arranging. Sliders show the
 * outline live. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_DETAILS_DESIGN (sb_details_design_get_type ())
G_DECLARE_FINAL_TYPE (SbDetailsDesign, sb_details_design, SB, DETAILS_DESIGN, GtkWidget)

/* Once, before anything is shown. */
void sb_details_design_set_desk (SbDetailsDesign *self, SbDesk *desk);

/* Shows `design` (of the state that is shown now), or lets go with NULL. */
void sb_details_design_show (SbDetailsDesign *self, SbDesign *design);

G_END_DECLS
