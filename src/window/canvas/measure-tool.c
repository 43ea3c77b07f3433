/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "window/canvas/measure-tool.h"
#include "window/canvas/measuring.h"
#include "window/canvas/nudge-keys.h"
#include "window/canvas/pages-view.h"
#include "window/canvas/plate.h"
#include "window/parts/palette.h"

#define DRAG_PX 4 /* a hand trembles less than that in a click */

struct _SbMeasureTool {
  GtkWidget parent_instance;

  SbPagesView *pages; /* the parent */
  SbMeasuring measuring;
  gboolean done;  /* the pointer no longer moves the second end */
  gboolean moved; /* the pointer has, since `rest` */
  SbPoint rest;   /* where it was first seen; not a number before */
  char *told;
};

G_DEFINE_FINAL_TYPE (SbMeasureTool, sb_measure_tool, GTK_TYPE_WIDGET)

static SbState *
get_state (SbMeasureTool *self)
{
  SbJob *job = sb_pages_view_get_job (self->pages);

  return job ? sb_job_get_state (job) : NULL;
}

static void
update (SbMeasureTool *self)
{
  sb_measuring_update (&self->measuring, get_state (self));
  g_free (self->told);
  self->told = sb_measuring_dup_told (&self->measuring, get_state (self),
                                      sb_pages_view_get_unit (self->pages));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, self->told,
                                  -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* --- Ends --- */

static SbIPoint
round_um (SbPoint um)
{
  return (SbIPoint){(sb_um)lround (um.x), (sb_um)lround (um.y)};
}

static SbMeasureEnd
end_of_view (SbPieceView *view)
{
  return (SbMeasureEnd){.piece_id = sb_piece_view_get_piece (view)->id};
}

static SbMeasureEnd
end_at (SbMeasureTool *self, double x, double y, gboolean exact)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (self->pages);
  SbPieceView *view = exact ? NULL : sb_pages_view_pick (self->pages, x, y);
  guint page = sb_pages_layout_find_page (layout, y);
  SbPoint um;

  if (view)
    return end_of_view (view);
  sb_pages_layout_to_page (layout, page, (SbPoint){x, y}, &um.x, &um.y);
  return (SbMeasureEnd){.page = page, .at = round_um (um)};
}

static void
set_from (SbMeasureTool *self, SbMeasureEnd end)
{
  sb_measuring_set_from (&self->measuring, end);
  self->done = FALSE;
  update (self);
}

static void
set_to (SbMeasureTool *self, SbMeasureEnd end, gboolean done)
{
  sb_measuring_set_to (&self->measuring, end);
  self->done = done && self->measuring.has_to;
  update (self);
}

/* --- Pointer --- */

static gboolean
is_exact (GtkEventController *controller)
{
  return (gtk_event_controller_get_current_event_state (controller) & GDK_ALT_MASK) != 0;
}

static void
pressed_cb (SbMeasureTool *self, double x, double y, GtkGesture *gesture)
{
  SbMeasureEnd end = end_at (self, x, y, is_exact (GTK_EVENT_CONTROLLER (gesture)));

  gtk_gesture_set_state (gesture, GTK_EVENT_SEQUENCE_CLAIMED);
  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (self->measuring.has_from && !self->done)
    set_to (self, end, TRUE);
  else
    set_from (self, end);
}

static void
dragged_cb (SbMeasureTool *self, double dx, double dy, GtkGesture *gesture)
{
  double x, y;

  if (hypot (dx, dy) < DRAG_PX || self->done)
    return;
  gtk_gesture_drag_get_start_point (GTK_GESTURE_DRAG (gesture), &x, &y);
  set_to (self, end_at (self, x + dx, y + dy, is_exact (GTK_EVENT_CONTROLLER (gesture))), FALSE);
}

static void
released_cb (SbMeasureTool *self, double dx, double dy, GtkGesture *gesture)
{
  self->done = self->measuring.has_to;
}

