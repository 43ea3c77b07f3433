/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/fit.h"

#include <string.h>

#include "packing/lattice.h"
#include "packing/relax.h"
#include "packing/separate.h"

#define N_WORKERS 2
#define ROUND_EVALUATIONS 100000 /* of each worker, between two looks at the other's success */
#define CHUNK_EVALUATIONS 5000   /* between two looks at the clock */
#define MOST_REFUSED 20
#define PATIENCE 100
#define STRIKES 2

gboolean
sb_budget_is_spent (const SbBudget *budget)
{
  return (budget->effort > 0 && budget->evaluations >= budget->effort) ||
         g_get_monotonic_time () >= budget->deadline ||
         g_cancellable_is_cancelled (budget->cancellable);
}

struct _SbFitter {
  const SbTask *task;
  SbKeepOuts *keep_outs[N_WORKERS];
};

SbFitter *
sb_fitter_new (const SbTask *task)
{
  SbFitter *fitter = g_new0 (SbFitter, 1);
  fitter->task = task;
  for (guint k = 0; k < N_WORKERS; k++)
    fitter->keep_outs[k] = sb_keep_outs_new (task);
  return fitter;
}

void
sb_fitter_free (SbFitter *fitter)
{
  for (guint k = 0; k < N_WORKERS; k++)
    sb_keep_outs_free (fitter->keep_outs[k]);
  g_free (fitter);
}

/* One thread's search. Copies that turn freely are relaxed, others separated. */
typedef struct {
  const SbTask *task;
  SbIBox box;
  const SbBudget *budget;
  SbSeparator *separator; /* or */
  SbRelaxer *relaxer;
  guint n;
  SbPlacing *scratch;
  guint64 limit;   /* evaluations of the round */
  gboolean done;   /* as far as the search can tell */
  guint n_refused; /* layouts that failed the exact check */
} Worker;

static void
worker_init (Worker *worker, SbFitter *fitter, guint k, SbIBox box, const SbPlacing *placings,
             guint n, SbRandom random, const SbBudget *budget, gboolean relaxing)
{
  *worker = (Worker){.task = fitter->task, .box = box, .budget = budget, .n = n};
  worker->scratch = g_new (SbPlacing, n);
  if (relaxing) {
    worker->relaxer = sb_relaxer_new (fitter->task, random);
    sb_relaxer_set (worker->relaxer, box, placings, n);
    if (k > 0)
      sb_relaxer_disturb (worker->relaxer);
    return;
  }
  worker->separator = sb_separator_new (fitter->task, fitter->keep_outs[k], random);
  sb_separator_set (worker->separator, box, placings, n);
}

static void
worker_clear (Worker *worker)
{
  g_clear_pointer (&worker->separator, sb_separator_free);
  g_clear_pointer (&worker->relaxer, sb_relaxer_free);
  g_free (worker->scratch);
}

static guint64
worker_evaluations (const Worker *worker)
{
  return worker->relaxer != NULL ? sb_relaxer_get_evaluations (worker->relaxer)
                                 : sb_separator_get_evaluations (worker->separator);
}

/* One free copy goes to a random place: the search has run aground. */
static void
disturb (Worker *worker)
{
  guint n;
  const SbPlacing *now = sb_separator_get (worker->separator, &n);
  memcpy (worker->scratch, now, n * sizeof *now);
  SbRandom *random = sb_separator_get_random (worker->separator);
  for (guint k = 0; k < 2; k++) {
    SbPlacing *placing = &worker->scratch[sb_random_below (random, n)];
    SbIBox room = sb_pose_get_room (sb_task_get_pose (worker->task, placing->shape, placing->pose),
                                    worker->box);
    if (placing->fixed || room.x1 < room.x0)
      continue;
    placing->x = sb_random_between (random, room.x0, room.x1);
    placing->y = sb_random_between (random, room.y0, room.y1);
  }
  sb_separator_set (worker->separator, worker->box, worker->scratch, n);
}

static gpointer
work (gpointer data)
{
  Worker *worker = data;
  guint64 end = worker_evaluations (worker) + worker->limit, now;
  while (!worker->done && (now = worker_evaluations (worker)) < end) {
    if (g_get_monotonic_time () >= worker->budget->deadline ||
        g_cancellable_is_cancelled (worker->budget->cancellable))
      return NULL;
    guint64 chunk = MIN (CHUNK_EVALUATIONS, end - now);
    if (worker->relaxer != NULL) {
      worker->done = sb_relaxer_run (worker->relaxer, chunk);
      continue;
    }
    SbSeparation result = sb_separator_run (worker->separator, PATIENCE, STRIKES, chunk);
    worker->done = result == SB_SEPARATION_DONE;
    if (result == SB_SEPARATION_FAILED)
      disturb (worker);
  }
  return NULL;
}

