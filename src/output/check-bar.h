/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The check bar: a 100 mm and a 4 in ruler that tell whether a page was printed at 100 %. */
#pragma once

#include <cairo.h>

#include "job/state.h"

G_BEGIN_DECLS

/* Size of the bar with its lettering, mm. */
#define SB_CHECK_BAR_LENGTH_MM 108.0
#define SB_CHECK_BAR_HEIGHT_MM 10.0

/* Where the bar has room on a page: in the printable area, clear of every outline's box; along the
 * foot or the head if it can, else along a side. `*upright` tells that it stands. FALSE when the
 * page has no room. */
gboolean sb_check_bar_find_room (const SbState *state, guint page_index, SbIBox *room,
                                 gboolean *upright);

/* Draws the bar into its room; the user space of `cr` is millimetres of the page. */
void sb_check_bar_draw (cairo_t *cr, const SbIBox *room, gboolean upright);

G_END_DECLS
