/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/cleanup/cleanup-view-private.h"

#define SCALE_MOST 32.0 /* one pixel of the picture is a square of this side */
#define FIT_MARGIN 24   /* px around a picture that is fitted */
#define CHECK_PX 8
#define SHOWN_PART 0.25 /* of the view that a small mark fills */

guint sb_cleanup_view_signals[SB_CLEANUP_N_SIGNALS];

G_DEFINE_FINAL_TYPE (SbCleanupView, sb_cleanup_view, GTK_TYPE_WIDGET)

SbPoint
sb_cleanup_view_to_screen (SbCleanupView *self, SbPoint picture)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self));
  double height = gtk_widget_get_height (GTK_WIDGET (self));

  return (SbPoint){width / 2 + (picture.x - self->middle.x) * self->scale,
                   height / 2 + (picture.y - self->middle.y) * self->scale};
}

SbPoint
sb_cleanup_view_to_picture (SbCleanupView *self, SbPoint screen)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self));
  double height = gtk_widget_get_height (GTK_WIDGET (self));

  return (SbPoint){self->middle.x + (screen.x - width / 2) / self->scale,
                   self->middle.y + (screen.y - height / 2) / self->scale};
}

static double
fit_scale (SbCleanupView *self)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self)) - 2 * FIT_MARGIN;
  double height = gtk_widget_get_height (GTK_WIDGET (self)) - 2 * FIT_MARGIN;

  if (self->width == 0 || width <= 0 || height <= 0)
    return 1;
  return MIN (MIN (width / self->width, height / self->height), SCALE_MOST);
}

static void
set_scale (SbCleanupView *self, double scale)
{
  scale = CLAMP (scale, MIN (fit_scale (self) / 2, 1), SCALE_MOST);
  if (scale == self->scale)
    return;
  self->scale = scale;
  g_signal_emit (self, sb_cleanup_view_signals[SB_CLEANUP_ZOOMED], 0);
}

/* The picture's edge may come to the middle of the view, and no further. */
void
sb_cleanup_view_move_to (SbCleanupView *self, SbPoint middle)
{
  self->middle.x = CLAMP (middle.x, 0, self->width);
  self->middle.y = CLAMP (middle.y, 0, self->height);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_cleanup_view_zoom_at (SbCleanupView *self, double scale, SbPoint screen)
{
  SbPoint before = sb_cleanup_view_to_picture (self, screen);

  self->fitted = FALSE;
  set_scale (self, scale);
  SbPoint after = sb_cleanup_view_to_picture (self, screen);
  sb_cleanup_view_move_to (
      self, (SbPoint){self->middle.x + before.x - after.x, self->middle.y + before.y - after.y});
}

void
sb_cleanup_view_set_scale (SbCleanupView *self, double scale)
{
  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));

  sb_cleanup_view_zoom_at (self, scale,
                           (SbPoint){gtk_widget_get_width (GTK_WIDGET (self)) / 2.0,
                                     gtk_widget_get_height (GTK_WIDGET (self)) / 2.0});
}

double
sb_cleanup_view_get_scale (SbCleanupView *self)
{
  g_return_val_if_fail (SB_IS_CLEANUP_VIEW (self), 1);
  return self->scale;
}

void
sb_cleanup_view_fit (SbCleanupView *self)
{
  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));

  self->fitted = TRUE;
  set_scale (self, fit_scale (self));
  sb_cleanup_view_move_to (self, (SbPoint){self->width / 2.0, self->height / 2.0});
}

void
sb_cleanup_view_show (SbCleanupView *self, const SbCleanupMark *mark)
{
  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));

  double x0 = mark->x0, y0 = mark->y0, x1 = mark->x1, y1 = mark->y1;
  double side = MAX (x1 - x0, y1 - y0) * self->width;
  double view =
      MIN (gtk_widget_get_width (GTK_WIDGET (self)), gtk_widget_get_height (GTK_WIDGET (self)));
  double near = CLAMP (SHOWN_PART * view / MAX (side, 1), self->scale, SCALE_MOST / 4);

  self->fitted = FALSE;
  set_scale (self, near);
  self->cursor = (SbPoint){(x0 + x1) / 2 * self->width, (y0 + y1) / 2 * self->width};
  sb_cleanup_view_move_to (self, self->cursor);
}

