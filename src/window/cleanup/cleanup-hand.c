/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The tool in the hand: pointer, wheel, pinch and keys. */
#include "config.h"

#include <math.h>

#include "window/cleanup/cleanup-view-private.h"

#define WHEEL_STEP 1.12
#define WHEEL_PX 60 /* a notch of the wheel moves the picture by this */
#define KEY_ZOOM 1.25
#define KEY_PX 8         /* an arrow key steers the tool by this, ... */
#define KEY_FINE_PX 1    /* ... with Ctrl by this, ... */
#define KEY_FAR_PX 48    /* ... with Shift by this */
#define REACH_PX 28      /* a handle is taken from this far */
#define CLICK_PX 4       /* a press that moved less is a click */
#define STROKE_PX 1.5    /* places of a stroke are farther apart */
#define STROKE_MOST 4000 /* places; what comes after them is not drawn */

static gboolean
draws (SbCleanupView *self)
{
  return self->hand == SB_CLEANUP_HAND_BRUSHES || self->hand == SB_CLEANUP_HAND_LASSO;
}

static gboolean
points (SbCleanupView *self)
{
  return self->hand == SB_CLEANUP_HAND_POINTS;
}

/* Strokes */

static void
extend (SbCleanupView *self, SbPoint picture)
{
  float x = (float)(picture.x / self->width), y = (float)(picture.y / self->width);
  guint n = self->stroke->len;

  if (n >= 2) {
    double dx = x - g_array_index (self->stroke, float, n - 2);
    double dy = y - g_array_index (self->stroke, float, n - 1);
    if (hypot (dx, dy) * self->width * self->scale < STROKE_PX || n >= 2 * STROKE_MOST)
      return;
  }
  g_array_append_val (self->stroke, x);
  g_array_append_val (self->stroke, y);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* Ends the stroke under way. */
void
sb_cleanup_hand_lift (SbCleanupView *self, gboolean keep)
{
  g_autoptr (GArray) stroke = self->stroke;

  self->key_down = FALSE;
  self->stroke = g_array_new (FALSE, FALSE, sizeof (float));
  if (keep && stroke->len > 0)
    g_signal_emit (self, sb_cleanup_view_signals[SB_CLEANUP_STROKE], 0, stroke->data,
                   stroke->len / 2);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
point (SbCleanupView *self, SbPoint picture)
{
  if (picture.x >= 0 && picture.y >= 0 && picture.x <= self->width && picture.y <= self->height)
    g_signal_emit (self, sb_cleanup_view_signals[SB_CLEANUP_POINT], 0, picture.x / self->width,
                   picture.y / self->width);
}

/* Handles */

static void
move_handle (SbCleanupView *self, SbPoint picture)
{
  self->handles[2 * self->handle] = CLAMP (picture.x, 0, self->width) / self->width;
  self->handles[2 * self->handle + 1] = CLAMP (picture.y, 0, self->height) / self->width;
  g_signal_emit (self, sb_cleanup_view_signals[SB_CLEANUP_HANDLES_CHANGED], 0);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static SbPoint
handle_place (SbCleanupView *self, guint i)
{
  return (SbPoint){self->handles[2 * i] * self->width, self->handles[2 * i + 1] * self->width};
}

static gboolean
take_handle (SbCleanupView *self, SbPoint screen)
{
  double best = REACH_PX;
  gboolean found = FALSE;

  for (guint i = 0; i < self->n_handles; i++) {
    SbPoint at = sb_cleanup_view_to_screen (self, handle_place (self, i));
    double away = hypot (at.x - screen.x, at.y - screen.y);
    if (away < best) {
      best = away;
      self->handle = i;
      found = TRUE;
    }
  }
  return found;
}

/* Pointer */

static void
drag_begin_cb (SbCleanupView *self, double x, double y, GtkGestureDrag *gesture)
{
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (button == GDK_BUTTON_SECONDARY || self->width == 0) {
    gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_DENIED);
    return;
  }
  self->steering = FALSE;
  self->drag_middle = self->middle;
  self->drag_handle.x = -1;
  if (button == GDK_BUTTON_MIDDLE)
    return;
  if (draws (self)) {
    sb_cleanup_hand_lift (self, FALSE);
    extend (self, sb_cleanup_view_to_picture (self, (SbPoint){x, y}));
  } else if (self->hand == SB_CLEANUP_HAND_HANDLES && take_handle (self, (SbPoint){x, y})) {
    self->drag_handle = handle_place (self, self->handle);
    gtk_widget_queue_draw (GTK_WIDGET (self));
  }
}

static void
drag_update_cb (SbCleanupView *self, double dx, double dy, GtkGestureDrag *gesture)
{
  double x, y;

  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  if (self->stroke->len > 0) {
    extend (self, sb_cleanup_view_to_picture (self, (SbPoint){x + dx, y + dy}));
  } else if (self->drag_handle.x >= 0) {
    move_handle (self, (SbPoint){self->drag_handle.x + dx / self->scale,
                                 self->drag_handle.y + dy / self->scale});
  } else if (hypot (dx, dy) >= CLICK_PX || !points (self)) {
    self->fitted = FALSE;
    sb_cleanup_view_move_to (self, (SbPoint){self->drag_middle.x - dx / self->scale,
                                             self->drag_middle.y - dy / self->scale});
  }
}

static void
drag_end_cb (SbCleanupView *self, double dx, double dy, GtkGestureDrag *gesture)
{
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));
  double x, y;

  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  if (self->stroke->len > 0)
    sb_cleanup_hand_lift (self, TRUE);
  else if (points (self) && button == GDK_BUTTON_PRIMARY && hypot (dx, dy) < CLICK_PX)
    point (self, sb_cleanup_view_to_picture (self, (SbPoint){x, y}));
}

