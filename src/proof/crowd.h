/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The pieces of one page while they are being put right: where each would be moved and what is then
 * still wrong with it. Shared inside the room. */
#pragma once

#include "proof/room.h"
#include "proof/shapes.h"

G_BEGIN_DECLS

typedef struct {
  const SbShape *shape; /* where it lies in the state */
  SbRoom room;
  SbIPoint move;      /* from there */
  SbPolygon *outline; /* moved */
  gboolean fixed;     /* pinned: others give way */
} SbMover;

typedef struct {
  SbMover *movers;
  guint n;
  sb_um gap;
  SbIBox reach;
  guint probes_left; /* bounds the work, and not by a clock: the same state gives the same result */
} SbCrowd;

/* How bad things are: compared from the first field to the last. */
typedef struct {
  guint stops, cautions, notes;
  double moved_um; /* all moves together */
} SbBurden;

/* `shapes` must outlive the crowd. Nothing is moved yet. */
SbCrowd *sb_crowd_new (const SbState *state, const GArray *shapes) G_GNUC_WARN_UNUSED_RESULT;
void sb_crowd_free (SbCrowd *crowd);

/* Moves a piece, as far as its room goes. */
void sb_crowd_move (SbCrowd *crowd, guint i, SbIPoint move);
SbIPoint sb_room_clamp (const SbRoom *room, SbIPoint move);

/* What piece `i` would suffer and cause at `move`. FALSE when that is not less than `limit` (NULL:
 * none), which is seen early, or when the probes are spent. */
gboolean sb_crowd_try (SbCrowd *crowd, guint i, SbIPoint move, const SbBurden *limit,
                       SbBurden *burden);

/* The least that piece `i` can suffer: what its room leaves to the edges, and no neighbours. */
SbBurden sb_crowd_get_floor (const SbCrowd *crowd, guint i);

/* The sum over all pieces, each pair counted once. */
SbBurden sb_crowd_get_burden (const SbCrowd *crowd);
int sb_burden_compare (const SbBurden *a, const SbBurden *b);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbCrowd, sb_crowd_free)

G_END_DECLS
