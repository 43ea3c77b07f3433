/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Arranging a job: wanted designs onto as few pages as they need, around pinned pieces; then
 * freebies into what is left. Every state handed out is valid by the exact check of
 * geometry/relation.h. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

typedef struct {
  guint64 seed;
  double seconds; /* time after which it stops, filling and all; decides only when to stop */
  guint64 effort; /* evaluations after which it stops; 0 = by time alone. Same seed and effort give
                     the same layout on any machine. */
  gboolean fill;  /* freebies into the gaps afterwards */
  gboolean rows;  /* straight rows: full-length lanes for ruler and knife */
} SbArrangeParams;

SbArrangeParams sb_arrange_params_default (void);

typedef struct {
  guint placed, unplaced; /* copies of ordered designs; unplaced: larger than the printable area */
  guint freebies;
  guint pages;
  double waste_before_percent, waste_after_percent; /* mean over the pages used */
  guint64 evaluations;
  double seconds;
} SbArrangeReport;

/* Called from the arranging thread with a better valid layout (a state to show; borrowed) and how
 * far it is (0..1). Return FALSE for "Enough": the best so far is the result. */
typedef gboolean (*SbArrangeProgress) (SbState *better, double fraction, gpointer data);

/* Arranges; returns the new state. Cancelling gives G_IO_ERROR_CANCELLED and nothing else. Slow:
 * run in a thread. */
SbState *sb_arrange (const SbState *state, const SbArrangeParams *params,
                     SbArrangeProgress progress, gpointer data, GCancellable *cancellable,
                     SbArrangeReport *report, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Freebies into the free space only; nothing that lies moves. What of it is done after
 * `params->seconds` counts. */
SbState *sb_fill_gaps (const SbState *state, const SbArrangeParams *params,
                       GCancellable *cancellable, SbArrangeReport *report,
                       GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
