/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Two ways to see layouts with what knows only pages and pieces: one layout from inside, as a state
 * of one page; and every page with its layouts' pieces laid out plainly. Pure functions, usable
 * from any thread. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

/* The layout as one page of its finished size, whose margins are its edge distance and whose gap is
 * its own; `view` tells which layout it is. Its pieces, the designs (but for their guides, see
 * sb_layout_get_guide) and all ids are those of the job. NULL when there is no such layout. */
SbState *sb_layout_to_state (const SbState *state, guint layout_id) G_GNUC_WARN_UNUSED_RESULT;

/* For a state that is not published yet: gives the designs the guides they have in the layout. */
void sb_layout_guide_designs (SbState *state, const SbLayout *layout);

/* The job with what was edited in a view of one of its layouts: the pieces of its page, its size,
 * gap and edge distance; its designs. `state` itself (ref'd) where nothing was, or where the layout
 * is gone. */
SbState *sb_layout_from_state (const SbState *state, const SbState *view) G_GNUC_WARN_UNUSED_RESULT;

/* The job with no layouts: their pieces lie on the pages as pieces of these, with new ids. A page's
 * own pieces come first, then those of each placement in turn, in the layout's order. `state`
 * itself (ref'd) where no page carries a layout. */
SbState *sb_state_expand (const SbState *state) G_GNUC_WARN_UNUSED_RESULT;

/* Which piece of its layout the `index`th piece of an expanded page is: of `page`, as it is in the
 * job. NULL for the page's own. */
const SbPiece *sb_page_get_source (const SbState *state, const SbPage *page, guint index);

G_END_DECLS
