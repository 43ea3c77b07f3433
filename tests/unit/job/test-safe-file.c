/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include "job/file.h"
#include "job/safe-file.h"
#include "own-folder.h"
#include "trouble.h"

static char *
in_folder (const char *name)
{
  return g_build_filename (folder, name, NULL);
}

static gboolean
write_whole (const char *path, const char *text, GError **error)
{
  SbSafeFile *file = sb_safe_file_open (path, error);
  if (file == NULL)
    return FALSE;
  sb_safe_file_write (file, text, strlen (text));
  return sb_safe_file_commit (file, error);
}

static void
expect_contents (const char *path, const char *expected)
{
  g_autofree char *contents = NULL;
  ck_assert (g_file_get_contents (path, &contents, NULL, NULL));
  ck_assert_str_eq (contents, expected);
}

static guint
mode_of (const char *path)
{
  GStatBuf st;
  ck_assert_int_eq (g_stat (path, &st), 0);
  return st.st_mode & 07777;
}

START_TEST (test_a_new_file)
{
  g_autofree char *path = in_folder ("rue");
  mode_t mask = umask (027);
  ck_assert (write_whole (path, "green", NULL));
  umask (mask);
  expect_contents (path, "green");
  ck_assert_uint_eq (mode_of (path), 0640);
  ck_assert_uint_eq (sb_count_files (folder), 1);
}
END_TEST

START_TEST (test_replacing_keeps_the_mode)
{
  g_autofree char *path = in_folder ("rue");
  ck_assert (g_file_set_contents (path, "old", -1, NULL));
  ck_assert_int_eq (g_chmod (path, 0604), 0);
  ck_assert (write_whole (path, "new", NULL));
  expect_contents (path, "new");
  ck_assert_uint_eq (mode_of (path), 0604);
}
END_TEST

START_TEST (test_nothing_shows_before_commit)
{
  g_autofree char *path = in_folder ("rue");
  ck_assert (g_file_set_contents (path, "old", -1, NULL));
  g_autofree char *large = g_strnfill (200000, 'x');
  SbSafeFile *file = sb_safe_file_open (path, NULL);
  ck_assert (sb_safe_file_write (file, large, 200000));
  expect_contents (path, "old");
  ck_assert_uint_eq (sb_count_files (folder), 2);
  sb_safe_file_discard (file);
  expect_contents (path, "old");
  ck_assert_uint_eq (sb_count_files (folder), 1);
}
END_TEST

START_TEST (test_writes_of_any_size_keep_their_order)
{
  g_autofree char *path = in_folder ("rue");
  g_autoptr (GString) all = g_string_new (NULL);
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  SbSafeFile *file = sb_safe_file_open (path, NULL);
  for (int i = 0; i < 60; i++) {
    gsize n = (gsize)g_rand_int_range (rand, 0, i % 7 == 0 ? 150000 : 300);
    g_autofree char *part = g_strnfill (n, (char)('a' + i % 26));
    g_string_append (all, part);
    ck_assert (sb_safe_file_write (file, part, n));
  }
  ck_assert (sb_safe_file_commit (file, NULL));
  expect_contents (path, all->str);
}
END_TEST

START_TEST (test_links_are_followed)
{
  g_autofree char *inner = in_folder ("inner");
  g_autofree char *target = g_build_filename (inner, "rue", NULL);
  g_autofree char *link = in_folder ("link");
  g_autofree char *link_to_link = in_folder ("link2");
  ck_assert_int_eq (g_mkdir (inner, 0755), 0);
  ck_assert_int_eq (symlink ("inner/rue", link), 0);
  ck_assert_int_eq (symlink (link, link_to_link), 0);

  ck_assert (write_whole (link_to_link, "through a link to nothing yet", NULL));
  expect_contents (target, "through a link to nothing yet");
  ck_assert (write_whole (link, "again", NULL));
  expect_contents (target, "again");
  ck_assert (g_file_test (link, G_FILE_TEST_IS_SYMLINK));
  ck_assert_uint_eq (sb_count_files (inner), 1);
}
END_TEST

static void
expect_refused (const char *path)
{
  g_autoptr (GError) error = NULL;
  ck_assert_msg (!write_whole (path, "x", &error), "%s was written", path);
  ck_assert (g_error_matches (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE));
  ck_assert_msg (strstr (error->message, path) == error->message, "“%s” does not name %s",
                 error->message, path);
}

START_TEST (test_what_cannot_be_a_file_is_refused)
{
  g_autofree char *missing = in_folder ("no/such/place");
  g_autofree char *circle = in_folder ("circle");
  g_autofree char *pipe_path = in_folder ("pipe");
  ck_assert_int_eq (symlink ("circle", circle), 0);
  ck_assert_int_eq (mkfifo (pipe_path, 0600), 0);
  expect_refused (folder);
  expect_refused (missing);
  expect_refused (circle);
  expect_refused (pipe_path);
  expect_refused ("/dev/full");
  ck_assert_msg (g_access ("/dev/full", F_OK) == 0, "the device is still there");
}
END_TEST

