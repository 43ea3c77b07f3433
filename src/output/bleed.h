/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is printed past the cut of a design with a bleed (handbook 4.1): the colours of the
 * artwork's edge repeated outwards, so that a cut that strays by a little shows no paper. */
#pragma once

#include <cairo.h>

#include "job/design.h"

G_BEGIN_DECLS

typedef struct {
  cairo_surface_t *surface; /* NULL where the design has no bleed */
  SbPoint origin;           /* of its top left corner, mm in the artwork's frame */
  double px_per_mm;
} SbBleed;

/* Repeats the edge of `art`, which covers 0,0 .. width,height of its own units and holds the whole
 * artwork. The bleed leaves the artwork itself free but for a pixel under its edge. `px_per_mm` is
 * taken down where the picture would be very large. */
SbBleed sb_bleed_make (const SbDesign *design, cairo_surface_t *art, double width, double height,
                       double px_per_mm);
void sb_bleed_clear (SbBleed *bleed);

/* Sets the bleed as the source of `cr`, whose user space is the artwork's frame. */
void sb_bleed_set_source (const SbBleed *bleed, cairo_t *cr);

G_END_DECLS
