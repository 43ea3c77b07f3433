/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is printed of layouts besides their pieces: backgrounds under them; and over them the marks
 * by which copies are cut apart, folded and punched. */
#pragma once

#include <cairo.h>

#include "job/state.h"

G_BEGIN_DECLS

/* Ticks begin this far from the finished corner and are this long at most, mm. */
#define SB_TICK_FROM_MM 0.6
#define SB_TICK_LENGTH_MM 3.0

/* A background is printed this much past the cut, so that one a little off leaves no rim. */
#define SB_BLEED_MM 1.0

/* All of a page that carries a layout, in millimetres from its top left. */
void sb_laid_paint_grounds (cairo_t *cr, const SbState *state, const SbPage *page);
/* Ticks go on from the cuts and folds outwards, where neither a neighbour nor the edge of what the
 * printer reaches is in their way; a cut or fold that ends there is marked on itself. */
void sb_laid_paint_marks (cairo_t *cr, const SbState *state, guint page_index);

/* The same of a layout seen from inside, in millimetres of its own: without what lies outside. */
void sb_laid_paint_ground (cairo_t *cr, const SbLayout *layout);
void sb_laid_paint_inner_marks (cairo_t *cr, const SbLayout *layout);

/* For planning, not for print: the fold of a header card and the zones at its open ends. */
void sb_laid_paint_plan (cairo_t *cr, const SbLayout *layout);

/* For a header card seen as it is when folded: its front or its back. The user space of `cr`
 * becomes that of the flat card, in the unit it has, of which there are `per_mm` to a millimetre;
 * what is painted then appears with the half's top left corner where 0,0 was, upright, and nothing
 * of the other half. */
void sb_laid_enter_half (cairo_t *cr, const SbLayout *layout, gboolean back, double per_mm);

G_END_DECLS
