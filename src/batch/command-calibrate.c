/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>

#include "job/safe-file.h"
#include "printing/calibration.h"
#include "printing/run.h"

typedef struct {
  char *printer, *kind, *sheet, *across, *along, *left, *top, *first;
  gboolean print_sheet, clear;
} Wish;

typedef struct {
  sb_um width, height;
} Sheet;

static void
wish_clear (Wish *wish)
{
  char *texts[] = {wish->printer, wish->kind, wish->sheet, wish->across,
                   wish->along,   wish->left, wish->top,   wish->first};
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    g_free (texts[i]);
}

static int
remember_kind (const Wish *wish)
{
  SbPrinterKind kind = SB_PRINTER_INKJET;
  g_autoptr (GError) error = NULL;
  if (g_str_equal (wish->kind, "laser"))
    kind = SB_PRINTER_LASER;
  else if (!g_str_equal (wish->kind, "inkjet"))
    return sb_command_misuse ("--kind", _ ("“%s” is neither inkjet nor laser"), wish->kind);
  if (!sb_printer_remember_kind (wish->printer, kind, &error))
    return sb_command_fail (wish->printer, error);
  return SB_EXIT_DONE;
}

static int
write_sheet (const Sheet *sheet, const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) pdf = sb_calibration_sheet (sheet->width, sheet->height, &error);
  g_autoptr (SbSafeFile) file = pdf != NULL ? sb_safe_file_open (path, &error) : NULL;
  if (file == NULL)
    return sb_command_fail (path, error);
  gsize length;
  const void *data = g_bytes_get_data (pdf, &length);
  sb_safe_file_write (file, data, length);
  if (!sb_safe_file_commit (g_steal_pointer (&file), &error))
    return sb_command_fail (path, error);
  return SB_EXIT_DONE;
}

static int
print_sheet (const Sheet *sheet, const char *printer)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *note = NULL;
  int job_id;
  if (!sb_print_rulers (printer, sheet->width, sheet->height, &job_id, &note, &error))
    return sb_command_fail (printer, error);
  g_print (_ ("sent to %s as job %d\n"), printer, job_id);
  if (note != NULL)
    g_print ("%s\n", note);
  return SB_EXIT_DONE;
}

static gboolean
read_first (const char *text, SbRulerReadings *readings)
{
  if (text == NULL) {
    readings->first_top_mm = readings->first_right_mm = -1;
    readings->first_bottom_mm = readings->first_left_mm = -1;
    return TRUE;
  }
  g_autoptr (GError) error = NULL;
  SbMargins first;
  if (!sb_margins_parse (text, SB_UNIT_MM, &first, &error)) {
    sb_command_fail ("--first", error);
    return FALSE;
  }
  readings->first_top_mm = sb_um_to_mm (first.top);
  readings->first_right_mm = sb_um_to_mm (first.right);
  readings->first_bottom_mm = sb_um_to_mm (first.bottom);
  readings->first_left_mm = sb_um_to_mm (first.left);
  return TRUE;
}

/* What was not read is taken as right. */
static gboolean
read_readings (const Wish *wish, const Sheet *sheet, SbRulerReadings *readings)
{
  sb_calibration_get_rulers (sheet->width, sheet->height, &readings->across_mm,
                             &readings->along_mm);
  readings->left_mm = readings->top_mm = SB_CALIBRATION_LINE_MM;
  return sb_command_read_length ("--across", wish->across, 0, 1500, &readings->across_mm) &&
         sb_command_read_length ("--along", wish->along, 0, 1500, &readings->along_mm) &&
         sb_command_read_length ("--left", wish->left, 0, 1500, &readings->left_mm) &&
         sb_command_read_length ("--top", wish->top, 0, 1500, &readings->top_mm) &&
         read_first (wish->first, readings);
}

static void
tell (const SbCalibration *c)
{
  if (sb_calibration_is_none (c)) {
    g_print (_ ("not calibrated\n"));
    return;
  }
  g_autofree char *text = sb_calibration_tell (c, sb_unit_from_locale ());
  g_print ("%s\n", text);
}

