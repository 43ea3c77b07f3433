/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Polygons with integer corners in micrometres: what the proof, the arranging and the figures
 * decide upon, so that screen, PDF and checks agree to the bit. Immutable, reference-counted,
 * thread-safe. */
#pragma once

#include "geometry/point.h"

G_BEGIN_DECLS

typedef struct {
  guint n_points; /* 3 or more; the last point is not the first */
  const SbIPoint *points;
} SbLoop;

typedef struct _SbPolygon SbPolygon;

/* Copies loops; repeated neighbours are welded, loops with fewer than three corners or no area
 * dropped. Outer loops have positive area, holes negative. Corners past SB_UM_MOST are a caller's
 * mistake (g_critical, returns an empty polygon). */
SbPolygon *sb_polygon_new (const SbLoop *loops, guint n_loops) G_GNUC_WARN_UNUSED_RESULT;
SbPolygon *sb_polygon_new_box (SbIBox box) G_GNUC_WARN_UNUSED_RESULT;
SbPolygon *sb_polygon_ref (SbPolygon *polygon);
void sb_polygon_unref (SbPolygon *polygon);

guint sb_polygon_get_n_loops (const SbPolygon *polygon);
const SbLoop *sb_polygon_get_loop (const SbPolygon *polygon, guint i);
SbIBox sb_polygon_get_box (const SbPolygon *polygon);

/* Twice the area would be exact in int64; this is the area in mm2, holes taken off. */
double sb_polygon_get_area_mm2 (const SbPolygon *polygon);
double sb_polygon_get_perimeter_mm (const SbPolygon *polygon);

/* Moved by whole micrometres: the same shape, no new rounding. */
SbPolygon *sb_polygon_move (const SbPolygon *polygon, sb_um dx, sb_um dy) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbPolygon, sb_polygon_unref)

G_END_DECLS
