/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/order.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/design.h"
#include "measure/money.h"

static const SbOrderTextInfo text_infos[SB_N_ORDER_TEXTS] = {
    {"title", N_ ("Title of the set")},
    {"number", N_ ("Order")},
    {"buyer", N_ ("Buyer")},
    {"date", N_ ("Date")},
    {"batch", N_ ("Batch")},
    {"maker", N_ ("Maker")},
    {"contact", N_ ("Contact")},
    {"year", N_ ("Year")},
    {"thanks", N_ ("Thanks")},
    {"returns", N_ ("Returns")},
    {"licence", N_ ("Licence of the download")},
};

const SbOrderTextInfo *
sb_order_text_get_info (SbOrderText text)
{
  return &text_infos[text];
}

gboolean
sb_order_text_find (const char *key, SbOrderText *text)
{
  for (int i = 0; i < SB_N_ORDER_TEXTS; i++)
    if (g_str_equal (text_infos[i].key, key)) {
      *text = (SbOrderText)i;
      return TRUE;
    }
  return FALSE;
}

static void
pack_free (SbPack *pack)
{
  g_free (pack->name);
  g_array_unref (pack->lines);
  g_clear_pointer (&pack->extra, json_object_unref);
  g_free (pack);
}

static gpointer
pack_copy (gconstpointer source, gpointer data)
{
  const SbPack *pack = source;
  SbPack *copy = g_memdup2 (pack, sizeof *pack);
  copy->name = g_strdup (pack->name);
  copy->lines = g_array_copy (pack->lines);
  if (copy->extra != NULL)
    json_object_ref (copy->extra);
  return copy;
}

SbOrder *
sb_order_new (void)
{
  SbOrder *order = g_new0 (SbOrder, 1);
  g_atomic_ref_count_init (&order->refs);
  order->packs = g_ptr_array_new_with_free_func ((GDestroyNotify)pack_free);
  order->items = g_array_new (FALSE, FALSE, sizeof (SbOrderItem));
  order->runs = g_array_new (FALSE, FALSE, sizeof (SbRun));
  order->overs = SB_OVERS_USUAL;
  for (int i = 0; i < SB_N_RATES; i++)
    order->rates[i] = sb_rate_get_info ((SbRate)i)->usual;
  for (int i = 0; i < SB_N_ORDER_TEXTS; i++)
    order->texts[i] = g_strdup ("");
  order->currency = sb_currency_from_locale ();
  return order;
}

SbOrder *
sb_order_copy (const SbOrder *order)
{
  SbOrder *copy = g_memdup2 (order, sizeof *order);
  g_atomic_ref_count_init (&copy->refs);
  copy->packs = g_ptr_array_copy (order->packs, pack_copy, NULL);
  copy->items = g_array_copy (order->items);
  copy->runs = g_array_copy (order->runs);
  for (int i = 0; i < SB_N_ORDER_TEXTS; i++)
    copy->texts[i] = g_strdup (order->texts[i]);
  copy->currency = g_strdup (order->currency);
  if (copy->extra != NULL)
    json_object_ref (copy->extra);
  return copy;
}

SbOrder *
sb_order_ref (SbOrder *order)
{
  g_atomic_ref_count_inc (&order->refs);
  return order;
}

void
sb_order_unref (SbOrder *order)
{
  if (!g_atomic_ref_count_dec (&order->refs))
    return;
  g_ptr_array_unref (order->packs);
  g_array_unref (order->items);
  g_array_unref (order->runs);
  for (int i = 0; i < SB_N_ORDER_TEXTS; i++)
    g_free (order->texts[i]);
  g_free (order->currency);
  g_clear_pointer (&order->extra, json_object_unref);
  g_free (order);
}

