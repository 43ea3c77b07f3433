/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The order is made: what is left of it goes to stock. Thread-safe. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

/* The order as it stands afterwards, new: each item's stock is what was in hand and printed less
 * what was spoiled and what the packs and singles took; made packs less those ordered; recipes and
 * rates stay, counts are 0, and the pages belong to no order any more. */
SbOrder *sb_order_finish (const SbState *state) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
