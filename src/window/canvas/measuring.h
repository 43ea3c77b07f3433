/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The distance between two pieces or points of a page, and how it is told. No GTK; main thread. */
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

/* What is being measured: from nothing yet, from one end, or from one to another. {0} at first. */
typedef struct {
  SbMeasureEnd from, to;
  gboolean has_from, has_to; /* `to` only with `from` */
  gboolean is_measured;      /* both are there, on one page; then `measured` holds */
  SbMeasured measured;
} SbMeasuring;

/* Choose the ends. `is_measured` is right again after sb_measuring_update. */
void sb_measuring_set_from (SbMeasuring *measuring, SbMeasureEnd end); /* begins anew */
void sb_measuring_set_to (SbMeasuring *measuring, SbMeasureEnd end);
/* Forgets the ends that are no longer there. */
void sb_measuring_drop_gone (SbMeasuring *measuring, const SbState *state);

/* Measures, if it can. */
void sb_measuring_update (SbMeasuring *measuring, const SbState *state);

/* "12.3 mm", with how much of it is across and down when it lies askew; only for what is measured.
 * Free with g_free. */
char *sb_measuring_dup_distance (const SbMeasuring *measuring,
                                 SbUnit unit) G_GNUC_WARN_UNUSED_RESULT;

/* A sentence for eyes and screen readers: the measure, or what to do next. Free with g_free. */
char *sb_measuring_dup_told (const SbMeasuring *measuring, SbState *state,
                             SbUnit unit) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
