/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Printing a job: the rules that the command line and the window share. */
#pragma once

#include "output/export.h"
#include "printing/calibration.h"
#include "printing/media.h"
#include "printing/printers.h"

G_BEGIN_DECLS

/* The job as `printer` will print it: its name, and the margins it really leaves white (the
 * driver's, a calibration taken in) turned to how the page lies. Margins that the maker typed win.
 * Where the printer does not say, sb_margins_fallback. Borderless (sb_edit_set_borderless) when the
 * paper is offered so only, or when the job is and the printer can. `*paper` (or NULL) gets what
 * the printer says. NULL and SB_PRINT_ERROR when it cannot be asked. */
SbState *sb_print_suit (const SbState *state, const char *printer, SbPaperAnswer *paper,
                        GError **error) G_GNUC_WARN_UNUSED_RESULT;

typedef struct {
  const char *title;    /* what the queue lists and a viewer shows */
  SbPaintOptions paint; /* the plain-paper test is for plain paper: stock is not checked */
  int page;             /* 0-based, or -1 for all */
  const guint *pages;   /* these pages in this order instead; or NULL */
  guint n_pages;
  int copies;
  gboolean part_used; /* stickers were taken off the sheet before */
} SbPrintRequest;

/* Whether the printer takes jobs at all; SB_PRINT_ERROR_REFUSED in plain words when it is stopped
 * or rejecting. */
gboolean sb_print_check_printer (const SbPrinter *printer, GError **error);

/* Whether the printer offers the job's paper, by what it said of it; SB_PRINT_ERROR_PAPER. A
 * printer that names no papers may have it. */
gboolean sb_print_check_paper (const SbState *state, const char *printer, const SbPaperAnswer *said,
                               GError **error);

/* Whether the state's stock may go into the printer; on FALSE SB_PRINT_ERROR_MEDIA. A caution, to
 * be read before printing, goes to `*caution` (free with g_free), else NULL. */
gboolean sb_print_check_stock (const SbState *state, SbPrinterKind kind,
                               const SbPrintRequest *request, char **caution, GError **error);

/* The pages as they go to the printer: portrait, exactly the sheet's size, the calibration undone.
 */
GBytes *sb_print_make_pdf (const SbState *state, const char *printer, const SbPrintRequest *request,
                           GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Checks printer, paper and stock, and sends. The proof is the caller's: it knows who may say yes
 * to a stop. `*notes` (free with g_free) gets cautions and what the queue says, a line each, or
 * NULL. Slow: run in a thread for the window. */
gboolean sb_print_run (const SbState *state, const char *printer, const SbPrintRequest *request,
                       int *job_id, char **notes, GCancellable *cancellable, GError **error);

/* Prints the sheet of rulers on paper of this size (portrait); on plain paper, so that no stock is
 * checked. `*note` as above. */
gboolean sb_print_rulers (const char *printer, sb_um width, sb_um height, int *job_id, char **note,
                          GError **error);

G_END_DECLS
