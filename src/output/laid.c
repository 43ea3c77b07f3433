/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "output/laid.h"

#include <glib/gi18n.h>
#include <math.h>

#include "output/text.h"
#include "packing/impose.h"

#define LINE_MM (0.5 * SB_MM_PER_PT)
#define GREY 0.65 /* 35 % black: what scissors and ruler follow (handbook 4.4) */
#define SHORTEST_MM 1.0
#define DASH_MM 0.6
#define CROSS_MM 1.5

static void
set_line (cairo_t *cr)
{
  cairo_set_line_width (cr, LINE_MM);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_source_rgb (cr, GREY, GREY, GREY);
  cairo_set_dash (cr, NULL, 0, 0);
}

static void
trace_box (cairo_t *cr, SbIBox box)
{
  cairo_rectangle (cr, sb_um_to_mm (box.x0), sb_um_to_mm (box.y0), sb_um_to_mm (box.x1 - box.x0),
                   sb_um_to_mm (box.y1 - box.y0));
}

static void
set_background (cairo_t *cr, const SbLayout *layout)
{
  int rgb = layout->background;
  cairo_set_source_rgb (cr, (rgb >> 16 & 0xff) / 255.0, (rgb >> 8 & 0xff) / 255.0,
                        (rgb & 0xff) / 255.0);
}

void
sb_laid_paint_ground (cairo_t *cr, const SbLayout *layout)
{
  if (layout->background < 0)
    return;
  set_background (cr, layout);
  trace_box (cr, (SbIBox){0, 0, layout->width, layout->height});
  cairo_fill (cr);
}

void
sb_laid_paint_grounds (cairo_t *cr, const SbState *state, const SbPage *page)
{
  const SbLayout *layout = sb_state_get_layout (state, page->layout_id);
  if (layout->background < 0)
    return;
  const sb_um bleed = (sb_um)(SB_BLEED_MM * SB_UM_PER_MM);
  set_background (cr, layout);
  for (guint i = 0; i < page->n_placements; i++) {
    SbIBox box = sb_placement_get_box (layout, &page->placements[i]);
    trace_box (cr, (SbIBox){box.x0 - bleed, box.y0 - bleed, box.x1 + bleed, box.y1 + bleed});
  }
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_WINDING);
  cairo_fill (cr);
}

/* Holes and corners */

static void
paint_hole (cairo_t *cr, double x, double y, double diameter)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, x, y, diameter / 2, 0, 2 * G_PI);
  cairo_move_to (cr, x - CROSS_MM / 2, y);
  cairo_line_to (cr, x + CROSS_MM / 2, y);
  cairo_move_to (cr, x, y - CROSS_MM / 2);
  cairo_line_to (cr, x, y + CROSS_MM / 2);
}

static void
trace_corner (cairo_t *cr, double x, double y, double radius, double from)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, x, y, radius, from, from + G_PI / 2);
}

void
sb_laid_paint_inner_marks (cairo_t *cr, const SbLayout *layout)
{
  double width = sb_um_to_mm (layout->width), height = sb_um_to_mm (layout->height);
  double radius = fmin (sb_um_to_mm (layout->corner), fmin (width, height) / 2);
  set_line (cr);
  if (radius > 0) {
    trace_corner (cr, width - radius, height - radius, radius, 0);
    trace_corner (cr, radius, height - radius, radius, G_PI / 2);
    trace_corner (cr, radius, radius, radius, G_PI);
    trace_corner (cr, width - radius, radius, radius, 3 * G_PI / 2);
  }
  if (layout->kind == SB_LAYOUT_HEADER && layout->hole > 0) {
    double fold = sb_um_to_mm (sb_layout_get_fold (layout)), at = sb_um_to_mm (layout->hole_at);
    paint_hole (cr, width / 2, fold + at, sb_um_to_mm (layout->hole));
    paint_hole (cr, width / 2, fold - at, sb_um_to_mm (layout->hole + SB_LAYOUT_HOLE_MORE));
  }
  cairo_stroke (cr);
}

