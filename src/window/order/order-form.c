/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/order/order-form-private.h"
#include "window/parts/words.h"

#include <glib/gi18n.h>

#include "job/edit.h"

void
sb_order_form_edit (SbOrderForm *form, SbOrder *order, const char *merge_key)
{
  form->editing = TRUE;
  sb_job_edit (sb_desk_get_job (form->desk),
               sb_edit_set_order (sb_desk_get_whole (form->desk), order), _ ("Change Order"),
               merge_key);
  form->editing = FALSE;
  g_clear_pointer (&form->shown, sb_state_unref);
  form->shown = sb_state_ref (sb_desk_get_whole (form->desk));
}

void
sb_order_form_set_label (GtkWidget *widget, const char *label)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  -1);
}

/* --- Overs and pages --- */

static void
usual_toggled_cb (GtkCheckButton *check, SbOrderForm *form)
{
  SbOrder *order = sb_order_copy (sb_desk_get_whole (form->desk)->order);

  order->overs = gtk_check_button_get_active (check) ? SB_OVERS_USUAL : 10;
  sb_order_form_edit (form, order, NULL);
  sb_order_form_rebuild (form);
}

static void
covered_toggled_cb (GtkCheckButton *check, SbOrderForm *form)
{
  SbOrder *order = sb_order_copy (sb_desk_get_whole (form->desk)->order);

  order->covered = gtk_check_button_get_active (check);
  sb_order_form_edit (form, order, NULL);
}

static GtkWidget *
check_new (const char *label, gboolean active)
{
  GtkWidget *check = gtk_check_button_new_with_mnemonic (label);

  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), active);
  return check;
}

static void
add_row (GtkGrid *grid, int row, const char *words, GtkWidget *widget)
{
  GtkWidget *label = sb_words_new (words, NULL);

  gtk_widget_set_hexpand (label, TRUE);
  gtk_grid_attach (grid, label, 0, row, 1, 1);
  gtk_grid_attach (grid, widget, 1, row, 1, 1);
}

static GtkWidget *
grid_new (void)
{
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 4);
  return grid;
}

static GtkWidget *
printing_new (SbOrderForm *form)
{
  const SbState *state = sb_desk_get_whole (form->desk);
  gboolean usual = state->order->overs == SB_OVERS_USUAL;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6), *grid = grid_new ();
  GtkWidget *check = check_new (_ ("The _usual share of spares"), usual);
  GtkWidget *covered = check_new (_ ("Sheets are covered with clear _film"), state->order->covered);
  int row = 0;

  gtk_widget_set_tooltip_text (check, _ ("10 % under 50 pieces, else 5 %; 5 % more for film and "
                                         "for the knife"));
  g_signal_connect (check, "toggled", G_CALLBACK (usual_toggled_cb), form);
  g_signal_connect (covered, "toggled", G_CALLBACK (covered_toggled_cb), form);
  gtk_box_append (GTK_BOX (box), check);
  if (!usual)
    add_row (GTK_GRID (grid), row++, _ ("Spares, percent"),
             sb_order_cell_new_spin (form, (SbOrderCell){.kind = SB_ORDER_CELL_OVERS}, 0,
                                     SB_OVERS_MOST, 1, 0, _ ("Spares, percent")));
  for (guint k = 0; k < state->pages->len; k++) {
    g_autofree char *label = g_strdup_printf (_ ("Page %u is printed, times"), k + 1);
    SbOrderCell cell = {.kind = SB_ORDER_CELL_TIMES, .id = sb_state_get_page (state, k)->id};
    add_row (GTK_GRID (grid), row++, label, sb_order_cell_new_count (form, cell, label));
  }
  gtk_box_append (GTK_BOX (box), covered);
  gtk_box_append (GTK_BOX (box), grid);
  return box;
}

/* --- Rates and texts --- */

