/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every update of a drag starts from the settled state and the places at its beginning, so nothing
 * adds up: pressing and letting go of Ctrl, Shift and Alt in the middle shows at once what it
 * means. */
#include "config.h"

#include <math.h>

#include "window/canvas/drag-private.h"

#define THRESHOLD_PX 4
#define EDGE_PX 16 /* this near the view's edge a drag scrolls */

static void update (SbDrag *drag);
static void give_up (SbDrag *drag);

static SbDrag *
get_drag (SbPagesView *view)
{
  return g_object_get_data (G_OBJECT (view), "sb-canvas-drag");
}

char *
sb_canvas_drag_name_edit (const SbState *state, const guint *ids, guint n, const char *one,
                          const char *many)
{
  const SbPiece *piece = n == 1 ? sb_state_get_piece (state, ids[0], NULL) : NULL;

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  if (piece)
    return g_strdup_printf (one, sb_state_get_design (state, piece->design_id)->name);
  return g_strdup_printf (many, n);
#pragma GCC diagnostic pop
}

/* Beginning */

static void
forget (SbDrag *drag)
{
  g_clear_pointer (&drag->starts, g_array_unref);
  g_clear_pointer (&drag->ids, g_array_unref);
  g_clear_pointer (&drag->moving, g_hash_table_unref);
  g_clear_pointer (&drag->shape, sb_polygon_unref);
  g_clear_pointer (&drag->cache, sb_snap_cache_free);
  g_clear_pointer (&drag->fit, sb_fit_area_free);
  g_clear_pointer (&drag->stretches, g_array_unref);
  g_clear_pointer (&drag->places, g_array_unref);
  g_clear_pointer (&drag->band_before, g_array_unref);
  drag->turn = 0;
  if (drag->tick)
    gtk_widget_remove_tick_callback (GTK_WIDGET (drag->view), drag->tick);
  drag->tick = 0;
  drag->mode = SB_DRAG_NONE;
  drag->moved = FALSE;
}

static void
clear_marks (SbDrag *drag)
{
  SbMarks *marks = sb_pages_view_get_marks (drag->view);

  sb_marks_set_guides (marks, 0, NULL, 0);
  sb_marks_set_band (marks, NULL);
  sb_marks_set_told (marks, NULL);
  sb_marks_set_group_frame (marks, NULL);
  sb_marks_set_dragging (marks, FALSE);
  sb_pages_view_set_lifted (drag->view, FALSE);
  sb_pages_view_set_fit (drag->view, NULL);
  gtk_widget_set_cursor (GTK_WIDGET (drag->view), NULL);
}

void
sb_drag_collect_starts (SbDrag *drag)
{
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (drag->view));
  guint n;
  const guint *ids = sb_selection_get_pieces (sb_pages_view_get_selection (drag->view), &n);

  drag->starts = g_array_new (FALSE, FALSE, sizeof (SbDragStart));
  drag->ids = g_array_new (FALSE, FALSE, sizeof (guint));
  drag->moving = g_hash_table_new (NULL, NULL);
  for (guint i = 0; i < n; i++) {
    SbDragStart start;
    const SbPiece *piece = sb_state_get_piece (state, ids[i], &start.page);
    if (!piece)
      continue;
    start.piece = *piece;
    g_array_append_val (drag->starts, start);
    g_array_append_val (drag->ids, ids[i]);
    g_hash_table_add (drag->moving, GUINT_TO_POINTER (ids[i]));
  }
}

static gboolean
tick_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  SbDrag *drag = data;
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);
  SbPoint at = {drag->press.x + drag->offset.x, drag->press.y + drag->offset.y};
  double scroll_x = layout->scroll_x, scroll_y = layout->scroll_y, dx = 0, dy = 0;

  if (at.x < EDGE_PX)
    dx = at.x - EDGE_PX;
  else if (at.x > layout->view_width - EDGE_PX)
    dx = at.x - (layout->view_width - EDGE_PX);
  if (at.y < EDGE_PX)
    dy = at.y - EDGE_PX;
  else if (at.y > layout->view_height - EDGE_PX)
    dy = at.y - (layout->view_height - EDGE_PX);
  if (dx == 0 && dy == 0)
    return G_SOURCE_CONTINUE;
  sb_pages_view_scroll_by (drag->view, CLAMP (dx, -30, 30), CLAMP (dy, -30, 30));
  if (scroll_x != layout->scroll_x || scroll_y != layout->scroll_y)
    update (drag);
  return G_SOURCE_CONTINUE;
}

