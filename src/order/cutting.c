/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Curvature is measured on a walk along the outline in even steps: the turn from step to step
 * against the way walked. An outer ring is walked clockwise on the screen and bends inwards where
 * it turns left; a hole is walked the other way round, so that the same holds for it. */
#include "config.h"

#include "order/cutting.h"

#include <math.h>

#define WALK_TOLERANCE_UM 5.0
#define STEP_MM 0.5
#define NOTCH_LEAST_TURN (G_PI / 6)
#define STRAIGHT_CUTS 4

/* Points every STEP_MM along a loop, evenly spread. */
static GArray *
walk (const SbLoop *loop)
{
  double length = 0;
  for (guint i = 0; i < loop->n_points; i++) {
    SbIPoint p = loop->points[i], q = loop->points[(i + 1) % loop->n_points];
    length += hypot (q.x - p.x, q.y - p.y);
  }
  guint n = MAX (8, (guint)(length / SB_UM_PER_MM / STEP_MM));
  GArray *points = g_array_sized_new (FALSE, FALSE, sizeof (SbPoint), n);
  double walked = 0;
  for (guint i = 0, k = 0; i < loop->n_points && k < n; i++) {
    SbIPoint p = loop->points[i], q = loop->points[(i + 1) % loop->n_points];
    double leg = hypot (q.x - p.x, q.y - p.y);
    for (; k < n && k * length / n < walked + leg; k++) {
      double t = (k * length / n - walked) / leg;
      SbPoint at = {p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)};
      g_array_append_val (points, at);
    }
    walked += leg;
  }
  return points;
}

/* The turn to the left at point `i`, radians, and the way it is spread over, mm. */
static double
turn_at (const GArray *points, guint i, double *way_mm)
{
  const SbPoint *p = (const SbPoint *)(gconstpointer)points->data;
  guint n = points->len;
  SbPoint a = p[(i + n - 1) % n], b = p[i], c = p[(i + 1) % n];
  double ux = b.x - a.x, uy = b.y - a.y, vx = c.x - b.x, vy = c.y - b.y;
  *way_mm = (hypot (ux, uy) + hypot (vx, vy)) / 2 / SB_UM_PER_MM;
  return -atan2 (ux * vy - uy * vx, ux * vx + uy * vy);
}

static gboolean
is_tight (const GArray *points, guint i, double *turn)
{
  double way_mm;
  *turn = turn_at (points, i, &way_mm);
  return *turn > way_mm / SB_NOTCH_RADIUS_MM * 1.02; /* a nook of just this radius is no notch */
}

/* Runs of tight points around the ring. */
static guint
count_runs (const GArray *points)
{
  double turn, sum = 0;
  guint start = 0, notches = 0;
  while (start < points->len && is_tight (points, start, &turn))
    start++;
  for (guint k = 1; k <= points->len; k++) {
    if (is_tight (points, (start + k) % points->len, &turn)) {
      sum += turn;
    } else {
      notches += sum >= NOTCH_LEAST_TURN;
      sum = 0;
    }
  }
  return notches;
}

guint
sb_outline_count_notches (const SbOutline *outline)
{
  g_autoptr (SbPolygon) polygon =
      sb_outline_flatten (outline, SB_TRANSFORM_IDENTITY, WALK_TOLERANCE_UM);
  guint notches = 0;
  for (guint i = 0; i < sb_polygon_get_n_loops (polygon); i++) {
    g_autoptr (GArray) points = walk (sb_polygon_get_loop (polygon, i));
    notches += count_runs (points);
  }
  return notches;
}

SbCutting
sb_cutting_of (const SbDesign *design, const SbOrder *order)
{
  const double *rates = order->rates;
  const SbOutline *outline = sb_design_get_outline (design);
  SbCutting cutting = {
      .by_knife = design->guide.style == SB_GUIDE_KNIFE,
      .straight = design->guide.style == SB_GUIDE_TICKS,
      .perimeter_mm = sb_outline_get_perimeter_mm (outline),
      .notches = sb_outline_count_notches (outline),
  };
  if (cutting.straight)
    cutting.seconds = STRAIGHT_CUTS * rates[SB_RATE_STRAIGHT_CUT];
  else if (cutting.by_knife)
    cutting.seconds = rates[SB_RATE_KNIFE] + cutting.perimeter_mm / rates[SB_RATE_KNIFE_WAY];
  else
    cutting.seconds = rates[SB_RATE_SCISSORS] + cutting.perimeter_mm / rates[SB_RATE_SCISSORS_WAY];
  if (!cutting.straight)
    cutting.seconds += cutting.notches * rates[SB_RATE_NOTCH];
  return cutting;
}

double
sb_cutting_of_layout (const SbState *state, const SbLayout *layout, double *kiss_cut_s)
{
  const SbOrder *order = state->order;
  *kiss_cut_s = 0;
  for (guint i = 0; layout->kind == SB_LAYOUT_SHEET && i < layout->n_pieces; i++) {
    SbDesign *design = sb_design_copy (sb_state_get_design (state, layout->pieces[i].design_id));
    design->guide = sb_layout_get_guide (layout, design);
    if (design->guide.style != SB_GUIDE_OFF)
      *kiss_cut_s += sb_cutting_of (design, order).seconds;
    sb_design_unref (design);
  }
  double fold = layout->kind == SB_LAYOUT_HEADER ? order->rates[SB_RATE_FOLD] : 0;
  return SB_LAYOUT_CUTS * order->rates[SB_RATE_STRAIGHT_CUT] + *kiss_cut_s + fold;
}
