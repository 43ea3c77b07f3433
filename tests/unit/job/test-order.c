/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <math.h>

#include "job/file.h"
#include "job/job-json.h"
#include "make-job.h"
#include "measure/money.h"

static SbState *
make_order (void)
{
  SbState *state = sb_make_job (3);
  SbOrder *order = sb_order_copy (state->order);
  SbPack *pack = sb_order_add_pack (order, "Harvest pack");
  pack->wanted = 40;
  pack->in_hand = 3;
  for (guint i = 0; i < state->designs->len; i++)
    sb_pack_set_line (pack, ((SbDesign *)state->designs->pdata[i])->id, (int)i + 1);
  sb_order_set_item (order, (SbOrderItem){((SbDesign *)state->designs->pdata[0])->id, 7, 2, 1});
  sb_order_set_times (order, sb_state_get_page (state, 0)->id, 15);
  sb_order_set_rate (order, SB_RATE_STOCK_PRICE, 12.99);
  sb_order_set_text (order, SB_ORDER_BUYER, "  Ana\xc3\xafs \xf0\x9f\x8c\xbf  ");
  order->overs = 7;
  order->covered = TRUE;
  sb_take (&state, sb_edit_set_order (state, order));
  return state;
}

static SbPicture *
find_picture (const char *name, gpointer data, GError **error)
{
  const SbState *state = data;
  for (guint i = 0; i < state->designs->len; i++) {
    SbDesign *design = state->designs->pdata[i];
    g_autofree char *artwork = sb_artwork_get_name (design->picture);
    if (g_str_equal (artwork, name))
      return sb_picture_ref (design->picture);
  }
  return NULL;
}

static SbState *
read_text (const SbState *like, const char *text, GError **error)
{
  return sb_job_json_read (text, strlen (text), find_picture, (gpointer)like, error);
}

START_TEST (test_an_order_survives_the_file)
{
  g_autoptr (SbState) state = make_order ();
  gsize length;
  g_autofree char *text = sb_job_json_write (state, &length);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbState) read = read_text (state, text, &error);
  ck_assert_msg (read != NULL, "%s", error ? error->message : "");
  ck_assert (sb_order_equal (state->order, read->order));
  const SbPack *pack = read->order->packs->pdata[0];
  ck_assert_str_eq (pack->name, "Harvest pack");
  ck_assert_int_eq (sb_pack_get_line (pack, ((SbDesign *)state->designs->pdata[2])->id), 3);
  ck_assert_str_eq (read->order->texts[SB_ORDER_BUYER], "Ana\xc3\xafs \xf0\x9f\x8c\xbf");
  g_autofree char *again = sb_job_json_write (read, &length);
  ck_assert_str_eq (text, again);
}
END_TEST

START_TEST (test_a_job_without_an_order_says_nothing_of_it)
{
  g_autoptr (SbState) state = sb_make_job (1);
  gsize length;
  g_autofree char *text = sb_job_json_write (state, &length);
  ck_assert_ptr_null (strstr (text, "\"order\""));
  ck_assert (sb_order_is_empty (state->order));
}
END_TEST

/* `from` becomes `to` in the text of the job. */
static char *
change (const char *text, const char *from, const char *to)
{
  ck_assert_ptr_nonnull (strstr (text, from));
  g_auto (GStrv) parts = g_strsplit (text, from, 2);
  return g_strjoinv (to, parts);
}

START_TEST (test_what_a_newer_version_says_is_kept)
{
  g_autoptr (SbState) state = make_order ();
  gsize length;
  g_autofree char *text = sb_job_json_write (state, &length);
  g_autofree char *newer = change (text, "\"wanted\":40", "\"wanted\":40,\"ribbon\":\"red\"");
  g_autofree char *newest = change (newer, "\"covered\":true", "\"covered\":true,\"gift\":1");
  g_autoptr (SbState) read = read_text (state, newest, NULL);
  ck_assert_ptr_nonnull (read);
  g_autofree char *again = sb_job_json_write (read, &length);
  ck_assert_ptr_nonnull (strstr (again, "\"ribbon\":\"red\""));
  ck_assert_ptr_nonnull (strstr (again, "\"gift\":1"));
}
END_TEST

START_TEST (test_hostile_orders_are_refused)
{
  g_autoptr (SbState) state = make_order ();
  gsize length;
  g_autofree char *text = sb_job_json_write (state, &length);
  static const char *const lies[][2] = {
      {"\"wanted\":40", "\"wanted\":-1"},
      {"\"wanted\":40", "\"wanted\":1e300"},
      {"\"wanted\":40", "\"wanted\":40.5"},
      {"\"times\":15", "\"times\":-1"},
      {"\"overs_percent\":7", "\"overs_percent\":101"},
      {"\"stock-price\":12.99", "\"stock-price\":-1"},
      {"\"stock-price\":12.99", "\"stock-price\":\"cheap\""},
      {"\"singles\":7", "\"singles\":10000"},
      {"\"packs\":[", "\"packs\":[[],"},
      {"\"packs\":[", "\"packs\":[null,"},
      {"\"currency\":\"", "\"currency\":\"dollars"},
      {"\"item\":", "\"item\":9"},
      {"\"item\":", "\"item\":-"},
  };
  for (guint i = 0; i < G_N_ELEMENTS (lies); i++) {
    g_autofree char *lie = change (text, lies[i][0], lies[i][1]);
    g_autoptr (GError) error = NULL;
    g_autoptr (SbState) read = read_text (state, lie, &error);
    ck_assert_msg (read == NULL, "%s was taken", lies[i][1]);
    ck_assert_ptr_nonnull (error);
  }
}
END_TEST

