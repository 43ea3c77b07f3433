/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How long a sticker takes to cut out by hand, from its true outline. Thread-safe. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

/* The inward radius that small scissors follow with ease, mm (handbook 4.2: common practice); a
 * stretch that bends tighter needs care. */
#define SB_NOTCH_RADIUS_MM 5.0

/* How many stretches of the outline bend inwards tighter than that, by 30 degrees or more in all.
 */
guint sb_outline_count_notches (const SbOutline *outline);

/* What is cut and how long it takes by the order's rates. */
typedef struct {
  gboolean by_knife;   /* kiss cut, else by scissors */
  gboolean straight;   /* four straight cuts by ruler instead: designs with corner ticks */
  double perimeter_mm; /* all rings of the outline */
  guint notches;
  double seconds;
} SbCutting;

/* One sticker of a design (prepared), by the rates of `order`. */
SbCutting sb_cutting_of (const SbDesign *design, const SbOrder *order);

/* A copy of a layout: straight cuts along its sides, two for each copy as neighbours share theirs;
 * a sheet's stickers kiss cut; a header card scored and folded. Seconds. */
#define SB_LAYOUT_CUTS 2
double sb_cutting_of_layout (const SbState *state, const SbLayout *layout, double *kiss_cut_s);

G_END_DECLS
