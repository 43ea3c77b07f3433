/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the canvas' actions have in common. Main thread only. */
#pragma once

#include "window/canvas/canvas.h"
#include "window/canvas/pages-view.h"

G_BEGIN_DECLS

/* What an action works on. All borrowed, for as long as the action runs. */
typedef struct {
  SbCanvas *canvas;
  SbPagesView *pages;
  SbJob *job;
  SbState *state; /* settled */
  SbSelection *selection;
  const guint *ids; /* the selected pieces */
  guint n;
} SbCanvasWork;

/* Fills `work` for `widget`, an SbCanvas. FALSE when there is no job, or a drag is under way. */
gboolean sb_canvas_work_begin (GtkWidget *widget, SbCanvasWork *work);
/* The same, and FALSE when nothing is selected. */
gboolean sb_canvas_work_begin_with_pieces (GtkWidget *widget, SbCanvasWork *work);

/* Takes `next` (consumed) to the job as one step of history, named after the one piece or their
 * number; see sb_canvas_drag_name_edit for `one` and `many`, sb_job_edit for `merge_key`. */
void sb_canvas_work_edit (SbCanvasWork *work, SbState *next, const char *one, const char *many,
                          const char *merge_key);

/* Selects pieces (guint ids) and gives the canvas the focus, so that the keyboard goes on there. */
void sb_canvas_work_select (SbCanvasWork *work, GArray *ids);

/* An action of the canvas, as a table names it. */
typedef struct {
  const char *name; /* NULL ends a table */
  const char *type; /* of its parameter, or NULL */
  GtkWidgetActionActivateFunc run;
  gboolean needs_pieces; /* enabled only while some are selected */
} SbCanvasAction;

extern const SbCanvasAction sb_piece_actions[]; /* piece-actions.c: what changes pieces */
extern const SbCanvasAction sb_clip_actions[];  /* clip-actions.c: copy, cut and paste */

G_END_DECLS
