/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The inside of a split. */
#pragma once

#include "picture/split.h"

G_BEGIN_DECLS

/* A painting. */
typedef struct {
  SbSplitPart box; /* px of all that is not clear */
  GArray *ends;    /* of SbPoint: the corners of its first and last solid pixel of each row */
} SbSplitPainting;

enum {
  SB_SPLIT_EMPTY = -1,    /* paper */
  SB_SPLIT_LEFT_OUT = -2, /* something that is no painting */
};

struct _SbSplit {
  gatomicrefcount refs;
  cairo_surface_t *surface;
  double least; /* px */
  int cell;     /* px */
  int columns, rows;
  int *owner;       /* of each cell: the painting's number, or one of the above */
  GPtrArray *parts; /* SbSplitPainting */
};

/* The outline of the cells that are nearer to a painting's own than to any other's, up to half the
 * gap: one polygon, what lies apart joined by lines there and back. */
GArray *sb_split_trace (const SbSplit *split, int number);

G_END_DECLS
