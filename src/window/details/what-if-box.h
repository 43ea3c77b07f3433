/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * *What if it were smaller?*: a button, and under it how much smaller a design must be for how many
 * more to fit, each with *Apply*. Found in a thread; an answer holds until the job is edited. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_WHAT_IF_BOX (sb_what_if_box_get_type ())
G_DECLARE_FINAL_TYPE (SbWhatIfBox, sb_what_if_box, SB, WHAT_IF_BOX, GtkBox)

/* Once, before anything is shown. */
void sb_what_if_box_set_desk (SbWhatIfBox *self, SbDesk *desk);

/* The design it is about. Hides itself while no piece of it lies on a page that may be moved. */
void sb_what_if_box_show (SbWhatIfBox *self, guint design_id);

G_END_DECLS
