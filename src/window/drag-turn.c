/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A piece turned or a design resized by its handles. */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/edit.h"
#include "window/design-resize.h"
#include "window/drag-private.h"

#define TURN_STEP 15000 /* thousandths of a degree */

static gint32
wrap_turn (double thousandths)
{
  double wrapped = fmod (thousandths, 360000);

  return (gint32)lround (wrapped < 0 ? wrapped + 360000 : wrapped) % 360000;
}

/* Where the piece would fit in the turn that it has now. */
static void
update_fit (SbDrag *drag, const SbDragStart *start)
{
  const SbPalette *palette = sb_palette_get (GTK_WIDGET (drag->view));
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (drag->view));

  if (drag->fit)
    sb_fit_area_set_turn (drag->fit, drag->turn, palette);
  else
    drag->fit =
        sb_fit_area_new (state, start->page, sb_state_get_design (state, start->piece.design_id),
                         drag->turn, &start->piece.id, 1, palette);
  sb_pages_view_set_fit (drag->view, drag->fit);
}

void
sb_drag_update_turn (SbDrag *drag)
{
  SbJob *job = sb_pages_view_get_job (drag->view);
  const SbDragStart *start = &g_array_index (drag->starts, SbDragStart, 0);
  double x = drag->press.x + drag->offset.x, y = drag->press.y + drag->offset.y;
  double grip = sb_frame_get_angle (drag->frame.centre, drag->press.x, drag->press.y);
  double angle = sb_frame_get_angle (drag->frame.centre, x, y);
  double turn = start->piece.turn + (angle - grip) * 1000;
  SbPiece piece = start->piece;

  if (!(drag->modifiers & GDK_ALT_MASK))
    turn = round (turn / TURN_STEP) * TURN_STEP;
  else
    turn = round (turn / 100) * 100;
  piece.turn = wrap_turn (turn);
  if (!drag->fit || piece.turn != drag->turn) {
    drag->turn = piece.turn;
    update_fit (drag, start);
  }
  sb_job_preview (job, sb_edit_set_pieces (sb_job_get_settled_state (job), &piece, 1));
  sb_pages_view_bake_now (drag->view, piece.id);
  /* Translators: the angle of a piece while it is turned */
  g_autofree char *told = piece.turn % 1000 == 0
                              ? g_strdup_printf (_ ("%d°"), piece.turn / 1000)
                              : g_strdup_printf (_ ("%.1f°"), piece.turn / 1000.0);
  sb_marks_set_told (sb_pages_view_get_marks (drag->view), told);
}

void
sb_drag_end_turn (SbDrag *drag)
{
  SbJob *job = sb_pages_view_get_job (drag->view);
  g_autofree char *name = sb_canvas_drag_name_edit (
      sb_job_get_settled_state (job), (guint *)(void *)drag->ids->data, 1, _ ("Turn %s"), "");

  sb_job_edit (job, sb_state_ref (sb_job_get_state (job)), name, NULL);
}

SbDesign *
sb_drag_get_resized_design (SbDrag *drag)
{
  const SbDragStart *start = &g_array_index (drag->starts, SbDragStart, 0);

  return sb_state_get_design (sb_job_get_settled_state (sb_pages_view_get_job (drag->view)),
                              start->piece.design_id);
}

void
sb_drag_update_resize (SbDrag *drag)
{
  SbDesign *design = sb_drag_get_resized_design (drag);
  double x = drag->press.x + drag->offset.x, y = drag->press.y + drag->offset.y;
  double pull = sb_frame_get_pull (&drag->frame, drag->press.x, drag->press.y, x, y);
  double width, height;

  drag->stretch = sb_design_resize_clamp (design, sb_bake_get_stretch_for (design, pull));
  sb_pages_view_set_stretch (drag->view, design->id, drag->stretch);
  sb_pages_view_bake_stretched (drag->view);
  sb_bake_get_finished_size (design, drag->stretch, &width, &height);
  g_autofree char *size =
      sb_length_format_size (width, height, sb_pages_view_get_unit (drag->view));
  g_autofree char *border =
      sb_length_format (design->border.width_mm, sb_pages_view_get_unit (drag->view));
  /* Translators: the finished size of a sticker while it is resized, and its border's width */
  g_autofree char *told = g_strdup_printf (_ ("%s\nborder %s"), size, border);
  sb_marks_set_told (sb_pages_view_get_marks (drag->view), told);
}

void
sb_drag_end_resize (SbDrag *drag)
{
  if (drag->stretch != 1)
    sb_design_resize (drag->view, sb_drag_get_resized_design (drag), drag->stretch);
}
