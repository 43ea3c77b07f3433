/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/strip.h"

#include <math.h>
#include <string.h>

#include "packing/greedy.h"
#include "packing/relax.h"
#include "packing/separate.h"

#define N_WORKERS 2
#define ROUND_EVALUATIONS 400000 /* of each worker, between two meetings */

/* Exploring: the strip is made shorter by this much of itself, then separated. */
#define EXPLORE_FIRST 0.04
#define EXPLORE_MOST 0.05
#define EXPLORE_LEAST 0.001
#define EXPLORE_PATIENCE 100
#define EXPLORE_STRIKES 2
#define EXPLORE_FAILURES 4 /* at one length, before what is found is pressed */

/* Pressing: ever smaller steps from the best layout. */
#define PRESS_FIRST 0.001
#define PRESS_LEAST 0.00001
#define PRESS_SHRINK 0.6
#define PRESS_PATIENCE 60
#define PRESS_STRIKES 2

typedef struct {
  const SbTask *task;
  sb_um width;
  SbKeepOuts *keep_outs;
  SbSeparator *separator;
  SbRelaxer *relaxer; /* NULL where copies would turn freely in it: here they keep their turns */
  guint n;
  SbPlacing *best;
  sb_um length; /* of best */
  SbPlacing *scratch;
  gboolean pressing, under_way;
  double step;
  sb_um target;
  guint failures;
  guint64 limit; /* of the round under way */
  gint64 deadline;
  GCancellable *cancellable;
} Worker;

static sb_um
length_of (const SbTask *task, const SbPlacing *placings, guint n)
{
  sb_um length = 0;
  for (guint i = 0; i < n; i++) {
    const SbPose *pose = sb_task_get_pose (task, placings[i].shape, placings[i].pose);
    length = MAX (length, placings[i].x + pose->box.x1);
  }
  return length;
}

/* Takes out a slice as wide as the step somewhere: what lies right of it moves left. */
static void
squeeze (Worker *worker, SbPlacing *placings)
{
  sb_um cut = sb_random_between (sb_separator_get_random (worker->separator), 0, worker->length),
        slice = worker->length - worker->target;
  for (guint i = 0; i < worker->n; i++)
    if (placings[i].x > cut)
      placings[i].x -= slice;
}

/* Two different and large copies change places. */
static void
disturb (Worker *worker, SbPlacing *placings)
{
  SbRandom *random = sb_separator_get_random (worker->separator);
  guint a = 0, b = 0;
  for (guint try = 0; try < 20; try++) {
    /* The larger of two at random, twice. */
    guint pick[2];
    for (guint k = 0; k < 2; k++) {
      guint p = sb_random_below (random, worker->n), q = sb_random_below (random, worker->n);
      const SbShape *shape_p = worker->task->shapes->pdata[placings[p].shape],
                    *shape_q = worker->task->shapes->pdata[placings[q].shape];
      pick[k] = shape_p->area >= shape_q->area ? p : q;
    }
    a = pick[0];
    b = pick[1];
    if (placings[a].shape != placings[b].shape)
      break;
  }
  sb_um x = placings[a].x, y = placings[a].y;
  placings[a].x = placings[b].x;
  placings[a].y = placings[b].y;
  placings[b].x = x;
  placings[b].y = y;
}

/* All are pushed apart at once, so that what is squeezed spreads over the strip; what overlaps
 * after that is separated. */
static void
spread (Worker *worker, SbIBox box)
{
  sb_relaxer_set (worker->relaxer, box, worker->scratch, worker->n);
  sb_relaxer_run (worker->relaxer, 0);
  for (guint i = 0; i < worker->n; i++)
    worker->scratch[i] = sb_relaxer_get (worker->relaxer, i, NULL);
}

static void
begin_attempt (Worker *worker)
{
  guint n;
  worker->target = worker->length - MAX (1, (sb_um)(worker->length * worker->step));
  memcpy (worker->scratch, worker->best, worker->n * sizeof (SbPlacing));
  if (!worker->pressing && worker->failures > 0) {
    memcpy (worker->scratch, sb_separator_get (worker->separator, &n),
            worker->n * sizeof (SbPlacing));
    disturb (worker, worker->scratch);
  } else {
    squeeze (worker, worker->scratch);
  }
  SbIBox box = {0, 0, worker->target, worker->width};
  if (worker->relaxer != NULL)
    spread (worker, box);
  sb_separator_set (worker->separator, box, worker->scratch, worker->n);
  worker->under_way = TRUE;
}

