/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One cleaned scan into the several paintings on it. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

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

typedef struct _SbSplit SbSplit;

/* Finds the paintings of `surface` (ARGB32, cleaned: clear where there is paper), sorted as people
 * read: rows from the top, each from the left. There may be none. NULL when cancelled. */
SbSplit *sb_split_new (cairo_surface_t *surface, double px_per_mm, const SbSplitParams *params,
                       GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void sb_split_free (SbSplit *split);

guint sb_split_get_n_parts (const SbSplit *split);
SbSplitPart sb_split_get_part (const SbSplit *split, guint i);

/* The painting alone, without what else reaches into its box: a new ARGB32 surface of its box's
 * size. `surface` is the one the split was made of. NULL with an error when there is no memory. */
cairo_surface_t *sb_split_cut (const SbSplit *split, guint i, cairo_surface_t *surface,
                               GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbSplit, sb_split_free)

G_END_DECLS
