/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/verify.h"
#include "geometry/vector.h"

#include <math.h>

#define TOUCHING_MM 1e-6 /* pieces this small whose boxes meet count as crossing */
#define JOINT_MM 1e-4    /* neighbours are not compared closer to the place they share */
#define TINY_MM 2e-5     /* a smaller piece is taken into the next one */
#define MOST_DEPTH 16
#define INWARD_CORNER 0.03 /* sine of less than two degrees */
#define SAMPLES 24         /* of a curve's bend */

typedef struct {
  SbPoint p[4];
  SbBox box;
  guint ring, index, n; /* index of n pieces of the ring */
} Piece;

static inline SbPoint
middle (SbPoint a, SbPoint b)
{
  return (SbPoint){(a.x + b.x) / 2, (a.y + b.y) / 2};
}

static void
measure_box (Piece *k)
{
  k->box = (SbBox){MIN (MIN (k->p[0].x, k->p[1].x), MIN (k->p[2].x, k->p[3].x)),
                   MIN (MIN (k->p[0].y, k->p[1].y), MIN (k->p[2].y, k->p[3].y)),
                   MAX (MAX (k->p[0].x, k->p[1].x), MAX (k->p[2].x, k->p[3].x)),
                   MAX (MAX (k->p[0].y, k->p[1].y), MAX (k->p[2].y, k->p[3].y))};
}

static void
halve (const Piece *k, Piece *first, Piece *second)
{
  SbPoint a = middle (k->p[0], k->p[1]), b = middle (k->p[1], k->p[2]),
          c = middle (k->p[2], k->p[3]);
  SbPoint ab = middle (a, b), bc = middle (b, c), at = middle (ab, bc);
  *first = *second = *k;
  first->p[1] = a;
  first->p[2] = ab;
  first->p[3] = second->p[0] = at;
  second->p[1] = bc;
  second->p[2] = c;
  measure_box (first);
  measure_box (second);
}

static double
size_of (const Piece *k)
{
  return MAX (k->box.x1 - k->box.x0, k->box.y1 - k->box.y0);
}

static gboolean
boxes_meet (const SbBox *a, const SbBox *b)
{
  return a->x0 <= b->x1 && b->x0 <= a->x1 && a->y0 <= b->y1 && b->y0 <= a->y1;
}

/* Does it turn by less than a right angle, so that it cannot cross itself? */
static gboolean
is_tame (const Piece *k)
{
  SbPoint u = sb_minus (k->p[1], k->p[0]), v = sb_minus (k->p[2], k->p[1]),
          w = sb_minus (k->p[3], k->p[2]);
  return sb_dot (u, v) >= 0 && sb_dot (v, w) >= 0 && sb_dot (u, w) >= 0;
}

static void
add_pieces (GArray *pieces, const Piece *k, int depth)
{
  if (depth == 0 || is_tame (k)) {
    g_array_append_val (pieces, *k);
    return;
  }
  Piece first, second;
  halve (k, &first, &second);
  add_pieces (pieces, &first, depth - 1);
  add_pieces (pieces, &second, depth - 1);
}

static void
collect_ring (GArray *pieces, const SbRing *ring, guint r)
{
  guint begin = pieces->len;
  SbPoint from = ring->start;
  for (guint i = 0; i < ring->n_curves; i++) {
    const SbCurve *c = &ring->curves[i];
    Piece piece = {.p = {from, c->straight ? from : c->c1, c->straight ? c->end : c->c2, c->end},
                   .ring = r};
    from = c->end;
    measure_box (&piece);
    if (size_of (&piece) < TINY_MM)
      continue;
    if (pieces->len > begin)
      piece.p[0] = g_array_index (pieces, Piece, pieces->len - 1).p[3];
    measure_box (&piece);
    add_pieces (pieces, &piece, 6);
  }
  for (guint i = begin; i < pieces->len; i++) {
    Piece *piece = &g_array_index (pieces, Piece, i);
    piece->index = i - begin;
    piece->n = pieces->len - begin;
  }
}

static gboolean
may_cross (const Piece *a, const Piece *b)
{
  if (!boxes_meet (&a->box, &b->box))
    return FALSE;
  if (size_of (a) < size_of (b)) {
    const Piece *swap = a;
    a = b;
    b = swap;
  }
  if (size_of (a) < TOUCHING_MM)
    return TRUE;
  Piece first, second;
  halve (a, &first, &second);
  return may_cross (&first, b) || may_cross (&second, b);
}

/* Are two neighbours on different sides of a line through the place they share? */
static gboolean
is_parted (const Piece *a, const Piece *b, SbPoint at, SbPoint direction)
{
  for (int i = 0; i < 4; i++)
    if (sb_dot (sb_minus (a->p[i], at), direction) > 0 ||
        sb_dot (sb_minus (b->p[i], at), direction) < 0)
      return FALSE;
  return TRUE;
}

