/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Commands on the selected design, their keys and the context menu. */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/drawer/design-row.h"
#include "window/drawer/drawer-private.h"

static SbDesign *
selected (SbDrawer *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->list);

  return row ? sb_design_row_get_design (SB_DESIGN_ROW (row)) : NULL;
}

void
sb_drawer_edit (SbDrawer *self, SbState *next, const char *format, const char *design_name)
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
    g_signal_emit (self, sb_drawer_signals[SB_DRAWER_PLACE], 0, design->id);
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
  sb_drawer_edit (self, sb_edit_replace_design (sb_desk_get_settled (self->desk), copy),
                  _ ("Rename %s"), design->name);
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
    g_signal_emit (self, sb_drawer_signals[SB_DRAWER_REPLACE], 0, design->id);
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
  sb_drawer_edit (self, sb_edit_add_design (sb_desk_get_settled (self->desk), copy, &id),
                  _ ("Duplicate %s"), design->name);
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
  sb_drawer_edit (self, sb_edit_replace_design (sb_desk_get_settled (self->desk), copy),
                  copy->freebie ? _ ("Make %s a Freebie") : _ ("Make %s an Ordered Design"),
                  design->name);
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
  for (int i = (int)sb_drawer_get_own_index (self, design) + by; i >= 0 && i < (int)designs->len;
       i += by)
    if (((SbDesign *)designs->pdata[i])->freebie == design->freebie) {
      sb_drawer_edit (
          self, sb_edit_reorder_design (sb_desk_get_settled (self->desk), design->id, (guint)i),
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
  sb_drawer_edit (self, sb_edit_remove_design (sb_desk_get_settled (self->desk), design->id),
                  _ ("Remove %s"), name);
  g_signal_emit (self, sb_drawer_signals[SB_DRAWER_REMOVED], 0, name);
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

void
sb_drawer_show_menu (SbDrawer *self, GtkWidget *row, double x, double y)
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

static gboolean
menu_key_cb (GtkWidget *widget, GVariant *arguments, gpointer user_data)
{
  SbDrawer *self = user_data;
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->list);

  if (row)
    sb_drawer_show_menu (self, GTK_WIDGET (row), gtk_widget_get_width (GTK_WIDGET (row)) / 2.,
                         gtk_widget_get_height (GTK_WIDGET (row)) / 2.);
  return row != NULL;
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

void
sb_drawer_add_keys (SbDrawer *self)
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

void
sb_drawer_add_actions (SbDrawer *self)
{
  self->actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries),
                                   self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "design", G_ACTION_GROUP (self->actions));
}
