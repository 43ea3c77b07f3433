/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * History is a row of states: `first`, then one after each step. `position` says after how many of
 * the steps the job stands; undo and redo only move it. It knows whole jobs only: a view of a
 * layout is made of the state it stands at, and an edited one becomes a whole job before it is a
 * step. */
#include "config.h"

#include "job/job.h"

#include "job/layout-view.h"

#define MERGE_USEC G_USEC_PER_SEC

typedef struct {
  SbState *after;
  char *name;
  char *merge_key;
  gint64 time; /* of the last edit merged into it */
} Step;

struct _SbJob {
  GObject parent_instance;

  SbState *first;
  GPtrArray *steps; /* Step, oldest first */
  guint position;
  guint view_id;    /* the layout that is shown, or 0 */
  SbState *view;    /* of it, made of the state at `position`; or NULL */
  SbState *preview; /* as shown; or NULL */
  SbState *saved;
};

G_DEFINE_FINAL_TYPE (SbJob, sb_job, G_TYPE_OBJECT)

enum { CHANGED, HISTORY_CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
step_free (gpointer data)
{
  Step *step = data;
  sb_state_unref (step->after);
  g_free (step->name);
  g_free (step->merge_key);
  g_free (step);
}

static void
sb_job_finalize (GObject *object)
{
  SbJob *job = SB_JOB (object);
  sb_state_unref (job->first);
  g_ptr_array_unref (job->steps);
  g_clear_pointer (&job->preview, sb_state_unref);
  g_clear_pointer (&job->view, sb_state_unref);
  sb_state_unref (job->saved);
  G_OBJECT_CLASS (sb_job_parent_class)->finalize (object);
}

static void
sb_job_class_init (SbJobClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_job_finalize;
  signals[CHANGED] =
      g_signal_new ("changed", SB_TYPE_JOB, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[HISTORY_CHANGED] = g_signal_new ("history-changed", SB_TYPE_JOB, G_SIGNAL_RUN_LAST, 0,
                                           NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sb_job_init (SbJob *job)
{
  job->steps = g_ptr_array_new_with_free_func (step_free);
}

SbJob *
sb_job_new (SbState *state)
{
  SbJob *job = g_object_new (SB_TYPE_JOB, NULL);
  job->first = sb_state_ref (state);
  job->saved = sb_state_ref (state);
  return job;
}

SbState *
sb_job_get_whole_state (SbJob *job)
{
  if (job->position == 0)
    return job->first;
  return ((Step *)job->steps->pdata[job->position - 1])->after;
}

SbState *
sb_job_get_settled_state (SbJob *job)
{
  return job->view != NULL ? job->view : sb_job_get_whole_state (job);
}

/* The view of the state that the job stands at; none when the layout is gone. */
static void
update_view (SbJob *job)
{
  g_clear_pointer (&job->view, sb_state_unref);
  if (job->view_id != 0)
    job->view = sb_layout_to_state (sb_job_get_whole_state (job), job->view_id);
  if (job->view == NULL)
    job->view_id = 0;
}

SbState *
sb_job_get_state (SbJob *job)
{
  return job->preview != NULL ? job->preview : sb_job_get_settled_state (job);
}

/* Emits what follows from the state having been `before` (still alive). */
static void
tell (SbJob *job, SbState *before, gboolean history_changed)
{
  gboolean changed = sb_job_get_state (job) != before;
  g_object_ref (job);
  if (changed)
    g_signal_emit (job, signals[CHANGED], 0);
  if (history_changed)
    g_signal_emit (job, signals[HISTORY_CHANGED], 0);
  g_object_unref (job);
}

/* The last step, when an edit of `merge_key` at `now` belongs to it: nothing undone since, and not
 * the saved state, which must stay reachable by undo. */
static Step *
find_step_to_merge (SbJob *job, const char *merge_key, gint64 now)
{
  if (merge_key == NULL || job->position == 0 || job->position < job->steps->len)
    return NULL;
  Step *last = job->steps->pdata[job->position - 1];
  gboolean same = g_strcmp0 (last->merge_key, merge_key) == 0 && now - last->time <= MERGE_USEC;
  return same && last->after != job->saved ? last : NULL;
}

static void
add_step (SbJob *job, SbState *next, const char *name, const char *merge_key, gint64 now)
{
  g_ptr_array_set_size (job->steps, (int)job->position);
  Step *step = g_new0 (Step, 1);
  step->after = sb_state_ref (next);
  step->name = g_strdup (name);
  step->merge_key = g_strdup (merge_key);
  step->time = now;
  g_ptr_array_add (job->steps, step);
  if (job->steps->len > SB_HISTORY_MOST) {
    Step *oldest = job->steps->pdata[0];
    sb_state_unref (job->first);
    job->first = sb_state_ref (oldest->after);
    g_ptr_array_remove_index (job->steps, 0);
  }
  job->position = job->steps->len;
}

guint
sb_job_get_view (SbJob *job)
{
  return job->view_id;
}

void
sb_job_set_view (SbJob *job, guint layout_id)
{
  g_return_if_fail (SB_IS_JOB (job));
  if (job->view_id == layout_id)
    return;
  g_autoptr (SbState) before = sb_state_ref (sb_job_get_state (job));
  g_clear_pointer (&job->preview, sb_state_unref);
  job->view_id = layout_id;
  update_view (job);
  tell (job, before, FALSE);
}

/* The whole job that an edited state (consumed) is of. */
static SbState *
make_whole (SbJob *job, SbState *next)
{
  if (next->view == NULL)
    return next;
  SbState *whole = next == job->view ? sb_state_ref (sb_job_get_whole_state (job))
                                     : sb_layout_from_state (sb_job_get_whole_state (job), next);
  sb_state_unref (next);
  return whole;
}

void
sb_job_edit (SbJob *job, SbState *next, const char *name, const char *merge_key)
{
  g_return_if_fail (SB_IS_JOB (job));
  g_autoptr (SbState) before = sb_state_ref (sb_job_get_state (job));
  next = make_whole (job, next);
  g_autoptr (SbState) owned = next;
  gboolean is_step = next != sb_job_get_whole_state (job);

  g_clear_pointer (&job->preview, sb_state_unref);
  if (is_step) {
    gint64 now = g_get_monotonic_time ();
    Step *step = find_step_to_merge (job, merge_key, now);
    if (step != NULL) {
      sb_state_unref (step->after);
      step->after = g_steal_pointer (&owned);
      step->time = now;
    } else {
      add_step (job, next, name, merge_key, now);
    }
    update_view (job);
  }
  tell (job, before, is_step);
}

void
sb_job_preview (SbJob *job, SbState *next)
{
  g_return_if_fail (SB_IS_JOB (job));
  g_autoptr (SbState) before = sb_state_ref (sb_job_get_state (job));
  g_clear_pointer (&job->preview, sb_state_unref);
  job->preview = next;
  if (job->view_id != 0 && next->view == NULL) { /* of the whole job, while a layout is shown */
    job->preview = sb_layout_to_state (next, job->view_id);
    sb_state_unref (next);
  }
  tell (job, before, FALSE);
}

void
sb_job_drop_preview (SbJob *job)
{
  g_return_if_fail (SB_IS_JOB (job));
  g_autoptr (SbState) before = sb_state_ref (sb_job_get_state (job));
  g_clear_pointer (&job->preview, sb_state_unref);
  tell (job, before, FALSE);
}

gboolean
sb_job_can_undo (SbJob *job)
{
  return job->position > 0;
}

gboolean
sb_job_can_redo (SbJob *job)
{
  return job->position < job->steps->len;
}

const char *
sb_job_get_undo_name (SbJob *job)
{
  if (!sb_job_can_undo (job))
    return NULL;
  return ((Step *)job->steps->pdata[job->position - 1])->name;
}

const char *
sb_job_get_redo_name (SbJob *job)
{
  if (!sb_job_can_redo (job))
    return NULL;
  return ((Step *)job->steps->pdata[job->position])->name;
}

static void
go_to (SbJob *job, guint position)
{
  g_autoptr (SbState) before = sb_state_ref (sb_job_get_state (job));
  g_clear_pointer (&job->preview, sb_state_unref);
  job->position = position;
  /* What comes next is a step of its own, not more of the one gone back to. */
  if (position > 0)
    g_clear_pointer (&((Step *)job->steps->pdata[position - 1])->merge_key, g_free);
  update_view (job);
  tell (job, before, TRUE);
}

void
sb_job_undo (SbJob *job)
{
  g_return_if_fail (SB_IS_JOB (job));
  if (sb_job_can_undo (job))
    go_to (job, job->position - 1);
}

void
sb_job_redo (SbJob *job)
{
  g_return_if_fail (SB_IS_JOB (job));
  if (sb_job_can_redo (job))
    go_to (job, job->position + 1);
}

gboolean
sb_job_is_modified (SbJob *job)
{
  return job->saved != sb_job_get_whole_state (job);
}

void
sb_job_mark_saved (SbJob *job, SbState *saved)
{
  g_return_if_fail (SB_IS_JOB (job));
  sb_state_ref (saved);
  sb_state_unref (job->saved);
  job->saved = saved;
  g_signal_emit (job, signals[HISTORY_CHANGED], 0);
}
