/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/cleanup-batch.h"
#include "window/work-card.h"

#define TICK_MS 100

typedef struct {
  SbAppWindow *window;
  GPtrArray *designs; /* SbDesign; those that failed are taken out */
  SbWorkCard *card;
  GCancellable *cancellable;
  char *name, *told;
  GString *failed; /* why, a line each */
  guint tick;
  int done; /* atomic */
  guint n;
} Batch;

static void
batch_free (Batch *batch)
{
  g_clear_handle_id (&batch->tick, g_source_remove);
  sb_work_card_done (batch->card);
  g_object_unref (batch->card);
  g_object_unref (batch->cancellable);
  g_ptr_array_unref (batch->designs);
  g_string_free (batch->failed, TRUE);
  g_free (batch->name);
  g_free (batch->told);
  g_object_unref (batch->window);
  g_free (batch);
}

static gboolean
tick_cb (gpointer user_data)
{
  Batch *batch = user_data;

  sb_work_card_set_fraction (batch->card, (0.3 + g_atomic_int_get (&batch->done)) / batch->n);
  return G_SOURCE_CONTINUE;
}

static void
prepare_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Batch *batch = data;

  for (guint i = 0; i < batch->designs->len && !g_cancellable_is_cancelled (cancellable);) {
    SbDesign *design = batch->designs->pdata[i];
    g_autoptr (GError) error = NULL;
    if (sb_design_prepare (design, cancellable, &error)) {
      i++;
    } else {
      g_string_append_printf (batch->failed, "%s• %s", batch->failed->len ? "\n" : "",
                              error->message);
      g_ptr_array_remove_index (batch->designs, i);
    }
    g_atomic_int_inc (&batch->done);
  }
  g_task_return_boolean (task, TRUE);
}

/* The state with all of them; a new reference. */
static SbState *
with_designs (Batch *batch, SbState *from, guint *last)
{
  SbState *state = sb_state_ref (from);

  for (guint i = 0; i < batch->designs->len; i++) {
    SbDesign *design = batch->designs->pdata[i];
    if (design->id != 0 && !sb_state_get_design (state, design->id))
      continue;                                /* removed meanwhile */
    SbDesign *given = sb_design_copy (design); /* an edit may still change its name */
    SbState *next = design->id != 0 ? sb_edit_replace_design (state, given)
                                    : sb_edit_add_design (state, given, last);
    sb_state_unref (state);
    state = next;
  }
  return state;
}

static void
finish (Batch *batch)
{
  SbDesk *desk = sb_app_window_get_desk (batch->window);
  SbJob *job = sb_desk_get_job (desk);
  guint last = 0;

  if (batch->designs->len > 0) {
    sb_job_edit (job, with_designs (batch, sb_job_get_settled_state (job), &last), batch->name,
                 NULL);
    if (last != 0)
      sb_selection_set_design (sb_desk_get_selection (desk), last);
    sb_app_window_say_undo (batch->window, batch->told);
  }
  if (batch->failed->len > 0)
    sb_app_window_show_error (batch->window, _ ("Not all could be done"), batch->failed->str);
}

static void
prepared_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Batch *batch = user_data;

  /* A window that closed meanwhile has no desk any more. */
  if (!g_cancellable_is_cancelled (batch->cancellable) && sb_app_window_get_desk (batch->window))
    finish (batch);
  batch_free (batch);
}

void
sb_cleanup_batch_run (SbAppWindow *window, GPtrArray *designs, const char *title, const char *name,
                      const char *told)
{
  Batch *batch = g_new0 (Batch, 1);

  batch->window = g_object_ref (window);
  batch->designs = designs;
  batch->n = MAX (designs->len, 1);
  batch->cancellable = g_cancellable_new ();
  batch->card = g_object_ref (
      sb_work_card_new (sb_app_window_get_work_area (window), title, batch->cancellable));
  batch->name = g_strdup (name);
  batch->told = g_strdup (told);
  batch->failed = g_string_new (NULL);
  batch->tick = g_timeout_add (TICK_MS, tick_cb, batch);
  g_autoptr (GTask) task = g_task_new (NULL, batch->cancellable, prepared_cb, batch);
  g_task_set_task_data (task, batch, NULL);
  g_task_run_in_thread (task, prepare_in_thread);
}
