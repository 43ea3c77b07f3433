/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/order/order-form-private.h"
#include "window/parts/words.h"

#include <glib/gi18n.h>

static void
pack_name_changed_cb (GtkEditable *entry, SbOrderCell *cell)
{
  SbOrder *order = sb_order_copy (sb_desk_get_whole (cell->form->desk)->order);
  g_autofree char *key = g_strdup_printf ("order-name-%u", cell->pack);

  sb_pack_set_name (order->packs->pdata[cell->pack], gtk_editable_get_text (entry));
  sb_order_form_edit (cell->form, order, key);
}

static void
pack_removed_cb (GtkButton *button, SbOrderCell *cell)
{
  SbOrderForm *form = cell->form;
  SbOrder *order = sb_order_copy (sb_desk_get_whole (form->desk)->order);

  sb_order_remove_pack (order, cell->pack);
  sb_order_form_edit (form, order, NULL);
  sb_order_form_rebuild (form);
}

static void
add_pack_column (SbOrderForm *form, GtkGrid *grid, guint index)
{
  const SbPack *pack = sb_desk_get_whole (form->desk)->order->packs->pdata[index];
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *entry = gtk_entry_new (),
            *remove = gtk_button_new_from_icon_name ("list-remove-symbolic");
  g_autofree char *wanted = g_strdup_printf (_ ("%s: ordered"), pack->name);
  g_autofree char *in_hand = g_strdup_printf (_ ("%s: made already"), pack->name);
  SbOrderCell cell = {.form = form, .pack = index};
  int column = (int)index + 1;

  gtk_editable_set_text (GTK_EDITABLE (entry), pack->name);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 10);
  sb_order_form_set_label (entry, _ ("Name of the pack"));
  gtk_widget_set_tooltip_text (remove, _ ("Remove this pack"));
  sb_order_form_set_label (remove, _ ("Remove this pack"));
  gtk_widget_add_css_class (head, "linked");
  gtk_box_append (GTK_BOX (head), entry);
  gtk_box_append (GTK_BOX (head), remove);
  sb_order_cell_connect (entry, "changed", G_CALLBACK (pack_name_changed_cb), cell);
  sb_order_cell_connect (remove, "clicked", G_CALLBACK (pack_removed_cb), cell);
  gtk_grid_attach (grid, head, column, 0, 1, 1);
  cell.kind = SB_ORDER_CELL_PACKS_WANTED;
  gtk_grid_attach (grid, sb_order_cell_new_count (form, cell, wanted), column, 1, 1, 1);
  cell.kind = SB_ORDER_CELL_PACKS_IN_HAND;
  gtk_grid_attach (grid, sb_order_cell_new_count (form, cell, in_hand), column, 2, 1, 1);
}

/* A design, or a sheet or card. */
static void
add_item_row (SbOrderForm *form, GtkGrid *grid, guint id, const char *item, int row)
{
  const GPtrArray *packs = sb_desk_get_whole (form->desk)->order->packs;
  SbOrderCell cell = {.form = form, .kind = SB_ORDER_CELL_RECIPE, .id = id};
  GtkWidget *name = sb_words_new (item, NULL);
  static const struct {
    SbOrderCellKind kind;
    const char *label;
  } columns[] = {
      {SB_ORDER_CELL_SINGLES, N_ ("%s: singles")},
      {SB_ORDER_CELL_IN_HAND, N_ ("%s: in hand")},
      {SB_ORDER_CELL_SPOILED, N_ ("%s: spoiled")},
  };

  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_END);
  gtk_label_set_wrap (GTK_LABEL (name), FALSE);
  gtk_grid_attach (grid, name, 0, row, 1, 1);
  for (cell.pack = 0; cell.pack < packs->len; cell.pack++) {
    const SbPack *pack = packs->pdata[cell.pack];
    g_autofree char *label = g_strdup_printf (_ ("%s in each %s"), item, pack->name);
    gtk_grid_attach (grid, sb_order_cell_new_count (form, cell, label), (int)cell.pack + 1, row, 1,
                     1);
  }
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++) {
    g_auto (GStrv) parts = g_strsplit (_ (columns[i].label), "%s", 2);
    g_autofree char *label = g_strjoinv (item, parts);
    cell.kind = columns[i].kind;
    gtk_grid_attach (grid, sb_order_cell_new_count (form, cell, label), (int)(packs->len + 1 + i),
                     row, 1, 1);
  }
}

GtkWidget *
sb_order_table_new (SbOrderForm *form)
{
  const SbState *state = sb_desk_get_whole (form->desk);
  int n_packs = (int)state->order->packs->len, row = 3;
  GtkWidget *grid = gtk_grid_new ();
  const char *const heads[] = {_ ("Singles"), _ ("In hand"), _ ("Spoiled")};

  gtk_grid_set_column_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 3);
  if (n_packs > 0) {
    gtk_grid_attach (GTK_GRID (grid), sb_words_new (_ ("Packs ordered"), NULL), 0, 1, 1, 1);
    gtk_grid_attach (GTK_GRID (grid), sb_words_new (_ ("Made already"), NULL), 0, 2, 1, 1);
  }
  for (guint i = 0; i < (guint)n_packs; i++)
    add_pack_column (form, GTK_GRID (grid), i);
  for (int i = 0; i < (int)G_N_ELEMENTS (heads); i++)
    gtk_grid_attach (GTK_GRID (grid), sb_words_new (heads[i], "heading"), n_packs + 1 + i, 0, 1, 1);
  for (guint i = 0; i < state->designs->len; i++, row++) {
    const SbDesign *design = state->designs->pdata[i];
    if (design->lettering) /* nobody buys a line of text */
      continue;
    add_item_row (form, GTK_GRID (grid), design->id, design->name, row);
  }
  for (guint i = 0; i < state->layouts->len; i++, row++) {
    const SbLayout *layout = state->layouts->pdata[i];
    add_item_row (form, GTK_GRID (grid), layout->id, layout->name, row);
  }
  return grid;
}
