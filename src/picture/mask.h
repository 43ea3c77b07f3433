/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The mask of a picture: a plane of one byte a pixel, in rows of exactly its width, that says what
 * is artwork and what is paper. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

G_BEGIN_DECLS

enum {
  SB_MASK_PAPER = 0,
  SB_MASK_LIKE_PAPER = 128, /* has the paper's colour, but does not hang together with the edge */
  SB_MASK_ARTWORK = 255,
};

#define SB_MASK_MOST_RADIUS 100 /* px */

typedef struct {
  int width, height;
  guint8 *plane; /* borrowed */
} SbMask;

#define SB_MASK_STEPS 4 /* to a unit of CIE Lab distance */

/* Writes each pixel's CIE Lab distance to `paper` (sRGB), of the mean colour of the square `radius`
 * px (0..SB_MASK_MOST_RADIUS) around it, in SB_MASK_STEPS; 255 and farther is 255. */
void sb_mask_measure (const SbMask *mask, cairo_surface_t *surface, const guint8 paper[3],
                      int radius);

/* Turns distances into what is like paper, up to `tolerance` (less than 255 steps), and artwork. */
void sb_mask_divide (const SbMask *mask, double tolerance);

/* Turns what is like paper and hangs together (by sides) with the picture's edge into paper. FALSE
 * when cancelled. */
gboolean sb_mask_flood (const SbMask *mask, GCancellable *cancellable, GError **error);

/* The same from one pixel on, which may lie anywhere. */
gboolean sb_mask_flood_from (const SbMask *mask, int x, int y, GCancellable *cancellable,
                             GError **error);

/* Turns what is still like paper into artwork: whites it encloses. */
void sb_mask_close (const SbMask *mask);

/* Where artwork and paper meet, a pixel mixes them: I = a C + (1 - a) P. This turns such pixels of
 * a closed mask into coverage 255 a, and with `recover` gives them the colour C on `surface`, so
 * that no rim of paper prints (handbook sections 6.8 and 6.9). Up to `inset` px into the artwork
 * may be mixed. Of the colours in reach, the one taken for C is the farthest from the paper's whose
 * mixture the pixel can be, given the grain `noise` (8-bit steps). The surface stays opaque. FALSE
 * when cancelled. */
gboolean sb_mask_soften (const SbMask *mask, cairo_surface_t *surface, const guint8 paper[3],
                         double noise, int inset, gboolean recover, GCancellable *cancellable,
                         GError **error);

G_END_DECLS