/* GTK tells of a motion when the tool appears below the pointer: only a real one counts. */
static gboolean
has_moved (SbMeasureTool *self, double x, double y)
{
  if (isnan (self->rest.x))
    self->rest = (SbPoint){x, y};
  self->moved = self->moved || hypot (x - self->rest.x, y - self->rest.y) >= DRAG_PX;
  return self->moved;
}

static void
moved_cb (SbMeasureTool *self, double x, double y, GtkEventController *controller)
{
  if (has_moved (self, x, y) && self->measuring.has_from && !self->done)
    set_to (self, end_at (self, x, y, is_exact (controller)), FALSE);
}

/* --- Keys --- */

static guint
page_of (SbMeasureTool *self, const SbMeasureEnd *end)
{
  guint page = end->page;

  if (end->piece_id)
    sb_state_get_piece (get_state (self), end->piece_id, &page);
  return page;
}

/* Those that may be chosen next, in reading order: on the page that is measured on, if any. */
static GPtrArray *
list_candidates (SbMeasureTool *self)
{
  GPtrArray *list = sb_pages_view_list (self->pages);

  for (guint i = list->len; self->measuring.has_from && i-- > 0;)
    if (sb_piece_view_get_page (list->pdata[i]) != page_of (self, &self->measuring.from) ||
        sb_piece_view_get_piece (list->pdata[i])->id == self->measuring.from.piece_id)
      g_ptr_array_remove_index (list, i);
  return list;
}

static gboolean
walk_cb (GtkWidget *widget, GVariant *parameter, gpointer data)
{
  SbMeasureTool *self = SB_MEASURE_TOOL (widget);
  g_autoptr (GPtrArray) list = list_candidates (self);
  int by = g_variant_get_int32 (parameter), n = (int)list->len, at = by > 0 ? -1 : n;

  for (int i = 0; i < n; i++)
    if (self->measuring.has_to &&
        sb_piece_view_get_piece (list->pdata[i])->id == self->measuring.to.piece_id)
      at = i;
  if (n == 0)
    return TRUE;
  SbMeasureEnd end = end_of_view (list->pdata[(at + by + n) % n]);
  if (self->measuring.has_from)
    set_to (self, end, TRUE);
  else
    set_from (self, end);
  return TRUE;
}

/* The point that the arrow keys move on from. */
static SbMeasureEnd
get_point (SbMeasureTool *self)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (self->pages);

  if (self->measuring.is_measured)
    return (SbMeasureEnd){.page = self->measuring.measured.page,
                          .at = round_um (self->measuring.measured.b)};
  if (self->measuring.has_from && !self->measuring.from.piece_id)
    return self->measuring.from;
  return end_at (self, layout->view_width / 2.0, layout->view_height / 2.0, TRUE);
}

static gboolean
nudge_cb (GtkWidget *widget, GVariant *parameter, gpointer data)
{
  SbMeasureTool *self = SB_MEASURE_TOOL (widget);
  SbMeasureEnd end = get_point (self);
  int dx, dy;

  g_variant_get (parameter, "(ii)", &dx, &dy);
  end.at.x += dx;
  end.at.y += dy;
  if (self->measuring.has_from)
    set_to (self, end, TRUE);
  else
    set_from (self, end);
  return TRUE;
}

static gboolean
go_on_cb (GtkWidget *widget, GVariant *parameter, gpointer data)
{
  SbMeasureTool *self = SB_MEASURE_TOOL (widget);

  if (self->measuring.has_to)
    set_from (self, self->measuring.to);
  return TRUE;
}

static gboolean
end_cb (GtkWidget *widget, GVariant *parameter, gpointer data)
{
  sb_measure_tool_end (SB_MEASURE_TOOL (widget));
  return TRUE;
}

/* --- Beginning and ending --- */

