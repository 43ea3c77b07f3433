/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Curves are fitted greedily: from each sample the longest cubic that keeps the tolerance. The
 * samples bring their tangents, so that only the two handles' lengths are free; they follow from
 * least squares (P. J. Schneider, "An Algorithm for Automatically Fitting Digitized Curves", in
 * Graphics Gems, 1990). Neighbouring cubics share position and tangent exactly. */
#include <math.h>

#include "border/path.h"

#define MOST_TURN 1.9     /* radians one cubic may turn */
#define MOST_SOLVED 16    /* samples that enter the least squares */
#define HOPELESS 9        /* tolerances: farther off at first, a curve does not get near enough */
#define STRAIGHT_PART 0.1 /* of the tolerance: a flatter cubic is a leg */

typedef struct {
  SbPoint p0, p1, p2, p3;
} Cubic;

/* One smooth stretch to fit. */
typedef struct {
  const SbSample *samples; /* of the loop */
  guint n_loop, first, n;  /* samples first .. first + n - 1, round the loop */
  SbPoint *p;              /* their places */
  SbPoint *tangents;       /* their tangents, with less noise */
  double *length;          /* along the samples */
  double *turned;          /* sum of the turns */
  double tolerance, most_bend;
} Run;

static inline double
dot (SbPoint a, SbPoint b)
{
  return a.x * b.x + a.y * b.y;
}

static inline double
cross (SbPoint a, SbPoint b)
{
  return a.x * b.y - a.y * b.x;
}

static inline SbPoint
minus (SbPoint a, SbPoint b)
{
  return (SbPoint){a.x - b.x, a.y - b.y};
}

static inline SbPoint
along (SbPoint p, SbPoint direction, double distance)
{
  return (SbPoint){p.x + distance * direction.x, p.y + distance * direction.y};
}

static inline const SbSample *
sample_at (const Run *run, guint i)
{
  guint k = run->first + i;
  return &run->samples[k >= run->n_loop ? k - run->n_loop : k];
}

/* The cubic by powers of t. */
typedef struct {
  SbPoint a, b, c, d; /* ((a t + b) t + c) t + d */
} Powers;

static Powers
powers_of (const Cubic *k)
{
  SbPoint c = {3 * (k->p1.x - k->p0.x), 3 * (k->p1.y - k->p0.y)};
  SbPoint b = {3 * (k->p2.x - 2 * k->p1.x + k->p0.x), 3 * (k->p2.y - 2 * k->p1.y + k->p0.y)};
  SbPoint a = {k->p3.x - k->p0.x - c.x - b.x, k->p3.y - k->p0.y - c.y - b.y};
  return (Powers){a, b, c, k->p0};
}

static inline SbPoint
cubic_at (const Powers *k, double t)
{
  return (SbPoint){((k->a.x * t + k->b.x) * t + k->c.x) * t + k->d.x,
                   ((k->a.y * t + k->b.y) * t + k->c.y) * t + k->d.y};
}

static inline SbPoint
cubic_slope (const Powers *k, double t)
{
  return (SbPoint){(3 * k->a.x * t + 2 * k->b.x) * t + k->c.x,
                   (3 * k->a.y * t + 2 * k->b.y) * t + k->c.y};
}

static inline SbPoint
cubic_second (const Powers *k, double t)
{
  return (SbPoint){6 * k->a.x * t + 2 * k->b.x, 6 * k->a.y * t + 2 * k->b.y};
}

/* The handles that make the best circular arc of a chord and the turn along it. */
static double
arc_handle (double chord, double turn)
{
  double angle = MIN (fabs (turn), 3.0);
  return angle < 1e-4 ? chord / 3 : chord * (2.0 / 3) * tan (angle / 4) / sin (angle / 2);
}

/* Handle lengths by least squares for parameters t of the samples k. */
static void
solve_handles (const Run *run, guint a, guint b, const guint *k, const double *t, guint n, Cubic *c)
{
  const SbSample *sa = sample_at (run, a), *sb = sample_at (run, b);
  SbPoint ta = run->tangents[a], tb = run->tangents[b];
  double aa = 0, ab = 0, bb = 0, xa = 0, xb = 0;
  for (guint i = 0; i < n; i++) {
    double u = t[i], s = 1 - u, b1 = 3 * s * s * u, b2 = 3 * s * u * u;
    double b01 = s * s * s + b1, b23 = b2 + u * u * u;
    SbPoint p = run->p[k[i]];
    SbPoint rest = {p.x - b01 * sa->p.x - b23 * sb->p.x, p.y - b01 * sa->p.y - b23 * sb->p.y};
    aa += b1 * b1;
    ab -= b1 * b2;
    bb += b2 * b2;
    xa += b1 * dot (rest, ta);
    xb -= b2 * dot (rest, tb);
  }
  ab *= dot (ta, tb);
  double det = aa * bb - ab * ab;
  SbPoint d = minus (sb->p, sa->p);
  double chord = sqrt (dot (d, d)), ha, hb;
  ha = hb = arc_handle (chord, run->turned[b] - run->turned[a]);
  if (n >= 2 && det > 1e-9 * aa * bb) {
    double la = (xa * bb - xb * ab) / det, lb = (aa * xb - ab * xa) / det;
    /* Longer handles than an arc's make a curve that doubles back. */
    if (MIN (la, lb) > 0.02 * chord && MAX (la, lb) < chord && la + lb < 1.3 * chord) {
      ha = la;
      hb = lb;
    }
  }
  *c = (Cubic){sa->p, along (sa->p, ta, ha), along (sb->p, tb, -hb), sb->p};
}

