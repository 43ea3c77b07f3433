/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A picture that a widget shows and a thread paints, since artwork may have to be decoded for it.
 * What was painted stays until the next one is done; of what is wished meanwhile only the newest is
 * painted. Main thread only, but for the painting itself. */
#pragma once

#include "window/pictures/pixels.h"

G_BEGIN_DECLS

typedef struct _SbPainting SbPainting;

/* Paints `what` in a thread, on a white ground of `width` x `height` device pixels. */
typedef void (*SbPaintingPaint) (cairo_t *cr, int width, int height, gpointer what);

/* Of `widget` (not referenced), which is drawn anew whenever a picture is done. Each `what` is
 * freed with `free_what`. Freed before the widget goes. */
SbPainting *sb_painting_new (GtkWidget *widget, SbPaintingPaint paint,
                             GDestroyNotify free_what) G_GNUC_WARN_UNUSED_RESULT;
void sb_painting_free (SbPainting *painting);

/* Begins to paint `what` (consumed), at least 1 x 1, and returns at once. */
void sb_painting_start (SbPainting *painting, int width, int height, gpointer what);

/* What was painted last. Borrowed; NULL before. */
SbPixels *sb_painting_get_pixels (SbPainting *painting);

G_END_DECLS
