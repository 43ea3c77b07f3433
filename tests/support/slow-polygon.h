/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Slow answers about polygons, found another way than geometry/relation.c finds them, and random
 * polygons that like to touch. For tests only. */
#pragma once

#include <glib.h>
#include <math.h>
#include <stdlib.h>

#include "geometry/polygon.h"

typedef struct {
  double ax, ay, bx, by;
  int owner;
} SlowEdge;

static inline GArray *
slow_edges (const SbPolygon *const *polygons, int n)
{
  GArray *edges = g_array_new (FALSE, FALSE, sizeof (SlowEdge));
  for (int o = 0; o < n; o++)
    for (guint l = 0; l < sb_polygon_get_n_loops (polygons[o]); l++) {
      const SbLoop *loop = sb_polygon_get_loop (polygons[o], l);
      for (guint i = 0; i < loop->n_points; i++) {
        SbIPoint a = loop->points[i], b = loop->points[(i + 1) % loop->n_points];
        SlowEdge e = {a.x, a.y, b.x, b.y, o};
        g_array_append_val (edges, e);
      }
    }
  return edges;
}

static inline int
slow_compare (const void *a, const void *b)
{
  const double *x = a, *y = b;
  return (*x > *y) - (*x < *y);
}

/* Where the plane changes as it is swept to the right: all corners and all crossings. */
static inline GArray *
slow_stops (const GArray *edges)
{
  GArray *stops = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint i = 0; i < edges->len; i++) {
    const SlowEdge *e = &g_array_index (edges, SlowEdge, i);
    g_array_append_val (stops, e->ax);
    for (guint j = 0; j < i; j++) {
      const SlowEdge *f = &g_array_index (edges, SlowEdge, j);
      double ex = e->bx - e->ax, ey = e->by - e->ay, fx = f->bx - f->ax, fy = f->by - f->ay;
      double det = ex * fy - ey * fx;
      if (det == 0)
        continue;
      double t = ((f->ax - e->ax) * fy - (f->ay - e->ay) * fx) / det;
      double u = ((f->ax - e->ax) * ey - (f->ay - e->ay) * ex) / det;
      double x = e->ax + t * ex;
      if (t >= 0 && t <= 1 && u >= 0 && u <= 1)
        g_array_append_val (stops, x);
    }
  }
  g_array_sort (stops, slow_compare);
  return stops;
}

/* The area that both polygons cover (`both`) or that any covers, in um2: between two stops nothing
 * crosses, so a slab is a pile of trapezoids whose heights in the middle of it tell all. */
static inline double
slow_area (const SbPolygon *a, const SbPolygon *b, gboolean both)
{
  const SbPolygon *polygons[] = {a, b};
  GArray *edges = slow_edges (polygons, 2);
  GArray *stops = slow_stops (edges);
  double area = 0;
  for (guint s = 1; s < stops->len; s++) {
    double x0 = g_array_index (stops, double, s - 1), x1 = g_array_index (stops, double, s);
    if (x1 - x0 < 1e-9)
      continue;
    double x = (x0 + x1) / 2;
    double heights[1024][2];
    guint n = 0;
    for (guint i = 0; i < edges->len; i++) {
      const SlowEdge *e = &g_array_index (edges, SlowEdge, i);
      if ((e->ax < x) == (e->bx < x))
        continue;
      g_assert (n < G_N_ELEMENTS (heights));
      heights[n][0] = e->ay + (e->by - e->ay) * (x - e->ax) / (e->bx - e->ax);
      heights[n++][1] = (e->bx > e->ax ? 1 : -1) * (e->owner == 0 ? 1 : 1024);
    }
    qsort (heights, n, sizeof heights[0], slow_compare);
    int winding[2] = {0, 0};
    for (guint i = 0; i + 1 < n; i++) {
      int step = (int)heights[i][1];
      if (ABS (step) == 1)
        winding[0] += step;
      else
        winding[1] += step / 1024;
      gboolean in = both ? winding[0] != 0 && winding[1] != 0 : winding[0] != 0 || winding[1] != 0;
      if (in)
        area += (heights[i + 1][0] - heights[i][0]) * (x1 - x0);
    }
  }
  g_array_unref (edges);
  g_array_unref (stops);
  return area;
}

