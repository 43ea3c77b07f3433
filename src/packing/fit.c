/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/fit.h"

#include <string.h>

#include "packing/lattice.h"
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

typedef struct {
  const SbTask *task;
  SbIBox box;
  const SbBudget *budget;
  SbSeparator *separator;
  SbPlacing *scratch;
  guint64 limit; /* evaluations of the round */
  gboolean done;
  guint n_refused; /* layouts that failed the exact check */
} Worker;

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
  guint64 end = sb_separator_get_evaluations (worker->separator) + worker->limit, now;
  while ((now = sb_separator_get_evaluations (worker->separator)) < end) {
    if (g_get_monotonic_time () >= worker->budget->deadline ||
        g_cancellable_is_cancelled (worker->budget->cancellable))
      return NULL;
    SbSeparation result =
        sb_separator_run (worker->separator, PATIENCE, STRIKES, MIN (CHUNK_EVALUATIONS, end - now));
    if (result == SB_SEPARATION_FAILED)
      disturb (worker);
    if (result != SB_SEPARATION_DONE)
      continue;
    guint n;
    const SbPlacing *placings = sb_separator_get (worker->separator, &n);
    if (sb_task_check (worker->task, worker->box, placings, n)) {
      worker->done = TRUE;
      return NULL;
    }
    /* The parts keep clear of each other but the exact outlines do not: a fault of the aim. */
    if (++worker->n_refused >= MOST_REFUSED)
      return NULL;
    disturb (worker);
  }
  return NULL;
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
  for (guint k = 0; k < N_WORKERS; k++) {
    workers[k] = (Worker){.task = task, .box = box, .budget = budget};
    workers[k].separator = sb_separator_new (task, fitter->keep_outs[k],
                                             sb_random_stream (sb_random_next (random), k));
    workers[k].scratch = g_new (SbPlacing, n);
    sb_separator_set (workers[k].separator, box, placings, n);
  }
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
      refused |= workers[k].n_refused >= MOST_REFUSED;
      used += sb_separator_get_evaluations (workers[k].separator);
      if (winner == NULL && workers[k].done)
        winner = &workers[k];
    }
    budget->evaluations = begun + used;
  }
  if (winner != NULL) {
    guint n_found;
    memcpy (placings, sb_separator_get (winner->separator, &n_found), n * sizeof *placings);
  }
  gboolean found = winner != NULL;
  for (guint k = 0; k < N_WORKERS; k++) {
    sb_separator_free (workers[k].separator);
    g_free (workers[k].scratch);
  }
  return found;
}
