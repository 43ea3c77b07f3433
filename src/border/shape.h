/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Simple outlines around the artwork: box, circle, ellipse and hull. Private to the room. */
#pragma once

#include "border/border.h"
#include "border/chain.h"
#include "border/path.h"

G_BEGIN_DECLS

/* One loop that keeps params->width_mm to all of the artwork. */
SbPath *sb_shape_path (const SbChain *chain,
                       const SbBorderParams *params) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
