/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <signal.h>
#include <sys/wait.h>

#include "job/recovery.h"
#include "random-edit.h"
#include "trouble.h"

static char *folder;

static void
setup (void)
{
  folder = sb_make_folder ();
  g_setenv ("STICKLEBACK_STATE_DIR", folder, TRUE);
}

static void
teardown (void)
{
  g_unsetenv ("STICKLEBACK_STATE_DIR");
  sb_remove_folder (folder);
}

static guint
count_kept (void)
{
  g_autofree char *root = g_build_filename (folder, "stickleback", "recovery", NULL);
  return sb_count_files (root);
}

/* Keeps `state` in a child that is then killed as hard as can be. */
static void
crash_with (const SbState *state, const char *job_path)
{
  pid_t pid = fork ();
  ck_assert_int_ge (pid, 0);
  if (pid == 0) {
    SbRecovery *recovery = sb_recovery_new (job_path);
    if (sb_recovery_save (recovery, state, NULL))
      raise (SIGKILL);
    _exit (1);
  }
  int status;
  ck_assert_int_eq (waitpid (pid, &status, 0), pid);
  ck_assert (WIFSIGNALED (status) && WTERMSIG (status) == SIGKILL);
}

START_TEST (test_nothing_to_recover)
{
  g_autoptr (GPtrArray) list = sb_recovery_list ();
  ck_assert_uint_eq (list->len, 0);
  g_autoptr (SbRecovery) recovery = sb_recovery_new (NULL);
  sb_recovery_clear (recovery);
  ck_assert_uint_eq (count_kept (), 0);
}
END_TEST

START_TEST (test_a_killed_job_comes_back)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  g_autoptr (SbState) state = sb_make_job (3);
  for (int i = 0; i < 50; i++)
    sb_take (&state, sb_random_edit (state, rand));
  crash_with (state, "/stall/fair.stickleback");

  g_autoptr (GPtrArray) list = sb_recovery_list ();
  ck_assert_uint_eq (list->len, 1);
  const SbRecoverable *found = list->pdata[0];
  ck_assert_str_eq (found->job_path, "/stall/fair.stickleback");
  ck_assert_int_le (ABS (found->saved_at - g_get_real_time () / G_USEC_PER_SEC), 5);

  g_autoptr (SbRecovery) recovery = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (SbState) back = sb_recoverable_open (found, &recovery, NULL, &error);
  ck_assert_msg (back != NULL, "%s", error ? error->message : "");
  ck_assert (sb_state_equal (back, state));

  /* It is this process's now, until cleared. */
  g_autoptr (GPtrArray) now = sb_recovery_list ();
  ck_assert_uint_eq (now->len, 0);
  ck_assert_uint_eq (count_kept (), 1);
  ck_assert (sb_recovery_save (recovery, back, NULL));
  sb_recovery_clear (recovery);
  ck_assert_uint_eq (count_kept (), 0);
}
END_TEST

START_TEST (test_a_running_job_is_left_alone)
{
  g_autoptr (SbState) state = sb_make_job (1);
  g_autoptr (SbRecovery) one = sb_recovery_new (NULL);
  g_autoptr (SbRecovery) two = sb_recovery_new ("b.stickleback");
  ck_assert (sb_recovery_save (one, state, NULL));
  ck_assert (sb_recovery_save (two, state, NULL));
  ck_assert_uint_eq (count_kept (), 2);
  g_autoptr (GPtrArray) list = sb_recovery_list ();
  ck_assert_uint_eq (list->len, 0);
  sb_recovery_clear (one);
  ck_assert_uint_eq (count_kept (), 1);
  sb_recovery_clear (two);
}
END_TEST

