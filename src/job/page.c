/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/state.h"

SbPage *
sb_page_new (guint id, const SbPiece *pieces, guint n_pieces)
{
  SbPage *page = g_new0 (SbPage, 1);
  g_atomic_ref_count_init (&page->refs);
  page->id = id;
  page->n_pieces = n_pieces;
  page->pieces = g_memdup2 (pieces, n_pieces * sizeof *pieces);
  return page;
}

SbPage *
sb_page_with_pieces (const SbPage *page, const SbPiece *pieces, guint n_pieces)
{
  SbPage *changed = sb_page_new (page->id, pieces, n_pieces);
  if (page->extra != NULL)
    changed->extra = json_object_ref (page->extra);
  return changed;
}

SbPage *
sb_page_ref (SbPage *page)
{
  g_atomic_ref_count_inc (&page->refs);
  return page;
}

void
sb_page_unref (SbPage *page)
{
  if (!g_atomic_ref_count_dec (&page->refs))
    return;
  g_free (page->pieces);
  g_clear_pointer (&page->extra, json_object_unref);
  g_free (page);
}

gboolean
sb_piece_equal (const SbPiece *a, const SbPiece *b)
{
  return a->id == b->id && a->design_id == b->design_id && a->at.x == b->at.x &&
         a->at.y == b->at.y && a->turn == b->turn && !a->pinned == !b->pinned;
}

gboolean
sb_page_equal (const SbPage *a, const SbPage *b)
{
  if (a == b)
    return TRUE;
  if (a->id != b->id || a->n_pieces != b->n_pieces || !sb_extra_equal (a->extra, b->extra))
    return FALSE;
  for (guint i = 0; i < a->n_pieces; i++)
    if (!sb_piece_equal (&a->pieces[i], &b->pieces[i]))
      return FALSE;
  return TRUE;
}

SbTransform
sb_piece_get_transform (const SbDesign *design, const SbPiece *piece)
{
  SbPoint centre = sb_box_centre (sb_outline_get_box (sb_design_get_outline (design)));
  SbPoint at = {sb_um_to_mm (piece->at.x), sb_um_to_mm (piece->at.y)};
  return sb_transform_turn (centre, piece->turn / 1000.0, at);
}

/* Flattened and rounded about 0,0 and then moved: copies of a design that are turned alike have the
 * same corners wherever they lie. */
static SbPolygon *
flatten_piece (const SbDesign *design, const SbPiece *piece, const SbOutline *outline)
{
  SbPiece about_origin = *piece;
  about_origin.at = (SbIPoint){0, 0};
  g_autoptr (SbPolygon) polygon =
      sb_outline_flatten (outline, sb_piece_get_transform (design, &about_origin), SB_FLATTEN_UM);
  return sb_polygon_move (polygon, piece->at.x, piece->at.y);
}

SbPolygon *
sb_piece_get_outline (const SbDesign *design, const SbPiece *piece)
{
  return flatten_piece (design, piece, sb_design_get_outline (design));
}

SbPolygon *
sb_piece_get_artwork (const SbDesign *design, const SbPiece *piece)
{
  return flatten_piece (design, piece, sb_design_get_artwork (design));
}
