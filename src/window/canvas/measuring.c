/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "geometry/relation.h"
#include "window/canvas/measuring.h"

/* The outline of an end that is a piece; a point has none. FALSE when the end is not there. */
static gboolean
find_end (const SbState *state, const SbMeasureEnd *end, guint *page, SbPolygon **outline)
{
  *page = end->page;
  *outline = NULL;
  if (!end->piece_id)
    return sb_state_get_page (state, end->page) != NULL;
  const SbPiece *piece = sb_state_get_piece (state, end->piece_id, page);
  if (piece)
    *outline = sb_piece_get_outline (sb_state_get_design (state, piece->design_id), piece);
  return piece != NULL;
}

/* Where two things lie on each other there is no nearest place: the middle of what they share. */
static SbPoint
middle_of_both (const SbPolygon *a, const SbPolygon *b)
{
  SbIBox p = sb_polygon_get_box (a), q = sb_polygon_get_box (b);

  return (SbPoint){(MAX (p.x0, q.x0) + (double)MIN (p.x1, q.x1)) / 2,
                   (MAX (p.y0, q.y0) + (double)MIN (p.y1, q.y1)) / 2};
}

gboolean
sb_measure_ends (const SbState *state, const SbMeasureEnd *from, const SbMeasureEnd *to,
                 SbMeasured *measured)
{
  g_autoptr (SbPolygon) a = NULL, b = NULL;
  guint page;

  if (!find_end (state, from, &measured->page, &a) || !find_end (state, to, &page, &b) ||
      page != measured->page)
    return FALSE;
  measured->a = (SbPoint){from->at.x, from->at.y};
  measured->b = (SbPoint){to->at.x, to->at.y};
  if (a && b) {
    measured->um = sb_polygons_find_nearest (a, b, &measured->a, &measured->b);
    if (measured->um == 0)
      measured->a = measured->b = middle_of_both (a, b);
  } else if (a) {
    measured->um = sb_polygon_find_nearest (a, to->at, &measured->a);
  } else if (b) {
    measured->um = sb_polygon_find_nearest (b, from->at, &measured->b);
  } else {
    measured->um = hypot (measured->b.x - measured->a.x, measured->b.y - measured->a.y);
  }
  return TRUE;
}
