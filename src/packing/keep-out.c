/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/keep-out.h"

#include <math.h>

/* Tangents to a rounded corner are no farther apart than this. */
#define ARC_STEP (G_PI / 12)

/* A convex loop walked leg by leg in order of direction, from its lowest corner. */
typedef struct {
  const SbLoop *loop;
  int sign; /* -1: the loop mirrored in the origin */
  guint start, step;
} Walk;

static SbIPoint
corner_at (const Walk *walk, guint step)
{
  SbIPoint p = walk->loop->points[(walk->start + step) % walk->loop->n_points];
  return (SbIPoint){walk->sign * p.x, walk->sign * p.y};
}

static Walk
walk_begin (const SbLoop *loop, int sign)
{
  Walk walk = {loop, sign, 0, 0};
  guint lowest = 0;
  for (guint i = 1; i < loop->n_points; i++) {
    SbIPoint p = corner_at (&walk, i), q = corner_at (&walk, lowest);
    if (p.y < q.y || (p.y == q.y && p.x < q.x))
      lowest = i;
  }
  walk.start = lowest;
  return walk;
}

static gboolean
walk_is_over (const Walk *walk)
{
  return walk->step == walk->loop->n_points;
}

static void
leg_at (const Walk *walk, gint64 *dx, gint64 *dy)
{
  SbIPoint a = corner_at (walk, walk->step), b = corner_at (walk, walk->step + 1);
  *dx = (gint64)b.x - a.x;
  *dy = (gint64)b.y - a.y;
}

/* Whether leg a points to an earlier direction than leg b, counted from (1, 0): < 0, 0, > 0. */
static int
compare_legs (gint64 ax, gint64 ay, gint64 bx, gint64 by)
{
  int a_half = ay < 0 || (ay == 0 && ax < 0), b_half = by < 0 || (by == 0 && bx < 0);
  if (a_half != b_half)
    return a_half - b_half;
  gint64 cross = ax * by - ay * bx;
  return cross > 0 ? -1 : cross < 0;
}

/* The edges of one pair of parts while they are found. */
typedef struct {
  GArray *edges; /* SbKeepOutEdge */
  double gap;
  double x0, y0, x1, y1;
} Sum;

static void
sum_add_edge (Sum *sum, double nx, double ny, double x, double y)
{
  SbKeepOutEdge edge = {nx, ny, nx * x + ny * y + sum->gap};
  g_array_append_val (sum->edges, edge);
}

/* Tangents about corner (x, y) between the last edge's normal and (nx, ny). */
static void
sum_round_corner (Sum *sum, double from_x, double from_y, double nx, double ny, double x, double y)
{
  if (sum->gap <= 0)
    return;
  double turn = atan2 (from_x * ny - from_y * nx, from_x * nx + from_y * ny);
  if (turn < 0)
    turn += 2 * G_PI;
  int n = (int)ceil (turn / ARC_STEP - 1e-9) - 1;
  for (int i = 1; i <= n; i++) {
    double angle = turn * i / (n + 1), cos_a = cos (angle), sin_a = sin (angle);
    sum_add_edge (sum, from_x * cos_a - from_y * sin_a, from_x * sin_a + from_y * cos_a, x, y);
  }
}

static void
sum_parts (Sum *sum, const SbLoop *still, const SbLoop *moving)
{
  Walk a = walk_begin (still, 1), b = walk_begin (moving, -1);
  g_array_set_size (sum->edges, 0);
  sum->x0 = sum->y0 = G_MAXDOUBLE;
  sum->x1 = sum->y1 = -G_MAXDOUBLE;
  double last_x = 0, last_y = 0, first_x = 0, first_y = 0, x = 0, y = 0;
  while (!walk_is_over (&a) || !walk_is_over (&b)) {
    gint64 ax = 0, ay = 0, bx = 0, by = 0, dx, dy;
    int order = walk_is_over (&a) ? 1 : walk_is_over (&b) ? -1 : 0;
    if (!walk_is_over (&a))
      leg_at (&a, &ax, &ay);
    if (!walk_is_over (&b))
      leg_at (&b, &bx, &by);
    if (order == 0)
      order = compare_legs (ax, ay, bx, by);
    dx = order <= 0 ? ax : bx;
    dy = order <= 0 ? ay : by;
    SbIPoint p = corner_at (&a, a.step), q = corner_at (&b, b.step);
    x = (double)p.x + q.x;
    y = (double)p.y + q.y;
    double length = sqrt ((double)dx * (double)dx + (double)dy * (double)dy);
    if (order <= 0)
      a.step++;
    if (order >= 0)
      b.step++;
    if (length == 0)
      continue; /* two corners that a small scale has rounded together */
    double nx = (double)dy / length, ny = -(double)dx / length;
    if (sum->edges->len > 0)
      sum_round_corner (sum, last_x, last_y, nx, ny, x, y);
    else
      first_x = nx, first_y = ny;
    sum_add_edge (sum, nx, ny, x, y);
    sum->x0 = MIN (sum->x0, x - sum->gap);
    sum->y0 = MIN (sum->y0, y - sum->gap);
    sum->x1 = MAX (sum->x1, x + sum->gap);
    sum->y1 = MAX (sum->y1, y + sum->gap);
    last_x = nx;
    last_y = ny;
  }
  SbIPoint p = corner_at (&a, 0), q = corner_at (&b, 0); /* back at the lowest corner */
  sum_round_corner (sum, last_x, last_y, first_x, first_y, (double)p.x + q.x, (double)p.y + q.y);
}

