/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The samples bring their tangents, so that only the two handles' lengths are free; they follow
 * from least squares (P. J. Schneider, "An Algorithm for Automatically Fitting Digitized Curves",
 * in Graphics Gems, 1990). */
#include "border/run.h"
#include "geometry/vector.h"

#include <math.h>

#define MOST_SOLVED 16 /* samples that enter the least squares */
#define HOPELESS 9     /* tolerances: farther off at first, a curve does not get near enough */
#define SETTLED 0.9    /* of the distance before: another pass changes little */
#define BETWEEN_MM 0.1
#define SMOOTH_MM 0.3
#define SMOOTH_MOST 0.008 /* radians; more is no noise but a change of bend */

/* --- The run --- */

/* Where the edge bends evenly, the chord between places as far before as behind has its direction
 * with a fraction of the noise of a single sample. */
static void
smooth_tangents (SbRun *run)
{
  guint before = 0, after = 0;
  for (guint i = 0; i < run->n; i++) {
    run->tangents[i] = sb_run_sample (run, i)->tangent;
    while (before + 1 < i && run->length[i] - run->length[before + 1] >= SMOOTH_MM)
      before++;
    while (after + 1 < run->n && run->length[after] - run->length[i] < SMOOTH_MM)
      after++;
    if (run->length[i] - run->length[before] < SMOOTH_MM ||
        run->length[after] - run->length[i] < SMOOTH_MM)
      continue;
    /* The same way behind as ahead, between the samples. */
    const SbSample *p = sb_run_sample (run, before), *q = sb_run_sample (run, after);
    double over_p = run->length[i] - run->length[before] - SMOOTH_MM;
    double over_q = run->length[after] - run->length[i] - SMOOTH_MM;
    SbPoint d =
        sb_minus (sb_along (q->p, q->tangent, -over_q), sb_along (p->p, p->tangent, over_p));
    double l = sqrt (sb_dot (d, d));
    SbPoint tangent = {d.x / l, d.y / l};
    if (fabs (sb_cross (tangent, run->tangents[i])) < SMOOTH_MOST &&
        sb_dot (d, run->tangents[i]) > 0)
      run->tangents[i] = tangent;
  }
}

/* The size of the angle between two units; small ones, by far the most, without an arc tangent. */
static double
turn_between (SbPoint a, SbPoint b)
{
  double c = sb_cross (a, b), d = sb_dot (a, b);
  return d > 0.98 ? fabs (c) * (1 + c * c / 6) : fabs (atan2 (c, d));
}

static void
measure (SbRun *run)
{
  run->length[0] = run->turned[0] = 0;
  run->p[0] = sb_run_sample (run, 0)->p;
  for (guint i = 1; i < run->n; i++) {
    const SbSample *p = sb_run_sample (run, i - 1), *q = sb_run_sample (run, i);
    SbPoint d = sb_minus (q->p, p->p);
    run->p[i] = q->p;
    run->length[i] = run->length[i - 1] + sqrt (sb_dot (d, d));
    run->turned[i] = run->turned[i - 1] + turn_between (p->tangent, q->tangent);
  }
}

/* In how many parts the link from sample i to the next is looked at. */
static guint
parts_of_link (const SbRun *run, guint i)
{
  double l = run->length[i + 1] - run->length[i];
  return sb_run_sample (run, i)->link == SB_LINK_BIT ? 1 : (guint)(l / BETWEEN_MM) + 1;
}

/* A place on the link from sample i to the next, which follows from both samples' tangents. */
static SbPoint
place_between (const SbRun *run, guint i, double l, double u)
{
  const SbSample *p = sb_run_sample (run, i), *q = sb_run_sample (run, i + 1);
  double s = 1 - u, from = u * s * s * l, to = -u * u * s * l;
  SbPoint at = sb_along (p->p, sb_minus (q->p, p->p), u * u * (3 - 2 * u));
  return sb_along (sb_along (at, p->tangent, from), q->tangent, to);
}

static void
place_marks (SbRun *run)
{
  run->mark_of = g_new (guint, run->n);
  run->n_marks = 0;
  for (guint i = 0; i < run->n; i++) {
    run->mark_of[i] = run->n_marks;
    run->n_marks += i + 1 < run->n ? parts_of_link (run, i) : 1;
  }
  run->x = g_new (double, 3 * (gsize)run->n_marks);
  run->y = run->x + run->n_marks;
  run->reached = run->y + run->n_marks;
  for (guint i = 0, m = 0; i < run->n; i++) {
    guint parts = (i + 1 < run->n ? run->mark_of[i + 1] : run->n_marks) - m;
    double l = parts > 1 ? run->length[i + 1] - run->length[i] : 0;
    for (guint k = 0; k < parts; k++, m++) {
      double u = (double)k / parts;
      SbPoint p = k == 0 ? run->p[i] : place_between (run, i, l, u);
      run->x[m] = p.x;
      run->y[m] = p.y;
      run->reached[m] = run->length[i] + u * l;
    }
  }
}

