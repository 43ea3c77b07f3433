/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "job/job-json.h"
#include "job/job.h"
#include "random-edit.h"

typedef struct {
  SbJob *job;
  int changed, history_changed;
} Watch;

static void
count_cb (SbJob *job, int *counter)
{
  ++*counter;
}

static void
watch_init (Watch *watch, guint n_designs)
{
  g_autoptr (SbState) state = sb_make_job (n_designs);
  *watch = (Watch){.job = sb_job_new (state)};
  g_signal_connect (watch->job, "changed", G_CALLBACK (count_cb), &watch->changed);
  g_signal_connect (watch->job, "history-changed", G_CALLBACK (count_cb), &watch->history_changed);
}

static void
watch_clear (Watch *watch)
{
  g_assert_finalize_object (watch->job);
}

static void
set_gap (Watch *watch, sb_um gap, const char *merge_key)
{
  sb_job_edit (watch->job, sb_edit_set_gap (sb_job_get_state (watch->job), gap), "Set gap",
               merge_key);
}

static sb_um
gap_of (Watch *watch)
{
  return sb_job_get_state (watch->job)->gap;
}

START_TEST (test_undo_and_redo)
{
  Watch watch;
  watch_init (&watch, 0);
  ck_assert (!sb_job_can_undo (watch.job));
  ck_assert_ptr_null (sb_job_get_undo_name (watch.job));

  set_gap (&watch, 1000, NULL);
  set_gap (&watch, 2000, NULL);
  ck_assert_str_eq (sb_job_get_undo_name (watch.job), "Set gap");
  sb_job_undo (watch.job);
  ck_assert_int_eq (gap_of (&watch), 1000);
  ck_assert_str_eq (sb_job_get_redo_name (watch.job), "Set gap");
  sb_job_redo (watch.job);
  ck_assert_int_eq (gap_of (&watch), 2000);
  ck_assert (!sb_job_can_redo (watch.job));
  ck_assert_int_eq (watch.changed, 4);
  ck_assert_int_eq (watch.history_changed, 4);

  sb_job_redo (watch.job);
  ck_assert_msg (watch.changed == 4, "nothing to redo, nothing told");
  watch_clear (&watch);
}
END_TEST

START_TEST (test_an_edit_after_undo_forgets_what_was_undone)
{
  Watch watch;
  watch_init (&watch, 0);
  set_gap (&watch, 1000, NULL);
  sb_job_undo (watch.job);
  set_gap (&watch, 3000, NULL);
  ck_assert (!sb_job_can_redo (watch.job));
  sb_job_undo (watch.job);
  ck_assert_int_eq (gap_of (&watch), 4000);
  ck_assert (!sb_job_can_undo (watch.job));
  watch_clear (&watch);
}
END_TEST

START_TEST (test_an_edit_that_changes_nothing_is_no_step)
{
  Watch watch;
  watch_init (&watch, 0);
  set_gap (&watch, 4000, NULL);
  ck_assert (!sb_job_can_undo (watch.job));
  ck_assert_int_eq (watch.changed, 0);
  ck_assert_int_eq (watch.history_changed, 0);
  watch_clear (&watch);
}
END_TEST

START_TEST (test_runs_of_one_key_are_one_step)
{
  Watch watch;
  watch_init (&watch, 0);
  for (sb_um gap = 1000; gap < 1010; gap++)
    set_gap (&watch, gap, "gap");
  set_gap (&watch, 500, "other");
  sb_job_undo (watch.job);
  ck_assert_int_eq (gap_of (&watch), 1009);
  sb_job_undo (watch.job);
  ck_assert_int_eq (gap_of (&watch), 4000);
  ck_assert (!sb_job_can_undo (watch.job));
  watch_clear (&watch);
}
END_TEST

START_TEST (test_a_run_ends_after_a_second)
{
  Watch watch;
  watch_init (&watch, 0);
  set_gap (&watch, 1000, "gap");
  g_usleep (1100 * 1000);
  set_gap (&watch, 2000, "gap");
  sb_job_undo (watch.job);
  ck_assert_int_eq (gap_of (&watch), 1000);
  watch_clear (&watch);
}
END_TEST

