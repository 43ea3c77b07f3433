/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/file.h"
#include "job/job-json.h"
#include "output/export.h"
#include "window/desk/document.h"

#define THUMBNAIL_PX 256

struct _SbDocument {
  GObject parent_instance;

  SbJob *job;
  GFile *file; /* or NULL */
  char *etag;  /* of the file as we know it */
  GFileMonitor *monitor;
  guint saving; /* our own writes under way */
};

G_DEFINE_FINAL_TYPE (SbDocument, sb_document, G_TYPE_OBJECT)

enum {
  TITLE_CHANGED,
  CHANGED_OUTSIDE,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static char *
query_etag (GFile *file)
{
  g_autoptr (GFileInfo) info = g_file_query_info (
      file, G_FILE_ATTRIBUTE_ETAG_VALUE "," G_FILE_ATTRIBUTE_UNIX_INODE, 0, NULL, NULL);
  if (!info)
    return NULL;
  /* A file that was renamed into place can have the time of the old one, but not its inode. */
  return g_strdup_printf ("%s:%" G_GUINT64_FORMAT, g_file_info_get_etag (info),
                          g_file_info_get_attribute_uint64 (info, G_FILE_ATTRIBUTE_UNIX_INODE));
}

static void
file_changed_cb (SbDocument *self)
{
  if (self->saving == 0 && sb_document_is_changed_outside (self))
    g_signal_emit (self, signals[CHANGED_OUTSIDE], 0);
}

static void
take_file (SbDocument *self, GFile *file)
{
  if (self->monitor)
    g_signal_handlers_disconnect_by_data (self->monitor, self);
  g_clear_object (&self->monitor);
  g_set_object (&self->file, file);
  g_free (self->etag);
  self->etag = query_etag (file);
  self->monitor = g_file_monitor_file (file, G_FILE_MONITOR_WATCH_MOVES, NULL, NULL);
  if (self->monitor)
    g_signal_connect_swapped (self->monitor, "changed", G_CALLBACK (file_changed_cb), self);
}

static void
history_changed_cb (SbDocument *self)
{
  g_signal_emit (self, signals[TITLE_CHANGED], 0);
}

static void
sb_document_dispose (GObject *object)
{
  SbDocument *self = SB_DOCUMENT (object);

  if (self->job)
    g_signal_handlers_disconnect_by_data (self->job, self);
  if (self->monitor)
    g_signal_handlers_disconnect_by_data (self->monitor, self);
  g_clear_object (&self->monitor);
  g_clear_object (&self->job);
  g_clear_object (&self->file);
  g_clear_pointer (&self->etag, g_free);
  G_OBJECT_CLASS (sb_document_parent_class)->dispose (object);
}

static void
sb_document_class_init (SbDocumentClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_document_dispose;
  signals[TITLE_CHANGED] = g_signal_new ("title-changed", SB_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST, 0,
                                         NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CHANGED_OUTSIDE] = g_signal_new ("changed-outside", SB_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST,
                                           0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sb_document_init (SbDocument *self)
{
}

SbDocument *
sb_document_new (SbState *state)
{
  SbDocument *self = g_object_new (SB_TYPE_DOCUMENT, NULL);

  self->job = sb_job_new (state);
  g_signal_connect_swapped (self->job, "history-changed", G_CALLBACK (history_changed_cb), self);
  return self;
}

SbDocument *
sb_document_new_recovered (SbState *state, GFile *file)
{
  SbDocument *self = sb_document_new (state);
  g_autoptr (SbState) other =
      sb_state_new (state->paper_name, state->page_width, state->page_height);

  if (file)
    take_file (self, file);
  /* Whatever the file holds, it is not this. */
  sb_job_mark_saved (self->job, other);
  return self;
}

static char *
dup_path (GFile *file, GError **error)
{
  char *path = g_file_get_path (file);

  if (!path) {
    g_autofree char *uri = g_file_get_uri (file);
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED,
                 _ ("“%s” is not on this computer. Copy it here first."), uri);
  }
  return path;
}

static void
load_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;
  g_autofree char *path = dup_path (data, &error);
  SbState *state = path ? sb_job_file_load (path, cancellable, &error) : NULL;

  if (state)
    g_task_return_pointer (task, state, (GDestroyNotify)sb_state_unref);
  else
    g_task_return_error (task, error);
}

void
sb_document_load_async (GFile *file, GCancellable *cancellable, GAsyncReadyCallback callback,
                        gpointer data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, data);

