/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the header bar offers for the open job: undo and redo, the proof with the number of its
 * findings, printing. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_JOB_BUTTONS (sb_job_buttons_get_type ())
G_DECLARE_FINAL_TYPE (SbJobButtons, sb_job_buttons, SB, JOB_BUTTONS, GtkBox)

/* Shows the buttons, and follows the desk from then on; once. */
void sb_job_buttons_set_desk (SbJobButtons *self, SbDesk *desk);

G_END_DECLS
