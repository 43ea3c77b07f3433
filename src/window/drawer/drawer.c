/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/drawer/design-row.h"
#include "window/drawer/drawer-private.h"
#include "window/parts/words.h"

G_DEFINE_FINAL_TYPE (SbDrawer, sb_drawer, GTK_TYPE_WIDGET)

enum {
  PROP_0,
  PROP_SORT,
  N_PROPS,
};
static GParamSpec *props[N_PROPS];

guint sb_drawer_signals[SB_DRAWER_N_SIGNALS];

/* --- Order and search --- */

guint
sb_drawer_get_own_index (SbDrawer *self, SbDesign *design)
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
  return design->wanted - sb_desk_count_placed (self->desk, design->id);
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
  return sb_drawer_get_own_index (self, a) < sb_drawer_get_own_index (self, b) ? -1 : 1;
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
  GtkWidget *told = sb_words_new (_ ("For the gaps; they never cost a page."), "caption");
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_add_css_class (title, "heading");
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

static void
add_row (SbDrawer *self, SbDesign *design)
{
  GtkWidget *row = sb_design_row_new (self->desk, design);

  sb_drawer_add_row_controllers (self, row);
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
  g_signal_emit (self, sb_drawer_signals[SB_DRAWER_PLACE], 0,
                 sb_design_row_get_design_id (SB_DESIGN_ROW (row)));
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
  sb_drawer_signals[SB_DRAWER_FILES_DROPPED] =
      g_signal_new ("files-dropped", SB_TYPE_DRAWER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                    G_TYPE_NONE, 1, G_TYPE_LIST_MODEL);
  sb_drawer_signals[SB_DRAWER_TEXTURE_DROPPED] =
      g_signal_new ("texture-dropped", SB_TYPE_DRAWER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                    G_TYPE_NONE, 1, GDK_TYPE_TEXTURE);
  sb_drawer_signals[SB_DRAWER_REPLACE] =
      g_signal_new ("replace", SB_TYPE_DRAWER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                    1, G_TYPE_UINT);
  sb_drawer_signals[SB_DRAWER_PLACE] = g_signal_new ("place", SB_TYPE_DRAWER, G_SIGNAL_RUN_LAST, 0,
                                                     NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  sb_drawer_signals[SB_DRAWER_REMOVED] =
      g_signal_new ("removed", SB_TYPE_DRAWER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                    1, G_TYPE_STRING);

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
  gtk_widget_init_template (GTK_WIDGET (self));
  sb_drawer_add_actions (self);

  gtk_list_box_set_sort_func (self->list, sort_cb, self, NULL);
  gtk_list_box_set_filter_func (self->list, filter_cb, self, NULL);
  gtk_list_box_set_header_func (self->list, header_cb, self, NULL);

  self->menu = gtk_popover_menu_new_from_model (self->design_menu);
  gtk_popover_set_has_arrow (GTK_POPOVER (self->menu), FALSE);
  gtk_widget_set_halign (self->menu, GTK_ALIGN_START);
  gtk_widget_set_parent (self->menu, GTK_WIDGET (self));
  sb_drawer_add_drop_targets (self);
  sb_drawer_add_keys (self);
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
