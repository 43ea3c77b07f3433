/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "packing/impose.h"
#include "window/drawer/layouts-pane.h"
#include "window/parts/words.h"

struct _SbLayoutsPane {
  GtkWidget parent_instance;

  GtkListBox *list;
  GtkWidget *empty;

  /* owned */
  SbDesk *desk;
  GPtrArray *shown; /* SbLayout, as the rows show them */
  GArray *laid;     /* int: how many copies of each lie on pages */
};

G_DEFINE_FINAL_TYPE (SbLayoutsPane, sb_layouts_pane, GTK_TYPE_WIDGET)

const char *
sb_layout_kind_get_word (SbLayoutKind kind)
{
  switch (kind) {
  case SB_LAYOUT_HEADER:
    return _ ("Header card");
  case SB_LAYOUT_BACKING:
    return _ ("Backing card");
  case SB_LAYOUT_SHEET:
  default:
    return _ ("Sticker sheet");
  }
}

/* Sizes that makers who think in this unit know (handbook 3.1, 3.4). */
static SbLayout *
make_usual (const SbState *state, SbLayoutKind kind, SbUnit unit)
{
  gboolean inches = unit == SB_UNIT_INCH;
  const char *name = sb_layout_kind_get_word (kind);

  switch (kind) {
  case SB_LAYOUT_HEADER:
    return sb_layout_new_header (name, inches ? 101600 : 100000, inches ? 38100 : 40000);
  case SB_LAYOUT_BACKING:
    return sb_layout_new_backing (name, inches ? 101600 : 100000, inches ? 152400 : 150000,
                                  SB_BACKING_LESS_WIDE, SB_BACKING_LESS_HIGH);
  case SB_LAYOUT_SHEET:
  default: {
    SbLayout *sheet =
        sb_layout_new (kind, name, inches ? 101600 : 100000, inches ? 152400 : 150000);
    sheet->edge = sb_impose_get_usual_edge (state, sheet);
    return sheet;
  }
  }
}

void
sb_layouts_pane_make (SbDesk *desk, SbLayoutKind kind)
{
  SbState *state = sb_desk_get_whole (desk);
  guint id = 0;
  g_autoptr (SbState) added =
      sb_edit_add_layout (state, make_usual (state, kind, sb_desk_get_unit (desk)), &id);
  g_autofree char *name = g_strdup_printf (_ ("Make %s"), sb_layout_kind_get_word (kind));

  sb_job_set_view (sb_desk_get_job (desk), 0);
  sb_job_edit (sb_desk_get_job (desk), sb_impose_layout (added, id), name, NULL);
  sb_selection_clear (sb_desk_get_selection (desk));
  sb_job_set_view (sb_desk_get_job (desk), id);
}

/* Rows */

static GtkWidget *
make_row (SbLayoutsPane *self, const SbLayout *layout)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *name = gtk_label_new (layout->name);
  g_autofree char *size = sb_length_format_size (
      sb_um_to_mm (layout->width), sb_um_to_mm (layout->height), sb_desk_get_unit (self->desk));
  /* Translators: what it is, its size, how many copies lie on pages and how many are wanted */
  g_autofree char *told = g_strdup_printf (
      _ ("%s, %s, %d of %d"), sb_layout_kind_get_word (layout->kind), size,
      sb_state_count_laid (sb_desk_get_whole (self->desk), layout->id), layout->wanted);
  GtkWidget *caption = gtk_label_new (told);

  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_END);
  gtk_label_set_xalign (GTK_LABEL (caption), 0);
  gtk_label_set_ellipsize (GTK_LABEL (caption), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (caption, "caption");
  gtk_widget_set_tooltip_text (caption, told);
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), caption);
  for (int side = 0; side < 2; side++)
    (side ? gtk_widget_set_margin_end : gtk_widget_set_margin_start) (box, 8);
  gtk_widget_set_margin_top (box, 6);
  gtk_widget_set_margin_bottom (box, 6);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, layout->name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, told, -1);
  g_object_set_data (G_OBJECT (row), "layout-id", GUINT_TO_POINTER (layout->id));
  return row;
}

static guint
get_row_layout (GtkListBoxRow *row)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "layout-id"));
}

static void
fill (SbLayoutsPane *self, SbState *state)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (self->list, 0)))
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  g_ptr_array_set_size (self->shown, 0);
  g_array_set_size (self->laid, 0);
  for (guint i = 0; i < state->layouts->len; i++) {
    SbLayout *layout = state->layouts->pdata[i];
    int laid = sb_state_count_laid (state, layout->id);

    g_ptr_array_add (self->shown, sb_layout_ref (layout));
    g_array_append_val (self->laid, laid);
    gtk_list_box_append (self->list, make_row (self, layout));
  }
  gtk_widget_set_visible (self->empty, state->layouts->len == 0);
  gtk_widget_set_visible (GTK_WIDGET (self->list), state->layouts->len > 0);
}

/* Rows keep the focus while nothing they show changes. */
static gboolean
is_filled (SbLayoutsPane *self, SbState *state)
{
  if (self->shown->len != state->layouts->len)
    return FALSE;
  for (guint i = 0; i < self->shown->len; i++) {
    const SbLayout *layout = state->layouts->pdata[i];
    if (self->shown->pdata[i] != layout ||
        g_array_index (self->laid, int, i) != sb_state_count_laid (state, layout->id))
      return FALSE;
  }
  return TRUE;
}

