/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/canvas/canvas-drag.h"
#include "window/canvas/canvas-private.h"
#include "window/canvas/canvas-work.h"

gboolean
sb_canvas_work_begin (GtkWidget *widget, SbCanvasWork *work)
{
  work->canvas = SB_CANVAS (widget);
  work->pages = sb_canvas_get_pages_view (work->canvas);
  work->job = sb_pages_view_get_job (work->pages);
  if (!work->job || sb_job_get_state (work->job) != sb_job_get_settled_state (work->job))
    return FALSE;
  work->state = sb_job_get_settled_state (work->job);
  work->selection = sb_pages_view_get_selection (work->pages);
  work->ids = sb_selection_get_pieces (work->selection, &work->n);
  return TRUE;
}

gboolean
sb_canvas_work_begin_with_pieces (GtkWidget *widget, SbCanvasWork *work)
{
  return sb_canvas_work_begin (widget, work) && work->n > 0;
}

void
sb_canvas_work_edit (SbCanvasWork *work, SbState *next, const char *one, const char *many,
                     const char *merge_key)
{
  g_autofree char *name = sb_canvas_drag_name_edit (work->state, work->ids, work->n, one, many);

  sb_job_edit (work->job, next, name, merge_key);
}

void
sb_canvas_work_select (SbCanvasWork *work, GArray *ids)
{
  sb_selection_set_pieces (work->selection, (const guint *)(void *)ids->data, ids->len);
  gtk_widget_grab_focus (GTK_WIDGET (work->canvas));
}