static GtkWidget *
rate_new (SbOrderForm *form, SbRate rate)
{
  const SbRateInfo *info = sb_rate_get_info (rate);
  static const struct {
    guint digits;
    double step;
  } looks[] = {
      [SB_RATE_IS_MONEY] = {3, 0.1}, [SB_RATE_IS_COUNT] = {0, 1},   [SB_RATE_IS_PERCENT] = {1, 1},
      [SB_RATE_IS_SECONDS] = {1, 1}, [SB_RATE_IS_SPEED] = {1, 0.5}, [SB_RATE_IS_FACTOR] = {2, 0.1},
  };
  return sb_order_cell_new_spin (form, (SbOrderCell){.kind = SB_ORDER_CELL_RATE, .rate = rate},
                                 info->least, info->most, looks[info->kind].step,
                                 looks[info->kind].digits, _ (info->label));
}

/* "A bag, USD", "Overhead, %" */
static char *
label_of_rate (const SbOrder *order, const SbRateInfo *info)
{
  const char *unit = info->kind == SB_RATE_IS_MONEY     ? order->currency
                     : info->kind == SB_RATE_IS_PERCENT ? "%"
                     : info->kind == SB_RATE_IS_SECONDS ? "s"
                     : info->kind == SB_RATE_IS_SPEED   ? "mm/s"
                     : info->kind == SB_RATE_IS_FACTOR  ? "×"
                                                        : "";
  return *unit == '\0' ? g_strdup (_ (info->label))
                       : g_strdup_printf ("%s, %s", _ (info->label), unit);
}

static GtkWidget *
rates_new (SbOrderForm *form, SbRateGroup group)
{
  GtkWidget *grid = grid_new ();
  int row = 0;

  for (int i = 0; i < SB_N_RATES; i++) {
    const SbRateInfo *info = sb_rate_get_info ((SbRate)i);
    if (info->group != group)
      continue;
    g_autofree char *label = label_of_rate (sb_desk_get_whole (form->desk)->order, info);
    add_row (GTK_GRID (grid), row++, label, rate_new (form, (SbRate)i));
  }
  return grid;
}

static void
text_changed_cb (GtkEditable *entry, SbOrderCell *cell)
{
  SbOrder *order = sb_order_copy (sb_desk_get_whole (cell->form->desk)->order);
  g_autofree char *key = g_strdup_printf ("order-text-%d", cell->text);

  sb_order_set_text (order, cell->text, gtk_editable_get_text (entry));
  sb_order_form_edit (cell->form, order, key);
}

static GtkWidget *
texts_new (SbOrderForm *form)
{
  GtkWidget *grid = grid_new ();

  for (int i = 0; i < SB_N_ORDER_TEXTS; i++) {
    const char *label = _ (sb_order_text_get_info ((SbOrderText)i)->label);
    GtkWidget *entry = gtk_entry_new ();
    gtk_editable_set_text (GTK_EDITABLE (entry), sb_desk_get_whole (form->desk)->order->texts[i]);
    gtk_entry_set_max_length (GTK_ENTRY (entry), SB_ORDER_MOST_TEXT);
    gtk_widget_set_hexpand (entry, TRUE);
    sb_order_form_set_label (entry, label);
    sb_order_cell_connect (entry, "changed", G_CALLBACK (text_changed_cb),
                           (SbOrderCell){.form = form, .text = (SbOrderText)i});
    add_row (GTK_GRID (grid), i, label, entry);
  }
  return grid;
}

static void
add_section (SbOrderForm *form, const char *title, GtkWidget *child)
{
  GtkWidget *expander = gtk_expander_new_with_mnemonic (title);

  sb_order_form_set_label (expander, title);
  gtk_widget_set_margin_start (child, 18);
  gtk_widget_set_margin_top (child, 6);
  gtk_expander_set_child (GTK_EXPANDER (expander), child);
  gtk_box_append (GTK_BOX (form->box), expander);
}

