/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The largest free spot of each page, outlined and measured: part of the overlay of waste. */
#pragma once

#include "window/canvas/page-paint.h"
#include "window/desk/checker.h"

G_BEGIN_DECLS

/* The spots in view as they are known; an empty box where a page has none. Array of SbIBox, an
 * entry a page. */
GArray *sb_free_spots_list (SbChecker *checker, guint n_pages) G_GNUC_WARN_UNUSED_RESULT;

gboolean sb_free_spots_equal (const GArray *a, const GArray *b);

/* A new node, or NULL when none is in view. */
GskRenderNode *sb_free_spots_paint (const SbPagePaint *paint,
                                    const GArray *spots) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
