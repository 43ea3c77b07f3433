/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * So many copies of so many designs on new pages: what plan.c and forced.c ask of the arranger. */
#pragma once

#include <gio/gio.h>

#include "job/state.h"

G_BEGIN_DECLS

typedef struct {
  guint design_id;
  int copies;
} SbCopies;

/* The job with one empty page, where ordered designs want nothing. New. */
SbState *sb_copies_clear (const SbState *state) G_GNUC_WARN_UNUSED_RESULT;

/* Lays the copies on pages of their own, with an effort that goes by their number and stops at
 * `deadline` (g_get_monotonic_time) at the latest. `cleared` comes from sb_copies_clear. NULL when
 * cancelled. */
SbState *sb_copies_arrange (const SbState *cleared, const SbCopies *layings, guint n, guint64 seed,
                            gint64 deadline, GCancellable *cancellable) G_GNUC_WARN_UNUSED_RESULT;

/* The same, of which only the fullest page that was found is wanted; stops when it holds all. */
SbPage *sb_copies_fill_page (const SbState *cleared, const SbCopies *layings, guint n, guint64 seed,
                             gint64 deadline, GCancellable *cancellable) G_GNUC_WARN_UNUSED_RESULT;

/* The first `n` pieces of a page as a new page: without ids, which it gets where it is put in. */
SbPage *sb_copies_take_page (const SbPage *page, guint n) G_GNUC_WARN_UNUSED_RESULT;

/* Every design wants what lies on the pages; freebies keep their limit. Consumes `state`. */
SbState *sb_copies_want_placed (SbState *state) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