/* The edges in an order that shows a point outside early: far apart ones first. */
static void
scatter_edges (const GArray *edges, SbKeepOutEdge *to)
{
  guint n = edges->len, stride = MAX (1, (guint)(n * 0.38)), k = 0;
  while (n > 1) { /* a stride with no common divisor meets every edge */
    guint a = n, b = stride;
    while (b != 0) {
      guint rest = a % b;
      a = b;
      b = rest;
    }
    if (a == 1)
      break;
    stride++;
  }
  for (guint i = 0; i < n; i++, k = (k + stride) % n)
    to[i] = g_array_index (edges, SbKeepOutEdge, k);
}

static int
compare_parts (gconstpointer a, gconstpointer b)
{
  const SbKeepOutPart *p = a, *q = b;
  double p_size = (p->x1 - p->x0) * (p->y1 - p->y0), q_size = (q->x1 - q->x0) * (q->y1 - q->y0);
  if (p_size != q_size)
    return p_size > q_size ? -1 : 1;
  return p->edges < q->edges ? -1 : p->edges > q->edges;
}

static guint
most_edges (const SbPose *still, const SbPose *moving, double gap)
{
  guint n = 0, arc = gap > 0 ? (guint)ceil (2 * G_PI / ARC_STEP) + 1 : 0;
  for (guint i = 0; i < still->n_parts; i++)
    for (guint j = 0; j < moving->n_parts; j++)
      n += still->parts[i].n_points + moving->parts[j].n_points + arc;
  return n;
}

SbKeepOut *
sb_keep_out_new (const SbPose *still, const SbPose *moving, double gap)
{
  guint n_parts = still->n_parts * moving->n_parts;
  gsize parts_at = sizeof (SbKeepOut), edges_at = parts_at + n_parts * sizeof (SbKeepOutPart);
  guint most = most_edges (still, moving, gap);
  char *block = g_malloc (edges_at + most * sizeof (SbKeepOutEdge));
  SbKeepOut *region = (SbKeepOut *)(gpointer)block;
  *region = (SbKeepOut){G_MAXDOUBLE,  G_MAXDOUBLE, -G_MAXDOUBLE,
                        -G_MAXDOUBLE, n_parts,     (SbKeepOutPart *)(gpointer)(block + parts_at)};
  SbKeepOutEdge *edges = (SbKeepOutEdge *)(gpointer)(block + edges_at);
  g_autoptr (GArray) found = g_array_sized_new (FALSE, FALSE, sizeof (SbKeepOutEdge), 128);
  Sum sum = {found, gap, 0, 0, 0, 0};
  SbKeepOutPart *part = region->parts;
  for (guint i = 0; i < still->n_parts; i++)
    for (guint j = 0; j < moving->n_parts; j++) {
      sum_parts (&sum, &still->parts[i], &moving->parts[j]);
      scatter_edges (found, edges);
      *part++ = (SbKeepOutPart){sum.x0, sum.y0, sum.x1, sum.y1, found->len, edges};
      edges += found->len;
      region->x0 = MIN (region->x0, sum.x0);
      region->y0 = MIN (region->y0, sum.y0);
      region->x1 = MAX (region->x1, sum.x1);
      region->y1 = MAX (region->y1, sum.y1);
    }
  qsort (region->parts, n_parts, sizeof *region->parts, compare_parts);
  return region;
}
