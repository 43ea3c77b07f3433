/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One sticker drawn at device pixels: white border, artwork, guide, and what the
 * overlay tells of it. A piece on the canvas is then one picture, which is what makes a drag
 * of one among hundreds cheap. Pure: may run in any thread. */
#pragma once

#include <gtk/gtk.h>

#include "job/state.h"
#include "window/parts/palette.h"
#include "window/pictures/pixels.h"

G_BEGIN_DECLS

typedef enum {
  SB_BAKE_PLAIN = 0,
  SB_BAKE_RING = 1 << 0,     /* border growth: tint, hatch and the artwork's edge */
  SB_BAKE_SELECTED = 1 << 1, /* accent outline and a tinted ring */
  SB_BAKE_STOP = 1 << 2,     /* tinted for a finding */
  SB_BAKE_CAUTION = 1 << 3,
} SbBakeFlags;

/* What the drawing depends on. Plain value; `design` is borrowed. */
typedef struct {
  SbDesign *design;
  gint32 turn;     /* thousandths of a degree, as SbPiece */
  double px_a_mm;  /* device pixels */
  double stretch;  /* 1, or the factor of the artwork while it is being resized */
  guint flags;     /* SbBakeFlags */
  gboolean strong; /* high contrast */
} SbBakeKey;

/* The box that a piece's drawing takes, in mm from the centre of its outline's box (SbPiece.at);
 * guide included. */
SbBox sb_bake_get_box (const SbBakeKey *key);

/* The finished size at a stretch of the artwork, mm before turning. */
void sb_bake_get_finished_size (const SbDesign *design, double stretch, double *width_mm,
                                double *height_mm);
/* The stretch at which the outline's diagonal is `pull` times as long as it is. */
double sb_bake_get_stretch_for (const SbDesign *design, double pull);
/* And back: how many times as long the outline's diagonal is at a stretch. */
double sb_bake_get_pull_for (const SbDesign *design, double stretch);

/* The device pixels that the longest side of the whole artwork takes. */
int sb_bake_get_art_px (const SbBakeKey *key);

/* Draws. `art` is any level of the artwork or NULL (then a pale shape). The drawing's pixel
 * (*left, *top) is the centre of the outline's box. Above SB_BAKE_MOST pixels the drawing is made
 * smaller; `*px_a_mm` tells what it is. */
SbPixels *sb_bake (const SbBakeKey *key, cairo_surface_t *art, const SbPalette *palette, int *left,
                   int *top, double *px_a_mm) G_GNUC_WARN_UNUSED_RESULT;

#define SB_BAKE_MOST 6000000

/* Traces the design's outline as it is at a stretch, in mm of the artwork's frame. */
void sb_bake_trace (cairo_t *cr, const SbOutline *outline);

G_END_DECLS
