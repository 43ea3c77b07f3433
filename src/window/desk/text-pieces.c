/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/desk/text-pieces.h"

/* In the middle of the page; of a header card, of the half. */
static SbPiece
find_place (const SbState *state, gboolean on_back)
{
  SbPiece piece = {.at = {state->page_width / 2, state->page_height / 2}};
  sb_um fold = state->view != NULL ? sb_layout_get_fold (state->view) : -1;

  if (fold < 0)
    return piece;
  sb_um hole = state->view->hole > 0 ? state->view->hole_at + state->view->hole / 2 : 0;
  sb_um from_fold = (hole + fold - MIN (state->view->zone, fold)) / 2;
  piece.at.y = on_back ? fold - from_fold : fold + from_fold;
  piece.turn = on_back ? 180000 : 0;
  return piece;
}

void
sb_text_pieces_add (SbDesk *desk, gboolean on_back)
{
  SbState *state = sb_desk_get_settled (desk);
  g_autoptr (SbLettering) lettering = sb_lettering_new (_ ("Text"));
  g_autoptr (GError) error = NULL;
  g_autoptr (SbDesign) design = sb_design_new_text (lettering, &error);
  guint piece_id = 0;

  if (design == NULL || !sb_design_prepare (design, NULL, &error)) {
    sb_desk_say (desk, error->message);
    return;
  }
  SbPiece piece = find_place (state, on_back);
  g_autoptr (SbState) added =
      sb_edit_add_design (state, g_steal_pointer (&design), &piece.design_id);
  sb_job_edit (sb_desk_get_job (desk), sb_edit_add_piece (added, 0, piece, &piece_id),
               _ ("Add Text"), NULL);
  sb_selection_set_piece (sb_desk_get_selection (desk), piece_id);
}

gboolean
sb_text_pieces_rewrite (SbDesk *desk, guint design_id, const SbLettering *lettering, GError **error)
{
  SbState *state = sb_desk_get_settled (desk);
  const SbDesign *before = sb_state_get_design (state, design_id);

  if (before == NULL)
    return FALSE;
  g_autoptr (SbDesign) design = sb_design_copy (before);
  if (!sb_design_set_lettering (design, lettering, error) ||
      !sb_design_prepare (design, NULL, error))
    return FALSE;
  g_autofree char *key = g_strdup_printf ("text %u", design_id);
  sb_job_edit (sb_desk_get_job (desk), sb_edit_replace_design (state, g_steal_pointer (&design)),
               _ ("Change Text"), key);
  return TRUE;
}