static int
calibrate (const SbState *state, const Wish *wish)
{
  Sheet sheet = {MIN (state->page_width, state->page_height),
                 MAX (state->page_width, state->page_height)};
  int status = wish->kind != NULL ? remember_kind (wish) : SB_EXIT_DONE;
  if (status == SB_EXIT_DONE && wish->sheet != NULL)
    status = write_sheet (&sheet, wish->sheet);
  if (status == SB_EXIT_DONE && wish->print_sheet)
    status = print_sheet (&sheet, wish->printer);
  if (status != SB_EXIT_DONE)
    return status;

  const char *media = state->stock.name;
  SbCalibration c = sb_calibration_load (wish->printer, sheet.width, sheet.height, media);
  gboolean measured = wish->across || wish->along || wish->left || wish->top || wish->first;
  g_autoptr (GError) error = NULL;
  SbRulerReadings readings;
  if (wish->clear)
    c = SB_CALIBRATION_NONE;
  else if (measured && !read_readings (wish, &sheet, &readings))
    return SB_EXIT_USE;
  else if (measured &&
           !sb_calibration_from_readings (&readings, sheet.width, sheet.height, &c, &error))
    return sb_command_fail (wish->printer, error);
  if ((wish->clear || measured) &&
      !sb_calibration_save (wish->printer, sheet.width, sheet.height, media, &c, &error))
    return sb_command_fail (wish->printer, error);
  tell (&c);
  return SB_EXIT_DONE;
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  Wish wish = {0};
  const GOptionEntry entries[] = {
      {"printer", 0, 0, G_OPTION_ARG_STRING, &wish.printer, N_ ("The printer's name"), N_ ("NAME")},
      {"sheet", 0, 0, G_OPTION_ARG_FILENAME, &wish.sheet, N_ ("Write the sheet of rulers"),
       N_ ("OUT.pdf")},
      {"print-sheet", 0, 0, G_OPTION_ARG_NONE, &wish.print_sheet, N_ ("Print the sheet of rulers"),
       NULL},
      {"across", 0, 0, G_OPTION_ARG_STRING, &wish.across,
       N_ ("What a ruler reads for the ruler across"), N_ ("LENGTH")},
      {"along", 0, 0, G_OPTION_ARG_STRING, &wish.along,
       N_ ("What a ruler reads for the ruler along"), N_ ("LENGTH")},
      {"left", 0, 0, G_OPTION_ARG_STRING, &wish.left,
       N_ ("From the paper's left edge to the 20 mm line"), N_ ("LENGTH")},
      {"top", 0, 0, G_OPTION_ARG_STRING, &wish.top,
       N_ ("From the paper's top edge to the 20 mm line"), N_ ("LENGTH")},
      {"first", 0, 0, G_OPTION_ARG_STRING, &wish.first,
       N_ ("The lowest mark that can be seen on each edge scale"), N_ ("TOP,RIGHT,BOTTOM,LEFT")},
      {"clear", 0, 0, G_OPTION_ARG_NONE, &wish.clear, N_ ("Forget the calibration"), NULL},
      {"kind", 0, 0, G_OPTION_ARG_STRING, &wish.kind,
       N_ ("What kind of printer it is, where it does not say itself"), N_ ("inkjet|laser")},
      G_OPTION_ENTRY_NULL,
  };
  int status = SB_EXIT_USE;
  if (sb_command_parse (command, entries, &argc, &argv, 1, 1)) {
    g_autoptr (SbState) state = NULL;
    if (wish.printer == NULL)
      sb_command_misuse ("--printer", _ ("it is missing; see “stickleback printers”"));
    else if ((state = sb_command_load (argv[0])) != NULL)
      status = calibrate (state, &wish);
  }
  wish_clear (&wish);
  return status;
}

const SbCommand sb_command_calibrate = {
    .name = "calibrate",
    .arguments = N_ ("JOB"),
    .summary = N_ ("Measure a printer with a sheet of rulers"),
    .description =
        N_ ("Print the sheet on the job's paper and type what a ruler reads. The calibration is "
            "kept for the printer with the job's paper and stock, and used whenever such a job is "
            "printed; files are never changed by it. Without readings it tells what is kept."),
    .run = run,
};
