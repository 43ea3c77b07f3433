/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Everything put right with as little movement as can be found.
 *
 *   push    Every piece goes the shortest way inside; then pieces that overlap or come too close
 *           push each other apart, half each, or all of it where the other is pinned or stands at
 *           the edge. A push goes through a row of neighbours in a few rounds.
 *   settle  Piece by piece, the best of some places is taken: where it is, where it was, the
 *           shortest way inside, part of the way back to these; and where nothing else clears it,
 *           the nearest free place.
 *
 * Settling never makes the page worse. It is tried with and without the push, since a full page is
 * better left alone; the better of the two is the result. */
#include <math.h>

#include "geometry/relation.h"
#include "job/edit.h"
#include "proof/crowd.h"
#include "proof/proof.h"
#include "proof/rules.h"

#define PUSH_ROUNDS 80
#define SETTLE_ROUNDS 6
#define DIRECTIONS 32
/* Pushed a little too far, so that rows come to rest; settling takes it back. */
#define SLACK_UM 20
#define SEARCH_STEP_UM 1000 /* between rings near the piece; far away a tenth of the distance */

/* ---- Push ---- */

typedef struct {
  double x, y;
} Direction;

static SbIPoint
scale (Direction d, double length)
{
  /* Rounded away from 0, so that a move is never too short. */
  double x = d.x * length, y = d.y * length;
  return (SbIPoint){(sb_um)(x < 0 ? floor (x) : ceil (x)), (sb_um)(y < 0 ? floor (y) : ceil (y))};
}

static gboolean
is_clear (SbCrowd *crowd, const SbPolygon *a, const SbPolygon *b, SbIPoint move)
{
  crowd->probes_left -= crowd->probes_left > 0;
  return !sb_polygons_closer_than_moved (a, move.x, move.y, b, crowd->gap + SLACK_UM);
}

/* A length at which the boxes have parted in this direction. */
static double
parting_length (SbIBox a, SbIBox b, sb_um gap, Direction d)
{
  double across = d.x > 0 ? b.x1 - a.x0 : a.x1 - b.x0;
  double along = d.y > 0 ? b.y1 - a.y0 : a.y1 - b.y0;
  double x = fabs (d.x) > 1e-6 ? (across + gap) / fabs (d.x) : G_MAXDOUBLE;
  double y = fabs (d.y) > 1e-6 ? (along + gap) / fabs (d.y) : G_MAXDOUBLE;
  return MIN (x, y);
}

/* The shortest move found that takes `a` clear of `b`, by halving in several directions. A
 * direction that is not clear at the best length so far cannot better it. */
static SbIPoint
part (SbCrowd *crowd, const SbPolygon *a, const SbPolygon *b)
{
  SbIBox box_a = sb_polygon_get_box (a), box_b = sb_polygon_get_box (b);
  double best = G_MAXDOUBLE;
  SbIPoint move = {0, 0};
  for (int k = 0; k < DIRECTIONS; k++) {
    double angle = 2 * G_PI * k / DIRECTIONS;
    Direction d = {cos (angle), sin (angle)};
    double clear = MIN (best, parting_length (box_a, box_b, crowd->gap + SLACK_UM, d));
    double blocked = 0;
    if (clear == best && !is_clear (crowd, a, b, scale (d, clear - SLACK_UM)))
      continue;
    while (clear - blocked > SLACK_UM) {
      double middle = (blocked + clear) / 2;
      if (is_clear (crowd, a, b, scale (d, middle)))
        clear = middle;
      else
        blocked = middle;
    }
    if (clear < best) {
      best = clear;
      move = scale (d, clear);
    }
  }
  return move;
}

/* Moves a piece by `by` as far as its room goes, and tells what was left. */
static SbIPoint
push (SbCrowd *crowd, guint i, SbIPoint by)
{
  SbMover *mover = &crowd->movers[i];
  if (mover->fixed)
    return by;
  SbIPoint wanted = {mover->move.x + by.x, mover->move.y + by.y};
  SbIPoint got = sb_room_clamp (&mover->room, wanted);
  sb_crowd_move (crowd, i, got);
  return (SbIPoint){wanted.x - got.x, wanted.y - got.y};
}

typedef struct {
  SbCrowd *crowd;
  guint reserve; /* probes that are kept for settling */
  gboolean pushed;
} Push;

static void
push_pair (Push *round, guint a, guint b)
{
  SbCrowd *crowd = round->crowd;
  SbMover *first = &crowd->movers[a], *second = &crowd->movers[b];
  if ((first->fixed && second->fixed) || crowd->probes_left <= round->reserve ||
      !sb_polygons_closer_than (first->outline, second->outline, crowd->gap))
    return;
  SbIPoint move = part (crowd, first->outline, second->outline);
  SbIPoint half = {move.x / 2, move.y / 2};
  SbIPoint left = push (crowd, a, half);
  SbIPoint rest =
      push (crowd, b, (SbIPoint){-(move.x - half.x + left.x), -(move.y - half.y + left.y)});
  push (crowd, a, (SbIPoint){-rest.x, -rest.y});
  round->pushed = TRUE;
}

static void
push_apart (SbCrowd *crowd)
{
  for (guint i = 0; i < crowd->n; i++)
    if (!crowd->movers[i].fixed)
      sb_crowd_move (crowd, i, sb_room_get_shortest (&crowd->movers[i].room));
  Push round = {crowd, crowd->probes_left / 2, TRUE};
  for (int k = 0; k < PUSH_ROUNDS && round.pushed; k++) {
    round.pushed = FALSE;
    for (guint i = 0; i < crowd->n; i++)
      for (guint j = i + 1; j < crowd->n; j++)
        push_pair (&round, i, j);
  }
}

/* ---- Settle ---- */

