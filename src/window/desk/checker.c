/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gio/gio.h>

#include "window/desk/checker.h"

struct _SbChecker {
  GObject parent_instance;

  SbJob *job;
  SbUnit unit;
  GPtrArray *findings; /* SbFinding */
  GArray *figures;     /* SbPageFigures */
  gboolean running;
  gboolean again; /* the job changed since the run began */
};

G_DEFINE_FINAL_TYPE (SbChecker, sb_checker, G_TYPE_OBJECT)

enum {
  CHANGED,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

/* One run: its question and its answer. */
typedef struct {
  SbState *state;
  SbUnit unit;
  GPtrArray *findings;
  GArray *figures;
} Run;

static void
run_free (Run *run)
{
  sb_state_unref (run->state);
  g_clear_pointer (&run->findings, g_ptr_array_unref);
  g_clear_pointer (&run->figures, g_array_unref);
  g_free (run);
}

static void
run_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Run *run = data;

  run->findings = sb_proof_run (run->state, run->unit);
  run->figures = g_array_new (FALSE, TRUE, sizeof (SbPageFigures));
  for (guint i = 0; i < run->state->pages->len; i++) {
    SbPageFigures figures = sb_figures_page (run->state, i);
    g_array_append_val (run->figures, figures);
  }
  g_task_return_boolean (task, TRUE);
}

static void start (SbChecker *self);

static void
run_done_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbChecker *self = SB_CHECKER (source);
  Run *run = g_task_get_task_data (G_TASK (result));

  self->running = FALSE;
  if (!self->job)
    return;
  g_ptr_array_unref (self->findings);
  self->findings = g_steal_pointer (&run->findings);
  g_array_unref (self->figures);
  self->figures = g_steal_pointer (&run->figures);
  gboolean again = self->again;
  self->again = FALSE;
  if (again)
    start (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
start (SbChecker *self)
{
  if (self->running) {
    self->again = TRUE;
    return;
  }
  Run *run = g_new0 (Run, 1);
  run->state = sb_state_ref (sb_job_get_state (self->job));
  run->unit = self->unit;

  g_autoptr (GTask) task = g_task_new (self, NULL, run_done_cb, NULL);
  g_task_set_task_data (task, run, (GDestroyNotify)run_free);
  self->running = TRUE;
  g_task_run_in_thread (task, run_in_thread);
}

static void
sb_checker_dispose (GObject *object)
{
  SbChecker *self = SB_CHECKER (object);

  if (self->job)
    g_signal_handlers_disconnect_by_data (self->job, self);
  g_clear_object (&self->job);
  G_OBJECT_CLASS (sb_checker_parent_class)->dispose (object);
}

static void
sb_checker_finalize (GObject *object)
{
  SbChecker *self = SB_CHECKER (object);

  g_ptr_array_unref (self->findings);
  g_array_unref (self->figures);
  G_OBJECT_CLASS (sb_checker_parent_class)->finalize (object);
}

static void
sb_checker_class_init (SbCheckerClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_checker_dispose;
  G_OBJECT_CLASS (klass)->finalize = sb_checker_finalize;
  signals[CHANGED] = g_signal_new ("changed", SB_TYPE_CHECKER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
}

static void
sb_checker_init (SbChecker *self)
{
  self->findings = g_ptr_array_new ();
  self->figures = g_array_new (FALSE, TRUE, sizeof (SbPageFigures));
}

SbChecker *
sb_checker_new (SbJob *job, SbUnit unit)
{
  SbChecker *self = g_object_new (SB_TYPE_CHECKER, NULL);

  self->job = g_object_ref (job);
  self->unit = unit;
  g_signal_connect_swapped (job, "changed", G_CALLBACK (start), self);
  start (self);
  return self;
}

void
sb_checker_set_unit (SbChecker *self, SbUnit unit)
{
  g_return_if_fail (SB_IS_CHECKER (self));

  if (self->unit == unit)
    return;
  self->unit = unit;
  start (self);
}

gboolean
sb_checker_is_behind (SbChecker *self)
{
  g_return_val_if_fail (SB_IS_CHECKER (self), FALSE);
  return self->running;
}

GPtrArray *
sb_checker_get_findings (SbChecker *self)
{
  g_return_val_if_fail (SB_IS_CHECKER (self), NULL);
  return self->findings;
}

guint
sb_checker_count (SbChecker *self, SbSeverity severity)
{
  guint n = 0;

  g_return_val_if_fail (SB_IS_CHECKER (self), 0);
  for (guint i = 0; i < self->findings->len; i++)
    if (((SbFinding *)self->findings->pdata[i])->severity == severity)
      n++;
  return n;
}

const SbPageFigures *
sb_checker_get_figures (SbChecker *self, guint page_index)
{
  g_return_val_if_fail (SB_IS_CHECKER (self), NULL);
  return page_index < self->figures->len ? &g_array_index (self->figures, SbPageFigures, page_index)
                                         : NULL;
}