SbRun *
sb_run_new (const SbSample *samples, guint n_loop, guint first, guint n, double tolerance,
            double most_bend)
{
  SbRun *run = g_new (SbRun, 1);
  *run = (SbRun){.samples = samples,
                 .n_loop = n_loop,
                 .first = first,
                 .n = n,
                 .p = g_new (SbPoint, n),
                 .tangents = g_new (SbPoint, n),
                 .length = g_new (double, n),
                 .turned = g_new (double, n),
                 .tolerance = tolerance,
                 .most_bend = most_bend};
  measure (run);
  smooth_tangents (run);
  place_marks (run);
  return run;
}

void
sb_run_free (SbRun *run)
{
  if (run == NULL)
    return;
  g_free (run->p);
  g_free (run->tangents);
  g_free (run->length);
  g_free (run->turned);
  g_free (run->mark_of);
  g_free (run->x);
  g_free (run);
}

/* --- Cubics --- */

/* The cubic by powers of t. */
typedef struct {
  SbPoint a, b, c, d; /* ((a t + b) t + c) t + d */
} Powers;

static Powers
powers_of (const SbCubic *k)
{
  SbPoint c = {3 * (k->p1.x - k->p0.x), 3 * (k->p1.y - k->p0.y)};
  SbPoint b = {3 * (k->p2.x - 2 * k->p1.x + k->p0.x), 3 * (k->p2.y - 2 * k->p1.y + k->p0.y)};
  SbPoint a = {k->p3.x - k->p0.x - c.x - b.x, k->p3.y - k->p0.y - c.y - b.y};
  return (Powers){a, b, c, k->p0};
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

/* The samples that enter the least squares, and where on the cubic they are nearest. */
typedef struct {
  guint n;
  double x[MOST_SOLVED], y[MOST_SOLVED], t[MOST_SOLVED];
} Solved;

static void
choose_solved (const SbRun *run, guint a, guint b, Solved *s)
{
  guint inner = b - a - 1;
  double whole = run->length[b] - run->length[a];
  s->n = MIN (inner, MOST_SOLVED);
  for (guint i = 0; i < s->n; i++) {
    guint at = inner <= MOST_SOLVED ? a + 1 + i : a + 1 + i * (inner - 1) / (MOST_SOLVED - 1);
    s->x[i] = run->p[at].x;
    s->y[i] = run->p[at].y;
    s->t[i] = (run->length[at] - run->length[a]) / whole;
  }
}

static void
solve_handles (const SbRun *run, guint a, guint b, const Solved *solved, SbCubic *c)
{
  SbPoint pa = run->p[a], pb = run->p[b], ta = run->tangents[a], tb = run->tangents[b];
  double aa = 0, ab = 0, bb = 0, xa = 0, xb = 0;
  for (guint i = 0; i < solved->n; i++) {
    double u = solved->t[i], s = 1 - u, b1 = 3 * s * s * u, b2 = 3 * s * u * u;
    double b01 = s * s * s + b1, b23 = b2 + u * u * u;
    SbPoint rest = {solved->x[i] - b01 * pa.x - b23 * pb.x, solved->y[i] - b01 * pa.y - b23 * pb.y};
    aa += b1 * b1;
    ab -= b1 * b2;
    bb += b2 * b2;
    xa += b1 * sb_dot (rest, ta);
    xb -= b2 * sb_dot (rest, tb);
  }
  ab *= sb_dot (ta, tb);
  double det = aa * bb - ab * ab;
  SbPoint d = sb_minus (pb, pa);
  double chord = sqrt (sb_dot (d, d)), ha = 0, hb = 0;
  if (solved->n >= 2 && det > 1e-9 * aa * bb) {
    ha = (xa * bb - xb * ab) / det;
    hb = (aa * xb - ab * xa) / det;
  }
  /* Longer handles than an arc's make a curve that doubles back. */
  if (MIN (ha, hb) <= 0.02 * chord || MAX (ha, hb) >= chord || ha + hb >= 1.3 * chord)
    ha = hb = arc_handle (chord, run->turned[b] - run->turned[a]);
  *c = (SbCubic){pa, sb_along (pa, ta, ha), sb_along (pb, tb, -hb), pb};
}

#define THIN_SIDE 1.3
#define AT_ONCE 32
#define NEAR_T 0.01  /* from a step so short on, the distance square to the slope is good */
#define STILL 1e-300 /* added to the square of a slope, so that nothing is divided by 0 */

typedef struct {
  double off[AT_ONCE], by[AT_ONCE];
} Steps;

/* Moves each t by one step towards the place on the cubic nearest to x, y. The square of the
 * distance there goes to `off`, the step to `by`. Written so that compilers work out several places
 * at once. */
static void
step_nearer (Powers p, const double *restrict x, const double *restrict y, double *restrict t,
             guint n, Steps *restrict steps)
{
  for (guint i = 0; i < n; i++) {
    double u = t[i];
    double ex = x[i] - (((p.a.x * u + p.b.x) * u + p.c.x) * u + p.d.x);
    double ey = y[i] - (((p.a.y * u + p.b.y) * u + p.c.y) * u + p.d.y);
    double sx = (3 * p.a.x * u + 2 * p.b.x) * u + p.c.x;
    double sy = (3 * p.a.y * u + 2 * p.b.y) * u + p.c.y;
    double steep = sx * sx + sy * sy + STILL, outside = sx * ey - sy * ex;
    double thin = -THIN_SIDE * outside, by = (ex * sx + ey * sy) / steep, to = u + by;
    outside = outside > thin ? outside : thin;
    to = to > 0 ? to : 0;
    steps->off[i] = outside * outside / steep;
    steps->by[i] = by;
    t[i] = to < 1 ? to : 1;
  }
}

/* Moves each t, at most AT_ONCE of them, to the place on the cubic nearest to x, y, and returns the
 * largest distance there. A curve inside its samples takes from the border and counts for more:
 * with what lies between the samples, the border is then never thinner by more than the tolerance.
 */
static double
project (const Powers *k, const double *x, const double *y, double *t, guint n)
{
  Steps steps;
  double off, by = 1;
  for (int pass = 0; pass < 3 && by > NEAR_T; pass++) {
    step_nearer (*k, x, y, t, n, &steps);
    off = by = 0;
    for (guint i = 0; i < n; i++) {
      off = MAX (off, steps.off[i]);
      by = MAX (by, fabs (steps.by[i]));
    }
  }
  return sqrt (off);
}

static gboolean
bends_too_tightly (const SbRun *run, const Powers *c)
{
  if (run->most_bend == 0)
    return FALSE;
  for (int k = 0; k <= 12; k++) {
    double t = k / 12.0;
    SbPoint slope = cubic_slope (c, t);
    double steep = sb_dot (slope, slope);
    if (sb_cross (slope, cubic_second (c, t)) < -run->most_bend * steep * sqrt (steep))
      return TRUE;
  }
  return FALSE;
}

/* Does the cubic keep the tolerance at every mark? A single link is its own measure. */
static gboolean
keeps_marks (const SbRun *run, const Powers *c, guint a, guint b)
{
  double t[AT_ONCE], per = 1 / (run->length[b] - run->length[a]);
  guint end = run->mark_of[b];
  for (guint m = run->mark_of[a] + 1; m < end && b > a + 1; m += AT_ONCE) {
    guint n = MIN (end - m, AT_ONCE);
    for (guint i = 0; i < n; i++)
      t[i] = (run->reached[m + i] - run->length[a]) * per;
    if (project (c, run->x + m, run->y + m, t, n) > run->tolerance)
      return FALSE;
  }
  return TRUE;
}

gboolean
sb_run_find_cubic (const SbRun *run, guint a, guint b, int passes, SbCubic *c)
{
  Solved solved;
  Powers powers;
  double before = G_MAXDOUBLE;
  choose_solved (run, a, b, &solved);
  for (int pass = 0; pass < passes; pass++) {
    gboolean last = pass + 1 == passes;
    solve_handles (run, a, b, &solved, c);
    powers = powers_of (c);
    double worst = project (&powers, solved.x, solved.y, solved.t, solved.n);
    gboolean settled = worst <= run->tolerance / 4 || worst > SETTLED * before;
    if ((last || settled) && worst <= run->tolerance)
      break;
    before = worst;
    if (last || worst > (pass == 0 ? HOPELESS : HOPELESS / 3) * run->tolerance)
      return FALSE;
  }
  return keeps_marks (run, &powers, a, b) && !bends_too_tightly (run, &powers);
}
