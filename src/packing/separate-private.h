/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shared by separate.c, which decides whose turn it is and what overlaps weigh, and
 * separate-move.c, which finds a better place for one copy. */
#pragma once

#include "packing/separate.h"

G_BEGIN_DECLS

/* Another copy as the one being moved sees it. */
typedef struct {
  double x0, y0, x1, y1; /* box of its region on the page */
  double x, y, weight;
  SbKeepOutView view; /* its region NULL until a place inside the box is looked at */
  guint shape, pose;
} SbOther;

/* A place for a copy and the weighted depth of its overlaps there. */
typedef struct {
  guint pose;
  sb_um x, y;
  double cost;
} SbCandidate;

struct _SbSeparator {
  const SbTask *task;
  SbKeepOuts *keep_outs;
  SbRandom random;
  SbIBox box;
  guint n, size;
  SbPlacing *placings;
  double *weights, *overlaps; /* n x n, symmetric */
  double total;
  guint *order;
  SbOther *others, *near;
  guint n_others;
  guint moving_shape, moving_pose; /* what the others were listed for */
  guint64 evaluations;

  /* the attempt under way */
  SbPlacing *best;
  double best_total;  /* of this strike */
  double least_total; /* of the attempt; `best` is its layout */
  double strike_start;
  guint without_progress, failed_strikes;
};

static inline const SbPose *
sb_separator_get_pose (const SbSeparator *separator, const SbPlacing *placing)
{
  return sb_task_get_pose (separator->task, placing->shape, placing->pose);
}

/* A place for copy i with less weighted overlap than `now`, the copy's own; FALSE when none is
 * found. */
gboolean sb_separator_find_move (SbSeparator *separator, guint i, double now, SbCandidate *best);

G_END_DECLS
