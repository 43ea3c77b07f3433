/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What an order comes to: counts, sheets and the bill, reckoned in a thread whenever the job
 * changes. Each figure opens to how it came. */
#pragma once

#include <gtk/gtk.h>

#include "order/bill.h"
#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_ORDER_RESULT (sb_order_result_get_type ())
G_DECLARE_FINAL_TYPE (SbOrderResult, sb_order_result, SB, ORDER_RESULT, GtkBox)

/* Follows the desk. */
GtkWidget *sb_order_result_new (SbDesk *desk);

/* The bill of the job as it is now, or NULL while it is being reckoned. Borrowed. */
const SbBill *sb_order_result_get_bill (SbOrderResult *self);

G_END_DECLS
