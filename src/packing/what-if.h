/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What if this design were a little smaller: how many more of it would fit on the pages there are?
 * Packed and checked, not guessed. */
#pragma once

#include <gio/gio.h>

#include "job/state.h"

G_BEGIN_DECLS

/* One size tried. */
typedef struct {
  double smaller_mm;          /* taken off the longer side of the finished size */
  double width_mm, height_mm; /* the finished size then */
  guint more;                 /* copies that fit besides those that lie there */
} SbWhatIf;

/* For a design with pieces on the pages: finished sizes down to `least_factor` of the present one
 * (0.5..1) are packed, every other piece staying where it is, and the pieces of this design laid
 * anew; `seconds` limits the search. Returns an array of SbWhatIf (free with g_array_unref): the
 * present size first, then each least reduction found that fits more than the one before; empty
 * when the design has no piece. The whole outline is scaled, border and all. NULL and
 * G_IO_ERROR_CANCELLED when cancelled. Slow: run it in a thread. */
GArray *sb_what_if (const SbState *state, guint design_id, double least_factor, double seconds,
                    GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
