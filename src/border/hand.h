/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Changes of an outline by hand: its points moved, added and removed. They are kept apart from the
 * outline they were made on, as places on it and ways from there, so that they can be made again
 * on the outline of another border: each looks for the nearest place, and what lies within its
 * reach goes along.
 *
 * Immutable and reference-counted; may be used from any thread. Millimetres in the artwork's
 * frame. NULL stands for no change at all. */
#pragma once

#include "geometry/outline.h"

G_BEGIN_DECLS

typedef enum {
  SB_HAND_MOVED,
  SB_HAND_ADDED,
  SB_HAND_REMOVED,
} SbHandKind;

typedef struct {
  SbHandKind kind;
  SbPoint at;           /* the place on the grown outline */
  SbPoint by;           /* from there to where the point is now; 0,0 when removed */
  double before, after; /* along the grown outline: how far the change reaches each way */
} SbHandChange;

#define SB_HAND_MOST 500          /* changes */
#define SB_HAND_REACH_MOST 6000.0 /* before and after */

typedef struct _SbHand SbHand;

/* Copies the changes; the first SB_HAND_MOST of them. NULL where there is none. */
SbHand *sb_hand_new (const SbHandChange *changes, guint n) G_GNUC_WARN_UNUSED_RESULT;
SbHand *sb_hand_ref (SbHand *hand);
void sb_hand_unref (SbHand *hand); /* NULL is passed over */
guint sb_hand_get_n (const SbHand *hand);
const SbHandChange *sb_hand_get (const SbHand *hand, guint i);
gboolean sb_hand_equal (const SbHand *a, const SbHand *b);

/* The same changes on artwork printed at another size. */
SbHand *sb_hand_scale (const SbHand *hand, double x, double y) G_GNUC_WARN_UNUSED_RESULT;

/* `grown` with the changes made. The result never crosses itself where `grown` does not: of changes
 * that do not go together with this outline the last ones are left out, and `*left_out` (may be
 * NULL) says how many. New. */
SbOutline *sb_hand_apply (const SbHand *hand, const SbOutline *grown,
                          guint *left_out) G_GNUC_WARN_UNUSED_RESULT;

/* A point of the changed outline that can be taken hold of. */
typedef struct {
  SbPoint p;
  guint ring;
  int change;           /* the change that put it there, or -1 */
  SbPoint at;           /* its place on the grown outline */
  double before, after; /* to its neighbours, along the grown outline */
} SbHandPoint;

/* All points, ring by ring in the outline's direction. Array of SbHandPoint, free with
 * g_array_unref. */
GArray *sb_hand_get_points (const SbHand *hand, const SbOutline *grown) G_GNUC_WARN_UNUSED_RESULT;

/* One more change; `point` counts through sb_hand_get_points. FALSE, and nothing done, where the
 * outline would cross itself, where a ring would have fewer than SB_HAND_LEAST_POINTS or where
 * there are too many changes. `*changed` is new, or NULL when it takes the last change back. */
#define SB_HAND_LEAST_POINTS 3
gboolean sb_hand_move (const SbHand *hand, const SbOutline *grown, guint point, SbPoint to,
                       SbHand **changed);
gboolean sb_hand_remove (const SbHand *hand, const SbOutline *grown, guint point, SbHand **changed);
/* Adds a point where the changed outline comes nearest to `near`; FALSE too where there is one
 * already. `*point` becomes its number. */
gboolean sb_hand_add (const SbHand *hand, const SbOutline *grown, SbPoint near, SbHand **changed,
                      guint *point);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbHand, sb_hand_unref)

G_END_DECLS
