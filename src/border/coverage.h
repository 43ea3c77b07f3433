/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Coverage: how much of each pixel the artwork covers, 0 to 255, with an empty frame around it so
 * that readers of neighbours need no bounds. Private to the room. */
#pragma once

#include <gio/gio.h>

#include "border/border.h"

G_BEGIN_DECLS

#define SB_COVERAGE_FRAME 4

typedef struct {
  int width, height; /* without the frame */
  gsize stride;
  guint8 *pixels; /* of the frame's corner */
} SbCoverage;

/* All zero. */
SbCoverage *sb_coverage_new (int width, int height) G_GNUC_WARN_UNUSED_RESULT;
void sb_coverage_free (SbCoverage *coverage);

/* The row `y` from its first pixel inside the frame; y may reach into the frame. */
static inline guint8 *
sb_coverage_row (const SbCoverage *coverage, int y)
{
  return coverage->pixels + (gsize)(y + SB_COVERAGE_FRAME) * coverage->stride + SB_COVERAGE_FRAME;
}

/* Decodes the picture, or draws a vector at a resolution that resolves 0.02 mm where memory allows,
 * and reads its alpha; pictures without alpha are told from their paper. */
SbCoverage *sb_coverage_read (const SbPicture *picture, double width_mm, double height_mm,
                              const SbSilhouetteParams *params, GCancellable *cancellable,
                              GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbCoverage, sb_coverage_free)

G_END_DECLS