static void
measure_to_nearest (SbMeasureTool *self)
{
  g_autoptr (GPtrArray) list = list_candidates (self);
  SbMeasureEnd nearest = {0};
  double least = G_MAXDOUBLE;

  for (guint i = 0; i < list->len; i++) {
    SbMeasureEnd end = end_of_view (list->pdata[i]);
    SbMeasured measured;
    if (sb_measure_ends (get_state (self), &self->measuring.from, &end, &measured) &&
        measured.um < least) {
      least = measured.um;
      nearest = end;
    }
  }
  if (nearest.piece_id)
    set_to (self, nearest, FALSE);
}

void
sb_measure_tool_begin (SbMeasureTool *self)
{
  SbSelection *selection = sb_pages_view_get_selection (self->pages);
  guint n;
  const guint *ids = sb_selection_get_pieces (selection, &n);

  if (!get_state (self))
    return;
  self->measuring = (SbMeasuring){0};
  self->done = self->moved = FALSE;
  self->rest = (SbPoint){NAN, NAN};
  if (n >= 2) {
    set_from (self, (SbMeasureEnd){.piece_id = ids[n - 2]});
    set_to (self, (SbMeasureEnd){.piece_id = ids[n - 1]}, TRUE);
  } else if (n == 1) {
    set_from (self, (SbMeasureEnd){.piece_id = ids[0]});
    measure_to_nearest (self);
  }
  update (self);
  sb_marks_set_dragging (sb_pages_view_get_marks (self->pages), TRUE);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

void
sb_measure_tool_end (SbMeasureTool *self)
{
  if (!gtk_widget_get_visible (GTK_WIDGET (self)))
    return;
  if (gtk_widget_is_focus (GTK_WIDGET (self)))
    gtk_widget_grab_focus (GTK_WIDGET (self->pages));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  sb_marks_set_dragging (sb_pages_view_get_marks (self->pages), FALSE);
}

void
sb_measure_tool_follow (SbMeasureTool *self)
{
  if (!gtk_widget_get_visible (GTK_WIDGET (self)))
    return;
  if (!get_state (self)) {
    sb_measure_tool_end (self);
    return;
  }
  sb_measuring_drop_gone (&self->measuring, get_state (self));
  self->done = self->done && self->measuring.has_to;
  update (self);
}

/* --- Drawing --- */

static void
draw_outline (SbMeasureTool *self, cairo_t *cr, const SbMeasureEnd *end)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (self->pages);
  SbPieceView *view = end->piece_id ? sb_pages_view_find (self->pages, end->piece_id) : NULL;

  if (!view)
    return;
  SbPolygon *outline = sb_piece_view_get_outline (view);
  for (guint i = 0; i < sb_polygon_get_n_loops (outline); i++) {
    const SbLoop *loop = sb_polygon_get_loop (outline, i);
    for (guint j = 0; j < loop->n_points; j++) {
      SbPoint p = sb_pages_layout_to_view (layout, sb_piece_view_get_page (view), loop->points[j].x,
                                           loop->points[j].y);
      cairo_line_to (cr, p.x, p.y);
    }
    cairo_close_path (cr);
  }
  cairo_stroke (cr);
}

static void
draw_line (SbMeasureTool *self, cairo_t *cr, SbPoint a, SbPoint b, const GdkRGBA *colour)
{
  /* White around it shows on dark artwork. */
  for (int i = 0; i < 2; i++) {
    cairo_set_line_width (cr, i == 0 ? 4 : 1.5);
    gdk_cairo_set_source_rgba (cr, i == 0 ? &(GdkRGBA){1, 1, 1, 1} : colour);
    cairo_move_to (cr, a.x, a.y);
    cairo_line_to (cr, b.x, b.y);
    cairo_stroke (cr);
    for (int end = 0; end < 2; end++) {
      cairo_arc (cr, end ? b.x : a.x, end ? b.y : a.y, i == 0 ? 4 : 2.5, 0, 2 * G_PI);
      cairo_fill (cr);
    }
  }
}

static void
append_plate (SbMeasureTool *self, GtkSnapshot *snapshot, const char *text, SbPoint middle,
              const SbPalette *palette)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (self->pages);
  SbPlate plate = {text, &palette->plate, &palette->plate_text, FALSE};
  SbPlateSize size = sb_plate_measure (GTK_WIDGET (self), &plate);

  sb_plate_append_within (GTK_WIDGET (self), snapshot, &plate, middle.x - size.width / 2.0,
                          middle.y + 10, layout->view_width, layout->view_height);
}

