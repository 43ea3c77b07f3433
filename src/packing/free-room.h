/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which of a job's freebies would still have room on a page while a piece is moved about it: for
 * the canvas, so that a maker sees what a move does to the gaps. Looked for among squares of a
 * hundredth of an inch in up to eight turns; room is never false.
 *
 * Use it from one thread at a time. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

typedef struct _SbFreeRoom SbFreeRoom;

/* For page `page_index` of `state` and `design`, which is moved about in `turn`, as if the pieces
 * `except` (ids; the moved ones) were not there. Some ten milliseconds for twenty freebies. */
SbFreeRoom *sb_free_room_new (const SbState *state, guint page_index, const SbDesign *design,
                              gint32 turn, const guint *except,
                              guint n_except) G_GNUC_WARN_UNUSED_RESULT;
void sb_free_room_free (SbFreeRoom *room);

/* Turns the moved piece to `turn`, thousandths of a degree; what fits is found anew when asked. */
void sb_free_room_set_turn (SbFreeRoom *room, gint32 turn);

/* How many freebies the job has. */
guint sb_free_room_get_n (const SbFreeRoom *room);

/* How many of them have room, each by itself, while the piece lies with its centre there: a
 * fraction of a millisecond. */
guint sb_free_room_count (SbFreeRoom *room, SbIPoint centre);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbFreeRoom, sb_free_room_free)

G_END_DECLS
