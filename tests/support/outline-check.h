/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Slow, independent checks of an outline: is it simple, how far does it stay from points, how
 * tightly does it bend inwards. They use nothing of the border's code. */
#pragma once

#include <glib.h>
#include <math.h>
#include <stdlib.h>

#include "geometry/outline.h"

/* Whole hundredths of a micrometre, so that crossings are decided exactly. */
#define SB_CHECK_UNIT 1e5

typedef struct {
  gint64 x0, y0, x1, y1;
  guint ring, index, n; /* n: legs of the ring */
} SbCheckLeg;

static inline SbPoint
sb_check_curve_at (SbPoint p, const SbCurve *c, double t)
{
  double s = 1 - t;
  if (c->straight)
    return (SbPoint){s * p.x + t * c->end.x, s * p.y + t * c->end.y};
  double b0 = s * s * s, b1 = 3 * s * s * t, b2 = 3 * s * t * t, b3 = t * t * t;
  return (SbPoint){b0 * p.x + b1 * c->c1.x + b2 * c->c2.x + b3 * c->end.x,
                   b0 * p.y + b1 * c->c1.y + b2 * c->c2.y + b3 * c->end.y};
}

/* All rings as points; ends as in a list of loops. A curve gets `parts` legs and one more for
 * each `spacing` mm, a straight one shorter than that stays whole. */
static inline void
sb_check_flatten (const SbOutline *outline, int parts, double spacing, GArray *points, GArray *ends)
{
  for (guint r = 0; r < sb_outline_get_n_rings (outline); r++) {
    const SbRing *ring = sb_outline_get_ring (outline, r);
    SbPoint from = ring->start;
    for (guint i = 0; i < ring->n_curves; i++) {
      const SbCurve *c = &ring->curves[i];
      double about = hypot (c->end.x - from.x, c->end.y - from.y);
      if (!c->straight)
        about = hypot (c->c1.x - from.x, c->c1.y - from.y) +
                hypot (c->c2.x - c->c1.x, c->c2.y - c->c1.y) +
                hypot (c->end.x - c->c2.x, c->end.y - c->c2.y);
      int n = c->straight && about < spacing ? 1 : parts + (int)(about / spacing);
      for (int k = 1; k <= n; k++) {
        SbPoint p = sb_check_curve_at (from, c, (double)k / n);
        g_array_append_val (points, p);
      }
      from = c->end;
    }
    g_array_append_val (ends, points->len);
  }
}

static inline int
sb_check_compare_legs (const void *a, const void *b)
{
  const SbCheckLeg *p = a, *q = b;
  gint64 u = MIN (p->x0, p->x1), v = MIN (q->x0, q->x1);
  return u < v ? -1 : u > v;
}

static inline int
sb_check_side (const SbCheckLeg *l, gint64 x, gint64 y)
{
  __int128 d = (__int128)(l->x1 - l->x0) * (y - l->y0) - (__int128)(l->y1 - l->y0) * (x - l->x0);
  return d < 0 ? -1 : d > 0;
}

/* The number of pairs of legs that cross properly. 0 for a simple outline. */
static inline guint
sb_check_crossings (const SbOutline *outline, SbPoint *where)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GArray) legs = g_array_new (FALSE, FALSE, sizeof (SbCheckLeg));
  sb_check_flatten (outline, 24, 0.2, points, ends);
  guint start = 0;
  for (guint r = 0; r < ends->len; r++) {
    guint end = g_array_index (ends, guint, r);
    for (guint i = start; i < end; i++) {
      SbPoint p = g_array_index (points, SbPoint, i);
      SbPoint q = g_array_index (points, SbPoint, i + 1 < end ? i + 1 : start);
      SbCheckLeg leg = {llround (p.x * SB_CHECK_UNIT),
                        llround (p.y * SB_CHECK_UNIT),
                        llround (q.x * SB_CHECK_UNIT),
                        llround (q.y * SB_CHECK_UNIT),
                        r,
                        i - start,
                        end - start};
      if (leg.x0 != leg.x1 || leg.y0 != leg.y1)
        g_array_append_val (legs, leg);
    }
    start = end;
  }
  qsort (legs->data, legs->len, sizeof (SbCheckLeg), sb_check_compare_legs);
  const SbCheckLeg *l = (const SbCheckLeg *)legs->data;
  guint crossings = 0;
  for (guint i = 0; i < legs->len; i++) {
    gint64 right = MAX (l[i].x0, l[i].x1), low = MIN (l[i].y0, l[i].y1),
           high = MAX (l[i].y0, l[i].y1);
    for (guint k = i + 1; k < legs->len && MIN (l[k].x0, l[k].x1) <= right; k++) {
      if (MIN (l[k].y0, l[k].y1) > high || MAX (l[k].y0, l[k].y1) < low)
        continue;
      if (sb_check_side (&l[i], l[k].x0, l[k].y0) * sb_check_side (&l[i], l[k].x1, l[k].y1) < 0 &&
          sb_check_side (&l[k], l[i].x0, l[i].y0) * sb_check_side (&l[k], l[i].x1, l[i].y1) < 0) {
        if (crossings++ == 0 && where != NULL)
          *where = (SbPoint){(double)l[i].x0 / SB_CHECK_UNIT, (double)l[i].y0 / SB_CHECK_UNIT};
      }
    }
  }
  return crossings;
}

