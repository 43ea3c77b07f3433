/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where a moving pose may not be put because of a pose that lies still: the Minkowski sum of the
 * still one and the mirrored moving one, widened by the gap (the "no-fit polygon" of the packing
 * literature), kept as one convex polygon for each pair of convex parts:
 *
 *     still  +  (- moving)  +  disc (gap)  =  { v : n_e . v < c_e for every edge e }
 *
 * A point is forbidden when it lies inside one of them; how deep it lies is the measure of overlap
 * the search lowers. Where the gap rounds a corner, tangents at least every 15 degrees stand for
 * the arc, so that the region is never too small (by 0.9 % of the gap too large at the most).
 *
 * The depth is 1-Lipschitz: it changes by no more than the point moves. */
#pragma once

#include "packing/shape.h"

G_BEGIN_DECLS

/* Depths up to this are contact: corners are whole numbers below 2^24, so a true overlap is deeper,
 * and the rounding of c - n . v is far smaller. um */
#define SB_CONTACT_UM 3e-8

typedef struct {
  double nx, ny, c; /* unit outward normal */
} SbKeepOutEdge;

typedef struct {
  double x0, y0, x1, y1;
  guint n_edges;
  const SbKeepOutEdge *edges;
} SbKeepOutPart;

typedef struct {
  double x0, y0, x1, y1; /* of all parts */
  guint n_parts;
  SbKeepOutPart *parts; /* largest first */
} SbKeepOut;

/* The region for the origin of `moving` about the origin of `still`. One block: g_free. */
SbKeepOut *sb_keep_out_new (const SbPose *still, const SbPose *moving,
                            double gap) G_GNUC_WARN_UNUSED_RESULT;

/* How deep (x, y) lies in a part: the least way out, 0 when it is outside or on the edge. */
static inline double
sb_keep_out_part_depth (const SbKeepOutPart *part, double x, double y, const SbKeepOutEdge **way)
{
  if (x <= part->x0 || x >= part->x1 || y <= part->y0 || y >= part->y1)
    return 0;
  double least = G_MAXDOUBLE;
  const SbKeepOutEdge *nearest = part->edges;
  for (const SbKeepOutEdge *edge = part->edges, *end = edge + part->n_edges; edge < end; edge++) {
    double depth = edge->c - edge->nx * x - edge->ny * y;
    if (depth <= SB_CONTACT_UM)
      return 0;
    if (depth < least) {
      least = depth;
      nearest = edge;
    }
  }
  *way = nearest;
  return least;
}

/* The depth of (x, y) in the region, and the edge that leads out of the part it is deepest in
 * (unset when the depth is 0). */
static inline double
sb_keep_out_depth (const SbKeepOut *region, double x, double y, const SbKeepOutEdge **way)
{
  if (x <= region->x0 || x >= region->x1 || y <= region->y0 || y >= region->y1)
    return 0;
  double most = 0;
  const SbKeepOutEdge *edge = NULL;
  for (guint i = 0; i < region->n_parts; i++) {
    double depth = sb_keep_out_part_depth (&region->parts[i], x, y, &edge);
    if (depth > most) {
      most = depth;
      *way = edge;
    }
  }
  return most;
}

G_END_DECLS
