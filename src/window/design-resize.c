/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/design-resize.h"

#define LEAST_MM 3.0
#define MOST_MM 1000.0

typedef struct {
  SbJob *job;
  SbDesign *before;
  SbDesign *after;
} Resize;

static void
resize_free (Resize *resize)
{
  g_object_unref (resize->job);
  sb_design_unref (resize->before);
  g_clear_pointer (&resize->after, sb_design_unref);
  g_free (resize);
}

double
sb_design_resize_clamp (const SbDesign *design, double stretch)
{
  double shorter = MIN (design->width_mm, design->height_mm);
  double longer = MAX (design->width_mm, design->height_mm);
  double least = LEAST_MM / shorter, most = MOST_MM / longer;

  /* Artwork that came in smaller or larger than that may keep its size. */
  return CLAMP (stretch, MIN (least, 1), MAX (most, 1));
}

static void
prepare_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Resize *resize = data;
  GError *error = NULL;

  if (sb_design_prepare (resize->after, cancellable, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
prepared_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  SbPagesView *view = SB_PAGES_VIEW (source);
  Resize *resize = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  gboolean prepared = g_task_propagate_boolean (G_TASK (result), &error);

  if (sb_pages_view_get_job (view) != resize->job)
    return;
  SbState *settled = sb_job_get_settled_state (resize->job);
  if (prepared && sb_state_get_design (settled, resize->before->id) == resize->before) {
    g_autofree char *name = g_strdup_printf (_ ("Resize %s"), resize->before->name);
    sb_job_edit (resize->job, sb_edit_replace_design (settled, g_steal_pointer (&resize->after)),
                 name, NULL);
  } else if (!prepared) {
    g_message ("%s: %s", resize->before->name, error->message);
  }
  sb_pages_view_set_stretch (view, resize->before->id, 1);
}

void
sb_design_resize (SbPagesView *view, SbDesign *design, double stretch)
{
  Resize *resize = g_new0 (Resize, 1);

  resize->job = g_object_ref (sb_pages_view_get_job (view));
  resize->before = sb_design_ref (design);
  resize->after = sb_design_copy (design);
  sb_design_set_size (resize->after, design->width_mm * stretch, design->height_mm * stretch);
  g_autoptr (GTask) task = g_task_new (view, NULL, prepared_cb, NULL);
  g_task_set_task_data (task, resize, (GDestroyNotify)resize_free);
  g_task_run_in_thread (task, prepare_in_thread);
}
