/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The distance between two pieces or points of a page. No GTK. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

/* A piece, measured from the nearest place of its outline, or a point. */
typedef struct {
  guint piece_id; /* 0 for a point */
  guint page;     /* of a point */
  SbIPoint at;    /* of a point, um from the page's top left corner */
} SbMeasureEnd;

typedef struct {
  guint page;
  double um; /* 0 where they touch or overlap; then `a` and `b` are the same place */
  SbPoint a, b;
} SbMeasured;

/* FALSE when the ends lie on two pages or one of them is no longer there. */
gboolean sb_measure_ends (const SbState *state, const SbMeasureEnd *from, const SbMeasureEnd *to,
                          SbMeasured *measured);

G_END_DECLS
