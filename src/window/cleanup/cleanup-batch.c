/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/cleanup/cleanup-batch.h"

typedef struct {
  SbDesk *desk;
  SbWorkCard *card; /* or NULL */
  GCancellable *cancellable;
  char *failed, *name, *told;
  SbCleanupMake make;
  SbCleanupTake take;
  gpointer data;
  GDestroyNotify free_data;
} Run;

static void
run_free (Run *run)
{
  if (run->card)
    sb_work_card_done (run->card);
  g_clear_object (&run->card);
  g_object_unref (run->cancellable);
  run->free_data (run->data);
  g_free (run->failed);
  g_free (run->name);
  g_free (run->told);
  g_object_unref (run->desk);
  g_free (run);
}

static void
make_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Run *run = data;
  GError *error = NULL;
  GPtrArray *designs = run->make (run->data, cancellable, &error);

  if (designs)
    g_task_return_pointer (task, designs, (GDestroyNotify)g_ptr_array_unref);
  else
    g_task_return_error (task, error);
}

static void
made_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Run *run = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) designs = g_task_propagate_pointer (G_TASK (result), &error);

  if (designs) {
    SbJob *job = sb_desk_get_job (run->desk);
    sb_job_edit (job, run->take (sb_job_get_settled_state (job), designs, run->data), run->name,
                 NULL);
    sb_desk_say_undo (run->desk, run->told);
  } else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED)) {
    sb_desk_fail (run->desk, run->failed, error->message);
  }
  run_free (run);
}

void
sb_cleanup_batch_run (SbDesk *desk, const SbCleanupBatch *batch, gpointer data,
                      GDestroyNotify free_data)
{
  Run *run = g_new0 (Run, 1);

  run->desk = g_object_ref (desk);
  run->cancellable = g_cancellable_new ();
  run->card = sb_desk_show_work (desk, batch->title, run->cancellable);
  run->failed = g_strdup (batch->failed);
  run->name = g_strdup (batch->name);
  run->told = g_strdup (batch->told);
  run->make = batch->make;
  run->take = batch->take;
  run->data = data;
  run->free_data = free_data;
  g_autoptr (GTask) task = g_task_new (NULL, run->cancellable, made_cb, run);
  g_task_set_task_data (task, run, NULL);
  g_task_run_in_thread (task, make_in_thread);
}
