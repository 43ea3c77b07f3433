/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "geometry/relation.h"
#include "window/canvas/piece-view.h"

struct _SbPieceView {
  GtkWidget parent_instance;

  SbBakery *bakery;
  SbDesign *design;
  SbPiece piece;
  guint page_index;
  guint flags;
  double stretch;
  double scale;
  char *label;

  SbBaked baked;
  double baked_stretch;
  SbPolygon *outline; /* on the page, or NULL until asked for */
};

G_DEFINE_FINAL_TYPE (SbPieceView, sb_piece_view, GTK_TYPE_WIDGET)

static void
make_key (SbPieceView *self, SbBakeKey *key)
{
  *key = (SbBakeKey){
      .design = self->design,
      .turn = self->piece.turn,
      .px_a_mm = self->scale * gtk_widget_get_scale_factor (GTK_WIDGET (self)),
      .stretch = self->stretch,
      .flags = self->flags,
      .strong = sb_palette_is_high_contrast (GTK_WIDGET (self)),
  };
}

/* The drawing's box about the piece's place in logical px. */
static SbBox
get_box_px (SbPieceView *self)
{
  SbBakeKey key = {
      .design = self->design,
      .turn = self->piece.turn,
      .px_a_mm = self->scale,
      .stretch = self->stretch,
  };
  SbBox box = sb_bake_get_box (&key);

  return (SbBox){box.x0 * self->scale, box.y0 * self->scale, box.x1 * self->scale,
                 box.y1 * self->scale};
}

void
sb_piece_view_get_extents (SbPieceView *self, int *left, int *top, int *width, int *height)
{
  SbBox box = get_box_px (self);

  *left = (int)floor (box.x0);
  *top = (int)floor (box.y0);
  *width = -2 * *left;
  *height = -2 * *top;
}

/* A pin at the sticker's middle top: a head with its needle, dark on white. */
static void
append_pin (SbPieceView *self, GtkSnapshot *snapshot)
{
  const SbPalette *palette = sb_palette_get (GTK_WIDGET (self));
  double x = gtk_widget_get_width (GTK_WIDGET (self)) / 2;
  graphene_rect_t bounds = GRAPHENE_RECT_INIT ((float)x - 8, 2, 16, 20);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);

  cairo_move_to (cr, x, 9);
  cairo_line_to (cr, x, 20);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_set_line_width (cr, 4);
  cairo_stroke_preserve (cr);
  gdk_cairo_set_source_rgba (cr, &palette->plate);
  cairo_set_line_width (cr, 1.5);
  cairo_stroke (cr);
  cairo_arc (cr, x, 8, 4.5, 0, 2 * G_PI);
  gdk_cairo_set_source_rgba (cr, &palette->plate);
  cairo_fill_preserve (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_stroke (cr);
  cairo_destroy (cr);
}

static void
sb_piece_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbPieceView *self = SB_PIECE_VIEW (widget);
  int left, top, width, height;

  if (!self->baked.pixels)
    return;
  sb_piece_view_get_extents (self, &left, &top, &width, &height);
  /* A texture of another size is scaled until the right one is there. */
  double factor = self->scale / self->baked.px_a_mm * self->stretch / self->baked_stretch;
  graphene_rect_t rect = GRAPHENE_RECT_INIT (
      (float)(-left - self->baked.left * factor), (float)(-top - self->baked.top * factor),
      (float)(sb_pixels_get_width (self->baked.pixels) * factor),
      (float)(sb_pixels_get_height (self->baked.pixels) * factor));
  sb_pixels_append (self->baked.pixels, widget, snapshot, &rect);
  if (self->piece.pinned)
    append_pin (self, snapshot);
}

/* The sticker's own shape takes the pointer; its corners belong to what lies below. */
static gboolean
sb_piece_view_contains (GtkWidget *widget, double x, double y)
{
  SbPieceView *self = SB_PIECE_VIEW (widget);
  int left, top, width, height;

  sb_piece_view_get_extents (self, &left, &top, &width, &height);
  SbIPoint p = {
      self->piece.at.x + (sb_um)((x + left) * SB_UM_PER_MM / self->scale),
      self->piece.at.y + (sb_um)((y + top) * SB_UM_PER_MM / self->scale),
  };
  return sb_polygon_contains (sb_piece_view_get_outline (self), p);
}

