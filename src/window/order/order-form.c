/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/order/order-form.h"
#include "window/parts/wheel.h"

#include <glib/gi18n.h>

#include "job/edit.h"

#define SPIN_CHARS 4
#define RATE_CHARS 8

typedef struct {
  SbDesk *desk;
  GtkWidget *box;
  SbState *shown; /* what the widgets were built from */
  gboolean editing;
} Form;

/* What a number of the form means. */
typedef enum {
  CELL_RECIPE,
  CELL_PACKS_WANTED,
  CELL_PACKS_IN_HAND,
  CELL_SINGLES,
  CELL_IN_HAND,
  CELL_SPOILED,
  CELL_OVERS,
  CELL_TIMES,
  CELL_RATE,
} CellKind;

typedef struct {
  Form *form;
  CellKind kind;
  guint id;   /* of the design or page */
  guint pack; /* its place in the order */
  SbRate rate;
  SbOrderText text;
} Cell;

static void rebuild (Form *form);

static SbState *
settled (Form *form)
{
  return sb_desk_get_whole (form->desk);
}

/* Takes the changed order (consumed) into the job; what follows one another from one cell within a
 * second is one step. */
static void
edit (Form *form, SbOrder *order, const char *merge_key)
{
  form->editing = TRUE;
  sb_job_edit (sb_desk_get_job (form->desk), sb_edit_set_order (settled (form), order),
               _ ("Change Order"), merge_key);
  form->editing = FALSE;
  g_clear_pointer (&form->shown, sb_state_unref);
  form->shown = sb_state_ref (settled (form));
}

static double
read_cell (const SbOrder *order, const Cell *cell)
{
  const SbPack *pack = cell->pack < order->packs->len ? order->packs->pdata[cell->pack] : NULL;
  SbOrderItem item = sb_order_get_item (order, cell->id);
  switch (cell->kind) {
  case CELL_RECIPE:
    return sb_pack_get_line (pack, cell->id);
  case CELL_PACKS_WANTED:
    return pack->wanted;
  case CELL_PACKS_IN_HAND:
    return pack->in_hand;
  case CELL_SINGLES:
    return item.singles;
  case CELL_IN_HAND:
    return item.in_hand;
  case CELL_SPOILED:
    return item.spoiled;
  case CELL_OVERS:
    return order->overs;
  case CELL_TIMES:
    return sb_order_get_times (order, cell->id);
  case CELL_RATE:
  default:
    return order->rates[cell->rate];
  }
}

static void
write_cell (SbOrder *order, const Cell *cell, double value)
{
  SbPack *pack = cell->pack < order->packs->len ? order->packs->pdata[cell->pack] : NULL;
  SbOrderItem item = sb_order_get_item (order, cell->id);
  switch (cell->kind) {
  case CELL_RECIPE:
    sb_pack_set_line (pack, cell->id, (int)value);
    return;
  case CELL_PACKS_WANTED:
    pack->wanted = (int)value;
    return;
  case CELL_PACKS_IN_HAND:
    pack->in_hand = (int)value;
    return;
  case CELL_SINGLES:
    item.singles = (int)value;
    break;
  case CELL_IN_HAND:
    item.in_hand = (int)value;
    break;
  case CELL_SPOILED:
    item.spoiled = (int)value;
    break;
  case CELL_OVERS:
    order->overs = (int)value;
    return;
  case CELL_TIMES:
    sb_order_set_times (order, cell->id, (int)value);
    return;
  case CELL_RATE:
  default:
    sb_order_set_rate (order, cell->rate, value);
    return;
  }
  sb_order_set_item (order, item);
}

static void
value_changed_cb (GtkSpinButton *spin, Cell *cell)
{
  SbOrder *order = sb_order_copy (settled (cell->form)->order);
  g_autofree char *key =
      g_strdup_printf ("order-%d-%u-%u-%d", cell->kind, cell->id, cell->pack, cell->rate);

  write_cell (order, cell, gtk_spin_button_get_value (spin));
  edit (cell->form, order, key);
}

static void
free_cell (gpointer cell, GClosure *closure)
{
  g_free (cell);
}

static void
set_label (GtkWidget *widget, const char *label)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  -1);
}

