/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Painted in a thread: artwork may have to be decoded. What was shown stays until it is done. */
#include "config.h"

#include "output/laid.h"
#include "output/painter.h"
#include "window/order/folded-preview.h"

#define WIDTH_PX 132
#define PREVIEW_DPI 150

struct _SbFoldedPreview {
  GtkWidget parent_instance;

  GdkTexture *texture; /* or NULL */
  SbState *view;       /* wanted; or NULL */
  gboolean back;
  gboolean running, again;
};

G_DEFINE_FINAL_TYPE (SbFoldedPreview, sb_folded_preview, GTK_TYPE_WIDGET)

typedef struct {
  SbState *view;
  gboolean back;
  int width, height; /* device pixels */
} Painting;

static void
painting_free (Painting *painting)
{
  sb_state_unref (painting->view);
  g_free (painting);
}

static int
height_for (const SbState *view, int width)
{
  return MAX (1, (int)((gint64)width * view->page_height / 2 / view->page_width));
}

static void
paint_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Painting *painting = data;
  const SbState *view = painting->view;
  const SbPaintOptions options = {.mode = SB_PAINT_FULL};
  g_autoptr (SbPainter) painter = sb_painter_new (view, PREVIEW_DPI);
  cairo_surface_t *surface =
      cairo_image_surface_create (CAIRO_FORMAT_ARGB32, painting->width, painting->height);
  cairo_t *cr = cairo_create (surface);
  double scale = painting->width / sb_um_to_pt (view->page_width);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, scale, scale);
  sb_laid_enter_half (cr, view->view, painting->back, SB_PT_PER_INCH / SB_MM_PER_INCH);
  sb_painter_paint (painter, cr, 0, &options, NULL, NULL);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  gsize stride = (gsize)cairo_image_surface_get_stride (surface);
  g_autoptr (GBytes) bytes = g_bytes_new_with_free_func (
      cairo_image_surface_get_data (surface), stride * (gsize)painting->height,
      (GDestroyNotify)cairo_surface_destroy, surface);
  g_task_return_pointer (
      task,
      gdk_memory_texture_new (painting->width, painting->height, GDK_MEMORY_DEFAULT, bytes, stride),
      g_object_unref);
}

static void start (SbFoldedPreview *self);

static void
painted_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbFoldedPreview *self = SB_FOLDED_PREVIEW (source);

  self->running = FALSE;
  if (!self->view)
    return;
  g_clear_object (&self->texture);
  self->texture = g_task_propagate_pointer (G_TASK (result), NULL);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (self->again)
    start (self);
}

static void
start (SbFoldedPreview *self)
{
  self->again = self->running;
  if (self->again)
    return;
  int width = WIDTH_PX * gtk_widget_get_scale_factor (GTK_WIDGET (self));
  Painting *painting = g_new0 (Painting, 1);
  painting->view = sb_state_ref (self->view);
  painting->back = self->back;
  painting->width = width;
  painting->height = height_for (self->view, width);
  self->running = TRUE;

  g_autoptr (GTask) task = g_task_new (self, NULL, painted_cb, NULL);
  g_task_set_task_data (task, painting, (GDestroyNotify)painting_free);
  g_task_run_in_thread (task, paint_in_thread);
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

  if (!self->view || !self->texture)
    return;
  double scale =
      MIN (WIDTH_PX / (double)gdk_texture_get_width (self->texture),
           gtk_widget_get_height (widget) / (double)gdk_texture_get_height (self->texture));
  graphene_rect_t rect =
      GRAPHENE_RECT_INIT (0, 0, (float)(gdk_texture_get_width (self->texture) * scale),
                          (float)(gdk_texture_get_height (self->texture) * scale));
  GskRoundedRect outline;
  gsk_rounded_rect_init_from_rect (&outline, &rect, 0);
  gtk_snapshot_append_outset_shadow (snapshot, &outline, &(GdkRGBA){0, 0, 0, 0.3f}, 0, 1, 0, 3);
  gtk_snapshot_append_texture (snapshot, self->texture, &rect);
}

static void
sb_folded_preview_dispose (GObject *object)
{
  SbFoldedPreview *self = SB_FOLDED_PREVIEW (object);

  g_clear_object (&self->texture);
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
