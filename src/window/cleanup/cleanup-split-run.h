/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Designs of the paintings on a scan, made in a thread and taken to the job in one step. */
#pragma once

#include "picture/split.h"
#include "window/desk/desk.h"

G_BEGIN_DECLS

/* Of `scan`, a design of the desk's job; with `split` NULL its paintings are found first. With
 * `upright` those that lie turned are straightened. Without `keep` the scan leaves the drawer. */
void sb_cleanup_split_run (SbDesk *desk, SbDesign *scan, SbSplit *split, gboolean upright,
                           gboolean keep);

G_END_DECLS
