/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Following the edge of coverage pixel by pixel and placing it between the pixels. Private to the
 * room. */
#pragma once

#include "border/coverage.h"
#include "geometry/point.h"

G_BEGIN_DECLS

/* A place that is artwork by its pixel's coverage, but lies outside of its ring by more than
 * SB_OUTPOST_PX: at tips and edges only a pixel or two wide a ring has no good reading. */
typedef struct {
  SbPoint p;  /* px */
  guint ring; /* number */
  guint next; /* the vertex of the ring that it comes before; the ring's length for its first */
} SbOutpost;

#define SB_OUTPOST_PX 0.06

/* Appends to `points` (SbPoint, px) the vertices of every closed ring where coverage passes
 * `threshold` (1..255), and to `ends` (guint) where each ring ends. Outer rings clockwise on the
 * screen. `outposts` (SbOutpost) come in the order of their rings. */
void sb_trace_rings (const SbCoverage *coverage, int threshold, GArray *points, GArray *ends,
                     GArray *outposts, double *softness);

G_END_DECLS