START_TEST (test_a_run_does_not_reach_over_undo_or_save)
{
  Watch watch;
  watch_init (&watch, 0);
  set_gap (&watch, 1000, "gap");
  set_gap (&watch, 2000, NULL);
  sb_job_undo (watch.job);
  set_gap (&watch, 3000, "gap");
  sb_job_undo (watch.job);
  ck_assert_int_eq (gap_of (&watch), 1000);

  set_gap (&watch, 1500, "gap");
  sb_job_mark_saved (watch.job, sb_job_get_settled_state (watch.job));
  set_gap (&watch, 1600, "gap");
  sb_job_undo (watch.job);
  ck_assert_int_eq (gap_of (&watch), 1500);
  ck_assert_msg (!sb_job_is_modified (watch.job), "undo comes back to the saved job");
  watch_clear (&watch);
}
END_TEST

START_TEST (test_a_preview_leaves_no_step)
{
  Watch watch;
  watch_init (&watch, 0);
  SbState *settled = sb_job_get_settled_state (watch.job);
  for (sb_um gap = 1; gap < 4; gap++)
    sb_job_preview (watch.job, sb_edit_set_gap (settled, gap));
  ck_assert_int_eq (gap_of (&watch), 3);
  ck_assert_ptr_eq (sb_job_get_settled_state (watch.job), settled);
  ck_assert (!sb_job_is_modified (watch.job));
  ck_assert_int_eq (watch.changed, 3);
  ck_assert_int_eq (watch.history_changed, 0);

  sb_job_drop_preview (watch.job);
  ck_assert_int_eq (gap_of (&watch), 4000);
  ck_assert_int_eq (watch.changed, 4);
  watch_clear (&watch);
}
END_TEST

START_TEST (test_a_drag_is_one_step)
{
  Watch watch;
  watch_init (&watch, 0);
  sb_job_preview (watch.job, sb_edit_set_gap (sb_job_get_settled_state (watch.job), 1));
  sb_job_preview (watch.job, sb_edit_set_gap (sb_job_get_settled_state (watch.job), 2));
  sb_job_edit (watch.job, sb_state_ref (sb_job_get_state (watch.job)), "Drag", NULL);
  ck_assert_int_eq (gap_of (&watch), 2);
  ck_assert_str_eq (sb_job_get_undo_name (watch.job), "Drag");
  sb_job_undo (watch.job);
  ck_assert_int_eq (gap_of (&watch), 4000);
  watch_clear (&watch);
}
END_TEST

START_TEST (test_a_drag_back_to_the_start_is_no_step)
{
  Watch watch;
  watch_init (&watch, 0);
  SbState *settled = sb_job_get_settled_state (watch.job);
  sb_job_preview (watch.job, sb_edit_set_gap (settled, 1));
  sb_job_edit (watch.job, sb_state_ref (settled), "Drag", NULL);
  ck_assert (!sb_job_can_undo (watch.job));
  ck_assert_int_eq (gap_of (&watch), 4000);
  ck_assert_msg (watch.changed == 2, "told that the preview is gone");
  watch_clear (&watch);
}
END_TEST

START_TEST (test_modified_follows_undo)
{
  Watch watch;
  watch_init (&watch, 0);
  ck_assert (!sb_job_is_modified (watch.job));
  set_gap (&watch, 1000, NULL);
  ck_assert (sb_job_is_modified (watch.job));
  sb_job_mark_saved (watch.job, sb_job_get_settled_state (watch.job));
  ck_assert (!sb_job_is_modified (watch.job));
  sb_job_undo (watch.job);
  ck_assert (sb_job_is_modified (watch.job));
  sb_job_redo (watch.job);
  ck_assert (!sb_job_is_modified (watch.job));
  watch_clear (&watch);
}
END_TEST

START_TEST (test_history_holds_its_most_steps)
{
  Watch watch;
  watch_init (&watch, 0);
  for (sb_um gap = 1; gap <= SB_HISTORY_MOST + 5; gap++)
    set_gap (&watch, gap, NULL);
  int n = 0;
  while (sb_job_can_undo (watch.job)) {
    sb_job_undo (watch.job);
    n++;
  }
  ck_assert_int_eq (n, SB_HISTORY_MOST);
  ck_assert_int_eq (gap_of (&watch), 5);
  watch_clear (&watch);
}
END_TEST

