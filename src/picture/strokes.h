/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a maker does by hand to a clean-up: strokes of a brush, clicks and lassos, in the order they
 * were made. They are kept beside the settings, so that they outlive every change of these, and in
 * places of the picture that came in, so that they outlive a crop and hold at any size. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum {
  SB_STROKE_KEEP,     /* all under it is artwork */
  SB_STROKE_REMOVE,   /* all under it is paper */
  SB_STROKE_OPEN,     /* paper-coloured patches it touches are paper, though enclosed */
  SB_STROKE_PUT_BACK, /* specks and pinholes it touches stay */
  SB_STROKE_RETOUCH,  /* a hair or scratch: coloured anew from what is around it */
  SB_STROKE_LASSO,    /* its points are a polygon; all outside is no part of the artwork */
} SbStrokeKind;
#define SB_STROKE_N_KINDS 6

/* A line drawn with a round brush, in parts of the picture's width: 0,0 is the top left corner of
 * the picture that came in, 1,height/width its bottom right one. One point is a click. */
typedef struct {
  SbStrokeKind kind;
  float radius;        /* 0..1; a lasso has none */
  guint n_points;      /* from 1 on; a lasso from 3 on */
  const float *points; /* x, y; borrowed */
} SbStroke;

#define SB_STROKES_MOST 10000         /* in one list */
#define SB_STROKES_MOST_POINTS 200000 /* of one stroke */
#define SB_STROKES_FARTHEST 1000.0f   /* a coordinate, either way */

/* A list of strokes: immutable, reference-counted, usable from any thread. NULL is the empty list
 * everywhere. */
typedef struct _SbStrokes SbStrokes;

SbStrokes *sb_strokes_ref (SbStrokes *strokes);
void sb_strokes_unref (SbStrokes *strokes);

/* `strokes` with one more at its end (copied), as a new list. A stroke past the limits above (or
 * with a number that is none) is left out. */
SbStrokes *sb_strokes_add (const SbStrokes *strokes,
                           const SbStroke *stroke) G_GNUC_WARN_UNUSED_RESULT;
/* Without the one at `index`; NULL when none is left. */
SbStrokes *sb_strokes_without (const SbStrokes *strokes, guint index) G_GNUC_WARN_UNUSED_RESULT;

guint sb_strokes_get_n (const SbStrokes *strokes);
/* Borrowed from the list. */
SbStroke sb_strokes_get (const SbStrokes *strokes, guint index);
gboolean sb_strokes_equal (const SbStrokes *a, const SbStrokes *b);
/* Whether any is of a kind. */
gboolean sb_strokes_have (const SbStrokes *strokes, SbStrokeKind kind);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbStrokes, sb_strokes_unref)

G_END_DECLS
