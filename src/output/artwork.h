/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Artwork as the painter draws it: one cairo surface for all copies of a picture. */
#pragma once

#include <cairo.h>

#include "job/design.h"

G_BEGIN_DECLS

typedef struct _SbArtworks SbArtworks;

/* `most_dpi` above 0: pixels beyond it are averaged away. */
SbArtworks *sb_artworks_new (int most_dpi) G_GNUC_WARN_UNUSED_RESULT;
void sb_artworks_free (SbArtworks *artworks);

/* Decodes the design's picture the first time. Two designs of the same picture and pixels get the
 * same surface. The surface covers 0,0 .. *width,*height of its own units and is borrowed. */
cairo_surface_t *sb_artworks_get (SbArtworks *artworks, const SbDesign *design, double *width,
                                  double *height, GCancellable *cancellable, GError **error);

G_END_DECLS
