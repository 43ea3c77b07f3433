/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "packing/arrange.h"
#include "window/parts/error-dialog.h"
#include "window/parts/work-card.h"
#include "window/shell/arranging.h"

#define RUNNING_KEY "sb-arranging"

/* One run. The thread and the main loop both hold it while the thread runs. */
typedef struct {
  gatomicrefcount refs;
  SbAppWindow *window;
  SbState *before;
  SbArrangeParams params;
  gboolean gaps_only;
  GCancellable *cancellable;
  SbWorkCard *card;
  SbArrangeReport report;
  gint64 begun;
  guint tick;
  int enough; /* atomic */
} Run;

#define TICK_MS 200

static void
run_unref (Run *run)
{
  if (!g_atomic_ref_count_dec (&run->refs))
    return;
  sb_state_unref (run->before);
  g_object_unref (run->cancellable);
  g_object_unref (run->card);
  g_object_unref (run->window);
  g_free (run);
}

/* A better layout on its way from the thread to the window. */
typedef struct {
  Run *run;
  SbState *state;
} Better;

static void
better_free (Better *better)
{
  g_clear_pointer (&better->state, sb_state_unref);
  run_unref (better->run);
  g_free (better);
}

/* The run still belongs to the job: nobody edited it meanwhile. */
static gboolean
is_current (Run *run)
{
  SbDesk *desk = sb_app_window_get_desk (run->window);

  return desk && sb_desk_get_settled (desk) == run->before &&
         g_object_get_data (G_OBJECT (run->window), RUNNING_KEY) == run;
}

static gboolean
better_cb (gpointer user_data)
{
  Better *better = user_data;
  Run *run = better->run;

  if (is_current (run) && !g_cancellable_is_cancelled (run->cancellable))
    sb_job_preview (sb_desk_get_job (sb_app_window_get_desk (run->window)),
                    g_steal_pointer (&better->state));
  return G_SOURCE_REMOVE;
}

static gboolean
progress_in_thread (SbState *state, double fraction, gpointer data)
{
  Run *run = data;
  Better *better = g_new0 (Better, 1);

  g_atomic_ref_count_inc (&run->refs);
  better->run = run;
  better->state = sb_state_ref (state);
  g_main_context_invoke_full (NULL, G_PRIORITY_DEFAULT, better_cb, better,
                              (GDestroyNotify)better_free);
  return !g_atomic_int_get (&run->enough);
}

static void
arrange_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Run *run = data;
  GError *error = NULL;
  SbState *state = run->gaps_only
                       ? sb_fill_gaps (run->before, &run->params, cancellable, &run->report, &error)
                       : sb_arrange (run->before, &run->params, progress_in_thread, run,
                                     cancellable, &run->report, &error);

  if (state)
    g_task_return_pointer (task, state, (GDestroyNotify)sb_state_unref);
  else
    g_task_return_error (task, error);
}

/* Better layouts come when they are found; time goes on meanwhile. */
static gboolean
tick_cb (gpointer user_data)
{
  Run *run = user_data;
  double seconds = (double)(g_get_monotonic_time () - run->begun) / G_USEC_PER_SEC;

  sb_work_card_set_fraction (run->card, MIN (1, seconds / run->params.seconds));
  return G_SOURCE_CONTINUE;
}

static char *
describe (Run *run)
{
  const SbArrangeReport *report = &run->report;

  if (run->gaps_only)
    return report->freebies == 0
               ? g_strdup (_ ("No freebie fits into what is left"))
               : g_strdup_printf (
                     ngettext ("%u freebie added", "%u freebies added", report->freebies),
                     report->freebies);
  g_autofree char *pages =
      g_strdup_printf (ngettext ("%u page", "%u pages", report->pages), report->pages);
  g_autofree char *text =
      g_strdup_printf (ngettext ("%u sticker on %s, %.0f %% waste",
                                 "%u stickers on %s, %.0f %% waste", report->placed),
                       report->placed, pages, report->waste_after_percent);
  if (report->unplaced == 0)
    return g_steal_pointer (&text);
  return g_strdup_printf (ngettext ("%s. %u is larger than the page.",
                                    "%s. %u are larger than the page.", report->unplaced),
                          text, report->unplaced);
}

static void
arranged_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Run *run = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (SbState) state = g_task_propagate_pointer (G_TASK (result), &error);
  SbDesk *desk = sb_app_window_get_desk (run->window);

  if (desk && is_current (run)) {
    SbJob *job = sb_desk_get_job (desk);
    sb_job_drop_preview (job);
    if (state) {
      g_autofree char *text = describe (run);
      gboolean changed = state != run->before;
      sb_job_edit (job, sb_state_ref (state), run->gaps_only ? _ ("Fill Gaps") : _ ("Arrange"),
                   NULL);
      if (changed)
        sb_app_window_say_undo (run->window, text);
      else
        sb_app_window_say (run->window, text);
    } else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED)) {
      sb_error_dialog_show (GTK_WINDOW (run->window), _ ("The stickers could not be arranged"),
                            error->message);
    }
  } else if (desk && state) {
    sb_app_window_say (run->window, _ ("The job changed meanwhile, so the layout was not used"));
  }
  g_source_remove (run->tick);
  g_object_set_data (G_OBJECT (run->window), RUNNING_KEY, NULL);
  sb_work_card_done (run->card);
  run_unref (run);
}

static void
enough_cb (Run *run)
{
  g_atomic_int_set (&run->enough, TRUE);
}

static void
start (SbAppWindow *window, SbArrangeParams params, gboolean gaps_only)
{
  if (g_object_get_data (G_OBJECT (window), RUNNING_KEY))
    return;
  Run *run = g_new0 (Run, 1);
  g_atomic_ref_count_init (&run->refs);
  run->window = g_object_ref (window);
  run->before = sb_state_ref (sb_desk_get_settled (sb_app_window_get_desk (window)));
  run->params = params;
  run->gaps_only = gaps_only;
  run->cancellable = g_cancellable_new ();
  run->card = g_object_ref (sb_work_card_new (sb_app_window_get_work_area (window),
                                              gaps_only ? _ ("Filling gaps") : _ ("Arranging"),
                                              run->cancellable));
  if (!gaps_only) {
    sb_work_card_offer_enough (run->card, _ ("Take the best layout so far"));
    g_signal_connect_swapped (run->card, "enough", G_CALLBACK (enough_cb), run);
  }
  run->begun = g_get_monotonic_time ();
  run->tick = g_timeout_add (TICK_MS, tick_cb, run);
  g_object_set_data (G_OBJECT (window), RUNNING_KEY, run);

  g_autoptr (GTask) task = g_task_new (NULL, run->cancellable, arranged_cb, run);
  g_task_set_task_data (task, run, NULL);
  g_task_run_in_thread (task, arrange_in_thread);
}

void
sb_arranging_arrange (SbAppWindow *window, gboolean rows, gboolean fill)
{
  SbArrangeParams params = sb_arrange_params_default ();

  params.rows = rows;
  params.fill = fill;
  start (window, params, FALSE);
}

void
sb_arranging_fill_gaps (SbAppWindow *window)
{
  start (window, sb_arrange_params_default (), TRUE);
}
