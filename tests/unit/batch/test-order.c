/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "program.h"

static JsonObject *
object_of (JsonNode *node)
{
  return json_node_get_object (node);
}

/* Disks of 20 mm: six packs of two and three singles, laid and told. 12 and 10 % are 14 (13.2), 3
 * are 4. */
START_TEST (test_an_order_is_told_laid_and_done)
{
  draw_disk ("pea.svg", 20);
  draw_disk ("bean.svg", 24);
  g_auto (Result) made = run ("new job.stickleback --paper=a5");
  g_auto (Result) added = run ("add job.stickleback pea.svg bean.svg");
  ck_assert_int_eq (made.status + added.status, 0);
  g_auto (Result) laid =
      run ("order job.stickleback --pack=duo=6:pea*2 --single=bean=3 --rate=stock-price=4 "
           "--currency=EUR --lay --seconds=5 --json --tick-list=list.pdf --slip=slip.pdf "
           "--csv=order.csv");
  ck_assert_msg (laid.status == 0, "%s", laid.err);
  g_autoptr (JsonNode) node = read_json (&laid);
  JsonObject *told = object_of (node);
  ck_assert_str_eq (json_object_get_string_member (told, "currency"), "EUR");
  JsonArray *items = json_object_get_array_member (told, "items");
  ck_assert_int_eq (json_object_get_int_member (json_array_get_object_element (items, 0), "copies"),
                    14);
  ck_assert_int_eq (json_object_get_int_member (json_array_get_object_element (items, 1), "copies"),
                    4);
  ck_assert_int_eq (json_object_get_int_member (told, "sheets"), 1);
  static const char *const files[] = {"list.pdf", "slip.pdf", "order.csv"};
  for (guint i = 0; i < G_N_ELEMENTS (files); i++) {
    g_autofree char *path = in_folder (files[i]);
    ck_assert (g_file_test (path, G_FILE_TEST_IS_REGULAR));
  }
  g_auto (Result) how = run ("order job.stickleback --how");
  ck_assert_ptr_nonnull (strstr (how.out, "pea: 12 for packs + 0 singles"));
  ck_assert_ptr_nonnull (strstr (how.out, "1 sheets for the pages + 1 for tests = 2"));
  ck_assert_ptr_nonnull (strstr (how.out, "not known, so not counted: "));
  g_auto (Result) done = run ("order job.stickleback --spoiled=pea=1 --done");
  ck_assert_int_eq (done.status, 0);
  g_auto (Result) after = run ("order job.stickleback");
  /* 14 - 1 - 12 */
  ck_assert_ptr_nonnull (strstr (after.out, "pea: 0 for packs + 0 singles − 1 in hand = 0"));
}
END_TEST

START_TEST (test_wrong_orders)
{
  draw_disk ("pea.svg", 20);
  g_auto (Result) made = run ("new job.stickleback");
  g_auto (Result) added = run ("add job.stickleback pea.svg");
  ck_assert_int_eq (made.status + added.status, 0);
  static const struct {
    const char *line, *what, *why;
  } wrongs[] = {
      {"order job.stickleback --pack=duo=6:plum", "--pack", "plum"},
      {"order job.stickleback --pack=duo", "--pack", "="},
      {"order job.stickleback --pack=duo=-1:pea", "--pack", "-1"},
      {"order job.stickleback --single=pea=1e9", "--single", "1e9"},
      {"order job.stickleback --rate=stock=4", "--rate", "stock-price"},
      {"order job.stickleback --rate=wage=-4", "--rate", "-4"},
      {"order job.stickleback --overs=many", "--overs", "many"},
      {"order job.stickleback --film=perhaps", "--film", "perhaps"},
      {"order job.stickleback --currency=Dollar", "--currency", "Dollar"},
      {"order job.stickleback --lay", "job.stickleback", "nothing"},
      {"download job.stickleback nowhere", "nowhere", "folder"},
      {"download job.stickleback . --paper=a3", "--paper", "a3"},
      {"download job.stickleback . --copies=0", "--copies", "0"},
  };
  for (guint i = 0; i < G_N_ELEMENTS (wrongs); i++) {
    g_auto (Result) result = run (wrongs[i].line);
    expect_one_line (&result, 2, wrongs[i].what, wrongs[i].why);
  }
  g_auto (Result) after = run ("figures job.stickleback --json");
  ck_assert_int_eq (after.status, 0);
}
END_TEST

START_TEST (test_a_download)
{
  draw_disk ("pea.svg", 20);
  g_auto (Result) made = run ("new job.stickleback");
  g_auto (Result) added = run ("add job.stickleback pea.svg");
  ck_assert_int_eq (made.status + added.status, 0);
  g_autofree char *out = in_folder ("out");
  ck_assert_int_eq (g_mkdir (out, 0755), 0);
  g_auto (Result) result =
      run ("download job.stickleback out --paper=a4 --no-pictures --seconds=0 --json");
  ck_assert_msg (result.status == 0, "%s", result.err);
  g_autoptr (JsonNode) node = read_json (&result);
  JsonArray *files = json_object_get_array_member (object_of (node), "files");
  ck_assert_uint_eq (json_array_get_length (files), 2); /* a book and the shop's picture */
  ck_assert_str_eq (
      json_object_get_string_member (json_array_get_object_element (files, 0), "name"),
      "Stickers_to_print_at_home_A4.pdf");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("order");
  TCase *tcase = tcase_create ("order");
  tcase_set_timeout (tcase, 120);
  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_add_test (tcase, test_an_order_is_told_laid_and_done);
  tcase_add_test (tcase, test_wrong_orders);
  tcase_add_test (tcase, test_a_download);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
