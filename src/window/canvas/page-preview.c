/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "output/painter.h"
#include "window/canvas/page-preview.h"
#include "window/pictures/painting.h"

#define HEIGHT_PX 220
#define WIDTH_LEAST_PX 120
#define MOST_PX 2400    /* a side: sharp enough, and soon painted, however far one zooms in */
#define PREVIEW_DPI 150 /* decoding more for a small picture would be waste */

struct _SbPagePreview {
  GtkWidget parent_instance;

  SbPainting *painting;
  SbState *state; /* or NULL */
  guint index;
};

G_DEFINE_FINAL_TYPE (SbPagePreview, sb_page_preview, GTK_TYPE_WIDGET)

/* What is to be painted. */
typedef struct {
  SbState *state;
  guint index;
} Page;

static void
page_free (gpointer data)
{
  Page *page = data;

  sb_state_unref (page->state);
  g_free (page);
}

/* Borderless: about the page's middle, past the paper's edges. */
static void
enlarge (cairo_t *cr, const SbState *state)
{
  double scale = sb_overshoot (state->page_width, state->page_height, state->overshoot).most_scale;
  double x = sb_um_to_pt (state->page_width) / 2, y = sb_um_to_pt (state->page_height) / 2;

  cairo_translate (cr, x, y);
  cairo_scale (cr, scale, scale);
  cairo_translate (cr, -x, -y);
}

static void
paint (cairo_t *cr, int width, int height, gpointer what)
{
  const Page *page = what;
  SbState *state = page->state;
  SbIBox box = sb_state_get_printable_box (state);
  const SbPaintOptions options = {.mode = SB_PAINT_FULL};
  g_autoptr (SbPainter) painter = sb_painter_new (state, PREVIEW_DPI);

  cairo_scale (cr, width / sb_um_to_pt (state->page_width),
               height / sb_um_to_pt (state->page_height));
  if (state->overshoot > 0)
    enlarge (cr, state);
  cairo_rectangle (cr, sb_um_to_pt (box.x0), sb_um_to_pt (box.y0), sb_um_to_pt (box.x1 - box.x0),
                   sb_um_to_pt (box.y1 - box.y0));
  cairo_clip (cr);
  sb_painter_paint (painter, cr, page->index, &options, NULL, NULL);
}

/* The page fitted into the widget, in logical pixels. */
static graphene_rect_t
page_rect (SbPagePreview *self)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  int height = gtk_widget_get_height (GTK_WIDGET (self));
  double scale =
      MIN (width / (double)self->state->page_width, height / (double)self->state->page_height);
  double w = floor (self->state->page_width * scale), h = floor (self->state->page_height * scale);

  return GRAPHENE_RECT_INIT ((float)floor ((width - w) / 2), (float)floor ((height - h) / 2),
                             (float)w, (float)h);
}

static void
start (SbPagePreview *self)
{
  graphene_rect_t rect = page_rect (self);
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));

  if (rect.size.width < 1 || rect.size.height < 1)
    return;
  Page *page = g_new0 (Page, 1);
  page->state = sb_state_ref (self->state);
  page->index = self->index;
  double most = scale * fmax ((double)rect.size.width, (double)rect.size.height);
  double density = scale * fmin (1, MOST_PX / most);
  sb_painting_start (self->painting, MAX (1, (int)((double)rect.size.width * density)),
                     MAX (1, (int)((double)rect.size.height * density)), page);
}

static void
sb_page_preview_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                         int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = orientation == GTK_ORIENTATION_VERTICAL ? HEIGHT_PX : WIDTH_LEAST_PX;
}

static void
sb_page_preview_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  SbPagePreview *self = SB_PAGE_PREVIEW (widget);

  if (self->state)
    start (self);
}

static void
sb_page_preview_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbPagePreview *self = SB_PAGE_PREVIEW (widget);

  if (!self->state)
    return;
  graphene_rect_t rect = page_rect (self);
  GskRoundedRect outline;
  gsk_rounded_rect_init_from_rect (&outline, &rect, 0);
  gtk_snapshot_append_outset_shadow (snapshot, &outline, &(GdkRGBA){0, 0, 0, 0.25f}, 0, 1, 0, 3);
  gtk_snapshot_append_color (snapshot, &(GdkRGBA){1, 1, 1, 1}, &rect);
  SbPixels *pixels = sb_painting_get_pixels (self->painting);
  if (pixels)
    sb_pixels_append (pixels, widget, snapshot, &rect);
}

static void
sb_page_preview_dispose (GObject *object)
{
  SbPagePreview *self = SB_PAGE_PREVIEW (object);

  g_clear_pointer (&self->painting, sb_painting_free);
  g_clear_pointer (&self->state, sb_state_unref);
  G_OBJECT_CLASS (sb_page_preview_parent_class)->dispose (object);
}

static void
sb_page_preview_class_init (SbPagePreviewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_page_preview_dispose;
  widget_class->measure = sb_page_preview_measure;
  widget_class->size_allocate = sb_page_preview_size_allocate;
  widget_class->snapshot = sb_page_preview_snapshot;
  gtk_widget_class_set_css_name (widget_class, "pagepreview");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
sb_page_preview_init (SbPagePreview *self)
{
  self->painting = sb_painting_new (GTK_WIDGET (self), paint, page_free);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("The page as it will leave the printer"), -1);
}

void
sb_page_preview_show (SbPagePreview *self, SbState *state, guint index)
{
  g_return_if_fail (SB_IS_PAGE_PREVIEW (self));

  if (self->state == state && self->index == index)
    return;
  sb_state_ref (state);
  g_clear_pointer (&self->state, sb_state_unref);
  self->state = state;
  self->index = index;
  start (self);
}
