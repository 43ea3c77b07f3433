/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Several designs measured in a thread, with progress, and taken to the job in one step. */
#pragma once

#include "window/app-window.h"

G_BEGIN_DECLS

/* `designs` (SbDesign, consumed): those with an id take the place of the job's, those without one
 * are added and the last of them selected. `title` says what is going on, `name` is the step's, and
 * `told` is said when it is done. */
void sb_cleanup_batch_run (SbAppWindow *window, GPtrArray *designs, const char *title,
                           const char *name, const char *told);

G_END_DECLS
