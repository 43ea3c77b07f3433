/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The clean-up page in place of the job's panes, for the design that is selected. */
#pragma once

#include "window/shell/app-window.h"

G_BEGIN_DECLS

/* Says why where there is nothing to clean. */
void sb_cleanup_mode_enter (SbAppWindow *window);
void sb_cleanup_mode_leave (SbAppWindow *window);

/* The page; NULL while the job is shown. Borrowed. */
GtkWidget *sb_cleanup_mode_get_page (SbAppWindow *window);

G_END_DECLS
