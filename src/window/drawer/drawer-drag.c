/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The pointer on the drawer: designs dragged out or put in order, pictures dropped. */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/desk/design-drag.h"
#include "window/drawer/design-row.h"
#include "window/drawer/drawer-private.h"
#include "window/pictures/sticker-provider.h"

static void
pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, SbDrawer *self)
{
  GdkEvent *event = gtk_event_controller_get_current_event (GTK_EVENT_CONTROLLER (gesture));

  if (event && gdk_event_triggers_context_menu (event)) {
    gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
    sb_drawer_show_menu (self, gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (gesture)), x,
                         y);
  }
}

static GdkContentProvider *
drag_prepare_cb (GtkDragSource *source, double x, double y, SbDrawer *self)
{
  GtkWidget *row = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (source));
  g_autoptr (SbDesignDrag) drag = sb_design_drag_new (
      sb_desk_get_job (self->desk), sb_design_row_get_design_id (SB_DESIGN_ROW (row)), 0);

  /* Other programs get the sticker's picture. */
  GdkContentProvider *both[] = {
      gdk_content_provider_new_typed (SB_TYPE_DESIGN_DRAG, drag),
      sb_sticker_provider_new (sb_design_row_get_design (SB_DESIGN_ROW (row)))};
  return gdk_content_provider_new_union (both, 2);
}

static void
drag_begin_cb (GtkDragSource *source, GdkDrag *drag, SbDrawer *self)
{
  GtkWidget *row = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (source));
  GdkPaintable *paintable = sb_design_row_get_paintable (SB_DESIGN_ROW (row));

  if (paintable)
    gtk_drag_source_set_icon (source, paintable, gdk_paintable_get_intrinsic_width (paintable) / 2,
                              gdk_paintable_get_intrinsic_height (paintable) / 2);
}

static void
mark_row (SbDrawer *self, GtkListBoxRow *row, gboolean after)
{
  if (self->under) {
    gtk_widget_remove_css_class (GTK_WIDGET (self->under), "drop-before");
    gtk_widget_remove_css_class (GTK_WIDGET (self->under), "drop-after");
  }
  self->under = row;
  if (row)
    gtk_widget_add_css_class (GTK_WIDGET (row), after ? "drop-after" : "drop-before");
}

/* The row at `y` and whether its lower half is meant. */
static GtkListBoxRow *
row_at (SbDrawer *self, double y, gboolean *after)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_y (self->list, (int)y);
  graphene_rect_t bounds;

  if (row && gtk_widget_compute_bounds (GTK_WIDGET (row), GTK_WIDGET (self->list), &bounds))
    *after = y > bounds.origin.y + bounds.size.height / 2;
  return row;
}

static GdkDragAction
order_motion_cb (GtkDropTarget *target, double x, double y, SbDrawer *self)
{
  gboolean after = FALSE;
  GtkListBoxRow *row = row_at (self, y, &after);

  mark_row (self, row, after);
  return row ? GDK_ACTION_COPY : 0;
}

static void
order_leave_cb (SbDrawer *self)
{
  mark_row (self, NULL, FALSE);
}

static gboolean
order_drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, SbDrawer *self)
{
  SbDesignDrag *drag = g_value_get_boxed (value);
  SbState *state = sb_desk_get_settled (self->desk);
  gboolean after = FALSE;
  GtkListBoxRow *row = row_at (self, y, &after);

  mark_row (self, NULL, FALSE);
  if (!row || drag->piece_id || drag->job != sb_desk_get_job (self->desk))
    return FALSE;
  SbDesign *design = sb_state_get_design (state, drag->design_id);
  SbDesign *there = sb_design_row_get_design (SB_DESIGN_ROW (row));
  if (!design || design->id == there->id)
    return FALSE;
  guint from = sb_drawer_get_own_index (self, design);
  guint to = sb_drawer_get_own_index (self, there) + (after ? 1 : 0);
  if (to > from)
    to--; /* its own place is free by then */
  sb_drawer_edit (self, sb_edit_reorder_design (state, design->id, to), _ ("Move %s in the Drawer"),
                  design->name);
  g_object_set (self, "sort", "own", NULL);
  return TRUE;
}

void
sb_drawer_add_row_controllers (SbDrawer *self, GtkWidget *row)
{
  GtkGesture *click = gtk_gesture_click_new ();
  GtkDragSource *source = gtk_drag_source_new ();

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (click), 0);
  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), self);
  gtk_widget_add_controller (row, GTK_EVENT_CONTROLLER (click));

  gtk_drag_source_set_actions (source, GDK_ACTION_COPY);
  g_signal_connect (source, "prepare", G_CALLBACK (drag_prepare_cb), self);
  g_signal_connect (source, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  gtk_widget_add_controller (row, GTK_EVENT_CONTROLLER (source));
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, SbDrawer *self)
{
  if (G_VALUE_HOLDS (value, GDK_TYPE_FILE_LIST)) {
    g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
    g_autoptr (GSList) list = gdk_file_list_get_files (g_value_get_boxed (value));
    for (GSList *l = list; l; l = l->next)
      g_list_store_append (files, l->data);
    g_signal_emit (self, sb_drawer_signals[SB_DRAWER_FILES_DROPPED], 0, files);
  } else {
    g_signal_emit (self, sb_drawer_signals[SB_DRAWER_TEXTURE_DROPPED], 0,
                   g_value_get_object (value));
  }
  return TRUE;
}

static GdkDragAction
drop_enter_cb (SbDrawer *self)
{
  gtk_widget_add_css_class (self->box, "drop-here");
  return GDK_ACTION_COPY;
}

static void
drop_leave_cb (SbDrawer *self)
{
  gtk_widget_remove_css_class (self->box, "drop-here");
}

void
sb_drawer_add_drop_targets (SbDrawer *self)
{
  GtkDropTarget *order = gtk_drop_target_new (SB_TYPE_DESIGN_DRAG, GDK_ACTION_COPY);
  GtkDropTarget *pictures = gtk_drop_target_new (G_TYPE_INVALID, GDK_ACTION_COPY);
  GType types[] = {GDK_TYPE_FILE_LIST, GDK_TYPE_TEXTURE};

  g_signal_connect (order, "motion", G_CALLBACK (order_motion_cb), self);
  g_signal_connect_swapped (order, "leave", G_CALLBACK (order_leave_cb), self);
  g_signal_connect (order, "drop", G_CALLBACK (order_drop_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->list), GTK_EVENT_CONTROLLER (order));

  gtk_drop_target_set_gtypes (pictures, types, G_N_ELEMENTS (types));
  g_signal_connect_swapped (pictures, "enter", G_CALLBACK (drop_enter_cb), self);
  g_signal_connect_swapped (pictures, "leave", G_CALLBACK (drop_leave_cb), self);
  g_signal_connect (pictures, "drop", G_CALLBACK (drop_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (pictures));
}
