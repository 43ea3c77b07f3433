/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What of the pointer, the wheel, two fingers and the space bar is not a drag: the rulers' mark,
 * zoom, the context menu, and panning while the bar is held. */
#include "config.h"

#include <math.h>

#include "window/canvas/canvas-drag.h"
#include "window/canvas/canvas-private.h"

/* The canvas owns it. */
typedef struct {
  SbCanvas *canvas;
  SbPagesView *pages;
  SbPoint pointer;
  double pinched; /* the factor that the fingers have come to */
} Input;

static void
motion_cb (Input *self, double x, double y)
{
  self->pointer = (SbPoint){x, y};
  sb_canvas_show_pointer (self->canvas, x, y);
}

static void
leave_cb (Input *self)
{
  sb_canvas_show_pointer (self->canvas, -1, -1);
}

static gboolean
scroll_cb (Input *self, double dx, double dy, GtkEventControllerScroll *controller)
{
  GdkModifierType state =
      gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller));

  if (!(state & GDK_CONTROL_MASK))
    return GDK_EVENT_PROPAGATE;
  sb_canvas_zoom_by (self->canvas, pow (1.12, -dy), self->pointer.x, self->pointer.y);
  return GDK_EVENT_STOP;
}

static void
pinch_begin_cb (Input *self)
{
  self->pinched = 1;
  sb_canvas_drag_cancel (self->pages);
}

static void
pinch_cb (Input *self, double factor, GtkGesture *gesture)
{
  SbPoint middle = sb_canvas_get_middle (self->canvas);

  gtk_gesture_get_bounding_box_center (gesture, &middle.x, &middle.y);
  sb_canvas_zoom_by (self->canvas, factor / self->pinched, middle.x, middle.y);
  self->pinched = factor;
}

static void
menu_cb (Input *self, int n_press, double x, double y)
{
  SbSelection *selection = sb_pages_view_get_selection (self->pages);
  SbPieceView *view = sb_pages_view_pick (self->pages, x, y);

  if (view && !sb_selection_contains (selection, sb_piece_view_get_piece (view)->id))
    sb_selection_set_piece (selection, sb_piece_view_get_piece (view)->id);
  sb_canvas_popup_menu (self->canvas, x, y);
}

static gboolean
key_cb (Input *self, guint key, guint code, GdkModifierType state)
{
  if (key != GDK_KEY_space || state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return GDK_EVENT_PROPAGATE;
  sb_canvas_drag_set_space (self->pages, TRUE);
  return GDK_EVENT_STOP;
}

static void
key_released_cb (Input *self, guint key)
{
  if (key == GDK_KEY_space)
    sb_canvas_drag_set_space (self->pages, FALSE);
}

static void
focus_out_cb (Input *self)
{
  sb_canvas_drag_set_space (self->pages, FALSE);
}

void
sb_canvas_input_attach (SbCanvas *canvas, GtkWidget *scrolled)
{
  Input *self = g_new0 (Input, 1);
  GtkWidget *pages = GTK_WIDGET (sb_canvas_get_pages_view (canvas));
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *scroll =
      gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_VERTICAL);
  GtkEventController *key = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkGesture *pinch = gtk_gesture_zoom_new ();
  GtkGesture *menu = gtk_gesture_click_new ();

  self->canvas = canvas;
  self->pages = SB_PAGES_VIEW (pages);
  self->pinched = 1;
  g_object_set_data_full (G_OBJECT (canvas), "sb-canvas-input", self, g_free);

  g_signal_connect_swapped (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect_swapped (motion, "leave", G_CALLBACK (leave_cb), self);
  gtk_widget_add_controller (pages, motion);

  g_signal_connect_swapped (scroll, "scroll", G_CALLBACK (scroll_cb), self);
  gtk_event_controller_set_propagation_phase (scroll, GTK_PHASE_CAPTURE);
  gtk_widget_add_controller (scrolled, scroll);

  g_signal_connect_swapped (pinch, "begin", G_CALLBACK (pinch_begin_cb), self);
  g_signal_connect_swapped (pinch, "scale-changed", G_CALLBACK (pinch_cb), self);
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (pinch), GTK_PHASE_CAPTURE);
  gtk_widget_add_controller (pages, GTK_EVENT_CONTROLLER (pinch));

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (menu), GDK_BUTTON_SECONDARY);
  g_signal_connect_swapped (menu, "pressed", G_CALLBACK (menu_cb), self);
  gtk_widget_add_controller (pages, GTK_EVENT_CONTROLLER (menu));

  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (key_cb), self);
  g_signal_connect_swapped (key, "key-released", G_CALLBACK (key_released_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (canvas), key);

  g_signal_connect_swapped (focus, "leave", G_CALLBACK (focus_out_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (canvas), focus);
}