void
sb_laid_paint_plan (cairo_t *cr, const SbLayout *layout)
{
  const double dashes[] = {2, 1.5};
  double width = sb_um_to_mm (layout->width), height = sb_um_to_mm (layout->height);
  double fold = sb_um_to_mm (sb_layout_get_fold (layout)), zone = sb_um_to_mm (layout->zone);
  set_line (cr);
  cairo_set_line_width (cr, 0.3);
  cairo_set_source_rgb (cr, 0.4, 0.4, 0.4);
  cairo_set_dash (cr, dashes, G_N_ELEMENTS (dashes), 0);
  cairo_move_to (cr, 0, fold);
  cairo_line_to (cr, width, fold);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_set_line_width (cr, 0.15);
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, zone);
  cairo_rectangle (cr, 0, height - zone, width, zone);
  cairo_clip (cr);
  for (double x = -height; x < width; x += 3) {
    cairo_move_to (cr, x, 0);
    cairo_line_to (cr, x + height, height);
  }
  cairo_stroke (cr);
  cairo_restore (cr);
}

/* Ticks */

typedef struct {
  const SbState *state;
  const SbPage *page;
  const SbLayout *layout;
  SbIBox printable;
} Laid;

/* How far a line from `p` in a direction goes before it meets a copy; `dx` or `dy` is 1 or -1. */
static sb_um
get_room (const Laid *laid, SbIPoint p, int dx, int dy)
{
  sb_um room = SB_UM_MOST;
  for (guint i = 0; i < laid->page->n_placements; i++) {
    SbIBox box = sb_placement_get_box (laid->layout, &laid->page->placements[i]);
    gboolean beside = dx != 0 ? p.y >= box.y0 && p.y <= box.y1 : p.x >= box.x0 && p.x <= box.x1;
    sb_um distance = dx > 0   ? box.x0 - p.x
                     : dx < 0 ? p.x - box.x1
                     : dy > 0 ? box.y0 - p.y
                              : p.y - box.y1;
    if (beside && distance >= 0)
      room = MIN (room, distance);
  }
  return room;
}

static sb_um
get_printed_room (const Laid *laid, SbIPoint p, int dx, int dy)
{
  SbIBox box = laid->printable;
  return dx > 0 ? box.x1 - p.x : dx < 0 ? p.x - box.x0 : dy > 0 ? box.y1 - p.y : p.y - box.y0;
}

static void
add_line (cairo_t *cr, SbIPoint p, int dx, int dy, double from, double to)
{
  double x = sb_um_to_mm (p.x), y = sb_um_to_mm (p.y);
  cairo_move_to (cr, x + dx * from, y + dy * from);
  cairo_line_to (cr, x + dx * to, y + dy * to);
}

/* Whether a line through `p` across the direction's other axis is printed at all. */
static gboolean
is_line_printed (const Laid *laid, SbIPoint p, int dx)
{
  SbIBox box = laid->printable;
  return dx != 0 ? p.y > box.y0 && p.y < box.y1 : p.x > box.x0 && p.x < box.x1;
}

/* The mark of a cut or fold that ends at `p`, where it leaves its copy in this direction. */
static void
add_tick (cairo_t *cr, const Laid *laid, SbIPoint p, int dx, int dy)
{
  if (!is_line_printed (laid, p, dx))
    return;
  double room = sb_um_to_mm (get_room (laid, p, dx, dy));
  double printed = sb_um_to_mm (get_printed_room (laid, p, dx, dy));
  double to = fmin (fmin (room - SB_TICK_FROM_MM, printed), SB_TICK_FROM_MM + SB_TICK_LENGTH_MM);
  if (to - SB_TICK_FROM_MM >= SHORTEST_MM)
    add_line (cr, p, dx, dy, SB_TICK_FROM_MM, to);
  else if (room > printed)
    add_line (cr, p, dx, dy, fmin (printed, 0) - SB_TICK_LENGTH_MM, fmin (printed, 0));
}

static void
add_corner_ticks (cairo_t *cr, const Laid *laid, SbIBox box)
{
  const sb_um xs[2] = {box.x0, box.x1}, ys[2] = {box.y0, box.y1};
  for (int i = 0; i < 2; i++) {
    for (int k = 0; k < 2; k++) {
      SbIPoint corner = {xs[i], ys[k]};
      add_tick (cr, laid, corner, 2 * i - 1, 0);
      add_tick (cr, laid, corner, 0, 2 * k - 1);
    }
  }
}

