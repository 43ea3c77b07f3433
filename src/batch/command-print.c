/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>

#include "batch/findings.h"
#include "job/edit.h"
#include "output/export.h"
#include "printing/printers.h"

/* The job as this printer will print it: with its own margins, unless the maker typed some, which
 * win. NULL once the reason is printed. */
static SbState *
suit_printer (const SbState *state, const char *printer)
{
  g_autoptr (GError) error = NULL;
  SbMargins margins;
  gboolean turned = state->page_width > state->page_height;
  sb_um width = MIN (state->page_width, state->page_height);
  sb_um height = MAX (state->page_width, state->page_height);
  SbMarginsAnswer answer =
      sb_printer_get_margins (printer, state->paper_name, width, height, &margins, &error);
  if (error != NULL) {
    sb_command_fail (printer, error);
    return NULL;
  }
  if (answer != SB_MARGINS_KNOWN || turned || state->margins_source == SB_MARGINS_TYPED)
    return sb_state_ref ((SbState *)state);
  return sb_edit_set_margins (state, margins, SB_MARGINS_PRINTER);
}

/* Writes the pages into a folder of our own, hands them over, and leaves nothing behind. */
static gboolean
send (const SbState *state, const char *path, const char *printer, gboolean plain, int *job_id,
      GError **error)
{
  g_autofree char *folder = g_dir_make_tmp ("stickleback-XXXXXX", error);
  if (folder == NULL)
    return FALSE;
  g_autofree char *pdf = g_build_filename (folder, "pages.pdf", NULL);
  g_autofree char *base = g_path_get_basename (path);
  g_autofree char *title = g_filename_display_name (base);
  SbExportOptions options = sb_export_options_default ();
  options.dpi = 0;
  options.portrait = TRUE;
  if (plain)
    options.paint.mode = SB_PAINT_PLAIN;
  gboolean sent = sb_export (state, pdf, &options, NULL, error) &&
                  sb_printer_send (printer, pdf, title, state->paper_name, 1, job_id, error);
  g_unlink (pdf);
  g_rmdir (folder);
  return sent;
}

static int
print_job (const char *path, const char *printer, gboolean plain, gboolean despite_stop)
{
  g_autoptr (SbState) state = sb_command_load (path);
  if (state == NULL)
    return SB_EXIT_USE;
  g_autoptr (SbState) suited = suit_printer (state, printer);
  if (suited == NULL)
    return SB_EXIT_USE;
  g_autoptr (GPtrArray) findings = sb_proof_run (suited, sb_unit_from_locale ());
  if (sb_findings_get_status (findings) == SB_EXIT_STOPS && !despite_stop) {
    sb_findings_print (findings);
    sb_command_misuse (path, _ ("the proof stops; nothing is printed without --despite-stop"));
    return SB_EXIT_STOPS;
  }
  g_autoptr (GError) error = NULL;
  int job_id = 0;
  if (!send (suited, path, printer, plain, &job_id, &error))
    return sb_command_fail (printer, error);
  g_print (_ ("%s has taken it as job %d\n"), printer, job_id);
  return SB_EXIT_DONE;
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  g_autofree char *printer = NULL;
  gboolean plain = FALSE, despite_stop = FALSE;
  const GOptionEntry entries[] = {
      {"printer", 0, 0, G_OPTION_ARG_STRING, &printer, N_ ("The printer's name"), N_ ("NAME")},
      {"plain", 0, 0, G_OPTION_ARG_NONE, &plain,
       N_ ("The test on plain paper: outlines, names and sizes, little ink"), NULL},
      {"despite-stop", 0, 0, G_OPTION_ARG_NONE, &despite_stop,
       N_ ("Print although the proof stops"), NULL},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 1, 1))
    return SB_EXIT_USE;
  if (printer == NULL)
    return sb_command_misuse ("--printer", _ ("it is missing; see “stickleback printers”"));
  return print_job (argv[0], printer, plain, despite_stop);
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
