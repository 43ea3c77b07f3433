/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * "2 pieces force sheet 4: shrink, drop or fill?" (handbook section 10), with the figures and the
 * job as each answer leaves it. */
#pragma once

#include <gio/gio.h>

#include "job/state.h"

G_BEGIN_DECLS

typedef struct {
  guint item_id;
  const char *name; /* borrowed from the state that was asked about */
  int missing;
} SbMissing;

typedef struct {
  guint sheet;      /* the number of the sheet that is forced: of all sheets */
  guint pieces;     /* that would be missing without it */
  guint needed;     /* of these, what the order itself needs; the others are overs */
  GArray *missing;  /* SbMissing */
  SbState *dropped; /* the job without that sheet */

  guint extra;     /* copies that gaps have room for, on all sheets; they go to stock */
  SbState *filled; /* the job with them */

  double shrink_percent; /* the least taken off every ordered sticker with which one sheet fewer is
                            enough; 0 where none was found or looked for */
  SbState *shrunk;       /* or NULL */
} SbForced;

#define SB_SHRINK_MOST_PERCENT 10.0
/* A sheet is forced when at most this share of what a sheet holds is all that needs it. */
#define SB_FORCED_SHARE 0.34

/* Looks at the pages as they are laid and printed; NULL when no sheet is forced by a few pieces, or
 * when cancelled. Slow: arranges single pages, and with `shrink` lays the order anew several times,
 * `seconds` at most. */
SbForced *sb_order_find_forced (const SbState *state, gboolean shrink, double seconds,
                                GCancellable *cancellable) G_GNUC_WARN_UNUSED_RESULT;
void sb_forced_free (SbForced *forced);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbForced, sb_forced_free)

G_END_DECLS
