/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where a dragged piece fits on a page: the paper it could cover without touching its neighbours,
 * to tint, and the nearest place where it lies right. */
#pragma once

#include "window/palette.h"
#include "window/pixels.h"

#include "job/state.h"

G_BEGIN_DECLS

typedef struct _SbFitArea SbFitArea;

/* For `design` at `turn` on a page of `state`, as if the pieces `except` were not there. Some
 * milliseconds. */
SbFitArea *sb_fit_area_new (const SbState *state, guint page, const SbDesign *design, gint32 turn,
                            const guint *except, guint n_except,
                            const SbPalette *palette) G_GNUC_WARN_UNUSED_RESULT;
void sb_fit_area_free (SbFitArea *area);

/* The same in another turn. */
void sb_fit_area_set_turn (SbFitArea *area, gint32 turn, const SbPalette *palette);

guint sb_fit_area_get_page (const SbFitArea *area);

/* The tint and where it lies on the page (um); NULL when it fits nowhere. Borrowed. */
SbPixels *sb_fit_area_get_tint (const SbFitArea *area, SbBox *box_um);

/* The nearest free centre within `reach_um` of one that is not free; FALSE when `centre` is free
 * itself, or none is near. */
gboolean sb_fit_area_find_near (const SbFitArea *area, SbIPoint centre, double reach_um,
                                SbIPoint *nearest);

/* The largest finished size that has room about `centre`, as a sentence to show; NULL when next to
 * nothing has. New. */
char *sb_fit_area_tell_largest (const SbFitArea *area, SbIPoint centre, SbUnit unit);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbFitArea, sb_fit_area_free)

G_END_DECLS