static void
sb_piece_view_dispose (GObject *object)
{
  SbPieceView *self = SB_PIECE_VIEW (object);

  g_clear_object (&self->bakery);
  g_clear_pointer (&self->design, sb_design_unref);
  g_clear_pointer (&self->outline, sb_polygon_unref);
  g_clear_pointer (&self->label, g_free);
  sb_baked_clear (&self->baked);
  G_OBJECT_CLASS (sb_piece_view_parent_class)->dispose (object);
}

static void
sb_piece_view_class_init (SbPieceViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_piece_view_dispose;
  widget_class->snapshot = sb_piece_view_snapshot;
  widget_class->contains = sb_piece_view_contains;
  gtk_widget_class_set_css_name (widget_class, "piece");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
sb_piece_view_init (SbPieceView *self)
{
  self->scale = 1;
  self->stretch = 1;
  self->baked_stretch = 1;
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  /* The pages view has the pointer: a piece that a drag takes out of sight is unmapped, and events
   * that were its own would be lost. */
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
}

GtkWidget *
sb_piece_view_new (SbBakery *bakery)
{
  SbPieceView *self = g_object_new (SB_TYPE_PIECE_VIEW, NULL);

  self->bakery = g_object_ref (bakery);
  return GTK_WIDGET (self);
}

void
sb_piece_view_set_piece (SbPieceView *self, SbDesign *design, const SbPiece *piece,
                         guint page_index)
{
  gboolean moved = self->piece.at.x != piece->at.x || self->piece.at.y != piece->at.y;
  gboolean turned = self->piece.turn != piece->turn;
  gboolean other = self->design != design || self->piece.pinned != piece->pinned;

  if (self->design != design) {
    sb_design_ref (design);
    g_clear_pointer (&self->design, sb_design_unref);
    self->design = design;
  }
  if (moved && !turned && !other && self->outline) {
    SbPolygon *polygon = sb_polygon_move (self->outline, piece->at.x - self->piece.at.x,
                                          piece->at.y - self->piece.at.y);
    sb_polygon_unref (self->outline);
    self->outline = polygon;
  } else if (turned || other) {
    g_clear_pointer (&self->outline, sb_polygon_unref);
  }
  self->piece = *piece;
  self->page_index = page_index;
  if (turned || other)
    gtk_widget_queue_draw (GTK_WIDGET (self));
}

const SbPiece *
sb_piece_view_get_piece (SbPieceView *self)
{
  return &self->piece;
}

SbDesign *
sb_piece_view_get_design (SbPieceView *self)
{
  return self->design;
}

guint
sb_piece_view_get_page (SbPieceView *self)
{
  return self->page_index;
}

void
sb_piece_view_set_flags (SbPieceView *self, guint flags)
{
  gboolean was = (self->flags & SB_BAKE_SELECTED) != 0, is = (flags & SB_BAKE_SELECTED) != 0;

  self->flags = flags;
  if (was != is)
    gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_SELECTED, is, -1);
}

void
sb_piece_view_set_stretch (SbPieceView *self, double stretch)
{
  if (self->stretch == stretch)
    return;
  self->stretch = stretch;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

double
sb_piece_view_get_stretch (SbPieceView *self)
{
  return self->stretch;
}

void
sb_piece_view_set_scale (SbPieceView *self, double scale)
{
  if (self->scale == scale)
    return;
  self->scale = scale;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_piece_view_bake (SbPieceView *self, gboolean now)
{
  g_autoptr (SbPixels) before = self->baked.pixels ? sb_pixels_ref (self->baked.pixels) : NULL;
  SbBakeKey key;

  make_key (self, &key);
  if (now)
    sb_bakery_get_now (self->bakery, &key, &self->baked);
  else if (!sb_bakery_get (self->bakery, &key, &self->baked))
    return;
  self->baked_stretch = key.stretch;
  if (self->baked.pixels != before)
    gtk_widget_queue_draw (GTK_WIDGET (self));
}

SbPolygon *
sb_piece_view_get_outline (SbPieceView *self)
{
  if (!self->outline)
    self->outline = sb_piece_get_outline (self->design, &self->piece);
  return self->outline;
}

void
sb_piece_view_set_label (SbPieceView *self, const char *label)
{
  if (g_strcmp0 (self->label, label) == 0)
    return;
  g_free (self->label);
  self->label = g_strdup (label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

const char *
sb_piece_view_get_label (SbPieceView *self)
{
  return self->label;
}
