/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Decoded artwork for the screen. A picture is decoded in a thread at the size that is asked for
 * and halved from there, so that what is drawn is never far from its own pixels. Small levels stay;
 * the large ones share a budget and the longest unused go first, so 100 pictures of 1200 x 1200 px
 * cost far less than their 7.3 MiB each. One store serves a whole window. Main thread only.
 *
 * Signals: "ready" (guint design_id) when a better picture of a design that was asked for is there;
 * ask again. "failed" (guint design_id, const char *reason) when its artwork does not decode. */
#pragma once

#include <gtk/gtk.h>

#include "job/design.h"

G_BEGIN_DECLS

#define SB_TYPE_ART_STORE (sb_art_store_get_type ())
G_DECLARE_FINAL_TYPE (SbArtStore, sb_art_store, SB, ART_STORE, GObject)

SbArtStore *sb_art_store_new (void) G_GNUC_WARN_UNUSED_RESULT;

/* The design's sticker (artwork, border, guide) fitted into `px` x `px` logical pixels at the
 * widget's scale factor. At once: the best that is decoded so far, or a blank sticker. */
GdkPaintable *sb_art_store_get_thumbnail (SbArtStore *self, SbDesign *design, int px,
                                          int scale) G_GNUC_WARN_UNUSED_RESULT;

/* The smallest decoded level whose longest side is at least `px` device pixels (or the picture's
 * own), else the largest there is, else NULL. Premultiplied ARGB32, never written to again; a new
 * reference that any thread may read. Asks for what is missing. */
cairo_surface_t *sb_art_store_get_level (SbArtStore *self, SbDesign *design,
                                         int px) G_GNUC_WARN_UNUSED_RESULT;

/* The longest side of the level that sb_art_store_get_level gives for `px` once it is decoded; 0
 * when the artwork does not decode. */
int sb_art_store_get_final_px (SbArtStore *self, SbDesign *design, int px);

/* Bytes of all levels that are kept. */
gsize sb_art_store_get_bytes (SbArtStore *self);

/* Whether something asked for is still being decoded. */
gboolean sb_art_store_is_busy (SbArtStore *self);

G_END_DECLS
