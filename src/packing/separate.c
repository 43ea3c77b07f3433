/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/separate-private.h"

#include <string.h>

#define WEIGHT_LEAST_RISE 1.1
#define WEIGHT_MOST_RISE 1.5
#define WEIGHT_DECAY 0.95
#define PROGRESS 0.98 /* a total below this much of the last best is progress */

SbSeparator *
sb_separator_new (const SbTask *task, SbKeepOuts *keep_outs, SbRandom random)
{
  SbSeparator *separator = g_new0 (SbSeparator, 1);
  separator->task = task;
  separator->keep_outs = keep_outs;
  separator->random = random;
  return separator;
}

static void
free_arrays (SbSeparator *separator)
{
  g_free (separator->placings);
  g_free (separator->weights);
  g_free (separator->overlaps);
  g_free (separator->order);
  g_free (separator->others);
  g_free (separator->near);
  g_free (separator->best);
}

void
sb_separator_free (SbSeparator *separator)
{
  free_arrays (separator);
  g_free (separator);
}

static void
make_room (SbSeparator *separator, guint n)
{
  if (n <= separator->size)
    return;
  free_arrays (separator);
  separator->size = n;
  separator->placings = g_new (SbPlacing, n);
  separator->weights = g_new (double, (gsize)n *n);
  separator->overlaps = g_new (double, (gsize)n *n);
  separator->order = g_new (guint, n);
  separator->others = g_new (SbOther, n);
  separator->near = g_new (SbOther, n);
  separator->best = g_new (SbPlacing, n);
}

static double
pair_depth (SbSeparator *separator, guint i, guint j)
{
  const SbPlacing *still = &separator->placings[i], *moving = &separator->placings[j];
  if (still->fixed && moving->fixed)
    return 0;
  SbKeepOutView view = sb_keep_outs_view (separator->keep_outs, still->shape, still->pose,
                                          moving->shape, moving->pose);
  return sb_keep_out_view_depth (&view, (double)moving->x - still->x, (double)moving->y - still->y);
}

static void
measure_all (SbSeparator *separator)
{
  guint n = separator->n;
  separator->total = 0;
  for (guint i = 0; i < n; i++) {
    separator->overlaps[i * n + i] = 0;
    for (guint j = 0; j < i; j++) {
      double depth = pair_depth (separator, j, i);
      separator->overlaps[i * n + j] = separator->overlaps[j * n + i] = depth;
      separator->total += depth;
    }
    sb_keep_outs_tidy (separator->keep_outs);
  }
}

static void
begin_attempt (SbSeparator *separator)
{
  measure_all (separator);
  separator->best_total = separator->least_total = separator->strike_start = separator->total;
  separator->without_progress = separator->failed_strikes = 0;
  memcpy (separator->best, separator->placings, separator->n * sizeof (SbPlacing));
}

/* Into the box, in another pose where the present one is larger than it. */
static void
move_in (const SbSeparator *separator, SbPlacing *placing)
{
  const SbShape *shape = separator->task->shapes->pdata[placing->shape];
  guint beside = sb_separator_get_pose (separator, placing)->beside;
  for (guint k = 0; k <= shape->n_poses; k++) {
    guint pose = k == 0 ? placing->pose : (beside + k) % shape->n_poses;
    SbIBox room = sb_pose_get_room (sb_shape_get_pose (shape, pose), separator->box);
    if (room.x1 < room.x0)
      continue;
    placing->pose = pose;
    placing->x = CLAMP (placing->x, room.x0, room.x1);
    placing->y = CLAMP (placing->y, room.y0, room.y1);
    return;
  }
}

void
sb_separator_set (SbSeparator *separator, SbIBox box, const SbPlacing *placings, guint n)
{
  make_room (separator, n);
  separator->n = n;
  separator->box = box;
  memcpy (separator->placings, placings, n * sizeof (SbPlacing));
  for (guint i = 0; i < n; i++)
    if (!separator->placings[i].fixed)
      move_in (separator, &separator->placings[i]);
  for (gsize i = 0; i < (gsize)n * n; i++)
    separator->weights[i] = 1;
  begin_attempt (separator);
}

const SbPlacing *
sb_separator_get (const SbSeparator *separator, guint *n)
{
  *n = separator->n;
  return separator->placings;
}

guint64
sb_separator_get_evaluations (const SbSeparator *separator)
{
  return separator->evaluations;
}

