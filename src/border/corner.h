/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * True corners. Coverage rounds every corner by about half a pixel; where two straight legs meet
 * the corner is put back where they cross. Private to the room. */
#pragma once

#include "border/trace.h"

G_BEGIN_DECLS

/* Rebuilds the convex corners of one ring of `n` vertices in px, inside on the right hand, but for
 * those that would lie outside of the picture. Appends the ring to `points` (SbPoint) and a guint8
 * for each to `corners`. Of the outposts, those that are still outside are moved to the front;
 * returns how many. */
guint sb_corner_rebuild (const SbPoint *ring, guint n, SbBox picture, SbOutpost *outposts,
                         guint n_outposts, GArray *points, GArray *corners);

G_END_DECLS