static void
end_attempt (Worker *worker, gboolean found)
{
  worker->under_way = FALSE;
  if (found) {
    guint n;
    const SbPlacing *placings = sb_separator_get (worker->separator, &n);
    found =
        sb_task_check (worker->task, (SbIBox){0, 0, worker->target, worker->width}, placings, n);
    if (found) {
      memcpy (worker->best, placings, n * sizeof (SbPlacing));
      worker->length = length_of (worker->task, placings, n);
      worker->failures = 0;
      if (!worker->pressing)
        worker->step = MIN (EXPLORE_MOST, worker->step * 1.1);
      return;
    }
  }
  if (worker->pressing) {
    worker->step *= PRESS_SHRINK;
    if (worker->step < PRESS_LEAST) {
      worker->pressing = FALSE;
      worker->step = EXPLORE_LEAST;
      worker->failures = 1; /* goes on from something else than what was pressed */
    }
    return;
  }
  worker->failures++;
  if (worker->step > EXPLORE_LEAST) {
    worker->step = MAX (EXPLORE_LEAST, worker->step * 0.5);
    worker->failures = 0;
  } else if (worker->failures >= EXPLORE_FAILURES) {
    worker->pressing = TRUE;
    worker->step = PRESS_FIRST;
    worker->failures = 0;
  }
}

static guint64
count_evaluations (const Worker *worker)
{
  return sb_separator_get_evaluations (worker->separator) +
         (worker->relaxer != NULL ? sb_relaxer_get_evaluations (worker->relaxer) : 0);
}

static gpointer
work (gpointer data)
{
  Worker *worker = data;
  guint64 begun = count_evaluations (worker);
  for (;;) {
    guint64 used = count_evaluations (worker) - begun;
    if (used >= worker->limit || g_get_monotonic_time () >= worker->deadline ||
        g_cancellable_is_cancelled (worker->cancellable))
      return NULL;
    if (!worker->under_way)
      begin_attempt (worker);
    SbSeparation result = sb_separator_run (
        worker->separator, worker->pressing ? PRESS_PATIENCE : EXPLORE_PATIENCE,
        worker->pressing ? PRESS_STRIKES : EXPLORE_STRIKES, MIN (worker->limit - used, 20000));
    if (result != SB_SEPARATION_PAUSED)
      end_attempt (worker, result == SB_SEPARATION_DONE);
  }
}

/* The worker that is behind goes on from the best layout. */
static void
meet (Worker *workers)
{
  guint best = 0;
  for (guint k = 1; k < N_WORKERS; k++)
    if (workers[k].length < workers[best].length)
      best = k;
  for (guint k = 0; k < N_WORKERS; k++) {
    Worker *worker = &workers[k];
    if (worker->length <= workers[best].length * 1.002)
      continue;
    memcpy (worker->best, workers[best].best, worker->n * sizeof (SbPlacing));
    worker->length = workers[best].length;
    worker->under_way = FALSE;
    worker->pressing = FALSE;
    worker->failures = 0;
    worker->step = MAX (EXPLORE_LEAST, workers[best].pressing ? EXPLORE_LEAST : workers[best].step);
  }
}

static gboolean
lay_first (const SbTask *task, sb_um width, const guint *shapes, guint n, SbPlacing *placings)
{
  g_autofree guint *order = g_memdup2 (shapes, n * sizeof *shapes);
  sb_greedy_sort (task, order, n);
  double area = 0;
  sb_um longest = 0;
  for (guint i = 0; i < n; i++) {
    const SbShape *shape = task->shapes->pdata[order[i]];
    area += shape->area;
    const SbPose *pose = &shape->poses[0];
    longest = MAX (longest, MAX (pose->box.x1 - pose->box.x0, pose->box.y1 - pose->box.y0));
  }
  for (double length = area / width * 1.6 + longest;; length *= 1.5) {
    g_autoptr (GArray) laid = g_array_new (FALSE, FALSE, sizeof (SbPlacing));
    SbIBox box = {0, 0, (sb_um)MIN (length, SB_UM_MOST), width};
    if (sb_greedy_lay (task, box, SB_TOWARDS_LEFT, MAX (1, width / 400), laid, order, n) == n) {
      /* Back into the order of the shapes given. */
      g_autofree gboolean *used = g_new0 (gboolean, n);
      for (guint k = 0; k < n; k++) {
        SbPlacing placing = g_array_index (laid, SbPlacing, k);
        guint i = 0;
        while (used[i] || shapes[i] != placing.shape)
          i++;
        used[i] = TRUE;
        placing.tag = i;
        placings[i] = placing;
      }
      return TRUE;
    }
    if (length >= SB_UM_MOST)
      return FALSE;
  }
}