#define THIN_SIDE 1.25
#define NEAR_T 0.01 /* from a step so short on, the distance square to the slope is good */

/* Moves t to the place on the cubic nearest to p, and returns the distance there. A curve inside
 * its samples takes from the border and counts for more: with what lies between the samples, the
 * border is then never thinner by more than the tolerance. */
static double
project (const Powers *k, SbPoint p, double *t)
{
  for (int pass = 0;; pass++) {
    SbPoint e = minus (p, cubic_at (k, *t)), slope = cubic_slope (k, *t);
    double steep = dot (slope, slope);
    if (steep == 0)
      return sqrt (dot (e, e));
    double by = dot (e, slope) / steep;
    *t = CLAMP (*t + by, 0, 1);
    if (fabs (by) < NEAR_T || pass == 2)
      return MAX (cross (slope, e), -THIN_SIDE * cross (slope, e)) / sqrt (steep);
  }
}

static gboolean
bends_too_tightly (const Run *run, const Powers *c)
{
  if (run->most_bend == 0)
    return FALSE;
  for (int k = 0; k <= 12; k++) {
    double t = k / 12.0;
    SbPoint slope = cubic_slope (c, t);
    double steep = dot (slope, slope);
    if (cross (slope, cubic_second (c, t)) < -run->most_bend * steep * sqrt (steep))
      return TRUE;
  }
  return FALSE;
}

#define BETWEEN_MM 0.06

/* A place on the link from sample i to the next, which follows from both samples' tangents. */
static SbPoint
place_between (const Run *run, guint i, double l, double u)
{
  const SbSample *p = sample_at (run, i), *q = sample_at (run, i + 1);
  double s = 1 - u, from = u * s * s * l, to = -u * u * s * l;
  SbPoint at = along (p->p, minus (q->p, p->p), u * u * (3 - 2 * u));
  return along (along (at, p->tangent, from), q->tangent, to);
}

/* Does the cubic keep the tolerance between the samples too? */
static gboolean
keeps_between (const Run *run, const Powers *c, guint a, guint b)
{
  double whole = run->length[b] - run->length[a];
  for (guint i = a; i < b && b > a + 1; i++) {
    double l = run->length[i + 1] - run->length[i];
    guint parts = sample_at (run, i)->link == SB_LINK_BIT ? 1 : (guint)(l / BETWEEN_MM) + 1;
    for (guint k = 1; k < parts; k++) {
      double u = (double)k / parts, t = (run->length[i] - run->length[a] + u * l) / whole;
      if (project (c, place_between (run, i, l, u), &t) > run->tolerance)
        return FALSE;
    }
  }
  return TRUE;
}

/* The best cubic over the samples a..b, after so many passes; TRUE when it keeps the tolerance. */
static gboolean
find_cubic (const Run *run, guint a, guint b, int passes, Cubic *c)
{
  guint k[MOST_SOLVED], n = 0, inner = b - a - 1;
  double t[MOST_SOLVED], whole = run->length[b] - run->length[a];
  for (guint i = 0; i < MIN (inner, MOST_SOLVED); i++) {
    guint at = inner <= MOST_SOLVED ? a + 1 + i : a + 1 + i * (inner - 1) / (MOST_SOLVED - 1);
    k[n] = at;
    t[n++] = (run->length[at] - run->length[a]) / whole;
  }
  Powers powers;
  for (int pass = 0; pass < passes; pass++) {
    gboolean last = pass + 1 == passes;
    solve_handles (run, a, b, k, t, n, c);
    powers = powers_of (c);
    double worst = 0;
    for (guint i = 0; i < n; i++)
      worst = MAX (worst, project (&powers, run->p[k[i]], &t[i]));
    if (worst <= run->tolerance / 4 || (last && worst <= run->tolerance))
      break;
    if (last || worst > (pass == 0 ? HOPELESS : HOPELESS / 3) * run->tolerance)
      return FALSE;
  }
  for (guint i = a + 1; i < b && inner > MOST_SOLVED; i++) {
    double u = (run->length[i] - run->length[a]) / whole;
    if (project (&powers, run->p[i], &u) > run->tolerance)
      return FALSE;
  }
  return keeps_between (run, &powers, a, b) && !bends_too_tightly (run, &powers);
}

