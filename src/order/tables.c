/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "order/tables.h"

#include <glib/gi18n.h>
#include <string.h>

#include "order/counts.h"

/* CSV */

static void
add_cell (GString *csv, const char *text)
{
  const char *guard = *text != '\0' && strchr ("=+-@\t\r", *text) != NULL ? "'" : "";
  g_auto (GStrv) parts = g_strsplit (text, "\"", -1);
  g_autofree char *escaped = g_strjoinv ("\"\"", parts);
  if (csv->len > 0 && csv->str[csv->len - 1] != '\n')
    g_string_append_c (csv, ',');
  g_string_append_printf (csv, "\"%s%s\"", guard, escaped);
}

static void
add_number (GString *csv, double number)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  if (csv->len > 0 && csv->str[csv->len - 1] != '\n')
    g_string_append_c (csv, ',');
  g_string_append (csv, g_ascii_formatd (text, sizeof text, "%.10g", number));
}

static void
end_line (GString *csv)
{
  g_string_append (csv, "\r\n");
}

static void
add_counts (GString *csv, const SbState *state)
{
  const char *const titles[] = {_ ("Item"),    _ ("From packs"), _ ("Singles"),
                                _ ("In hand"), _ ("To print"),   _ ("With overs"),
                                _ ("Printed"), _ ("Spoiled"),    _ ("Left over")};
  for (guint i = 0; i < G_N_ELEMENTS (titles); i++)
    add_cell (csv, titles[i]);
  end_line (csv);
  g_autoptr (GArray) counts = sb_order_count (state);
  for (guint i = 0; i < counts->len; i++) {
    const SbCount *count = &g_array_index (counts, SbCount, i);
    const int numbers[] = {count->from_packs, count->singles, count->in_hand, count->to_print,
                           count->copies,     count->printed, count->spoiled, count->left};
    add_cell (csv, count->name);
    for (guint k = 0; k < G_N_ELEMENTS (numbers); k++)
      add_number (csv, numbers[k]);
    end_line (csv);
  }
}

char *
sb_order_to_csv (const SbState *state, const SbBill *bill)
{
  GString *csv = g_string_new (NULL);
  add_counts (csv, state);
  end_line (csv);
  add_cell (csv, _ ("Figure"));
  add_cell (csv, _ ("What it is"));
  add_cell (csv, _ ("Value"));
  add_cell (csv, _ ("Currency"));
  end_line (csv);
  for (guint i = 0; i < bill->figures->len; i++) {
    const SbFigure *figure = bill->figures->pdata[i];
    gboolean money = figure->kind == SB_FIGURE_MONEY || figure->kind == SB_FIGURE_FINE_MONEY;
    add_cell (csv, figure->key);
    add_cell (csv, figure->label);
    add_number (csv, figure->value);
    add_cell (csv, money ? bill->currency : "");
    end_line (csv);
  }
  return g_string_free (csv, FALSE);
}

/* JSON */

static JsonArray *
describe_items (const SbState *state)
{
  JsonArray *array = json_array_new ();
  g_autoptr (GArray) counts = sb_order_count (state);
  for (guint i = 0; i < counts->len; i++) {
    const SbCount *count = &g_array_index (counts, SbCount, i);
    JsonObject *object = json_object_new ();
    json_object_set_string_member (object, "name", count->name);
    json_object_set_int_member (object, "from_packs", count->from_packs);
    json_object_set_int_member (object, "singles", count->singles);
    json_object_set_int_member (object, "in_hand", count->in_hand);
    json_object_set_int_member (object, "to_print", count->to_print);
    json_object_set_int_member (object, "overs_percent", count->overs_percent);
    json_object_set_int_member (object, "copies", count->copies);
    json_object_set_int_member (object, "printed", count->printed);
    json_object_set_int_member (object, "spoiled", count->spoiled);
    json_object_set_int_member (object, "left", count->left);
    json_array_add_object_element (array, object);
  }
  return array;
}

static JsonArray *
describe_packs (const SbState *state)
{
  JsonArray *array = json_array_new ();
  for (guint i = 0; i < state->order->packs->len; i++) {
    const SbPack *pack = state->order->packs->pdata[i];
    JsonObject *object = json_object_new ();
    json_object_set_string_member (object, "name", pack->name);
    json_object_set_int_member (object, "wanted", pack->wanted);
    json_object_set_int_member (object, "in_hand", pack->in_hand);
    json_object_set_int_member (object, "to_make", sb_pack_get_to_make (pack));
    json_array_add_object_element (array, object);
  }
  return array;
}

static JsonArray *
describe_pages (const SbState *state)
{
  JsonArray *array = json_array_new ();
  for (guint k = 0; k < state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (state, k);
    JsonObject *object = json_object_new ();
    json_object_set_int_member (object, "page", k + 1);
    json_object_set_int_member (object, "pieces", page->n_pieces + page->n_placements);
    json_object_set_int_member (object, "times", sb_order_get_times (state->order, page->id));
    json_array_add_object_element (array, object);
  }
  return array;
}

static JsonObject *
describe_figure (const SbFigure *figure)
{
  JsonArray *how = json_array_new ();
  for (guint i = 0; i < figure->lines->len; i++)
    json_array_add_string_element (how, figure->lines->pdata[i]);
  JsonObject *object = json_object_new ();
  json_object_set_string_member (object, "key", figure->key);
  json_object_set_string_member (object, "label", figure->label);
  json_object_set_double_member (object, "value", figure->value);
  json_object_set_double_member (object, "low", figure->low);
  json_object_set_double_member (object, "high", figure->high);
  json_object_set_array_member (object, "how", how);
  return object;
}

JsonObject *
sb_order_to_json (const SbState *state, const SbBill *bill)
{
  JsonArray *figures = json_array_new (), *missing = json_array_new ();
  for (guint i = 0; i < bill->figures->len; i++)
    json_array_add_object_element (figures, describe_figure (bill->figures->pdata[i]));
  for (guint i = 0; i < bill->missing->len; i++)
    json_array_add_string_element (missing, bill->missing->pdata[i]);
  JsonObject *object = json_object_new ();
  json_object_set_string_member (object, "currency", bill->currency);
  json_object_set_array_member (object, "items", describe_items (state));
  json_object_set_array_member (object, "packs", describe_packs (state));
  json_object_set_array_member (object, "pages", describe_pages (state));
  json_object_set_int_member (object, "sheets", sb_order_count_sheets (state));
  json_object_set_array_member (object, "figures", figures);
  json_object_set_array_member (object, "missing", missing);
  return object;
}
