/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is printed to work and pack by. Plain paper, portrait, in the job's paper size where that is
 * no smaller than A5, else A4. PDFs without dates; the same order gives the same bytes. */
#pragma once

#include <gio/gio.h>

#include "job/state.h"

G_BEGIN_DECLS

/* What to print how often, what to cut and what to pack, each with a box to tick; then what to take
 * care of. */
GBytes *sb_order_make_tick_list (const SbState *state, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* What goes to the buyer: order, date and batch (lines to write on where they are empty), the packs
 * and singles with boxes to tick, maker, thanks and returns, cautions. */
GBytes *sb_order_make_packing_slip (const SbState *state, GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