static void
add_pack_cb (SbOrderForm *form)
{
  SbOrder *order = sb_order_copy (sb_desk_get_whole (form->desk)->order);
  g_autofree char *name = g_strdup_printf (_ ("Pack %u"), order->packs->len + 1);

  sb_order_add_pack (order, name);
  sb_order_form_edit (form, order, NULL);
  sb_order_form_rebuild (form);
}

void
sb_order_form_rebuild (SbOrderForm *form)
{
  static const char *const titles[SB_N_RATE_GROUPS] = {
      N_ ("Price of _materials"), N_ ("_Time and wage"), N_ ("_Fees"), N_ ("Prices you _ask")};
  GtkWidget *child, *add = gtk_button_new_with_mnemonic (_ ("Add _Pack"));

  while ((child = gtk_widget_get_first_child (form->box)))
    gtk_box_remove (GTK_BOX (form->box), child);
  g_clear_pointer (&form->shown, sb_state_unref);
  form->shown = sb_state_ref (sb_desk_get_whole (form->desk));
  gtk_box_append (GTK_BOX (form->box), sb_words_new (_ ("What is ordered"), "heading"));
  gtk_box_append (GTK_BOX (form->box), sb_order_table_new (form));
  gtk_widget_set_halign (add, GTK_ALIGN_START);
  g_signal_connect_swapped (add, "clicked", G_CALLBACK (add_pack_cb), form);
  gtk_box_append (GTK_BOX (form->box), add);
  gtk_box_append (GTK_BOX (form->box), sb_words_new (_ ("How it is printed"), "heading"));
  gtk_box_append (GTK_BOX (form->box), printing_new (form));
  for (int group = 0; group < SB_N_RATE_GROUPS; group++)
    add_section (form, _ (titles[group]), rates_new (form, (SbRateGroup)group));
  add_section (form, _ ("_Words on the papers"), texts_new (form));
}

/* The widgets that name designs and pages, or show the order, are out of date. */
static gboolean
is_out_of_date (const SbState *shown, const SbState *now)
{
  if (shown->order != now->order || shown->pages->len != now->pages->len ||
      shown->designs->len != now->designs->len || shown->layouts->len != now->layouts->len)
    return TRUE;
  for (guint i = 0; i < now->pages->len; i++)
    if (sb_state_get_page (shown, i)->id != sb_state_get_page (now, i)->id)
      return TRUE;
  for (guint i = 0; i < now->designs->len; i++) {
    const SbDesign *a = shown->designs->pdata[i], *b = now->designs->pdata[i];
    if (a->id != b->id || !g_str_equal (a->name, b->name))
      return TRUE;
  }
  for (guint i = 0; i < now->layouts->len; i++) {
    const SbLayout *a = shown->layouts->pdata[i], *b = now->layouts->pdata[i];
    if (a->id != b->id || !g_str_equal (a->name, b->name))
      return TRUE;
  }
  return FALSE;
}

static void
changed_cb (SbOrderForm *form)
{
  if (!form->editing && is_out_of_date (form->shown, sb_desk_get_whole (form->desk)))
    sb_order_form_rebuild (form);
}

static void
destroy_cb (GtkWidget *box, SbOrderForm *form)
{
  g_signal_handlers_disconnect_by_data (sb_desk_get_job (form->desk), form);
  g_clear_pointer (&form->shown, sb_state_unref);
  g_object_unref (form->desk);
  g_free (form);
}

GtkWidget *
sb_order_form_new (SbDesk *desk)
{
  SbOrderForm *form = g_new0 (SbOrderForm, 1);

  form->desk = g_object_ref (desk);
  form->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  g_signal_connect (form->box, "destroy", G_CALLBACK (destroy_cb), form);
  g_signal_connect_swapped (sb_desk_get_job (desk), "changed", G_CALLBACK (changed_cb), form);
  sb_order_form_rebuild (form);
  return form->box;
}
