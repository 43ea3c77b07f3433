/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/canvas/free-spots.h"
#include "window/canvas/plate.h"
#include "window/canvas/strokes.h"
#include "window/parts/palette.h"

GArray *
sb_free_spots_list (SbChecker *checker, guint n_pages)
{
  GArray *spots = g_array_new (FALSE, TRUE, sizeof (SbIBox));

  g_array_set_size (spots, n_pages);
  for (guint i = 0; checker && i < n_pages; i++) {
    const SbPageFigures *figures = sb_checker_get_figures (checker, i);
    if (figures)
      g_array_index (spots, SbIBox, i) = figures->free_spot;
  }
  return spots;
}

gboolean
sb_free_spots_equal (const GArray *a, const GArray *b)
{
  return a->len == b->len &&
         (a->len == 0 || memcmp (a->data, b->data, a->len * sizeof (SbIBox)) == 0);
}

static void
append_spot (const SbPagePaint *paint, GtkSnapshot *snapshot, guint page, const SbIBox *spot)
{
  const SbPalette *palette = sb_palette_get (paint->widget);
  SbPoint a = sb_pages_layout_to_view (paint->layout, page, spot->x0, spot->y0);
  SbPoint b = sb_pages_layout_to_view (paint->layout, page, spot->x1, spot->y1);
  graphene_rect_t box =
      GRAPHENE_RECT_INIT ((float)a.x, (float)a.y, (float)(b.x - a.x), (float)(b.y - a.y));
  g_autofree char *size = sb_length_format_size (sb_um_to_mm (spot->x1 - spot->x0),
                                                 sb_um_to_mm (spot->y1 - spot->y0), paint->unit);
  /* Translators: on the largest free spot of a page; %s is its size */
  g_autofree char *text = g_strdup_printf (_ ("%s free"), size);
  SbPlate plate = {text, &palette->spot, &palette->plate_text, FALSE};
  SbPlateSize plate_size = sb_plate_measure (paint->widget, &plate);

  sb_stroke_dashed_box (snapshot, &box, &palette->spot);
  if (box.size.width < (float)plate_size.width + 8 ||
      box.size.height < (float)plate_size.height + 8)
    return;
  sb_plate_append (paint->widget, snapshot, &plate, (a.x + b.x - plate_size.width) / 2,
                   (a.y + b.y - plate_size.height) / 2);
}

GskRenderNode *
sb_free_spots_paint (const SbPagePaint *paint, const GArray *spots)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  guint last = sb_pages_layout_find_page (paint->layout, paint->layout->view_height);

  for (guint i = sb_pages_layout_find_page (paint->layout, 0); i < spots->len && i <= last; i++) {
    const SbIBox *spot = &g_array_index (spots, SbIBox, i);
    if (spot->x1 > spot->x0 && spot->y1 > spot->y0)
      append_spot (paint, snapshot, i, spot);
  }
  return gtk_snapshot_free_to_node (snapshot);
}
