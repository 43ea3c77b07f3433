/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * From the order to copies:  need = packs to make x recipe + singles;  to print = need - in hand;
 * copies = to print + overs (handbook 7.1). Thread-safe. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

typedef struct {
  guint item_id;
  const SbLayout *layout; /* borrowed from the state; NULL: a design */
  const char *name;       /* borrowed from the state */
  int from_packs, singles;
  int in_hand;       /* loose ones in stock */
  int to_print;      /* what the order needs from the printer */
  int overs_percent; /* the share that is printed besides */
  int copies;        /* to be printed, overs included */
  int printed;       /* on the pages, each as often as it is printed */
  int spoiled;       /* as counted by the maker */
  int left;          /* printed - spoiled - to_print: goes to stock; below 0 it is short */
} SbCount;

/* An array of SbCount, free with g_array_unref: every item that is asked for, printed or in hand,
 * designs in drawer order, then layouts. Freebies that nobody ordered count as printed; the
 * stickers of a sheet count as the sheet. */
GArray *sb_order_count (const SbState *state) G_GNUC_WARN_UNUSED_RESULT;

/* The name of a design or layout, borrowed; NULL when it is gone. */
const char *sb_order_get_item_name (const SbState *state, guint item_id);

/* Packs that are still to be made: wanted less those in hand. */
int sb_pack_get_to_make (const SbPack *pack);

/* The usual share of overs for `to_print` pieces, percent: 10 under 50, else 5; 5 more where they
 * are covered with film and 5 more where they are cut by knife (handbook 7.1: our own figures). */
int sb_overs_usual_percent (int to_print, gboolean covered, gboolean by_knife);

/* to_print and its overs, at least one where any are wanted. */
int sb_overs_add (int to_print, int percent);

/* What the pages hold of a design, each page as often as it is printed. */
int sb_order_count_printed (const SbState *state, guint design_id);

/* Sheets that go through the printer for the job's pages, cards included. */
guint sb_order_count_sheets (const SbState *state);

/* How often the page at `index` is printed; 0 when it is empty or belongs to no order. */
int sb_order_count_prints (const SbState *state, guint index);
/* What is on it is a card: it goes on card, not on the job's stock. */
gboolean sb_order_is_card_page (const SbState *state, guint index);

G_END_DECLS
