/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/edit.h"
#include "window/desk/design-changer.h"

#define SETTLE_MS 400 /* a pause this long ends a slider's run */
#define LONG_US                                                                                    \
  300000 /* work that has taken so long is given up for newer settings; quicker work is finished,  \
            so that something shows while a slider moves */

struct _SbDesignChanger {
  GObject parent_instance;

  SbJob *job;
  SbState *known;        /* the job's settled state when last looked at */
  SbDesign *target;      /* the newest settings, not settled yet; or NULL */
  SbDesign *shown;       /* the newest prepared design that is previewed; or NULL */
  char *name;            /* of the step */
  GCancellable *running; /* of the work under way; or NULL */
  gint64 running_since;  /* monotonic, us */
  gboolean stale;        /* `target` is newer than what is worked on */
  gboolean live;         /* wait for a pause before settling */
  GQueue waiting;        /* Step: to be worked on after `target`, each a step of its own */
  guint settle_timeout;
  gboolean editing; /* our own change of the job */
};

G_DEFINE_FINAL_TYPE (SbDesignChanger, sb_design_changer, G_TYPE_OBJECT)

/* Settings that wait until those before them are in the job. */
typedef struct {
  SbDesign *design;
  char *name;
} Step;

enum {
  FAILED,
  SETTLED,
  TAKEN,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static void
step_free (Step *step)
{
  sb_design_unref (step->design);
  g_free (step->name);
  g_free (step);
}

static void
forget (SbDesignChanger *self)
{
  g_clear_handle_id (&self->settle_timeout, g_source_remove);
  g_clear_pointer (&self->target, sb_design_unref);
  g_clear_pointer (&self->shown, sb_design_unref);
  if (self->running)
    g_cancellable_cancel (self->running);
  self->stale = FALSE;
}

/* The state with the prepared design in it. */
static SbState *
with_shown (SbDesignChanger *self)
{
  return sb_edit_replace_design (sb_job_get_settled_state (self->job), sb_design_ref (self->shown));
}

static void
settle (SbDesignChanger *self)
{
  if (!self->shown)
    return;
  self->editing = TRUE;
  sb_job_edit (self->job, with_shown (self), self->name, NULL);
  self->editing = FALSE;
  forget (self);
}

static void
prepare_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;

