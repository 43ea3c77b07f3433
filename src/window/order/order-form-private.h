/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of the order's form tell one another. */
#pragma once

#include "window/order/order-form.h"

G_BEGIN_DECLS

typedef struct {
  SbDesk *desk;
  GtkWidget *box;
  SbState *shown;   /* what the widgets were built from */
  gboolean editing; /* the change comes from a widget, which shows it already */
} SbOrderForm;

/* What a number of the form means. */
typedef enum {
  SB_ORDER_CELL_RECIPE,
  SB_ORDER_CELL_PACKS_WANTED,
  SB_ORDER_CELL_PACKS_IN_HAND,
  SB_ORDER_CELL_SINGLES,
  SB_ORDER_CELL_IN_HAND,
  SB_ORDER_CELL_SPOILED,
  SB_ORDER_CELL_OVERS,
  SB_ORDER_CELL_TIMES,
  SB_ORDER_CELL_RATE,
} SbOrderCellKind;

typedef struct {
  SbOrderForm *form;
  SbOrderCellKind kind;
  guint id;   /* of the design or page */
  guint pack; /* its place in the order */
  SbRate rate;
  SbOrderText text;
} SbOrderCell;

/* order-form.c */
/* Takes the changed order (consumed) into the job; what follows one another from one cell within a
 * second is one step of `merge_key`. */
void sb_order_form_edit (SbOrderForm *form, SbOrder *order, const char *merge_key);
/* Makes all widgets anew. */
void sb_order_form_rebuild (SbOrderForm *form);
/* What a widget is called for screen readers. */
void sb_order_form_set_label (GtkWidget *widget, const char *label);

/* order-cell.c: numbers of the order, each an edit of the job. `cell` is copied. */
GtkWidget *sb_order_cell_new_spin (SbOrderForm *form, SbOrderCell cell, double least, double most,
                                   double step, guint digits, const char *label);
GtkWidget *sb_order_cell_new_count (SbOrderForm *form, SbOrderCell cell, const char *label);
/* Calls `callback` (widget, const SbOrderCell *) at a signal of `widget`. */
void sb_order_cell_connect (GtkWidget *widget, const char *signal, GCallback callback,
                            SbOrderCell cell);

/* order-table.c: the table of packs and designs. */
GtkWidget *sb_order_table_new (SbOrderForm *form);

G_END_DECLS
