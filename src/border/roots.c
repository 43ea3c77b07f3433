/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/roots.h"

#include <math.h>

#define CELL_MM 0.7

struct _SbRoots {
  const SbChain *chain;
  double x0, y0;
  int nx, ny;
  double cell;
  guint *start;   /* nx ny + 1 */
  guint *indices; /* points of the chain, cell by cell */
};

static int
column (const SbRoots *roots, double x)
{
  return CLAMP ((int)floor ((x - roots->x0) / roots->cell), 0, roots->nx - 1);
}

static int
row (const SbRoots *roots, double y)
{
  return CLAMP ((int)floor ((y - roots->y0) / roots->cell), 0, roots->ny - 1);
}

SbRoots *
sb_roots_new (const SbChain *chain, gboolean with_holes)
{
  SbRoots *roots = g_new0 (SbRoots, 1);
  double w = chain->box.x1 - chain->box.x0, h = chain->box.y1 - chain->box.y0;
  roots->chain = chain;
  roots->cell = MAX (CELL_MM, MAX (w, h) / 1000);
  roots->x0 = chain->box.x0;
  roots->y0 = chain->box.y0;
  roots->nx = (int)(w / roots->cell) + 1;
  roots->ny = (int)(h / roots->cell) + 1;
  guint n_cells = (guint)roots->nx * (guint)roots->ny;
  roots->start = g_new0 (guint, n_cells + 2);
  roots->indices = g_new (guint, chain->n_points);
  guint *next = roots->start + 1;
  for (int pass = 0; pass < 2; pass++) {
    for (guint i = 0; i < chain->n_points; i++) {
      if (chain->rings[chain->ring_of[i]].hole && !with_holes)
        continue;
      guint c = (guint)row (roots, chain->points[i].y) * (guint)roots->nx +
                (guint)column (roots, chain->points[i].x);
      if (pass == 0)
        next[c + 1]++;
      else
        roots->indices[next[c]++] = i;
    }
    if (pass == 0)
      for (guint c = 0; c < n_cells; c++)
        next[c + 1] += next[c];
  }
  return roots;
}

void
sb_roots_free (SbRoots *roots)
{
  if (roots == NULL)
    return;
  g_free (roots->start);
  g_free (roots->indices);
  g_free (roots);
}

static double
distance_squared (SbPoint a, SbPoint b)
{
  return (a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y);
}

static void
search_cell (const SbRoots *roots, int cx, int cy, SbPoint p, guint *best, double *least)
{
  guint c = (guint)cy * (guint)roots->nx + (guint)cx;
  for (guint k = roots->start[c]; k < roots->start[c + 1]; k++) {
    double d = distance_squared (roots->chain->points[roots->indices[k]], p);
    if (d < *least) {
      *least = d;
      *best = roots->indices[k];
    }
  }
}

guint
sb_roots_nearest (const SbRoots *roots, SbPoint p, double most)
{
  guint best = G_MAXUINT;
  double least = most * most;
  for (int y = row (roots, p.y - most); y <= row (roots, p.y + most); y++)
    for (int x = column (roots, p.x - most); x <= column (roots, p.x + most); x++)
      search_cell (roots, x, y, p, &best, &least);
  return best;
}

guint
sb_roots_near (const SbRoots *roots, SbPoint p, SbPoint guess, double most)
{
  guint best = G_MAXUINT;
  double least = most * most;
  int cx = column (roots, guess.x), cy = row (roots, guess.y);
  for (int y = MAX (cy - 1, 0); y <= MIN (cy + 1, roots->ny - 1); y++)
    for (int x = MAX (cx - 1, 0); x <= MIN (cx + 1, roots->nx - 1); x++)
      search_cell (roots, x, y, p, &best, &least);
  return best != G_MAXUINT ? best : sb_roots_nearest (roots, p, most);
}

gboolean
sb_roots_within (const SbRoots *roots, SbPoint p, double distance)
{
  return sb_roots_nearest (roots, p, distance) != G_MAXUINT;
}
