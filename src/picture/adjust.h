/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "picture/colour.h"

G_BEGIN_DECLS

/* Levels and colour, each -100..100, 0 for none. */
typedef struct {
  double brightness; /* L* moves by up to 25 in the middle; black and white stay */
  double contrast;   /* L* spreads from, or closes on, the middle */
  double warmth;     /* towards yellow and red, or towards blue: up to 20 of b* and 5 of a* */
  double saturation; /* chroma from none at -100 to double at 100 */
} SbAdjust;

gboolean sb_adjust_is_none (const SbAdjust *adjust);

/* The change as one for rows of 8-bit straight RGBA in sRGB, worked in CIE Lab through lcms2. NULL
 * when there is nothing to do. */
SbColour *sb_adjust_new (const SbAdjust *adjust) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
