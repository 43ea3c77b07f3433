/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Finished pixels, drawn the way that is cheap for the renderer at hand. GTK 4.8's software
 * renderer converts each pixel of a texture through floating point at every draw (a texture of 485
 * px takes 9 ms where a cairo node takes 0.8); the GL renderer keeps textures, and uploads a cairo
 * node whenever it is another one. Reference-counted; made in any thread, drawn in the main one. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct _SbPixels SbPixels;

/* Takes an image surface (CAIRO_FORMAT_ARGB32) that nobody writes to any more. */
SbPixels *sb_pixels_new (cairo_surface_t *surface) G_GNUC_WARN_UNUSED_RESULT;
SbPixels *sb_pixels_ref (SbPixels *pixels);
void sb_pixels_unref (SbPixels *pixels);

int sb_pixels_get_width (const SbPixels *pixels);
int sb_pixels_get_height (const SbPixels *pixels);

/* What they were made of. Borrowed; not to be written to. */
cairo_surface_t *sb_pixels_get_surface (const SbPixels *pixels);

/* The pixels as a texture, which shares their memory. Borrowed. */
GdkTexture *sb_pixels_get_texture (SbPixels *pixels);

/* Draws all of them into `rect`, which `widget` is drawn to. */
void sb_pixels_append (SbPixels *pixels, GtkWidget *widget, GtkSnapshot *snapshot,
                       const graphene_rect_t *rect);

/* Fills `rect` with copies of `size` logical px, one of which begins at (x, y). */
void sb_pixels_append_tiled (SbPixels *pixels, GtkWidget *widget, GtkSnapshot *snapshot, int size,
                             double x, double y, const graphene_rect_t *rect);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbPixels, sb_pixels_unref)

G_END_DECLS
