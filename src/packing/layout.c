/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/layout.h"

#include <math.h>

#include "geometry/relation.h"

/* Finer than SB_FLATTEN_UM, so that the difference to the outline checked stays within the aim. */
#define FLATTEN_UM 5

SbPolygon *
sb_design_get_centred_outline (const SbDesign *design)
{
  SbOutline *outline = sb_design_get_outline (design);
  SbPoint centre = sb_box_centre (sb_outline_get_box (outline));
  return sb_outline_flatten (outline, (SbTransform){1, 0, 0, 1, -centre.x, -centre.y}, FLATTEN_UM);
}

/* How far the guide reaches past the outline. */
static sb_um
get_guide_reach (const SbDesign *design)
{
  if (design->guide.style == SB_GUIDE_OFF)
    return 0;
  return sb_um_from_mm (SB_GUIDE_CLEARANCE_MM + design->guide.line_pt * SB_MM_PER_PT);
}

/* Whether the outlines that the exact check looks at stay within the boxes of the poses, so that
 * the aim can be done without. */
static gboolean
is_exact (const SbShape *shape, const SbDesign *design)
{
  for (guint i = 0; i < shape->n_poses; i++) {
    SbPiece piece = {.turn = shape->poses[i].turn};
    g_autoptr (SbPolygon) outline = sb_piece_get_outline (design, &piece);
    if (!sb_polygon_inside_box (outline, shape->poses[i].box))
      return FALSE;
  }
  return TRUE;
}

/* The largest of the margins with which the shape fits a page; the first for one that never does.
 */
static SbShape *
with_margin (SbShape *shape, const SbState *state, const SbDesign *design)
{
  SbIBox box = sb_state_get_printable_box (state);
  sb_um margins[] = {SB_PACKING_AIM_UM + get_guide_reach (design), SB_PACKING_AIM_UM, 0};
  for (guint k = 0; k < G_N_ELEMENTS (margins); k++) {
    sb_shape_set_margin (shape, margins[k]);
    if (sb_shape_fits (shape, box) && (margins[k] > 0 || is_exact (shape, design)))
      return shape;
  }
  sb_shape_set_margin (shape, margins[0]);
  return shape;
}

SbShape *
sb_design_get_shape (const SbState *state, const SbDesign *design)
{
  g_autoptr (SbPolygon) outline = sb_design_get_centred_outline (design);
  gint32 turns[SB_PACKING_TURNS];
  guint n = design->turning == SB_TURNING_UPRIGHT    ? 1
            : design->turning == SB_TURNING_QUARTERS ? 4
                                                     : SB_PACKING_TURNS;
  gint32 step = (gint32)(360000 / n);
  /* Turns that map the outline onto itself gain nothing. */
  guint symmetry = sb_polygon_get_symmetry (outline);
  if (symmetry == SB_ROUND)
    n = 1;
  else if (n % symmetry == 0)
    n /= symmetry;
  else if (n == 4 && symmetry % 4 == 0)
    n = 1;
  for (guint i = 0; i < n; i++)
    turns[i] = (gint32)i * step;
  return with_margin (sb_shape_new (outline, turns, n, SB_PACKING_SLACK_UM), state, design);
}

SbShape *
sb_design_get_turned_shape (const SbState *state, const SbDesign *design, gint32 turn)
{
  g_autoptr (SbPolygon) outline = sb_design_get_centred_outline (design);
  return with_margin (sb_shape_new (outline, &turn, 1, SB_PACKING_SLACK_UM), state, design);
}

static gboolean
is_among (guint id, const guint *ids, guint n)
{
  for (guint i = 0; i < n; i++)
    if (ids[i] == id)
      return TRUE;
  return FALSE;
}

GArray *
sb_page_get_placings (const SbState *state, const SbPage *page, SbTask *task, const guint *except,
                      guint n_except)
{
  GArray *placings = g_array_new (FALSE, FALSE, sizeof (SbPlacing));
  for (guint d = 0; d < state->designs->len; d++) {
    const SbDesign *design = state->designs->pdata[d];
    g_autoptr (GArray) turns = g_array_new (FALSE, FALSE, sizeof (gint32));
    for (guint i = 0; i < page->n_pieces; i++) {
      const SbPiece *piece = &page->pieces[i];
      if (piece->design_id != design->id || is_among (piece->id, except, n_except))
        continue;
      SbPlacing placing = {task->shapes->len, turns->len, piece->at.x, piece->at.y, TRUE, i};
      g_array_append_val (turns, piece->turn);
      g_array_append_val (placings, placing);
    }
    if (turns->len == 0)
      continue;
    g_autoptr (SbPolygon) outline = sb_design_get_centred_outline (design);
    sb_task_add_shape (task, sb_shape_new (outline, (const gint32 *)(gpointer)turns->data,
                                           turns->len, SB_PACKING_SLACK_UM));
  }
  return placings;
}

static gboolean
boxes_apart (SbIBox a, SbIBox b, sb_um gap)
{
  return a.x1 + gap <= b.x0 || b.x1 + gap <= a.x0 || a.y1 + gap <= b.y0 || b.y1 + gap <= a.y0;
}

gboolean
sb_piece_is_fixed (const SbDesign *design, const SbPiece *piece)
{
  return piece->pinned || design->lettering != NULL;
}

gboolean
sb_page_is_valid (const SbState *state, const SbPage *page)
{
  g_autoptr (GPtrArray) outlines =
      g_ptr_array_new_with_free_func ((GDestroyNotify)sb_polygon_unref);
  SbIBox printable = sb_state_get_printable_box (state);
  g_autofree gboolean *fixed = g_new (gboolean, page->n_pieces);
  for (guint i = 0; i < page->n_pieces; i++) {
    const SbPiece *piece = &page->pieces[i];
    const SbDesign *design = sb_state_get_design (state, piece->design_id);
    SbPolygon *outline = sb_piece_get_outline (design, piece);
    fixed[i] = sb_piece_is_fixed (design, piece);
    g_ptr_array_add (outlines, outline);
    if (!fixed[i] && !sb_polygon_inside_box (outline, printable))
      return FALSE;
    for (guint j = 0; j < i; j++) {
      if (fixed[i] && fixed[j])
        continue;
      if (!boxes_apart (sb_polygon_get_box (outline), sb_polygon_get_box (outlines->pdata[j]),
                        state->gap) &&
          sb_polygons_closer_than (outline, outlines->pdata[j], state->gap))
        return FALSE;
    }
  }
  return TRUE;
}

double
sb_state_get_waste_percent (const SbState *state)
{
  SbIBox box = sb_state_get_printable_box (state);
  double printable = sb_um_to_mm (box.x1 - box.x0) * sb_um_to_mm (box.y1 - box.y0), used = 0;
  guint n_pages = 0;
  for (guint k = 0; k < state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (state, k);
    for (guint i = 0; i < page->n_pieces; i++)
      used += sb_outline_get_area_mm2 (
          sb_design_get_outline (sb_state_get_design (state, page->pieces[i].design_id)));
    n_pages += page->n_pieces > 0;
  }
  return n_pages > 0 ? 100 * (1 - used / (printable * n_pages)) : 0;
}

SbArrangeReport
sb_arrange_report_for (const SbState *state)
{
  SbArrangeReport report = {.waste_after_percent = sb_state_get_waste_percent (state)};
  for (guint k = 0; k < state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (state, k);
    report.pages += page->n_pieces > 0;
    for (guint i = 0; i < page->n_pieces; i++)
      if (sb_state_get_design (state, page->pieces[i].design_id)->freebie)
        report.freebies++;
      else
        report.placed++;
  }
  return report;
}