/* Exact enough for corners within some hundreds of micrometres: the least area that two polygons
 * with such corners can share is far above the rounding of doubles. */
static inline gboolean
slow_overlap (const SbPolygon *a, const SbPolygon *b)
{
  return slow_area (a, b, TRUE) > 1e-7;
}

static inline double
slow_point_to_edge (const SlowEdge *e, double x, double y)
{
  double dx = e->bx - e->ax, dy = e->by - e->ay;
  double t = ((x - e->ax) * dx + (y - e->ay) * dy) / (dx * dx + dy * dy);
  t = CLAMP (t, 0, 1);
  return hypot (e->ax + t * dx - x, e->ay + t * dy - y);
}

/* The distance of polygons that do not overlap: every corner to every edge. */
static inline double
slow_distance (const SbPolygon *a, const SbPolygon *b)
{
  GArray *of_a = slow_edges (&a, 1), *of_b = slow_edges (&b, 1);
  double least = INFINITY;
  for (guint i = 0; i < of_a->len; i++)
    for (guint j = 0; j < of_b->len; j++) {
      const SlowEdge *e = &g_array_index (of_a, SlowEdge, i);
      const SlowEdge *f = &g_array_index (of_b, SlowEdge, j);
      least = MIN (least, slow_point_to_edge (e, f->ax, f->ay));
      least = MIN (least, slow_point_to_edge (f, e->ax, e->ay));
    }
  g_array_unref (of_a);
  g_array_unref (of_b);
  return least;
}

/* ---- Random polygons ---- */

static inline gint64
slow_orient (SbIPoint o, SbIPoint a, SbIPoint b)
{
  return (gint64)(a.x - o.x) * (b.y - o.y) - (gint64)(a.y - o.y) * (b.x - o.x);
}

static inline gboolean
slow_on (SbIPoint a, SbIPoint b, SbIPoint p)
{
  return slow_orient (a, b, p) == 0 && MIN (a.x, b.x) <= p.x && p.x <= MAX (a.x, b.x) &&
         MIN (a.y, b.y) <= p.y && p.y <= MAX (a.y, b.y);
}

static inline gboolean
slow_meet (SbIPoint a, SbIPoint b, SbIPoint c, SbIPoint d)
{
  gint64 o1 = slow_orient (a, b, c), o2 = slow_orient (a, b, d);
  gint64 o3 = slow_orient (c, d, a), o4 = slow_orient (c, d, b);
  if (((o1 > 0) != (o2 > 0)) && o1 && o2 && ((o3 > 0) != (o4 > 0)) && o3 && o4)
    return TRUE;
  return slow_on (a, b, c) || slow_on (a, b, d) || slow_on (c, d, a) || slow_on (c, d, b);
}

/* TRUE when no two sides meet but neighbours, in their corner. */
static inline gboolean
slow_is_simple (const SbIPoint *p, guint n)
{
  for (guint i = 0; i < n; i++)
    for (guint j = i + 1; j < n; j++) {
      SbIPoint a = p[i], b = p[i + 1 == n ? 0 : i + 1], c = p[j], d = p[j + 1 == n ? 0 : j + 1];
      if (j == i + 1         ? slow_on (a, b, d) || slow_on (c, d, a)
          : (j + 1) % n == i ? slow_on (a, b, c) || slow_on (c, d, b)
                             : slow_meet (a, b, c, d))
        return FALSE;
    }
  return TRUE;
}

/* A polygon without crossings of `n` corners on the whole numbers 0..reach, positive. */
static inline SbPolygon *
slow_random_polygon (GRand *rand, guint n, sb_um reach)
{
  g_autofree SbIPoint *p = g_new (SbIPoint, n);
  for (;;) {
    for (guint i = 0; i < n; i++)
      p[i] =
          (SbIPoint){g_rand_int_range (rand, 0, reach + 1), g_rand_int_range (rand, 0, reach + 1)};
    if (!slow_is_simple (p, n))
      continue;
    SbLoop loop = {n, p};
    SbPolygon *polygon = sb_polygon_new (&loop, 1);
    if (sb_polygon_get_area_mm2 (polygon) > 0)
      return polygon;
    sb_polygon_unref (polygon);
  }
}
