/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What if this design were a little smaller: how many more of it would fit on the pages there are?
 * Grown, packed and checked, not guessed. */
#pragma once

#include <gio/gio.h>

#include "job/state.h"

G_BEGIN_DECLS

/* One size tried. */
typedef struct {
  double smaller_mm;          /* taken off the longer side of the finished size */
  double width_mm, height_mm; /* the finished size then */
  guint more;                 /* copies that fit besides those that lie there */
  SbState *state;             /* the job with that size and those copies; valid. Owned */
} SbWhatIf;

/* For a design with pieces on the pages that are not pinned: finished sizes down to `least_factor`
 * of the present artwork (0.5..1) are tried, the border keeping its width, every other piece
 * staying where it is, and the pieces of this design laid anew; `seconds` limits the search. For an
 * ordered design freebies make room, and fill what gaps are left afterwards. An
 * ordered design is wanted as often as it then lies. Returns an array of SbWhatIf that frees its
 * items: the present size first, then each least reduction found that fits more than the one
 * before; empty when the design has no such piece. NULL when cancelled (G_IO_ERROR_CANCELLED) or
 * when the design cannot be grown in a size. Slow: run it in a thread. */
GArray *sb_what_if (const SbState *state, guint design_id, double least_factor, double seconds,
                    GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