/* Runs in a child. */
static int
fill_the_disk (const char *where)
{
  if (!sb_mount_own (where, "size=256k"))
    return SB_NOT_PERMITTED;
  g_autofree char *path = g_build_filename (where, "rue", NULL);
  if (!write_whole (path, "old", NULL))
    return 1;
  g_autofree char *large = g_strnfill (1024 * 1024, 'x');
  g_autoptr (GError) error = NULL;
  if (write_whole (path, large, &error))
    return 2;
  if (!g_error_matches (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE) ||
      strstr (error->message, g_strerror (ENOSPC)) == NULL)
    return 3;
  g_autofree char *contents = NULL;
  if (!g_file_get_contents (path, &contents, NULL, NULL) || !g_str_equal (contents, "old"))
    return 4;
  return sb_count_files (where) == 1 ? 0 : 5;
}

START_TEST (test_a_full_disk_leaves_the_old_file)
{
  sb_run_in_child ("full disk", fill_the_disk, folder);
}
END_TEST

static int
write_read_only (const char *where)
{
  if (!sb_mount_own (where, "size=256k"))
    return SB_NOT_PERMITTED;
  g_autofree char *path = g_build_filename (where, "rue", NULL);
  if (!write_whole (path, "old", NULL))
    return 1;
  if (!sb_remount_read_only (where))
    return SB_NOT_PERMITTED;
  g_autoptr (GError) error = NULL;
  if (write_whole (path, "new", &error))
    return 2;
  g_autofree char *contents = NULL;
  if (!g_file_get_contents (path, &contents, NULL, NULL) || !g_str_equal (contents, "old"))
    return 3;
  return g_error_matches (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE) ? 0 : 4;
}

START_TEST (test_a_read_only_folder_is_an_error)
{
  sb_run_in_child ("read-only folder", write_read_only, folder);
}
END_TEST

static int
write_past_a_limit (const char *where)
{
  struct rlimit limit = {100000, 100000};
  signal (SIGXFSZ, SIG_IGN);
  if (setrlimit (RLIMIT_FSIZE, &limit) != 0)
    return 1;
  g_autofree char *path = g_build_filename (where, "rue", NULL);
  g_autofree char *large = g_strnfill (1024 * 1024, 'x');
  g_autoptr (GError) error = NULL;
  if (!write_whole (path, "old", NULL) || write_whole (path, large, &error))
    return 2;
  return sb_count_files (where) == 1 ? 0 : 3;
}

START_TEST (test_a_write_that_fails_half_way)
{
  sb_run_in_child ("file size limit", write_past_a_limit, folder);
}
END_TEST

/* Root may write anywhere, so become somebody else first. */
static int
write_protected (const char *where)
{
  g_autofree char *path = g_build_filename (where, "rue", NULL);
  g_autofree char *new_path = g_build_filename (where, "sage", NULL);
  if (!g_file_set_contents (path, "old", -1, NULL) || g_chmod (path, 0444) != 0)
    return 1;
  if (geteuid () == 0 && (g_chmod (where, 0777) != 0 || setresuid (65534, 65534, 65534) != 0))
    return SB_NOT_PERMITTED;
  if (write_whole (path, "new", NULL))
    return 2;
  g_autofree char *contents = NULL;
  if (!g_file_get_contents (path, &contents, NULL, NULL) || !g_str_equal (contents, "old"))
    return 3;
  return write_whole (new_path, "new", NULL) ? 0 : 4;
}

START_TEST (test_a_protected_file_stays)
{
  sb_run_in_child ("protected file", write_protected, folder);
}
END_TEST

START_TEST (test_cairo_hears_of_a_failure)
{
  struct rlimit before, limit;
  getrlimit (RLIMIT_FSIZE, &before);
  limit = (struct rlimit){70000, before.rlim_max};
  signal (SIGXFSZ, SIG_IGN);
  setrlimit (RLIMIT_FSIZE, &limit);
  g_autofree char *path = in_folder ("rue");
  g_autofree guint8 *large = g_malloc0 (100000);
  SbSafeFile *file = sb_safe_file_open (path, NULL);
  ck_assert_int_eq (sb_safe_file_cairo_write (file, large, 100), CAIRO_STATUS_SUCCESS);
  ck_assert_int_eq (sb_safe_file_cairo_write (file, large, 100000), CAIRO_STATUS_WRITE_ERROR);
  ck_assert_int_eq (sb_safe_file_cairo_write (file, large, 1), CAIRO_STATUS_WRITE_ERROR);
  setrlimit (RLIMIT_FSIZE, &before);
  ck_assert (!sb_safe_file_commit (file, NULL));
  ck_assert_uint_eq (sb_count_files (folder), 0);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("safe-file");
  TCase *tcase = tcase_create ("safe-file");
  tcase_add_checked_fixture (tcase, make_own_folder, remove_own_folder);
  tcase_add_test (tcase, test_a_new_file);
  tcase_add_test (tcase, test_replacing_keeps_the_mode);
  tcase_add_test (tcase, test_nothing_shows_before_commit);
  tcase_add_test (tcase, test_writes_of_any_size_keep_their_order);
  tcase_add_test (tcase, test_links_are_followed);
  tcase_add_test (tcase, test_what_cannot_be_a_file_is_refused);
  tcase_add_test (tcase, test_a_full_disk_leaves_the_old_file);
  tcase_add_test (tcase, test_a_read_only_folder_is_an_error);
  tcase_add_test (tcase, test_a_write_that_fails_half_way);
  tcase_add_test (tcase, test_a_protected_file_stays);
  tcase_add_test (tcase, test_cairo_hears_of_a_failure);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
