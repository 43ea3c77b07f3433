/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/shape.h"

#include <math.h>

#include "packing/convex.h"

#define TURN_QUARTER 90000
#define TURN_WHOLE 360000

typedef struct {
  double cos, sin;
} Turner;

/* The cosine of up to an eighth of a turn, by its series: the same bits on every machine, which the
 * C library's is not. */
static double
small_cosine (double angle)
{
  double square = angle * angle, sum = 1, term = 1;
  for (int k = 1; k <= 9; k++) {
    term *= -square / ((2 * k - 1) * (2 * k));
    sum += term;
  }
  return sum;
}

static double
small_sine (double angle)
{
  double square = angle * angle, sum = angle, term = angle;
  for (int k = 1; k <= 9; k++) {
    term *= -square / ((2 * k) * (2 * k + 1));
    sum += term;
  }
  return sum;
}

static Turner
turner_for (gint32 turn)
{
  static const Turner quarters[4] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
  turn = (turn % TURN_WHOLE + TURN_WHOLE) % TURN_WHOLE;
  if (turn % TURN_QUARTER == 0)
    return quarters[turn / TURN_QUARTER];
  gint32 steps = (turn + TURN_QUARTER / 2) / TURN_QUARTER;
  double angle = (turn - steps * TURN_QUARTER) / 1000.0 * (G_PI / 180), c = small_cosine (angle),
         s = small_sine (angle);
  Turner by = quarters[steps % 4];
  return (Turner){by.cos * c - by.sin * s, by.sin * c + by.cos * s};
}

static SbIPoint
turn_point (Turner t, SbIPoint p)
{
  return (SbIPoint){(sb_um)lround (t.cos * p.x - t.sin * p.y),
                    (sb_um)lround (t.sin * p.x + t.cos * p.y)};
}

SbPolygon *
sb_polygon_turn (const SbPolygon *outline, gint32 turn)
{
  Turner turner = turner_for (turn);
  guint n = sb_polygon_get_n_loops (outline);
  g_autofree SbLoop *loops = g_new (SbLoop, n);
  for (guint i = 0; i < n; i++) {
    const SbLoop *loop = sb_polygon_get_loop (outline, i);
    SbIPoint *points = g_new (SbIPoint, loop->n_points);
    for (guint k = 0; k < loop->n_points; k++)
      points[k] = turn_point (turner, loop->points[k]);
    loops[i] = (SbLoop){loop->n_points, points};
  }
  SbPolygon *turned = sb_polygon_new (loops, n);
  for (guint i = 0; i < n; i++)
    g_free ((gpointer)loops[i].points);
  return turned;
}

/* Squared distance from a point to a leg. */
static double
leg_distance2 (double x, double y, SbIPoint a, SbIPoint b)
{
  double dx = (double)b.x - a.x, dy = (double)b.y - a.y, px = x - a.x, py = y - a.y;
  double along = CLAMP ((px * dx + py * dy) / (dx * dx + dy * dy), 0, 1);
  px -= along * dx;
  py -= along * dy;
  return px * px + py * py;
}

static gboolean
near_loop (double x, double y, const SbLoop *loop)
{
  for (guint i = 0; i < loop->n_points; i++)
    if (leg_distance2 (x, y, loop->points[i], loop->points[(i + 1) % loop->n_points]) <=
        SB_SYMMETRY_UM * SB_SYMMETRY_UM)
      return TRUE;
  return FALSE;
}

guint
sb_polygon_get_symmetry (const SbPolygon *outline)
{
  static const guint turns[] = {SB_ROUND, 12, 8, 6, 5, 4, 3, 2};
  if (sb_polygon_get_n_loops (outline) != 1)
    return 1;
  const SbLoop *loop = sb_polygon_get_loop (outline, 0);
  for (guint k = 0; k < G_N_ELEMENTS (turns); k++) {
    /* A circle maps onto itself in every turn; one that divides nothing will do to tell. */
    double angle = turns[k] == SB_ROUND ? 1.0 : 2 * G_PI / turns[k], c = cos (angle),
           s = sin (angle);
    gboolean same = TRUE;
    for (guint i = 0; i < loop->n_points && same; i++) {
      SbIPoint p = loop->points[i];
      same = near_loop (c * p.x - s * p.y, s * p.x + c * p.y, loop);
    }
    if (same)
      return turns[k];
  }
  return 1;
}

static double
loop_area_twice (const SbLoop *loop)
{
  double sum = 0;
  for (guint i = 0; i < loop->n_points; i++) {
    SbIPoint a = loop->points[i], b = loop->points[(i + 1) % loop->n_points];
    sum += (double)a.x * b.y - (double)b.x * a.y;
  }
  return sum;
}

/* The convex parts at turn 0: arrays of SbIPoint. */
static GPtrArray *
cut_outline (const SbPolygon *outline, double slack)
{
  GPtrArray *parts = g_ptr_array_new_with_free_func ((GDestroyNotify)g_array_unref);
  for (guint i = 0; i < sb_polygon_get_n_loops (outline); i++) {
    const SbLoop *loop = sb_polygon_get_loop (outline, i);
    if (loop_area_twice (loop) <= 0)
      continue; /* a hole: nothing is ever laid inside another sticker */
    g_autoptr (GArray) simple = sb_loop_simplify_outwards (loop, slack);
    SbLoop simpler = {simple->len, (const SbIPoint *)(gpointer)simple->data};
    sb_convex_parts (&simpler, parts);
  }
  return parts;
}

