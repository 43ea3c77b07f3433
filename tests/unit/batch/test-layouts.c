/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sheets and cards on the command line. */
#include "suite.h"

#include "job/file.h"
#include "program.h"

static SbState *
load (const char *name)
{
  g_autofree char *path = in_folder (name);
  g_autoptr (GError) error = NULL;
  SbState *state = sb_job_file_load (path, NULL, &error);
  ck_assert_msg (state != NULL, "%s", error ? error->message : "");
  return state;
}

static gint64
get_int (const Result *result, const char *member)
{
  g_autoptr (JsonNode) node = read_json (result);
  return json_object_get_int_member (json_node_get_object (node), member);
}

/* A fact of the trade (common practice): four quarter-letter sheets on a Letter page. */
START_TEST (test_sheet)
{
  draw_disk ("bean.svg", 20);
  expect_done ("new fair.stickleback --paper=letter");
  expect_done ("add fair.stickleback bean.svg --count=0");
  g_auto (Result) made = run ("sheet fair.stickleback Garden --size=quarter-letter --count=20 "
                              "--with=bean=6 --title %s --maker %s --json",
                              "Garden friends", "Radish & Rue");
  ck_assert_msg (made.status == 0, "%s", made.err);
  ck_assert_int_eq (get_int (&made, "copies_a_page"), 4);
  ck_assert_int_eq (get_int (&made, "pages"), 5);
  ck_assert_int_eq (get_int (&made, "pieces"), 8);
  ck_assert_int_eq (get_int (&made, "laid"), 20);

  /* Changed again: what no option names stays. */
  g_auto (Result) fewer = run ("sheet fair.stickleback Garden --count=3 --json");
  ck_assert_int_eq (get_int (&fewer, "pages"), 1);
  ck_assert_int_eq (get_int (&fewer, "pieces"), 8);
  g_autoptr (SbState) state = load ("fair.stickleback");
  ck_assert_int_eq (((SbLayout *)state->layouts->pdata[0])->width, 107950);
  /* The title stands at the top, wherever stickers went: its middle half of 14 pt below the edge.
   */
  const SbDesign *title = sb_state_find_design (state, "Garden friends");
  const SbLayout *sheet = state->layouts->pdata[0];
  guint n_titles = 0;
  for (guint i = 0; i < sheet->n_pieces; i++) {
    if (sheet->pieces[i].design_id != title->id)
      continue;
    n_titles++;
    ck_assert_int_eq (sheet->pieces[i].at.x, 107950 / 2);
    ck_assert_int_eq (sheet->pieces[i].at.y, sheet->edge + 2469);
  }
  ck_assert_uint_eq (n_titles, 1);
  expect_done ("proof fair.stickleback");
  expect_done ("export fair.stickleback fair.pdf");
}
END_TEST

/* A fact of the trade (common practice): a bag header 3.25 in wide folded to 1.5 in is a flat card
 * of 3.25 x 3 in. */
START_TEST (test_cards)
{
  expect_done ("new fair.stickleback --paper=letter");
  g_auto (Result) header = run ("card fair.stickleback Header --bag=3.25in --folded=1.5in "
                                "--count=12 --front %s --back %s --background=#fff4d6 --json",
                                "Radish & Rue", "Not for food, skin or mouth");
  ck_assert_msg (header.status == 0, "%s", header.err);
  ck_assert_int_eq (get_int (&header, "pieces"), 2);
  ck_assert_int_eq (get_int (&header, "laid"), 12);
  expect_done ("card fair.stickleback Back --inside=3x4in --count=5");
  g_autoptr (SbState) state = load ("fair.stickleback");
  const SbLayout *card = state->layouts->pdata[0], *backing = state->layouts->pdata[1];
  ck_assert_int_eq (card->width, 82550);
  ck_assert_int_eq (card->height, 76200);
  ck_assert_int_eq (card->background, 0xfff4d6);
  ck_assert_int_eq (card->pieces[1].turn, 180000);
  ck_assert_int_eq (backing->width, 76200 - 5000);
  ck_assert_int_eq (backing->height, 101600 - 10000);
}
END_TEST

START_TEST (test_what_cannot_be)
{
  draw_disk ("bean.svg", 40);
  expect_done ("new fair.stickleback --paper=a4");
  expect_done ("add fair.stickleback bean.svg");
  expect_failure (2, "--size", "wide", "sheet fair.stickleback A --size=wide");
  expect_failure (2, "--with", "pea", "sheet fair.stickleback A --with=pea");
  expect_failure (2, "--with", "number", "sheet fair.stickleback A --with=bean=0");
  expect_failure (2, "--with", "do not fit", "sheet fair.stickleback A --with=bean=40");
  expect_failure (2, "fair.stickleback", "larger", "sheet fair.stickleback A --size=400x500mm");
  expect_failure (2, "--bag", "needs", "card fair.stickleback A");
  expect_failure (2, "--background", "red", "card fair.stickleback A --bag=80 --background=red");
  expect_failure (2, "--front", "no letters", "card fair.stickleback A --bag=80 --front %s", "  ");
  expect_failure (2, "none.stickleback", "No such file", "card none.stickleback A --bag=80");
  expect_done ("sheet fair.stickleback A");
  expect_failure (2, "fair.stickleback", "another kind", "card fair.stickleback A --bag=80");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("layouts");
  TCase *tcase = tcase_create ("layouts");
  tcase_set_timeout (tcase, 120);
  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_add_test (tcase, test_sheet);
  tcase_add_test (tcase, test_cards);
  tcase_add_test (tcase, test_what_cannot_be);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