/* The tightest inward bend in mm, G_MAXDOUBLE for none; corners that turn inwards by more than two
 * degrees count as 0. */
static inline double
sb_check_tightest_nook (const SbOutline *outline, SbPoint *where)
{
  double most = 0;
  for (guint r = 0; r < sb_outline_get_n_rings (outline); r++) {
    const SbRing *ring = sb_outline_get_ring (outline, r);
    SbPoint from = ring->start, before = {0, 0};
    for (guint pass = 0; pass < ring->n_curves + 1; pass++) {
      const SbCurve *c = &ring->curves[pass % ring->n_curves];
      SbPoint c1 = c->straight ? c->end : c->c1, c2 = c->straight ? from : c->c2;
      SbPoint in = {c1.x - from.x, c1.y - from.y};
      double l = hypot (in.x, in.y);
      if (pass > 0 && l > 0 && (before.x * in.y - before.y * in.x) / l < -0.035) {
        if (where != NULL)
          *where = from;
        return 0;
      }
      for (int k = 0; k <= 32 && !c->straight; k++) {
        double t = k / 32.0, s = 1 - t;
        SbPoint u = {c->c1.x - from.x, c->c1.y - from.y},
                v = {c->c2.x - c->c1.x, c->c2.y - c->c1.y},
                w = {c->end.x - c->c2.x, c->end.y - c->c2.y};
        SbPoint d = {3 * (s * s * u.x + 2 * s * t * v.x + t * t * w.x),
                     3 * (s * s * u.y + 2 * s * t * v.y + t * t * w.y)};
        SbPoint e = {6 * (s * (v.x - u.x) + t * (w.x - v.x)),
                     6 * (s * (v.y - u.y) + t * (w.y - v.y))};
        double steep = d.x * d.x + d.y * d.y;
        double bend = -(d.x * e.y - d.y * e.x) / (steep * sqrt (steep));
        if (steep > 0 && bend > most) {
          most = bend;
          if (where != NULL)
            *where = sb_check_curve_at (from, c, t);
        }
      }
      SbPoint out = {c->end.x - c2.x, c->end.y - c2.y};
      l = hypot (out.x, out.y);
      before = l > 0 ? (SbPoint){out.x / l, out.y / l} : (SbPoint){0, 0};
      from = c->end;
    }
  }
  return most > 0 ? 1 / most : G_MAXDOUBLE;
}

/* How far `p` lies inside the flattened outline (negative outside). */
static inline double
sb_check_depth (const GArray *points, const GArray *ends, SbPoint p)
{
  double least = G_MAXDOUBLE;
  gboolean in = FALSE;
  guint start = 0;
  for (guint r = 0; r < ends->len; r++) {
    guint end = g_array_index (ends, guint, r);
    for (guint i = start; i < end; i++) {
      SbPoint a = g_array_index (points, SbPoint, i);
      SbPoint b = g_array_index (points, SbPoint, i + 1 < end ? i + 1 : start);
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) * (b.x - a.x) / (b.y - a.y))
        in = !in;
      double dx = b.x - a.x, dy = b.y - a.y, l = dx * dx + dy * dy;
      double t = l > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / l : 0;
      t = t < 0 ? 0 : t > 1 ? 1 : t;
      double ex = a.x + t * dx - p.x, ey = a.y + t * dy - p.y;
      least = MIN (least, ex * ex + ey * ey);
    }
    start = end;
  }
  return in ? sqrt (least) : -sqrt (least);
}
