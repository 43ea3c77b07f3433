/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The line's middle is the outline moved outwards by clearance + half the line's width. The outline
 * is cut into short legs first; each corner then moves along its outward normal:
 *
 *      convex: an arc about the corner        hollow: the point at that distance from both legs
 *
 * In a hollow tighter than the distance the moved line crosses itself; every moved point that came
 * nearer to the outline than it should is one of those loops and is dropped. */
#include "config.h"

#include "output/guide.h"

#include <math.h>

#define FLATTEN_UM 5.0
#define ARC_STEP (G_PI / 12)
/* How much nearer than wanted a moved point may be before it counts as part of a loop, mm. Over the
 * flattening error, far under the clearance. */
#define LOOP_SLACK_MM 0.01
#define TICK_LONGEST_MM 3.0
#define TICK_SHORTEST_MM 1.0

static SbPoint
corner (const SbLoop *loop, guint i)
{
  SbIPoint p = loop->points[i % loop->n_points];
  return (SbPoint){sb_um_to_mm (p.x), sb_um_to_mm (p.y)};
}

static double
distance_to_leg (SbPoint p, SbPoint a, SbPoint b)
{
  double dx = b.x - a.x, dy = b.y - a.y;
  double t = ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy);
  t = CLAMP (t, 0, 1);
  return hypot (p.x - a.x - t * dx, p.y - a.y - t * dy);
}

static gboolean
is_nearer_than (const SbPolygon *polygon, SbPoint p, double distance)
{
  for (guint i = 0; i < sb_polygon_get_n_loops (polygon); i++) {
    const SbLoop *loop = sb_polygon_get_loop (polygon, i);
    for (guint j = 0; j < loop->n_points; j++) {
      SbPoint a = corner (loop, j), b = corner (loop, j + 1);
      if (fmin (a.x, b.x) - p.x < distance && p.x - fmax (a.x, b.x) < distance &&
          fmin (a.y, b.y) - p.y < distance && p.y - fmax (a.y, b.y) < distance &&
          distance_to_leg (p, a, b) < distance)
        return TRUE;
    }
  }
  return FALSE;
}

/* The outward normal of a leg: outer loops run clockwise on the screen, holes the other way. */
static SbPoint
outward (SbPoint from, SbPoint to)
{
  double dx = to.x - from.x, dy = to.y - from.y, length = hypot (dx, dy);
  return (SbPoint){dy / length, -dx / length};
}

/* The moved points of one corner. */
static void
move_corner (GArray *moved, SbPoint at, SbPoint n0, SbPoint n1, double distance)
{
  double cross = n0.x * n1.y - n0.y * n1.x, dot = n0.x * n1.x + n0.y * n1.y;
  if (cross < 0 && dot > -0.9) { /* hollow */
    double k = distance / (1 + dot);
    SbPoint p = {at.x + k * (n0.x + n1.x), at.y + k * (n0.y + n1.y)};
    g_array_append_val (moved, p);
    return;
  }
  double turn = atan2 (fabs (cross), dot);
  int steps = (int)ceil (turn / ARC_STEP);
  for (int i = 0; i <= steps; i++) {
    double angle = steps > 0 ? turn * i / steps : 0, c = cos (angle), s = sin (angle);
    SbPoint p = {at.x + distance * (c * n0.x - s * n0.y), at.y + distance * (s * n0.x + c * n0.y)};
    g_array_append_val (moved, p);
  }
}

/* Adds one loop moved outwards to the path. TRUE when some of it had to be dropped. */
static gboolean
trace_moved_loop (cairo_t *cr, const SbPolygon *polygon, const SbLoop *loop, double distance)
{
  g_autoptr (GArray) moved = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  for (guint i = 0; i < loop->n_points; i++) {
    SbPoint before = corner (loop, i + loop->n_points - 1), at = corner (loop, i),
            after = corner (loop, i + 1);
    move_corner (moved, at, outward (before, at), outward (at, after), distance);
  }
  gboolean dropped = FALSE, drawing = FALSE;
  for (guint i = 0; i < moved->len; i++) {
    SbPoint p = g_array_index (moved, SbPoint, i);
    if (is_nearer_than (polygon, p, distance - LOOP_SLACK_MM)) {
      dropped = TRUE;
    } else if (drawing) {
      cairo_line_to (cr, p.x, p.y);
    } else {
      cairo_move_to (cr, p.x, p.y);
      drawing = TRUE;
    }
  }
  if (drawing)
    cairo_close_path (cr);
  return dropped;
}

void
sb_guide_trace_outline (cairo_t *cr, const SbOutline *outline)
{
  for (guint i = 0; i < sb_outline_get_n_rings (outline); i++) {
    const SbRing *ring = sb_outline_get_ring (outline, i);
    cairo_move_to (cr, ring->start.x, ring->start.y);
    for (guint j = 0; j < ring->n_curves; j++) {
      const SbCurve *curve = &ring->curves[j];
      if (curve->straight)
        cairo_line_to (cr, curve->end.x, curve->end.y);
      else
        cairo_curve_to (cr, curve->c1.x, curve->c1.y, curve->c2.x, curve->c2.y, curve->end.x,
                        curve->end.y);
    }
    cairo_close_path (cr);
  }
}

