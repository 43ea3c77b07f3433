/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof/crowd.h"

#include <math.h>

#include "proof/rules.h"

/* Pairs that are compared, some 2 us each. */
#define PROBES_A_PAGE 300000

SbCrowd *
sb_crowd_new (const SbState *state, const GArray *shapes)
{
  SbCrowd *crowd = g_new0 (SbCrowd, 1);
  crowd->n = shapes->len;
  crowd->gap = state->gap;
  crowd->reach = sb_state_get_printable_box (state);
  crowd->probes_left = PROBES_A_PAGE;
  crowd->movers = g_new0 (SbMover, shapes->len);
  for (guint i = 0; i < shapes->len; i++) {
    const SbShape *shape = &g_array_index (shapes, SbShape, i);
    crowd->movers[i] = (SbMover){.shape = shape,
                                 .room = sb_room_of_shape (shape, crowd->reach),
                                 .outline = sb_polygon_ref (shape->outline),
                                 .fixed = shape->piece->pinned};
  }
  return crowd;
}

void
sb_crowd_free (SbCrowd *crowd)
{
  for (guint i = 0; i < crowd->n; i++)
    sb_polygon_unref (crowd->movers[i].outline);
  g_free (crowd->movers);
  g_free (crowd);
}

SbIPoint
sb_room_clamp (const SbRoom *room, SbIPoint move)
{
  return (SbIPoint){CLAMP (move.x, room->across.least, room->across.most),
                    CLAMP (move.y, room->along.least, room->along.most)};
}

void
sb_crowd_move (SbCrowd *crowd, guint i, SbIPoint move)
{
  SbMover *mover = &crowd->movers[i];
  sb_polygon_unref (mover->outline);
  mover->move = move;
  mover->outline = sb_polygon_move (mover->shape->outline, move.x, move.y);
}

static void
count (SbBurden *burden, SbSeverity severity)
{
  burden->stops += severity == SB_SEVERITY_STOP;
  burden->cautions += severity == SB_SEVERITY_CAUTION;
  burden->notes += severity == SB_SEVERITY_NOTE;
}

static SbIBox
moved_box (SbIBox box, SbIPoint move)
{
  return (SbIBox){box.x0 + move.x, box.y0 + move.y, box.x1 + move.x, box.y1 + move.y};
}

static void
count_edges (const SbCrowd *crowd, const SbMover *mover, SbIPoint move, SbBurden *burden)
{
  SbIBox outline = moved_box (sb_polygon_get_box (mover->shape->outline), move);
  SbIBox artwork = moved_box (sb_polygon_get_box (mover->shape->artwork), move);
  for (SbEdge edge = SB_EDGE_TOP; edge <= SB_EDGE_LEFT; edge++) {
    SbSeverity severity;
    sb_um lost;
    if (sb_edge_judge (mover->shape->design, outline, artwork, crowd->reach, edge, &severity,
                       &lost))
      count (burden, severity);
  }
}

static gboolean
boxes_near (SbIBox a, SbIBox b, sb_um gap)
{
  return a.x0 <= b.x1 + gap && b.x0 <= a.x1 + gap && a.y0 <= b.y1 + gap && b.y0 <= a.y1 + gap;
}

/* Neighbours from `first` on, until the burden is no longer under `limit` (NULL: none). Returns how
 * many were looked at. */
static guint
count_neighbours (const SbCrowd *crowd, guint i, SbIPoint move, guint first, const SbBurden *limit,
                  SbBurden *burden)
{
  const SbPolygon *outline = crowd->movers[i].shape->outline;
  SbIBox box = moved_box (sb_polygon_get_box (outline), move);
  guint looked_at = 0;
  for (guint k = first; k < crowd->n; k++) {
    const SbPolygon *other = crowd->movers[k].outline;
    if (k == i || !boxes_near (box, sb_polygon_get_box (other), crowd->gap))
      continue;
    if (limit != NULL && sb_burden_compare (burden, limit) >= 0)
      break;
    SbSeverity severity;
    looked_at++;
    if (sb_neighbours_judge (outline, move, other, crowd->gap, &severity))
      count (burden, severity);
  }
  return looked_at;
}

gboolean
sb_crowd_try (SbCrowd *crowd, guint i, SbIPoint move, const SbBurden *limit, SbBurden *burden)
{
  if (crowd->probes_left == 0)
    return FALSE;
  *burden = (SbBurden){.moved_um = hypot (move.x, move.y)};
  count_edges (crowd, &crowd->movers[i], move, burden);
  guint probes = 1 + count_neighbours (crowd, i, move, 0, limit, burden);
  crowd->probes_left -= MIN (probes, crowd->probes_left);
  return limit == NULL || sb_burden_compare (burden, limit) < 0;
}

SbBurden
sb_crowd_get_floor (const SbCrowd *crowd, guint i)
{
  SbBurden burden = {0};
  count_edges (crowd, &crowd->movers[i], sb_room_get_shortest (&crowd->movers[i].room), &burden);
  return burden;
}

SbBurden
sb_crowd_get_burden (const SbCrowd *crowd)
{
  SbBurden burden = {0};
  for (guint i = 0; i < crowd->n; i++) {
    SbIPoint move = crowd->movers[i].move;
    burden.moved_um += hypot (move.x, move.y);
    count_edges (crowd, &crowd->movers[i], move, &burden);
    count_neighbours (crowd, i, move, i + 1, NULL, &burden);
  }
  return burden;
}

int
sb_burden_compare (const SbBurden *a, const SbBurden *b)
{
  if (a->stops != b->stops)
    return a->stops < b->stops ? -1 : 1;
  if (a->cautions != b->cautions)
    return a->cautions < b->cautions ? -1 : 1;
  if (a->notes != b->notes)
    return a->notes < b->notes ? -1 : 1;
  return (a->moved_um > b->moved_um) - (a->moved_um < b->moved_um);
}