static void
sb_measure_tool_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbMeasureTool *self = SB_MEASURE_TOOL (widget);
  const SbPalette *palette = sb_palette_get (widget);
  const SbPagesLayout *layout = sb_pages_view_get_layout (self->pages);
  graphene_rect_t all =
      GRAPHENE_RECT_INIT (0, 0, (float)layout->view_width, (float)layout->view_height);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &all);

  gdk_cairo_set_source_rgba (cr, &palette->accent);
  cairo_set_line_width (cr, 2);
  if (self->measuring.has_from)
    draw_outline (self, cr, &self->measuring.from);
  if (self->measuring.has_to)
    draw_outline (self, cr, &self->measuring.to);
  if (self->measuring.is_measured) {
    const SbMeasured *m = &self->measuring.measured;
    g_autofree char *text =
        sb_measuring_dup_distance (&self->measuring, sb_pages_view_get_unit (self->pages));
    SbPoint a = sb_pages_layout_to_view (layout, m->page, m->a.x, m->a.y);
    SbPoint b = sb_pages_layout_to_view (layout, m->page, m->b.x, m->b.y);
    draw_line (self, cr, a, b, &palette->accent);
    append_plate (self, snapshot, text, (SbPoint){(a.x + b.x) / 2, MAX (a.y, b.y)}, palette);
  } else {
    append_plate (self, snapshot, self->told, (SbPoint){layout->view_width / 2.0, 0}, palette);
  }
  cairo_destroy (cr);
}

static void
sb_measure_tool_dispose (GObject *object)
{
  g_clear_pointer (&SB_MEASURE_TOOL (object)->told, g_free);
  G_OBJECT_CLASS (sb_measure_tool_parent_class)->dispose (object);
}

static void
bind_keys (GtkWidgetClass *klass)
{
  sb_nudge_keys_bind (klass, nudge_cb);
  gtk_widget_class_add_binding (klass, GDK_KEY_Tab, 0, walk_cb, "i", 1);
  gtk_widget_class_add_binding (klass, GDK_KEY_Tab, GDK_SHIFT_MASK, walk_cb, "i", -1);
  gtk_widget_class_add_binding (klass, GDK_KEY_ISO_Left_Tab, GDK_SHIFT_MASK, walk_cb, "i", -1);
  gtk_widget_class_add_binding (klass, GDK_KEY_Return, 0, go_on_cb, NULL);
  gtk_widget_class_add_binding (klass, GDK_KEY_KP_Enter, 0, go_on_cb, NULL);
  gtk_widget_class_add_binding (klass, GDK_KEY_Escape, 0, end_cb, NULL);
}

static void
sb_measure_tool_class_init (SbMeasureToolClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_measure_tool_dispose;
  widget_class->snapshot = sb_measure_tool_snapshot;
  gtk_widget_class_set_css_name (widget_class, "measure-tool");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  bind_keys (widget_class);
}

static void
sb_measure_tool_init (SbMeasureTool *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *motion = gtk_event_controller_motion_new ();

  g_signal_connect_swapped (drag, "drag-begin", G_CALLBACK (pressed_cb), self);
  g_signal_connect_swapped (drag, "drag-update", G_CALLBACK (dragged_cb), self);
  g_signal_connect_swapped (drag, "drag-end", G_CALLBACK (released_cb), self);
  g_signal_connect_swapped (motion, "motion", G_CALLBACK (moved_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "crosshair");
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
sb_measure_tool_new (GtkWidget *pages_view)
{
  SbMeasureTool *self = g_object_new (SB_TYPE_MEASURE_TOOL, NULL);

  self->pages = SB_PAGES_VIEW (pages_view);
  gtk_widget_set_parent (GTK_WIDGET (self), pages_view);
  return GTK_WIDGET (self);
}
