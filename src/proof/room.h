/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How far a piece may be moved and stay inside. Shared inside the room. */
#pragma once

#include "proof/shapes.h"

G_BEGIN_DECLS

typedef struct {
  sb_um least, most;
} SbSpan;

/* Moves that keep a piece inside: dx in `across`, dy in `along`. An edge at which nothing is lost
 * asks for no move. */
typedef struct {
  SbSpan across, along;
  gboolean fits; /* FALSE: too large; the spans then save what fits, outline before artwork */
} SbRoom;

/* Of a piece's shape where it lies, inside `reach` (um on the page). */
SbRoom sb_room_of_shape (const SbShape *shape, SbIBox reach);

/* The shortest move of the room. */
SbIPoint sb_room_get_shortest (const SbRoom *room);

G_END_DECLS
