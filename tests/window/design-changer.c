/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Changes of a design that are still being measured while the maker goes on working. */
#include "config.h"

#include "canvas-scene.h"
#include "suite.h"
#include "window/desk/design-changer.h"

static SbJob *job;
static SbDesignChanger *changer;
static gboolean settled;

static void
settled_cb (void)
{
  settled = TRUE;
}

static void
setup (void)
{
  SbSceneParams params = {
      .designs = 2, .pieces = 2, .picture_px = 120, .size_mm = 30, .spread = 60000};

  g_autoptr (SbState) state = sb_scene_make_state (&params);
  job = sb_job_new (state);
  changer = sb_design_changer_new (job);
  settled = FALSE;
  g_signal_connect (changer, "settled", G_CALLBACK (settled_cb), NULL);
}

static void
teardown (void)
{
  g_clear_object (&changer);
  g_clear_object (&job);
}

static SbDesign *
get_design (guint index)
{
  return sb_job_get_settled_state (job)->designs->pdata[index];
}

static void
set_border (guint index, double mm)
{
  SbDesign *copy = sb_design_changer_begin (changer, get_design (index)->id);

  SbBorderParams border = copy->border;

  border.width_mm = mm;
  sb_design_set_border (copy, &border);
  sb_design_changer_end (changer, copy, "Border of %s", FALSE);
}

static void
wait_until_settled (void)
{
  while (!settled)
    g_main_context_iteration (NULL, TRUE);
}

static void
rename_design (guint index, const char *name)
{
  SbDesign *copy = sb_design_copy (get_design (index));

  g_free (copy->name);
  copy->name = g_strdup (name);
  sb_job_edit (job, sb_edit_replace_design (sb_job_get_settled_state (job), copy), "Rename", NULL);
}

START_TEST (an_edit_of_something_else_takes_nothing_away)
{
  set_border (0, 5);
  set_border (1, 6);
  sb_job_edit (job, sb_edit_add_page (sb_job_get_settled_state (job), 1), "Add Page", NULL);
  wait_until_settled ();
  ck_assert_double_eq (get_design (0)->border.width_mm, 5);
  ck_assert_double_eq (get_design (1)->border.width_mm, 6);
  ck_assert_uint_eq (sb_job_get_settled_state (job)->pages->len, 2);
}
END_TEST

START_TEST (a_newer_edit_of_the_design_wins)
{
  double before = get_design (0)->border.width_mm;

  set_border (0, 5);
  set_border (1, 6);
  rename_design (0, "other leaf");
  wait_until_settled ();
  ck_assert_str_eq (get_design (0)->name, "other leaf");
  ck_assert_double_eq (get_design (0)->border.width_mm, before);
  ck_assert_double_eq (get_design (1)->border.width_mm, 6);
}
END_TEST

START_TEST (a_design_that_went_is_not_brought_back)
{
  set_border (0, 5);
  set_border (1, 6);
  sb_job_edit (job, sb_edit_remove_design (sb_job_get_settled_state (job), get_design (0)->id),
               "Remove", NULL);
  wait_until_settled ();
  ck_assert_uint_eq (sb_job_get_settled_state (job)->designs->len, 1);
  ck_assert_double_eq (get_design (0)->border.width_mm, 6);
}
END_TEST

START_TEST (what_is_taken_back_leaves_the_rest)
{
  double before = get_design (1)->border.width_mm;

  set_border (0, 5);
  set_border (1, 6);
  ck_assert (sb_design_changer_take_back (changer));
  wait_until_settled ();
  ck_assert_double_eq (get_design (0)->border.width_mm, 5);
  ck_assert_double_eq (get_design (1)->border.width_mm, before);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("design-changer");
  TCase *tcase = tcase_create ("while borders grow");

  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_add_test (tcase, an_edit_of_something_else_takes_nothing_away);
  tcase_add_test (tcase, a_newer_edit_of_the_design_wins);
  tcase_add_test (tcase, a_design_that_went_is_not_brought_back);
  tcase_add_test (tcase, what_is_taken_back_leaves_the_rest);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
