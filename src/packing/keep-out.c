/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/keep-out.h"

#include <math.h>
#include <string.h>

/* Tangents to a rounded corner are no farther apart than 15 degrees: this is the cosine. Halving
 * leaves them at least half as far apart, and a corner that needs none has one edge. */
#define ARC_STEP_COS 0.96592582628906828675
#define MOST_TANGENTS 48

/* Whether leg a points to an earlier direction than leg b, counted from (1, 0): < 0, 0, > 0. */
static inline int
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
  double *nx, *ny, *c; /* with room for the most there can be */
  guint n;
  double gap;
  double x0, y0, x1, y1;
} Sum;

static void
sum_add_edge (Sum *sum, double nx, double ny, double x, double y)
{
  sum->nx[sum->n] = nx;
  sum->ny[sum->n] = ny;
  sum->c[sum->n++] = nx * x + ny * y + sum->gap;
}

/* Tangents about corner (x, y) between the last edge's normal and (nx, ny): the arc is halved until
 * it is short enough, by square roots alone, so that every machine finds the same. */
static void
sum_round_corner (Sum *sum, double from_x, double from_y, double nx, double ny, double x, double y)
{
  double across = from_x * ny - from_y * nx, along = from_x * nx + from_y * ny;
  if (sum->gap <= 0 || (along >= ARC_STEP_COS && across >= 0))
    return;
  double middle_x = from_x + nx, middle_y = from_y + ny;
  if (across <= 0 || along < 0) { /* a quarter on and a quarter back lie between */
    middle_x = -from_y + ny;
    middle_y = from_x - nx;
  }
  double length = sqrt (middle_x * middle_x + middle_y * middle_y);
  middle_x /= length;
  middle_y /= length;
  sum_round_corner (sum, from_x, from_y, middle_x, middle_y, x, y);
  sum_add_edge (sum, middle_x, middle_y, x, y);
  sum_round_corner (sum, middle_x, middle_y, nx, ny, x, y);
}

static void
sum_widen_box (Sum *sum, double x, double y)
{
  sum->x0 = MIN (sum->x0, x - sum->gap);
  sum->y0 = MIN (sum->y0, y - sum->gap);
  sum->x1 = MAX (sum->x1, x + sum->gap);
  sum->y1 = MAX (sum->y1, y + sum->gap);
}

/* Walks both parts leg by leg in order of direction, the moving one mirrored: from the lowest
 * corner of the sum round to it again. */
static void
sum_parts (Sum *sum, const SbPart *still, const SbPart *moving)
{
  sum->n = 0;
  sum->x0 = sum->y0 = G_MAXDOUBLE;
  sum->x1 = sum->y1 = -G_MAXDOUBLE;
  guint a = still->lowest, b = moving->highest, a_left = still->n, b_left = moving->n;
  double last_x = 0, last_y = 0, first_x = 0, first_y = 0;
  while (a_left + b_left > 0) {
    const SbLeg *p = &still->legs[a], *q = &moving->legs[b];
    int order = a_left == 0 ? 1 : b_left == 0 ? -1 : compare_legs (p->dx, p->dy, -q->dx, -q->dy);
    /* Corners that a small scale has rounded together: a leg of no length goes by itself. */
    if (order == 0 && p->dx == 0 && p->dy == 0)
      order = -1;
    else if (order == 0 && q->dx == 0 && q->dy == 0)
      order = 1;
    double x = (double)still->points[a].x - moving->points[b].x,
           y = (double)still->points[a].y - moving->points[b].y;
    double nx = order <= 0 ? p->nx : -q->nx, ny = order <= 0 ? p->ny : -q->ny;
    if (order <= 0) {
      a = a + 1 == still->n ? 0 : a + 1;
      a_left--;
    }
    if (order >= 0) {
      b = b + 1 == moving->n ? 0 : b + 1;
      b_left--;
    }
    if (nx == 0 && ny == 0)
      continue;
    if (sum->n > 0)
      sum_round_corner (sum, last_x, last_y, nx, ny, x, y);
    else
      first_x = nx, first_y = ny;
    sum_add_edge (sum, nx, ny, x, y);
    sum_widen_box (sum, x, y);
    last_x = nx;
    last_y = ny;
  }
  sum_round_corner (sum, last_x, last_y, first_x, first_y,
                    (double)still->points[a].x - moving->points[b].x,
                    (double)still->points[a].y - moving->points[b].y);
}

static guint
round_up (guint n)
{
  return (n + SB_KEEP_OUT_STRIDE - 1) / SB_KEEP_OUT_STRIDE * SB_KEEP_OUT_STRIDE;
}

