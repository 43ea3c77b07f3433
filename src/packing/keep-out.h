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

#ifdef __SSE2__
#include <emmintrin.h>
#endif

#include "packing/shape.h"

G_BEGIN_DECLS

/* Depths up to this are contact: corners are whole numbers below 2^24, so a true overlap is deeper,
 * and the rounding of c - n . v is far smaller. um */
#define SB_CONTACT_UM 3e-8

/* Edges as columns, so that several are looked at with one instruction; their number is made up to
 * a multiple of SB_KEEP_OUT_STRIDE by repeating the first. */
#define SB_KEEP_OUT_STRIDE 4

typedef struct {
  double x0, y0, x1, y1;
  guint n_edges;
  const double *nx, *ny, *c; /* unit outward normals and their distance from the origin */
} SbKeepOutPart;

typedef struct {
  double x0, y0, x1, y1; /* of all parts */
  guint n_parts;
  SbKeepOutPart *parts; /* largest first */
} SbKeepOut;

/* The way out of a region. */
typedef struct {
  double nx, ny, c;
} SbKeepOutEdge;

/* The region for the origin of `moving` about the origin of `still`. One block: g_free. */
SbKeepOut *sb_keep_out_new (const SbPose *still, const SbPose *moving,
                            double gap) G_GNUC_WARN_UNUSED_RESULT;

/* The same in memory that the caller has: a block of the most size, of which `*size` is used. */
gsize sb_keep_out_get_most_size (const SbPose *still, const SbPose *moving, double gap);
SbKeepOut *sb_keep_out_put (gpointer block, const SbPose *still, const SbPose *moving, double gap,
                            gsize *size);

/* How deep (x, y) lies in a part: the least way out, 0 when it is outside or on the edge. */
static inline double
sb_keep_out_part_depth (const SbKeepOutPart *part, double x, double y)
{
  if (x <= part->x0 || x >= part->x1 || y <= part->y0 || y >= part->y1)
    return 0;
#ifdef __SSE2__
  __m128d px = _mm_set1_pd (x), py = _mm_set1_pd (y), contact = _mm_set1_pd (SB_CONTACT_UM),
          least = _mm_set1_pd (G_MAXDOUBLE);
  for (guint e = 0; e < part->n_edges; e += SB_KEEP_OUT_STRIDE) {
    __m128d a = _mm_sub_pd (_mm_sub_pd (_mm_loadu_pd (part->c + e),
                                        _mm_mul_pd (_mm_loadu_pd (part->nx + e), px)),
                            _mm_mul_pd (_mm_loadu_pd (part->ny + e), py)),
            b = _mm_sub_pd (_mm_sub_pd (_mm_loadu_pd (part->c + e + 2),
                                        _mm_mul_pd (_mm_loadu_pd (part->nx + e + 2), px)),
                            _mm_mul_pd (_mm_loadu_pd (part->ny + e + 2), py));
    a = _mm_min_pd (a, b);
    if (_mm_movemask_pd (_mm_cmple_pd (a, contact)) != 0)
      return 0;
    least = _mm_min_pd (least, a);
  }
  double lanes[2];
  _mm_storeu_pd (lanes, least);
  return MIN (lanes[0], lanes[1]);
#else
  double least = G_MAXDOUBLE;
  for (guint e = 0; e < part->n_edges; e++) {
    double depth = part->c[e] - part->nx[e] * x - part->ny[e] * y;
    if (depth <= SB_CONTACT_UM)
      return 0;
    least = MIN (least, depth);
  }
  return least;
#endif
}

/* The depth of (x, y) in the region. */
static inline double
sb_keep_out_depth (const SbKeepOut *region, double x, double y)
{
  if (x <= region->x0 || x >= region->x1 || y <= region->y0 || y >= region->y1)
    return 0;
  double most = 0;
  for (guint i = 0; i < region->n_parts; i++) {
    double depth = sb_keep_out_part_depth (&region->parts[i], x, y);
    most = MAX (most, depth);
  }
  return most;
}

/* As sb_keep_out_depth, but below 0 outside (the distance to the edge or less), with the edge that
 * leads out of the part (x, y) is deepest in. */
static inline double
sb_keep_out_signed_depth (const SbKeepOut *region, double x, double y, SbKeepOutEdge *way)
{
  double most = -G_MAXDOUBLE;
  for (guint i = 0; i < region->n_parts; i++) {
    const SbKeepOutPart *part = &region->parts[i];
    double least = G_MAXDOUBLE;
    guint nearest = 0;
    for (guint e = 0; e < part->n_edges && least > most; e++) {
      double depth = part->c[e] - part->nx[e] * x - part->ny[e] * y;
      if (depth < least) {
        least = depth;
        nearest = e;
      }
    }
    if (least > most) {
      most = least;
      *way = (SbKeepOutEdge){part->nx[nearest], part->ny[nearest], part->c[nearest]};
    }
  }
  return most;
}

G_END_DECLS
