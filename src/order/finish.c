/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "order/finish.h"

#include "order/counts.h"

SbOrder *
sb_order_finish (const SbState *state)
{
  SbOrder *next = sb_order_copy (state->order);
  g_autoptr (GArray) counts = sb_order_count (state);
  for (guint i = 0; i < counts->len; i++) {
    const SbCount *count = &g_array_index (counts, SbCount, i);
    int used = count->from_packs + count->singles;
    int stock = count->in_hand + count->printed - count->spoiled - used;
    sb_order_set_item (next, (SbOrderItem){.item_id = count->item_id,
                                           .in_hand = CLAMP (stock, 0, SB_ORDER_MOST_COUNT)});
  }
  for (guint i = 0; i < next->packs->len; i++) {
    SbPack *pack = next->packs->pdata[i];
    pack->in_hand = MAX (0, pack->in_hand - pack->wanted);
    pack->wanted = 0;
  }
  g_array_set_size (next->runs, 0);
  for (guint k = 0; k < state->pages->len; k++)
    sb_order_set_times (next, sb_state_get_page (state, k)->id, 0);
  return next;
}
