/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The part of Details about how a design is laid: turning, copies, what filling may make of a
 * freebie, and *What if*. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_DETAILS_ARRANGING (sb_details_arranging_get_type ())
G_DECLARE_FINAL_TYPE (SbDetailsArranging, sb_details_arranging, SB, DETAILS_ARRANGING, GtkWidget)

/* Once, before anything is shown. */
void sb_details_arranging_set_desk (SbDetailsArranging *self, SbDesk *desk);

/* Shows `design` (of the state that is shown now). */
void sb_details_arranging_show (SbDetailsArranging *self, SbDesign *design);

G_END_DECLS