static void
begin_band (SbDrag *drag)
{
  SbSelection *selection = sb_pages_view_get_selection (drag->view);
  guint n = 0;
  const guint *ids = NULL;

  drag->band_before = g_array_new (FALSE, FALSE, sizeof (guint));
  if (drag->modifiers & (GDK_SHIFT_MASK | GDK_CONTROL_MASK))
    ids = sb_selection_get_pieces (selection, &n);
  if (n > 0)
    g_array_append_vals (drag->band_before, ids, n);
}

/* What the pointer drags past the threshold. */
static void
begin_moving (SbDrag *drag)
{
  drag->moved = TRUE;
  switch (drag->mode) {
  case SB_DRAG_MOVE:
    sb_drag_begin_move (drag);
    break;
  case SB_DRAG_TURN:
    sb_drag_collect_starts (drag);
    break;
  case SB_DRAG_RESIZE:
    sb_drag_begin_resize (drag);
    break;
  case SB_DRAG_BAND:
    begin_band (drag);
    break;
  case SB_DRAG_PAN:
    gtk_widget_set_cursor_from_name (GTK_WIDGET (drag->view), "grabbing");
    break;
  case SB_DRAG_NONE:
  default:
    break;
  }
  if (drag->mode == SB_DRAG_MOVE || drag->mode == SB_DRAG_BAND)
    drag->tick = gtk_widget_add_tick_callback (GTK_WIDGET (drag->view), tick_cb, drag, NULL);
}

/* The rubber band */

static void
update_band (SbDrag *drag)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);
  g_autoptr (GPtrArray) list = sb_pages_view_list (drag->view);
  g_autoptr (GArray) ids = g_array_copy (drag->band_before);
  double x = drag->press.x - (layout->scroll_x - drag->scroll.x);
  double y = drag->press.y - (layout->scroll_y - drag->scroll.y);
  graphene_rect_t band =
      GRAPHENE_RECT_INIT ((float)x, (float)y, (float)(drag->press.x + drag->offset.x - x),
                          (float)(drag->press.y + drag->offset.y - y));

  graphene_rect_normalize (&band);
  sb_marks_set_band (sb_pages_view_get_marks (drag->view), &band);
  for (guint i = 0; i < list->len; i++) {
    SbPieceView *view = list->pdata[i];
    const SbPiece *piece = sb_piece_view_get_piece (view);
    SbIBox box = sb_polygon_get_box (sb_piece_view_get_outline (view));
    guint page = sb_piece_view_get_page (view);
    SbPoint a = sb_pages_layout_to_view (layout, page, box.x0, box.y0);
    SbPoint b = sb_pages_layout_to_view (layout, page, box.x1, box.y1);
    graphene_rect_t rect =
        GRAPHENE_RECT_INIT ((float)a.x, (float)a.y, (float)(b.x - a.x), (float)(b.y - a.y));

    if (graphene_rect_intersection (&band, &rect, NULL))
      g_array_append_val (ids, piece->id);
  }
  sb_selection_set_pieces (sb_pages_view_get_selection (drag->view),
                           (const guint *)(void *)ids->data, ids->len);
}

/* The gesture */

static void
update (SbDrag *drag)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);

  switch (drag->mode) {
  case SB_DRAG_MOVE:
    sb_drag_update_move (drag);
    break;
  case SB_DRAG_TURN:
    sb_drag_update_turn (drag);
    break;
  case SB_DRAG_RESIZE:
    sb_drag_update_resize (drag);
    break;
  case SB_DRAG_BAND:
    update_band (drag);
    break;
  case SB_DRAG_PAN:
    sb_pages_view_scroll_by (drag->view, drag->scroll.x - drag->offset.x - layout->scroll_x,
                             drag->scroll.y - drag->offset.y - layout->scroll_y);
    break;
  case SB_DRAG_NONE:
  default:
    break;
  }
}

static SbDragMode
press_piece (SbDrag *drag, SbPieceView *view)
{
  SbSelection *selection = sb_pages_view_get_selection (drag->view);
  guint id = sb_piece_view_get_piece (view)->id;

  drag->grabbed = id;
  drag->toggled = FALSE;
  if (drag->modifiers & GDK_SHIFT_MASK && !sb_selection_contains (selection, id)) {
    sb_selection_toggle_piece (selection, id);
    drag->toggled = TRUE;
  } else if (!sb_selection_contains (selection, id) && !(drag->modifiers & GDK_CONTROL_MASK)) {
    sb_selection_set_piece (selection, id);
    drag->toggled = TRUE;
  }
  gtk_widget_grab_focus (GTK_WIDGET (view));
  return SB_DRAG_MOVE;
}

