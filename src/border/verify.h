/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Is an outline fit to be cut? Private to the room. */
#pragma once

#include "geometry/outline.h"

G_BEGIN_DECLS

/* Simple: no curve crosses itself or another, nor comes within a nanometre of it. What passes has
 * been shown on the curves themselves, by boxes around their control points. */
gboolean sb_verify_simple (const SbOutline *outline);

/* No inward bend is tighter than 0.95 nook_mm, and no corner turns inwards by two degrees.
 */
gboolean sb_verify_nooks (const SbOutline *outline, double nook_mm);

G_END_DECLS