static gboolean
try_cubic (const Run *run, guint a, guint b, Cubic *c)
{
  return find_cubic (run, a, b, 3, c);
}

/* A cubic that keeps the tolerance lies closer to the samples, and no longer on one side of them,
 * after a few more passes. */
static void
settle_cubic (const Run *run, guint a, guint b, Cubic *c)
{
  Cubic settled;
  if (b > a + 1 && find_cubic (run, a, b, 7, &settled))
    *c = settled;
}

static gboolean
is_straight (const Cubic *c, double tolerance)
{
  SbPoint d = minus (c->p3, c->p0);
  double l = sqrt (dot (d, d));
  return fabs (cross (d, minus (c->p1, c->p0))) <= tolerance * l &&
         fabs (cross (d, minus (c->p2, c->p0))) <= tolerance * l;
}

static void
emit (SbOutlineBuilder *builder, const Cubic *c, double tolerance)
{
  if (is_straight (c, tolerance * STRAIGHT_PART))
    sb_outline_builder_line_to (builder, c->p3);
  else
    sb_outline_builder_curve_to (builder, c->p1, c->p2, c->p3);
}

static gboolean
may_reach (const Run *run, guint a, guint b)
{
  return b < run->n && (b == a + 1 || run->turned[b] - run->turned[a] <= MOST_TURN);
}

