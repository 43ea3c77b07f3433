/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Chains: the artwork's edge as closed rings of points in millimetres, close enough to each other
 * that distances to the points are distances to the edge. Everything the border does is exact with
 * respect to these points. Private to the room. */
#pragma once

#include "border/coverage.h"
#include "geometry/point.h"

G_BEGIN_DECLS

/* No two neighbours lie farther apart (mm). At a distance D the points stand in for the edge with
 * an error of at most spacing^2 / (8 D): 0.2 um at 2 mm. */
#define SB_CHAIN_SPACING_MM 0.06

/* The points are rounded to a hundredth of a micrometre, so that what follows from them can be
 * decided exactly in whole numbers. */
#define SB_CHAIN_UNITS_PER_MM 1e5

/* A ring of one point is an outpost (trace.h): borders grow around it, but it is no part of an
 * edge. */
typedef struct {
  guint first, n;
  gboolean hole;
  double area; /* mm2, negative for holes */
  SbBox box;
} SbChainRing;

typedef struct {
  guint n_points;
  SbPoint *points;   /* outer rings run clockwise on the screen, holes the other way */
  guint32 *ring_of;  /* the ring each point belongs to */
  guint8 *is_corner; /* a true corner of the artwork, rebuilt from its legs */
  SbPoint *tangents; /* unit, smoothed over the neighbours; 0,0 where the edge is sharp */
  float *bends;      /* curvature, 1/mm, positive where the edge is convex */
  guint n_rings;
  SbChainRing *rings;
  SbBox box;       /* of the outer rings */
  double softness; /* partly covered pixels per boundary step: 0.8 for crisp art, more than 3 for
                      feathered art or a soft shadow */
} SbChain;

/* Traces the edge where coverage passes `threshold` (0..1). Islands smaller than speck_mm across
 * are dropped, unless nothing else is there; holes likewise. NULL when nothing is covered. */
SbChain *sb_chain_trace (const SbCoverage *coverage, double width_mm, double height_mm,
                         double threshold, double speck_mm) G_GNUC_WARN_UNUSED_RESULT;
void sb_chain_free (SbChain *chain);

static inline guint
sb_chain_next (const SbChain *chain, guint i)
{
  const SbChainRing *ring = &chain->rings[chain->ring_of[i]];
  return i + 1 == ring->first + ring->n ? ring->first : i + 1;
}

static inline guint
sb_chain_previous (const SbChain *chain, guint i)
{
  const SbChainRing *ring = &chain->rings[chain->ring_of[i]];
  return i == ring->first ? ring->first + ring->n - 1 : i - 1;
}

/* The point `step` (either sign, less than the ring's length) along the ring from `i`. */
static inline guint
sb_chain_step (const SbChain *chain, guint i, int step)
{
  const SbChainRing *ring = &chain->rings[chain->ring_of[i]];
  gint64 k = (gint64)(i - ring->first) + step;
  if (k < 0)
    k += ring->n;
  else if (k >= (gint64)ring->n)
    k -= ring->n;
  return ring->first + (guint)k;
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbChain, sb_chain_free)

G_END_DECLS