  g_task_set_task_data (task, g_object_ref (file), g_object_unref);
  g_task_run_in_thread (task, load_in_thread);
}

SbDocument *
sb_document_load_finish (GAsyncResult *result, GError **error)
{
  g_autoptr (SbState) state = g_task_propagate_pointer (G_TASK (result), error);

  if (!state)
    return NULL;
  SbDocument *self = sb_document_new (state);
  take_file (self, g_task_get_task_data (G_TASK (result)));
  return self;
}

/* What is written, and where. */
typedef struct {
  SbState *state;
  GFile *file;
} Save;

static void
save_free (Save *save)
{
  sb_state_unref (save->state);
  g_object_unref (save->file);
  g_free (save);
}

static void
save_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Save *save = data;
  GError *error = NULL;
  g_autofree char *path = dup_path (save->file, &error);

  if (path) {
    /* A job is worth more than its thumbnail: without one it is saved all the same. */
    g_autoptr (GBytes) thumbnail = sb_export_thumbnail (save->state, THUMBNAIL_PX, NULL);
    if (sb_job_file_save (save->state, path, thumbnail, &error)) {
      sb_designs_keep (save->state->designs);
      g_task_return_boolean (task, TRUE);
      return;
    }
  }
  g_task_return_error (task, error);
}

void
sb_document_save_async (SbDocument *self, GFile *file, GAsyncReadyCallback callback, gpointer data)
{
  g_return_if_fail (SB_IS_DOCUMENT (self));

  Save *save = g_new (Save, 1);
  save->state = sb_state_ref (sb_job_get_whole_state (self->job));
  save->file = g_object_ref (file);

  g_autoptr (GTask) task = g_task_new (self, NULL, callback, data);
  g_task_set_task_data (task, save, (GDestroyNotify)save_free);
  self->saving++;
  g_task_run_in_thread (task, save_in_thread);
}

gboolean
sb_document_save_finish (SbDocument *self, GAsyncResult *result, GError **error)
{
  Save *save = g_task_get_task_data (G_TASK (result));

  self->saving--;
  if (!g_task_propagate_boolean (G_TASK (result), error))
    return FALSE;
  take_file (self, save->file);
  sb_job_mark_saved (self->job, save->state);
  g_signal_emit (self, signals[TITLE_CHANGED], 0);
  return TRUE;
}

SbJob *
sb_document_get_job (SbDocument *self)
{
  g_return_val_if_fail (SB_IS_DOCUMENT (self), NULL);
  return self->job;
}

GFile *
sb_document_get_file (SbDocument *self)
{
  g_return_val_if_fail (SB_IS_DOCUMENT (self), NULL);
  return self->file;
}

char *
sb_document_dup_name (SbDocument *self)
{
  g_return_val_if_fail (SB_IS_DOCUMENT (self), NULL);

  if (!self->file)
    return g_strdup (_ ("New job"));
  g_autofree char *base = g_file_get_basename (self->file);
  if (g_str_has_suffix (base, SB_JOB_EXTENSION))
    base[strlen (base) - strlen (SB_JOB_EXTENSION)] = '\0';
  return g_filename_display_name (base);
}

gboolean
sb_document_is_modified (SbDocument *self)
{
  g_return_val_if_fail (SB_IS_DOCUMENT (self), FALSE);
  return sb_job_is_modified (self->job);
}

gboolean
sb_document_is_changed_outside (SbDocument *self)
{
  g_return_val_if_fail (SB_IS_DOCUMENT (self), FALSE);

  if (!self->file)
    return FALSE;
  g_autofree char *etag = query_etag (self->file);
  return etag && g_strcmp0 (etag, self->etag) != 0;
}

void
sb_document_accept_outside (SbDocument *self)
{
  g_return_if_fail (SB_IS_DOCUMENT (self));

  g_free (self->etag);
  self->etag = query_etag (self->file);
  sb_job_mark_saved (self->job, sb_job_get_whole_state (self->job));
}
