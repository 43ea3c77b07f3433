/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof/proof.h"

#include "geometry/relation.h"
#include "proof/shapes.h"

/* ---- The part of a polygon inside a box ---- */

static double
coordinate (SbPoint p, gboolean upright)
{
  return upright ? p.y : p.x;
}

/* What of a loop lies on the side of a line where sign * coordinate <= sign * at (I. E. Sutherland
 * and G. W. Hodgman, "Reentrant polygon clipping", Communications of the ACM 17, 1974). Where a
 * loop falls into several parts the result joins them along the line, which adds no area. */
static GArray *
clip_to_side (GArray *loop, gboolean upright, double sign, double at)
{
  GArray *kept = g_array_sized_new (FALSE, FALSE, sizeof (SbPoint), loop->len + 4);
  for (guint i = 0; i < loop->len; i++) {
    SbPoint p = g_array_index (loop, SbPoint, i);
    SbPoint q = g_array_index (loop, SbPoint, (i + 1) % loop->len);
    double before = sign * (at - coordinate (p, upright));
    double after = sign * (at - coordinate (q, upright));
    if (before >= 0)
      g_array_append_val (kept, p);
    if ((before < 0) != (after < 0)) {
      double t = before / (before - after);
      SbPoint cut = {p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)};
      g_array_append_val (kept, cut);
    }
  }
  g_array_unref (loop);
  return kept;
}

static double
loop_area (const GArray *loop)
{
  double twice = 0;
  for (guint i = 2; i < loop->len; i++) {
    SbPoint o = g_array_index (loop, SbPoint, 0);
    SbPoint p = g_array_index (loop, SbPoint, i - 1);
    SbPoint q = g_array_index (loop, SbPoint, i);
    twice += (p.x - o.x) * (q.y - o.y) - (p.y - o.y) * (q.x - o.x);
  }
  return twice / 2;
}

static double
clipped_area_mm2 (const SbPolygon *polygon, SbIBox box)
{
  double sum = 0;
  for (guint l = 0; l < sb_polygon_get_n_loops (polygon); l++) {
    const SbLoop *loop = sb_polygon_get_loop (polygon, l);
    GArray *points = g_array_sized_new (FALSE, FALSE, sizeof (SbPoint), loop->n_points);
    for (guint i = 0; i < loop->n_points; i++) {
      SbPoint p = {loop->points[i].x, loop->points[i].y};
      g_array_append_val (points, p);
    }
    points = clip_to_side (points, FALSE, 1, box.x1);
    points = clip_to_side (points, FALSE, -1, box.x0);
    points = clip_to_side (points, TRUE, 1, box.y1);
    points = clip_to_side (points, TRUE, -1, box.y0);
    sum += loop_area (points);
    g_array_unref (points);
  }
  return sum / ((double)SB_UM_PER_MM * SB_UM_PER_MM);
}

/* The area of `outline`, of which `polygon` is the flattened form on the page, inside `box`. */
static double
area_inside_mm2 (const SbOutline *outline, const SbPolygon *polygon, SbIBox box)
{
  double exact = sb_outline_get_area_mm2 (outline);
  double flat = sb_polygon_get_area_mm2 (polygon);
  if (sb_polygon_inside_box (polygon, box))
    return exact;
  /* What flattening took off is spread evenly. */
  return flat > 0 ? clipped_area_mm2 (polygon, box) * exact / flat : 0;
}

static double
box_area_mm2 (SbIBox box)
{
  return sb_um_to_mm (box.x1 - box.x0) * sb_um_to_mm (box.y1 - box.y0);
}

/* Of a page that carries a layout: what is sold is the finished size, all of it. */
static void
add_laid (const SbState *state, const SbPage *page, SbPageFigures *figures)
{
  const SbLayout *layout = sb_state_get_layout (state, page->layout_id);
  SbIBox printable = sb_state_get_printable_box (state);
  for (guint i = 0; layout != NULL && i < page->n_placements; i++) {
    SbIBox box = sb_placement_get_box (layout, &page->placements[i]);
    SbIBox inside = {MAX (box.x0, printable.x0), MAX (box.y0, printable.y0),
                     MIN (box.x1, printable.x1), MIN (box.y1, printable.y1)};
    if (inside.x1 > inside.x0 && inside.y1 > inside.y0)
      figures->outline_mm2 += box_area_mm2 (inside);
    figures->pieces += layout->n_pieces;
  }
}

SbPageFigures
sb_figures_page (const SbState *state, guint page_index)
{
  SbPageFigures figures = {.free_spot = {1, 1, 0, 0}};
  g_return_val_if_fail (page_index < state->pages->len, figures);

  SbIBox printable = sb_state_get_printable_box (state);
  figures.paper_mm2 = sb_um_to_mm (state->page_width) * sb_um_to_mm (state->page_height);
  figures.printable_mm2 = box_area_mm2 (printable);

  g_autoptr (GHashTable) kinds = sb_shape_kinds_new ();
  g_autoptr (GArray) shapes = sb_shapes_of_page (state, page_index, kinds);
  figures.pieces = shapes->len;
  for (guint i = 0; i < shapes->len; i++) {
    const SbShape *shape = &g_array_index (shapes, SbShape, i);
    figures.outline_mm2 +=
        area_inside_mm2 (sb_design_get_outline (shape->design), shape->outline, printable);
    figures.artwork_mm2 +=
        area_inside_mm2 (sb_design_get_artwork (shape->design), shape->artwork, printable);
  }
  add_laid (state, sb_state_get_page (state, page_index), &figures);
  figures.waste_mm2 = MAX (0, figures.printable_mm2 - figures.outline_mm2);
  figures.waste_percent = 100 * figures.waste_mm2 / figures.printable_mm2;
  if (sb_state_get_page (state, page_index)->layout_id == 0)
    sb_free_spots_of_shapes (state, shapes, &figures.free_spot, 1);
  return figures;
}

guint
sb_figures_free_spots (const SbState *state, guint page_index, SbIBox *spots, guint most)
{
  g_return_val_if_fail (page_index < state->pages->len, 0);
  if (sb_state_get_page (state, page_index)->layout_id != 0)
    return 0;
  g_autoptr (GHashTable) kinds = sb_shape_kinds_new ();
  g_autoptr (GArray) shapes = sb_shapes_of_page (state, page_index, kinds);
  return sb_free_spots_of_shapes (state, shapes, spots, most);
}