/* The direction in which a curve leaves its first place, or with `end` arrives at its last. */
static SbPoint
direction_of (const Piece *k, gboolean end)
{
  SbPoint at = k->p[end ? 3 : 0];
  for (int i = 1; i < 4; i++) {
    SbPoint v = end ? sb_minus (at, k->p[3 - i]) : sb_minus (k->p[i], at);
    double l = sqrt (sb_dot (v, v));
    if (l > 0)
      return (SbPoint){v.x / l, v.y / l};
  }
  return (SbPoint){0, 0};
}

/* The same for `a` and `b` that follows it. */
static gboolean
neighbours_may_cross (const Piece *a, const Piece *b, int depth)
{
  SbPoint in = direction_of (a, TRUE), out = direction_of (b, FALSE);
  if (is_parted (a, b, b->p[0], (SbPoint){in.x + out.x, in.y + out.y}) || depth == 0 ||
      MAX (size_of (a), size_of (b)) < JOINT_MM)
    return FALSE;
  Piece first, second;
  if (size_of (a) >= size_of (b)) {
    halve (a, &first, &second);
    return may_cross (&first, b) || neighbours_may_cross (&second, b, depth - 1);
  }
  halve (b, &first, &second);
  return may_cross (a, &second) || neighbours_may_cross (a, &first, depth - 1);
}

static int
compare_pieces (const void *a, const void *b)
{
  const Piece *p = a, *q = b;
  if (p->box.x0 != q->box.x0)
    return p->box.x0 < q->box.x0 ? -1 : 1;
  return p->ring != q->ring ? (p->ring < q->ring ? -1 : 1) : p->index < q->index ? -1 : 1;
}

static gboolean
pair_may_cross (const Piece *a, const Piece *b)
{
  if (a->box.y0 > b->box.y1 || b->box.y0 > a->box.y1)
    return FALSE;
  gboolean before = a->ring == b->ring && (a->index + 1) % a->n == b->index;
  gboolean after = a->ring == b->ring && (b->index + 1) % a->n == a->index;
  if (before && after) /* a ring of two: each end is shared */
    return FALSE;
  if (before)
    return neighbours_may_cross (a, b, MOST_DEPTH);
  if (after)
    return neighbours_may_cross (b, a, MOST_DEPTH);
  return may_cross (a, b);
}

gboolean
sb_verify_simple (const SbOutline *outline)
{
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (Piece));
  for (guint r = 0; r < sb_outline_get_n_rings (outline); r++)
    collect_ring (pieces, sb_outline_get_ring (outline, r), r);
  g_array_sort (pieces, compare_pieces);
  const Piece *p = (const Piece *)pieces->data;
  for (guint i = 0; i < pieces->len; i++)
    for (guint k = i + 1; k < pieces->len && p[k].box.x0 <= p[i].box.x1; k++)
      if (pair_may_cross (&p[i], &p[k]))
        return FALSE;
  return TRUE;
}

/* The most a curve bends to the left of its way, which is inwards; 1/mm. */
static double
inward_bend (const Piece *k)
{
  SbPoint u = sb_minus (k->p[1], k->p[0]), v = sb_minus (k->p[2], k->p[1]),
          w = sb_minus (k->p[3], k->p[2]);
  if (sb_cross (u, v) >= 0 && sb_cross (v, w) >= 0 && sb_cross (u, w) >= 0)
    return 0;
  double most = 0;
  for (int i = 0; i <= SAMPLES; i++) {
    double t = (double)i / SAMPLES, s = 1 - t;
    SbPoint d = {s * s * u.x + 2 * s * t * v.x + t * t * w.x,
                 s * s * u.y + 2 * s * t * v.y + t * t * w.y};
    SbPoint e = {s * (v.x - u.x) + t * (w.x - v.x), s * (v.y - u.y) + t * (w.y - v.y)};
    double steep = sb_dot (d, d);
    if (steep > 0)
      most = MAX (most, -sb_cross (d, e) * 2 / (3 * steep * sqrt (steep)));
  }
  return most;
}

static gboolean
ring_keeps_nook (const SbRing *ring, double most)
{
  SbPoint from = ring->start, before = {0, 0};
  for (guint i = 0; i <= ring->n_curves; i++) { /* the first one twice, for its corner */
    const SbCurve *c = &ring->curves[i < ring->n_curves ? i : 0];
    Piece piece = {.p = {from, c->straight ? from : c->c1, c->straight ? c->end : c->c2, c->end}};
    SbPoint out = direction_of (&piece, FALSE);
    if (sb_cross (before, out) < -INWARD_CORNER)
      return FALSE;
    if (!c->straight && i < ring->n_curves && inward_bend (&piece) > most)
      return FALSE;
    if (out.x != 0 || out.y != 0)
      before = direction_of (&piece, TRUE);
    from = c->end;
  }
  return TRUE;
}

gboolean
sb_verify_nooks (const SbOutline *outline, double nook_mm)
{
  if (nook_mm <= 0)
    return TRUE;
  for (guint r = 0; r < sb_outline_get_n_rings (outline); r++)
    if (!ring_keeps_nook (sb_outline_get_ring (outline, r), 1 / (0.955 * nook_mm)))
      return FALSE;
  return TRUE;
}