/* An arc as cubics of at most an eighth of a turn: wrong by 4e-6 of the radius. */
static void
fit_arc (SbOutlineBuilder *builder, const SbSample *sample, SbPoint end)
{
  int parts = (int)ceil (fabs (sample->turn) / (G_PI / 4));
  double part = sample->turn / parts, handle = (4.0 / 3) * tan (part / 4);
  SbPoint o = sample->centre, v = minus (sample->p, o);
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
fit_step (SbOutlineBuilder *builder, const Run *run, guint a)
{
  const SbSample *from = sample_at (run, a), *to = sample_at (run, a + 1);
  Cubic c;
  if (from->link == SB_LINK_BIT)
    fit_arc (builder, from, to->p);
  else if (try_cubic (run, a, a + 1, &c))
    emit (builder, &c, run->tolerance);
  else
    sb_outline_builder_line_to (builder, to->p);
}

#define STRAIGHT_LEAST_MM 1.5
#define STRAIGHT_WITHIN 0.2   /* of the tolerance */
#define STRAIGHT_TANGENT 0.01 /* radians between a leg and the tangents at its ends */

static gboolean
try_straight (const Run *run, guint a, guint b)
{
  SbPoint p = run->p[a], d = minus (run->p[b], p);
  double l = sqrt (dot (d, d)), most = STRAIGHT_WITHIN * run->tolerance * l;
  if (l < STRAIGHT_LEAST_MM / 2 || /* all the way round a small loop */
      fabs (cross (d, run->tangents[a])) > STRAIGHT_TANGENT * l ||
      fabs (cross (d, run->tangents[b])) > STRAIGHT_TANGENT * l)
    return FALSE;
  for (guint i = a + 1; i < b; i++)
    if (fabs (cross (d, minus (run->p[i], p))) > most)
      return FALSE;
  return TRUE;
}

/* The last sample of a straight leg that begins at `a`; `a` itself when there is none. */
static guint
straight_end (const Run *run, guint a)
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
arrival (const Run *run, guint a, guint b)
{
  SbPoint d = minus (run->p[b], run->p[a]), t = run->tangents[a];
  double l = dot (d, d);
  return l > 0 ? along ((SbPoint){-t.x, -t.y}, d, 2 * dot (d, t) / l) : t;
}

/* Where noise in the next samples lets no curve pass between them, one may pass over them, or
 * arrive in another direction. Returns where it ends, a + 1 when there is none. */
static guint
look_beyond (const Run *run, guint a, guint to, Cubic *best)
{
  if (run->most_bend == 0 || sample_at (run, a)->link == SB_LINK_BIT ||
      try_cubic (run, a, a + 1, best))
    return a + 1;
  for (guint b = a + 2; b <= MIN (to, a + BEYOND) && may_reach (run, a, b); b++)
    if (try_cubic (run, a, b, best))
      return b;
  for (guint b = a + 2; b < MIN (to, a + BEYOND) && may_reach (run, a, b); b++) {
    SbPoint kept = run->tangents[b];
    run->tangents[b] = arrival (run, a, b);
    if (dot (run->tangents[b], kept) > MOST_TURNED && try_cubic (run, a, b, best))
      return b;
    run->tangents[b] = kept;
  }
  return a + 1;
}

/* Curves over the samples from..to. */
static void
fit_curves (SbOutlineBuilder *builder, const Run *run, guint from, guint to)
{
  guint a = from, stride = 8;
  while (a < to) {
    Cubic best = {0}, c;
    guint good = a + 1, bad = to + 1;
    while (good + 1 + (good - a) / 10 < bad) { /* gallop, then halve */
      guint b = stride > 0 ? MIN (a + 1 + stride, bad - 1) : good + (bad - good) / 2;
      if (may_reach (run, a, b) && try_cubic (run, a, b, &c)) {
        good = b;
        best = c;
        stride *= 2;
      } else {
        bad = b;
        stride = 0;
      }
    }
    if (good == a + 1)
      good = look_beyond (run, a, to, &best);
    settle_cubic (run, a, good, &best);
    if (good > a + 1)
      emit (builder, &best, run->tolerance);
    else
      fit_step (builder, run, a);
    stride = MAX (4, (good - a) / 2);
    a = good;
  }
}

/* Straight legs first, so that no curve leans on them; curves between. */
static void
fit_run (SbOutlineBuilder *builder, const Run *run)
{
  guint done = 0;
  for (guint a = 0; a + 1 < run->n;) {
    guint end = straight_end (run, a);
    if (end == a) {
      a++;
      continue;
    }
    fit_curves (builder, run, done, a);
    sb_outline_builder_line_to (builder, sample_at (run, end)->p);
    a = done = end;
  }
  fit_curves (builder, run, done, run->n - 1);
}

#define SMOOTH_MM 0.3
#define SMOOTH_MOST 0.008 /* radians; more is no noise but a change of bend */

/* Where the edge bends evenly, the chord between places as far before as behind has its direction
 * with a fraction of the noise of a single sample. */
static void
smooth_tangents (Run *run)
{
  guint before = 0, after = 0;
  for (guint i = 0; i < run->n; i++) {
    run->tangents[i] = sample_at (run, i)->tangent;
    while (before + 1 < i && run->length[i] - run->length[before + 1] >= SMOOTH_MM)
      before++;
    while (after + 1 < run->n && run->length[after] - run->length[i] < SMOOTH_MM)
      after++;
    if (run->length[i] - run->length[before] < SMOOTH_MM ||
        run->length[after] - run->length[i] < SMOOTH_MM)
      continue;
    /* The same way behind as ahead, between the samples. */
    const SbSample *p = sample_at (run, before), *q = sample_at (run, after);
    double over_p = run->length[i] - run->length[before] - SMOOTH_MM;
    double over_q = run->length[after] - run->length[i] - SMOOTH_MM;
    SbPoint d = minus (along (q->p, q->tangent, -over_q), along (p->p, p->tangent, over_p));
    double l = sqrt (dot (d, d));
    SbPoint tangent = {d.x / l, d.y / l};
    if (fabs (cross (tangent, run->tangents[i])) < SMOOTH_MOST && dot (d, run->tangents[i]) > 0)
      run->tangents[i] = tangent;
  }
}

/* The size of the angle between two units; small ones, by far the most, without an arc tangent. */
static double
turn_between (SbPoint a, SbPoint b)
{
  double c = cross (a, b), d = dot (a, b);
  return d > 0.98 ? fabs (c) * (1 + c * c / 6) : fabs (atan2 (c, d));
}

/* Fits the samples from `first` on, n of them round the loop. */
static void
fit_stretch (SbOutlineBuilder *builder, const SbSample *samples, guint n_loop, guint first, guint n,
             double tolerance, double most_bend)
{
  Run run = {.samples = samples,
             .n_loop = n_loop,
             .first = first,
             .n = n,
             .p = g_new (SbPoint, n),
             .tangents = g_new (SbPoint, n),
             .length = g_new (double, n),
             .turned = g_new (double, n),
             .tolerance = tolerance,
             .most_bend = most_bend};
  run.length[0] = run.turned[0] = 0;
  run.p[0] = sample_at (&run, 0)->p;
  for (guint i = 1; i < n; i++) {
    const SbSample *p = sample_at (&run, i - 1), *q = sample_at (&run, i);
    SbPoint d = minus (q->p, p->p);
    run.p[i] = q->p;
    run.length[i] = run.length[i - 1] + sqrt (dot (d, d));
    run.turned[i] = run.turned[i - 1] + turn_between (p->tangent, q->tangent);
  }
  smooth_tangents (&run);
  fit_run (builder, &run);
  g_free (run.p);
  g_free (run.tangents);
  g_free (run.length);
  g_free (run.turned);
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
      fit_stretch (builder, samples, n, i, m + 1, tolerance, most_bend);
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