static SbDragMode
choose_mode (SbDrag *drag, guint button)
{
  SbHandle handle = SB_HANDLE_NONE;

  if (button == GDK_BUTTON_MIDDLE || (button == GDK_BUTTON_PRIMARY && drag->space))
    return SB_DRAG_PAN;
  if (button != GDK_BUTTON_PRIMARY ||
      sb_pages_view_is_over_plate (drag->view, drag->press.x, drag->press.y))
    return SB_DRAG_NONE;
  if (sb_marks_get_frame (sb_pages_view_get_marks (drag->view), &drag->frame))
    handle = sb_frame_pick (&drag->frame, drag->press.x, drag->press.y);
  if (handle == SB_HANDLE_TURN)
    return SB_DRAG_TURN;
  if (handle == SB_HANDLE_CORNER)
    return SB_DRAG_RESIZE;
  SbPieceView *view = sb_pages_view_pick (drag->view, drag->press.x, drag->press.y);
  if (view)
    return press_piece (drag, view);
  gtk_widget_grab_focus (GTK_WIDGET (drag->view));
  return SB_DRAG_BAND;
}

static void
begin_cb (SbDrag *drag, double x, double y, GtkGestureDrag *gesture)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);

  if (!sb_pages_view_get_job (drag->view)) {
    gtk_gesture_set_state (drag->gesture, GTK_EVENT_SEQUENCE_DENIED);
    return;
  }
  drag->modifiers = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));
  drag->press = (SbPoint){x, y};
  drag->offset = (SbPoint){0, 0};
  drag->scroll = (SbPoint){layout->scroll_x, layout->scroll_y};
  drag->moved = FALSE;
  drag->mode =
      choose_mode (drag, gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture)));
  gtk_gesture_set_state (drag->gesture, drag->mode == SB_DRAG_NONE ? GTK_EVENT_SEQUENCE_DENIED
                                                                   : GTK_EVENT_SEQUENCE_CLAIMED);
}

static void
reset_controllers (GtkWidget *widget)
{
  g_autoptr (GListModel) all = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (all); i++) {
    g_autoptr (GtkEventController) controller = g_list_model_get_item (all, i);
    gtk_event_controller_reset (controller);
  }
}

static void
update_cb (SbDrag *drag, double dx, double dy, GtkGestureDrag *gesture)
{
  if (drag->mode == SB_DRAG_NONE)
    return;
  drag->modifiers = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));
  drag->offset = (SbPoint){dx, dy};
  if (!drag->moved && hypot (dx, dy) < THRESHOLD_PX)
    return;
  if (!drag->moved)
    begin_moving (drag);
  if (sb_drag_is_outside (drag)) {
    sb_drag_go_out (drag);
    give_up (drag);
    reset_controllers (GTK_WIDGET (drag->view)); /* the release goes elsewhere */
    return;
  }
  update (drag);
}

/* A press and a release in one place. */
static void
click (SbDrag *drag)
{
  SbSelection *selection = sb_pages_view_get_selection (drag->view);
  gboolean adds = (drag->modifiers & (GDK_SHIFT_MASK | GDK_CONTROL_MASK)) != 0;

  if (drag->mode == SB_DRAG_BAND && !adds)
    sb_selection_clear (selection);
  if (drag->mode == SB_DRAG_MOVE && !drag->toggled && adds)
    sb_selection_toggle_piece (selection, drag->grabbed);
  else if (drag->mode == SB_DRAG_MOVE && !adds)
    sb_selection_set_piece (selection, drag->grabbed);
}

static void
finish (SbDrag *drag)
{
  switch (drag->mode) {
  case SB_DRAG_MOVE:
    sb_drag_end_move (drag);
    break;
  case SB_DRAG_TURN:
    sb_drag_end_turn (drag);
    break;
  case SB_DRAG_RESIZE:
    sb_drag_end_resize (drag);
    break;
  case SB_DRAG_BAND:
  case SB_DRAG_PAN:
  case SB_DRAG_NONE:
  default:
    break;
  }
}

