/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Growing and shrinking polygons with GEOS, and the distance from places to their rings. */
#pragma once

#include <geos_c.h>

#include "geometry/point.h"

static inline void
sb_geos_quiet (const char *format, ...)
{
}

static inline GEOSGeometry *
sb_geos_polygon (const SbPoint *p, guint n)
{
  GEOSCoordSequence *points = GEOSCoordSeq_create (n + 1, 2);
  for (guint i = 0; i <= n; i++)
    GEOSCoordSeq_setXY (points, i, p[i % n].x, p[i % n].y);
  return GEOSGeom_createPolygon (GEOSGeom_createLinearRing (points), NULL, 0);
}

/* The outer ring, as points, of what `polygon` (consumed) becomes: grown, its holes filled, and
 * shrunk, with so many segments to a quadrant. */
static inline GArray *
sb_geos_close (GEOSGeometry *polygon, double grow, double shrink, int segments)
{
  GEOSGeometry *grown = GEOSBuffer (polygon, grow, segments);
  GEOSGeometry *filled =
      GEOSGeom_createPolygon (GEOSGeom_clone (GEOSGetExteriorRing (grown)), NULL, 0);
  GEOSGeometry *closed = GEOSBuffer (filled, -shrink, segments);
  const GEOSCoordSequence *s = GEOSGeom_getCoordSeq (GEOSGetExteriorRing (closed));
  unsigned int n;
  GEOSCoordSeq_getSize (s, &n);
  GArray *points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  for (unsigned int i = 0; i + 1 < n; i++) {
    SbPoint p;
    GEOSCoordSeq_getXY (s, i, &p.x, &p.y);
    g_array_append_val (points, p);
  }
  GEOSGeom_destroy (polygon);
  GEOSGeom_destroy (grown);
  GEOSGeom_destroy (filled);
  GEOSGeom_destroy (closed);
  return points;
}

static inline double
sb_ring_area (const GArray *ring)
{
  double twice = 0;
  for (guint i = 0; i < ring->len; i++) {
    SbPoint a = g_array_index (ring, SbPoint, i);
    SbPoint b = g_array_index (ring, SbPoint, (i + 1) % ring->len);
    twice += a.x * b.y - b.x * a.y;
  }
  return fabs (twice) / 2;
}

/* The farthest that a point of `from` lies from the legs of the ring `to`. */
static inline double
sb_ring_strays (const GArray *from, const GArray *to)
{
  double most = 0;
  for (guint i = 0; i < from->len; i++) {
    SbPoint p = g_array_index (from, SbPoint, i);
    double least = G_MAXDOUBLE;
    for (guint k = 0; k < to->len; k++) {
      SbPoint a = g_array_index (to, SbPoint, k);
      SbPoint b = g_array_index (to, SbPoint, (k + 1) % to->len);
      double dx = b.x - a.x, dy = b.y - a.y, l = dx * dx + dy * dy;
      double t = l > 0 ? CLAMP (((p.x - a.x) * dx + (p.y - a.y) * dy) / l, 0, 1) : 0;
      double ex = a.x + t * dx - p.x, ey = a.y + t * dy - p.y;
      least = MIN (least, ex * ex + ey * ey);
    }
    most = MAX (most, least);
  }
  return sqrt (most);
}
