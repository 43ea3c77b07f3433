/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The findings and figures of the open job, kept up to date in a thread while the maker works.
 * There is one run at a time; a job that changes meanwhile is run again afterwards, so that a drag
 * sees findings as fast as they can be made and never waits for them. Main thread only.
 *
 * Signal "changed" when newer findings or figures are there. */
#pragma once

#include "job/job.h"
#include "proof/proof.h"

G_BEGIN_DECLS

#define SB_TYPE_CHECKER (sb_checker_get_type ())
G_DECLARE_FINAL_TYPE (SbChecker, sb_checker, SB, CHECKER, GObject)

/* Begins to check at once, and follows the job from then on. */
SbChecker *sb_checker_new (SbJob *job, SbUnit unit) G_GNUC_WARN_UNUSED_RESULT;

/* The unit of the findings' sentences. */
void sb_checker_set_unit (SbChecker *self, SbUnit unit);

/* TRUE while what is told may be older than the job. */
gboolean sb_checker_is_behind (SbChecker *self);

/* Worst first; SbFinding. Borrowed until "changed"; empty before the first run. */
GPtrArray *sb_checker_get_findings (SbChecker *self);
guint sb_checker_count (SbChecker *self, SbSeverity severity);

/* Of one page; NULL when there is no such page (yet). Borrowed until "changed". */
const SbPageFigures *sb_checker_get_figures (SbChecker *self, guint page_index);

G_END_DECLS
