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

gboolean sb_budget_is_spent (const SbBudget *budget);

/* Moves the copies of `placings` (which may overlap; the fixed ones stay) until they lie in `box`
 * without overlap and pass sb_task_check. Two threads search on their own; the same random
 * numbers, `most` and effort give the same answer. Gives up after `most` evaluations.
 *
 * Returns TRUE and the layout in `placings`, in the same order; FALSE leaves them as they were. */
gboolean sb_fit (const SbTask *task, SbIBox box, SbPlacing *placings, guint n, SbRandom *random,
                 guint64 most, SbBudget *budget);

G_END_DECLS
