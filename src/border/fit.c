/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Curves are fitted greedily: from each sample the longest cubic that keeps the tolerance.
 * Neighbouring cubics share position and tangent exactly. */
#include <math.h>

#include "border/run.h"
#include "geometry/vector.h"

#define MOST_PASSES 7 /* to find a curve's handles */
#define MOST_TURN 1.9 /* radians one cubic may turn */
#define TINY_MM 2e-5
#define STRAIGHT_PART 0.1 /* of the tolerance: a flatter cubic is a leg */

static gboolean
try_cubic (const SbRun *run, guint a, guint b, SbCubic *c)
{
  return sb_run_find_cubic (run, a, b, 3, c);
}

/* A cubic that keeps the tolerance lies closer to the samples, and no longer on one side of them,
 * after a few more passes. */
static void
settle_cubic (const SbRun *run, guint a, guint b, SbCubic *c)
{
  SbCubic settled;
  if (b > a + 1 && sb_run_find_cubic (run, a, b, MOST_PASSES, &settled))
    *c = settled;
}

static gboolean
is_straight (const SbCubic *c, double tolerance)
{
  SbPoint d = sb_minus (c->p3, c->p0);
  double l = sqrt (sb_dot (d, d));
  return fabs (sb_cross (d, sb_minus (c->p1, c->p0))) <= tolerance * l &&
         fabs (sb_cross (d, sb_minus (c->p2, c->p0))) <= tolerance * l;
}

/* A tiny leg, which may lead back, is left to the next curve. */
static void
emit_leg (SbOutlineBuilder *builder, SbPoint from, SbPoint to)
{
  if (fabs (to.x - from.x) > TINY_MM || fabs (to.y - from.y) > TINY_MM)
    sb_outline_builder_line_to (builder, to);
}

static void
emit (SbOutlineBuilder *builder, const SbCubic *c, double tolerance)
{
  if (is_straight (c, tolerance * STRAIGHT_PART))
    emit_leg (builder, c->p0, c->p3);
  else
    sb_outline_builder_curve_to (builder, c->p1, c->p2, c->p3);
}

static gboolean
may_reach (const SbRun *run, guint a, guint b)
{
  return b < run->n && (b == a + 1 || run->turned[b] - run->turned[a] <= MOST_TURN);
}

/* An arc as cubics of at most an eighth of a turn: wrong by 4e-6 of the radius. */
static void
fit_arc (SbOutlineBuilder *builder, const SbSample *sample, SbPoint end)
{
  int parts = (int)ceil (fabs (sample->turn) / (G_PI / 4));
  double part = sample->turn / parts, handle = (4.0 / 3) * tan (part / 4);
  SbPoint o = sample->centre, v = sb_minus (sample->p, o);
  for (int k = 0; k < parts; k++) {
    double c = cos (part), s = sin (part);
    SbPoint next = {c * v.x - s * v.y, s * v.x + c * v.y};
    SbPoint c1 = {o.x + v.x - handle * v.y, o.y + v.y + handle * v.x};
    SbPoint c2 = {o.x + next.x + handle * next.y, o.y + next.y - handle * next.x};
    sb_outline_builder_curve_to (builder, c1, c2,
                                 k + 1 == parts ? end : (SbPoint){o.x + next.x, o.y + next.y});
    v = next;
  }
}

/* From one sample to the next, when no longer curve fits. */
static void
fit_step (SbOutlineBuilder *builder, const SbRun *run, guint a)
{
  const SbSample *from = sb_run_sample (run, a), *to = sb_run_sample (run, a + 1);
  SbCubic c;
  if (from->link == SB_LINK_BIT)
    fit_arc (builder, from, to->p);
  else if (try_cubic (run, a, a + 1, &c))
    emit (builder, &c, run->tolerance);
  else
    emit_leg (builder, from->p, to->p);
}

#define STRAIGHT_LEAST_MM 1.5
#define STRAIGHT_WITHIN 0.2   /* of the tolerance */
#define STRAIGHT_TANGENT 0.01 /* radians between a leg and the tangents at its ends */

