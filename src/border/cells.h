/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Cells: which point of the artwork's edge is nearest, everywhere, as the Voronoi cells of the
 * chain's points. The edge of everything within R of the points runs through the cells in arcs
 * around their points and passes from one cell to the next in kinks. On each side of each pair of
 * neighbours there is a kink for one interval of R only, and which intervals those are follows from
 * exact decisions; so at any R the kinks link up to whole rings, whatever the artwork. Private to
 * the room. */
#pragma once

#include "border/chain.h"
#include "border/delaunay.h"

G_BEGIN_DECLS

/* An edge has a kink on its left where from <= R^2 < to (mm2). Rounding keeps the order, so that
 * the kinks link up all the same. */
typedef struct {
  float from, to;
} SbKinkRange;

typedef struct {
  SbMesh *mesh;        /* of the sites */
  guint *points;       /* for each site, its point of the chain */
  SbKinkRange *ranges; /* of each edge */
  SbKinkRange *blocks; /* around those of SB_CELLS_BLOCK edges each */
} SbCells;

#define SB_CELLS_BLOCK 16

/* Without holes only the artwork's outer rings have cells. */
SbCells *sb_cells_new (const SbChain *chain, gboolean with_holes) G_GNUC_WARN_UNUSED_RESULT;
void sb_cells_free (SbCells *cells);

static inline gboolean
sb_cells_has_kink (const SbCells *cells, guint e, float r2)
{
  SbKinkRange range = cells->ranges[e];
  return (range.from <= r2) & (r2 < range.to);
}

/* The chain's point at the origin of edge `e`. */
static inline guint
sb_cells_root (const SbCells *cells, guint e)
{
  return cells->points[cells->mesh->edges[e].origin];
}

/* The edge whose kink ends the arc that begins at the kink of `e`, around the root of `e`. */
static inline guint
sb_cells_next (const SbCells *cells, guint e, float r2)
{
  do
    e = cells->mesh->edges[e].next;
  while (!sb_cells_has_kink (cells, e ^ 1, r2));
  return e ^ 1;
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbCells, sb_cells_free)

G_END_DECLS
