/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/canvas/place-design.h"
#include "window/desk/piece-edits.h"

/* Where a piece placed by keyboard is wanted: in the middle of the largest free spot, else of the
 * printable area. */
static SbIPoint
free_place (SbDesk *desk, guint page)
{
  SbState *state = sb_desk_get_settled (desk);
  const SbPageFigures *figures = sb_checker_get_figures (sb_desk_get_checker (desk), page);
  SbIBox box = sb_state_get_printable_box (state);

  if (figures && figures->free_spot.x1 > figures->free_spot.x0 &&
      figures->free_spot.y1 > figures->free_spot.y0)
    box = figures->free_spot;
  return (SbIPoint){box.x0 + (box.x1 - box.x0) / 2, box.y0 + (box.y1 - box.y0) / 2};
}

void
sb_place_design (SbDesk *desk, SbCanvas *canvas, guint design_id)
{
  SbState *state = sb_desk_get_settled (desk);
  SbDesign *design = sb_state_get_design (state, design_id);
  guint page = 0, piece_id = 0;

  if (!design)
    return;
  g_object_get (canvas, "page", &page, NULL);
  page = MIN (page, state->pages->len - 1);
  SbPiece piece = {.design_id = design_id, .at = free_place (desk, page)};
  sb_piece_find_room (state, page, &piece);
  g_autofree char *name = g_strdup_printf (_ ("Place %s"), design->name);
  sb_job_edit (sb_desk_get_job (desk), sb_edit_add_piece (state, page, piece, &piece_id), name,
               NULL);
  sb_selection_set_piece (sb_desk_get_selection (desk), piece_id);
  sb_canvas_show_piece (canvas, piece_id);
}
