/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Random outlines for the packing tests: stars with bays, now and then a box or a sliver. */
#pragma once

#include <math.h>

#include "packing/random.h"
#include "packing/task.h"

/* About the origin, up to `size` um from it. New. */
static inline SbPolygon *
random_outline (SbRandom *random, sb_um size)
{
  SbIPoint points[24];
  guint n = 3 + sb_random_below (random, 20), kind = sb_random_below (random, 4);
  if (kind == 0) {
    sb_um w = 1 + sb_random_between (random, size / 20, size),
          h = 1 + sb_random_between (random, size / 20, size);
    return sb_polygon_new_box ((SbIBox){-w, -h, w, h});
  }
  double phase = sb_random_unit (random);
  for (guint i = 0; i < n; i++) {
    double angle = 2 * G_PI * (i + phase) / n,
           radius = size * (kind == 1 ? 1 : 0.25 + 0.75 * sb_random_unit (random));
    points[i] =
        (SbIPoint){(sb_um)lround (radius * cos (angle)), (sb_um)lround (radius * sin (angle))};
  }
  SbLoop loop = {n, points};
  return sb_polygon_new (&loop, 1);
}