static GtkWidget *
spin_new (Form *form, Cell cell, double least, double most, double step, guint digits,
          const char *label)
{
  GtkWidget *spin = gtk_spin_button_new_with_range (least, most, step);

  gtk_spin_button_set_digits (GTK_SPIN_BUTTON (spin), digits);
  gtk_editable_set_width_chars (GTK_EDITABLE (spin), digits > 0 ? RATE_CHARS : SPIN_CHARS);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin), read_cell (settled (form)->order, &cell));
  set_label (spin, label);
  sb_wheel_pass_on (spin);
  cell.form = form;
  g_signal_connect_data (spin, "value-changed", G_CALLBACK (value_changed_cb),
                         g_memdup2 (&cell, sizeof cell), free_cell, 0);
  return spin;
}

static GtkWidget *
count_new (Form *form, Cell cell, const char *label)
{
  return spin_new (form, cell, 0, SB_ORDER_MOST_COUNT, 1, 0, label);
}

static GtkWidget *
words_new (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  if (css_class)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

/* --- The table of packs and designs --- */

static void
pack_name_changed_cb (GtkEditable *entry, Cell *cell)
{
  SbOrder *order = sb_order_copy (settled (cell->form)->order);
  g_autofree char *key = g_strdup_printf ("order-name-%u", cell->pack);

  sb_pack_set_name (order->packs->pdata[cell->pack], gtk_editable_get_text (entry));
  edit (cell->form, order, key);
}

static void
pack_removed_cb (GtkButton *button, Cell *cell)
{
  Form *form = cell->form;
  SbOrder *order = sb_order_copy (settled (form)->order);

  sb_order_remove_pack (order, cell->pack);
  edit (form, order, NULL);
  rebuild (form);
}

static void
add_pack_cb (Form *form)
{
  SbOrder *order = sb_order_copy (settled (form)->order);
  g_autofree char *name = g_strdup_printf (_ ("Pack %u"), order->packs->len + 1);

  sb_order_add_pack (order, name);
  edit (form, order, NULL);
  rebuild (form);
}

static void
connect_cell (GtkWidget *widget, const char *signal, GCallback callback, Cell cell)
{
  g_signal_connect_data (widget, signal, callback, g_memdup2 (&cell, sizeof cell), free_cell, 0);
}

static void
add_pack_column (Form *form, GtkGrid *grid, guint index)
{
  const SbPack *pack = settled (form)->order->packs->pdata[index];
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *entry = gtk_entry_new (),
            *remove = gtk_button_new_from_icon_name ("list-remove-symbolic");
  g_autofree char *wanted = g_strdup_printf (_ ("%s: ordered"), pack->name);
  g_autofree char *in_hand = g_strdup_printf (_ ("%s: made already"), pack->name);
  Cell cell = {.form = form, .pack = index};
  int column = (int)index + 1;

  gtk_editable_set_text (GTK_EDITABLE (entry), pack->name);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 10);
  set_label (entry, _ ("Name of the pack"));
  gtk_widget_set_tooltip_text (remove, _ ("Remove this pack"));
  set_label (remove, _ ("Remove this pack"));
  gtk_widget_add_css_class (head, "linked");
  gtk_box_append (GTK_BOX (head), entry);
  gtk_box_append (GTK_BOX (head), remove);
  connect_cell (entry, "changed", G_CALLBACK (pack_name_changed_cb), cell);
  connect_cell (remove, "clicked", G_CALLBACK (pack_removed_cb), cell);
  gtk_grid_attach (grid, head, column, 0, 1, 1);
  cell.kind = CELL_PACKS_WANTED;
  gtk_grid_attach (grid, count_new (form, cell, wanted), column, 1, 1, 1);
  cell.kind = CELL_PACKS_IN_HAND;
  gtk_grid_attach (grid, count_new (form, cell, in_hand), column, 2, 1, 1);
}

