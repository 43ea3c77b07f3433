/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The title in the header bar: the job's name, marked while it has changes that are not saved, and
 * the page in view. The window gets the same title. */
#pragma once

#include "window/canvas/canvas.h"
#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_JOB_TITLE (sb_job_title_get_type ())
G_DECLARE_FINAL_TYPE (SbJobTitle, sb_job_title, SB, JOB_TITLE, GtkWidget)

/* Before, it tells the name of the program. */
void sb_job_title_set_job (SbJobTitle *self, SbDesk *desk, SbCanvas *canvas);

G_END_DECLS
