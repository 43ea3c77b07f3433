/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
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

void
sb_measuring_set_from (SbMeasuring *measuring, SbMeasureEnd end)
{
  measuring->from = end;
  measuring->has_from = TRUE;
  measuring->has_to = FALSE;
}

void
sb_measuring_set_to (SbMeasuring *measuring, SbMeasureEnd end)
{
  measuring->to = end;
  /* A piece is no distance from itself. */
  measuring->has_to = !end.piece_id || end.piece_id != measuring->from.piece_id;
}

static gboolean
is_there (const SbState *state, const SbMeasureEnd *end)
{
  return !end->piece_id || sb_state_get_piece (state, end->piece_id, NULL);
}

void
sb_measuring_drop_gone (SbMeasuring *measuring, const SbState *state)
{
  measuring->has_from = measuring->has_from && is_there (state, &measuring->from);
  measuring->has_to = measuring->has_from && measuring->has_to && is_there (state, &measuring->to);
}

void
sb_measuring_update (SbMeasuring *measuring, const SbState *state)
{
  measuring->is_measured =
      measuring->has_from && measuring->has_to &&
      sb_measure_ends (state, &measuring->from, &measuring->to, &measuring->measured);
}

static char *
dup_name (SbState *state, const SbMeasureEnd *end)
{
  const SbPiece *piece = end->piece_id ? sb_state_get_piece (state, end->piece_id, NULL) : NULL;

  if (piece)
    return g_strdup (sb_state_get_design (state, piece->design_id)->name);
  /* Translators: a place on the page from which is measured, where a piece's name could stand */
  return g_strdup (_ ("a point"));
}

char *
sb_measuring_dup_distance (const SbMeasuring *measuring, SbUnit unit)
{
  const SbMeasured *measured = &measuring->measured;
  double dx = fabs (measured->b.x - measured->a.x), dy = fabs (measured->b.y - measured->a.y);
  g_autofree char *length = sb_length_format_fine (measured->um / SB_UM_PER_MM, unit);

  if (measured->um == 0)
    return g_strdup (_ ("They touch"));
  if (MIN (dx, dy) < 1)
    return g_steal_pointer (&length);
  g_autofree char *across = sb_length_format_fine (dx / SB_UM_PER_MM, unit);
  g_autofree char *down = sb_length_format_fine (dy / SB_UM_PER_MM, unit);
  /* Translators: a measured length, and under it how much of it is across and down the page */
  return g_strdup_printf (_ ("%s\n%s across, %s down"), length, across, down);
}

char *
sb_measuring_dup_told (const SbMeasuring *measuring, SbState *state, SbUnit unit)
{
  if (!measuring->has_from)
    return g_strdup (_ ("Measure from a piece or a point"));
  g_autofree char *from = dup_name (state, &measuring->from);
  if (!measuring->has_to)
    return g_strdup_printf (_ ("From %s to another piece or point"), from);
  if (!measuring->is_measured)
    return g_strdup (_ ("Measure within one page"));
  g_autofree char *to = dup_name (state, &measuring->to);
  g_autofree char *distance = sb_measuring_dup_distance (measuring, unit);
  /* Translators: for screen readers: from which piece or point to which, and the distance */
  return g_strdup_printf (_ ("From %s to %s: %s"), from, to, distance);
}
