/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/corner.h"
#include "geometry/vector.h"

#include <math.h>

/* A leg is the stretch between these two distances (px, along the ring) from the tip: far enough
 * from it to be free of its rounding. The long legs are tried first. */
static const struct {
  double from, to;
} leg_spans[] = {{3.2, 10}, {2.2, 6.5}};

#define LEAST_VERTICES 24 /* smaller rings have no legs */
#define LEG_MOST_POINTS 24
#define LEG_MOST_RESIDUAL_PX 0.08
#define TIP_MOST_PX 4.0                  /* how far from the vertices a corner may lie */
#define MOST_CUT_PX 0.15                 /* of the edge as it was read */
#define LEAST_TURN 0.26                  /* radians, 15 degrees: below, the rounding is < 0.04 px */
#define MOST_TURN (G_PI * 170.0 / 180.0) /* beyond, the legs say nothing about where they meet */

typedef struct {
  SbPoint at, direction; /* unit, in the ring's direction */
  guint nearest;         /* the leg's vertex next to the tip, as steps from it */
} Leg;

static guint
step (guint n, guint i, int by)
{
  return (guint)(((gint64)i + by + 2 * (gint64)n) % n);
}

static double
distance (SbPoint a, SbPoint b)
{
  return sqrt ((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y));
}

static gboolean
fit_line (const SbPoint *p, guint n, Leg *leg)
{
  double mx = 0, my = 0, xx = 0, xy = 0, yy = 0;
  for (guint i = 0; i < n; i++) {
    mx += p[i].x / n;
    my += p[i].y / n;
  }
  for (guint i = 0; i < n; i++) {
    double x = p[i].x - mx, y = p[i].y - my;
    xx += x * x;
    xy += x * y;
    yy += y * y;
  }
  double angle = atan2 (2 * xy, xx - yy) / 2;
  leg->at = (SbPoint){mx, my};
  leg->direction = (SbPoint){cos (angle), sin (angle)};
  for (guint i = 0; i < n; i++)
    if (fabs ((p[i].x - mx) * leg->direction.y - (p[i].y - my) * leg->direction.x) >
        LEG_MOST_RESIDUAL_PX)
      return FALSE;
  return TRUE;
}

/* The leg behind (sign -1) or ahead of (+1) vertex `tip`. */
static gboolean
find_leg (const SbPoint *ring, guint n, guint tip, int sign, double from, double to, Leg *leg)
{
  SbPoint p[LEG_MOST_POINTS];
  guint count = 0;
  double along = 0;
  SbPoint last = ring[tip];
  for (int k = 1; k < (int)n / 2 && count < LEG_MOST_POINTS; k++) {
    SbPoint here = ring[step (n, tip, sign * k)];
    along += distance (last, here);
    last = here;
    if (along > to)
      break;
    if (along < from)
      continue;
    if (count == 0)
      leg->nearest = (guint)k;
    p[count++] = here;
  }
  if (count < 4 || along < to || !fit_line (p, count, leg))
    return FALSE;
  double forward = sign * ((p[count - 1].x - p[0].x) * leg->direction.x +
                           (p[count - 1].y - p[0].y) * leg->direction.y);
  if (forward < 0)
    leg->direction = (SbPoint){-leg->direction.x, -leg->direction.y};
  return TRUE;
}

/* How far `p` lies to the left of the line from `a` to `b`, which is outside. */
static double
outside (SbPoint p, SbPoint a, SbPoint b)
{
  double l = distance (a, b);
  return l > 0 ? -sb_cross ((SbPoint){b.x - a.x, b.y - a.y}, (SbPoint){p.x - a.x, p.y - a.y}) / l
               : 0;
}

/* Where the legs around `tip` meet, if they make a corner there. */
static gboolean
find_corner (const SbPoint *ring, guint n, guint tip, SbPoint *corner, guint *back, guint *ahead)
{
  for (guint s = 0; s < G_N_ELEMENTS (leg_spans); s++) {
    Leg a, b;
    if (!find_leg (ring, n, tip, -1, leg_spans[s].from, leg_spans[s].to, &a) ||
        !find_leg (ring, n, tip, 1, leg_spans[s].from, leg_spans[s].to, &b))
      continue;
    double sine = sb_cross (a.direction, b.direction);
    double cosine = a.direction.x * b.direction.x + a.direction.y * b.direction.y;
    double turn = atan2 (sine, cosine);
    if (turn < LEAST_TURN || turn > MOST_TURN)
      continue;
    SbPoint between = {b.at.x - a.at.x, b.at.y - a.at.y};
    double ta = sb_cross (between, b.direction) / sine, tb = sb_cross (between, a.direction) / sine;
    if (ta <= 0 || tb >= 0)
      continue;
    corner->x = a.at.x + ta * a.direction.x;
    corner->y = a.at.y + ta * a.direction.y;
    *back = a.nearest;
    *ahead = b.nearest;
    if (distance (*corner, ring[tip]) <= TIP_MOST_PX)
      return TRUE;
  }
  return FALSE;
}