/* A design, or a sheet or card. */
static void
add_item_row (Form *form, GtkGrid *grid, guint id, const char *item, int row)
{
  const GPtrArray *packs = settled (form)->order->packs;
  Cell cell = {.form = form, .kind = CELL_RECIPE, .id = id};
  GtkWidget *name = words_new (item, NULL);
  static const struct {
    CellKind kind;
    const char *label;
  } columns[] = {
      {CELL_SINGLES, N_ ("%s: singles")},
      {CELL_IN_HAND, N_ ("%s: in hand")},
      {CELL_SPOILED, N_ ("%s: spoiled")},
  };

  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_END);
  gtk_label_set_wrap (GTK_LABEL (name), FALSE);
  gtk_grid_attach (grid, name, 0, row, 1, 1);
  for (cell.pack = 0; cell.pack < packs->len; cell.pack++) {
    const SbPack *pack = packs->pdata[cell.pack];
    g_autofree char *label = g_strdup_printf (_ ("%s in each %s"), item, pack->name);
    gtk_grid_attach (grid, count_new (form, cell, label), (int)cell.pack + 1, row, 1, 1);
  }
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++) {
    g_auto (GStrv) parts = g_strsplit (_ (columns[i].label), "%s", 2);
    g_autofree char *label = g_strjoinv (item, parts);
    cell.kind = columns[i].kind;
    gtk_grid_attach (grid, count_new (form, cell, label), (int)(packs->len + 1 + i), row, 1, 1);
  }
}

static GtkWidget *
table_new (Form *form)
{
  const SbState *state = settled (form);
  int n_packs = (int)state->order->packs->len, row = 3;
  GtkWidget *grid = gtk_grid_new ();
  const char *const heads[] = {_ ("Singles"), _ ("In hand"), _ ("Spoiled")};

  gtk_grid_set_column_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 3);
  if (n_packs > 0) {
    gtk_grid_attach (GTK_GRID (grid), words_new (_ ("Packs ordered"), NULL), 0, 1, 1, 1);
    gtk_grid_attach (GTK_GRID (grid), words_new (_ ("Made already"), NULL), 0, 2, 1, 1);
  }
  for (guint i = 0; i < (guint)n_packs; i++)
    add_pack_column (form, GTK_GRID (grid), i);
  for (int i = 0; i < (int)G_N_ELEMENTS (heads); i++)
    gtk_grid_attach (GTK_GRID (grid), words_new (heads[i], "heading"), n_packs + 1 + i, 0, 1, 1);
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

/* --- Overs and pages --- */

static void
usual_toggled_cb (GtkCheckButton *check, Form *form)
{
  SbOrder *order = sb_order_copy (settled (form)->order);

  order->overs = gtk_check_button_get_active (check) ? SB_OVERS_USUAL : 10;
  edit (form, order, NULL);
  rebuild (form);
}

