/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof/room.h"

#include "proof/proof.h"

typedef struct {
  sb_um from, to;
} Extent;

static SbSpan
span_inside (Extent thing, Extent reach)
{
  return (SbSpan){reach.from - thing.from, reach.to - thing.to};
}

static gboolean
holds (SbSpan span, sb_um move)
{
  return span.least <= move && move <= span.most;
}

/* The moves along one axis. Wanted inside is the whole guide; enough is its inner edge; then as
 * much as fits. */
static gboolean
axis_span (Extent outline, Extent artwork, Extent reach, sb_um guide_from, sb_um guide_to,
           SbSpan *span)
{
  SbSpan whole = span_inside ((Extent){outline.from - guide_to, outline.to + guide_to}, reach);
  SbSpan inner = span_inside ((Extent){outline.from - guide_from, outline.to + guide_from}, reach);
  *span = whole.least <= whole.most ? whole : inner;
  if (inner.least <= inner.most) {
    if (holds (inner, 0))
      *span = (SbSpan){MIN (span->least, 0), MAX (span->most, 0)};
    return TRUE;
  }
  *span = span_inside (outline, reach);
  if (span->least > span->most)
    *span = span_inside (artwork, reach);
  if (span->least > span->most)
    *span = (SbSpan){0, 0};
  return FALSE;
}

SbRoom
sb_room_of_shape (const SbShape *shape, SbIBox reach)
{
  SbRoom room;
  sb_um from, to;
  SbIBox outline = sb_polygon_get_box (shape->outline);
  SbIBox artwork = sb_polygon_get_box (shape->artwork);
  sb_shape_get_guide (shape->design, &from, &to);
  gboolean across = axis_span ((Extent){outline.x0, outline.x1}, (Extent){artwork.x0, artwork.x1},
                               (Extent){reach.x0, reach.x1}, from, to, &room.across);
  gboolean along = axis_span ((Extent){outline.y0, outline.y1}, (Extent){artwork.y0, artwork.y1},
                              (Extent){reach.y0, reach.y1}, from, to, &room.along);
  room.fits = across && along;
  return room;
}

SbIPoint
sb_room_get_shortest (const SbRoom *room)
{
  return (SbIPoint){CLAMP (0, room->across.least, room->across.most),
                    CLAMP (0, room->along.least, room->along.most)};
}

gboolean
sb_proof_move_inside (const SbState *state, guint piece_id, SbPiece *moved)
{
  const SbPiece *piece = sb_state_get_piece (state, piece_id, NULL);
  g_return_val_if_fail (piece != NULL && moved != NULL, FALSE);

  const SbDesign *design = sb_state_get_design (state, piece->design_id);
  g_autoptr (SbPolygon) outline = sb_piece_get_outline (design, piece);
  g_autoptr (SbPolygon) artwork = sb_piece_get_artwork (design, piece);
  SbShape shape = {piece, design, outline, artwork};
  SbRoom room = sb_room_of_shape (&shape, sb_state_get_printable_box (state));
  SbIPoint move = sb_room_get_shortest (&room);
  *moved = *piece;
  moved->at.x += move.x;
  moved->at.y += move.y;
  return room.fits;
}
