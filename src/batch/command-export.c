/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>

#include "output/export.h"

#define LEAST_DPI 36
#define MOST_DPI 1200

static gboolean
is_known_ending (const char *path)
{
  g_autofree char *lower = g_ascii_strdown (path, -1);
  return g_str_has_suffix (lower, ".pdf") || g_str_has_suffix (lower, ".png") ||
         g_str_has_suffix (lower, ".svg");
}

/* 0 for `dpi` and `page` says that they were not given. */
static int
export_job (const char *path, const char *out, int page, int dpi, const SbPaintOptions *paint)
{
  g_autoptr (SbState) state = sb_command_load (path);
  if (state == NULL)
    return SB_EXIT_USE;
  if (page > (int)state->pages->len)
    return sb_command_misuse (path, _ ("it has no page %d"), page);
  SbExportOptions options = sb_export_options_default ();
  if (page > 0)
    options.page = page - 1;
  if (dpi > 0)
    options.dpi = dpi;
  else if (!g_str_has_suffix (out, ".png"))
    options.dpi = 0;
  options.paint = *paint;
  g_autoptr (GError) error = NULL;
  if (!sb_export (state, out, &options, NULL, &error))
    return sb_command_fail (out, error);
  return SB_EXIT_DONE;
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  int page = 0, dpi = 0;
  gboolean plain = FALSE, check_bar = FALSE;
  const GOptionEntry entries[] = {
      {"page", 0, 0, G_OPTION_ARG_INT, &page,
       N_ ("One page, counted from 1 (all in a PDF, else the first)"), N_ ("N")},
      {"dpi", 0, 0, G_OPTION_ARG_INT, &dpi,
       N_ ("Pixels an inch of a PNG (300); the most that a PDF or SVG keeps (all)"), N_ ("N")},
      {"plain", 0, 0, G_OPTION_ARG_NONE, &plain,
       N_ ("The test on plain paper: outlines, names and sizes, little ink"), NULL},
      {"check-bar", 0, 0, G_OPTION_ARG_NONE, &check_bar,
       N_ ("A bar of 100 mm and 4 in where the page has room"), NULL},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 2, 2))
    return SB_EXIT_USE;
  if (!is_known_ending (argv[1]))
    return sb_command_misuse (argv[1], _ ("its name ends in none of .pdf, .png and .svg"));
  if (page < 0)
    return sb_command_misuse ("--page", _ ("pages are counted from 1"));
  if (dpi != 0 && (dpi < LEAST_DPI || dpi > MOST_DPI))
    return sb_command_misuse ("--dpi", _ ("%d is not between %d and %d"), dpi, LEAST_DPI, MOST_DPI);
  SbPaintOptions paint = {.mode = plain ? SB_PAINT_PLAIN : SB_PAINT_FULL,
                          .check_bar = check_bar,
                          .unit = sb_unit_from_locale ()};
  return export_job (argv[0], argv[1], page, dpi, &paint);
}

const SbCommand sb_command_export = {
    .name = "export",
    .arguments = N_ ("JOB OUT.pdf|.png|.svg"),
    .summary = N_ ("Write pages at true size"),
    .run = run,
};
