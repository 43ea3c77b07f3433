/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/order-json.h"

#include <glib/gi18n.h>
#include <string.h>

#define MOST_BYTES (4 * SB_ORDER_MOST_TEXT)
#define CODE_LENGTH 3 /* ISO 4217 */

static JsonArray *
write_lines (const SbPack *pack)
{
  JsonArray *lines = json_array_new ();
  for (guint i = 0; i < pack->lines->len; i++) {
    const SbRecipeLine *line = &g_array_index (pack->lines, SbRecipeLine, i);
    JsonObject *object = json_object_new ();
    json_object_set_int_member (object, "item", line->item_id);
    json_object_set_int_member (object, "count", line->count);
    json_array_add_object_element (lines, object);
  }
  return lines;
}

static JsonObject *
write_pack (const SbPack *pack)
{
  JsonObject *object = json_object_new ();
  json_object_set_string_member (object, "name", pack->name);
  json_object_set_int_member (object, "wanted", pack->wanted);
  json_object_set_int_member (object, "in_hand", pack->in_hand);
  json_object_set_array_member (object, "recipe", write_lines (pack));
  return object;
}

static JsonArray *
write_packs (const SbOrder *order)
{
  JsonArray *packs = json_array_new ();
  for (guint i = 0; i < order->packs->len; i++) {
    const SbPack *pack = order->packs->pdata[i];
    JsonObject *object = write_pack (pack);
    if (pack->extra != NULL)
      sb_json_add_leftover (object, pack->extra);
    json_array_add_object_element (packs, object);
  }
  return packs;
}

static JsonArray *
write_items (const SbOrder *order)
{
  JsonArray *items = json_array_new ();
  for (guint i = 0; i < order->items->len; i++) {
    const SbOrderItem *item = &g_array_index (order->items, SbOrderItem, i);
    JsonObject *object = json_object_new ();
    json_object_set_int_member (object, "item", item->item_id);
    json_object_set_int_member (object, "singles", item->singles);
    json_object_set_int_member (object, "in_hand", item->in_hand);
    json_object_set_int_member (object, "spoiled", item->spoiled);
    json_array_add_object_element (items, object);
  }
  return items;
}

static JsonArray *
write_runs (const SbOrder *order)
{
  JsonArray *runs = json_array_new ();
  for (guint i = 0; i < order->runs->len; i++) {
    const SbRun *run = &g_array_index (order->runs, SbRun, i);
    JsonObject *object = json_object_new ();
    json_object_set_int_member (object, "page", run->page_id);
    json_object_set_int_member (object, "times", run->times);
    json_array_add_object_element (runs, object);
  }
  return runs;
}

JsonObject *
sb_order_write (const SbOrder *order)
{
  JsonObject *rates = json_object_new (), *texts = json_object_new ();
  for (int i = 0; i < SB_N_RATES; i++)
    json_object_set_double_member (rates, sb_rate_get_info ((SbRate)i)->key, order->rates[i]);
  for (int i = 0; i < SB_N_ORDER_TEXTS; i++)
    if (*order->texts[i] != '\0')
      json_object_set_string_member (texts, sb_order_text_get_info ((SbOrderText)i)->key,
                                     order->texts[i]);
  JsonObject *object = json_object_new ();
  json_object_set_array_member (object, "packs", write_packs (order));
  json_object_set_array_member (object, "items", write_items (order));
  json_object_set_array_member (object, "runs", write_runs (order));
  json_object_set_int_member (object, "overs_percent", order->overs);
  json_object_set_boolean_member (object, "covered", order->covered);
  json_object_set_object_member (object, "rates", rates);
  json_object_set_object_member (object, "texts", texts);
  json_object_set_string_member (object, "currency", order->currency);
  return object;
}

typedef struct {
  SbJsonReader *json;
  guint next_id;
} Reading;

static guint
read_id (const Reading *reading, JsonObject *object, const char *member)
{
  return (guint)sb_json_reader_int (reading->json, object, member, 1,
                                    MAX (1, (gint64)reading->next_id - 1));
}

static int
read_count (const Reading *reading, JsonObject *object, const char *member, int least)
{
  return (int)sb_json_reader_int (reading->json, object, member, least, SB_ORDER_MOST_COUNT);
}

/* The next object of an array, or NULL at its end and after an error. */
static JsonObject *
next_object (const Reading *reading, JsonArray *array, guint *index)
{
  if (array == NULL || reading->json->error != NULL || *index >= json_array_get_length (array))
    return NULL;
  return sb_json_reader_element (reading->json, array, (*index)++);
}

/* An id named a second time would count twice. */
static void
note_once (const Reading *reading, GHashTable *seen, guint id)
{
  if (!g_hash_table_add (seen, GUINT_TO_POINTER (id)))
    sb_json_reader_fail (reading->json, _ ("the order names %u twice"), id);
}

