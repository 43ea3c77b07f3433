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
 * Where the printer does not say, sb_margins_fallback. On a paper that is only offered borderless
 * the margins are what the overshoot takes away (sb_borderless_effect). `*answer` (or NULL) tells
 * which. NULL and SB_PRINT_ERROR when the printer cannot be asked or does not offer the paper. */
SbState *sb_print_suit (const SbState *state, const char *printer, SbMarginsAnswer *answer,
                        GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Borderless printing enlarges the page until it overshoots the sheet on each side, by 3 mm where
 * nothing else is known (handbook section 5.2). `*lost_mm` gets what that takes off each edge of
 * the page, `*sticker_mm` what becomes of 50.8 mm (2 in), along the edge that grows most. */
#define SB_BORDERLESS_OVERSHOOT_MM 3.0
void sb_borderless_effect (sb_um width, sb_um height, double overshoot_mm, SbMargins *lost,
                           double *sticker_mm);

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

G_END_DECLS
