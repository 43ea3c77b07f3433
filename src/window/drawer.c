/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/design-drag.h"
#include "window/design-row.h"
#include "window/drawer.h"

struct _SbDrawer {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box;
  GtkWidget *search_entry;
  GtkStack *stack;
  GtkListBox *list;
  GMenuModel *design_menu;

  /* owned */
  SbDesk *desk;
  GHashTable *rows; /* design id -> SbDesignRow, borrowed from the list */
  GSimpleActionGroup *actions;
  char *sort;
  GtkWidget *menu; /* the context menu, a child of ours */
  SbState *shown;  /* what the rows were last made from */

  gboolean selecting;   /* the row is selected by the program */
  GtkListBoxRow *under; /* the row a design is dragged over, or NULL */
};

G_DEFINE_FINAL_TYPE (SbDrawer, sb_drawer, GTK_TYPE_WIDGET)

enum {
  PROP_0,
  PROP_SORT,
  N_PROPS,
};
static GParamSpec *props[N_PROPS];

enum {
  FILES_DROPPED,
  TEXTURE_DROPPED,
  REPLACE,
  PLACE,
  REMOVED,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

/* --- Order and search --- */

static guint
own_index (SbDrawer *self, SbDesign *design)
{
  GPtrArray *designs = sb_desk_get_state (self->desk)->designs;

  for (guint i = 0; i < designs->len; i++)
    if (((SbDesign *)designs->pdata[i])->id == design->id)
      return i;
  return G_MAXUINT;
}

static double
finished_area (SbDesign *design)
{
  double width, height;

  sb_design_get_finished_size (design, &width, &height);
  return width * height;
}

/* Vectors are the sharpest. */
static int
resolution (SbDesign *design)
{
  int dpi = sb_picture_get_dpi_at (design->picture, design->width_mm, design->height_mm);

  return dpi == 0 ? G_MAXINT : dpi;
}

static int
missing (SbDrawer *self, SbDesign *design)
{
  return design->wanted - sb_state_count_placed (sb_desk_get_state (self->desk), design->id);
}

static int
compare (SbDrawer *self, SbDesign *a, SbDesign *b)
{
  if (g_str_equal (self->sort, "name"))
    return g_utf8_collate (a->name, b->name);
  if (g_str_equal (self->sort, "size"))
    return (finished_area (a) < finished_area (b)) - (finished_area (a) > finished_area (b));
  if (g_str_equal (self->sort, "resolution"))
    return (resolution (a) > resolution (b)) - (resolution (a) < resolution (b));
  if (g_str_equal (self->sort, "missing"))
    return missing (self, b) - missing (self, a);
  return 0;
}

/* Freebies always stand after the ordered designs; equals keep the maker's own order. */
static int
sort_cb (GtkListBoxRow *row_a, GtkListBoxRow *row_b, gpointer user_data)
{
  SbDrawer *self = user_data;
  SbDesign *a = sb_design_row_get_design (SB_DESIGN_ROW (row_a));
  SbDesign *b = sb_design_row_get_design (SB_DESIGN_ROW (row_b));

  if (a->freebie != b->freebie)
    return a->freebie ? 1 : -1;
  int order = compare (self, a, b);
  if (order != 0)
    return order;
  return own_index (self, a) < own_index (self, b) ? -1 : 1;
}

static gboolean
filter_cb (GtkListBoxRow *row, gpointer user_data)
{
  SbDrawer *self = user_data;
  const char *wanted = gtk_editable_get_text (GTK_EDITABLE (self->search_entry));

  return !*wanted ||
         g_str_match_string (wanted, sb_design_row_get_design (SB_DESIGN_ROW (row))->name, TRUE);
}

static void
header_cb (GtkListBoxRow *row, GtkListBoxRow *before, gpointer user_data)
{
  gboolean freebie = sb_design_row_get_design (SB_DESIGN_ROW (row))->freebie;
  gboolean first =
      freebie && (!before || !sb_design_row_get_design (SB_DESIGN_ROW (before))->freebie);

  gtk_widget_set_margin_top (GTK_WIDGET (row), before && !first ? 6 : 0);
  if (!first) {
    gtk_list_box_row_set_header (row, NULL);
    return;
  }
  GtkWidget *header = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *title = gtk_label_new (_ ("Freebies"));
  GtkWidget *told = gtk_label_new (_ ("For the gaps; they never cost a page."));
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_label_set_xalign (GTK_LABEL (told), 0);
  gtk_label_set_wrap (GTK_LABEL (told), TRUE);
  gtk_widget_add_css_class (title, "heading");
  gtk_widget_add_css_class (told, "caption");
  gtk_widget_set_margin_top (header, before ? 18 : 6);
  gtk_widget_set_margin_bottom (header, 6);
  gtk_box_append (GTK_BOX (header), title);
  gtk_box_append (GTK_BOX (header), told);
  gtk_list_box_row_set_header (row, header);
}

static void
search_changed_cb (SbDrawer *self)
{
  gtk_list_box_invalidate_filter (self->list);
}

static void
stop_search_cb (SbDrawer *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->search_entry), "");
}

