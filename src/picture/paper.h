/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Telling artwork from the paper it lies on, in a picture without alpha. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

G_BEGIN_DECLS

/* Of an empty sheet (CIE L*): white and cream paper have 90 and more (from memory). */
#define SB_PAPER_LEAST_LIGHTNESS 85

/* The part of each pixel that is artwork, 0..255, into `coverage` (rows of exactly the surface's
 * width). `surface` is ARGB32 and never changed; what is transparent in it counts as white.
 *
 * Paper is the commonest colour along the picture's edge, and what is within `tolerance` (CIE Lab
 * distance; about 6-12, handbook section 6.6) of it and hangs together with the edge: whites that
 * the artwork encloses stay artwork. Where artwork and paper meet, a pixel is their mixture
 * I = a C + (1 - a) P, and its coverage is a (handbook section 6.8), with C the colour beside it
 * that is farthest from the paper's.
 *
 * A picture whose edge has no colour that holds for a quarter of it has no paper, and one that is
 * nothing but its edge's colour is artwork (a black square) unless that is as light as an empty
 * sheet: coverage is 255 everywhere. FALSE only
 * when cancelled. Thread-safe. */
gboolean sb_paper_coverage (cairo_surface_t *surface, double tolerance, guint8 *coverage,
                            GCancellable *cancellable, GError **error);

G_END_DECLS
