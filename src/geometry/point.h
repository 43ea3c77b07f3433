/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Points, boxes and transforms. Doubles are millimetres, integers micrometres; x grows to the right
 * and y downwards, so a positive turn goes clockwise as a person sees it. Plain values on the
 * stack. */
#pragma once

#include "measure/length.h"

G_BEGIN_DECLS

typedef struct {
  double x, y;
} SbPoint;

typedef struct {
  sb_um x, y;
} SbIPoint;

/* A box from its least to its greatest corner. An empty box has x1 < x0. */
typedef struct {
  double x0, y0, x1, y1;
} SbBox;

typedef struct {
  sb_um x0, y0, x1, y1;
} SbIBox;

/* x' = xx x + xy y + x0,  y' = yx x + yy y + y0 */
typedef struct {
  double xx, yx, xy, yy, x0, y0;
} SbTransform;

#define SB_TRANSFORM_IDENTITY ((SbTransform){1, 0, 0, 1, 0, 0})
#define SB_BOX_EMPTY ((SbBox){1, 1, 0, 0})

/* Turns by `degrees` about (`from`), then moves `from` to `to`. Quarter turns are exact. */
SbTransform sb_transform_turn (SbPoint from, double degrees, SbPoint to);

/* First `first`, then `then`. */
SbTransform sb_transform_chain (SbTransform first, SbTransform then);

/* FALSE when `t` squashes the plane to a line. */
gboolean sb_transform_invert (SbTransform t, SbTransform *inverse);

SbPoint sb_transform_point (SbTransform t, SbPoint p);

/* Rounds a point in millimetres to micrometres. */
SbIPoint sb_point_round (SbPoint p);

SbBox sb_box_union (SbBox a, SbBox b);
SbBox sb_box_add (SbBox box, SbPoint p);
gboolean sb_box_is_empty (SbBox box);
SbPoint sb_box_centre (SbBox box);

G_END_DECLS
