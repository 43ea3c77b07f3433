/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Random shapes made of unit cells, with holes, islands and corners that touch. Whether two of them
 * overlap and how far they are apart can be told from their cells alone, which makes them a check
 * of the predicates on polygons in just the cases that are hard: shared edges and corners. For
 * tests only. */
#pragma once

#include "geometry/polygon.h"

#define POLYOMINO_SIDE 7

typedef struct {
  gboolean cells[POLYOMINO_SIDE][POLYOMINO_SIDE]; /* [y][x] */
} Polyomino;

static inline gboolean
polyomino_has (const Polyomino *p, int x, int y)
{
  return x >= 0 && y >= 0 && x < POLYOMINO_SIDE && y < POLYOMINO_SIDE && p->cells[y][x];
}

static inline Polyomino
polyomino_random (GRand *rand)
{
  Polyomino p = {0};
  int odds = g_rand_int_range (rand, 2, 10);
  int side = g_rand_int_range (rand, 1, POLYOMINO_SIDE + 1);
  for (int y = 0; y < side; y++)
    for (int x = 0; x < side; x++)
      p.cells[y][x] = g_rand_int_range (rand, 0, 10) < odds;
  p.cells[0][0] = TRUE;
  return p;
}

/* Walks around the cells, keeping them on the positive hand. Edge d of a cell leads to its right
 * (0, its top), down (1, its right side), left (2) or up (3). Each map of x, y to x', y' is
 * x' = m[0] x + m[1] y + dx, y' = m[2] x + m[3] y + dy with a positive determinant. */
static inline SbPolygon *
polyomino_to_polygon (const Polyomino *p, const int m[4], sb_um dx, sb_um dy)
{
  static const int steps[4][2] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
  gboolean edges[POLYOMINO_SIDE + 1][POLYOMINO_SIDE + 1][4] = {0}; /* from corner y, x */
  for (int y = 0; y < POLYOMINO_SIDE; y++)
    for (int x = 0; x < POLYOMINO_SIDE; x++)
      if (polyomino_has (p, x, y)) {
        edges[y][x][0] = !polyomino_has (p, x, y - 1);
        edges[y][x + 1][1] = !polyomino_has (p, x + 1, y);
        edges[y + 1][x + 1][2] = !polyomino_has (p, x, y + 1);
        edges[y + 1][x][3] = !polyomino_has (p, x - 1, y);
      }

  SbIPoint points[4 * (POLYOMINO_SIDE + 1) * (POLYOMINO_SIDE + 1)];
  SbLoop loops[G_N_ELEMENTS (points) / 4];
  guint n_points = 0, n_loops = 0;
  for (int y = 0; y <= POLYOMINO_SIDE; y++)
    for (int x = 0; x <= POLYOMINO_SIDE; x++)
      for (int first = 0; first < 4; first++) {
        if (!edges[y][x][first])
          continue;
        loops[n_loops] = (SbLoop){0, points + n_points};
        for (int cx = x, cy = y, d = first; edges[cy][cx][d];) {
          edges[cy][cx][d] = FALSE;
          points[n_points++] = (SbIPoint){m[0] * cx + m[1] * cy + dx, m[2] * cx + m[3] * cy + dy};
          loops[n_loops].n_points++;
          cx += steps[d][0];
          cy += steps[d][1];
          const int turns[] = {1, 0, 3}; /* towards the cells first: corners do not join them */
          for (int k = 0; k < 3; k++)
            if (edges[cy][cx][(d + turns[k]) % 4]) {
              d = (d + turns[k]) % 4;
              break;
            }
        }
        n_loops++;
      }
  return sb_polygon_new (loops, n_loops);
}

/* Whether cells of `a` and of `b`, the latter moved by x, y cells, are the same. */
static inline gboolean
polyomino_overlap (const Polyomino *a, const Polyomino *b, int x, int y)
{
  for (int v = 0; v < POLYOMINO_SIDE; v++)
    for (int u = 0; u < POLYOMINO_SIDE; u++)
      if (polyomino_has (b, u, v) && polyomino_has (a, u + x, v + y))
        return TRUE;
  return FALSE;
}

/* The square of the least distance between cells of one and of the other, in cells. */
static inline int
polyomino_distance2 (const Polyomino *a, const Polyomino *b, int x, int y)
{
  int least = G_MAXINT;
  for (int v = 0; v < POLYOMINO_SIDE; v++)
    for (int u = 0; u < POLYOMINO_SIDE; u++)
      for (int t = 0; t < POLYOMINO_SIDE; t++)
        for (int s = 0; s < POLYOMINO_SIDE; s++)
          if (a->cells[v][u] && b->cells[t][s]) {
            int dx = MAX (0, ABS (s + x - u) - 1), dy = MAX (0, ABS (t + y - v) - 1);
            least = MIN (least, dx * dx + dy * dy);
          }
  return least;
}
