/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The order of a job: packs with their recipes, singles, stock and rates on the one side, sheets,
 * money and time on the other, each figure opening to how it came. A window beside the main one,
 * so that the pages can be looked at meanwhile. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

/* Shows the window of the order of the desk's job, beside `parent`, the job's window; there is one
 * at most. */
void sb_order_window_show (GtkWindow *parent, SbDesk *desk);

G_END_DECLS