/* --- Rows --- */

static void add_row_controllers (SbDrawer *self, GtkWidget *row);

static void
add_row (SbDrawer *self, SbDesign *design)
{
  GtkWidget *row = sb_design_row_new (self->desk, design);

  add_row_controllers (self, row);
  g_hash_table_insert (self->rows, GUINT_TO_POINTER (design->id), row);
  gtk_list_box_append (self->list, row);
}

static void
remove_missing_rows (SbDrawer *self)
{
  SbState *state = sb_desk_get_state (self->desk);
  GHashTableIter iter;
  gpointer id, row;

  g_hash_table_iter_init (&iter, self->rows);
  while (g_hash_table_iter_next (&iter, &id, &row))
    if (!sb_state_get_design (state, GPOINTER_TO_UINT (id))) {
      if (self->under == row)
        self->under = NULL;
      g_hash_table_iter_remove (&iter);
      gtk_list_box_remove (self->list, row);
    }
}

static void
select_current (SbDrawer *self)
{
  SbDesign *design = sb_desk_get_current_design (self->desk);
  GtkListBoxRow *row =
      design ? g_hash_table_lookup (self->rows, GUINT_TO_POINTER (design->id)) : NULL;

  self->selecting = TRUE;
  gtk_list_box_select_row (self->list, row);
  self->selecting = FALSE;
}

static void
update (SbDrawer *self)
{
  GPtrArray *designs = sb_desk_get_state (self->desk)->designs;

  self->selecting = TRUE;
  remove_missing_rows (self);
  for (guint i = 0; i < designs->len; i++) {
    SbDesign *design = designs->pdata[i];
    SbDesignRow *row = g_hash_table_lookup (self->rows, GUINT_TO_POINTER (design->id));
    if (row)
      sb_design_row_update (row, design);
    else
      add_row (self, design);
  }
  gtk_list_box_invalidate_sort (self->list);
  gtk_list_box_invalidate_filter (self->list);
  gtk_list_box_invalidate_headers (self->list);
  gtk_stack_set_visible_child_name (self->stack, designs->len ? "designs" : "empty");
  gtk_widget_set_visible (self->search_entry, designs->len > 0);
  self->selecting = FALSE;
  select_current (self);
}

/* A drag changes the job with every frame, but only where pieces lie. */
static gboolean
looks_the_same (SbState *a, SbState *b)
{
  if (a->designs->len != b->designs->len || a->pages->len != b->pages->len)
    return FALSE;
  for (guint i = 0; i < a->designs->len; i++)
    if (a->designs->pdata[i] != b->designs->pdata[i])
      return FALSE;
  for (guint i = 0; i < a->pages->len; i++)
    if (sb_state_get_page (a, i)->n_pieces != sb_state_get_page (b, i)->n_pieces)
      return FALSE;
  return TRUE;
}

static void
job_changed_cb (SbDrawer *self)
{
  SbState *state = sb_desk_get_state (self->desk);

  if (self->shown && looks_the_same (self->shown, state))
    return;
  g_clear_pointer (&self->shown, sb_state_unref);
  self->shown = sb_state_ref (state);
  update (self);
}

