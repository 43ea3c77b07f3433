/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The recipe of a clean-up: settings and strokes, no pixels. The picture that came in is never
 * changed, and the result can be made again from both at any size. A plain value. */
#pragma once

#include "picture/adjust.h"
#include "picture/quad.h"
#include "picture/strokes.h"

G_BEGIN_DECLS

typedef struct {
  gboolean remove_paper; /* else only light, white and levels */
  gboolean even_light;
  gboolean paper_picked; /* the maker named the paper's colour */
  guint8 paper[3];       /* sRGB, as it is in the picture that came in */
  double tolerance;      /* CIE Lab distance to the paper, 1..60; 8 (handbook 6.6: 6-12) */
  double smoothness_mm;  /* radius over which colours are averaged before they are compared, 0..1 */
  gboolean open_enclosed; /* paper that artwork encloses goes too */
  double speck_mm;        /* islands up to this go, 0..5; 0.5 (handbook 6.7) */
  double hair_mm;         /* islands up to 10 mm long and thinner than this go, 0..1; 0.15 */
  double pinhole_mm;      /* enclosed paper that goes: holes up to this stay, 0..5; 0.7 (6.7) */
  /* White and black point, for paper and what is near it (handbook 6.5); 1 mm into the artwork
   * nothing changes any more, so that pale washes stay. */
  gboolean whiten;
  double white_point; /* so much darker than the paper, in L*, still becomes white, 0..40; 1 */
  double black_point; /* what has this L* or less becomes black, 0..40; 0 */
  SbAdjust adjust;
  gboolean crisp; /* pixel art: enlarged as squares with hard edges */
  SbQuad frame;   /* what of the picture is shown */
  /* The sheet that paper and light are looked for on: set where the frame is only a part of it.
   * Shown itself where there is no frame. */
  SbQuad sheet;
  SbStrokes *strokes; /* or NULL; borrowed: whoever keeps a recipe has a reference */
} SbCleanup;

#define SB_CLEANUP_TOLERANCE_LEAST 1.0
#define SB_CLEANUP_TOLERANCE_MOST 60.0
#define SB_CLEANUP_SMOOTHNESS_MOST_MM 1.0
#define SB_CLEANUP_SPECK_MOST_MM 5.0
#define SB_CLEANUP_HAIR_MOST_MM 1.0
#define SB_CLEANUP_POINT_MOST 40.0

SbCleanup sb_cleanup_default (void);
/* Paper stays, evened out and white. */
SbCleanup sb_cleanup_keep_paper (void);
/* Changes nothing. */
SbCleanup sb_cleanup_none (void);
gboolean sb_cleanup_is_none (const SbCleanup *recipe);
gboolean sb_cleanup_equal (const SbCleanup *a, const SbCleanup *b);

/* Takes numbers to the ends of their ranges, and leaves out frames that cannot be used on a picture
 * of this size (px). */
void sb_cleanup_tidy (SbCleanup *recipe, int picture_width, int picture_height);

/* The settings of `from` with the frame, sheet and strokes of `to`: what cleans another picture, or
 * another painting of the same scan, alike. */
SbCleanup sb_cleanup_alike (const SbCleanup *from, const SbCleanup *to);

/* The frame that counts: the recipe's own, else its sheet; not set for the whole picture. */
const SbQuad *sb_cleanup_get_frame (const SbCleanup *recipe);

/* Text that is equal for equal recipes only. Free with g_free. */
char *sb_cleanup_get_key (const SbCleanup *recipe) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
