/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Clean-up: from a scan or a photo to artwork with a soft edge and no paper. A recipe holds
 * settings only; the picture that came in is never changed, and the result can be made again from
 * both at any size.
 *
 *   picture -> light divided out -> mask flooded from the edge -> specks, strokes
 *           -> soft edge, rim's colour -> levels
 *
 * (Handbook section 6.) */
#pragma once

#include "picture/adjust.h"
#include "picture/specks.h"

G_BEGIN_DECLS

typedef enum {
  SB_STROKE_KEEP,     /* all under it is artwork */
  SB_STROKE_REMOVE,   /* all under it is paper */
  SB_STROKE_OPEN,     /* paper-coloured patches it touches are paper, though enclosed */
  SB_STROKE_PUT_BACK, /* specks it touches stay */
} SbStrokeKind;

/* A line drawn with a round brush, in parts of the picture's width, so that it holds at any size:
 * 0,0 is the top left corner, 1,height/width the bottom right one. */
typedef struct {
  SbStrokeKind kind;
  float radius;
  guint n_points;      /* from 1 on */
  const float *points; /* x, y; borrowed */
} SbStroke;

typedef struct {
  gboolean remove_paper; /* else only light and levels */
  gboolean even_light;
  gboolean paper_picked; /* the maker named the paper's colour */
  guint8 paper[3];       /* sRGB */
  double tolerance;      /* CIE Lab distance to the paper, 1..60; 8 (handbook 6.6: 6-12) */
  double smoothness_mm;  /* radius over which colours are averaged before they are compared, 0..1 */
  gboolean open_enclosed; /* paper that artwork encloses goes too */
  double speck_mm;        /* islands up to this go, 0..5; 0.5 (handbook 6.7) */
  double hair_mm;         /* islands up to 10 mm long and thinner than this go, 0..1; 0.15 */
  double pinhole_mm;      /* with open_enclosed: holes up to this are filled, 0..5; 0.7 (6.7) */
  SbAdjust adjust;
} SbCleanup;

SbCleanup sb_cleanup_default (void);
/* Changes nothing. */
SbCleanup sb_cleanup_none (void);
gboolean sb_cleanup_is_none (const SbCleanup *recipe);
gboolean sb_cleanup_equal (const SbCleanup *a, const SbCleanup *b);

/* 0..1, from the thread that works. */
typedef void (*SbProgress) (double done, gpointer data);

/* Cleans `picture`, an ARGB32 surface of `px_per_mm` at its printed size, which is left alone.
 * `strokes` are worked in order. What was found small is appended to `specks` (of SbSpeck, or
 * NULL). Returns a new ARGB32 surface of the same size, or NULL with an error: cancelled, or no
 * memory. A picture without anything like paper comes back whole, and so does
 * one that is all of one colour too dark for an empty sheet, unless that was picked. Uses all
 * processors. */
cairo_surface_t *sb_cleanup_run (const SbCleanup *recipe, const SbStroke *strokes, guint n_strokes,
                                 cairo_surface_t *picture, double px_per_mm, SbProgress progress,
                                 gpointer progress_data, GArray *specks, GCancellable *cancellable,
                                 GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