static void
findings_changed_cb (SbDrawer *self)
{
  GHashTableIter iter;
  gpointer row;

  g_hash_table_iter_init (&iter, self->rows);
  while (g_hash_table_iter_next (&iter, NULL, &row))
    sb_design_row_update_finding (row);
}

static void
picture_ready_cb (SbDrawer *self, guint design_id)
{
  SbDesignRow *row = g_hash_table_lookup (self->rows, GUINT_TO_POINTER (design_id));

  if (row)
    sb_design_row_update_picture (row);
}

static void
row_selected_cb (SbDrawer *self, GtkListBoxRow *row)
{
  gboolean freebie = row && sb_design_row_get_design (SB_DESIGN_ROW (row))->freebie;
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self->actions), "freebie");

  g_simple_action_set_state (G_SIMPLE_ACTION (action), g_variant_new_boolean (freebie));
  if (!self->selecting && row)
    sb_selection_set_design (sb_desk_get_selection (self->desk),
                             sb_design_row_get_design_id (SB_DESIGN_ROW (row)));
}

static void
row_activated_cb (SbDrawer *self, GtkListBoxRow *row)
{
  g_signal_emit (self, signals[PLACE], 0, sb_design_row_get_design_id (SB_DESIGN_ROW (row)));
}

/* --- Commands on the selected design --- */

static SbDesign *
selected (SbDrawer *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->list);

  return row ? sb_design_row_get_design (SB_DESIGN_ROW (row)) : NULL;
}

static void
edit (SbDrawer *self, SbState *next, const char *format, const char *design_name)
{
  /* The format is one of our own translated ones. */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  g_autofree char *name = g_strdup_printf (format, design_name);
#pragma GCC diagnostic pop

  sb_job_edit (sb_desk_get_job (self->desk), next, name, NULL);
}

static void
place_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbDrawer *self = user_data;
  SbDesign *design = selected (self);

  if (design)
    g_signal_emit (self, signals[PLACE], 0, design->id);
}

static void
select_pieces_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbDrawer *self = user_data;
  SbDesign *design = selected (self);
  SbState *state = sb_desk_get_state (self->desk);
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; design && i < state->pages->len; i++) {
    SbPage *page = sb_state_get_page (state, i);
    for (guint k = 0; k < page->n_pieces; k++)
      if (page->pieces[k].design_id == design->id)
        g_array_append_val (ids, page->pieces[k].id);
  }
  if (ids->len)
    sb_selection_set_pieces (sb_desk_get_selection (self->desk),
                             (const guint *)(const void *)ids->data, ids->len);
}

static void
rename_to (SbDrawer *self, guint design_id, const char *name)
{
  SbDesign *design = sb_state_get_design (sb_desk_get_settled (self->desk), design_id);

  if (!design || !*name || g_str_equal (name, design->name))
    return;
  SbDesign *copy = sb_design_copy (design);
  sb_design_set_name (copy, name);
  edit (self, sb_edit_replace_design (sb_desk_get_settled (self->desk), copy), _ ("Rename %s"),
        design->name);
}

static void
rename_entry_cb (GtkEntry *entry, SbDrawer *self)
{
  GtkWidget *popover = gtk_widget_get_ancestor (GTK_WIDGET (entry), GTK_TYPE_POPOVER);
  guint id = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (popover), "design-id"));
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));

  gtk_popover_popdown (GTK_POPOVER (popover));
  rename_to (self, id, name);
}

static void
popover_closed_cb (GtkWidget *popover)
{
  /* Not while the popover still works on its own closing. */
  g_idle_add_once ((GSourceOnceFunc)gtk_widget_unparent, popover);
}

static void
rename_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbDrawer *self = user_data;
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->list);

  if (!row)
    return;
  SbDesign *design = selected (self);
  GtkWidget *popover = gtk_popover_new ();
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_text (GTK_EDITABLE (entry), design->name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Name of the design"), -1);
  g_signal_connect (entry, "activate", G_CALLBACK (rename_entry_cb), self);
  gtk_popover_set_child (GTK_POPOVER (popover), entry);
  g_object_set_data (G_OBJECT (popover), "design-id", GUINT_TO_POINTER (design->id));
  gtk_widget_set_parent (popover, GTK_WIDGET (row));
  g_signal_connect (popover, "closed", G_CALLBACK (popover_closed_cb), NULL);
  gtk_popover_popup (GTK_POPOVER (popover));
  gtk_widget_grab_focus (entry);
}