SbRandom *
sb_separator_get_random (SbSeparator *separator)
{
  return &separator->random;
}

static void
put (SbSeparator *separator, guint i, const SbCandidate *candidate)
{
  guint n = separator->n;
  SbPlacing *placing = &separator->placings[i];
  placing->pose = candidate->pose;
  placing->x = candidate->x;
  placing->y = candidate->y;
  for (guint j = 0; j < n; j++) {
    if (j == i)
      continue;
    double depth = pair_depth (separator, j, i);
    separator->total += depth - separator->overlaps[i * n + j];
    separator->overlaps[i * n + j] = separator->overlaps[j * n + i] = depth;
  }
}

static double
row_cost (const SbSeparator *separator, guint i)
{
  const double *weights = separator->weights + (gsize)i * separator->n,
               *overlaps = separator->overlaps + (gsize)i * separator->n;
  double cost = 0;
  for (guint j = 0; j < separator->n; j++)
    cost += weights[j] * overlaps[j];
  return cost;
}

static void
move_copy (SbSeparator *separator, guint i)
{
  SbCandidate better;
  if (sb_separator_find_move (separator, i, row_cost (separator, i), &better))
    put (separator, i, &better);
  sb_keep_outs_tidy (separator->keep_outs);
}

static gboolean
overlaps_any (const SbSeparator *separator, guint i)
{
  const double *overlaps = separator->overlaps + (gsize)i * separator->n;
  for (guint j = 0; j < separator->n; j++)
    if (overlaps[j] > 0)
      return TRUE;
  return FALSE;
}

static void
shuffle (SbRandom *random, guint *items, guint n)
{
  for (guint i = n; i > 1; i--) {
    guint j = sb_random_below (random, i);
    guint swap = items[i - 1];
    items[i - 1] = items[j];
    items[j] = swap;
  }
}

static void
pass (SbSeparator *separator)
{
  guint n = 0;
  for (guint i = 0; i < separator->n; i++)
    if (!separator->placings[i].fixed && overlaps_any (separator, i))
      separator->order[n++] = i;
  shuffle (&separator->random, separator->order, n);
  for (guint k = 0; k < n; k++)
    if (overlaps_any (separator, separator->order[k]))
      move_copy (separator, separator->order[k]);
}

static void
weigh (SbSeparator *separator)
{
  gsize n = (gsize)separator->n * separator->n;
  double most = 0, total = 0;
  for (gsize k = 0; k < n; k++) {
    most = MAX (most, separator->overlaps[k]);
    total += separator->overlaps[k];
  }
  separator->total = total / 2; /* afresh: differences added up leave dust */
  for (gsize k = 0; k < n; k++) {
    double *weight = &separator->weights[k];
    if (separator->overlaps[k] > 0)
      *weight *= WEIGHT_LEAST_RISE +
                 (WEIGHT_MOST_RISE - WEIGHT_LEAST_RISE) * separator->overlaps[k] / most;
    else
      *weight = MAX (1, *weight * WEIGHT_DECAY);
  }
}

static void
go_back_to_best (SbSeparator *separator)
{
  memcpy (separator->placings, separator->best, separator->n * sizeof (SbPlacing));
  measure_all (separator);
}

SbSeparation
sb_separator_run (SbSeparator *separator, guint patience, guint strikes, guint64 evaluations)
{
  guint64 end = separator->evaluations + evaluations;
  while (separator->total > 0) {
    if (separator->failed_strikes >= strikes)
      return SB_SEPARATION_FAILED;
    if (separator->evaluations >= end)
      return SB_SEPARATION_PAUSED;
    pass (separator);
    weigh (separator);
    if (separator->total < separator->best_total) {
      if (separator->total < PROGRESS * separator->best_total)
        separator->without_progress = 0;
      separator->best_total = separator->total;
      if (separator->total < separator->least_total) {
        separator->least_total = separator->total;
        memcpy (separator->best, separator->placings, separator->n * sizeof (SbPlacing));
      }
    }
    if (separator->total > 0 && ++separator->without_progress >= patience) {
      /* A strike that ends well below where it began earns another. */
      if (separator->best_total < PROGRESS * separator->strike_start)
        separator->failed_strikes = 0;
      else
        separator->failed_strikes++;
      go_back_to_best (separator);
      separator->strike_start = separator->best_total = separator->total;
      separator->without_progress = 0;
    }
  }
  return SB_SEPARATION_DONE;
}
