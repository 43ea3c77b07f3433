/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The one painter: whatever shows a page (PDF, PNG, SVG, the proof) is drawn here. */
#pragma once

#include <cairo.h>

#include "job/state.h"

G_BEGIN_DECLS

typedef enum {
  SB_PAINT_FULL,  /* artwork and guides */
  SB_PAINT_PLAIN, /* the plain-paper test: outlines, guides, names and sizes, little ink */
} SbPaintMode;

typedef struct {
  SbPaintMode mode;
  gboolean check_bar; /* the 100 mm / 4 in bar, where a page has room (see output/check-bar.h);
                         drawn anyway where the job asks for it */
  SbUnit unit;        /* of the sizes that SB_PAINT_PLAIN writes */
} SbPaintOptions;

/* Artwork decoded once for any number of pages and copies; pass the same one to every page of a
 * document so that a PDF embeds each artwork once. `most_dpi` caps the pixels kept (0 = the
 * artwork's own, but never more than SB_PAINT_MOST_DPI). One thread at a time. */
#define SB_PAINT_MOST_DPI 1200
typedef struct _SbPainter SbPainter;
SbPainter *sb_painter_new (const SbState *state, int most_dpi) G_GNUC_WARN_UNUSED_RESULT;
/* After the surface that was painted on is destroyed, where that keeps what it is given (PDF, SVG).
 */
void sb_painter_free (SbPainter *painter);

/* Paints page `index` into `cr`, whose user space is points (1/72 in) from the page's top left.
 * Pieces wholly outside the clip are skipped. Paints no ground (paper is white of itself) and does
 * not show_page. */
gboolean sb_painter_paint (SbPainter *painter, cairo_t *cr, guint index,
                           const SbPaintOptions *options, GCancellable *cancellable,
                           GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbPainter, sb_painter_free)

G_END_DECLS
