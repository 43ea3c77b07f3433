/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Polygons of the strip-packing sets of the literature, for tests and benchmarks. */
#pragma once

#include <json-glib/json-glib.h>
#include <math.h>

#include "geometry/polygon.h"

/* An open ring of [x, y] pairs, either way round, times `scale`, in whole um. New. */
static inline SbPolygon *
sb_read_ring (JsonArray *ring, double scale)
{
  guint n = json_array_get_length (ring);
  g_autofree SbIPoint *points = g_new (SbIPoint, n);
  double area = 0;
  for (guint i = 0; i < n; i++) {
    JsonArray *pair = json_array_get_array_element (ring, i);
    points[i] = (SbIPoint){(sb_um)lround (json_array_get_double_element (pair, 0) * scale),
                           (sb_um)lround (json_array_get_double_element (pair, 1) * scale)};
  }
  for (guint i = 0; i < n; i++)
    area +=
        (double)points[i].x * points[(i + 1) % n].y - (double)points[(i + 1) % n].x * points[i].y;
  for (guint i = 0; area < 0 && i < n / 2; i++) {
    SbIPoint swap = points[i];
    points[i] = points[n - 1 - i];
    points[n - 1 - i] = swap;
  }
  SbLoop loop = {n, points};
  return sb_polygon_new (&loop, 1);
}