/* Painting */

static void
append_checks (GtkSnapshot *snapshot, const graphene_rect_t *rect)
{
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, rect);
  double x = rect->origin.x, y = rect->origin.y;

  cairo_rectangle (cr, x, y, rect->size.width, rect->size.height);
  cairo_clip (cr);
  cairo_set_source_rgb (cr, 0.95, 0.95, 0.95);
  cairo_paint (cr);
  cairo_set_source_rgb (cr, 0.8, 0.8, 0.8);
  int columns = (int)(rect->size.width / CHECK_PX) + 1, rows = (int)(rect->size.height / CHECK_PX);
  for (int row = 0; row <= rows; row++)
    for (int column = row % 2; column < columns; column += 2)
      cairo_rectangle (cr, x + column * CHECK_PX, y + row * CHECK_PX, CHECK_PX, CHECK_PX);
  cairo_fill (cr);
  cairo_destroy (cr);
}

static void
append_ground (SbCleanupView *self, GtkSnapshot *snapshot, const graphene_rect_t *rect)
{
  static const GdkRGBA white = {1, 1, 1, 1}, black = {0, 0, 0, 1}, grey = {0.5f, 0.5f, 0.5f, 1};
  graphene_rect_t view, seen;

  graphene_rect_init (&view, 0, 0, (float)gtk_widget_get_width (GTK_WIDGET (self)),
                      (float)gtk_widget_get_height (GTK_WIDGET (self)));
  if (!graphene_rect_intersection (rect, &view, &seen))
    return;
  switch (self->ground) {
  case SB_CLEANUP_GROUND_WHITE:
    gtk_snapshot_append_color (snapshot, &white, &seen);
    break;
  case SB_CLEANUP_GROUND_BLACK:
    gtk_snapshot_append_color (snapshot, &black, &seen);
    break;
  case SB_CLEANUP_GROUND_GREY:
    gtk_snapshot_append_color (snapshot, &grey, &seen);
    break;
  case SB_CLEANUP_GROUND_STOCK:
    gtk_snapshot_append_color (snapshot, &self->stock, &seen);
    break;
  case SB_CLEANUP_GROUND_CHECKS:
  default:
    append_checks (snapshot, &seen);
    break;
  }
}

static void
sb_cleanup_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbCleanupView *self = SB_CLEANUP_VIEW (widget);
  float width = (float)gtk_widget_get_width (widget),
        height = (float)gtk_widget_get_height (widget);
  graphene_rect_t view = GRAPHENE_RECT_INIT (0, 0, width, height);
  SbPoint corner = sb_cleanup_view_to_screen (self, (SbPoint){0, 0});
  graphene_rect_t rect =
      GRAPHENE_RECT_INIT ((float)corner.x, (float)corner.y, (float)(self->width * self->scale),
                          (float)(self->height * self->scale));
  gboolean before = self->show_before || self->before_key;
  SbPixels *pixels = before || !self->after ? self->before : self->after;

  if (!pixels)
    return;
  gtk_snapshot_push_clip (snapshot, &view);
  append_ground (self, snapshot, &rect);
  sb_pixels_append (pixels, widget, snapshot, &rect);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &view);
  sb_cleanup_marks_paint (self, cr);
  cairo_destroy (cr);
  gtk_snapshot_pop (snapshot);
}

/* Widget */

static void
sb_cleanup_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  SbCleanupView *self = SB_CLEANUP_VIEW (widget);

  if (self->fitted)
    sb_cleanup_view_fit (self);
}

static void
sb_cleanup_view_finalize (GObject *object)
{
  SbCleanupView *self = SB_CLEANUP_VIEW (object);

  g_clear_pointer (&self->before, sb_pixels_unref);
  g_clear_pointer (&self->after, sb_pixels_unref);
  g_array_unref (self->stroke);
  g_array_unref (self->marks);
  G_OBJECT_CLASS (sb_cleanup_view_parent_class)->finalize (object);
}

