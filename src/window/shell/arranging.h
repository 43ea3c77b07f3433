/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * *Arrange* and *Fill gaps*: runs the packing in a thread, shows every better layout as a preview,
 * lets the maker say *Enough* or cancel, and makes the best one step of history. */
#pragma once

#include "window/shell/app-window.h"

G_BEGIN_DECLS

/* Does nothing while one is under way in the window. */
void sb_arranging_arrange (SbAppWindow *window, gboolean rows, gboolean fill);
void sb_arranging_fill_gaps (SbAppWindow *window);

G_END_DECLS
