/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>

#include "batch/findings.h"
#include "printing/run.h"

typedef struct {
  char *printer;
  gboolean plain, check_bar, despite_stop, part_used;
  int page, copies; /* page 0: all */
} Wish;

static char *
title_of (const char *path)
{
  g_autofree char *base = g_path_get_basename (path);
  return g_filename_display_name (base);
}

static int
send (const SbState *state, const char *path, const Wish *wish)
{
  g_autofree char *title = title_of (path);
  SbPrintRequest request = {
      .title = title,
      .paint = {.mode = wish->plain ? SB_PAINT_PLAIN : SB_PAINT_FULL,
                .check_bar = wish->check_bar,
                .unit = sb_unit_from_locale ()},
      .page = wish->page - 1,
      .copies = wish->copies,
      .part_used = wish->part_used,
  };
  int job_id;
  g_autofree char *notes = NULL;
  g_autoptr (GError) error = NULL;
  if (!sb_print_run (state, wish->printer, &request, &job_id, &notes, NULL, &error))
    return sb_command_fail (wish->printer, error);
  g_print (_ ("sent to %s as job %d\n"), wish->printer, job_id);
  if (notes != NULL)
    g_print ("%s\n", notes);
  return SB_EXIT_DONE;
}

static int
print_job (const char *path, const Wish *wish)
{
  g_autoptr (SbState) state = sb_command_load (path);
  if (state == NULL)
    return SB_EXIT_USE;
  if (wish->page > (int)state->pages->len)
    return sb_command_misuse (path, _ ("it has no page %d"), wish->page);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbState) suited = sb_print_suit (state, wish->printer, NULL, &error);
  if (suited == NULL)
    return sb_command_fail (wish->printer, error);
  g_autoptr (GPtrArray) findings = sb_proof_run (suited, sb_unit_from_locale ());
  if (sb_findings_get_status (findings) == SB_EXIT_STOPS && !wish->despite_stop) {
    sb_findings_print (findings);
    sb_command_misuse (path, _ ("the proof stops; nothing is printed without --despite-stop"));
    return SB_EXIT_STOPS;
  }
  return send (suited, path, wish);
}

static gboolean
check_wish (const Wish *wish)
{
  if (wish->printer == NULL)
    sb_command_misuse ("--printer", _ ("it is missing; see “stickleback printers”"));
  else if (wish->page < 0)
    sb_command_misuse ("--page", _ ("pages are counted from 1"));
  else if (wish->copies < 1 || wish->copies > 999)
    sb_command_misuse ("--copies", _ ("%d is not between 1 and 999"), wish->copies);
  else
    return TRUE;
  return FALSE;
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  Wish wish = {.copies = 1};
  const GOptionEntry entries[] = {
      {"printer", 0, 0, G_OPTION_ARG_STRING, &wish.printer, N_ ("The printer's name"), N_ ("NAME")},
      {"plain", 0, 0, G_OPTION_ARG_NONE, &wish.plain,
       N_ ("The test on plain paper: outlines, names and sizes, little ink"), NULL},
      {"check-bar", 0, 0, G_OPTION_ARG_NONE, &wish.check_bar,
       N_ ("A bar of 100 mm and 4 in where the page has room"), NULL},
      {"page", 0, 0, G_OPTION_ARG_INT, &wish.page, N_ ("One page, counted from 1 (all)"), N_ ("N")},
      {"copies", 0, 0, G_OPTION_ARG_INT, &wish.copies, N_ ("How many of each page (1)"), N_ ("N")},
      {"part-used", 0, 0, G_OPTION_ARG_NONE, &wish.part_used,
       N_ ("Stickers were already taken off the sheet (never on a laser printer)"), NULL},
      {"despite-stop", 0, 0, G_OPTION_ARG_NONE, &wish.despite_stop,
       N_ ("Print although the proof stops"), NULL},
      G_OPTION_ENTRY_NULL,
  };
  gboolean understood = sb_command_parse (command, entries, &argc, &argv, 1, 1);
  int status = understood && check_wish (&wish) ? print_job (argv[0], &wish) : SB_EXIT_USE;
  g_free (wish.printer);
  return status;
}

const SbCommand sb_command_print = {
    .name = "print",
    .arguments = N_ ("JOB"),
    .summary = N_ ("Print a job at exactly 100 %"),
    .description =
        N_ ("Nothing is scaled to fit. When the proof stops, nothing is printed. Print on "
            "plain paper first; use only stock that is made for your kind of printer."),
    .run = run,
};
