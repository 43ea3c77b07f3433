/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Our polygons as geometries of GEOS, the reference library for planar geometry (libgeos, C API).
 * For tests only. */
#pragma once

#include <geos_c.h>
#include <glib.h>

#include "geometry/polygon.h"

static inline void
geos_say (const char *message, void *data)
{
  g_printerr ("GEOS: %s\n", message);
}

/* A handle that tells of errors. End it with GEOS_finish_r. */
static inline GEOSContextHandle_t
geos_begin (void)
{
  GEOSContextHandle_t geos = GEOS_init_r ();
  GEOSContext_setErrorMessageHandler_r (geos, geos_say, NULL);
  return geos;
}

static inline GEOSGeometry *
geos_ring (GEOSContextHandle_t geos, const SbLoop *loop)
{
  GEOSCoordSequence *seq = GEOSCoordSeq_create_r (geos, loop->n_points + 1, 2);
  for (guint i = 0; i <= loop->n_points; i++) {
    SbIPoint p = loop->points[i % loop->n_points];
    GEOSCoordSeq_setXY_r (geos, seq, i, p.x, p.y);
  }
  return GEOSGeom_createLinearRing_r (geos, seq);
}

/* One loop as an area. */
static inline GEOSGeometry *
geos_from_loop (GEOSContextHandle_t geos, const SbLoop *loop)
{
  return GEOSGeom_createPolygon_r (geos, geos_ring (geos, loop), NULL, 0);
}

/* All loops, in um: positive ones joined, negative ones cut out. Each loop must not cross itself.
 */
static inline GEOSGeometry *
geos_from_polygon (GEOSContextHandle_t geos, const SbPolygon *polygon)
{
  GEOSGeometry *all = GEOSGeom_createEmptyPolygon_r (geos);
  for (int sign = 1; sign >= -1; sign -= 2)
    for (guint l = 0; l < sb_polygon_get_n_loops (polygon); l++) {
      const SbLoop *loop = sb_polygon_get_loop (polygon, l);
      g_autoptr (SbPolygon) alone = sb_polygon_new (loop, 1);
      if ((sb_polygon_get_area_mm2 (alone) > 0) != (sign > 0))
        continue;
      GEOSGeometry *area = geos_from_loop (geos, loop);
      GEOSGeometry *next =
          sign > 0 ? GEOSUnion_r (geos, all, area) : GEOSDifference_r (geos, all, area);
      GEOSGeom_destroy_r (geos, area);
      GEOSGeom_destroy_r (geos, all);
      all = next;
    }
  return all;
}

static inline double
geos_area_mm2 (GEOSContextHandle_t geos, const GEOSGeometry *geometry)
{
  double area = 0;
  GEOSArea_r (geos, geometry, &area);
  return area / 1e6;
}
