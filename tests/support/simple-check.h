/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Is an outline simple? Decided on the cubics themselves: a curve lies within the hull of its four
 * control points, so curves whose boxes are apart do not meet; where boxes meet, both are halved
 * until they are apart. Neighbours, which share a point, are told apart by a line through it or by
 * a direction in which both go on. What is still undecided at a nanometre counts as a meeting. */
#pragma once

#include <glib.h>
#include <math.h>

#include "geometry/outline.h"

#define SB_SIMPLE_LEAST_MM 1e-6

typedef struct {
  SbPoint p[4];
} SbBit;

static inline SbBox
sb_bit_box (const SbBit *b)
{
  SbBox box = {b->p[0].x, b->p[0].y, b->p[0].x, b->p[0].y};
  for (int i = 1; i < 4; i++)
    box = sb_box_add (box, b->p[i]);
  return box;
}

static inline SbPoint
sb_bit_middle (SbPoint a, SbPoint b)
{
  return (SbPoint){(a.x + b.x) / 2, (a.y + b.y) / 2};
}

static inline void
sb_bit_halve (const SbBit *b, SbBit *first, SbBit *second)
{
  SbPoint ab = sb_bit_middle (b->p[0], b->p[1]), bc = sb_bit_middle (b->p[1], b->p[2]),
          cd = sb_bit_middle (b->p[2], b->p[3]);
  SbPoint abc = sb_bit_middle (ab, bc), bcd = sb_bit_middle (bc, cd), m = sb_bit_middle (abc, bcd);
  *first = (SbBit){{b->p[0], ab, abc, m}};
  *second = (SbBit){{m, bcd, cd, b->p[3]}};
}

static inline double
sb_bit_along (SbPoint from, SbPoint to, SbPoint direction)
{
  return (to.x - from.x) * direction.x + (to.y - from.y) * direction.y;
}

/* Do all legs of the control polygon go on in `direction`? */
static inline gboolean
sb_bit_goes_on (const SbBit *b, SbPoint direction)
{
  gboolean any = FALSE;
  for (int i = 0; i < 3; i++) {
    if (b->p[i].x == b->p[i + 1].x && b->p[i].y == b->p[i + 1].y)
      continue;
    if (sb_bit_along (b->p[i], b->p[i + 1], direction) <= 0)
      return FALSE;
    any = TRUE;
  }
  return any;
}

static inline SbPoint
sb_bit_unit (SbPoint from, SbPoint to)
{
  double l = hypot (to.x - from.x, to.y - from.y);
  return l > 0 ? (SbPoint){(to.x - from.x) / l, (to.y - from.y) / l} : (SbPoint){0, 0};
}

/* Do `a` and `b`, which begins where `a` ends, meet in that point alone? */
static inline gboolean
sb_bits_part (const SbBit *a, const SbBit *b)
{
  SbPoint s = b->p[0], in = sb_bit_unit (a->p[0], s), out = sb_bit_unit (s, b->p[3]);
  SbPoint on = {in.x + out.x, in.y + out.y};
  if (sb_bit_goes_on (a, on) && sb_bit_goes_on (b, on))
    return TRUE;
  for (int i = 0; i < 3; i++)
    if (a->p[i].x != s.x || a->p[i].y != s.y)
      if (sb_bit_along (s, a->p[i], on) >= 0)
        return FALSE;
  for (int i = 1; i < 4; i++)
    if (b->p[i].x != s.x || b->p[i].y != s.y)
      if (sb_bit_along (s, b->p[i], on) <= 0)
        return FALSE;
  return TRUE;
}

static inline gboolean
sb_bit_is_tiny (SbBox box)
{
  return MAX (box.x1 - box.x0, box.y1 - box.y0) < SB_SIMPLE_LEAST_MM;
}

/* `follows`: b begins where a ends; `leads`: a begins where b ends. */
static inline gboolean
sb_bits_meet (const SbBit *a, const SbBit *b, gboolean follows, gboolean leads)
{
  SbBox p = sb_bit_box (a), q = sb_bit_box (b);
  if (p.x1 < q.x0 || q.x1 < p.x0 || p.y1 < q.y0 || q.y1 < p.y0)
    return FALSE;
  if (follows && !leads && sb_bits_part (a, b))
    return FALSE;
  if (leads && !follows && sb_bits_part (b, a))
    return FALSE;
  if (sb_bit_is_tiny (p) && sb_bit_is_tiny (q))
    return !(follows || leads); /* of neighbours, only the shared point is left */
  SbBit a0, a1, b0, b1;
  sb_bit_halve (a, &a0, &a1);
  sb_bit_halve (b, &b0, &b1);
  return sb_bits_meet (&a0, &b0, FALSE, FALSE) || sb_bits_meet (&a0, &b1, FALSE, leads) ||
         sb_bits_meet (&a1, &b0, follows, FALSE) || sb_bits_meet (&a1, &b1, FALSE, FALSE);
}

/* Does one curve meet itself? Not where it goes on in one direction. */
static inline gboolean
sb_bit_meets_itself (const SbBit *b)
{
  if (sb_bit_goes_on (b, sb_bit_unit (b->p[0], b->p[3])) || sb_bit_is_tiny (sb_bit_box (b)))
    return FALSE;
  SbBit first, second;
  sb_bit_halve (b, &first, &second);
  return sb_bit_meets_itself (&first) || sb_bit_meets_itself (&second) ||
         sb_bits_meet (&first, &second, TRUE, FALSE);
}

static inline guint
sb_simple_append_ring (const SbRing *ring, GArray *bits)
{
  SbPoint from = ring->start;
  guint n = 0;
  for (guint i = 0; i < ring->n_curves; i++) {
    const SbCurve *c = &ring->curves[i];
    SbBit bit = {{from, c->c1, c->c2, c->end}};
    if (c->straight) {
      bit.p[1] = (SbPoint){from.x + (c->end.x - from.x) / 3, from.y + (c->end.y - from.y) / 3};
      bit.p[2] =
          (SbPoint){from.x + (c->end.x - from.x) * 2 / 3, from.y + (c->end.y - from.y) * 2 / 3};
    }
    from = c->end;
    if (bit.p[0].x == bit.p[3].x && bit.p[0].y == bit.p[3].y && c->straight)
      continue;
    g_array_append_val (bits, bit);
    n++;
  }
  return n;
}

/* The number of pairs of curves that meet where they should not; 0 for a simple outline. */
static inline guint
sb_check_meetings (const SbOutline *outline, SbPoint *where)
{
  g_autoptr (GArray) bits = g_array_new (FALSE, FALSE, sizeof (SbBit));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint r = 0; r < sb_outline_get_n_rings (outline); r++) {
    sb_simple_append_ring (sb_outline_get_ring (outline, r), bits);
    g_array_append_val (ends, bits->len);
  }
  guint meetings = 0, start = 0;
  for (guint r = 0; r < ends->len; r++) {
    guint end = g_array_index (ends, guint, r);
    for (guint i = start; i < end; i++) {
      const SbBit *a = &g_array_index (bits, SbBit, i);
      gboolean met = sb_bit_meets_itself (a);
      for (guint k = i + 1; k < bits->len; k++) {
        gboolean follows = k < end && k == i + 1, leads = i == start && k + 1 == end;
        met |= sb_bits_meet (a, &g_array_index (bits, SbBit, k), follows, leads);
      }
      if (met && meetings++ == 0 && where != NULL)
        *where = a->p[0];
    }
    start = end;
  }
  return meetings;
}