typedef struct {
  SbIPoint move;
  SbBurden burden;
} Place;

/* Takes `move` where it is better. */
static void
consider (SbCrowd *crowd, guint i, SbIPoint move, Place *best)
{
  SbBurden burden;
  if (sb_crowd_try (crowd, i, move, &best->burden, &burden))
    *best = (Place){move, burden};
}

/* As far from the best place towards `goal` as nothing gets worse, along one axis or both. */
static void
pull_back (SbCrowd *crowd, guint i, SbIPoint goal, Place *best)
{
  for (int axes = 3; axes >= 1; axes--) {
    SbIPoint from = best->move;
    SbIPoint way = {axes & 1 ? goal.x - from.x : 0, axes & 2 ? goal.y - from.y : 0};
    double near = 0, far = 1, um = hypot (way.x, way.y);
    while (um * (far - near) > 1) {
      double middle = (near + far) / 2;
      SbIPoint move = {from.x + (sb_um)lround (middle * way.x),
                       from.y + (sb_um)lround (middle * way.y)};
      Place before = *best;
      consider (crowd, i, move, best);
      if (best->move.x != before.move.x || best->move.y != before.move.y)
        near = middle;
      else
        far = middle;
    }
  }
}

static gboolean
is_clean (const SbBurden *burden)
{
  return burden->stops == 0 && burden->cautions == 0 && burden->notes == 0;
}

/* Looks around where the piece was, ring by ring, for a place without neighbours in the way, until
 * a ring is farther than the nearest so far. The farther, the coarser: pulling back does the rest.
 */
static void
search_nearest (SbCrowd *crowd, guint i, Place *best)
{
  const SbRoom *room = &crowd->movers[i].room;
  SbIPoint start = sb_room_get_shortest (room);
  sb_um span = MAX (room->across.most - room->across.least, room->along.most - room->along.least);
  Place nearest = {start, sb_crowd_get_floor (crowd, i)};
  nearest.burden.moved_um = G_MAXDOUBLE;
  sb_um step = SEARCH_STEP_UM;
  for (sb_um r = step; r <= span && crowd->probes_left > 0 && r <= nearest.burden.moved_um;
       r += step) {
    step = MAX (SEARCH_STEP_UM, r / 10);
    for (sb_um t = -r; t < r; t += step) {
      const SbIPoint ring[] = {{t, -r}, {r, t}, {-t, r}, {-r, -t}};
      for (gsize k = 0; k < G_N_ELEMENTS (ring); k++) {
        SbIPoint move = {start.x + ring[k].x, start.y + ring[k].y};
        SbIPoint inside = sb_room_clamp (room, move);
        if (inside.x == move.x && inside.y == move.y)
          consider (crowd, i, move, &nearest);
      }
    }
  }
  if (sb_burden_compare (&nearest.burden, &best->burden) < 0 &&
      nearest.burden.moved_um < G_MAXDOUBLE)
    *best = nearest;
}

static gboolean
settle_one (SbCrowd *crowd, guint i)
{
  SbMover *mover = &crowd->movers[i];
  const SbIPoint was = {0, 0};
  SbIPoint shortest = sb_room_get_shortest (&mover->room);
  Place best = {mover->move};
  if (mover->fixed || !sb_crowd_try (crowd, i, mover->move, NULL, &best.burden) ||
      (is_clean (&best.burden) && best.burden.moved_um == 0))
    return FALSE;
  consider (crowd, i, was, &best);
  consider (crowd, i, shortest, &best);
  if (!is_clean (&best.burden))
    search_nearest (crowd, i, &best);
  pull_back (crowd, i, shortest, &best);
  if (best.move.x == mover->move.x && best.move.y == mover->move.y)
    return FALSE;
  sb_crowd_move (crowd, i, best.move);
  return TRUE;
}

static void
settle (SbCrowd *crowd)
{
  gboolean moved = TRUE;
  for (int k = 0; k < SETTLE_ROUNDS && moved; k++) {
    moved = FALSE;
    for (guint i = 0; i < crowd->n; i++)
      moved |= settle_one (crowd, i);
  }
}

/* ---- All pages ---- */

static void
add_moved (const SbCrowd *crowd, GArray *pieces)
{
  for (guint i = 0; i < crowd->n; i++) {
    SbPiece piece = *crowd->movers[i].shape->piece;
    piece.at.x += crowd->movers[i].move.x;
    piece.at.y += crowd->movers[i].move.y;
    if (crowd->movers[i].move.x != 0 || crowd->movers[i].move.y != 0)
      g_array_append_val (pieces, piece);
  }
}

static void
put_page_right (const SbState *state, const GArray *shapes, GArray *pieces)
{
  g_autoptr (SbCrowd) calm = sb_crowd_new (state, shapes);
  SbBurden before = sb_crowd_get_burden (calm);
  if (is_clean (&before))
    return;
  g_autoptr (SbCrowd) pushed = sb_crowd_new (state, shapes);
  settle (calm);
  push_apart (pushed);
  settle (pushed);
  SbBurden after_calm = sb_crowd_get_burden (calm);
  SbBurden after_push = sb_crowd_get_burden (pushed);
  add_moved (sb_burden_compare (&after_push, &after_calm) < 0 ? pushed : calm, pieces);
}

SbState *
sb_proof_move_all_inside (const SbState *state)
{
  g_autoptr (GHashTable) kinds = sb_shape_kinds_new ();
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (SbPiece));
  for (guint i = 0; i < state->pages->len; i++) {
    g_autoptr (GArray) shapes = sb_shapes_of_page (state, i, kinds);
    put_page_right (state, shapes, pieces);
  }
  return sb_edit_set_pieces (state, (const SbPiece *)(void *)pieces->data, pieces->len);
}