static gboolean
packs_equal (const SbPack *a, const SbPack *b)
{
  if (!g_str_equal (a->name, b->name) || a->wanted != b->wanted || a->in_hand != b->in_hand ||
      a->lines->len != b->lines->len || !sb_extra_equal (a->extra, b->extra))
    return FALSE;
  for (guint i = 0; i < a->lines->len; i++) {
    const SbRecipeLine *p = &g_array_index (a->lines, SbRecipeLine, i),
                       *q = &g_array_index (b->lines, SbRecipeLine, i);
    if (p->item_id != q->item_id || p->count != q->count)
      return FALSE;
  }
  return TRUE;
}

static gboolean
items_equal (const SbOrder *a, const SbOrder *b)
{
  if (a->items->len != b->items->len || a->runs->len != b->runs->len)
    return FALSE;
  for (guint i = 0; i < a->items->len; i++) {
    const SbOrderItem *p = &g_array_index (a->items, SbOrderItem, i),
                      *q = &g_array_index (b->items, SbOrderItem, i);
    if (p->item_id != q->item_id || p->singles != q->singles || p->in_hand != q->in_hand ||
        p->spoiled != q->spoiled)
      return FALSE;
  }
  for (guint i = 0; i < a->runs->len; i++) {
    const SbRun *p = &g_array_index (a->runs, SbRun, i), *q = &g_array_index (b->runs, SbRun, i);
    if (p->page_id != q->page_id || p->times != q->times)
      return FALSE;
  }
  return TRUE;
}

static gboolean
orders_say_the_same (const SbOrder *a, const SbOrder *b)
{
  if (a->overs != b->overs || !a->covered != !b->covered || a->packs->len != b->packs->len ||
      !items_equal (a, b) || !sb_extra_equal (a->extra, b->extra))
    return FALSE;
  for (guint i = 0; i < a->packs->len; i++)
    if (!packs_equal (a->packs->pdata[i], b->packs->pdata[i]))
      return FALSE;
  for (int i = 0; i < SB_N_RATES; i++)
    if (a->rates[i] != b->rates[i])
      return FALSE;
  for (int i = 0; i < SB_N_ORDER_TEXTS; i++)
    if (!g_str_equal (a->texts[i], b->texts[i]))
      return FALSE;
  return TRUE;
}

gboolean
sb_order_equal (const SbOrder *a, const SbOrder *b)
{
  return a == b || (orders_say_the_same (a, b) && g_str_equal (a->currency, b->currency));
}

gboolean
sb_order_is_empty (const SbOrder *order)
{
  g_autoptr (SbOrder) empty = sb_order_new ();
  return orders_say_the_same (order, empty);
}

/* Packs */

void
sb_pack_set_name (SbPack *pack, const char *name)
{
  g_free (pack->name);
  pack->name = sb_name_clean (name);
}

SbPack *
sb_order_add_pack (SbOrder *order, const char *name)
{
  SbPack *pack = g_new0 (SbPack, 1);
  pack->lines = g_array_new (FALSE, FALSE, sizeof (SbRecipeLine));
  sb_pack_set_name (pack, name);
  g_ptr_array_add (order->packs, pack);
  return pack;
}

SbPack *
sb_order_find_pack (const SbOrder *order, const char *name)
{
  for (guint i = 0; i < order->packs->len; i++) {
    SbPack *pack = order->packs->pdata[i];
    if (g_str_equal (pack->name, name))
      return pack;
  }
  return NULL;
}

void
sb_order_remove_pack (SbOrder *order, guint index)
{
  g_ptr_array_remove_index (order->packs, index);
}

static SbRecipeLine *
find_line (const SbPack *pack, guint item_id, guint *index)
{
  for (*index = 0; *index < pack->lines->len; ++*index) {
    SbRecipeLine *line = &g_array_index (pack->lines, SbRecipeLine, *index);
    if (line->item_id == item_id)
      return line;
  }
  return NULL;
}

void
sb_pack_set_line (SbPack *pack, guint item_id, int count)
{
  guint index;
  SbRecipeLine *line = find_line (pack, item_id, &index);
  SbRecipeLine wanted = {item_id, MIN (count, SB_ORDER_MOST_COUNT)};
  if (line != NULL && count <= 0)
    g_array_remove_index (pack->lines, index);
  else if (line != NULL)
    *line = wanted;
  else if (count > 0)
    g_array_append_val (pack->lines, wanted);
}

