/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Cutting a loop into convex parts, and making it simpler outwards first. */
#pragma once

#include "geometry/polygon.h"

G_BEGIN_DECLS

/* Convex loops of positive area that cover `loop` (a simple loop of positive area) exactly: ears
 * are clipped, then triangles joined again while they stay convex (S. Hertel, K. Mehlhorn, "Fast
 * triangulation of simple polygons", 1983). A loop that touches itself so badly that no ear is left
 * gives its hull. Appends GArray of SbIPoint (owned by `parts`). */
void sb_convex_parts (const SbLoop *loop, GPtrArray *parts);

/* A loop of fewer corners that contains `loop` and reaches out of it by `slack` um at most. New
 * array of SbIPoint. */
GArray *sb_loop_simplify_outwards (const SbLoop *loop, double slack) G_GNUC_WARN_UNUSED_RESULT;

/* The convex hull of points, positive area, no corner on a straight line. New array of SbIPoint. */
GArray *sb_points_hull (const SbIPoint *points, guint n) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