static gboolean
have_common_divisor (guint a, guint b)
{
  while (b != 0) {
    guint rest = a % b;
    a = b;
    b = rest;
  }
  return a > 1;
}

/* The edges in an order that shows a point outside early: far apart ones first. `to` has room for
 * three columns of round_up (n). */
static void
scatter_edges (const Sum *sum, double *to)
{
  guint n = sum->n, padded = round_up (n), stride = MAX (1, (guint)(n * 0.38)), k = 0;
  while (n > 1 && have_common_divisor (n, stride)) /* else some edges would not be met */
    stride++;
  for (guint i = 0; i < padded; i++, k = (k + stride) % n) {
    guint from = i < n ? k : 0;
    to[i] = sum->nx[from];
    to[padded + i] = sum->ny[from];
    to[2 * padded + i] = sum->c[from];
  }
}

static int
compare_parts (gconstpointer a, gconstpointer b)
{
  const SbKeepOutPart *p = a, *q = b;
  double p_size = (p->x1 - p->x0) * (p->y1 - p->y0), q_size = (q->x1 - q->x0) * (q->y1 - q->y0);
  if (p_size != q_size)
    return p_size > q_size ? -1 : 1;
  return p->nx < q->nx ? -1 : p->nx > q->nx;
}

/* The most edges of all pairs of parts together, and of one pair. */
static gsize
most_edges (const SbPose *still, const SbPose *moving, double gap, gsize *of_a_pair)
{
  gsize n = 0, arc = gap > 0 ? MOST_TANGENTS : 0;
  *of_a_pair = 0;
  for (guint i = 0; i < still->n_parts; i++)
    for (guint j = 0; j < moving->n_parts; j++) {
      gsize pair = round_up ((guint)(still->parts[i].n + moving->parts[j].n + arc));
      n += pair;
      *of_a_pair = MAX (*of_a_pair, pair);
    }
  return n;
}

static gsize
edges_offset (const SbPose *still, const SbPose *moving)
{
  return sizeof (SbKeepOut) + (gsize)still->n_parts * moving->n_parts * sizeof (SbKeepOutPart);
}

gsize
sb_keep_out_get_most_size (const SbPose *still, const SbPose *moving, double gap)
{
  gsize of_a_pair;
  return edges_offset (still, moving) +
         3 * most_edges (still, moving, gap, &of_a_pair) * sizeof (double);
}

SbKeepOut *
sb_keep_out_put (gpointer block, const SbPose *still, const SbPose *moving, double gap, gsize *size)
{
  guint n_parts = still->n_parts * moving->n_parts;
  gsize parts_at = sizeof (SbKeepOut), edges_at = edges_offset (still, moving);
  SbKeepOut *region = block;
  *region =
      (SbKeepOut){G_MAXDOUBLE,  G_MAXDOUBLE, -G_MAXDOUBLE,
                  -G_MAXDOUBLE, n_parts,     (SbKeepOutPart *)(gpointer)((char *)block + parts_at)};
  double *edges = (double *)(gpointer)((char *)block + edges_at);
  gsize of_a_pair;
  most_edges (still, moving, gap, &of_a_pair);
  g_autofree double *columns = g_new (double, 3 * of_a_pair);
  Sum sum = {.nx = columns, .ny = columns + of_a_pair, .c = columns + 2 * of_a_pair, .gap = gap};
  SbKeepOutPart *part = region->parts;
  for (guint i = 0; i < still->n_parts; i++)
    for (guint j = 0; j < moving->n_parts; j++) {
      sum_parts (&sum, &still->parts[i], &moving->parts[j]);
      scatter_edges (&sum, edges);
      guint padded = round_up (sum.n);
      *part++ = (SbKeepOutPart){sum.x0, sum.y0, sum.x1,         sum.y1,
                                padded, edges,  edges + padded, edges + 2 * (gsize)padded};
      edges += 3 * (gsize)padded;
      region->x0 = MIN (region->x0, sum.x0);
      region->y0 = MIN (region->y0, sum.y0);
      region->x1 = MAX (region->x1, sum.x1);
      region->y1 = MAX (region->y1, sum.y1);
    }
  qsort (region->parts, n_parts, sizeof *region->parts, compare_parts);
  *size = (gsize)((char *)edges - (char *)block);
  return region;
}

SbKeepOut *
sb_keep_out_new (const SbPose *still, const SbPose *moving, double gap)
{
  gsize size;
  return sb_keep_out_put (g_malloc (sb_keep_out_get_most_size (still, moving, gap)), still, moving,
                          gap, &size);
}
