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

const char *
sb_order_get_item_name (const SbState *state, guint item_id)
{
  const SbDesign *design = sb_state_get_design (state, item_id);
  const SbLayout *layout = sb_state_get_layout (state, item_id);
  return design != NULL ? design->name : layout != NULL ? layout->name : NULL;
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

int
sb_order_count_prints (const SbState *state, guint index)
{
  const SbPage *page = sb_state_get_page (state, index);
  return page->n_pieces + page->n_placements > 0 ? sb_order_get_times (state->order, page->id) : 0;
}

gboolean
sb_order_is_card_page (const SbState *state, guint index)
{
  const SbPage *page = sb_state_get_page (state, index);
  return page->layout_id != 0 && sb_layout_is_card (sb_state_get_layout (state, page->layout_id));
}

guint
sb_order_count_sheets (const SbState *state)
{
  guint sheets = 0;
  for (guint k = 0; k < state->pages->len; k++)
    sheets += (guint)sb_order_count_prints (state, k);
  return sheets;
}

static int
count_laid (const SbState *state, guint layout_id)
{
  int printed = 0;
  for (guint k = 0; k < state->pages->len; k++) {
    const SbPage *page = state->pages->pdata[k];
    if (page->layout_id == layout_id)
      printed += (int)page->n_placements * sb_order_get_times (state->order, page->id);
  }
  return printed;
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

/* The sums that follow from what is printed and known of an item. */
static void
complete (SbCount *count, const SbOrder *order, gboolean by_knife)
{
  SbOrderItem item = sb_order_get_item (order, count->item_id);
  count->from_packs = count_from_packs (order, count->item_id);
  count->singles = item.singles;
  count->in_hand = item.in_hand;
  count->spoiled = item.spoiled;
  count->to_print = MAX (0, count->from_packs + count->singles - count->in_hand);
  count->overs_percent = order->overs;
  if (order->overs == SB_OVERS_USUAL)
    count->overs_percent = sb_overs_usual_percent (count->to_print, order->covered, by_knife);
  count->copies = sb_overs_add (count->to_print, count->overs_percent);
  count->left = count->printed - count->spoiled - count->to_print;
}

static SbCount
count_design (const SbState *state, const SbDesign *design)
{
  SbCount count = {.item_id = design->id,
                   .name = design->name,
                   .printed = sb_order_count_printed (state, design->id)};
  complete (&count, state->order, design->guide.style == SB_GUIDE_KNIFE);
  return count;
}

static SbCount
count_layout (const SbState *state, const SbLayout *layout)
{
  SbCount count = {.item_id = layout->id,
                   .layout = layout,
                   .name = layout->name,
                   .printed = count_laid (state, layout->id)};
  complete (&count, state->order, layout->kind == SB_LAYOUT_SHEET);
  return count;
}

static gboolean
says_something (const SbCount *count)
{
  return count->from_packs + count->singles + count->in_hand + count->printed > 0;
}

GArray *
sb_order_count (const SbState *state)
{
  GArray *counts = g_array_new (FALSE, FALSE, sizeof (SbCount));
  for (guint i = 0; i < state->designs->len; i++) {
    SbCount count = count_design (state, state->designs->pdata[i]);
    if (says_something (&count))
      g_array_append_val (counts, count);
  }
  for (guint i = 0; i < state->layouts->len; i++) {
    SbCount count = count_layout (state, state->layouts->pdata[i]);
    if (says_something (&count))
      g_array_append_val (counts, count);
  }
  return counts;
}
