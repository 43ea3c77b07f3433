/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The circle of radius R around a site leaves its cell through an edge of the Voronoi diagram where
 * that edge, at its one end nearer than R and at its other farther, passes R; or it dips through
 * the edge and back where both ends are farther but its middle, between the two sites, is not. The
 * ends are the circumcentres of the triangles. */
#include "border/cells.h"

#include <math.h>
#include <stdlib.h>

#include "border/block.h"

#define FAR 1e30f

typedef struct {
  SbPoint p;
  guint point;
} Site;

static int
compare_sites (const void *a, const void *b)
{
  const Site *p = a, *q = b;
  if (p->p.x != q->p.x)
    return p->p.x < q->p.x ? -1 : 1;
  if (p->p.y != q->p.y)
    return p->p.y < q->p.y ? -1 : 1;
  return p->point < q->point ? -1 : 1;
}

/* The sites in whole units, in order, no place twice. */
static Site *
collect_sites (const SbChain *chain, gboolean with_holes, guint *n_sites)
{
  Site *sites = sb_block_new (chain->n_points * sizeof *sites);
  guint n = 0, kept = 0;
  for (guint i = 0; i < chain->n_points; i++) {
    SbPoint p = chain->points[i];
    if (with_holes || !chain->rings[chain->ring_of[i]].hole)
      sites[n++] =
          (Site){{round (p.x * SB_CHAIN_UNITS_PER_MM), round (p.y * SB_CHAIN_UNITS_PER_MM)}, i};
  }
  qsort (sites, n, sizeof *sites, compare_sites);
  for (guint i = 0; i < n; i++)
    if (i == 0 || sites[i].p.x != sites[i - 1].p.x || sites[i].p.y != sites[i - 1].p.y)
      sites[kept++] = sites[i];
  *n_sites = kept;
  return sites;
}

/* The squared radius (mm2) of the circle through three places that turn left, and whether the
 * angle opposite each side is acute: side 0 from a to b, and so on. */
static float
circle_of (SbPoint a, SbPoint b, SbPoint c, gboolean acute[3])
{
  double ux = b.x - a.x, uy = b.y - a.y, vx = c.x - b.x, vy = c.y - b.y, wx = a.x - c.x,
         wy = a.y - c.y;
  double twice = ux * vy - uy * vx, per = 1 / (SB_CHAIN_UNITS_PER_MM * SB_CHAIN_UNITS_PER_MM);
  double uu = ux * ux + uy * uy, vv = vx * vx + vy * vy, ww = wx * wx + wy * wy;
  acute[0] = vx * wx + vy * wy < 0;
  acute[1] = wx * ux + wy * uy < 0;
  acute[2] = ux * vx + uy * vy < 0;
  double r2 = uu * vv * ww / (4 * twice * twice) * per;
  return (float)MIN (r2, FAR);
}

/* For each edge the squared radius of the circle through the triangle on its left, FAR on the
 * outside, in `to`; in acute, whether the angle opposite it there is less than a right one. */
static void
measure_triangles (SbCells *cells, const SbPoint *sites, guint8 *acute)
{
  const SbMesh *mesh = cells->mesh;
  for (guint e = 0; e < mesh->n_edges; e++) {
    if (mesh->edges[e].origin == G_MAXUINT || cells->ranges[e].to != 0)
      continue;
    guint f = sb_mesh_round_left (mesh, e), g = sb_mesh_round_left (mesh, f);
    SbPoint a = sites[mesh->edges[e].origin], b = sites[mesh->edges[f].origin],
            c = sites[mesh->edges[g].origin];
    double twice = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
    if (sb_mesh_round_left (mesh, g) != e || !(twice > 0)) {
      cells->ranges[e].to = FAR;
      acute[e] = 1;
      continue;
    }
    gboolean is_acute[3];
    float r2 = circle_of (a, b, c, is_acute);
    cells->ranges[e].to = cells->ranges[f].to = cells->ranges[g].to = r2;
    acute[e] = (guint8)is_acute[0];
    acute[f] = (guint8)is_acute[1];
    acute[g] = (guint8)is_acute[2];
  }
}

static void
find_intervals (SbCells *cells, const SbPoint *sites, const guint8 *acute)
{
  const SbMeshEdge *edges = cells->mesh->edges;
  for (guint e = 0; e < cells->mesh->n_edges; e += 2) {
    SbKinkRange *there = &cells->ranges[e], *back = &cells->ranges[e + 1];
    if (edges[e].origin == G_MAXUINT) {
      *there = *back = (SbKinkRange){0, -1};
      continue;
    }
    there->from = back->to;
    back->from = there->to;
    if (!acute[e] || !acute[e + 1])
      continue;
    SbPoint p = sites[edges[e].origin], q = sites[edges[e + 1].origin];
    double dx = (q.x - p.x) / SB_CHAIN_UNITS_PER_MM, dy = (q.y - p.y) / SB_CHAIN_UNITS_PER_MM;
    float half = (float)((dx * dx + dy * dy) / 4);
    there->from = back->from = MIN (half, MIN (there->to, back->to));
  }
}

static void
find_blocks (SbCells *cells)
{
  guint n = cells->mesh->n_edges;
  cells->blocks = g_new (SbKinkRange, n / SB_CELLS_BLOCK + 1);
  for (guint e = 0; e < n; e += SB_CELLS_BLOCK) {
    SbKinkRange block = {FAR, -1};
    for (guint k = e; k < MIN (e + SB_CELLS_BLOCK, n); k++) {
      block.from = MIN (block.from, cells->ranges[k].from);
      block.to = MAX (block.to, cells->ranges[k].to);
    }
    cells->blocks[e / SB_CELLS_BLOCK] = block;
  }
}

SbCells *
sb_cells_new (const SbChain *chain, gboolean with_holes)
{
  guint n;
  Site *sites = collect_sites (chain, with_holes, &n);
  SbPoint *places = sb_block_new (n * sizeof *places);
  SbCells *cells = g_new (SbCells, 1);
  cells->points = g_new (guint, n);
  for (guint i = 0; i < n; i++) {
    places[i] = sites[i].p;
    cells->points[i] = sites[i].point;
  }
  sb_block_free (sites);
  cells->mesh = sb_mesh_new (places, n);
  guint n_edges = cells->mesh->n_edges;
  cells->ranges = sb_block_new (n_edges * sizeof *cells->ranges);
  g_autofree guint8 *acute = g_malloc (n_edges);
  measure_triangles (cells, places, acute);
  find_intervals (cells, places, acute);
  find_blocks (cells);
  sb_block_free (places);
  return cells;
}

void
sb_cells_free (SbCells *cells)
{
  if (cells == NULL)
    return;
  sb_mesh_free (cells->mesh);
  g_free (cells->points);
  g_free (cells->blocks);
  sb_block_free (cells->ranges);
  g_free (cells);
}
