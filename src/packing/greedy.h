/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The first answer: copies laid one after the other, each at the free place nearest to one side, by
 * free maps. Valid, quick and not tight. */
#pragma once

#include "packing/task.h"

G_BEGIN_DECLS

typedef enum {
  SB_TOWARDS_TOP,
  SB_TOWARDS_LEFT,
} SbTowards;

/* Lays copies of `shapes` (indices, in this order; equal ones best side by side) into `box` among
 * `placings` (SbPlacing), which grows by what fits; a new placing's tag is its place in `shapes`.
 * `step` is the grid in um. Returns how many were laid. */
guint sb_greedy_lay (const SbTask *task, SbIBox box, SbTowards towards, sb_um step,
                     GArray *placings, const guint *shapes, guint n);

/* The order for sb_greedy_lay: by area, largest first; equal shapes stay together. Sorts indices
 * into the task's shapes. */
void sb_greedy_sort (const SbTask *task, guint *shapes, guint n);

G_END_DECLS