/* A process number that was given out again is not the process that died. */
START_TEST (test_a_number_used_again_is_told_apart)
{
  g_autoptr (SbState) state = sb_make_job (1);
  crash_with (state, NULL);
  g_autofree char *root = g_build_filename (folder, "stickleback", "recovery", NULL);
  g_autoptr (GDir) dir = g_dir_open (root, 0, NULL);
  g_autofree char *name = g_strdup (g_dir_read_name (dir));
  g_auto (GStrv) parts = g_strsplit (name, ".", -1);
  g_free (parts[1]);
  parts[1] = g_strdup_printf ("%d", (int)getpid ());
  g_autofree char *other = g_strjoinv (".", parts);
  g_autofree char *from = g_build_filename (root, name, NULL);
  g_autofree char *to = g_build_filename (root, other, NULL);
  ck_assert_int_eq (g_rename (from, to), 0);
  g_autoptr (GPtrArray) list = sb_recovery_list ();
  ck_assert_uint_eq (list->len, 1);
  ck_assert_ptr_null (((SbRecoverable *)list->pdata[0])->job_path);
}
END_TEST

START_TEST (test_only_one_takes_it)
{
  g_autoptr (SbState) state = sb_make_job (1);
  crash_with (state, NULL);
  g_autoptr (GPtrArray) list = sb_recovery_list ();
  g_autoptr (SbRecovery) first = NULL;
  g_autoptr (SbRecovery) second = NULL;
  g_autoptr (SbState) back = sb_recoverable_open (list->pdata[0], &first, NULL, NULL);
  ck_assert_ptr_nonnull (back);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (sb_recoverable_open (list->pdata[0], &second, NULL, &error));
  ck_assert_ptr_nonnull (error);
  ck_assert_ptr_null (second);
}
END_TEST

START_TEST (test_discard)
{
  g_autoptr (SbState) state = sb_make_job (2);
  crash_with (state, NULL);
  crash_with (state, "/x");
  g_autoptr (GPtrArray) list = sb_recovery_list ();
  ck_assert_uint_eq (list->len, 2);
  sb_recoverable_discard (list->pdata[0]);
  g_autoptr (GPtrArray) rest = sb_recovery_list ();
  ck_assert_uint_eq (rest->len, 1);
  ck_assert_str_eq (((SbRecoverable *)rest->pdata[0])->folder,
                    ((SbRecoverable *)list->pdata[1])->folder);
}
END_TEST

START_TEST (test_damage_is_told_and_left_in_place)
{
  g_autoptr (SbState) state = sb_make_job (1);
  crash_with (state, NULL);
  g_autoptr (GPtrArray) list = sb_recovery_list ();
  const SbRecoverable *found = list->pdata[0];
  g_autofree char *json = g_build_filename (found->folder, "job.json", NULL);
  ck_assert (g_file_set_contents (json, "{\"format\":1", -1, NULL));
  g_autoptr (SbRecovery) recovery = NULL;
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (sb_recoverable_open (found, &recovery, NULL, &error));
  ck_assert_ptr_nonnull (error);
  g_autoptr (GPtrArray) still = sb_recovery_list ();
  ck_assert_uint_eq (still->len, 1);
}
END_TEST

START_TEST (test_an_empty_folder_of_the_dead_is_swept_up)
{
  g_autofree char *dead =
      g_build_filename (folder, "stickleback", "recovery", "boot.1.2.3", "artwork", NULL);
  g_autofree char *foreign =
      g_build_filename (folder, "stickleback", "recovery", "somebody else's", NULL);
  ck_assert_int_eq (g_mkdir_with_parents (dead, 0700), 0);
  ck_assert_int_eq (g_mkdir_with_parents (foreign, 0700), 0);
  g_autoptr (GPtrArray) list = sb_recovery_list ();
  ck_assert_uint_eq (list->len, 0);
  ck_assert_uint_eq (count_kept (), 1);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("recovery");
  TCase *tcase = tcase_create ("recovery");
  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_add_test (tcase, test_nothing_to_recover);
  tcase_add_test (tcase, test_a_killed_job_comes_back);
  tcase_add_test (tcase, test_a_running_job_is_left_alone);
  tcase_add_test (tcase, test_a_number_used_again_is_told_apart);
  tcase_add_test (tcase, test_only_one_takes_it);
  tcase_add_test (tcase, test_discard);
  tcase_add_test (tcase, test_damage_is_told_and_left_in_place);
  tcase_add_test (tcase, test_an_empty_folder_of_the_dead_is_swept_up);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