static void
end_cb (SbDrag *drag, double dx, double dy, GtkGestureDrag *gesture)
{
  if (drag->mode == SB_DRAG_NONE)
    return;
  if (drag->moved)
    finish (drag);
  else
    click (drag);
  forget (drag);
  clear_marks (drag);
}

static void
give_up (SbDrag *drag)
{
  SbJob *job = sb_pages_view_get_job (drag->view);
  SbSelection *selection = sb_pages_view_get_selection (drag->view);

  if (drag->moved && job) {
    sb_job_drop_preview (job);
    if (drag->mode == SB_DRAG_RESIZE)
      sb_drag_give_up_resize (drag);
    if (drag->ids)
      sb_selection_set_pieces (selection, (guint *)(void *)drag->ids->data, drag->ids->len);
    if (drag->band_before)
      sb_selection_set_pieces (selection, (guint *)(void *)drag->band_before->data,
                               drag->band_before->len);
  }
  forget (drag);
  clear_marks (drag);
}

static void
cancel_cb (SbDrag *drag, GdkEventSequence *sequence)
{
  if (drag->mode != SB_DRAG_NONE)
    give_up (drag);
}

gboolean
sb_canvas_drag_cancel (SbPagesView *view)
{
  SbDrag *drag = get_drag (view);

  if (drag->mode == SB_DRAG_NONE)
    return FALSE;
  give_up (drag);
  gtk_event_controller_reset (GTK_EVENT_CONTROLLER (drag->gesture));
  return TRUE;
}

void
sb_canvas_drag_set_space (SbPagesView *view, gboolean held)
{
  SbDrag *drag = get_drag (view);

  drag->space = held;
  if (drag->mode == SB_DRAG_NONE)
    gtk_widget_set_cursor_from_name (GTK_WIDGET (view), held ? "grab" : NULL);
}

/* Modifiers pressed and let go of while the pointer rests. */
static gboolean
modifiers_cb (SbDrag *drag, GdkModifierType modifiers)
{
  drag->modifiers = modifiers;
  if (drag->moved)
    update (drag);
  return GDK_EVENT_PROPAGATE;
}

static const char *
corner_cursor (const SbFrame *frame, double x, double y)
{
  return (x < frame->centre.x) == (y < frame->centre.y) ? "nwse-resize" : "nesw-resize";
}

static void
motion_cb (SbDrag *drag, double x, double y)
{
  SbFrame frame;
  const char *name = drag->space ? "grab" : NULL;

  if (drag->mode != SB_DRAG_NONE || !sb_pages_view_get_job (drag->view))
    return;
  if (!drag->space && sb_marks_get_frame (sb_pages_view_get_marks (drag->view), &frame)) {
    SbHandle handle = sb_frame_pick (&frame, x, y);
    if (handle == SB_HANDLE_TURN)
      name = "grab";
    else if (handle == SB_HANDLE_CORNER)
      name = corner_cursor (&frame, x, y);
  }
  gtk_widget_set_cursor_from_name (GTK_WIDGET (drag->view), name);
}

static void
drag_free (gpointer data)
{
  SbDrag *drag = data;

  drag->tick = 0; /* gone with its widget */
  forget (drag);
  g_free (drag);
}

void
sb_canvas_drag_attach (SbPagesView *view)
{
  SbDrag *drag = g_new0 (SbDrag, 1);
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *key = gtk_event_controller_key_new ();

  drag->view = view;
  drag->gesture = gtk_gesture_drag_new ();
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag->gesture), 0);
  g_signal_connect_swapped (drag->gesture, "drag-begin", G_CALLBACK (begin_cb), drag);
  g_signal_connect_swapped (drag->gesture, "drag-update", G_CALLBACK (update_cb), drag);
  g_signal_connect_swapped (drag->gesture, "drag-end", G_CALLBACK (end_cb), drag);
  g_signal_connect_swapped (drag->gesture, "cancel", G_CALLBACK (cancel_cb), drag);
  g_signal_connect_swapped (motion, "motion", G_CALLBACK (motion_cb), drag);
  g_signal_connect_swapped (key, "modifiers", G_CALLBACK (modifiers_cb), drag);
  gtk_widget_add_controller (GTK_WIDGET (view), GTK_EVENT_CONTROLLER (drag->gesture));
  gtk_widget_add_controller (GTK_WIDGET (view), motion);
  gtk_widget_add_controller (GTK_WIDGET (view), key);
  g_object_set_data_full (G_OBJECT (view), "sb-canvas-drag", drag, drag_free);
}
