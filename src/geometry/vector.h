/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sums of points as vectors, for inner loops. Plain values, any unit, any thread. */
#pragma once

#include "geometry/point.h"

static inline double
sb_dot (SbPoint a, SbPoint b)
{
  return a.x * b.x + a.y * b.y;
}

/* Positive where b lies clockwise of a as a person sees it, y growing downwards. */
static inline double
sb_cross (SbPoint a, SbPoint b)
{
  return a.x * b.y - a.y * b.x;
}

static inline SbPoint
sb_minus (SbPoint a, SbPoint b)
{
  return (SbPoint){a.x - b.x, a.y - b.y};
}

/* From `p` `distance` times `direction` on. */
static inline SbPoint
sb_along (SbPoint p, SbPoint direction, double distance)
{
  return (SbPoint){p.x + distance * direction.x, p.y + distance * direction.y};
}