/* Where to lay the ruler for the score. */
static void
add_fold_ticks (cairo_t *cr, const Laid *laid, const SbPlacement *placement)
{
  SbIBox box = sb_placement_get_box (laid->layout, placement);
  sb_um fold = sb_layout_get_fold (laid->layout);
  if (placement->turned) {
    sb_um x = box.x1 - fold;
    add_tick (cr, laid, (SbIPoint){x, box.y0}, 0, -1);
    add_tick (cr, laid, (SbIPoint){x, box.y1}, 0, 1);
  } else {
    sb_um y = box.y0 + fold;
    add_tick (cr, laid, (SbIPoint){box.x0, y}, -1, 0);
    add_tick (cr, laid, (SbIPoint){box.x1, y}, 1, 0);
  }
}

static void
paint_ticks (cairo_t *cr, const Laid *laid)
{
  const double dashes[] = {DASH_MM, DASH_MM};
  set_line (cr);
  for (guint i = 0; i < laid->page->n_placements; i++)
    add_corner_ticks (cr, laid, sb_placement_get_box (laid->layout, &laid->page->placements[i]));
  cairo_stroke (cr);
  if (laid->layout->kind != SB_LAYOUT_HEADER)
    return;
  cairo_set_dash (cr, dashes, G_N_ELEMENTS (dashes), 0);
  for (guint i = 0; i < laid->page->n_placements; i++)
    add_fold_ticks (cr, laid, &laid->page->placements[i]);
  cairo_stroke (cr);
}

static void
paint_test_corner (cairo_t *cr, const SbState *state, guint page_index)
{
  SbIBox corner;
  if (!sb_impose_find_test_corner (state, page_index, &corner))
    return;
  SbGuide guide = sb_guide_for_style (SB_GUIDE_KNIFE);
  double tone = 1 - guide.grey, inset = sb_um_to_mm (SB_TEST_CORNER_UM) * 0.1;
  const sb_um in = (sb_um)(inset * SB_UM_PER_MM);
  SbIBox square = {corner.x0 + in, corner.y0 + in, corner.x1 - in, corner.y1 - in};
  cairo_set_source_rgb (cr, tone, tone, tone);
  cairo_set_line_width (cr, guide.line_pt * SB_MM_PER_PT);
  trace_box (cr, square);
  cairo_stroke (cr);
  cairo_set_source_rgb (cr, GREY, GREY, GREY);
  sb_text_draw (cr, sb_um_to_mm (corner.x0 + corner.x1) / 2,
                sb_um_to_mm (corner.y0 + corner.y1) / 2, 0.5, 1.6, _ ("Test cut"));
}

void
sb_laid_paint_marks (cairo_t *cr, const SbState *state, guint page_index)
{
  const SbPage *page = sb_state_get_page (state, page_index);
  Laid laid = {state, page, sb_state_get_layout (state, page->layout_id),
               sb_state_get_printable_box (state)};
  cairo_save (cr);
  for (guint i = 0; i < page->n_placements; i++) {
    SbTransform t = sb_placement_get_transform (laid.layout, &page->placements[i]);
    cairo_matrix_t matrix;
    cairo_matrix_init (&matrix, t.xx, t.yx, t.xy, t.yy, t.x0, t.y0);
    cairo_save (cr);
    cairo_transform (cr, &matrix);
    sb_laid_paint_inner_marks (cr, laid.layout);
    cairo_restore (cr);
  }
  paint_ticks (cr, &laid);
  cairo_set_dash (cr, NULL, 0, 0);
  paint_test_corner (cr, state, page_index);
  cairo_restore (cr);
}

void
sb_laid_enter_half (cairo_t *cr, const SbLayout *layout, gboolean back, double per_mm)
{
  double width = sb_um_to_mm (layout->width) * per_mm;
  double fold = sb_um_to_mm (sb_layout_get_fold (layout)) * per_mm;
  cairo_rectangle (cr, 0, 0, width, fold);
  cairo_clip (cr);
  if (back) {
    /* Folded behind and seen from there: turned by 180 degrees, not mirrored. */
    cairo_translate (cr, width, fold);
    cairo_scale (cr, -1, -1);
  } else {
    cairo_translate (cr, 0, -fold);
  }
}