static void
replace_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbDrawer *self = user_data;
  SbDesign *design = selected (self);

  if (design)
    g_signal_emit (self, signals[REPLACE], 0, design->id);
}

static void
duplicate_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbDrawer *self = user_data;
  SbDesign *design = selected (self);
  guint id = 0;

  if (!design)
    return;
  SbDesign *copy = sb_design_copy (design);
  copy->id = 0;
  edit (self, sb_edit_add_design (sb_desk_get_settled (self->desk), copy, &id), _ ("Duplicate %s"),
        design->name);
  sb_selection_set_design (sb_desk_get_selection (self->desk), id);
}

static void
freebie_cb (GSimpleAction *action, GVariant *state, gpointer user_data)
{
  SbDrawer *self = user_data;
  SbDesign *design = selected (self);

  if (!design)
    return;
  SbDesign *copy = sb_design_copy (design);
  copy->freebie = g_variant_get_boolean (state);
  if (copy->freebie && copy->wanted == 1)
    copy->wanted = 0; /* as many as fit */
  else if (!copy->freebie && copy->wanted == 0)
    copy->wanted = 1;
  edit (self, sb_edit_replace_design (sb_desk_get_settled (self->desk), copy),
        copy->freebie ? _ ("Make %s a Freebie") : _ ("Make %s an Ordered Design"), design->name);
  g_simple_action_set_state (action, state);
}

/* One place up or down among its own kind. */
static void
move_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbDrawer *self = user_data;
  SbDesign *design = selected (self);
  GPtrArray *designs = sb_desk_get_settled (self->desk)->designs;
  int by = g_variant_get_int32 (parameter);

  if (!design)
    return;
  for (int i = (int)own_index (self, design) + by; i >= 0 && i < (int)designs->len; i += by)
    if (((SbDesign *)designs->pdata[i])->freebie == design->freebie) {
      edit (self, sb_edit_reorder_design (sb_desk_get_settled (self->desk), design->id, (guint)i),
            _ ("Move %s in the Drawer"), design->name);
      return;
    }
}

static void
remove_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbDrawer *self = user_data;
  SbDesign *design = selected (self);

  if (!design)
    return;
  g_autofree char *name = g_strdup (design->name);
  edit (self, sb_edit_remove_design (sb_desk_get_settled (self->desk), design->id), _ ("Remove %s"),
        name);
  g_signal_emit (self, signals[REMOVED], 0, name);
}

static const GActionEntry entries[] = {
    {.name = "place", .activate = place_cb},
    {.name = "select-pieces", .activate = select_pieces_cb},
    {.name = "rename", .activate = rename_cb},
    {.name = "replace", .activate = replace_cb},
    {.name = "duplicate", .activate = duplicate_cb},
    {.name = "freebie", .state = "false", .change_state = freebie_cb},
    {.name = "move", .activate = move_cb, .parameter_type = "i"},
    {.name = "remove", .activate = remove_cb},
};

/* --- Pointer: context menu, dragging a design out, putting designs in order --- */

static void
show_menu (SbDrawer *self, GtkWidget *row, double x, double y)
{
  graphene_point_t at = GRAPHENE_POINT_INIT (0, 0);

  gtk_list_box_select_row (self->list, GTK_LIST_BOX_ROW (row));
  if (!gtk_widget_compute_point (row, GTK_WIDGET (self), &GRAPHENE_POINT_INIT ((float)x, (float)y),
                                 &at))
    return;
  gtk_popover_set_pointing_to (GTK_POPOVER (self->menu),
                               &(GdkRectangle){(int)at.x, (int)at.y, 1, 1});
  gtk_popover_popup (GTK_POPOVER (self->menu));
}