int
sb_pack_get_line (const SbPack *pack, guint item_id)
{
  guint index;
  const SbRecipeLine *line = find_line (pack, item_id, &index);
  return line != NULL ? line->count : 0;
}

/* Items and pages */

void
sb_order_set_item (SbOrder *order, SbOrderItem item)
{
  gboolean says_nothing = item.singles == 0 && item.in_hand == 0 && item.spoiled == 0;
  for (guint i = 0; i < order->items->len; i++) {
    if (g_array_index (order->items, SbOrderItem, i).item_id != item.item_id)
      continue;
    if (says_nothing)
      g_array_remove_index (order->items, i);
    else
      g_array_index (order->items, SbOrderItem, i) = item;
    return;
  }
  if (!says_nothing)
    g_array_append_val (order->items, item);
}

SbOrderItem
sb_order_get_item (const SbOrder *order, guint item_id)
{
  for (guint i = 0; i < order->items->len; i++)
    if (g_array_index (order->items, SbOrderItem, i).item_id == item_id)
      return g_array_index (order->items, SbOrderItem, i);
  return (SbOrderItem){.item_id = item_id};
}

void
sb_order_set_times (SbOrder *order, guint page_id, int times)
{
  SbRun run = {page_id, CLAMP (times, 0, SB_ORDER_MOST_COUNT)};
  for (guint i = 0; i < order->runs->len; i++) {
    if (g_array_index (order->runs, SbRun, i).page_id != page_id)
      continue;
    if (times == 1)
      g_array_remove_index (order->runs, i);
    else
      g_array_index (order->runs, SbRun, i) = run;
    return;
  }
  if (times != 1)
    g_array_append_val (order->runs, run);
}

int
sb_order_get_times (const SbOrder *order, guint page_id)
{
  for (guint i = 0; i < order->runs->len; i++)
    if (g_array_index (order->runs, SbRun, i).page_id == page_id)
      return g_array_index (order->runs, SbRun, i).times;
  return 1;
}

void
sb_order_set_rate (SbOrder *order, SbRate rate, double value)
{
  const SbRateInfo *info = sb_rate_get_info (rate);
  order->rates[rate] = isfinite (value) ? CLAMP (value, info->least, info->most) : info->usual;
}

void
sb_order_set_text (SbOrder *order, SbOrderText text, const char *value)
{
  g_autofree char *valid = g_utf8_make_valid (value, -1);
  g_free (order->texts[text]);
  order->texts[text] =
      g_utf8_substring (valid, 0, MIN (g_utf8_strlen (valid, -1), SB_ORDER_MOST_TEXT));
  g_strstrip (order->texts[text]);
}

#define CLAMP_COUNT(count) CLAMP (count, 0, SB_ORDER_MOST_COUNT)

void
sb_order_tidy (SbOrder *order)
{
  order->overs = CLAMP (order->overs, SB_OVERS_USUAL, SB_OVERS_MOST);
  order->covered = order->covered != FALSE;
  if (order->packs->len > SB_ORDER_MOST_PACKS)
    g_ptr_array_set_size (order->packs, SB_ORDER_MOST_PACKS);
  for (guint i = 0; i < order->packs->len; i++) {
    SbPack *pack = order->packs->pdata[i];
    pack->wanted = CLAMP_COUNT (pack->wanted);
    pack->in_hand = CLAMP_COUNT (pack->in_hand);
    g_array_set_size (pack->lines, MIN (pack->lines->len, SB_ORDER_MOST_LINES));
  }
  for (guint i = 0; i < order->items->len; i++) {
    SbOrderItem *item = &g_array_index (order->items, SbOrderItem, i);
    item->singles = CLAMP_COUNT (item->singles);
    item->in_hand = CLAMP_COUNT (item->in_hand);
    item->spoiled = CLAMP_COUNT (item->spoiled);
  }
}
