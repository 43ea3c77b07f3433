/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Both rulers run side by side from one zero line: a ruler laid on either tells the scale. 99..101
 * mm is fine (handbook section 11: our own figure). */
#include "config.h"

#include "output/check-bar.h"

#include <glib/gi18n.h>
#include <math.h>

#include "output/laid.h"
#include "output/text.h"
#include "packing/impose.h"

#define BAR_LEFT_MM 2.0
#define BAR_MIDDLE_MM 5.0
#define STEP_UM 1000

static SbIBox
box_at (sb_um x, sb_um y, sb_um width, sb_um height)
{
  return (SbIBox){x, y, x + width, y + height};
}

static gboolean
boxes_meet (SbIBox a, SbIBox b)
{
  return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
}

static gboolean
is_free (GArray *taken, SbIBox box)
{
  for (guint i = 0; i < taken->len; i++)
    if (boxes_meet (g_array_index (taken, SbIBox, i), box))
      return FALSE;
  return TRUE;
}

static void
add_around (GArray *taken, SbIBox box, sb_um around)
{
  box = (SbIBox){box.x0 - around, box.y0 - around, box.x1 + around, box.y1 + around};
  g_array_append_val (taken, box);
}

/* The copies of a layout with their ticks, and the corner for a test cut. */
static void
list_laid (GArray *taken, const SbState *state, guint page_index)
{
  const SbPage *page = sb_state_get_page (state, page_index);
  const SbLayout *layout = sb_state_get_layout (state, page->layout_id);
  for (guint i = 0; i < page->n_placements; i++)
    add_around (taken, sb_placement_get_box (layout, &page->placements[i]),
                sb_um_from_mm (SB_TICK_FROM_MM + SB_TICK_LENGTH_MM));
  SbIBox corner;
  if (sb_impose_find_test_corner (state, page_index, &corner))
    add_around (taken, corner, 0);
}

/* The boxes of the outlines with a millimetre around for the guides. */
static GArray *
list_taken (const SbState *state, guint page_index)
{
  GArray *taken = g_array_new (FALSE, FALSE, sizeof (SbIBox));
  const SbPage *page = sb_state_get_page (state, page_index);
  for (guint i = 0; i < page->n_pieces; i++) {
    const SbPiece *piece = &page->pieces[i];
    SbDesign *design = sb_state_get_design (state, piece->design_id);
    g_autoptr (SbPolygon) outline = sb_piece_get_outline (design, piece);
    add_around (taken, sb_polygon_get_box (outline), 1000);
  }
  list_laid (taken, state, page_index);
  return taken;
}

/* Slides a box of this size along two opposite edges of the printable area, the later edge (foot,
 * right) first. */
static gboolean
find_along (GArray *taken, SbIBox area, gboolean upright, SbIBox *room)
{
  sb_um width = sb_um_from_mm (upright ? SB_CHECK_BAR_HEIGHT_MM : SB_CHECK_BAR_LENGTH_MM);
  sb_um height = sb_um_from_mm (upright ? SB_CHECK_BAR_LENGTH_MM : SB_CHECK_BAR_HEIGHT_MM);
  if (area.x1 - area.x0 < width || area.y1 - area.y0 < height)
    return FALSE;
  for (int edge = 0; edge < 2; edge++) {
    if (upright) {
      sb_um x = edge == 0 ? area.x1 - width : area.x0;
      for (sb_um y = area.y0; y + height <= area.y1; y += STEP_UM)
        if (is_free (taken, *room = box_at (x, y, width, height)))
          return TRUE;
    } else {
      sb_um y = edge == 0 ? area.y1 - height : area.y0;
      for (sb_um x = area.x0; x + width <= area.x1; x += STEP_UM)
        if (is_free (taken, *room = box_at (x, y, width, height)))
          return TRUE;
    }
  }
  return FALSE;
}

gboolean
sb_check_bar_find_room (const SbState *state, guint page_index, SbIBox *room, gboolean *upright)
{
  g_autoptr (GArray) taken = list_taken (state, page_index);
  SbIBox area = sb_state_get_printable_box (state);
  for (*upright = FALSE;; *upright = TRUE) {
    if (find_along (taken, area, *upright, room))
      return TRUE;
    if (*upright)
      return FALSE;
  }
}

/* A ruler of `n` steps on one side (-1 above, 1 below) of the middle line. */
static void
draw_scale (cairo_t *cr, int n, double step_mm, int per_long, int side)
{
  for (int i = 0; i <= n; i++) {
    double x = BAR_LEFT_MM + i * step_mm;
    double length = i % per_long == 0 ? 2.0 : 1.2;
    cairo_move_to (cr, x, BAR_MIDDLE_MM);
    cairo_line_to (cr, x, BAR_MIDDLE_MM + side * length);
  }
  cairo_move_to (cr, BAR_LEFT_MM, BAR_MIDDLE_MM);
  cairo_line_to (cr, BAR_LEFT_MM + n * step_mm, BAR_MIDDLE_MM);
  cairo_stroke (cr);
}

void
sb_check_bar_draw (cairo_t *cr, const SbIBox *room, gboolean upright)
{
  cairo_save (cr);
  cairo_translate (cr, sb_um_to_mm (room->x0), sb_um_to_mm (upright ? room->y1 : room->y0));
  if (upright)
    cairo_rotate (cr, -G_PI / 2);
  cairo_set_source_rgb (cr, 0, 0, 0);
  cairo_set_line_width (cr, 0.15);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  draw_scale (cr, 20, 5, 2, -1);
  draw_scale (cr, 16, SB_MM_PER_INCH / 4, 4, 1);
  sb_text_draw (cr, BAR_LEFT_MM, 1.5, 0, 2.2, "100 mm");
  sb_text_draw (cr, BAR_LEFT_MM, 8.5, 0, 2.2, "4 in");
  sb_text_draw (cr, BAR_LEFT_MM + 12, 8.5, 0, 2.2,
                _ ("Print at 100 %. The upper bar must measure 100 mm."));
  cairo_restore (cr);
}
