/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where one more piece may lie on a page while everything else stays: for the canvas, while a piece
 * or a design from the drawer is dragged. "Free" is never false: a centre that is called free
 * passes the exact check of geometry/relation.h with the job's gap and printable area.
 *
 *   drag begins:  sb_free_space_new       (some ms: every other piece is looked at once)
 *   it turns:     sb_free_space_set_turn
 *   each frame:   is_free, get_nearest, get_largest_scale   (well under a millisecond)
 *
 * Use it from one thread at a time. It keeps a reference to the state and the design. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

typedef struct _SbFreeSpace SbFreeSpace;

/* Centres that are free, as a picture to tint with: one byte a place, 255 free, 0 not. The byte at
 * (column, row) stands for the square of side `step` about origin + (column, row) * step, um from
 * the page's top left corner. Rows are `stride` bytes apart (a multiple of 4, as cairo's A8 wants
 * it). Where the design is larger than the printable area columns and rows are 0. */
typedef struct {
  guint columns, rows, stride;
  SbIPoint origin;
  sb_um step;
  const guint8 *data;
} SbFreeMask;

/* For `design` (of the state or not; prepared) at `turn` (thousandths of a degree) on page
 * `page_index` (past the last one: an empty page), as if the pieces `except` (ids; the dragged
 * ones) were not there. */
SbFreeSpace *sb_free_space_new (const SbState *state, guint page_index, const SbDesign *design,
                                gint32 turn, const guint *except,
                                guint n_except) G_GNUC_WARN_UNUSED_RESULT;
void sb_free_space_free (SbFreeSpace *space);

/* Turns the piece to `turn`, thousandths of a degree, and makes the map anew: some milliseconds. */
void sb_free_space_set_turn (SbFreeSpace *space, gint32 turn);

/* Whether the piece may lie with its centre (SbPiece.at) there. */
gboolean sb_free_space_is_free (const SbFreeSpace *space, SbIPoint centre);

/* The free centre nearest to `centre`: itself when it is free, else the nearest contact found, to
 * within about a third of a millimetre of the nearest there is. FALSE when there is none at all. */
gboolean sb_free_space_get_nearest (const SbFreeSpace *space, SbIPoint centre, SbIPoint *nearest);

/* The largest factor, up to `most` (at least 1), by which the whole outline can be scaled about
 * `centre` and still lie free there, to 0.5 %; 0 when not even a hundredth of it fits. */
double sb_free_space_get_largest_scale (const SbFreeSpace *space, SbIPoint centre, double most);

/* Borrowed; valid until the turn is set or the space freed. */
const SbFreeMask *sb_free_space_get_mask (const SbFreeSpace *space);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbFreeSpace, sb_free_space_free)

G_END_DECLS
