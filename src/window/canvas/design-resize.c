/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/canvas/design-resize.h"

#define LEAST_MM 3.0
#define MOST_MM 1000.0

typedef struct {
  SbJob *job;
  GPtrArray *before, *after; /* SbDesign, pairs */
  SbPiece *places;
  guint n_places;
  char *name;
} Resize;

static void
resize_free (Resize *resize)
{
  g_object_unref (resize->job);
  g_ptr_array_unref (resize->before);
  g_ptr_array_unref (resize->after);
  g_free (resize->places);
  g_free (resize->name);
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

  for (guint i = 0; i < resize->after->len; i++) {
    GError *error = NULL;
    if (!sb_design_prepare (resize->after->pdata[i], cancellable, &error)) {
      g_task_return_error (task, error);
      return;
    }
  }
  g_task_return_boolean (task, TRUE);
}

/* Whether all that was resized is still as it was. */
static gboolean
still_holds (const Resize *resize, const SbState *state)
{
  for (guint i = 0; i < resize->before->len; i++) {
    SbDesign *design = resize->before->pdata[i];
    if (sb_state_get_design (state, design->id) != design)
      return FALSE;
  }
  for (guint i = 0; i < resize->n_places; i++)
    if (!sb_state_get_piece (state, resize->places[i].id, NULL))
      return FALSE;
  return TRUE;
}

static SbState *
make_resized (const Resize *resize, SbState *settled)
{
  SbState *state = sb_edit_set_pieces (settled, resize->places, resize->n_places);

  for (guint i = 0; i < resize->after->len; i++) {
    SbState *next = sb_edit_replace_design (state, sb_design_ref (resize->after->pdata[i]));
    sb_state_unref (state);
    state = next;
  }
  return state;
}

static void
prepared_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  SbPagesView *view = SB_PAGES_VIEW (source);
  Resize *resize = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  gboolean prepared = g_task_propagate_boolean (G_TASK (result), &error);

  if (sb_pages_view_get_job (view) != resize->job) {
    sb_job_drop_preview (resize->job);
    return;
  }
  SbState *settled = sb_job_get_settled_state (resize->job);
  if (prepared && still_holds (resize, settled))
    sb_job_edit (resize->job, make_resized (resize, settled), resize->name, NULL);
  else
    sb_job_drop_preview (resize->job);
  if (error)
    g_message ("%s", error->message);
  for (guint i = 0; i < resize->before->len; i++)
    sb_pages_view_set_stretch (view, ((SbDesign *)resize->before->pdata[i])->id, 1);
}

void
sb_design_resize (SbPagesView *view, const SbDesignStretch *stretches, guint n,
                  const SbPiece *places, guint n_places, const char *name)
{
  Resize *resize = g_new0 (Resize, 1);

  resize->job = g_object_ref (sb_pages_view_get_job (view));
  resize->before = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_design_unref);
  resize->after = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_design_unref);
  resize->places = g_memdup2 (places, n_places * sizeof *places);
  resize->n_places = n_places;
  resize->name = g_strdup (name);
  for (guint i = 0; i < n; i++) {
    SbDesign *design = stretches[i].design, *after = sb_design_copy (design);
    double stretch = stretches[i].stretch;
    sb_design_set_size (after, design->width_mm * stretch, design->height_mm * stretch);
    g_ptr_array_add (resize->before, sb_design_ref (design));
    g_ptr_array_add (resize->after, after);
  }
  g_autoptr (GTask) task = g_task_new (view, NULL, prepared_cb, NULL);
  g_task_set_task_data (task, resize, (GDestroyNotify)resize_free);
  g_task_run_in_thread (task, prepare_in_thread);
}
