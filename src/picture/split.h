/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One cleaned scan into the several paintings on it. */
#pragma once

#include "picture/quad.h"

G_BEGIN_DECLS

/* What is one painting. */
typedef struct {
  double gap_mm;   /* islands that are not farther apart belong together; 2.5 */
  double least_mm; /* what is smaller both ways is left out; 5 */
} SbSplitParams;

SbSplitParams sb_split_params_default (void);

/* The box of one painting, px of the scan; x1 and y1 lie just outside. */
typedef struct {
  int x0, y0, x1, y1;
} SbSplitPart;

/* Immutable, reference-counted. */
typedef struct _SbSplit SbSplit;

/* Finds the paintings of `surface` (ARGB32, cleaned: clear where there is paper), sorted as people
 * read: rows from the top, each from the left. There may be none. NULL when cancelled. */
SbSplit *sb_split_new (cairo_surface_t *surface, double px_per_mm, const SbSplitParams *params,
                       GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
SbSplit *sb_split_ref (SbSplit *split);
void sb_split_unref (SbSplit *split);

guint sb_split_get_n_parts (const SbSplit *split);
SbSplitPart sb_split_get_part (const SbSplit *split, guint i);
/* The painting at a place (px of the scan), or -1. */
int sb_split_find_part (const SbSplit *split, double x, double y);

/* Corrections; each gives a new split. */
/* Paintings that are one after all. `parts` are `n` different numbers. */
SbSplit *sb_split_join (const SbSplit *split, const guint *parts,
                        guint n) G_GNUC_WARN_UNUSED_RESULT;
/* What of a painting lies inside a lasso (px of the scan) is another one. The same split again when
 * that is nothing, or all. */
SbSplit *sb_split_part_along (const SbSplit *split, guint part, const SbPoint *lasso,
                              guint n) G_GNUC_WARN_UNUSED_RESULT;
/* No painting after all. */
SbSplit *sb_split_drop (const SbSplit *split, guint part) G_GNUC_WARN_UNUSED_RESULT;

/* By how much the painting is turned: of the least rectangle around it, -45..45 degrees
 * clockwise; 0 where an upright one is as good, as for anything round. */
double sb_split_get_turn (const SbSplit *split, guint i);

/* What to show of a scan `width` px wide for one painting alone: its box, or with `straighten` the
 * least rectangle around it, upright. */
SbQuad sb_split_get_quad (const SbSplit *split, guint i, gboolean straighten);

/* A polygon (SbPoint, px of the scan) around the painting that keeps out whatever else reaches into
 * its quad. NULL where nothing does. */
GArray *sb_split_get_lasso (const SbSplit *split, guint i) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbSplit, sb_split_unref)

G_END_DECLS
