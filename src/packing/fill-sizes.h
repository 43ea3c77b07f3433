/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The sizes in which filling may lay a freebie: designs of their own, which keep the width of the
 * border. */
#pragma once

#include <gio/gio.h>

#include "job/state.h"

G_BEGIN_DECLS

/* The design it is another size of; NULL when it is none, or when that one is gone or no freebie
 * any more: then it stands for itself. Borrowed. */
const SbDesign *sb_filling_get_parent (const SbState *state, const SbDesign *design);

/* The sizes of `design`, a freebie of the state that stands for itself, greatest first: array of
 * SbDesign, one at least. Those of the state are what they are; others are prepared and have id 0,
 * to be added when they are laid. Slow: borders are grown. A size that cannot be grown is left
 * out. */
GPtrArray *sb_filling_get_sizes (const SbState *state, SbDesign *design,
                                 GCancellable *cancellable) G_GNUC_WARN_UNUSED_RESULT;

/* The state without the sizes that lie nowhere. Consumes and returns a reference. */
SbState *sb_filling_drop_unused (SbState *state) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
