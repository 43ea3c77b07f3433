/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The pieces of a page as the proof sees them. Shared inside the room. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

typedef struct {
  const SbPiece *piece;   /* borrowed from the state */
  const SbDesign *design; /* the same */
  SbPolygon *outline;     /* on the page */
  SbPolygon *artwork;
} SbShape;

/* Polygons per design and turn, so that copies are flattened once. Free with
 * g_hash_table_unref. */
GHashTable *sb_shape_kinds_new (void) G_GNUC_WARN_UNUSED_RESULT;

/* SbShape of each piece of the page, in drawing order. The state must outlive it; free with
 * g_array_unref. */
GArray *sb_shapes_of_page (const SbState *state, guint page_index,
                           GHashTable *kinds) G_GNUC_WARN_UNUSED_RESULT;

/* The guide as drawn around an outline, in um: where its stroke begins and ends, measured from the
 * outline. Both 0 where the design has none. */
void sb_shape_get_guide (const SbDesign *design, sb_um *from, sb_um *to);

/* free-spot.c: fills in at most `most` spots, largest first; the rest of `spots` stays as it is.
 * Returns how many. */
guint sb_free_spots_of_shapes (const SbState *state, const GArray *shapes, SbIBox *spots,
                               guint most);

G_END_DECLS
