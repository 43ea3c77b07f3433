/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "printing/run.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "printing/send.h"

typedef struct {
  sb_um width, height;
  gboolean landscape; /* the page lies turned on it */
} Sheet;

static Sheet
sheet_of (const SbState *state)
{
  return (Sheet){MIN (state->page_width, state->page_height),
                 MAX (state->page_width, state->page_height),
                 state->page_width > state->page_height};
}

SbState *
sb_print_suit (const SbState *state, const char *printer, SbPaperAnswer *paper, GError **error)
{
  Sheet sheet = sheet_of (state);
  SbPaperAnswer said;
  if (!sb_printer_ask_paper (printer, sheet.width, sheet.height, &said, error))
    return NULL;
  if (paper != NULL)
    *paper = said;

  g_autoptr (SbState) named = sb_edit_set_printer (state, printer);
  if (state->margins_source == SB_MARGINS_TYPED)
    return g_steal_pointer (&named);
  if (said.answer == SB_MARGINS_BORDERLESS || (state->overshoot > 0 && said.borderless_too))
    return sb_edit_set_borderless (named,
                                   state->overshoot > 0 ? state->overshoot : SB_OVERSHOOT_UM);
  if (said.answer == SB_MARGINS_KNOWN) {
    SbCalibration calibration =
        sb_calibration_load (printer, sheet.width, sheet.height, state->stock.name);
    said.margins =
        sb_calibration_get_margins (&calibration, said.margins, sheet.width, sheet.height);
  }
  return sb_edit_set_margins (named, sb_margins_page_from_sheet (said.margins, sheet.landscape),
                              said.answer == SB_MARGINS_UNKNOWN ? SB_MARGINS_FALLBACK
                                                                : SB_MARGINS_PRINTER);
}

gboolean
sb_print_check_printer (const SbPrinter *printer, GError **error)
{
  if (printer->status == SB_PRINTER_STOPPED)
    g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_REFUSED,
                 _ ("%s is stopped: %s. Start it, then print again."), printer->name,
                 printer->reason);
  else if (printer->status == SB_PRINTER_REJECTING)
    g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_REFUSED,
                 _ ("%s does not take jobs: %s. Let it accept jobs again, then print."),
                 printer->name, printer->reason);
  else
    return TRUE;
  return FALSE;
}

gboolean
sb_print_check_paper (const SbState *state, const char *printer, const SbPaperAnswer *said,
                      GError **error)
{
  if (said->offered || !said->names_papers)
    return TRUE;
  Sheet sheet = sheet_of (state);
  g_autofree char *media = sb_media_keyword (sheet.width, sheet.height);
  g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_PAPER,
               _ ("%s does not offer paper of %.1f × %.1f mm (%s)"), printer,
               sb_um_to_mm (sheet.width), sb_um_to_mm (sheet.height), media);
  return FALSE;
}

/* A note when the printer says nothing of its papers. */
static gboolean
check_paper (const SbState *state, const char *printer, GStrvBuilder *notes, GError **error)
{
  Sheet sheet = sheet_of (state);
  SbPaperAnswer said;
  if (!sb_printer_ask_paper (printer, sheet.width, sheet.height, &said, error) ||
      !sb_print_check_paper (state, printer, &said, error))
    return FALSE;
  if (!said.offered)
    g_strv_builder_add (notes, _ ("The printer does not tell its papers nor its margins; measure "
                                  "the first page."));
  return TRUE;
}

gboolean
sb_print_check_stock (const SbState *state, SbPrinterKind kind, const SbPrintRequest *request,
                      char **caution, GError **error)
{
  *caution = NULL;
  if (request->paint.mode == SB_PAINT_PLAIN)
    return TRUE;
  g_autofree char *message = NULL;
  if (sb_media_check (&state->stock, kind, request->part_used, &message) == SB_MEDIA_REFUSED) {
    g_set_error_literal (error, SB_PRINT_ERROR, SB_PRINT_ERROR_MEDIA, message);
    return FALSE;
  }
  *caution = g_steal_pointer (&message);
  return TRUE;
}

GBytes *
sb_print_make_pdf (const SbState *state, const char *printer, const SbPrintRequest *request,
                   GCancellable *cancellable, GError **error)
{
  Sheet sheet = sheet_of (state);
  SbCalibration calibration =
      sb_calibration_load (printer, sheet.width, sheet.height, state->stock.name);
  SbExportOptions options = sb_export_options_default ();
  options.paint = request->paint;
  options.page = request->page;
  options.pages = request->pages;
  options.n_pages = request->n_pages;
  options.portrait = TRUE;
  options.adjustment = sb_calibration_get_adjustment (&calibration);
  return sb_export_pdf (state, request->title, &options, cancellable, error);
}

static char *
end_notes (GStrvBuilder *notes)
{
  g_auto (GStrv) lines = g_strv_builder_end (notes);
  return *lines != NULL ? g_strjoinv ("\n", lines) : NULL;
}

gboolean
sb_print_run (const SbState *state, const char *printer, const SbPrintRequest *request, int *job_id,
              char **notes, GCancellable *cancellable, GError **error)
{
  Sheet sheet = sheet_of (state);
  g_autoptr (GStrvBuilder) lines = g_strv_builder_new ();
  *notes = NULL;
  *job_id = 0;
  g_autofree char *caution = NULL;
  g_autoptr (SbPrinter) found = sb_printer_find (printer, error);
  if (found == NULL)
    return FALSE;
  gboolean may = sb_print_check_printer (found, error) &&
                 check_paper (state, found->name, lines, error) &&
                 sb_print_check_stock (state, found->kind, request, &caution, error);
  g_autofree char *name = g_strdup (found->name);
  if (!may)
    return FALSE;
  if (caution != NULL)
    g_strv_builder_add (lines, caution);
  if (state->overshoot > 0)
    g_strv_builder_add (lines, _ ("Printed borderless: the page is enlarged, so it is not true "
                                  "size and its edges are lost."));

  g_autoptr (GBytes) pdf = sb_print_make_pdf (state, name, request, cancellable, error);
  if (pdf == NULL)
    return FALSE;
  SbTicket ticket = {request->title, sheet.width, sheet.height, request->copies,
                     state->overshoot > 0};
  g_autofree char *note = NULL;
  if (!sb_printer_send (name, pdf, &ticket, job_id, &note, error))
    return FALSE;
  if (note != NULL)
    g_strv_builder_add (lines, note);
  *notes = end_notes (lines);
  return TRUE;
}

gboolean
sb_print_rulers (const char *printer, sb_um width, sb_um height, int *job_id, char **note,
                 GError **error)
{
  *job_id = 0;
  *note = NULL;
  g_autoptr (SbPrinter) found = sb_printer_find (printer, error);
  if (found == NULL || !sb_print_check_printer (found, error))
    return FALSE;
  g_autoptr (GBytes) pdf = sb_calibration_sheet (width, height, error);
  SbTicket ticket = {_ ("Sheet of rulers"), width, height, 1, FALSE};
  return pdf != NULL && sb_printer_send (found->name, pdf, &ticket, job_id, note, error);
}
