/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Scrolling and zooming of the pages view. */
#include "config.h"

#include <math.h>

#include "window/canvas/pages-view-private.h"

static void
set_adjustment (SbPagesView *self, GtkOrientation orientation, double content, int view,
                double value)
{
  GtkAdjustment *adjustment = self->adjustments[orientation];

  if (adjustment)
    gtk_adjustment_configure (adjustment, value, 0, MAX (content, view), view * 0.1, view * 0.9,
                              view);
}

static void
read_adjustments (SbPagesView *self)
{
  if (self->adjustments[0])
    self->layout.scroll_x = floor (gtk_adjustment_get_value (self->adjustments[0]) + 0.5);
  if (self->adjustments[1])
    self->layout.scroll_y = floor (gtk_adjustment_get_value (self->adjustments[1]) + 0.5);
}

void
sb_pages_view_configure_adjustments (SbPagesView *self, double scroll_x, double scroll_y)
{
  double width, height;

  sb_pages_layout_get_size (&self->layout, &width, &height);
  set_adjustment (self, GTK_ORIENTATION_HORIZONTAL, width, self->layout.view_width, scroll_x);
  set_adjustment (self, GTK_ORIENTATION_VERTICAL, height, self->layout.view_height, scroll_y);
  read_adjustments (self);
}

static gboolean
tell_layout_cb (gpointer data)
{
  SbPagesView *self = data;

  self->told_source = 0;
  sb_pages_view_tell_layout (self);
  return G_SOURCE_REMOVE;
}

/* Whoever listens may ask for a new allocation, which is lost in the middle of one. */
void
sb_pages_view_layout_changed (SbPagesView *self)
{
  sb_pages_view_drop_nodes (self);
  if (!self->allocating) {
    gtk_widget_queue_allocate (GTK_WIDGET (self));
    sb_pages_view_tell_layout (self);
  } else if (self->told_source == 0) {
    self->told_source = g_idle_add_full (G_PRIORITY_HIGH_IDLE, tell_layout_cb, self, NULL);
  }
}

static void
value_changed_cb (SbPagesView *self)
{
  double x = self->layout.scroll_x, y = self->layout.scroll_y;

  read_adjustments (self);
  if (x != self->layout.scroll_x || y != self->layout.scroll_y)
    sb_pages_view_layout_changed (self);
}

void
sb_pages_view_take_adjustment (SbPagesView *self, GtkOrientation orientation,
                               GtkAdjustment *adjustment)
{
  if (self->adjustments[orientation])
    g_signal_handlers_disconnect_by_data (self->adjustments[orientation], self);
  g_clear_object (&self->adjustments[orientation]);
  if (!adjustment)
    return;
  self->adjustments[orientation] = g_object_ref_sink (adjustment);
  g_signal_connect_swapped (adjustment, "value-changed", G_CALLBACK (value_changed_cb), self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

/* In a run of zooms about one point the same spot is held, though pages that are smaller than the
 * view lie in its middle meanwhile. */
static void
hold_spot (SbPagesView *self, double view_x, double view_y)
{
  if (self->held_at.x == view_x && self->held_at.y == view_y &&
      self->held_scroll.x == self->layout.scroll_x && self->held_scroll.y == self->layout.scroll_y)
    return;
  self->held = sb_pages_layout_get_spot (&self->layout, view_x, view_y);
  self->held_at = (SbPoint){view_x, view_y};
}

static void
apply_scale (SbPagesView *self, double scale, double view_x, double view_y)
{
  double scroll_x, scroll_y;

  if (scale == self->layout.scale)
    return;
  hold_spot (self, view_x, view_y);
  sb_pages_layout_hold_spot (self->held, scale, view_x, view_y, &scroll_x, &scroll_y);
  self->layout.scale = scale;
  sb_pages_view_configure_adjustments (self, scroll_x, scroll_y);
  self->held_scroll = (SbPoint){self->layout.scroll_x, self->layout.scroll_y};
  for (guint i = 0; i < self->drawn->len; i++)
    sb_piece_view_set_scale (self->drawn->pdata[i], scale);
  sb_bakery_forget_waiting (self->bakery);
  sb_pages_view_bake_later (self);
  sb_pages_view_layout_changed (self);
}

void
sb_pages_view_fit_once (SbPagesView *self, guint page)
{
  SbPagesLayout *layout = &self->layout;

  if (layout->view_width <= 1 || layout->view_height <= 1 || layout->n_pages == 0)
    return;
  apply_scale (self, sb_pages_layout_get_fit_scale (layout), layout->view_width / 2.0,
               layout->view_height / 2.0);
  sb_pages_view_show_page (self, page);
}

void
sb_pages_view_set_scale (SbPagesView *self, double scale, double view_x, double view_y)
{
  self->fitting = FALSE;
  apply_scale (self, scale, view_x, view_y);
}

void
sb_pages_view_fit (SbPagesView *self, guint page)
{
  self->fitting = TRUE;
  sb_pages_view_fit_once (self, page);
}

gboolean
sb_pages_view_is_fitting (SbPagesView *self)
{
  return self->fitting;
}

void
sb_pages_view_show_page (SbPagesView *self, guint page)
{
  SbPoint origin = sb_pages_layout_get_origin (&self->layout, page);

  sb_pages_view_scroll_by (self, 0,
                           origin.y - sb_um_to_mm (SB_PAGES_SPACE_UM) * self->layout.scale);
}

void
sb_pages_view_scroll_by (SbPagesView *self, double dx, double dy)
{
  for (int i = 0; i < 2; i++)
    if (self->adjustments[i])
      gtk_adjustment_set_value (self->adjustments[i],
                                gtk_adjustment_get_value (self->adjustments[i]) +
                                    (i == GTK_ORIENTATION_HORIZONTAL ? dx : dy));
}

/* How far to scroll so that lo..hi comes within 0..size; its start wins when it is larger. */
static double
reach (double lo, double hi, double size)
{
  if (lo < 0 || hi - lo > size)
    return lo;
  return hi > size ? hi - size : 0;
}

void
sb_pages_view_scroll_to (SbPagesView *self, guint page, SbBox box_um)
{
  const double space = 12;
  SbPoint a = sb_pages_layout_to_view (&self->layout, page, box_um.x0, box_um.y0);
  SbPoint b = sb_pages_layout_to_view (&self->layout, page, box_um.x1, box_um.y1);

  sb_pages_view_scroll_by (self, reach (a.x - space, b.x + space, self->layout.view_width),
                           reach (a.y - space, b.y + space, self->layout.view_height));
}