static void
select_view (SbLayoutsPane *self)
{
  guint view = sb_job_get_view (sb_desk_get_job (self->desk));
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (self->list, i)); i++)
    if (view && get_row_layout (row) == view) {
      gtk_list_box_select_row (self->list, row);
      return;
    }
  gtk_list_box_unselect_all (self->list);
}

static void
update (SbLayoutsPane *self)
{
  SbState *state = sb_desk_get_whole (self->desk);

  if (!is_filled (self, state))
    fill (self, state);
  select_view (self);
}

static void
unit_changed_cb (SbLayoutsPane *self)
{
  fill (self, sb_desk_get_whole (self->desk));
  select_view (self);
}

static void
row_activated_cb (SbLayoutsPane *self, GtkListBoxRow *row)
{
  sb_selection_clear (sb_desk_get_selection (self->desk));
  sb_job_set_view (sb_desk_get_job (self->desk), get_row_layout (row));
}

/* The widget */

static void
make_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  static const char *const kinds[] = {"sheet", "header", "backing"};
  SbLayoutsPane *self = user_data;

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_str_equal (kinds[i], g_variant_get_string (parameter, NULL)))
      sb_layouts_pane_make (self->desk, (SbLayoutKind)i);
}

static GMenuModel *
make_menu (void)
{
  GMenu *menu = g_menu_new ();

  g_menu_append (menu, _ ("_Sticker Sheet"), "layouts.make::sheet");
  g_menu_append (menu, _ ("_Header Card"), "layouts.make::header");
  g_menu_append (menu, _ ("_Backing Card"), "layouts.make::backing");
  return G_MENU_MODEL (menu);
}

static void
add_head (GtkBox *box)
{
  g_autoptr (GMenuModel) menu = make_menu ();
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *title = gtk_label_new (_ ("Sheets and cards"));
  GtkWidget *button = gtk_menu_button_new ();

  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_set_hexpand (title, TRUE);
  gtk_widget_add_css_class (title, "heading");
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), _ ("New"));
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), menu);
  gtk_menu_button_set_direction (GTK_MENU_BUTTON (button), GTK_ARROW_UP);
  gtk_widget_set_tooltip_text (button, _ ("Make a sticker sheet or a card"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("New sheet or card"), -1);
  gtk_box_append (GTK_BOX (head), title);
  gtk_box_append (GTK_BOX (head), button);
  gtk_box_append (box, head);
}

static void
add_list (SbLayoutsPane *self, GtkBox *box)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();

  self->empty = sb_words_new (_ ("Drawn once, laid on pages as often as they fit."), "caption");
  gtk_box_append (box, self->empty);

  self->list = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_widget_add_css_class (GTK_WIDGET (self->list), "layout-list");
  gtk_list_box_set_activate_on_single_click (self->list, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Sheets and cards"), -1);
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (row_activated_cb), self);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scroller), 180);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), GTK_WIDGET (self->list));
  gtk_box_append (box, scroller);
}

static void
sb_layouts_pane_dispose (GObject *object)
{
  SbLayoutsPane *self = SB_LAYOUTS_PANE (object);
  GtkWidget *child;

  if (self->desk) {
    g_signal_handlers_disconnect_by_data (sb_desk_get_job (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_preferences (self->desk), self);
  }
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
  g_clear_object (&self->desk);
  g_clear_pointer (&self->shown, g_ptr_array_unref);
  g_clear_pointer (&self->laid, g_array_unref);
  G_OBJECT_CLASS (sb_layouts_pane_parent_class)->dispose (object);
}

static void
sb_layouts_pane_class_init (SbLayoutsPaneClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_layouts_pane_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
sb_layouts_pane_init (SbLayoutsPane *self)
{
  const GActionEntry entries[] = {{.name = "make", .activate = make_cb, .parameter_type = "s"}};
  g_autoptr (GSimpleActionGroup) actions = g_simple_action_group_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  self->shown = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_layout_unref);
  self->laid = g_array_new (FALSE, FALSE, sizeof (int));
  g_action_map_add_action_entries (G_ACTION_MAP (actions), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "layouts", G_ACTION_GROUP (actions));
  gtk_widget_set_margin_start (box, 12);
  gtk_widget_set_margin_end (box, 12);
  gtk_widget_set_margin_top (box, 6);
  gtk_widget_set_margin_bottom (box, 12);
  add_head (GTK_BOX (box));
  add_list (self, GTK_BOX (box));
  gtk_widget_set_parent (box, GTK_WIDGET (self));
}

GtkWidget *
sb_layouts_pane_new (SbDesk *desk)
{
  SbLayoutsPane *self = g_object_new (SB_TYPE_LAYOUTS_PANE, NULL);

  self->desk = g_object_ref (desk);
  g_signal_connect_swapped (sb_desk_get_job (desk), "changed", G_CALLBACK (update), self);
  g_signal_connect_swapped (sb_desk_get_preferences (desk), "notify::unit",
                            G_CALLBACK (unit_changed_cb), self);
  unit_changed_cb (self);
  return GTK_WIDGET (self);
}