  if (sb_design_prepare (data, cancellable, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void work (SbDesignChanger *self);

/* Nothing is worked on any more: on to the next step, or all is settled. */
static void
go_on (SbDesignChanger *self)
{
  Step *step = g_queue_pop_head (&self->waiting);

  if (!step) {
    g_signal_emit (self, signals[SETTLED], 0);
    return;
  }
  g_free (self->name);
  self->name = g_steal_pointer (&step->name);
  self->target = sb_design_ref (step->design);
  self->live = FALSE;
  step_free (step);
  work (self);
}

/* The pause is over. */
static gboolean
settle_cb (gpointer user_data)
{
  SbDesignChanger *self = user_data;

  self->settle_timeout = 0;
  self->live = FALSE;
  if (self->running)
    return G_SOURCE_REMOVE;
  if (self->shown) {
    settle (self);
    go_on (self);
  } else if (self->target) {
    work (self);
  }
  return G_SOURCE_REMOVE;
}

static void
show_prepared (SbDesignChanger *self, SbDesign *design)
{
  g_clear_pointer (&self->shown, sb_design_unref);
  self->shown = sb_design_ref (design);
  if (self->stale || self->live) {
    self->editing = TRUE;
    sb_job_preview (self->job, with_shown (self));
    self->editing = FALSE;
  }
}

/* What the thread made of it; afterwards there is more to do, or nothing is on its way. */
static void
take_result (SbDesignChanger *self, GTask *task)
{
  g_autoptr (GError) error = NULL;

  if (g_task_propagate_boolean (task, &error)) {
    if (!self->target)
      return;
    show_prepared (self, g_task_get_task_data (task));
    if (!self->stale && !self->live)
      settle (self);
  } else if (self->target && !self->stale) {
    forget (self);
    g_queue_clear_full (&self->waiting, (GDestroyNotify)step_free);
    sb_job_drop_preview (self->job);
    if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
      g_signal_emit (self, signals[FAILED], 0, error->message);
  }
}

static void
prepared_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbDesignChanger *self = SB_DESIGN_CHANGER (source);

  if (self->running != g_task_get_cancellable (G_TASK (result)))
    return;
  g_clear_object (&self->running);
  if (!self->job)
    return;
  take_result (self, G_TASK (result));
  if (self->stale)
    work (self);
  else if (!self->target)
    go_on (self);
}

static void
work (SbDesignChanger *self)
{
  self->stale = FALSE;
  self->running = g_cancellable_new ();
  self->running_since = g_get_monotonic_time ();
  g_autoptr (GTask) task = g_task_new (self, self->running, prepared_cb, NULL);
  g_task_set_task_data (task, sb_design_copy (self->target), (GDestroyNotify)sb_design_unref);
  g_task_run_in_thread (task, prepare_in_thread);
}

/* What is worked on is not the newest any more. */
static void
supersede (SbDesignChanger *self)
{
  self->stale = TRUE;
  if (g_get_monotonic_time () - self->running_since > LONG_US)
    g_cancellable_cancel (self->running);
}

/* A design that somebody else changed or took away since the state that was known. */
static gboolean
is_lost (SbDesignChanger *self, SbState *now, guint design_id)
{
  return sb_state_get_design (self->known, design_id) != sb_state_get_design (now, design_id);
}

static void
drop_lost_steps (SbDesignChanger *self, SbState *now)
{
  for (GList *l = self->waiting.head, *next; l; l = next) {
    Step *step = l->data;
    next = l->next;
    if (!is_lost (self, now, step->design->id))
      continue;
    g_queue_delete_link (&self->waiting, l);
    step_free (step);
  }
}

/* After somebody else's edit, an undo: what was on its way for a design that was changed belongs to
 * a job that is no more; a piece that was moved meanwhile takes nothing away. */
static void
history_changed_cb (SbDesignChanger *self)
{
  SbState *now = sb_job_get_settled_state (self->job);

  if (!self->editing) {
    drop_lost_steps (self, now);
    if (self->target && is_lost (self, now, self->target->id))
      forget (self);
  }
  g_clear_pointer (&self->known, sb_state_unref);
  self->known = sb_state_ref (now);
}

static void
sb_design_changer_dispose (GObject *object)
{
  SbDesignChanger *self = SB_DESIGN_CHANGER (object);

  g_queue_clear_full (&self->waiting, (GDestroyNotify)step_free);
  forget (self);
  if (self->job)
    g_signal_handlers_disconnect_by_data (self->job, self);
  g_clear_object (&self->running);
  g_clear_pointer (&self->known, sb_state_unref);
  g_clear_object (&self->job);
  g_clear_pointer (&self->name, g_free);
  G_OBJECT_CLASS (sb_design_changer_parent_class)->dispose (object);
}

static void
sb_design_changer_class_init (SbDesignChangerClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_design_changer_dispose;
  signals[FAILED] = g_signal_new ("failed", SB_TYPE_DESIGN_CHANGER, G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[SETTLED] = g_signal_new ("settled", SB_TYPE_DESIGN_CHANGER, G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);
  signals[TAKEN] = g_signal_new ("taken", SB_TYPE_DESIGN_CHANGER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 0);
}

static void
sb_design_changer_init (SbDesignChanger *self)
{
  g_queue_init (&self->waiting);
}

SbDesignChanger *
sb_design_changer_new (SbJob *job)
{
  SbDesignChanger *self = g_object_new (SB_TYPE_DESIGN_CHANGER, NULL);

  self->job = g_object_ref (job);
  self->known = sb_state_ref (sb_job_get_settled_state (job));
  g_signal_connect_swapped (job, "history-changed", G_CALLBACK (history_changed_cb), self);
  return self;
}

SbDesign *
sb_design_changer_begin (SbDesignChanger *self, guint design_id)
{
  g_return_val_if_fail (SB_IS_DESIGN_CHANGER (self), NULL);

  for (GList *l = self->waiting.tail; l; l = l->prev) {
    Step *step = l->data;
    if (step->design->id == design_id)
      return sb_design_copy (step->design);
  }
  if (self->target && self->target->id == design_id)
    return sb_design_copy (self->target);
  SbDesign *design = sb_state_get_design (sb_job_get_settled_state (self->job), design_id);
  return design ? sb_design_copy (design) : NULL;
}

/* Behind what is on its way. A slider's run is one step here too. */
static void
put_behind (SbDesignChanger *self, SbDesign *copy, const char *name, gboolean own_step)
{
  Step *last = g_queue_peek_tail (&self->waiting);

  if (!own_step && last && last->design->id == copy->id && g_str_equal (last->name, name)) {
    sb_design_unref (last->design);
    last->design = copy;
    return;
  }
  Step *step = g_new0 (Step, 1);
  step->design = copy;
  step->name = g_strdup (name);
  g_queue_push_tail (&self->waiting, step);
}

static void
set_target (SbDesignChanger *self, SbDesign *copy, const char *name, gboolean live)
{
  g_clear_pointer (&self->target, sb_design_unref);
  self->target = copy;
  g_free (self->name);
  self->name = g_strdup (name);
  self->live = live;
  g_clear_handle_id (&self->settle_timeout, g_source_remove);
  if (live)
    self->settle_timeout = g_timeout_add (SETTLE_MS, settle_cb, self);
}

static char *
name_step (const char *format, const SbDesign *copy)
{
  /* The format is one of our own translated ones. */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  return g_strdup_printf (format, copy->name);
#pragma GCC diagnostic pop
}

void
sb_design_changer_end (SbDesignChanger *self, SbDesign *copy, const char *format, gboolean live)
{
  g_return_if_fail (SB_IS_DESIGN_CHANGER (self));
  g_autofree char *name = name_step (format, copy);
  gboolean other = self->target && self->target->id != copy->id;

  if (!g_queue_is_empty (&self->waiting)) {
    put_behind (self, copy, name, FALSE);
  } else if (other && self->running) {
    put_behind (self, copy, name, FALSE);
    sb_design_changer_hurry (self);
  } else {
    if (other)
      settle (self);
    set_target (self, copy, name, live);
    if (self->running)
      supersede (self);
    else
      work (self);
  }
  g_signal_emit (self, signals[TAKEN], 0);
}

/* Still waiting for a pause, not worked on yet. */
static gboolean
is_pausing (SbDesignChanger *self)
{
  return self->target && self->settle_timeout != 0 && !self->running && !self->shown;
}

void
sb_design_changer_end_slow (SbDesignChanger *self, SbDesign *copy, const char *format,
                            gboolean own_step)
{
  g_return_if_fail (SB_IS_DESIGN_CHANGER (self));
  g_autofree char *name = name_step (format, copy);

  gboolean same_run = !own_step && is_pausing (self) && self->target->id == copy->id &&
                      g_str_equal (self->name, name);
  if (!self->target || same_run) {
    set_target (self, copy, name, !own_step);
    if (self->running)
      supersede (self);
    else if (own_step)
      work (self);
  } else {
    put_behind (self, copy, name, own_step);
    sb_design_changer_hurry (self);
  }
  g_signal_emit (self, signals[TAKEN], 0);
}

gboolean
sb_design_changer_take_back (SbDesignChanger *self)
{
  g_return_val_if_fail (SB_IS_DESIGN_CHANGER (self), FALSE);

  Step *last = g_queue_pop_tail (&self->waiting);
  if (last) {
    step_free (last);
  } else if (self->target) {
    forget (self);
    sb_job_drop_preview (self->job);
    g_clear_object (&self->running);
    g_signal_emit (self, signals[SETTLED], 0);
  } else {
    return FALSE;
  }
  g_signal_emit (self, signals[TAKEN], 0);
  return TRUE;
}

gboolean
sb_design_changer_is_busy (SbDesignChanger *self)
{
  g_return_val_if_fail (SB_IS_DESIGN_CHANGER (self), FALSE);
  return self->target != NULL;
}

gboolean
sb_design_changer_hurry (SbDesignChanger *self)
{
  g_return_val_if_fail (SB_IS_DESIGN_CHANGER (self), TRUE);

  gboolean pausing = is_pausing (self);
  self->live = FALSE;
  g_clear_handle_id (&self->settle_timeout, g_source_remove);
  if (pausing)
    work (self);
  else if (!self->running)
    settle (self);
  if (!self->target && !g_queue_is_empty (&self->waiting))
    go_on (self);
  return !self->target && g_queue_is_empty (&self->waiting);
}