static void
motion_cb (SbCleanupView *self, double x, double y)
{
  /* A steered brush stays where it was steered until the pointer really moves. */
  if (self->pointer.x >= 0 && hypot (x - self->pointer.x, y - self->pointer.y) >= 1 &&
      !self->key_down)
    self->steering = FALSE;
  self->pointer = (SbPoint){x, y};
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
leave_cb (SbCleanupView *self)
{
  self->pointer.x = -1;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
scroll_cb (SbCleanupView *self, double dx, double dy, GtkEventControllerScroll *controller)
{
  GdkModifierType state =
      gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller));

  if (state & GDK_CONTROL_MASK) {
    sb_cleanup_view_zoom_at (self, self->scale * pow (WHEEL_STEP, -dy), self->pointer);
    return GDK_EVENT_STOP;
  }
  if (state & GDK_SHIFT_MASK) {
    dx = dy;
    dy = 0;
  }
  self->fitted = FALSE;
  sb_cleanup_view_move_to (self, (SbPoint){self->middle.x + dx * WHEEL_PX / self->scale,
                                           self->middle.y + dy * WHEEL_PX / self->scale});
  return GDK_EVENT_STOP;
}

static void
pinch_begin_cb (SbCleanupView *self)
{
  sb_cleanup_hand_lift (self, FALSE);
  self->pinch_scale = self->scale;
}

static void
pinch_cb (SbCleanupView *self, double factor, GtkGesture *gesture)
{
  SbPoint middle = {0, 0};

  gtk_gesture_get_bounding_box_center (gesture, &middle.x, &middle.y);
  sb_cleanup_view_zoom_at (self, self->pinch_scale * factor, middle);
}

/* Keys */

/* What is steered stays in view. */
static void
keep_in_view (SbCleanupView *self, SbPoint picture)
{
  double half_width = gtk_widget_get_width (GTK_WIDGET (self)) / 2.0 / self->scale;
  double half_height = gtk_widget_get_height (GTK_WIDGET (self)) / 2.0 / self->scale;
  SbPoint middle = {
      CLAMP (self->middle.x, picture.x - half_width, picture.x + half_width),
      CLAMP (self->middle.y, picture.y - half_height, picture.y + half_height),
  };

  if (middle.x != self->middle.x || middle.y != self->middle.y)
    sb_cleanup_view_move_to (self, middle);
}

