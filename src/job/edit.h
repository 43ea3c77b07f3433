/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every change a maker can make, as a function from a state to the next one. The old state is never
 * touched. A function returns a new reference; where nothing would change it returns the old state
 * again (ref'd), so that history can skip it. Ids that do not exist are a caller's mistake
 * (g_critical); numbers past their range are taken to its end. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

/* "radish" and 2: "radish 2", within SB_NAME_MOST. New. */
char *sb_name_number (const char *name, guint number) G_GNUC_WARN_UNUSED_RESULT;

/* Designs. The name is made unique ("radish 2"). `design` (prepared, id 0) is consumed; its id is
 * told. */
SbState *sb_edit_add_design (const SbState *state, SbDesign *design, guint *design_id);
/* Puts a changed copy (same id, prepared) in the old one's place; pieces keep their centres.
 * Consumes `design`. */
SbState *sb_edit_replace_design (const SbState *state, SbDesign *design);
/* Changes the outline by hand (NULL: takes all such changes back). The artwork of its pieces stays
 * where it is on the page, so their centres move. */
SbState *sb_edit_set_hand (const SbState *state, guint design_id, SbHand *hand);
/* Takes its pieces off the pages and out of the layouts too. */
SbState *sb_edit_remove_design (const SbState *state, guint design_id);
SbState *sb_edit_reorder_design (const SbState *state, guint design_id, guint position);

/* Pieces. `piece`'s id is ignored when adding; the new one's is told. */
SbState *sb_edit_add_piece (const SbState *state, guint page_index, SbPiece piece, guint *piece_id);
/* Replaces pieces by id with the given values (place, turn, pin), on whichever page they lie. */
SbState *sb_edit_set_pieces (const SbState *state, const SbPiece *pieces, guint n);
SbState *sb_edit_remove_pieces (const SbState *state, const guint *piece_ids, guint n);
SbState *sb_edit_move_pieces_to_page (const SbState *state, const guint *piece_ids, guint n,
                                      guint page_index);
/* Raises pieces to the top of the drawing order. */
SbState *sb_edit_raise_pieces (const SbState *state, const guint *piece_ids, guint n);

/* Pages. */
SbState *sb_edit_add_page (const SbState *state, guint position);
SbState *sb_edit_remove_page (const SbState *state,
                              guint page_index); /* the last one is emptied instead */
/* All pages at once: what arranging and laying of layouts give back. Consumes nothing. Pages
 * without an id (0) get one, pieces too. */
SbState *sb_edit_set_pages (const SbState *state, SbPage *const *pages, guint n);

/* Layouts. The name is made unique. `layout` (id 0, its pieces' ids 0 where they are new) is
 * consumed; its id is told. */
SbState *sb_edit_add_layout (const SbState *state, SbLayout *layout, guint *layout_id);
/* Puts a changed copy (same id) in the old one's place; pieces without an id get one. Pages that it
 * is laid on keep its copies where they are. Consumes `layout`. */
SbState *sb_edit_replace_layout (const SbState *state, SbLayout *layout);
/* Takes its pages away too. */
SbState *sb_edit_remove_layout (const SbState *state, guint layout_id);

/* The sheet. */
SbState *sb_edit_set_paper (const SbState *state, const char *paper_name, sb_um width,
                            sb_um height);
/* The paper is then printed with margins. */
SbState *sb_edit_set_margins (const SbState *state, SbMargins margins, SbMarginsSource source);
/* Printed borderless, enlarged past each edge by `overshoot` (1..SB_OVERSHOOT_MOST um). */
SbState *sb_edit_set_borderless (const SbState *state, sb_um overshoot);
SbState *sb_edit_set_check_bar (const SbState *state, gboolean check_bar);
SbState *sb_edit_set_printer (const SbState *state, const char *printer);
SbState *sb_edit_set_gap (const SbState *state, sb_um gap);
SbState *sb_edit_set_stock (const SbState *state, const SbStock *stock);

/* The order: a changed copy of the state's. Consumes `order`. */
SbState *sb_edit_set_order (const SbState *state, SbOrder *order);

G_END_DECLS
