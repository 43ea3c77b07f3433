/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/hand-track.h"

#include <math.h>
#include <stdlib.h>

#define SAME_KNOT_MM 0.02 /* a change this near to a knot is a change of it */
#define LENGTH_PARTS 16   /* legs that measure a curve */

/* --- Curves --- */

typedef struct {
  SbPoint p[4];
  gboolean straight;
} Cubic;

static SbPoint
mix (SbPoint a, SbPoint b, double t)
{
  return (SbPoint){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

static double
distance (SbPoint a, SbPoint b)
{
  return hypot (b.x - a.x, b.y - a.y);
}

static SbPoint
plus (SbPoint a, SbPoint b)
{
  return (SbPoint){a.x + b.x, a.y + b.y};
}

static Cubic
curve_of (const SbRing *ring, guint i)
{
  const SbCurve *c = &ring->curves[i];
  SbPoint from = i > 0 ? ring->curves[i - 1].end : ring->start;
  if (c->straight)
    return (Cubic){{from, mix (from, c->end, 1 / 3.0), mix (from, c->end, 2 / 3.0), c->end}, TRUE};
  return (Cubic){{from, c->c1, c->c2, c->end}, FALSE};
}

static SbPoint
cubic_at (const Cubic *c, double t)
{
  SbPoint a = mix (c->p[0], c->p[1], t), b = mix (c->p[1], c->p[2], t),
          d = mix (c->p[2], c->p[3], t);
  return mix (mix (a, b, t), mix (b, d, t), t);
}

/* The part from `t0` to `t1` (de Casteljau, from both ends). */
static Cubic
cubic_part (Cubic c, double t0, double t1)
{
  if (t1 < 1) {
    SbPoint a = mix (c.p[0], c.p[1], t1), b = mix (c.p[1], c.p[2], t1),
            d = mix (c.p[2], c.p[3], t1);
    SbPoint e = mix (a, b, t1), f = mix (b, d, t1);
    c = (Cubic){{c.p[0], a, e, mix (e, f, t1)}, c.straight};
  }
  if (t0 > 0) {
    double t = t0 / t1;
    SbPoint a = mix (c.p[0], c.p[1], t), b = mix (c.p[1], c.p[2], t), d = mix (c.p[2], c.p[3], t);
    SbPoint e = mix (a, b, t), f = mix (b, d, t);
    c = (Cubic){{mix (e, f, t), f, d, c.p[3]}, c.straight};
  }
  return c;
}

static double
cubic_length (const Cubic *c)
{
  double length = 0;
  SbPoint last = c->p[0];
  for (int k = 1; k <= LENGTH_PARTS; k++) {
    SbPoint p = cubic_at (c, (double)k / LENGTH_PARTS);
    length += distance (last, p);
    last = p;
  }
  return length;
}

/* No point of the curve is nearer to `p` than the box of its control points. */
static double
least_distance (const Cubic *c, SbPoint p)
{
  SbBox box = SB_BOX_EMPTY;
  for (int k = 0; k < 4; k++)
    box = sb_box_add (box, c->p[k]);
  return hypot (MAX (0, MAX (box.x0 - p.x, p.x - box.x1)),
                MAX (0, MAX (box.y0 - p.y, p.y - box.y1)));
}

/* Where on the curve `p` is nearest: the best of a row of places, then narrowed. */
static double
cubic_nearest (const Cubic *c, SbPoint p, double *away)
{
  double best = 0, step = 1.0 / LENGTH_PARTS;
  *away = distance (c->p[0], p);
  for (int k = 1; k <= LENGTH_PARTS; k++) {
    SbPoint q = cubic_at (c, k * step);
    double d = distance (q, p);
    if (d < *away) {
      *away = d;
      best = k * step;
    }
  }
  for (; step > 1e-9; step /= 2)
    for (int side = -1; side <= 1; side += 2) {
      double t = CLAMP (best + side * step / 2, 0, 1);
      SbPoint q = cubic_at (c, t);
      double d = distance (q, p);
      if (d < *away) {
        *away = d;
        best = t;
      }
    }
  return best;
}

/* --- Knots --- */

typedef struct {
  double v;     /* the curve's number, and the part of it */
  double s;     /* length of the ring up to here */
  int change;   /* or -1 */
  SbPoint at;   /* on the grown ring */
  SbPoint by;   /* the shift */
  gboolean off; /* removed */
} Knot;

typedef struct {
  const SbRing *ring;
  Cubic *curves;
  double *lengths; /* up to each curve; one more: the whole */
  GArray *knots;   /* Knot, by v once sorted */
} Track;

struct _SbTracks {
  guint n;
  Track *track; /* one a ring */
};

static void
track_init (Track *track, const SbRing *ring)
{
  guint n = ring->n_curves;
  *track = (Track){ring, g_new (Cubic, n), g_new (double, n + 1),
                   g_array_new (FALSE, FALSE, sizeof (Knot))};
  track->lengths[0] = 0;
  for (guint i = 0; i < n; i++) {
    track->curves[i] = curve_of (ring, i);
    Knot knot = {.v = i, .s = track->lengths[i], .change = -1, .at = track->curves[i].p[0]};
    g_array_append_val (track->knots, knot);
    track->lengths[i + 1] = track->lengths[i] + cubic_length (&track->curves[i]);
  }
}

static void
track_clear (Track *track)
{
  g_free (track->curves);
  g_free (track->lengths);
  g_array_unref (track->knots);
}

static double
track_whole (const Track *track)
{
  return track->lengths[track->ring->n_curves];
}

static Knot
knot_at (const Track *track, guint curve, double t)
{
  const Cubic *c = &track->curves[curve];
  Cubic part = cubic_part (*c, 0, MAX (t, 1e-12));
  return (Knot){.v = curve + t,
                .s = track->lengths[curve] + (t > 0 ? cubic_length (&part) : 0),
                .change = -1,
                .at = cubic_at (c, t)};
}

/* The place `s` along the ring, which may run over its ends. */
static Knot
knot_along (const Track *track, double s)
{
  double whole = track_whole (track);
  s -= whole * floor (s / whole);
  guint i = 0;
  while (i + 1 < track->ring->n_curves && track->lengths[i + 1] <= s)
    i++;
  double low = 0, high = 1;
  for (int k = 0; k < 40; k++) {
    double t = (low + high) / 2;
    if (knot_at (track, i, t).s < s)
      low = t;
    else
      high = t;
  }
  return knot_at (track, i, high);
}

/* How far it is from `a` forwards to `b`. */
static double
way (const Track *track, double a, double b)
{
  return b >= a ? b - a : b - a + track_whole (track);
}

static Knot *
find_knot (const Track *track, const Knot *place)
{
  for (guint i = 0; i < track->knots->len; i++) {
    Knot *knot = &g_array_index (track->knots, Knot, i);
    if (MIN (way (track, knot->s, place->s), way (track, place->s, knot->s)) < SAME_KNOT_MM)
      return knot;
  }
  return NULL;
}

static Knot *
find_or_add_knot (Track *track, const Knot *place)
{
  Knot *knot = find_knot (track, place);
  if (knot != NULL)
    return knot;
  g_array_append_val (track->knots, *place);
  return &g_array_index (track->knots, Knot, track->knots->len - 1);
}

/* The track whose ring comes nearest to `p`, and where. */
static Track *
find_track (SbTracks *tracks, SbPoint p, Knot *place)
{
  double least = G_MAXDOUBLE, best_t = 0;
  Track *best = NULL;
  guint best_curve = 0;
  for (guint r = 0; r < tracks->n; r++)
    for (guint i = 0; i < tracks->track[r].ring->n_curves; i++) {
      if (least_distance (&tracks->track[r].curves[i], p) >= least)
        continue;
      double away, t = cubic_nearest (&tracks->track[r].curves[i], p, &away);
      if (away >= least)
        continue;
      least = away;
      best = &tracks->track[r];
      best_curve = i;
      best_t = t;
    }
  if (best != NULL)
    *place = knot_at (best, best_curve, best_t);
  return best;
}

static gboolean
has_shift (const SbHandChange *change)
{
  return change->by.x != 0 || change->by.y != 0;
}

/* Where a change ends there is a knot, so that it reaches as far on any outline. */
static void
add_ends (Track *track, double s, const SbHandChange *change)
{
  if (change->before + change->after >= track_whole (track))
    return;
  Knot before = knot_along (track, s - change->before),
       after = knot_along (track, s + change->after);
  find_or_add_knot (track, &before);
  find_or_add_knot (track, &after);
}

static void
add_change (SbTracks *tracks, const SbHandChange *change, int index)
{
  Knot place;
  Track *track = find_track (tracks, change->at, &place);
  if (track == NULL)
    return;
  Knot *knot = find_or_add_knot (track, &place);
  knot->change = index;
  knot->by = change->by;
  knot->off = change->kind == SB_HAND_REMOVED;
  double s = knot->s;
  if (knot->off || has_shift (change))
    add_ends (track, s, change);
}

/* What lies within the reach of a change and has none of its own goes along, the less the farther
 * away it is; within that of a removed point it is removed. */
static void
spread (Track *track, const SbHandChange *changes)
{
  Knot *knots = (Knot *)(void *)track->knots->data;
  for (guint i = 0; i < track->knots->len; i++) {
    const Knot *from = &knots[i];
    if (from->change < 0 || (!from->off && from->by.x == 0 && from->by.y == 0))
      continue;
    const SbHandChange *change = &changes[from->change];
    for (guint k = 0; k < track->knots->len; k++) {
      if (knots[k].change >= 0)
        continue;
      double ahead = way (track, from->s, knots[k].s), behind = way (track, knots[k].s, from->s);
      double left = MAX (change->after - ahead, change->before - behind);
      if (left < SAME_KNOT_MM)
        continue;
      double reach =
          change->after - ahead >= change->before - behind ? change->after : change->before;
      knots[k].off |= from->off;
      knots[k].by =
          plus (knots[k].by, (SbPoint){from->by.x * left / reach, from->by.y * left / reach});
    }
  }
}

static int
compare_knots (const void *a, const void *b)
{
  const Knot *p = a, *q = b;
  return (p->v > q->v) - (p->v < q->v);
}

/* Sorts the knots and takes the removed ones out, as long as some are left. */
static void
settle (Track *track)
{
  guint left = 0;
  for (guint i = 0; i < track->knots->len; i++)
    left += !g_array_index (track->knots, Knot, i).off;
  if (left >= 2)
    for (guint i = track->knots->len; i-- > 0;)
      if (g_array_index (track->knots, Knot, i).off)
        g_array_remove_index_fast (track->knots, i);
  g_array_sort (track->knots, compare_knots);
}

SbTracks *
sb_tracks_new (const SbHandChange *changes, guint n, const SbOutline *grown)
{
  SbTracks *tracks = g_new (SbTracks, 1);
  tracks->n = sb_outline_get_n_rings (grown);
  tracks->track = g_new (Track, tracks->n);
  for (guint r = 0; r < tracks->n; r++)
    track_init (&tracks->track[r], sb_outline_get_ring (grown, r));
  for (guint i = 0; i < n; i++)
    add_change (tracks, &changes[i], (int)i);
  for (guint r = 0; r < tracks->n; r++) {
    spread (&tracks->track[r], changes);
    settle (&tracks->track[r]);
  }
  return tracks;
}

void
sb_tracks_free (SbTracks *tracks)
{
  for (guint r = 0; r < tracks->n; r++)
    track_clear (&tracks->track[r]);
  g_free (tracks->track);
  g_free (tracks);
}

/* --- The changed outline --- */

static SbPoint
direction (SbPoint from, SbPoint to)
{
  double l = distance (from, to);
  return l > 0 ? (SbPoint){(to.x - from.x) / l, (to.y - from.y) / l} : (SbPoint){0, 0};
}

/* The direction in which a curve leaves; backwards for its end. */
static SbPoint
leaving (const Cubic *c, gboolean backwards)
{
  for (int k = 1; k < 4; k++) {
    SbPoint d = direction (c->p[backwards ? 3 : 0], c->p[backwards ? 3 - k : k]);
    if (d.x != 0 || d.y != 0)
      return d;
  }
  return (SbPoint){0, 0};
}

/* How long a control leg is that leaves a chord at an angle; exact to 3e-4 for arcs of up to a
 * quarter: for an arc of twice the angle it is chord / (3 cos^2 (angle / 2)). */
static double
leg_length (SbPoint tangent, SbPoint chord, double length)
{
  double angle = fabs (
      atan2 (tangent.x * chord.y - tangent.y * chord.x, tangent.x * chord.x + tangent.y * chord.y));
  double c = cos (MIN (angle, 2.0) / 2);
  return length / (3 * c * c);
}

/* From one knot to another, past knots that were removed. */
static Cubic
bridge (const Track *track, const Knot *a, const Knot *b)
{
  guint n = track->ring->n_curves, first = (guint)a->v % n, last = (guint)(ceil (b->v) - 1 + n) % n;
  Cubic out = cubic_part (track->curves[first], a->v - floor (a->v), 1);
  Cubic in = cubic_part (track->curves[last], 0, b->v > floor (b->v) ? b->v - floor (b->v) : 1);
  SbPoint from = plus (a->at, a->by), to = plus (b->at, b->by);
  SbPoint u = leaving (&out, FALSE), w = leaving (&in, TRUE), chord = direction (from, to);
  double length = distance (from, to), l0 = leg_length (u, chord, length),
         l1 = leg_length ((SbPoint){-w.x, -w.y}, chord, length);
  return (Cubic){
      {from, {from.x + l0 * u.x, from.y + l0 * u.y}, {to.x + l1 * w.x, to.y + l1 * w.y}, to},
      FALSE};
}

/* Is there no end of a grown curve between the two? Then their stretch is part of one curve. */
static gboolean
on_one_curve (const Track *track, const Knot *a, const Knot *b)
{
  double end = floor (a->v) + 1, to = b->v > a->v ? b->v : b->v + track->ring->n_curves;
  return to <= end;
}

static Cubic
stretch_between (const Track *track, const Knot *a, const Knot *b)
{
  if (!on_one_curve (track, a, b))
    return bridge (track, a, b);
  guint i = (guint)a->v;
  double t1 = b->v - i;
  Cubic part = cubic_part (track->curves[i], a->v - i, b->v > a->v ? t1 : 1);
  part.p[0] = plus (a->at, a->by);
  part.p[1] = plus (part.p[1], a->by);
  part.p[2] = plus (part.p[2], b->by);
  part.p[3] = plus (b->at, b->by);
  return part;
}

static const Knot *
get_knot (const Track *track, guint i)
{
  return &g_array_index (track->knots, Knot, i % track->knots->len);
}

SbOutline *
sb_tracks_build (const SbTracks *tracks)
{
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  for (guint r = 0; r < tracks->n; r++) {
    const Track *track = &tracks->track[r];
    const Knot *first = get_knot (track, 0);
    sb_outline_builder_move_to (builder, plus (first->at, first->by));
    for (guint i = 0; i < track->knots->len; i++) {
      Cubic c = stretch_between (track, get_knot (track, i), get_knot (track, i + 1));
      if (c.straight)
        sb_outline_builder_line_to (builder, c.p[3]);
      else
        sb_outline_builder_curve_to (builder, c.p[1], c.p[2], c.p[3]);
    }
    sb_outline_builder_close (builder);
  }
  return sb_outline_builder_end (builder);
}

/* --- Taking hold of points --- */

static void
append_points (const Track *track, guint ring, GArray *points)
{
  for (guint i = 0; i < track->knots->len; i++) {
    const Knot *knot = get_knot (track, i), *next = get_knot (track, i + 1),
               *last = get_knot (track, i + track->knots->len - 1);
    SbHandPoint point = {
        .p = plus (knot->at, knot->by),
        .ring = ring,
        .change = knot->change,
        .at = knot->at,
        .before = way (track, last->s, knot->s),
        .after = way (track, knot->s, next->s),
    };
    g_array_append_val (points, point);
  }
}

void
sb_tracks_append_points (const SbTracks *tracks, GArray *points)
{
  for (guint r = 0; r < tracks->n; r++)
    append_points (&tracks->track[r], r, points);
}

/* Where the changed outline comes nearest: the knot before, and the part of the stretch. */
static const Track *
find_stretch (const SbTracks *tracks, SbPoint near, guint *knot, double *t)
{
  const Track *best = NULL;
  double least = G_MAXDOUBLE;
  for (guint r = 0; r < tracks->n; r++)
    for (guint i = 0; i < tracks->track[r].knots->len; i++) {
      const Track *track = &tracks->track[r];
      Cubic c = stretch_between (track, get_knot (track, i), get_knot (track, i + 1));
      double away, at = cubic_nearest (&c, near, &away);
      if (away >= least)
        continue;
      least = away;
      best = track;
      *knot = i;
      *t = at;
    }
  return best;
}

static SbHandChange
added_change (const Track *track, guint knot, double t)
{
  const Knot *a = get_knot (track, knot), *b = get_knot (track, knot + 1);
  double s = way (track, a->s, b->s);
  Cubic c = stretch_between (track, a, b);
  SbPoint p = cubic_at (&c, t);
  Knot place;
  if (on_one_curve (track, a, b)) {
    double from = a->v - floor (a->v), to = b->v > a->v ? b->v - floor (a->v) : 1;
    place = knot_at (track, (guint)a->v, from + t * (to - from));
  } else {
    place = knot_along (track, a->s + t * s);
  }
  SbPoint by = {p.x - place.at.x, p.y - place.at.y};
  if (hypot (by.x, by.y) < 1e-9)
    by = (SbPoint){0, 0};
  return (SbHandChange){SB_HAND_ADDED, place.at, by, way (track, a->s, place.s),
                        way (track, place.s, b->s)};
}

gboolean
sb_tracks_add_point (const SbTracks *tracks, SbPoint near, SbHandChange *change)
{
  guint knot = 0;
  double t = 0;
  const Track *track = find_stretch (tracks, near, &knot, &t);
  if (track == NULL)
    return FALSE;
  *change = added_change (track, knot, t);
  return MIN (change->before, change->after) >= 2 * SAME_KNOT_MM;
}