static gboolean
try_straight (const SbRun *run, guint a, guint b)
{
  SbPoint p = run->p[a], d = sb_minus (run->p[b], p);
  double l = sqrt (sb_dot (d, d)), most = STRAIGHT_WITHIN * run->tolerance * l;
  if (l < STRAIGHT_LEAST_MM / 2 || /* all the way round a small loop */
      fabs (sb_cross (d, run->tangents[a])) > STRAIGHT_TANGENT * l ||
      fabs (sb_cross (d, run->tangents[b])) > STRAIGHT_TANGENT * l)
    return FALSE;
  for (guint i = a + 1; i < b; i++)
    if (fabs (sb_cross (d, sb_minus (run->p[i], p))) > most)
      return FALSE;
  return TRUE;
}

/* The last sample of a straight leg that begins at `a`; `a` itself when there is none. */
static guint
straight_end (const SbRun *run, guint a)
{
  guint b = a;
  while (b + 1 < run->n && run->length[b] - run->length[a] < STRAIGHT_LEAST_MM)
    b++;
  if (run->length[b] - run->length[a] < STRAIGHT_LEAST_MM || !try_straight (run, a, b))
    return a;
  guint good = b, stride = 8;
  while (stride > 0) {
    if (good + stride < run->n && try_straight (run, a, good + stride)) {
      good += stride;
      stride *= 2;
    } else {
      stride /= 2;
    }
  }
  return good;
}

#define BEYOND 12
#define MOST_TURNED 0.998 /* cosine of how far a tangent may be turned to let a curve pass */

/* As an arc that begins at `a` would, to arrive at `b`. */
static SbPoint
arrival (const SbRun *run, guint a, guint b)
{
  SbPoint d = sb_minus (run->p[b], run->p[a]), t = run->tangents[a];
  double l = sb_dot (d, d);
  return l > 0 ? sb_along ((SbPoint){-t.x, -t.y}, d, 2 * sb_dot (d, t) / l) : t;
}

/* Where noise in the next samples lets no curve pass between them, one may pass over them, or
 * arrive in another direction. Returns where it ends, a + 1 when there is none. */
static guint
look_beyond (const SbRun *run, guint a, guint to, SbCubic *best)
{
  if (run->most_bend == 0 || sb_run_sample (run, a)->link == SB_LINK_BIT ||
      try_cubic (run, a, a + 1, best))
    return a + 1;
  for (guint b = a + 2; b <= MIN (to, a + BEYOND) && may_reach (run, a, b); b++)
    if (try_cubic (run, a, b, best))
      return b;
  for (guint b = a + 2; b < MIN (to, a + BEYOND) && may_reach (run, a, b); b++) {
    SbPoint kept = run->tangents[b];
    run->tangents[b] = arrival (run, a, b);
    if (sb_dot (run->tangents[b], kept) > MOST_TURNED && try_cubic (run, a, b, best))
      return b;
    run->tangents[b] = kept;
  }
  return a + 1;
}

/* A curve that is found, but not put out yet. */
typedef struct {
  guint from, to;
  SbCubic c;
} Found;

/* The longest curve from `a`, at most to `to`. */
static Found
find_longest (const SbRun *run, guint a, guint to, guint stride)
{
  Found found = {a, a + 1, {{0, 0}}};
  guint bad = to + 1;
  SbCubic c;
  while (found.to + 1 + (found.to - a) / 10 < bad) { /* gallop, then halve */
    guint b = stride > 0 ? MIN (a + 1 + stride, bad - 1) : found.to + (bad - found.to) / 2;
    if (may_reach (run, a, b) && try_cubic (run, a, b, &c)) {
      found.to = b;
      found.c = c;
      stride *= 2;
    } else {
      bad = b;
      stride = 0;
    }
  }
  if (found.to == a + 1)
    found.to = look_beyond (run, a, to, &found.c);
  settle_cubic (run, a, found.to, &found.c);
  return found;
}

#define REMNANT 0.3 /* of the curve before it; a last one so short is evened out with that */

