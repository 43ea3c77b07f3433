/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/desk/autosave.h"

#define SAVE_AFTER_MS 3000 /* the most work that a crash can cost */

/* A place of recovery that may be in use by a thread. */
typedef struct {
  gatomicrefcount refs;
  GMutex mutex;
  SbRecovery *recovery;
  gboolean stopped;
} Place;

struct _SbAutosave {
  GObject parent_instance;

  SbDocument *document;
  Place *place;
  SbState *kept; /* the state that was kept last; or NULL */
  guint timeout;
};

G_DEFINE_FINAL_TYPE (SbAutosave, sb_autosave, G_TYPE_OBJECT)

static void
place_unref (Place *place)
{
  if (!g_atomic_ref_count_dec (&place->refs))
    return;
  sb_recovery_free (place->recovery);
  g_mutex_clear (&place->mutex);
  g_free (place);
}

/* One save on its way. */
typedef struct {
  Place *place;
  SbState *state;
} Save;

static void
save_free (Save *save)
{
  place_unref (save->place);
  sb_state_unref (save->state);
  g_free (save);
}

/* A failed save is told once in the log, not in the maker's way: the next one may work. */
static void
save_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Save *save = data;
  g_autoptr (GError) error = NULL;

  g_mutex_lock (&save->place->mutex);
  if (!save->place->stopped && !sb_recovery_save (save->place->recovery, save->state, &error))
    g_message ("autosave: %s", error->message);
  g_mutex_unlock (&save->place->mutex);
  g_task_return_boolean (task, TRUE);
}

static char *
dup_path (SbAutosave *self)
{
  GFile *file = sb_document_get_file (self->document);

  return file ? g_file_get_path (file) : NULL;
}

static gboolean
save_cb (gpointer user_data)
{
  SbAutosave *self = user_data;
  SbState *state = sb_job_get_whole_state (sb_document_get_job (self->document));

  self->timeout = 0;
  if (state == self->kept || !sb_document_is_modified (self->document))
    return G_SOURCE_REMOVE;
  g_clear_pointer (&self->kept, sb_state_unref);
  self->kept = sb_state_ref (state);

  Save *save = g_new (Save, 1);
  g_atomic_ref_count_inc (&self->place->refs);
  save->place = self->place;
  save->state = sb_state_ref (state);
  g_autoptr (GTask) task = g_task_new (NULL, NULL, NULL, NULL);
  g_task_set_task_data (task, save, (GDestroyNotify)save_free);
  g_task_run_in_thread (task, save_in_thread);
  return G_SOURCE_REMOVE;
}

static void
changed_cb (SbAutosave *self)
{
  if (self->timeout == 0)
    self->timeout = g_timeout_add (SAVE_AFTER_MS, save_cb, self);
}

/* Saved by the maker: what was kept is older than the file. */
static void
title_changed_cb (SbAutosave *self)
{
  g_autofree char *path = NULL;

  if (sb_document_is_modified (self->document))
    return;
  path = dup_path (self);
  g_clear_pointer (&self->kept, sb_state_unref);
  g_mutex_lock (&self->place->mutex);
  sb_recovery_clear (self->place->recovery);
  sb_recovery_set_path (self->place->recovery, path);
  g_mutex_unlock (&self->place->mutex);
}

static void
sb_autosave_dispose (GObject *object)
{
  SbAutosave *self = SB_AUTOSAVE (object);

  g_clear_handle_id (&self->timeout, g_source_remove);
  if (self->document) {
    g_signal_handlers_disconnect_by_data (self->document, self);
    g_signal_handlers_disconnect_by_data (sb_document_get_job (self->document), self);
  }
  g_clear_object (&self->document);
  g_clear_pointer (&self->kept, sb_state_unref);
  g_clear_pointer (&self->place, place_unref);
  G_OBJECT_CLASS (sb_autosave_parent_class)->dispose (object);
}

static void
sb_autosave_class_init (SbAutosaveClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_autosave_dispose;
}

static void
sb_autosave_init (SbAutosave *self)
{
}

SbAutosave *
sb_autosave_new (SbDocument *document, SbRecovery *recovery)
{
  SbAutosave *self = g_object_new (SB_TYPE_AUTOSAVE, NULL);

  self->document = g_object_ref (document);
  g_autofree char *path = dup_path (self);
  self->place = g_new0 (Place, 1);
  g_atomic_ref_count_init (&self->place->refs);
  g_mutex_init (&self->place->mutex);
  self->place->recovery = recovery ? recovery : sb_recovery_new (path);
  g_signal_connect_swapped (sb_document_get_job (document), "history-changed",
                            G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (document, "title-changed", G_CALLBACK (title_changed_cb), self);
  return self;
}

void
sb_autosave_stop (SbAutosave *self)
{
  g_return_if_fail (SB_IS_AUTOSAVE (self));

  g_clear_handle_id (&self->timeout, g_source_remove);
  g_mutex_lock (&self->place->mutex);
  self->place->stopped = TRUE;
  sb_recovery_clear (self->place->recovery);
  g_mutex_unlock (&self->place->mutex);
}
