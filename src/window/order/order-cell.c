/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/order/order-form-private.h"

#include "window/parts/wheel.h"

#define SPIN_CHARS 4
#define RATE_CHARS 8

static double
read_cell (const SbOrder *order, const SbOrderCell *cell)
{
  const SbPack *pack = cell->pack < order->packs->len ? order->packs->pdata[cell->pack] : NULL;
  SbOrderItem item = sb_order_get_item (order, cell->id);
  switch (cell->kind) {
  case SB_ORDER_CELL_RECIPE:
    return sb_pack_get_line (pack, cell->id);
  case SB_ORDER_CELL_PACKS_WANTED:
    return pack->wanted;
  case SB_ORDER_CELL_PACKS_IN_HAND:
    return pack->in_hand;
  case SB_ORDER_CELL_SINGLES:
    return item.singles;
  case SB_ORDER_CELL_IN_HAND:
    return item.in_hand;
  case SB_ORDER_CELL_SPOILED:
    return item.spoiled;
  case SB_ORDER_CELL_OVERS:
    return order->overs;
  case SB_ORDER_CELL_TIMES:
    return sb_order_get_times (order, cell->id);
  case SB_ORDER_CELL_RATE:
  default:
    return order->rates[cell->rate];
  }
}

static void
write_cell (SbOrder *order, const SbOrderCell *cell, double value)
{
  SbPack *pack = cell->pack < order->packs->len ? order->packs->pdata[cell->pack] : NULL;
  SbOrderItem item = sb_order_get_item (order, cell->id);
  switch (cell->kind) {
  case SB_ORDER_CELL_RECIPE:
    sb_pack_set_line (pack, cell->id, (int)value);
    return;
  case SB_ORDER_CELL_PACKS_WANTED:
    pack->wanted = (int)value;
    return;
  case SB_ORDER_CELL_PACKS_IN_HAND:
    pack->in_hand = (int)value;
    return;
  case SB_ORDER_CELL_SINGLES:
    item.singles = (int)value;
    break;
  case SB_ORDER_CELL_IN_HAND:
    item.in_hand = (int)value;
    break;
  case SB_ORDER_CELL_SPOILED:
    item.spoiled = (int)value;
    break;
  case SB_ORDER_CELL_OVERS:
    order->overs = (int)value;
    return;
  case SB_ORDER_CELL_TIMES:
    sb_order_set_times (order, cell->id, (int)value);
    return;
  case SB_ORDER_CELL_RATE:
  default:
    sb_order_set_rate (order, cell->rate, value);
    return;
  }
  sb_order_set_item (order, item);
}

static void
value_changed_cb (GtkSpinButton *spin, SbOrderCell *cell)
{
  SbOrder *order = sb_order_copy (sb_desk_get_whole (cell->form->desk)->order);
  g_autofree char *key =
      g_strdup_printf ("order-%d-%u-%u-%d", cell->kind, cell->id, cell->pack, cell->rate);

  write_cell (order, cell, gtk_spin_button_get_value (spin));
  sb_order_form_edit (cell->form, order, key);
}

static void
free_cell (gpointer cell, GClosure *closure)
{
  g_free (cell);
}

void
sb_order_cell_connect (GtkWidget *widget, const char *signal, GCallback callback, SbOrderCell cell)
{
  g_signal_connect_data (widget, signal, callback, g_memdup2 (&cell, sizeof cell), free_cell, 0);
}

GtkWidget *
sb_order_cell_new_spin (SbOrderForm *form, SbOrderCell cell, double least, double most, double step,
                        guint digits, const char *label)
{
  GtkWidget *spin = gtk_spin_button_new_with_range (least, most, step);

  gtk_spin_button_set_digits (GTK_SPIN_BUTTON (spin), digits);
  gtk_editable_set_width_chars (GTK_EDITABLE (spin), digits > 0 ? RATE_CHARS : SPIN_CHARS);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin),
                             read_cell (sb_desk_get_whole (form->desk)->order, &cell));
  sb_order_form_set_label (spin, label);
  sb_wheel_pass_on (spin);
  cell.form = form;
  sb_order_cell_connect (spin, "value-changed", G_CALLBACK (value_changed_cb), cell);
  return spin;
}

GtkWidget *
sb_order_cell_new_count (SbOrderForm *form, SbOrderCell cell, const char *label)
{
  return sb_order_cell_new_spin (form, cell, 0, SB_ORDER_MOST_COUNT, 1, 0, label);
}
