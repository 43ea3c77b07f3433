/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/neck.h"

#include <math.h>

#define SPACING_MM 0.25
#define ROUNDABOUT 2.2 /* the way round must be this much longer than the way across */

typedef struct {
  SbPoint p, inwards;
  double along; /* length of the ring up to here */
  guint ring;
} Place;

static SbPoint
curve_at (SbPoint p0, const SbCurve *c, double t)
{
  double s = 1 - t;
  if (c->straight)
    return (SbPoint){s * p0.x + t * c->end.x, s * p0.y + t * c->end.y};
  double b0 = s * s * s, b1 = 3 * s * s * t, b2 = 3 * s * t * t, b3 = t * t * t;
  return (SbPoint){b0 * p0.x + b1 * c->c1.x + b2 * c->c2.x + b3 * c->end.x,
                   b0 * p0.y + b1 * c->c1.y + b2 * c->c2.y + b3 * c->end.y};
}

static double
distance (SbPoint a, SbPoint b)
{
  return sqrt ((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y));
}

/* Places along a ring, its length at the end. */
static double
sample_ring (const SbRing *ring, guint index, GArray *places)
{
  guint first = places->len;
  double along = 0;
  SbPoint from = ring->start;
  for (guint i = 0; i < ring->n_curves; i++) {
    const SbCurve *c = &ring->curves[i];
    double about =
        c->straight ? distance (from, c->end)
                    : distance (from, c->c1) + distance (c->c1, c->c2) + distance (c->c2, c->end);
    int parts = CLAMP ((int)ceil (about / SPACING_MM), 1, 20000);
    SbPoint last = from;
    for (int k = 1; k <= parts; k++) {
      SbPoint p = curve_at (from, c, (double)k / parts);
      along += distance (last, p);
      Place place = {p, {0, 0}, along, index};
      g_array_append_val (places, place);
      last = p;
    }
    from = c->end;
  }
  Place *p = &g_array_index (places, Place, first);
  guint n = places->len - first;
  for (guint i = 0; i < n; i++) {
    SbPoint a = p[i ? i - 1 : n - 1].p, b = p[i + 1 < n ? i + 1 : 0].p;
    double l = distance (a, b);
    if (l > 0)
      p[i].inwards = (SbPoint){-(b.y - a.y) / l, (b.x - a.x) / l};
  }
  return along;
}

/* Do the two places face each other across the inside? */
static gboolean
face_each_other (const Place *a, const Place *b, double d)
{
  double x = (b->p.x - a->p.x) / d, y = (b->p.y - a->p.y) / d;
  return a->inwards.x * x + a->inwards.y * y > 0.8 && b->inwards.x * x + b->inwards.y * y < -0.8;
}

typedef struct {
  double y;
  guint place;
} Order;

static int
compare_order (const void *a, const void *b)
{
  const Order *p = a, *q = b;
  if (p->y != q->y)
    return p->y < q->y ? -1 : 1;
  return p->place < q->place ? -1 : p->place > q->place;
}

double
sb_neck_find (const SbOutline *outline, SbPoint *where)
{
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (Place));
  guint n_rings = sb_outline_get_n_rings (outline);
  g_autofree double *lengths = g_new (double, n_rings + 1);
  for (guint r = 0; r < n_rings; r++)
    lengths[r] = sample_ring (sb_outline_get_ring (outline, r), r, places);
  const Place *p = (const Place *)places->data;
  guint n = places->len;
  g_autofree Order *order = g_new (Order, n + 1);
  for (guint i = 0; i < n; i++)
    order[i] = (Order){p[i].p.y, i};
  qsort (order, n, sizeof *order, compare_order);
  double thinnest = SB_NECK_MOST_MM;
  gboolean found = FALSE;
  for (guint i = 0; i < n; i++)
    for (guint k = i + 1; k < n && order[k].y - order[i].y < thinnest; k++) {
      const Place *a = &p[order[i].place], *b = &p[order[k].place];
      if (fabs (a->p.x - b->p.x) >= thinnest)
        continue;
      double d = distance (a->p, b->p);
      if (d >= thinnest || d <= 0 || !face_each_other (a, b, d))
        continue;
      if (a->ring == b->ring) {
        double way = fabs (a->along - b->along);
        way = MIN (way, lengths[a->ring] - way);
        if (way < ROUNDABOUT * d)
          continue;
      }
      thinnest = d;
      *where = (SbPoint){(a->p.x + b->p.x) / 2, (a->p.y + b->p.y) / 2};
      found = TRUE;
    }
  return found ? thinnest : G_MAXDOUBLE;
}
