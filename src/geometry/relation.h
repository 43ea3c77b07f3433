/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Exact answers about two polygons: they decide, so they use integers only (64-bit orientations,
 * 128-bit squared distances) and no tolerance. */
#pragma once

#include "geometry/polygon.h"

G_BEGIN_DECLS

/* TRUE when the insides of `a` and `b` share a point; polygons that only touch do not overlap. */
gboolean sb_polygons_overlap (const SbPolygon *a, const SbPolygon *b);

/* TRUE when `a` and `b` overlap or come closer to each other than `gap` (um, 0 or more) anywhere. A
 * distance of exactly `gap` is enough. With gap 0 the same as sb_polygons_overlap. */
gboolean sb_polygons_closer_than (const SbPolygon *a, const SbPolygon *b, sb_um gap);

/* The same as if `a` were moved by dx, dy first, without making the moved polygon. Places from
 * which corners leave SB_UM_MOST are the caller's to avoid. */
gboolean sb_polygons_closer_than_moved (const SbPolygon *a, sb_um dx, sb_um dy, const SbPolygon *b,
                                        sb_um gap);

/* The least distance in um, 0 when they overlap or touch, G_MAXDOUBLE when one is empty. */
double sb_polygons_distance_um (const SbPolygon *a, const SbPolygon *b);

/* The same, and between which two points of their edges (um); those are only told when the distance
 * is more than 0. */
double sb_polygons_find_nearest (const SbPolygon *a, const SbPolygon *b, SbPoint *on_a,
                                 SbPoint *on_b);

/* The point of the edge that is nearest to `p`, and how far it is, um; also from within. The
 * polygon may not be empty. */
double sb_polygon_find_nearest (const SbPolygon *polygon, SbIPoint p, SbPoint *nearest);

/* TRUE when every corner of `polygon` lies in `box`, its edge included. */
gboolean sb_polygon_inside_box (const SbPolygon *polygon, SbIBox box);

/* TRUE when `p` lies inside or on the edge. */
gboolean sb_polygon_contains (const SbPolygon *polygon, SbIPoint p);

G_END_DECLS