START_TEST (test_a_change_to_a_copy_leaves_the_order)
{
  g_autoptr (SbState) state = make_order ();
  g_autoptr (SbOrder) copy = sb_order_copy (state->order);
  ck_assert (sb_order_equal (copy, state->order));
  SbPack *pack = sb_order_find_pack (copy, "Harvest pack");
  guint id = ((SbDesign *)state->designs->pdata[0])->id;
  sb_pack_set_line (pack, id, 0);
  ck_assert (!sb_order_equal (copy, state->order));
  ck_assert_int_eq (sb_pack_get_line (state->order->packs->pdata[0], id), 1);
  sb_order_set_item (copy, (SbOrderItem){.item_id = id});
  ck_assert_int_eq (sb_order_get_item (state->order, id).singles, 7);
  sb_order_set_times (copy, 1, 1);
  ck_assert_int_eq (sb_order_get_times (copy, 1), 1);
  sb_order_remove_pack (copy, 0);
  ck_assert_uint_eq (state->order->packs->len, 1);
}
END_TEST

START_TEST (test_numbers_are_taken_to_their_range)
{
  g_autoptr (SbState) state = sb_make_job (1);
  SbOrder *order = sb_order_copy (state->order);
  sb_order_add_pack (order, " \n")->wanted = 20000;
  order->overs = 1000;
  sb_order_set_rate (order, SB_RATE_SCISSORS_WAY, 0);
  sb_order_set_rate (order, SB_RATE_WAGE, NAN);
  sb_take (&state, sb_edit_set_order (state, order));
  const SbPack *pack = state->order->packs->pdata[0];
  ck_assert_str_eq (pack->name, "Unnamed");
  ck_assert_int_eq (pack->wanted, SB_ORDER_MOST_COUNT);
  ck_assert_int_eq (state->order->overs, SB_OVERS_MOST);
  ck_assert (state->order->rates[SB_RATE_SCISSORS_WAY] == 0.1);
  ck_assert (state->order->rates[SB_RATE_WAGE] == 0);
  SbState *same = sb_edit_set_order (state, sb_order_copy (state->order));
  ck_assert_ptr_eq (same, state);
  sb_state_unref (same);
}
END_TEST

START_TEST (test_every_key_is_found_once)
{
  for (int i = 0; i < SB_N_RATES; i++) {
    SbRate rate;
    const SbRateInfo *info = sb_rate_get_info ((SbRate)i);
    ck_assert (sb_rate_find (info->key, &rate));
    ck_assert_int_eq (rate, i);
    ck_assert (info->least <= info->usual && info->usual <= info->most);
  }
  for (int i = 0; i < SB_N_ORDER_TEXTS; i++) {
    SbOrderText text;
    ck_assert (sb_order_text_find (sb_order_text_get_info ((SbOrderText)i)->key, &text));
    ck_assert_int_eq (text, i);
  }
}
END_TEST

START_TEST (test_numbers_are_read_with_point_or_comma)
{
  double n = 0;
  ck_assert (sb_number_parse (" 12,5 ", &n) && n == 12.5);
  ck_assert (sb_number_parse ("0.25", &n) && n == 0.25);
  const char *const wrong[] = {"", "1.2.3", "1e5", "nan", "0x10", "12 a", "1,000.5"};
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    ck_assert_msg (!sb_number_parse (wrong[i], &n), "%s", wrong[i]);
}
END_TEST

START_TEST (test_money_names_its_currency)
{
  g_autofree char *none = sb_money_format (1.005, "");
  ck_assert_str_eq (none, "1.00");
  g_autofree char *other = sb_money_format (1234.5, "EUR");
  ck_assert_str_eq (other, "1234.50\u00a0EUR");
  g_autofree char *fine = sb_money_format_fine (0.06125, "EUR");
  ck_assert_str_eq (fine, "0.0612\u00a0EUR");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("order");
  TCase *tcase = tcase_create ("order");
  tcase_add_test (tcase, test_an_order_survives_the_file);
  tcase_add_test (tcase, test_a_job_without_an_order_says_nothing_of_it);
  tcase_add_test (tcase, test_what_a_newer_version_says_is_kept);
  tcase_add_test (tcase, test_hostile_orders_are_refused);
  tcase_add_test (tcase, test_a_change_to_a_copy_leaves_the_order);
  tcase_add_test (tcase, test_numbers_are_taken_to_their_range);
  tcase_add_test (tcase, test_every_key_is_found_once);
  tcase_add_test (tcase, test_numbers_are_read_with_point_or_comma);
  tcase_add_test (tcase, test_money_names_its_currency);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
