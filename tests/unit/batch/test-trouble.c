/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Wrong use, bad input and disks that do not take what is written: exit status, one line that names
 * the file, and nothing lost. */
#include "suite.h"

#include "program.h"

static void
make_job (void)
{
  draw_disk ("seed.svg", 20);
  expect_done ("new fair.stickleback");
  expect_done ("add fair.stickleback seed.svg");
  expect_done ("place fair.stickleback seed");
}

START_TEST (test_wrong_use)
{
  make_job ();
  static const struct {
    const char *line, *what, *why;
  } cases[] = {
      {"new", "new", "expected: stickleback new JOB"},
      {"new a b", "new", "expected"},
      {"new a --paper=huge", "--paper", "huge"},
      {"new a --margins=1,2,3", "--margins", "1,2,3"},
      {"new a --gap=-1mm", "--gap", "-1mm"},
      {"new a --foo", "new", "--foo"},
      {"add fair.stickleback", "add", "expected"},
      {"add fair.stickleback seed.svg --size=0", "--size", "0"},
      {"add fair.stickleback seed.svg --size=9m", "--size", "9m"},
      {"add fair.stickleback seed.svg --size=2000mm", "--size", "2000mm"},
      {"add fair.stickleback seed.svg --border=nan", "--border", "nan"},
      {"add fair.stickleback seed.svg --border=30mm", "--border", "30mm"},
      {"add fair.stickleback seed.svg --nook=-1", "--nook", "-1"},
      {"add fair.stickleback seed.svg --guide=red", "--guide", "scissors"},
      {"add fair.stickleback seed.svg --count=-1", "--count", "-1"},
      {"add fair.stickleback seed.svg --count=many", "add", "many"},
      {"place fair.stickleback", "place", "expected"},
      {"place fair.stickleback weed", "fair.stickleback", "weed"},
      {"place fair.stickleback seed --at=1", "--at", "X,Y"},
      {"place fair.stickleback seed --at=1,2,3", "--at", "X,Y"},
      {"place fair.stickleback seed --at=1km,2", "--at", "1km"},
      {"place fair.stickleback seed --at=inf,2", "--at", "inf"},
      {"place fair.stickleback seed --turn=nan", "--turn", "degrees"},
      {"place fair.stickleback seed --page=-1", "--page", "-1"},
      {"place fair.stickleback seed --page=100000", "--page", "100000"},
      {"arrange fair.stickleback --seconds=-1", "--seconds", "-1"},
      {"arrange fair.stickleback --seconds=nan", "--seconds", "nan"},
      {"export fair.stickleback out.gif", "out.gif", ".pdf"},
      {"export fair.stickleback out.png --dpi=1", "--dpi", "36"},
      {"export fair.stickleback out.png --page=2", "fair.stickleback", "page 2"},
      {"export fair.stickleback", "export", "expected"},
      {"printers x", "printers", "expected: stickleback printers"},
      {"print fair.stickleback", "--printer", "missing"},
      {"help weed", "weed", "no such command"},
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    expect_failure (2, cases[i].what, cases[i].why, cases[i].line);
}
END_TEST

START_TEST (test_unreadable_input)
{
  make_job ();
  g_autofree char *junk = in_folder ("junk.stickleback");
  ck_assert (g_file_set_contents (junk, "Radish & Rue", -1, NULL));
  g_autofree char *picture = in_folder ("junk.png");
  ck_assert (g_file_set_contents (picture, "\x89PNG\r\n\x1a\n", -1, NULL));
  static const char *const commands[] = {"add %s seed.svg", "place %s seed", "arrange %s",
                                         "proof %s",        "figures %s",    "export %s out.pdf"};
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++) {
    expect_failure (2, "lost.stickleback", "No such file", commands[i], "lost.stickleback");
    expect_failure (2, "junk.stickleback", "not a job", commands[i], "junk.stickleback");
    expect_failure (2, "seed.svg", "not a job", commands[i], "seed.svg");
  }
  expect_failure (2, "junk.png", "cut short", "add fair.stickleback junk.png");
  expect_failure (2, "lost.png", "No such file", "add fair.stickleback lost.png");
  expect_failure (2, "lost.png", "No such file", "outline lost.png out.svg");
  ck_assert_uint_eq (sb_count_files (folder), 4);
}
END_TEST

