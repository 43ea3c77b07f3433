/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Evening: from the front of a growth by w + r back by r, so that inward bends have the radius r,
 * optionally followed by an opening by o. Private to the room. */
#pragma once

#include "border/front.h"
#include "border/path.h"

G_BEGIN_DECLS

/* The closed and opened outline of a front of radius width + nook (mm). `opening` must be less than
 * `width`, so that it never cuts into the border. NULL where rounding has made the parts not fit
 * together, which a plain front makes most unlikely. */
SbPath *sb_even_front (const SbFront *front, double width,
                       double opening) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
