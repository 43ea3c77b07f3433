/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Copies on pages of one size: as few pages as can be found, then the last one as empty as can be,
 * so that the paper left over is one good piece. */
#pragma once

#include "packing/fit.h"

G_BEGIN_DECLS

/* A layout of pages. */
typedef struct {
  const SbTask *task;
  SbIBox box;
  GPtrArray *pages; /* GArray of SbPlacing each; none empty but perhaps the first */
} SbPages;

/* No page yet, for copies of the task's shapes (which must outlive them) inside `box`, um. */
SbPages *sb_pages_new (const SbTask *task, SbIBox box) G_GNUC_WARN_UNUSED_RESULT;
SbPages *sb_pages_copy (const SbPages *pages) G_GNUC_WARN_UNUSED_RESULT;
void sb_pages_free (SbPages *pages);

/* Adds an empty page; borrowed. */
GArray *sb_pages_add (SbPages *pages);

/* Lays `copies` (their shape and tag count) into the free space of the pages there are and as many
 * new ones as it takes, quickly. Copies larger than a page in all their turns are left out. */
void sb_pages_lay (SbPages *pages, const SbPlacing *copies, guint n, SbBudget *budget);

/* Whether `a` is the better layout: fewer pages, then less of the last one used. */
gboolean sb_pages_better (const SbPages *a, const SbPages *b);

/* Told of each better layout (borrowed); FALSE to stop. */
typedef gboolean (*SbPagesProgress) (const SbPages *better, gpointer data);

/* Searches on from a valid layout until the budget is spent or nothing is left to gain. Fixed
 * copies stay where they are, on their page. */
void sb_pages_improve (SbPages *pages, guint64 seed, SbBudget *budget, SbPagesProgress progress,
                       gpointer data);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbPages, sb_pages_free)

G_END_DECLS