static void
steer (SbCleanupView *self, double dx, double dy, GdkModifierType state)
{
  double step = state & GDK_CONTROL_MASK ? KEY_FINE_PX
                : state & GDK_SHIFT_MASK ? KEY_FAR_PX
                                         : KEY_PX;

  dx *= step / self->scale;
  dy *= step / self->scale;
  if (self->hand == SB_CLEANUP_HAND_HANDLES && self->n_handles > 0) {
    SbPoint at = handle_place (self, self->handle);
    move_handle (self, (SbPoint){at.x + dx, at.y + dy});
    keep_in_view (self, handle_place (self, self->handle));
  } else if (self->hand == SB_CLEANUP_HAND_MOVES) {
    self->fitted = FALSE;
    sb_cleanup_view_move_to (self, (SbPoint){self->middle.x + dx * KEY_FAR_PX / KEY_PX,
                                             self->middle.y + dy * KEY_FAR_PX / KEY_PX});
  } else {
    self->steering = TRUE;
    self->cursor.x = CLAMP (self->cursor.x + dx, 0, self->width);
    self->cursor.y = CLAMP (self->cursor.y + dy, 0, self->height);
    if (self->key_down)
      extend (self, self->cursor);
    keep_in_view (self, self->cursor);
  }
  g_signal_emit (self, sb_cleanup_view_signals[SB_CLEANUP_CURSOR], 0);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* Puts the brush down or lifts it, points, or goes on to the next handle. */
static void
use_tool (SbCleanupView *self)
{
  if (self->hand == SB_CLEANUP_HAND_HANDLES && self->n_handles > 0) {
    self->handle = (self->handle + 1) % self->n_handles;
    keep_in_view (self, handle_place (self, self->handle));
  } else if (points (self)) {
    self->steering = TRUE;
    point (self, self->cursor);
  } else if (self->key_down) {
    sb_cleanup_hand_lift (self, TRUE);
  } else if (draws (self)) {
    self->steering = self->key_down = TRUE;
    extend (self, self->cursor);
  }
  g_signal_emit (self, sb_cleanup_view_signals[SB_CLEANUP_CURSOR], 0);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
key_pressed_cb (SbCleanupView *self, guint key, guint code, GdkModifierType state)
{
  static const struct {
    guint key;
    double dx, dy;
  } arrows[] = {
      {GDK_KEY_Left, -1, 0},    {GDK_KEY_KP_Left, -1, 0}, {GDK_KEY_Right, 1, 0},
      {GDK_KEY_KP_Right, 1, 0}, {GDK_KEY_Up, 0, -1},      {GDK_KEY_KP_Up, 0, -1},
      {GDK_KEY_Down, 0, 1},     {GDK_KEY_KP_Down, 0, 1},
  };

  for (guint i = 0; self->width > 0 && i < G_N_ELEMENTS (arrows); i++)
    if (arrows[i].key == key && !(state & GDK_ALT_MASK)) {
      steer (self, arrows[i].dx, arrows[i].dy, state);
      return GDK_EVENT_STOP;
    }
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return GDK_EVENT_PROPAGATE;
  switch (key) {
  case GDK_KEY_space:
  case GDK_KEY_Return:
  case GDK_KEY_KP_Enter:
    use_tool (self);
    return GDK_EVENT_STOP;
  case GDK_KEY_Escape:
    if (self->stroke->len == 0)
      return GDK_EVENT_PROPAGATE;
    sb_cleanup_hand_lift (self, FALSE);
    return GDK_EVENT_STOP;
  case GDK_KEY_b:
  case GDK_KEY_B:
    self->before_key = TRUE;
    gtk_widget_queue_draw (GTK_WIDGET (self));
    return GDK_EVENT_STOP;
  case GDK_KEY_plus:
  case GDK_KEY_equal:
  case GDK_KEY_KP_Add:
    sb_cleanup_view_set_scale (self, self->scale * KEY_ZOOM);
    return GDK_EVENT_STOP;
  case GDK_KEY_minus:
  case GDK_KEY_KP_Subtract:
    sb_cleanup_view_set_scale (self, self->scale / KEY_ZOOM);
    return GDK_EVENT_STOP;
  default:
    return GDK_EVENT_PROPAGATE;
  }
}

static void
key_released_cb (SbCleanupView *self, guint key)
{
  if (key != GDK_KEY_b && key != GDK_KEY_B)
    return;
  self->before_key = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
focus_cb (SbCleanupView *self)
{
  self->before_key = FALSE;
  if (self->key_down)
    sb_cleanup_hand_lift (self, FALSE);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_cleanup_hand_add (SbCleanupView *self)
{
  GtkGesture *drag = gtk_gesture_drag_new (), *pinch = gtk_gesture_zoom_new ();
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *scroll =
      gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkWidget *widget = GTK_WIDGET (self);

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), 0);
  g_signal_connect_swapped (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect_swapped (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect_swapped (drag, "drag-end", G_CALLBACK (drag_end_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));
  g_signal_connect_swapped (pinch, "begin", G_CALLBACK (pinch_begin_cb), self);
  g_signal_connect_swapped (pinch, "scale-changed", G_CALLBACK (pinch_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (pinch));
  g_signal_connect_swapped (motion, "enter", G_CALLBACK (motion_cb), self);
  g_signal_connect_swapped (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect_swapped (motion, "leave", G_CALLBACK (leave_cb), self);
  gtk_widget_add_controller (widget, motion);
  g_signal_connect_swapped (scroll, "scroll", G_CALLBACK (scroll_cb), self);
  gtk_widget_add_controller (widget, scroll);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  g_signal_connect_swapped (keys, "key-released", G_CALLBACK (key_released_cb), self);
  gtk_widget_add_controller (widget, keys);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (focus_cb), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (focus_cb), self);
  gtk_widget_add_controller (widget, focus);
}
