/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>

#include "packing/arrange.h"

#define MOST_SECONDS 3600

static void
print_report (const SbState *before, const SbArrangeReport *report)
{
  gboolean empty = TRUE;
  for (guint k = 0; k < before->pages->len; k++)
    empty &= sb_state_get_page (before, k)->n_pieces == 0;

  g_print (_ ("pieces placed: %u\n"), report->placed);
  g_print (_ ("freebies: %u\n"), report->freebies);
  g_print (_ ("pages: %u\n"), report->pages);
  if (empty)
    g_print (_ ("waste before: nothing lay there\n"));
  else
    g_print (_ ("waste before: %.1f %%\n"), report->waste_before_percent);
  g_print (_ ("waste after: %.1f %%\n"), report->waste_after_percent);
  g_print (_ ("evaluations: %lu\n"), (gulong)report->evaluations);
  g_print (_ ("seconds: %.2f\n"), report->seconds);
}

static void
print_unplaced (const char *path, guint n)
{
  g_autofree char *shown = g_filename_display_name (path);
  g_printerr ("stickleback: %s: ", shown);
  g_printerr (ngettext ("%u piece is larger than the printable area and was left out\n",
                        "%u pieces are larger than the printable area and were left out\n", n),
              n);
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  SbArrangeParams params = sb_arrange_params_default ();
  gint64 seed = (gint64)params.seed, effort = 0;
  params.seconds = -G_MAXDOUBLE; /* not given */
  const GOptionEntry entries[] = {
      {"seconds", 0, 0, G_OPTION_ARG_DOUBLE, &params.seconds, N_ ("How long to look for better"),
       N_ ("S")},
      {"seed", 0, 0, G_OPTION_ARG_INT64, &seed, N_ ("Another start, another layout"), N_ ("N")},
      {"effort", 0, 0, G_OPTION_ARG_INT64, &effort,
       N_ ("Places to look at before it stops; the same effort and seed give the same layout"),
       N_ ("N")},
      {"fill", 0, 0, G_OPTION_ARG_NONE, &params.fill, N_ ("Put freebies into the gaps"), NULL},
      {"rows", 0, 0, G_OPTION_ARG_NONE, &params.rows, N_ ("Straight rows, for a ruler and a knife"),
       NULL},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 1, 1))
    return SB_EXIT_USE;
  if (effort < 0)
    return sb_command_misuse ("--effort", _ ("%lld is less than 0"), (long long)effort);
  if (params.seconds == -G_MAXDOUBLE) /* an effort alone is never cut short by the clock */
    params.seconds = effort > 0 ? MOST_SECONDS : sb_arrange_params_default ().seconds;
  if (!(params.seconds >= 0 && params.seconds <= MOST_SECONDS))
    return sb_command_misuse ("--seconds", _ ("%g is not between 0 and %d"), params.seconds,
                              MOST_SECONDS);
  params.seed = (guint64)seed;
  params.effort = (guint64)effort;

  g_autoptr (SbState) state = sb_command_load (argv[0]);
  if (state == NULL)
    return SB_EXIT_USE;
  g_autoptr (GError) error = NULL;
  SbArrangeReport report = {0};
  g_autoptr (SbState) arranged = sb_arrange (state, &params, NULL, NULL, NULL, &report, &error);
  if (arranged == NULL)
    return sb_command_fail (argv[0], error);
  int status = sb_command_save (arranged, argv[0]);
  if (status != SB_EXIT_DONE)
    return status;
  print_report (state, &report);
  if (report.unplaced > 0)
    print_unplaced (argv[0], report.unplaced);
  return SB_EXIT_DONE;
}

const SbCommand sb_command_arrange = {
    .name = "arrange",
    .arguments = N_ ("JOB"),
    .summary = N_ ("Lay all wanted pieces on as few pages as they need"),
    .description = N_ ("Pinned pieces stay where they are."),
    .run = run,
};
