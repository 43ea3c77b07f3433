/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/piece.h"

gboolean
sb_piece_equal (const SbPiece *a, const SbPiece *b)
{
  return a->id == b->id && a->design_id == b->design_id && a->at.x == b->at.x &&
         a->at.y == b->at.y && a->turn == b->turn && !a->pinned == !b->pinned;
}

SbPiece
sb_piece_tidy (SbPiece piece)
{
  const gint32 whole = 360000;
  piece.at.x = CLAMP (piece.at.x, -SB_PIECE_FARTHEST, SB_PIECE_FARTHEST);
  piece.at.y = CLAMP (piece.at.y, -SB_PIECE_FARTHEST, SB_PIECE_FARTHEST);
  piece.turn = (piece.turn % whole + whole) % whole;
  piece.pinned = piece.pinned != FALSE;
  return piece;
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