SbPart
sb_part_new (SbIPoint *points, guint n)
{
  SbPart part = {n, points, g_new (SbLeg, n), 0, 0};
  for (guint i = 0; i < n; i++) {
    SbIPoint p = points[i], q = points[(i + 1) % n], low = points[part.lowest],
             high = points[part.highest];
    SbLeg *leg = &part.legs[i];
    leg->dx = (gint64)q.x - p.x;
    leg->dy = (gint64)q.y - p.y;
    double length = sqrt ((double)leg->dx * (double)leg->dx + (double)leg->dy * (double)leg->dy);
    leg->nx = length > 0 ? (double)leg->dy / length : 0;
    leg->ny = length > 0 ? -(double)leg->dx / length : 0;
    if (p.y < low.y || (p.y == low.y && p.x < low.x))
      part.lowest = i;
    if (p.y > high.y || (p.y == high.y && p.x > high.x))
      part.highest = i;
  }
  return part;
}

void
sb_part_clear (SbPart *part)
{
  g_free (part->points);
  g_free (part->legs);
}

static void
pose_init (SbPose *pose, const SbShape *shape, gint32 turn)
{
  Turner turner = turner_for (turn);
  pose->turn = (turn % TURN_WHOLE + TURN_WHOLE) % TURN_WHOLE;
  pose->cos = turner.cos;
  pose->sin = turner.sin;
  pose->outline = sb_polygon_turn (shape->outline, turn);
  pose->box = (SbIBox){SB_UM_MOST, SB_UM_MOST, -SB_UM_MOST, -SB_UM_MOST};
  pose->parts = g_new (SbPart, shape->cut->len);
  pose->n_parts = 0;
  for (guint i = 0; i < shape->cut->len; i++) {
    const GArray *part = shape->cut->pdata[i];
    g_autofree SbIPoint *turned = g_new (SbIPoint, part->len);
    for (guint k = 0; k < part->len; k++)
      turned[k] = turn_point (turner, g_array_index (part, SbIPoint, k));
    /* Rounding may dent it by a fraction of a micrometre; the hull mends that. */
    GArray *hull = sb_points_hull (turned, part->len);
    if (hull->len < 3) {
      g_array_unref (hull);
      continue;
    }
    for (guint k = 0; k < hull->len; k++) {
      SbIPoint p = g_array_index (hull, SbIPoint, k);
      pose->box = (SbIBox){MIN (pose->box.x0, p.x), MIN (pose->box.y0, p.y),
                           MAX (pose->box.x1, p.x), MAX (pose->box.y1, p.y)};
    }
    guint n = hull->len;
    pose->parts[pose->n_parts++] =
        sb_part_new ((SbIPoint *)(gpointer)g_array_free (hull, FALSE), n);
  }
}

/* Whether turns are even steps of what maps the outline onto itself. */
static gboolean
is_cyclic (const SbPolygon *outline, const gint32 *turns, guint n)
{
  if (n <= 4) /* few enough to look at every pair */
    return FALSE;
  gint32 step = turns[1] - turns[0];
  if (step <= 0)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (turns[i] != (gint32)i * step)
      return FALSE;
  gint32 whole = step * (gint32)n;
  return TURN_WHOLE % whole == 0 &&
         sb_polygon_get_symmetry (outline) % (guint)(TURN_WHOLE / whole) == 0;
}

SbShape *
sb_shape_new (const SbPolygon *outline, const gint32 *turns, guint n_turns, double slack)
{
  SbShape *shape = g_new0 (SbShape, 1);
  shape->outline = sb_polygon_ref ((SbPolygon *)outline);
  shape->cut = cut_outline (outline, slack);
  shape->added = g_ptr_array_new ();
  shape->area = sb_polygon_get_area_mm2 (outline) * 1e6;
  shape->n_poses = n_turns;
  shape->cyclic = is_cyclic (outline, turns, n_turns);
  shape->poses = g_new0 (SbPose, n_turns);
  for (guint i = 0; i < n_turns; i++) {
    pose_init (&shape->poses[i], shape, turns[i]);
    shape->poses[i].beside = i;
  }
  return shape;
}

guint
sb_shape_take_pose (SbShape *shape, gint32 turn)
{
  turn = (turn % TURN_WHOLE + TURN_WHOLE) % TURN_WHOLE;
  guint n = shape->n_poses + shape->added->len;
  for (guint k = 0; k < n; k++)
    if (sb_shape_get_pose (shape, k)->turn == turn)
      return k;
  SbPose *pose = g_new0 (SbPose, 1);
  pose_init (pose, shape, turn);
  if (shape->cyclic) {
    gint32 by = shape->poses[1].turn;
    pose->beside = (guint)((turn + by / 2) / by) % shape->n_poses;
  }
  pose->margin = shape->poses[0].margin;
  g_ptr_array_add (shape->added, pose);
  return n;
}

void
sb_shape_set_margin (SbShape *shape, sb_um margin)
{
  for (guint i = 0; i < shape->n_poses; i++)
    shape->poses[i].margin = margin;
}

static void
pose_clear (SbPose *pose)
{
  for (guint k = 0; k < pose->n_parts; k++)
    sb_part_clear (&pose->parts[k]);
  g_free (pose->parts);
  sb_polygon_unref (pose->outline);
}

void
sb_shape_free (SbShape *shape)
{
  for (guint i = 0; i < shape->n_poses; i++)
    pose_clear (&shape->poses[i]);
  for (guint i = 0; i < shape->added->len; i++) {
    pose_clear (shape->added->pdata[i]);
    g_free (shape->added->pdata[i]);
  }
  g_ptr_array_unref (shape->added);
  g_ptr_array_unref (shape->cut);
  sb_polygon_unref (shape->outline);
  g_free (shape->poses);
  g_free (shape);
}