static void
covered_toggled_cb (GtkCheckButton *check, Form *form)
{
  SbOrder *order = sb_order_copy (settled (form)->order);

  order->covered = gtk_check_button_get_active (check);
  edit (form, order, NULL);
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
  GtkWidget *label = words_new (words, NULL);

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
printing_new (Form *form)
{
  const SbState *state = settled (form);
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
    add_row (
        GTK_GRID (grid), row++, _ ("Spares, percent"),
        spin_new (form, (Cell){.kind = CELL_OVERS}, 0, SB_OVERS_MOST, 1, 0, _ ("Spares, percent")));
  for (guint k = 0; k < state->pages->len; k++) {
    g_autofree char *label = g_strdup_printf (_ ("Page %u is printed, times"), k + 1);
    Cell cell = {.kind = CELL_TIMES, .id = sb_state_get_page (state, k)->id};
    add_row (GTK_GRID (grid), row++, label, count_new (form, cell, label));
  }
  gtk_box_append (GTK_BOX (box), covered);
  gtk_box_append (GTK_BOX (box), grid);
  return box;
}

/* --- Rates and texts --- */

static GtkWidget *
rate_new (Form *form, SbRate rate)
{
  const SbRateInfo *info = sb_rate_get_info (rate);
  static const struct {
    guint digits;
    double step;
  } looks[] = {
      [SB_RATE_IS_MONEY] = {3, 0.1}, [SB_RATE_IS_COUNT] = {0, 1},   [SB_RATE_IS_PERCENT] = {1, 1},
      [SB_RATE_IS_SECONDS] = {1, 1}, [SB_RATE_IS_SPEED] = {1, 0.5}, [SB_RATE_IS_FACTOR] = {2, 0.1},
  };
  return spin_new (form, (Cell){.kind = CELL_RATE, .rate = rate}, info->least, info->most,
                   looks[info->kind].step, looks[info->kind].digits, _ (info->label));
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
rates_new (Form *form, SbRateGroup group)
{
  GtkWidget *grid = grid_new ();
  int row = 0;

  for (int i = 0; i < SB_N_RATES; i++) {
    const SbRateInfo *info = sb_rate_get_info ((SbRate)i);
    if (info->group != group)
      continue;
    g_autofree char *label = label_of_rate (settled (form)->order, info);
    add_row (GTK_GRID (grid), row++, label, rate_new (form, (SbRate)i));
  }
  return grid;
}

static void
text_changed_cb (GtkEditable *entry, Cell *cell)
{
  SbOrder *order = sb_order_copy (settled (cell->form)->order);
  g_autofree char *key = g_strdup_printf ("order-text-%d", cell->text);

  sb_order_set_text (order, cell->text, gtk_editable_get_text (entry));
  edit (cell->form, order, key);
}

static GtkWidget *
texts_new (Form *form)
{
  GtkWidget *grid = grid_new ();

  for (int i = 0; i < SB_N_ORDER_TEXTS; i++) {
    const char *label = _ (sb_order_text_get_info ((SbOrderText)i)->label);
    GtkWidget *entry = gtk_entry_new ();
    gtk_editable_set_text (GTK_EDITABLE (entry), settled (form)->order->texts[i]);
    gtk_entry_set_max_length (GTK_ENTRY (entry), SB_ORDER_MOST_TEXT);
    gtk_widget_set_hexpand (entry, TRUE);
    set_label (entry, label);
    connect_cell (entry, "changed", G_CALLBACK (text_changed_cb),
                  (Cell){.form = form, .text = (SbOrderText)i});
    add_row (GTK_GRID (grid), i, label, entry);
  }
  return grid;
}

static void
add_section (Form *form, const char *title, GtkWidget *child)
{
  GtkWidget *expander = gtk_expander_new_with_mnemonic (title);

  set_label (expander, title);
  gtk_widget_set_margin_start (child, 18);
  gtk_widget_set_margin_top (child, 6);
  gtk_expander_set_child (GTK_EXPANDER (expander), child);
  gtk_box_append (GTK_BOX (form->box), expander);
}

static void
rebuild (Form *form)
{
  static const char *const titles[SB_N_RATE_GROUPS] = {
      N_ ("Price of _materials"), N_ ("_Time and wage"), N_ ("_Fees"), N_ ("Prices you _ask")};
  GtkWidget *child, *add = gtk_button_new_with_mnemonic (_ ("Add _Pack"));

  while ((child = gtk_widget_get_first_child (form->box)))
    gtk_box_remove (GTK_BOX (form->box), child);
  g_clear_pointer (&form->shown, sb_state_unref);
  form->shown = sb_state_ref (settled (form));
  gtk_box_append (GTK_BOX (form->box), words_new (_ ("What is ordered"), "heading"));
  gtk_box_append (GTK_BOX (form->box), table_new (form));
  gtk_widget_set_halign (add, GTK_ALIGN_START);
  g_signal_connect_swapped (add, "clicked", G_CALLBACK (add_pack_cb), form);
  gtk_box_append (GTK_BOX (form->box), add);
  gtk_box_append (GTK_BOX (form->box), words_new (_ ("How it is printed"), "heading"));
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
changed_cb (Form *form)
{
  if (!form->editing && is_out_of_date (form->shown, settled (form)))
    rebuild (form);
}

static void
destroy_cb (GtkWidget *box, Form *form)
{
  g_signal_handlers_disconnect_by_data (sb_desk_get_job (form->desk), form);
  g_clear_pointer (&form->shown, sb_state_unref);
  g_object_unref (form->desk);
  g_free (form);
}

GtkWidget *
sb_order_form_new (SbDesk *desk)
{
  Form *form = g_new0 (Form, 1);

  form->desk = g_object_ref (desk);
  form->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  g_signal_connect (form->box, "destroy", G_CALLBACK (destroy_cb), form);
  g_signal_connect_swapped (sb_desk_get_job (desk), "changed", G_CALLBACK (changed_cb), form);
  rebuild (form);
  return form->box;
}
