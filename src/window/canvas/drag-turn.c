/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pieces turned by their handle: one about its middle, several together about that of them all. */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/edit.h"
#include "window/canvas/drag-private.h"
#include "window/desk/piece-edits.h"

#define TURN_STEP 15000 /* thousandths of a degree */
#define FINE_STEP 100

/* Where the piece would fit in the turn that it has now. */
static void
update_fit (SbDrag *drag, const SbDragStart *start, gint32 turn)
{
  const SbPalette *palette = sb_palette_get (GTK_WIDGET (drag->view));
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (drag->view));

  if (drag->fit)
    sb_fit_area_set_turn (drag->fit, turn, palette);
  else
    drag->fit =
        sb_fit_area_new (state, start->page, sb_state_get_design (state, start->piece.design_id),
                         turn, &start->piece.id, 1, palette);
  sb_pages_view_set_fit (drag->view, drag->fit);
}

/* How far the pointer has turned the handle. What is stepped is the angle that is told: one piece's
 * own, several pieces' way. */
static gint32
get_way (SbDrag *drag, gint32 start)
{
  double x = drag->press.x + drag->offset.x, y = drag->press.y + drag->offset.y;
  double grip = sb_frame_get_angle (drag->frame.centre, drag->press.x, drag->press.y);
  double way = (sb_frame_get_angle (drag->frame.centre, x, y) - grip) * 1000;
  gboolean fine = drag->modifiers & GDK_ALT_MASK && !(drag->modifiers & GDK_SHIFT_MASK);
  double step = fine ? FINE_STEP : TURN_STEP;

  return (gint32)(round ((start + way) / step) * step) - start;
}

/* Within -180..180 degrees of several, 0..360 of one. */
static char *
tell_angle (gint32 turn, gboolean several)
{
  gint32 wrapped = (turn % 360000 + 360000) % 360000;

  if (several && wrapped > 180000)
    wrapped -= 360000;
  if (wrapped % 1000 == 0)
    /* Translators: the angle of a piece while it is turned */
    return g_strdup_printf (_ ("%d°"), wrapped / 1000);
  return g_strdup_printf (_ ("%.1f°"), wrapped / 1000.0);
}

void
sb_drag_update_turn (SbDrag *drag)
{
  SbJob *job = sb_pages_view_get_job (drag->view);
  SbMarks *marks = sb_pages_view_get_marks (drag->view);
  const SbDragStart *start = &g_array_index (drag->starts, SbDragStart, 0);
  const guint *ids = (const guint *)(void *)drag->ids->data;
  gboolean several = drag->ids->len > 1;
  gint32 own = several ? 0 : start->piece.turn, way = get_way (drag, own);

  if (!several && (!drag->fit || way != drag->turn))
    update_fit (drag, start, own + way);
  drag->turn = way;
  sb_job_preview (job, sb_pieces_turn (sb_job_get_settled_state (job), ids, drag->ids->len, way));
  if (several) {
    SbFrame frame = sb_frame_follow (&drag->frame, way, 1);
    sb_marks_set_group_frame (marks, &frame);
  }
  sb_pages_view_bake_now (drag->view, ids, drag->ids->len);
  g_autofree char *told = tell_angle (own + way, several);
  sb_marks_set_told (marks, told);
}

void
sb_drag_end_turn (SbDrag *drag)
{
  SbJob *job = sb_pages_view_get_job (drag->view);
  guint n = drag->ids->len;
  g_autofree char *name =
      sb_canvas_drag_name_edit (sb_job_get_settled_state (job), (guint *)(void *)drag->ids->data, n,
                                _ ("Turn %s"), ngettext ("Turn %u piece", "Turn %u pieces", n));

  sb_job_edit (job, sb_state_ref (sb_job_get_state (job)), name, NULL);
}