/* Two curves over the same samples, but of like length. */
static gboolean
even_out (const SbRun *run, Found *before, Found *last)
{
  double from = run->length[before->from], whole = run->length[last->to] - from;
  if (before->to != last->from ||
      run->length[last->to] - run->length[last->from] > REMNANT * (run->length[before->to] - from))
    return FALSE;
  for (double part = 0.5; part < 0.75; part += 0.1) {
    Found first = {.from = before->from, .to = before->from + 1}, second = {.to = last->to};
    while (run->length[first.to] - from < part * whole)
      first.to++;
    second.from = first.to;
    if (second.from < second.to && may_reach (run, second.from, second.to) &&
        sb_run_find_cubic (run, first.from, first.to, MOST_PASSES, &first.c) &&
        sb_run_find_cubic (run, second.from, second.to, MOST_PASSES, &second.c)) {
      *before = first;
      *last = second;
      return TRUE;
    }
  }
  return FALSE;
}

/* Curves over the samples from..to. */
static void
fit_curves (SbOutlineBuilder *builder, const SbRun *run, guint from, guint to)
{
  Found before = {0};
  guint stride = 8;
  for (guint a = from; a < to;) {
    Found found = find_longest (run, a, to, stride);
    gboolean is_curve = found.to > a + 1;
    if (found.to == to && before.to > before.from)
      is_curve |= even_out (run, &before, &found);
    if (before.to > before.from)
      emit (builder, &before.c, run->tolerance);
    before = is_curve ? found : (Found){0};
    if (!is_curve)
      fit_step (builder, run, a);
    stride = MAX (4, (found.to - a) / 2);
    a = found.to;
  }
  if (before.to > before.from)
    emit (builder, &before.c, run->tolerance);
}

/* Straight legs first, so that no curve leans on them; curves between. */
static void
fit_run (SbOutlineBuilder *builder, const SbRun *run)
{
  guint done = 0;
  for (guint a = 0; a + 1 < run->n;) {
    guint end = straight_end (run, a);
    if (end == a) {
      a++;
      continue;
    }
    fit_curves (builder, run, done, a);
    sb_outline_builder_line_to (builder, sb_run_sample (run, end)->p);
    a = done = end;
  }
  fit_curves (builder, run, done, run->n - 1);
}

static gboolean
is_part_of_run (const SbSample *sample)
{
  return sample->link == SB_LINK_CURVE || sample->link == SB_LINK_BIT;
}

static void
fit_loop (SbOutlineBuilder *builder, const SbSample *samples, guint n, double tolerance,
          double most_bend)
{
  guint start = 0;
  for (guint i = 0; i < n; i++)
    if (samples[i].link == SB_LINK_ARC || samples[i].link == SB_LINK_CORNER) {
      start = i + 1 < n ? i + 1 : 0;
      break;
    }
  sb_outline_builder_move_to (builder, samples[start].p);
  for (guint done = 0; done < n;) {
    guint i = (start + done) % n;
    const SbSample *next = &samples[(i + 1) % n];
    if (samples[i].link == SB_LINK_ARC) {
      fit_arc (builder, &samples[i], next->p);
      done++;
    } else if (samples[i].link == SB_LINK_CORNER) {
      done++;
    } else {
      guint m = 0;
      while (done + m < n && is_part_of_run (&samples[(i + m) % n]))
        m++;
      g_autoptr (SbRun) run = sb_run_new (samples, n, i, m + 1, tolerance, most_bend);
      fit_run (builder, run);
      done += m;
    }
  }
  sb_outline_builder_close (builder);
}

SbOutline *
sb_path_fit (const SbPath *path, double tolerance_mm, double nook_mm)
{
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  double most_bend = nook_mm > 0 ? 1 / (0.96 * nook_mm) : 0;
  guint start = 0;
  for (guint l = 0; l < path->ends->len; l++) {
    guint end = g_array_index (path->ends, guint, l);
    fit_loop (builder, &g_array_index (path->samples, SbSample, start), end - start, tolerance_mm,
              most_bend);
    start = end;
  }
  return sb_outline_builder_end (builder);
}