/* The white partner of a line or a tick is so many times as wide. */
#define PARTNER 3.0

static void
stroke (cairo_t *cr, const SbGuide *guide, gboolean on_bleed)
{
  double line_mm = guide->line_pt * SB_MM_PER_PT, white = 1 - guide->grey;
  if (on_bleed) {
    cairo_set_source_rgb (cr, 1, 1, 1);
    cairo_set_line_width (cr, PARTNER * line_mm);
    cairo_stroke_preserve (cr);
  }
  cairo_set_source_rgb (cr, white, white, white);
  cairo_set_line_width (cr, line_mm);
  cairo_stroke (cr);
}

static void
draw_line (cairo_t *cr, const SbOutline *outline, const SbGuide *guide, gboolean on_bleed)
{
  g_autoptr (SbPolygon) polygon = sb_outline_flatten (outline, SB_TRANSFORM_IDENTITY, FLATTEN_UM);
  double line_mm = guide->line_pt * SB_MM_PER_PT;
  double distance = SB_GUIDE_CLEARANCE_MM + (on_bleed ? PARTNER : 1) * line_mm / 2;
  gboolean dropped = FALSE;
  for (guint i = 0; i < sb_polygon_get_n_loops (polygon); i++)
    dropped |= trace_moved_loop (cr, polygon, sb_polygon_get_loop (polygon, i), distance);

  /* Where the line cuts short across a slit, what would run over the sticker is left out. */
  if (dropped) {
    cairo_path_t *line = cairo_copy_path (cr);
    SbBox box = sb_outline_get_box (outline);
    cairo_new_path (cr);
    cairo_rectangle (cr, box.x0 - 10, box.y0 - 10, box.x1 - box.x0 + 20, box.y1 - box.y0 + 20);
    sb_guide_trace_outline (cr, outline);
    cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
    cairo_clip (cr);
    cairo_append_path (cr, line);
    cairo_path_destroy (line);
  }
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  stroke (cr, guide, on_bleed);
}

/* Two ticks at a corner of the box; `sx`, `sy` point outwards. */
static void
draw_corner_ticks (cairo_t *cr, double x, double y, int sx, int sy, double length)
{
  double from = SB_GUIDE_CLEARANCE_MM, to = SB_GUIDE_CLEARANCE_MM + length;
  cairo_move_to (cr, x + sx * from, y);
  cairo_line_to (cr, x + sx * to, y);
  cairo_move_to (cr, x, y + sy * from);
  cairo_line_to (cr, x, y + sy * to);
}

static void
draw_ticks (cairo_t *cr, SbBox box, double length, const SbGuide *guide, gboolean on_bleed)
{
  draw_corner_ticks (cr, box.x0, box.y0, -1, -1, length);
  draw_corner_ticks (cr, box.x1, box.y0, 1, -1, length);
  draw_corner_ticks (cr, box.x1, box.y1, 1, 1, length);
  draw_corner_ticks (cr, box.x0, box.y1, -1, 1, length);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  stroke (cr, guide, on_bleed);
}

/* Ticks mark the box, so they are for rectangles; a rounded corner takes a little off it. */
#define LEAST_OF_BOX 0.95

static gboolean
is_rectangle (const SbOutline *outline)
{
  SbBox box = sb_outline_get_box (outline);
  return sb_outline_get_n_rings (outline) == 1 &&
         sb_outline_get_area_mm2 (outline) >= LEAST_OF_BOX * (box.x1 - box.x0) * (box.y1 - box.y0);
}

cairo_surface_t *
sb_guide_record (const SbOutline *outline, const SbGuide *guide, double gap_mm, gboolean on_bleed,
                 SbPoint *origin)
{
  if (guide->style == SB_GUIDE_OFF)
    return NULL;

  SbBox box = sb_outline_get_box (outline);
  double line_mm = guide->line_pt * SB_MM_PER_PT;
  double tick = CLAMP (gap_mm / 2 - SB_GUIDE_CLEARANCE_MM, TICK_SHORTEST_MM, TICK_LONGEST_MM);
  double reach = SB_GUIDE_CLEARANCE_MM + MAX (tick, PARTNER * line_mm) + 0.1;
  *origin = (SbPoint){box.x0 - reach, box.y0 - reach};

  cairo_rectangle_t extents = {0, 0, box.x1 - box.x0 + 2 * reach, box.y1 - box.y0 + 2 * reach};
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, &extents);
  cairo_t *cr = cairo_create (surface);
  cairo_translate (cr, -origin->x, -origin->y);
  if (guide->style == SB_GUIDE_TICKS && is_rectangle (outline))
    draw_ticks (cr, box, tick, guide, on_bleed);
  else
    draw_line (cr, outline, guide, on_bleed);
  cairo_destroy (cr);
  return surface;
}