static void
pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, SbDrawer *self)
{
  GdkEvent *event = gtk_event_controller_get_current_event (GTK_EVENT_CONTROLLER (gesture));

  if (event && gdk_event_triggers_context_menu (event)) {
    gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
    show_menu (self, gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (gesture)), x, y);
  }
}

static gboolean
menu_key_cb (GtkWidget *widget, GVariant *arguments, gpointer user_data)
{
  SbDrawer *self = user_data;
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->list);

  if (row)
    show_menu (self, GTK_WIDGET (row), gtk_widget_get_width (GTK_WIDGET (row)) / 2.,
               gtk_widget_get_height (GTK_WIDGET (row)) / 2.);
  return row != NULL;
}

static GdkContentProvider *
drag_prepare_cb (GtkDragSource *source, double x, double y, SbDrawer *self)
{
  GtkWidget *row = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (source));
  g_autoptr (SbDesignDrag) drag = sb_design_drag_new (
      sb_desk_get_job (self->desk), sb_design_row_get_design_id (SB_DESIGN_ROW (row)));

  return gdk_content_provider_new_typed (SB_TYPE_DESIGN_DRAG, drag);
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
  if (!row || drag->job != sb_desk_get_job (self->desk))
    return FALSE;
  SbDesign *design = sb_state_get_design (state, drag->design_id);
  SbDesign *there = sb_design_row_get_design (SB_DESIGN_ROW (row));
  if (!design || design->id == there->id)
    return FALSE;
  guint from = own_index (self, design);
  guint to = own_index (self, there) + (after ? 1 : 0);
  if (to > from)
    to--; /* its own place is free by then */
  edit (self, sb_edit_reorder_design (state, design->id, to), _ ("Move %s in the Drawer"),
        design->name);
  g_object_set (self, "sort", "own", NULL);
  return TRUE;
}

static void
add_row_controllers (SbDrawer *self, GtkWidget *row)
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
    g_signal_emit (self, signals[FILES_DROPPED], 0, files);
  } else {
    g_signal_emit (self, signals[TEXTURE_DROPPED], 0, g_value_get_object (value));
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

static void
add_drop_targets (SbDrawer *self)
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

static void
add_key (GtkEventController *keys, const char *trigger, GtkShortcutAction *action,
         GVariant *arguments)
{
  GtkShortcut *shortcut = gtk_shortcut_new (gtk_shortcut_trigger_parse_string (trigger), action);

  if (arguments)
    gtk_shortcut_set_arguments (shortcut, arguments);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), shortcut);
}

static void
add_keys (SbDrawer *self)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();

  add_key (keys, "F2", gtk_named_action_new ("design.rename"), NULL);
  add_key (keys, "Delete|KP_Delete", gtk_named_action_new ("design.remove"), NULL);
  add_key (keys, "<Control>d", gtk_named_action_new ("design.duplicate"), NULL);
  add_key (keys, "<Alt>Up", gtk_named_action_new ("design.move"), g_variant_new_int32 (-1));
  add_key (keys, "<Alt>Down", gtk_named_action_new ("design.move"), g_variant_new_int32 (1));
  add_key (keys, "Menu|<Shift>F10", gtk_callback_action_new (menu_key_cb, self, NULL), NULL);
  gtk_widget_add_controller (GTK_WIDGET (self->list), keys);
}

/* --- The widget --- */

static void
sb_drawer_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  g_value_set_string (value, SB_DRAWER (object)->sort);
}

static void
sb_drawer_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SbDrawer *self = SB_DRAWER (object);

  g_free (self->sort);
  self->sort = g_value_dup_string (value);
  gtk_list_box_invalidate_sort (self->list);
  gtk_list_box_invalidate_headers (self->list);
}

