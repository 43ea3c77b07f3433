/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One question: do these copies fit this box together? */
#pragma once

#include <gio/gio.h>

#include "packing/random.h"
#include "packing/task.h"

G_BEGIN_DECLS

/* What a search may spend, and what it has spent. */
typedef struct {
  gint64 deadline;     /* monotonic time, us; decides only when to stop */
  guint64 effort;      /* evaluations in all; 0 = by time alone */
  guint64 evaluations; /* used so far */
  GCancellable *cancellable;
} SbBudget;

/* Whether the time or the effort is used up, or somebody has cancelled. */
gboolean sb_budget_is_spent (const SbBudget *budget);

/* What fits of one task share: the keep-out regions met, which are most of the work at first. The
 * task's shapes must all be there, and it must outlive it. One thread only. */
typedef struct _SbFitter SbFitter;

/* Knows no region yet. */
SbFitter *sb_fitter_new (const SbTask *task) G_GNUC_WARN_UNUSED_RESULT;
void sb_fitter_free (SbFitter *fitter);

/* Moves the copies of `placings` (which may overlap; the fixed ones stay) until they lie in `box`
 * without overlap and pass sb_task_check. Two threads search on their own; the same random
 * numbers, `most` and effort give the same answer. Gives up after `most` evaluations.
 *
 * Returns TRUE and the layout in `placings`, in the same order; FALSE leaves them as they were. */
gboolean sb_fit (SbFitter *fitter, SbIBox box, SbPlacing *placings, guint n, SbRandom *random,
                 guint64 most, SbBudget *budget);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbFitter, sb_fitter_free)

G_END_DECLS
