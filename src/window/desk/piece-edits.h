/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the keyboard and the menus do to selected pieces, as functions from a state to the next one.
 * Each returns a new reference, the old state again where nothing would change. No GTK. */
#pragma once

#include "job/edit.h"

G_BEGIN_DECLS

typedef enum {
  SB_ALIGN_LEFT,
  SB_ALIGN_CENTRE,
  SB_ALIGN_RIGHT,
  SB_ALIGN_TOP,
  SB_ALIGN_MIDDLE,
  SB_ALIGN_BOTTOM,
} SbAlign;

/* Moves pieces by um; they stay on their pages. */
SbState *sb_pieces_move (const SbState *state, const guint *ids, guint n, sb_um dx, sb_um dy);

/* Turns a single piece about its centre, several about the middle of their common box on each page.
 * `by` in thousandths of a degree. */
SbState *sb_pieces_turn (const SbState *state, const guint *ids, guint n, gint32 by);

/* Arranging leaves pinned pieces where they are. */
SbState *sb_pieces_set_pinned (const SbState *state, const guint *ids, guint n, gboolean pinned);

/* Lines up the outlines' boxes of the pieces of each page with their common box; one alone with the
 * printable area. */
SbState *sb_pieces_align (const SbState *state, const guint *ids, guint n, SbAlign align);

/* Equal gaps between the outlines' boxes, the outermost two staying; three or more on a page. */
SbState *sb_pieces_distribute (const SbState *state, const guint *ids, guint n, gboolean down);

/* The common box of each page's pieces to the middle of the printable area. */
SbState *sb_pieces_centre (const SbState *state, const guint *ids, guint n);

/* Copies of pieces, moved by (dx, dy) um, in drawing order of `ids`; the copies' ids are appended
 * to `copies`. Copies are not pinned. */
SbState *sb_pieces_duplicate (const SbState *state, const guint *ids, guint n, sb_um dx, sb_um dy,
                              GArray *copies);

/* A grid of columns x rows in which the pieces as they are come first; steps in um. */
SbState *sb_pieces_repeat (const SbState *state, const guint *ids, guint n, guint columns,
                           guint rows, sb_um step_x, sb_um step_y, GArray *copies);

/* The common box of the outlines, um, whatever pages they lie on; `n` is 1 or more. */
SbIBox sb_pieces_get_box (const SbState *state, const guint *ids, guint n);

/* The box of a piece's outline on its page, um. */
SbIBox sb_piece_get_box (const SbState *state, const SbPiece *piece);

/* Moves a piece, of the state or not, to the nearest place on a page where it keeps its gap from
 * all others (itself too, when it is of the state) and lies inside. FALSE, and it stays, when there
 * is none. Takes some milliseconds. */
gboolean sb_piece_find_room (const SbState *state, guint page_index, SbPiece *piece);

G_END_DECLS
