/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Following the edge of coverage pixel by pixel and placing it between the pixels. Private to the
 * room. */
#pragma once

#include "border/coverage.h"
#include "geometry/point.h"

G_BEGIN_DECLS

/* Appends to `points` (SbPoint, px) the vertices of every closed ring where coverage passes
 * `threshold` (1..255), and to `ends` (guint) where each ring ends. Outer rings clockwise on the
 * screen. */
void sb_trace_rings (const SbCoverage *coverage, int threshold, GArray *points, GArray *ends,
                     double *softness);

G_END_DECLS
