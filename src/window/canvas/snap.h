/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Snapping: where a dragged piece would rather lie. It is drawn to the edges and the middle of the
 * printable area, to exactly the gap from its neighbours along the true outlines, and to equal gaps
 * in a row. Only ever a helpful nudge: where nothing is near, a piece stays where the pointer has
 * it. Pure functions. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

/* A line to show: where it lies on the page (um) and the distance it stands for. */
typedef struct {
  SbPoint a, b;
  double length_um; /* to be told beside it; negative for a line without a measure */
} SbSnapGuide;

typedef struct {
  const SbState *state;
  guint page;
  GHashTable *moving;     /* ids of the pieces that move: no neighbours */
  const SbPolygon *shape; /* outline of what moves, where the pointer has it; for several pieces
                             the box of them all */
  gboolean whole;         /* `shape` is one true outline, so neighbours are felt along it */
  double reach_um;        /* how near is near */
} SbSnapQuery;

/* Neighbours' outlines by id, made once for a drag. */
typedef struct _SbSnapCache SbSnapCache;
SbSnapCache *sb_snap_cache_new (void) G_GNUC_WARN_UNUSED_RESULT;
void sb_snap_cache_free (SbSnapCache *cache);

/* The offset (um) to add; 0,0 when nothing is near. `guides` gets SbSnapGuide of what it snapped
 * to. */
SbIPoint sb_snap_find (const SbSnapQuery *query, SbSnapCache *cache, GArray *guides);

/* Whether the shape may lie at an offset: inside the printable area with its guide's inner edge,
 * and nowhere nearer to a neighbour than the gap. Exact. */
gboolean sb_snap_is_clear (const SbSnapQuery *query, SbSnapCache *cache, SbIPoint offset);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbSnapCache, sb_snap_cache_free)

G_END_DECLS
