/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A run: one smooth stretch of a path's samples, and the cubics that fit parts of it. Private to
 * the room. */
#pragma once

#include "border/path.h"

G_BEGIN_DECLS

typedef struct {
  SbPoint p0, p1, p2, p3;
} SbCubic;

typedef struct {
  const SbSample *samples; /* of the loop */
  guint n_loop, first, n;  /* samples first .. first + n - 1, round the loop */
  SbPoint *p;              /* their places */
  SbPoint *tangents;       /* their tangents, with less noise; may be turned a little */
  double *length;          /* along the samples */
  double *turned;          /* sum of the turns */
  double tolerance, most_bend;

  /* What a curve is held against: the samples, and places between those that lie far apart. */
  guint n_marks;
  guint *mark_of;          /* of each sample */
  double *x, *y, *reached; /* place and length up to it */
} SbRun;

/* Curves over it stay within `tolerance` (mm) of the samples, and bend inwards by at most
 * `most_bend` (1/mm), 0 for any. Borrows the samples. */
SbRun *sb_run_new (const SbSample *samples, guint n_loop, guint first, guint n, double tolerance,
                   double most_bend) G_GNUC_WARN_UNUSED_RESULT;
void sb_run_free (SbRun *run);

static inline const SbSample *
sb_run_sample (const SbRun *run, guint i)
{
  guint k = run->first + i;
  return &run->samples[k >= run->n_loop ? k - run->n_loop : k];
}

/* The best cubic over the samples a..b that so many passes find; TRUE when it keeps the tolerance
 * and the bend. */
gboolean sb_run_find_cubic (const SbRun *run, guint a, guint b, int passes, SbCubic *c);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbRun, sb_run_free)

G_END_DECLS
