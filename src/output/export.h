/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Files: PDF with exact page boxes and no print scaling, PNG with pHYs, SVG in millimetres. Written
 * through SbSafeFile. Slow: run in a thread for the window. The same state and options give the
 * same bytes: no dates, no random names. */
#pragma once

#include "output/painter.h"

G_BEGIN_DECLS

/* What undoes a printer's own error: the page, as it lies on the portrait sheet, is scaled about
 * the sheet's top left corner and then shifted. Only ever used for printing
 * (printing/calibration.h). */
typedef struct {
  double scale_x, scale_y;
  double shift_x_mm, shift_y_mm;
} SbAdjustment;

#define SB_ADJUSTMENT_NONE ((SbAdjustment){1, 1, 0, 0})

typedef struct {
  SbPaintOptions paint;
  int page; /* 0-based, or -1 for all (PDF); PNG and SVG take one page, -1 = the only or the first
             */
  const guint *pages; /* PDF: these pages in this order instead; NULL = as `page` says */
  guint n_pages;
  int dpi; /* PNG: 36..1200, 300; PDF and SVG: the most pixels an inch kept, 0 = the artwork's own
            */
  gboolean portrait;       /* PDF: turn landscape pages to portrait (sb_sheet_from_page) */
  SbAdjustment adjustment; /* PDF only */
} SbExportOptions;

/* dpi 0 means 300 for PNG. */
SbExportOptions sb_export_options_default (void);

/* By the ending of `path`: .pdf, .png or .svg. Errors: SB_FILE_ERROR_WRITE, or the picture's own.
 */
gboolean sb_export (const SbState *state, const char *path, const SbExportOptions *options,
                    GCancellable *cancellable, GError **error);

/* The same PDF in memory. `title` (or NULL) is what a viewer shows as the document's name. */
GBytes *sb_export_pdf (const SbState *state, const char *title, const SbExportOptions *options,
                       GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* The thumbnail of the first page, a PNG at most `side` px, for the job file and the window. */
GBytes *sb_export_thumbnail (const SbState *state, int side,
                             GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Printers feed sheets portrait. A landscape page lies on its sheet turned a quarter clockwise: the
 * page's top is the sheet's right edge, its left the sheet's top.
 *
 *        page (wide)              sheet (tall)
 *      +----top-----+            +---left---+
 *    left         right          b          t
 *      +---bottom---+            o          o
 *                                t          p
 *                                +---right--+
 *
 * A matrix from points on the page to points on the sheet; the identity for portrait pages. */
cairo_matrix_t sb_sheet_from_page (sb_um page_width, sb_um page_height);

/* Margins of the sheet as the printer tells them, seen from the page lying on it, and back. */
SbMargins sb_margins_page_from_sheet (SbMargins sheet, gboolean landscape);
SbMargins sb_margins_sheet_from_page (SbMargins page, gboolean landscape);

G_END_DECLS