static gboolean
any_turns_freely (const SbTask *task)
{
  for (guint i = 0; i < task->shapes->len; i++)
    if (((const SbShape *)task->shapes->pdata[i])->cyclic)
      return TRUE;
  return FALSE;
}

static void
worker_init (Worker *worker, guint k, const SbTask *task, sb_um width, const SbPlacing *first,
             guint n, const SbStripParams *params, gint64 deadline, GCancellable *cancellable)
{
  *worker = (Worker){.task = task, .width = width, .n = n, .step = EXPLORE_FIRST};
  worker->keep_outs = sb_keep_outs_new (task);
  worker->separator =
      sb_separator_new (task, worker->keep_outs, sb_random_stream (params->seed, k));
  if (!any_turns_freely (task))
    worker->relaxer = sb_relaxer_new (task, sb_random_stream (params->seed, N_WORKERS + k));
  worker->best = g_memdup2 (first, n * sizeof *first);
  worker->scratch = g_memdup2 (first, n * sizeof *first);
  worker->length = length_of (task, first, n);
  worker->deadline = deadline;
  worker->cancellable = cancellable;
}

static void
worker_clear (Worker *worker)
{
  sb_separator_free (worker->separator);
  g_clear_pointer (&worker->relaxer, sb_relaxer_free);
  sb_keep_outs_free (worker->keep_outs);
  g_free (worker->best);
  g_free (worker->scratch);
}

SbStrip *
sb_strip_pack (const SbTask *task, sb_um width, const guint *shapes, guint n, sb_um least_length,
               const SbStripParams *params, GCancellable *cancellable)
{
  gint64 deadline = g_get_monotonic_time () + (gint64)(params->seconds * G_USEC_PER_SEC);
  g_autofree SbPlacing *first = g_new (SbPlacing, n);
  if (!lay_first (task, width, shapes, n, first))
    return NULL;
  Worker workers[N_WORKERS];
  for (guint k = 0; k < N_WORKERS; k++)
    worker_init (&workers[k], k, task, width, first, n, params, deadline, cancellable);
  SbStrip *strip = g_new0 (SbStrip, 1);
  guint best = 0;
  while (workers[best].length > least_length && g_get_monotonic_time () < deadline &&
         !g_cancellable_is_cancelled (cancellable) &&
         (params->effort == 0 || strip->evaluations < params->effort)) {
    GThread *threads[N_WORKERS];
    for (guint k = 0; k < N_WORKERS; k++) {
      workers[k].limit = ROUND_EVALUATIONS;
      if (params->effort > 0)
        workers[k].limit =
            MIN (workers[k].limit, (params->effort - strip->evaluations) / N_WORKERS + 1);
      threads[k] = g_thread_new ("packing", work, &workers[k]);
    }
    strip->evaluations = 0;
    best = 0;
    for (guint k = 0; k < N_WORKERS; k++) {
      g_thread_join (threads[k]);
      strip->evaluations += count_evaluations (&workers[k]);
      if (workers[k].length < workers[best].length)
        best = k;
    }
    meet (workers);
  }
  strip->length = workers[best].length;
  strip->n = n;
  strip->placings = g_memdup2 (workers[best].best, n * sizeof (SbPlacing));
  for (guint k = 0; k < N_WORKERS; k++)
    worker_clear (&workers[k]);
  return strip;
}

void
sb_strip_free (SbStrip *strip)
{
  g_free (strip->placings);
  g_free (strip);
}
