/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/canvas/plate.h"

#define PAD_X 8
#define PAD_Y 3

static PangoLayout *
make_layout (GtkWidget *widget, const SbPlate *plate)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (widget, plate->text);
  PangoAttrList *attributes = pango_attr_list_new ();
  const char *line_end = strchr (plate->text, '\n');

  pango_attr_list_insert (attributes, pango_attr_scale_new (plate->small ? 0.82 : 0.9));
  if (!plate->small) {
    PangoAttribute *bold = pango_attr_weight_new (PANGO_WEIGHT_SEMIBOLD);
    if (line_end)
      bold->end_index = (guint)(line_end - plate->text);
    pango_attr_list_insert (attributes, bold);
  }
  /* Digits of one width keep a plate still while its number runs. */
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attributes);
  pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
  pango_attr_list_unref (attributes);
  return layout;
}

static SbPlateSize
measure_layout (PangoLayout *layout)
{
  int width, height;

  pango_layout_get_pixel_size (layout, &width, &height);
  return (SbPlateSize){width + 2 * PAD_X, height + 2 * PAD_Y};
}

SbPlateSize
sb_plate_measure (GtkWidget *widget, const SbPlate *plate)
{
  g_autoptr (PangoLayout) layout = make_layout (widget, plate);

  return measure_layout (layout);
}

void
sb_plate_append (GtkWidget *widget, GtkSnapshot *snapshot, const SbPlate *plate, double x, double y)
{
  g_autoptr (PangoLayout) layout = make_layout (widget, plate);
  SbPlateSize size = measure_layout (layout);
  graphene_rect_t rect =
      GRAPHENE_RECT_INIT ((float)(int)x, (float)(int)y, (float)size.width, (float)size.height);
  GskRoundedRect rounded;

  gsk_rounded_rect_init_from_rect (&rounded, &rect, 6);
  gtk_snapshot_push_rounded_clip (snapshot, &rounded);
  gtk_snapshot_append_color (snapshot, plate->fill, &rect);
  gtk_snapshot_pop (snapshot);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot,
                          &GRAPHENE_POINT_INIT (rect.origin.x + PAD_X, rect.origin.y + PAD_Y));
  gtk_snapshot_append_layout (snapshot, layout, plate->colour);
  gtk_snapshot_restore (snapshot);
}

void
sb_plate_append_within (GtkWidget *widget, GtkSnapshot *snapshot, const SbPlate *plate, double x,
                        double y, int width, int height)
{
  SbPlateSize size = sb_plate_measure (widget, plate);

  x = CLAMP (x, 4, MAX (width - size.width - 4, 4));
  y = CLAMP (y, 4, MAX (height - size.height - 4, 4));
  sb_plate_append (widget, snapshot, plate, x, y);
}
