/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "order/counts.h"

#define FEW 50 /* pieces, below which a run needs a larger share of overs */
#define USUAL_PERCENT 5
#define FEW_PERCENT 10
#define FILM_PERCENT 5
#define KNIFE_PERCENT 5

int
sb_pack_get_to_make (const SbPack *pack)
{
  return MAX (0, pack->wanted - pack->in_hand);
}

int
sb_overs_usual_percent (int to_print, gboolean covered, gboolean by_knife)
{
  return (to_print < FEW ? FEW_PERCENT : USUAL_PERCENT) + (covered ? FILM_PERCENT : 0) +
         (by_knife ? KNIFE_PERCENT : 0);
}

int
sb_overs_add (int to_print, int percent)
{
  if (to_print == 0 || percent == 0)
    return to_print;
  gint64 with_overs = ((gint64)to_print * (100 + percent) + 99) / 100; /* rounded up */
  return (int)MAX (with_overs, to_print + 1);
}

int
sb_order_count_printed (const SbState *state, guint design_id)
{
  int printed = 0;
  for (guint k = 0; k < state->pages->len; k++) {
    const SbPage *page = state->pages->pdata[k];
    int times = sb_order_get_times (state->order, page->id);
    for (guint i = 0; i < page->n_pieces; i++)
      printed += page->pieces[i].design_id == design_id ? times : 0;
  }
  return printed;
}

guint
sb_order_count_sheets (const SbState *state)
{
  guint sheets = 0;
  for (guint k = 0; k < state->pages->len; k++) {
    const SbPage *page = state->pages->pdata[k];
    if (page->n_pieces > 0)
      sheets += (guint)sb_order_get_times (state->order, page->id);
  }
  return sheets;
}

static int
count_from_packs (const SbOrder *order, guint item_id)
{
  gint64 n = 0;
  for (guint i = 0; i < order->packs->len; i++) {
    const SbPack *pack = order->packs->pdata[i];
    n += (gint64)sb_pack_get_to_make (pack) * sb_pack_get_line (pack, item_id);
  }
  return (int)MIN (n, G_MAXINT32 / 4);
}

static SbCount
count_design (const SbState *state, const SbDesign *design)
{
  const SbOrder *order = state->order;
  SbOrderItem item = sb_order_get_item (order, design->id);
  SbCount count = {
      .item_id = design->id,
      .name = design->name,
      .from_packs = count_from_packs (order, design->id),
      .singles = item.singles,
      .in_hand = item.in_hand,
      .spoiled = item.spoiled,
      .printed = sb_order_count_printed (state, design->id),
  };
  count.to_print = MAX (0, count.from_packs + count.singles - count.in_hand);
  count.overs_percent = order->overs;
  if (order->overs == SB_OVERS_USUAL)
    count.overs_percent = sb_overs_usual_percent (count.to_print, order->covered,
                                                  design->guide.style == SB_GUIDE_KNIFE);
  count.copies = sb_overs_add (count.to_print, count.overs_percent);
  count.left = count.printed - count.spoiled - count.to_print;
  return count;
}

GArray *
sb_order_count (const SbState *state)
{
  GArray *counts = g_array_new (FALSE, FALSE, sizeof (SbCount));
  for (guint i = 0; i < state->designs->len; i++) {
    SbCount count = count_design (state, state->designs->pdata[i]);
    if (count.from_packs + count.singles + count.in_hand + count.printed > 0)
      g_array_append_val (counts, count);
  }
  return counts;
}
