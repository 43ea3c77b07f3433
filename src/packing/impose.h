/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Imposition: equal copies of a layout on pages, as many as straight cuts across what is left can
 * free, upright and turned by a quarter. Deterministic, usable from any thread. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

/* As many rectangles of `width` x `height` um as fit into `room`, `lane` um apart, in the middle of
 * it: strips are cut off its left or its top, each a single column or row of copies that lie alike,
 * until nothing fits. Array of SbPlacement; empty when not even one fits. */
GArray *sb_impose (SbIBox room, sb_um width, sb_um height, sb_um lane) G_GNUC_WARN_UNUSED_RESULT;

/* Where finished copies of a layout may lie on a page of the job: on the paper, and no farther past
 * the printable area than what is on them keeps from their edges. With a background, which reaches
 * to the edges, only in the printable area. */
SbIBox sb_impose_get_room (const SbState *state, const SbLayout *layout);

/* What stickers on a new sheet keep from its edges: the kind's distance, and no less than the
 * printer's least margin, so that sheets may lie on the paper's edge there. */
sb_um sb_impose_get_usual_edge (const SbState *state, const SbLayout *sheet);

/* How many copies one page takes. */
guint sb_impose_count (const SbState *state, const SbLayout *layout);

/* The job with the wanted copies of a layout on as few pages as they need, the last of which may
 * carry fewer: its earlier pages are used first, those left over go; all of them come behind the
 * other pages. Takes an empty only page of the job for the first. `state`
 * itself (ref'd) where nothing changes, as when the layout is larger than the page. */
SbState *sb_impose_layout (const SbState *state, guint layout_id) G_GNUC_WARN_UNUSED_RESULT;

/* The same for every layout that is on pages: paper or margins are others. */
SbState *sb_impose_all (const SbState *state) G_GNUC_WARN_UNUSED_RESULT;

/* A spot for a test cut, beside the sheets of a page, that finds the knife's pressure before it
 * matters (handbook section 10). */
#define SB_TEST_CORNER_UM 10000

/* FALSE when the page carries no sticker sheets, or loose pieces too, or no such spot is left in
 * the printable area. */
gboolean sb_impose_find_test_corner (const SbState *state, guint page_index, SbIBox *corner);

G_END_DECLS