static void
sb_cleanup_view_class_init (SbCleanupViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GType type = SB_TYPE_CLEANUP_VIEW;
  guint *signals = sb_cleanup_view_signals;

  G_OBJECT_CLASS (klass)->finalize = sb_cleanup_view_finalize;
  widget_class->snapshot = sb_cleanup_view_snapshot;
  widget_class->size_allocate = sb_cleanup_view_size_allocate;
  gtk_widget_class_set_css_name (widget_class, "cleanupview");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);

  signals[SB_CLEANUP_STROKE] = g_signal_new ("stroke", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                             G_TYPE_NONE, 2, G_TYPE_POINTER, G_TYPE_UINT);
  signals[SB_CLEANUP_POINT] = g_signal_new ("point", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                            G_TYPE_NONE, 2, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
  signals[SB_CLEANUP_HANDLES_CHANGED] = g_signal_new ("handles-changed", type, G_SIGNAL_RUN_LAST, 0,
                                                      NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SB_CLEANUP_CURSOR] =
      g_signal_new ("cursor", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SB_CLEANUP_ZOOMED] =
      g_signal_new ("zoomed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sb_cleanup_view_init (SbCleanupView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  self->scale = 1;
  self->fitted = TRUE;
  self->pointer.x = -1;
  self->stock = (GdkRGBA){1, 1, 1, 1};
  self->stroke = g_array_new (FALSE, FALSE, sizeof (float));
  self->marks = g_array_new (FALSE, FALSE, sizeof (SbCleanupMark));
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_overflow (widget, GTK_OVERFLOW_HIDDEN);
  sb_cleanup_hand_add (self);
}

GtkWidget *
sb_cleanup_view_new (void)
{
  return g_object_new (SB_TYPE_CLEANUP_VIEW, NULL);
}

/* What is shown */

void
sb_cleanup_view_set_size (SbCleanupView *self, int width, int height)
{
  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));

  if (width == self->width && height == self->height)
    return;
  self->width = width;
  self->height = height;
  self->cursor = (SbPoint){width / 2.0, height / 2.0};
  sb_cleanup_view_fit (self);
}

static void
set_pixels (SbPixels **place, SbPixels *pixels)
{
  if (*place == pixels)
    return;
  g_clear_pointer (place, sb_pixels_unref);
  *place = pixels ? sb_pixels_ref (pixels) : NULL;
}

void
sb_cleanup_view_set_pixels (SbCleanupView *self, SbPixels *before, SbPixels *after)
{
  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));

  set_pixels (&self->before, before);
  set_pixels (&self->after, after);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_cleanup_view_set_before (SbCleanupView *self, gboolean before)
{
  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));

  self->show_before = before;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_cleanup_view_set_ground (SbCleanupView *self, SbCleanupGround ground)
{
  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));

  self->ground = ground;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_cleanup_view_set_stock (SbCleanupView *self, const GdkRGBA *stock)
{
  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));

  self->stock = *stock;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_cleanup_view_set_hand (SbCleanupView *self, SbCleanupHand hand)
{
  static const char *const cursors[] = {"grab", "none", "crosshair", "crosshair", "crosshair"};

  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));

  sb_cleanup_hand_lift (self, FALSE);
  self->hand = hand;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), cursors[hand]);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_cleanup_view_set_brush (SbCleanupView *self, double radius, const GdkRGBA *colour)
{
  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));

  self->radius = radius;
  self->colour = *colour;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_cleanup_view_set_marks (SbCleanupView *self, const SbCleanupMark *marks, guint n)
{
  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));

  g_array_set_size (self->marks, 0);
  if (n > 0)
    g_array_append_vals (self->marks, marks, n);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_cleanup_view_set_handles (SbCleanupView *self, const double *places, guint n, gboolean box)
{
  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));
  g_return_if_fail (n <= SB_CLEANUP_MOST_HANDLES);

  for (guint i = 0; i < 2 * n; i++)
    self->handles[i] = places[i];
  self->n_handles = n;
  self->handles_box = box;
  self->handle = 0;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

const double *
sb_cleanup_view_get_handles (SbCleanupView *self, guint *n)
{
  g_return_val_if_fail (SB_IS_CLEANUP_VIEW (self), NULL);

  *n = self->n_handles;
  return self->handles;
}

void
sb_cleanup_view_get_cursor (SbCleanupView *self, double *x, double *y)
{
  g_return_if_fail (SB_IS_CLEANUP_VIEW (self));

  *x = self->cursor.x / MAX (self->width, 1);
  *y = self->cursor.y / MAX (self->width, 1);
}