/* Five thousand edits, in runs as long as history reaches back. */
START_TEST (test_random_walk)
{
  const int n_runs = 5;
  for (int run = 0; run < n_runs; run++) {
    Watch watch;
    watch_init (&watch, 3);
    g_autoptr (GRand) rand = g_rand_new_with_seed (20260000u + (guint32)run);
    g_autoptr (SbState) start = sb_state_ref (sb_job_get_state (watch.job));
    gsize length;
    g_autofree char *start_text = sb_job_json_write (start, &length);
    guint n_steps = 0;
    for (int i = 0; i < SB_HISTORY_MOST; i++) {
      SbState *next = sb_random_edit (sb_job_get_state (watch.job), rand);
      n_steps += next != sb_job_get_state (watch.job);
      sb_job_edit (watch.job, next, "Edit", NULL);
    }
    ck_assert_uint_gt (n_steps, SB_HISTORY_MOST / 2);
    g_autoptr (SbState) end = sb_state_ref (sb_job_get_state (watch.job));
    g_autofree char *end_text = sb_job_json_write (end, &length);
    ck_assert_str_ne (start_text, end_text);

    for (guint i = 0; i < n_steps; i++)
      sb_job_undo (watch.job);
    ck_assert (!sb_job_can_undo (watch.job));
    ck_assert (sb_state_equal (sb_job_get_state (watch.job), start));
    g_autofree char *undone = sb_job_json_write (sb_job_get_state (watch.job), &length);
    ck_assert_str_eq (undone, start_text);

    while (sb_job_can_redo (watch.job))
      sb_job_redo (watch.job);
    ck_assert (sb_state_equal (sb_job_get_state (watch.job), end));
    g_autofree char *redone = sb_job_json_write (sb_job_get_state (watch.job), &length);
    ck_assert_str_eq (redone, end_text);
    watch_clear (&watch);
  }
}
END_TEST

/* No edit touches a state that went before: every one of them still reads as it did when new. */
START_TEST (test_old_states_never_change)
{
  const int n_edits = 1000;
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  g_autoptr (GPtrArray) states = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_state_unref);
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (states, sb_make_job (2));
  for (int i = 0; i <= n_edits; i++) {
    gsize length;
    g_ptr_array_add (texts, sb_job_json_write (states->pdata[i], &length));
    g_ptr_array_add (states, sb_random_edit (states->pdata[i], rand));
  }
  for (int i = 0; i <= n_edits; i++) {
    gsize length;
    g_autofree char *text = sb_job_json_write (states->pdata[i], &length);
    ck_assert_msg (g_str_equal (text, texts->pdata[i]), "state %d has changed", i);
    ck_assert (sb_state_equal (states->pdata[i], states->pdata[i]));
    gboolean same_text = i > 0 && g_str_equal (texts->pdata[i - 1], text);
    if (i > 0)
      ck_assert_int_eq (sb_state_equal (states->pdata[i - 1], states->pdata[i]), same_text);
  }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("history");
  TCase *tcase = tcase_create ("history");
  tcase_set_timeout (tcase, 100);
  tcase_add_test (tcase, test_undo_and_redo);
  tcase_add_test (tcase, test_an_edit_after_undo_forgets_what_was_undone);
  tcase_add_test (tcase, test_an_edit_that_changes_nothing_is_no_step);
  tcase_add_test (tcase, test_runs_of_one_key_are_one_step);
  tcase_add_test (tcase, test_a_run_ends_after_a_second);
  tcase_add_test (tcase, test_a_run_does_not_reach_over_undo_or_save);
  tcase_add_test (tcase, test_a_preview_leaves_no_step);
  tcase_add_test (tcase, test_a_drag_is_one_step);
  tcase_add_test (tcase, test_a_drag_back_to_the_start_is_no_step);
  tcase_add_test (tcase, test_modified_follows_undo);
  tcase_add_test (tcase, test_history_holds_its_most_steps);
  tcase_add_test (tcase, test_random_walk);
  tcase_add_test (tcase, test_old_states_never_change);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
