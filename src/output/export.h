/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Files: PDF with exact page boxes and no print scaling, PNG with pHYs, SVG in millimetres. Written
 * through SbSafeFile. Slow: run in a thread for the window. */
#pragma once

#include "output/painter.h"

G_BEGIN_DECLS

typedef struct {
  SbPaintOptions paint;
  int page; /* 0-based, or -1 for all (PDF); PNG and SVG take one page, -1 = the only or the first
             */
  int dpi;  /* PNG: 36..1200, 300; PDF and SVG: the most pixels an inch kept, 0 = the artwork's own
             */
  gboolean portrait; /* turn landscape pages to portrait (for the printer: see printing/) */
} SbExportOptions;

SbExportOptions sb_export_options_default (void);

/* By the ending of `path`: .pdf, .png or .svg. Errors: SB_FILE_ERROR_WRITE, or the picture's own.
 */
gboolean sb_export (const SbState *state, const char *path, const SbExportOptions *options,
                    GCancellable *cancellable, GError **error);

/* The thumbnail of the first page, a PNG at most `side` px, for the job file and the window. */
GBytes *sb_export_thumbnail (const SbState *state, int side,
                             GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
