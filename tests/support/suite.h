/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The main function that every check program of the tests shares: build a suite with one or more
 * cases, run it, and let meson see the exit status. */
#pragma once

#include <check.h>
#include <glib.h>
#include <stdlib.h>

/* Runs `suite` and returns the exit status for main. Tests run in the parent process: GLib's
 * threads and the sanitizers do not get along with check's forks. */
static inline int
sb_run_suite (Suite *suite)
{
  SRunner *runner = srunner_create (suite);
  srunner_set_fork_status (runner, CK_NOFORK);
  srunner_run_all (runner, CK_NORMAL);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
