/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The pointer on the points of an outline: dragged, and added by a double click. */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/edit.h"
#include "window/canvas/hand-point.h"
#include "window/canvas/hand-private.h"

#define NEAR_PX 12    /* a double click this near to the outline adds a point */
#define ON_POINT_PX 4 /* but not this near to one */

/* The point whose middle is nearest, and nearer than `least` px; FALSE for none. */
static gboolean
pick_point (SbHandEdit *self, double x, double y, double least, guint *point)
{
  gboolean found = FALSE;

  for (guint i = 0; i < self->views->len; i++) {
    double px, py;
    if (!sb_hand_edit_get_place (self, i, &px, &py) || hypot (px - x, py - y) >= least)
      continue;
    least = hypot (px - x, py - y);
    *point = i;
    found = TRUE;
  }
  return found;
}

/* Is this place of the view on the outline, as near as a pointer can be? */
static gboolean
is_near_outline (SbHandEdit *self, const SbHandSubject *subject, double x, double y)
{
  g_autoptr (SbPolygon) outline = sb_piece_get_outline (subject->design, subject->piece);
  const SbPagesLayout *layout = sb_pages_view_get_layout (self->pages);
  SbPoint um;

  sb_pages_layout_to_page (layout, subject->page, (SbPoint){x, y}, &um.x, &um.y);
  double reach = NEAR_PX * SB_UM_PER_MM / layout->scale;
  for (guint i = 0; i < sb_polygon_get_n_loops (outline); i++) {
    const SbLoop *loop = sb_polygon_get_loop (outline, i);
    for (guint k = 0; k < loop->n_points; k++) {
      SbIPoint a = loop->points[k], b = loop->points[(k + 1) % loop->n_points];
      double dx = b.x - a.x, dy = b.y - a.y;
      double t = ((um.x - a.x) * dx + (um.y - a.y) * dy) / (dx * dx + dy * dy);
      t = CLAMP (t, 0, 1);
      if (hypot (a.x + t * dx - um.x, a.y + t * dy - um.y) < reach)
        return TRUE;
    }
  }
  return FALSE;
}

static void
press_cb (SbHandEdit *self, int n_press, double x, double y)
{
  SbHandSubject subject;
  guint point;

  if (n_press == 2 && sb_hand_edit_find_subject (self, &subject) &&
      is_near_outline (self, &subject, x, y) && !pick_point (self, x, y, ON_POINT_PX, &point))
    sb_hand_edit_add_near (self, &subject, sb_hand_edit_from_view (self, &subject, x, y));
}

static void
drag_begin_cb (SbHandEdit *self, double x, double y, GtkGestureDrag *gesture)
{
  SbHandSubject subject;
  SbPoint at;

  if (!sb_hand_edit_find_subject (self, &subject))
    return;
  self->held = pick_point (self, x, y, SB_HAND_POINT_PX / 2.0, &self->dragged);
  if (!self->held && !is_near_outline (self, &subject, x, y)) {
    /* The press is the canvas's, which may select another piece. */
    gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_DENIED);
    sb_hand_edit_end (self);
    return;
  }
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  if (!self->held)
    return;
  sb_hand_edit_get_place (self, self->dragged, &at.x, &at.y);
  self->grip = (SbPoint){at.x - x, at.y - y};
  sb_hand_edit_focus_point (self, self->dragged);
}

/* The hand with the dragged point under the pointer; FALSE where it cannot be there. */
static gboolean
drag_to (SbHandEdit *self, double dx, double dy, GtkGestureDrag *gesture, SbHandSubject *subject,
         SbHand **hand)
{
  double x, y;

  if (!sb_hand_edit_find_subject (self, subject) ||
      !gtk_gesture_drag_get_start_point (gesture, &x, &y))
    return FALSE;
  SbDesign *design = sb_hand_edit_get_settled_design (self, subject);
  SbPoint to = sb_hand_edit_from_view (self, subject, x + dx + self->grip.x, y + dy + self->grip.y);
  return sb_hand_move (design->hand, sb_growth_get_grown (design->growth), self->dragged, to, hand);
}

static void
drag_update_cb (SbHandEdit *self, double dx, double dy, GtkGestureDrag *gesture)
{
  g_autoptr (SbHand) hand = NULL;
  SbHandSubject subject;

  if (!self->held ||
      (!self->dragging && !gtk_drag_check_threshold (GTK_WIDGET (self), 0, 0, (int)dx, (int)dy)))
    return;
  self->dragging = TRUE;
  /* Where the outline would cross itself it stays as it last was. */
  if (!drag_to (self, dx, dy, gesture, &subject, &hand))
    return;
  SbJob *job = sb_pages_view_get_job (self->pages);
  sb_job_preview (job, sb_edit_set_hand (sb_job_get_settled_state (job), subject.design->id, hand));
}

static void
drag_end_cb (SbHandEdit *self, double dx, double dy, GtkGestureDrag *gesture)
{
  SbHandSubject subject;

  if (!self->dragging || !sb_hand_edit_find_subject (self, &subject))
    return;
  self->dragging = FALSE;
  /* What is shown is what was possible last. */
  g_autoptr (SbHand) hand = subject.design->hand ? sb_hand_ref (subject.design->hand) : NULL;
  sb_hand_edit_take (self, &subject, hand, _ ("Outline of %s"), NULL);
}

void
sb_hand_edit_give_up_drag (SbHandEdit *self)
{
  SbJob *job = sb_pages_view_get_job (self->pages);

  if (self->dragging && job)
    sb_job_drop_preview (job);
  self->dragging = FALSE;
}

void
sb_hand_edit_add_pointer (SbHandEdit *self)
{
  GtkGesture *drag = gtk_gesture_drag_new (), *click = gtk_gesture_click_new ();

  g_signal_connect_swapped (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect_swapped (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect_swapped (drag, "drag-end", G_CALLBACK (drag_end_cb), self);
  g_signal_connect_swapped (drag, "cancel", G_CALLBACK (sb_hand_edit_give_up_drag), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (press_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  /* One takes a press for both. */
  gtk_gesture_group (drag, click);
}