static void
sb_drawer_dispose (GObject *object)
{
  SbDrawer *self = SB_DRAWER (object);

  if (self->desk) {
    g_signal_handlers_disconnect_by_data (sb_desk_get_job (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_selection (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_art (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_checker (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_preferences (self->desk), self);
  }
  self->selecting = TRUE; /* rows that go select nothing */
  g_clear_pointer (&self->menu, gtk_widget_unparent);
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_DRAWER);
  g_clear_pointer (&self->rows, g_hash_table_unref);
  g_clear_pointer (&self->shown, sb_state_unref);
  g_clear_object (&self->actions);
  g_clear_object (&self->desk);
  g_clear_pointer (&self->sort, g_free);
  G_OBJECT_CLASS (sb_drawer_parent_class)->dispose (object);
}

static void
sb_drawer_class_init (SbDrawerClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->get_property = sb_drawer_get_property;
  object_class->set_property = sb_drawer_set_property;
  object_class->dispose = sb_drawer_dispose;

  props[PROP_SORT] =
      g_param_spec_string ("sort", NULL, NULL, "own", G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, props);
  gtk_widget_class_install_property_action (widget_class, "drawer.sort", "sort");
  signals[FILES_DROPPED] = g_signal_new ("files-dropped", SB_TYPE_DRAWER, G_SIGNAL_RUN_LAST, 0,
                                         NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_LIST_MODEL);
  signals[TEXTURE_DROPPED] = g_signal_new ("texture-dropped", SB_TYPE_DRAWER, G_SIGNAL_RUN_LAST, 0,
                                           NULL, NULL, NULL, G_TYPE_NONE, 1, GDK_TYPE_TEXTURE);
  signals[REPLACE] = g_signal_new ("replace", SB_TYPE_DRAWER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[PLACE] = g_signal_new ("place", SB_TYPE_DRAWER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[REMOVED] = g_signal_new ("removed", SB_TYPE_DRAWER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 1, G_TYPE_STRING);

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "drawer");
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/drawer.ui");
  gtk_widget_class_bind_template_child (widget_class, SbDrawer, box);
  gtk_widget_class_bind_template_child (widget_class, SbDrawer, search_entry);
  gtk_widget_class_bind_template_child (widget_class, SbDrawer, stack);
  gtk_widget_class_bind_template_child (widget_class, SbDrawer, list);
  gtk_widget_class_bind_template_child (widget_class, SbDrawer, design_menu);
  gtk_widget_class_bind_template_callback (widget_class, search_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, stop_search_cb);
  gtk_widget_class_bind_template_callback (widget_class, row_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
}

static void
sb_drawer_init (SbDrawer *self)
{
  self->sort = g_strdup ("own");
  self->rows = g_hash_table_new (NULL, NULL);
  self->actions = g_simple_action_group_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries),
                                   self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "design", G_ACTION_GROUP (self->actions));

  gtk_list_box_set_sort_func (self->list, sort_cb, self, NULL);
  gtk_list_box_set_filter_func (self->list, filter_cb, self, NULL);
  gtk_list_box_set_header_func (self->list, header_cb, self, NULL);

  self->menu = gtk_popover_menu_new_from_model (self->design_menu);
  gtk_popover_set_has_arrow (GTK_POPOVER (self->menu), FALSE);
  gtk_widget_set_halign (self->menu, GTK_ALIGN_START);
  gtk_widget_set_parent (self->menu, GTK_WIDGET (self));
  add_drop_targets (self);
  add_keys (self);
}

GtkWidget *
sb_drawer_new (SbDesk *desk)
{
  SbDrawer *self = g_object_new (SB_TYPE_DRAWER, NULL);

  self->desk = g_object_ref (desk);
  g_signal_connect_swapped (sb_desk_get_job (desk), "changed", G_CALLBACK (job_changed_cb), self);
  g_signal_connect_swapped (sb_desk_get_selection (desk), "changed", G_CALLBACK (select_current),
                            self);
  g_signal_connect_swapped (sb_desk_get_art (desk), "ready", G_CALLBACK (picture_ready_cb), self);
  g_signal_connect_swapped (sb_desk_get_checker (desk), "changed", G_CALLBACK (findings_changed_cb),
                            self);
  g_signal_connect_swapped (sb_desk_get_preferences (desk), "notify::unit", G_CALLBACK (update),
                            self);
  job_changed_cb (self);
  return GTK_WIDGET (self);
}

void
sb_drawer_start_search (SbDrawer *self)
{
  g_return_if_fail (SB_IS_DRAWER (self));
  gtk_widget_grab_focus (self->search_entry);
}