/* Is anything in the way of the corner, outside of its legs or taken by another corner? */
static gboolean
is_blocked (const SbPoint *ring, guint n, guint tip, SbPoint corner, guint back, guint ahead,
            const guint8 *gone)
{
  SbPoint from = ring[step (n, tip, -(int)back)], to = ring[step (n, tip, (int)ahead)];
  for (int k = -(int)back + 1; k < (int)ahead; k++) {
    guint i = step (n, tip, k);
    if (gone[i] || outside (ring[i], from, corner) > MOST_CUT_PX ||
        outside (ring[i], corner, to) > MOST_CUT_PX)
      return TRUE;
  }
  return FALSE;
}

/* How sharply the ring turns right at `i`: the sine of the turn over four vertices each way, 2 when
 * it turns back. */
static double
sharpness (const SbPoint *ring, guint n, guint i)
{
  SbPoint p = ring[step (n, i, -4)], q = ring[i], r = ring[step (n, i, 4)];
  SbPoint in = {q.x - p.x, q.y - p.y}, out = {r.x - q.x, r.y - q.y};
  double lengths = sqrt ((in.x * in.x + in.y * in.y) * (out.x * out.x + out.y * out.y));
  if (lengths == 0)
    return 0;
  double sine = sb_cross (in, out) / lengths, cosine = (in.x * out.x + in.y * out.y) / lengths;
  if (sine <= 0)
    return 0;
  return cosine >= 0 ? sine : 2 - sine;
}

static gboolean
is_within (SbPoint p, SbBox box)
{
  return p.x >= box.x0 - MOST_CUT_PX && p.x <= box.x1 + MOST_CUT_PX &&
         p.y >= box.y0 - MOST_CUT_PX && p.y <= box.y1 + MOST_CUT_PX;
}

/* Marks the corners that are found, gone = 2 and moved, and the vertices that they replace, 1. */
static void
find_corners (const SbPoint *ring, guint n, SbBox picture, guint8 *gone, SbPoint *moved)
{
  g_autofree float *sharp = g_new (float, n);
  for (guint i = 0; i < n; i++)
    sharp[i] = (float)sharpness (ring, n, i);
  for (guint i = 0; i < n; i++) {
    gboolean is_peak = sharp[i] > 0.22f;
    for (int k = 1; k <= 5 && is_peak; k++)
      is_peak = sharp[i] > sharp[step (n, i, -k)] && sharp[i] >= sharp[step (n, i, k)];
    SbPoint corner;
    guint back, ahead;
    if (!is_peak || gone[i] || !find_corner (ring, n, i, &corner, &back, &ahead) ||
        !is_within (corner, picture) || is_blocked (ring, n, i, corner, back, ahead, gone))
      continue;
    for (int k = -(int)back + 1; k < (int)ahead; k++)
      gone[step (n, i, k)] = 1;
    gone[i] = 2;
    moved[i] = corner;
  }
}

/* The outposts outside of what the vertices have become. */
static guint
keep_outposts (const SbPoint *moved, const guint8 *gone, guint n, SbOutpost *outposts,
               guint n_outposts)
{
  guint kept = 0;
  for (guint k = 0; k < n_outposts; k++) {
    guint b = outposts[k].next % n, a = step (n, b, -1);
    while (gone[a] == 1)
      a = step (n, a, -1);
    while (gone[b] == 1)
      b = step (n, b, 1);
    if (outside (outposts[k].p, moved[a], moved[b]) > SB_OUTPOST_PX)
      outposts[kept++] = outposts[k];
  }
  return kept;
}

guint
sb_corner_rebuild (const SbPoint *ring, guint n, SbBox picture, SbOutpost *outposts,
                   guint n_outposts, GArray *points, GArray *corners)
{
  g_autofree guint8 *gone = g_malloc0 (n);
  g_autofree SbPoint *moved = g_memdup2 (ring, n * sizeof *ring);
  if (n >= LEAST_VERTICES)
    find_corners (ring, n, picture, gone, moved);
  for (guint i = 0; i < n; i++) {
    guint8 is_corner = gone[i] == 2;
    if (gone[i] == 1)
      continue;
    g_array_append_val (points, moved[i]);
    g_array_append_val (corners, is_corner);
  }
  return keep_outposts (moved, gone, n, outposts, n_outposts);
}