static void
read_pack (const Reading *reading, SbOrder *order, JsonObject *object)
{
  const char *name = sb_json_reader_text (reading->json, object, "name");
  SbPack *pack = sb_order_add_pack (order, name);
  pack->wanted = read_count (reading, object, "wanted", 0);
  pack->in_hand = read_count (reading, object, "in_hand", 0);
  JsonArray *lines = sb_json_reader_array (reading->json, object, "recipe", SB_ORDER_MOST_LINES);
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  guint i = 0;
  for (JsonObject *line; (line = next_object (reading, lines, &i)) != NULL;) {
    SbRecipeLine read = {read_id (reading, line, "item"), read_count (reading, line, "count", 1)};
    note_once (reading, seen, read.item_id);
    g_array_append_val (pack->lines, read);
  }
  g_autoptr (JsonObject) known = write_pack (pack);
  pack->extra = sb_json_leftover (object, known);
}

static void
read_items (const Reading *reading, SbOrder *order, JsonArray *array)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  guint i = 0;
  for (JsonObject *object; (object = next_object (reading, array, &i)) != NULL;) {
    SbOrderItem item = {
        read_id (reading, object, "item"), read_count (reading, object, "singles", 0),
        read_count (reading, object, "in_hand", 0), read_count (reading, object, "spoiled", 0)};
    note_once (reading, seen, item.item_id);
    g_array_append_val (order->items, item);
  }
}

static void
read_runs (const Reading *reading, SbOrder *order, JsonArray *array)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  guint i = 0;
  for (JsonObject *object; (object = next_object (reading, array, &i)) != NULL;) {
    SbRun run = {read_id (reading, object, "page"), read_count (reading, object, "times", 0)};
    note_once (reading, seen, run.page_id);
    g_array_append_val (order->runs, run);
  }
}

/* A rate or a text that an older version did not know keeps its usual value. */
static void
read_rates (const Reading *reading, SbOrder *order, JsonObject *object)
{
  for (int i = 0; i < SB_N_RATES; i++) {
    const SbRateInfo *info = sb_rate_get_info ((SbRate)i);
    if (object != NULL && json_object_has_member (object, info->key))
      order->rates[i] =
          sb_json_reader_number (reading->json, object, info->key, info->least, info->most);
  }
}

static void
read_texts (const Reading *reading, SbOrder *order, JsonObject *object)
{
  for (int i = 0; i < SB_N_ORDER_TEXTS; i++) {
    const char *key = sb_order_text_get_info ((SbOrderText)i)->key;
    if (object == NULL || !json_object_has_member (object, key))
      continue;
    const char *text = sb_json_reader_text (reading->json, object, key);
    if (strlen (text) > MOST_BYTES)
      sb_json_reader_fail (reading->json, _ ("“%s” is too long"), key);
    sb_order_set_text (order, (SbOrderText)i, text);
  }
}

static void
read_currency (const Reading *reading, SbOrder *order, JsonObject *object)
{
  const char *code = sb_json_reader_text (reading->json, object, "currency");
  gsize letters = strspn (code, "ABCDEFGHIJKLMNOPQRSTUVWXYZ");
  if (code[letters] != '\0' || (letters != 0 && letters != CODE_LENGTH))
    sb_json_reader_fail (reading->json, _ ("“%.40s” is not the code of a currency"), code);
  g_free (order->currency);
  order->currency = g_strndup (code, letters);
}

SbOrder *
sb_order_read (SbJsonReader *json, JsonObject *object, guint next_id)
{
  if (object == NULL)
    return NULL;
  Reading reading = {json, next_id};
  SbOrder *order = sb_order_new ();
  JsonArray *packs = sb_json_reader_array (json, object, "packs", SB_ORDER_MOST_PACKS);
  guint i = 0;
  for (JsonObject *pack; (pack = next_object (&reading, packs, &i)) != NULL;)
    read_pack (&reading, order, pack);
  read_items (&reading, order, sb_json_reader_array (json, object, "items", SB_ORDER_MOST_LINES));
  read_runs (&reading, order, sb_json_reader_array (json, object, "runs", SB_ORDER_MOST_LINES));
  order->overs =
      (int)sb_json_reader_int (json, object, "overs_percent", SB_OVERS_USUAL, SB_OVERS_MOST);
  order->covered = sb_json_reader_bool (json, object, "covered");
  read_rates (&reading, order, sb_json_reader_object (json, object, "rates"));
  read_texts (&reading, order, sb_json_reader_object (json, object, "texts"));
  read_currency (&reading, order, object);
  g_autoptr (JsonObject) known = sb_order_write (order);
  order->extra = sb_json_leftover (object, known);
  return order;
}