/* Takes what a worker has done to `scratch` and checks it exactly; else the worker goes on from
 * something else. */
static gboolean
confirm (Worker *worker)
{
  if (worker->relaxer != NULL) {
    for (guint i = 0; i < worker->n; i++) {
      gint32 turn = -1;
      SbPlacing *placing = &worker->scratch[i];
      *placing = sb_relaxer_get (worker->relaxer, i, &turn);
      if (turn >= 0)
        placing->pose = sb_shape_take_pose (worker->task->shapes->pdata[placing->shape], turn);
    }
  } else {
    guint n;
    memcpy (worker->scratch, sb_separator_get (worker->separator, &n),
            worker->n * sizeof (SbPlacing));
  }
  if (sb_task_check (worker->task, worker->box, worker->scratch, worker->n))
    return TRUE;
  /* The parts keep clear of each other but the exact outlines do not: a fault of the aim. */
  worker->n_refused++;
  worker->done = FALSE;
  if (worker->relaxer != NULL)
    sb_relaxer_disturb (worker->relaxer);
  else
    disturb (worker);
  return FALSE;
}

static void
run_round (Worker *workers, guint64 limit)
{
  GThread *threads[N_WORKERS] = {NULL};
  for (guint k = 0; k < N_WORKERS; k++) {
    workers[k].limit = limit;
    if (k > 0)
      threads[k] = g_thread_new ("packing", work, &workers[k]);
  }
  work (&workers[0]);
  for (guint k = 1; k < N_WORKERS; k++)
    g_thread_join (threads[k]);
}

/* How many workers relax: all where most copies turn freely, one where some do. */
static guint
count_relaxing (const SbTask *task, const SbPlacing *placings, guint n)
{
  guint free = 0, turning = 0;
  for (guint i = 0; i < n; i++) {
    free += !placings[i].fixed;
    turning +=
        !placings[i].fixed && ((const SbShape *)task->shapes->pdata[placings[i].shape])->cyclic;
  }
  return 2 * turning > free ? N_WORKERS : turning > 0;
}

static gboolean
each_fits_alone (const SbTask *task, SbIBox box, const SbPlacing *placings, guint n)
{
  for (guint i = 0; i < n; i++)
    if (!placings[i].fixed && !sb_shape_fits (task->shapes->pdata[placings[i].shape], box))
      return FALSE;
  return TRUE;
}

/* Equal copies are the weak spot of separation: where a lattice has room for all, that is it. */
static gboolean
fit_by_lattice (SbFitter *fitter, SbIBox box, SbPlacing *placings, guint n)
{
  for (guint i = 0; i < n; i++)
    if (placings[i].fixed || placings[i].shape != placings[0].shape)
      return FALSE;
  g_autoptr (GArray) lattice =
      sb_lattice_lay (fitter->task, fitter->keep_outs[0], box, placings[0].shape);
  if (lattice->len < n)
    return FALSE;
  for (guint i = 0; i < n; i++) {
    const SbPlacing *laid = &g_array_index (lattice, SbPlacing, i);
    placings[i].pose = laid->pose;
    placings[i].x = laid->x;
    placings[i].y = laid->y;
  }
  return TRUE;
}

gboolean
sb_fit (SbFitter *fitter, SbIBox box, SbPlacing *placings, guint n, SbRandom *random, guint64 most,
        SbBudget *budget)
{
  const SbTask *task = fitter->task;
  if (!each_fits_alone (task, box, placings, n))
    return FALSE;
  if (n > 1 && fit_by_lattice (fitter, box, placings, n))
    return TRUE;
  Worker workers[N_WORKERS];
  guint n_relaxing = count_relaxing (task, placings, n);
  for (guint k = 0; k < N_WORKERS; k++)
    worker_init (&workers[k], fitter, k, box, placings, n,
                 sb_random_stream (sb_random_next (random), k), budget, k < n_relaxing);
  guint64 used = 0;
  guint64 begun = budget->evaluations;
  const Worker *winner = NULL;
  guint64 limit = ROUND_EVALUATIONS / 16;
  gboolean refused = FALSE;
  while (winner == NULL && used < most && !refused && !sb_budget_is_spent (budget)) {
    run_round (workers, limit);
    limit = MIN (2 * limit, ROUND_EVALUATIONS);
    used = 0;
    for (guint k = 0; k < N_WORKERS; k++) {
      used += worker_evaluations (&workers[k]);
      if (winner == NULL && workers[k].done && confirm (&workers[k]))
        winner = &workers[k];
      refused |= workers[k].n_refused >= MOST_REFUSED;
    }
    budget->evaluations = begun + used;
  }
  if (winner != NULL)
    memcpy (placings, winner->scratch, n * sizeof *placings);
  gboolean found = winner != NULL;
  for (guint k = 0; k < N_WORKERS; k++)
    worker_clear (&workers[k]);
  return found;
}