START_TEST (test_places_that_cannot_be_written)
{
  make_job ();
  expect_failure (3, "no/a.stickleback", "No such file", "new no/a.stickleback");
  expect_failure (3, "no/out.pdf", "No such file", "export fair.stickleback no/out.pdf");
  expect_failure (3, "no/out.png", "No such file", "export fair.stickleback no/out.png");
  expect_failure (3, "no/out.svg", "No such file", "export fair.stickleback no/out.svg");
  expect_failure (3, "no/out.svg", "No such file", "outline seed.svg no/out.svg");
}
END_TEST

/* Runs in a child that has mounts of its own. `ready` makes the trouble; each command must then
 * give 3 and leave the files as they were. */
static int
run_in_trouble (gboolean (*ready) (void))
{
  static const char *const commands[] = {"add fair.stickleback seed.svg",
                                         "place fair.stickleback seed",
                                         "export fair.stickleback out.pdf",
                                         "export fair.stickleback out.png",
                                         "export fair.stickleback out.svg",
                                         "outline seed.svg out.svg",
                                         "new other.stickleback"};
  g_autofree char *path = in_folder ("fair.stickleback");
  g_autofree char *before = NULL;
  gsize length;
  make_job ();
  if (!g_file_get_contents (path, &before, &length, NULL))
    return 1;
  guint n_files = sb_count_files (folder) + 1;
  if (!ready ())
    return SB_NOT_PERMITTED;
  n_files = sb_count_files (folder);
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++) {
    g_auto (Result) result = run (commands[i]);
    if (result.status != 3 || !g_str_has_prefix (result.err, "stickleback: ")) {
      g_printerr ("“%s” gave %d: %s\n", commands[i], result.status, result.err);
      return 2;
    }
    g_autofree char *after = NULL;
    gsize after_length;
    if (!g_file_get_contents (path, &after, &after_length, NULL) || after_length != length ||
        memcmp (before, after, length) != 0 || sb_count_files (folder) != n_files)
      return 3;
  }
  return 0;
}

static gboolean
fill_up (void)
{
  g_autofree char *path = in_folder ("filler");
  FILE *filler = fopen (path, "w");
  while (filler != NULL && fputc ('x', filler) != EOF && fflush (filler) == 0)
    ;
  return filler != NULL && fclose (filler) != 2;
}

static int
on_a_full_disk (const char *where)
{
  return sb_mount_own (where, "size=64k") ? run_in_trouble (fill_up) : SB_NOT_PERMITTED;
}

START_TEST (test_a_full_disk)
{
  sb_run_in_child ("full disk", on_a_full_disk, folder);
}
END_TEST

static gboolean
make_read_only (void)
{
  return sb_remount_read_only (folder);
}

static int
on_a_read_only_disk (const char *where)
{
  return sb_mount_own (where, "size=256k") ? run_in_trouble (make_read_only) : SB_NOT_PERMITTED;
}

START_TEST (test_a_read_only_folder)
{
  sb_run_in_child ("read-only folder", on_a_read_only_disk, folder);
}
END_TEST

START_TEST (test_standard_output_that_is_full)
{
  make_job ();
  g_autofree char *command =
      g_strdup_printf ("cd '%s' && HOME='%s' '%s' figures fair.stickleback --json >/dev/full",
                       folder, home, g_getenv ("SB_TEST_PROGRAM"));
  int status;
  g_autofree char *err = NULL;
  char *words[] = {(char *)"/bin/sh", (char *)"-c", command, NULL};
  ck_assert (g_spawn_sync (NULL, words, NULL, 0, NULL, NULL, NULL, &err, &status, NULL));
  ck_assert_msg (WEXITSTATUS (status) == 3, "exit status %d: %s", WEXITSTATUS (status), err);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("trouble");
  TCase *tcase = tcase_create ("trouble");
  tcase_set_timeout (tcase, 120);
  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_add_test (tcase, test_wrong_use);
  tcase_add_test (tcase, test_unreadable_input);
  tcase_add_test (tcase, test_places_that_cannot_be_written);
  tcase_add_test (tcase, test_a_full_disk);
  tcase_add_test (tcase, test_a_read_only_folder);
  tcase_add_test (tcase, test_standard_output_that_is_full);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
