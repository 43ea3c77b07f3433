/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/edit.h"
#include "window/design-changer.h"

#define SETTLE_MS 400 /* a pause this long ends a slider's run */

struct _SbDesignChanger {
  GObject parent_instance;

  SbDesk *desk;
  SbDesign *target;      /* the newest settings, not settled yet; or NULL */
  SbDesign *shown;       /* the newest prepared design that is previewed; or NULL */
  char *name;            /* of the step */
  GCancellable *running; /* of the work under way; or NULL */
  gboolean stale;        /* `target` is newer than what is worked on */
  gboolean live;         /* wait for a pause before settling */
  guint settle_timeout;
  gboolean editing; /* our own change of the job */
};

G_DEFINE_FINAL_TYPE (SbDesignChanger, sb_design_changer, G_TYPE_OBJECT)

enum {
  FAILED,
  BUSY,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

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
  return sb_edit_replace_design (sb_desk_get_settled (self->desk), sb_design_ref (self->shown));
}

static void
settle (SbDesignChanger *self)
{
  if (!self->shown)
    return;
  self->editing = TRUE;
  sb_job_edit (sb_desk_get_job (self->desk), with_shown (self), self->name, NULL);
  self->editing = FALSE;
  forget (self);
}

static gboolean
settle_cb (gpointer user_data)
{
  SbDesignChanger *self = user_data;

  self->settle_timeout = 0;
  self->live = FALSE;
  if (!self->running)
    settle (self);
  return G_SOURCE_REMOVE;
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

static void
show_prepared (SbDesignChanger *self, SbDesign *design)
{
  g_clear_pointer (&self->shown, sb_design_unref);
  self->shown = sb_design_ref (design);
  if (self->stale || self->live) {
    self->editing = TRUE;
    sb_job_preview (sb_desk_get_job (self->desk), with_shown (self));
    self->editing = FALSE;
  }
}

static void
prepared_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbDesignChanger *self = SB_DESIGN_CHANGER (source);
  SbDesign *design = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  gboolean current = self->running == g_task_get_cancellable (G_TASK (result));

  if (!current)
    return;
  g_clear_object (&self->running);
  g_signal_emit (self, signals[BUSY], 0, FALSE);
  if (!self->desk)
    return;
  if (!g_task_propagate_boolean (G_TASK (result), &error)) {
    gboolean cancelled = g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
    if (self->stale) {
      work (self);
      return;
    }
    forget (self);
    sb_job_drop_preview (sb_desk_get_job (self->desk));
    if (!cancelled)
      g_signal_emit (self, signals[FAILED], 0, error->message);
    return;
  }
  if (!self->target)
    return;
  show_prepared (self, design);
  if (self->stale)
    work (self);
  else if (!self->live)
    settle (self);
}

static void
work (SbDesignChanger *self)
{
  self->stale = FALSE;
  self->running = g_cancellable_new ();
  g_autoptr (GTask) task = g_task_new (self, self->running, prepared_cb, NULL);
  g_task_set_task_data (task, sb_design_copy (self->target), (GDestroyNotify)sb_design_unref);
  g_signal_emit (self, signals[BUSY], 0, TRUE);
  g_task_run_in_thread (task, prepare_in_thread);
}

/* Somebody else's edit, an undo: what was on its way belongs to a job that is no more. */
static void
history_changed_cb (SbDesignChanger *self)
{
  if (!self->editing)
    forget (self);
}

static void
sb_design_changer_dispose (GObject *object)
{
  SbDesignChanger *self = SB_DESIGN_CHANGER (object);

  forget (self);
  if (self->desk)
    g_signal_handlers_disconnect_by_data (sb_desk_get_job (self->desk), self);
  g_clear_object (&self->running);
  g_clear_object (&self->desk);
  g_clear_pointer (&self->name, g_free);
  G_OBJECT_CLASS (sb_design_changer_parent_class)->dispose (object);
}

static void
sb_design_changer_class_init (SbDesignChangerClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_design_changer_dispose;
  signals[FAILED] = g_signal_new ("failed", SB_TYPE_DESIGN_CHANGER, G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[BUSY] = g_signal_new ("busy", SB_TYPE_DESIGN_CHANGER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 1, G_TYPE_BOOLEAN);
}

static void
sb_design_changer_init (SbDesignChanger *self)
{
}

SbDesignChanger *
sb_design_changer_new (SbDesk *desk)
{
  SbDesignChanger *self = g_object_new (SB_TYPE_DESIGN_CHANGER, NULL);

  self->desk = g_object_ref (desk);
  g_signal_connect_swapped (sb_desk_get_job (desk), "history-changed",
                            G_CALLBACK (history_changed_cb), self);
  return self;
}

SbDesign *
sb_design_changer_begin (SbDesignChanger *self, guint design_id)
{
  g_return_val_if_fail (SB_IS_DESIGN_CHANGER (self), NULL);

  if (self->target && self->target->id == design_id)
    return sb_design_copy (self->target);
  SbDesign *design = sb_state_get_design (sb_desk_get_settled (self->desk), design_id);
  return design ? sb_design_copy (design) : NULL;
}

void
sb_design_changer_end (SbDesignChanger *self, SbDesign *copy, const char *name, gboolean live)
{
  g_return_if_fail (SB_IS_DESIGN_CHANGER (self));

  if (self->target && self->target->id != copy->id && self->shown)
    settle (self);
  g_clear_pointer (&self->target, sb_design_unref);
  self->target = copy;
  g_free (self->name);
  self->name = g_strdup (name);
  self->live = live;
  g_clear_handle_id (&self->settle_timeout, g_source_remove);
  if (live)
    self->settle_timeout = g_timeout_add (SETTLE_MS, settle_cb, self);
  if (self->running)
    self->stale = TRUE;
  else
    work (self);
}
