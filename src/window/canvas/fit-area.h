/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where a dragged piece fits on a page: the paper it could cover without touching its neighbours,
 * to tint, and the nearest place where it lies right. */
#pragma once

#include "window/parts/palette.h"
#include "window/pictures/pixels.h"

#include "job/state.h"

G_BEGIN_DECLS

typedef struct _SbFitArea SbFitArea;

/* For `design` at `turn` on a page of `state`, as if the pieces `except` were not there. Some
 * milliseconds. */
SbFitArea *sb_fit_area_new (const SbState *state, guint page, const SbDesign *design, gint32 turn,
                            const guint *except, guint n_except,
                            const SbPalette *palette) G_GNUC_WARN_UNUSED_RESULT;
void sb_fit_area_free (SbFitArea *area);

/* Goes on looking in a thread: where it fits in the other turns its design may take, when `turns`
 * (the tint then shows them all); and which freebies still have room. The arguments are those the
 * area was made with. `changed_cb` is called with the area and `data` when that is known; not once
 * the area is freed or turned. */
void sb_fit_area_look_further (SbFitArea *area, const SbState *state, gint32 turn, gboolean turns,
                               const guint *except, guint n_except, const SbPalette *palette,
                               GFunc changed_cb, gpointer data);

/* The same in another turn. */
void sb_fit_area_set_turn (SbFitArea *area, gint32 turn, const SbPalette *palette);

guint sb_fit_area_get_page (const SbFitArea *area);

/* The tint and where it lies on the page (um); NULL when it fits nowhere. Borrowed. */
SbPixels *sb_fit_area_get_tint (const SbFitArea *area, SbBox *box_um);

/* The nearest free centre within `reach_um` of one that is not free; FALSE when `centre` is free
 * itself, or none is near. */
gboolean sb_fit_area_find_near (const SbFitArea *area, SbIPoint centre, double reach_um,
                                SbIPoint *nearest);

/* The nearest free centre within `reach_um` of one that is not free, in another turn (thousandths
 * of a degree). FALSE when `centre` is free as it is, none is near, or no other turn was looked at.
 */
gboolean sb_fit_area_find_turn (const SbFitArea *area, SbIPoint centre, double reach_um,
                                SbIPoint *nearest, gint32 *turn);

/* The largest finished size that has room about `centre`, and how many freebies still have room
 * elsewhere then, to show; NULL when next to nothing is known or has room. New. */
char *sb_fit_area_tell (const SbFitArea *area, SbIPoint centre, SbUnit unit);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbFitArea, sb_fit_area_free)

G_END_DECLS
