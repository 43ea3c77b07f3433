/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Separation: copies in a box that overlap are moved, one at a time, to where they overlap least,
 * until none does. What still overlaps after a pass weighs more in the next one (guided local
 * search: C. Voudouris, E. Tsang, 1999; for packing: J. Egeblad, B. Nielsen, A. Odgaard, "Fast
 * neighborhood search for two- and three-dimensional nesting problems", 2007; S. Umetani et al.,
 * 2009; J. Gardeyn, G. Vanden Berghe, T. Wauters, arXiv:2509.13329). Overlap is the depth of
 * packing/keep-out.h, so a total of zero is a proof for the parts of the shapes.
 *
 * A move is found by sampling the copy's room and sliding the best samples from contact to contact:
 * the weighted depth is piecewise linear, its least values lie where edges of two keep-out regions
 * cross.
 *
 * One thread at a time; the same seed and calls give the same layout. */
#pragma once

#include "packing/random.h"
#include "packing/task.h"

G_BEGIN_DECLS

typedef struct _SbSeparator SbSeparator;

/* Borrows `task` and `keep_outs`. */
SbSeparator *sb_separator_new (const SbTask *task, SbKeepOuts *keep_outs,
                               SbRandom random) G_GNUC_WARN_UNUSED_RESULT;
void sb_separator_free (SbSeparator *separator);

/* Takes `placings` (copied) as the layout to separate within `box`; copies that reach out of it are
 * moved in. All weights are 1 again. */
void sb_separator_set (SbSeparator *separator, SbIBox box, const SbPlacing *placings, guint n);

/* The layout as it is. Borrowed; valid until the next call. */
const SbPlacing *sb_separator_get (const SbSeparator *separator, guint *n);

typedef enum {
  SB_SEPARATION_DONE,   /* nothing overlaps any more */
  SB_SEPARATION_FAILED, /* no progress for long: the layout is the best met */
  SB_SEPARATION_PAUSED, /* evaluations used up; go on with another run */
} SbSeparation;

/* Goes on separating. It gives up after `strikes` times `patience` passes without progress.
 * `evaluations` is how many more may be used now. */
SbSeparation sb_separator_run (SbSeparator *separator, guint patience, guint strikes,
                               guint64 evaluations);

/* Evaluations (places looked at) since it was made. */
guint64 sb_separator_get_evaluations (const SbSeparator *separator);

/* Its own generator, for what goes on beside it by the same seed. Borrowed. */
SbRandom *sb_separator_get_random (SbSeparator *separator);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbSeparator, sb_separator_free)

G_END_DECLS
