/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "output/laid.h"
#include "output/painter.h"
#include "window/canvas/folded-preview.h"
#include "window/pictures/painting.h"

#define WIDTH_PX 132
#define PREVIEW_DPI 150

struct _SbFoldedPreview {
  GtkWidget parent_instance;

  SbPainting *painting;
  SbState *view; /* or NULL */
  gboolean back;
};

G_DEFINE_FINAL_TYPE (SbFoldedPreview, sb_folded_preview, GTK_TYPE_WIDGET)

/* What is to be painted. */
typedef struct {
  SbState *view;
  gboolean back;
} Half;

static void
half_free (gpointer data)
{
  Half *half = data;

  sb_state_unref (half->view);
  g_free (half);
}

static int
height_for (const SbState *view, int width)
{
  return MAX (1, (int)((gint64)width * view->page_height / 2 / view->page_width));
}

static void
paint (cairo_t *cr, int width, int height, gpointer what)
{
  const Half *half = what;
  const SbState *view = half->view;
  const SbPaintOptions options = {.mode = SB_PAINT_FULL};
  g_autoptr (SbPainter) painter = sb_painter_new (view, PREVIEW_DPI);
  double scale = width / sb_um_to_pt (view->page_width);

  cairo_scale (cr, scale, scale);
  sb_laid_enter_half (cr, view->view, half->back, SB_PT_PER_INCH / SB_MM_PER_INCH);
  sb_painter_paint (painter, cr, 0, &options, NULL, NULL);
}

static void
start (SbFoldedPreview *self)
{
  int width = WIDTH_PX * gtk_widget_get_scale_factor (GTK_WIDGET (self));
  Half *half = g_new0 (Half, 1);

  half->view = sb_state_ref (self->view);
  half->back = self->back;
  sb_painting_start (self->painting, width, height_for (self->view, width), half);
}

static void
sb_folded_preview_measure (GtkWidget *widget, GtkOrientation orientation, int for_size,
                           int *minimum, int *natural, int *minimum_baseline, int *natural_baseline)
{
  SbFoldedPreview *self = SB_FOLDED_PREVIEW (widget);
  int height = self->view ? MIN (height_for (self->view, WIDTH_PX), 2 * WIDTH_PX) : 1;

  *minimum = *natural = orientation == GTK_ORIENTATION_VERTICAL ? height : WIDTH_PX;
}

static void
sb_folded_preview_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbFoldedPreview *self = SB_FOLDED_PREVIEW (widget);
  SbPixels *pixels = sb_painting_get_pixels (self->painting);

  if (!self->view || !pixels)
    return;
  double width = sb_pixels_get_width (pixels), height = sb_pixels_get_height (pixels);
  double scale = MIN (WIDTH_PX / width, gtk_widget_get_height (widget) / height);
  graphene_rect_t rect = GRAPHENE_RECT_INIT (0, 0, (float)(width * scale), (float)(height * scale));
  GskRoundedRect outline;
  gsk_rounded_rect_init_from_rect (&outline, &rect, 0);
  gtk_snapshot_append_outset_shadow (snapshot, &outline, &(GdkRGBA){0, 0, 0, 0.3f}, 0, 1, 0, 3);
  sb_pixels_append (pixels, widget, snapshot, &rect);
}

static void
sb_folded_preview_dispose (GObject *object)
{
  SbFoldedPreview *self = SB_FOLDED_PREVIEW (object);

  g_clear_pointer (&self->painting, sb_painting_free);
  g_clear_pointer (&self->view, sb_state_unref);
  G_OBJECT_CLASS (sb_folded_preview_parent_class)->dispose (object);
}

static void
sb_folded_preview_class_init (SbFoldedPreviewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_folded_preview_dispose;
  widget_class->measure = sb_folded_preview_measure;
  widget_class->snapshot = sb_folded_preview_snapshot;
  gtk_widget_class_set_css_name (widget_class, "foldedpreview");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
sb_folded_preview_init (SbFoldedPreview *self)
{
  self->painting = sb_painting_new (GTK_WIDGET (self), paint, half_free);
}

void
sb_folded_preview_show (SbFoldedPreview *self, SbState *view, gboolean back)
{
  g_return_if_fail (SB_IS_FOLDED_PREVIEW (self));

  if (self->view == view && self->back == back)
    return;
  gboolean resized = !self->view || self->view->page_width != view->page_width ||
                     self->view->page_height != view->page_height;
  sb_state_ref (view);
  g_clear_pointer (&self->view, sb_state_unref);
  self->view = view;
  self->back = back;
  if (resized)
    gtk_widget_queue_resize (GTK_WIDGET (self));
  start (self);
}
