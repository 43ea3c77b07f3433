/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is packed, apart from any job: shapes, the gap between them, and where copies lie. The job
 * (packing/arrange.h), strips and the benchmarks share it. */
#pragma once

#include "packing/keep-out.h"

G_BEGIN_DECLS

/* One copy lying in a box. */
typedef struct {
  guint shape, pose;
  sb_um x, y;     /* where its origin lies */
  gboolean fixed; /* never moved */
  guint tag;      /* the caller's own */
} SbPlacing;

typedef struct {
  GPtrArray *shapes; /* SbShape, owned */
  double gap;        /* least distance between copies, um: what the search aims for */
  sb_um exact_gap;   /* what the exact check asks for, no more than `gap` */
} SbTask;

/* Without shapes yet; gaps in um. */
SbTask *sb_task_new (double gap, sb_um exact_gap) G_GNUC_WARN_UNUSED_RESULT;
void sb_task_free (SbTask *task);

/* Takes over `shape`; returns its index. */
guint sb_task_add_shape (SbTask *task, SbShape *shape);

static inline const SbPose *
sb_task_get_pose (const SbTask *task, guint shape, guint pose)
{
  return sb_shape_get_pose (task->shapes->pdata[shape], pose);
}

/* Where the origin of a pose may lie so that it and its margin stay within `box`: empty (x1 < x0)
 * when it is larger. */
SbIBox sb_pose_get_room (const SbPose *pose, SbIBox box);

/* Whether a shape fits `box` in one of its turns. */
gboolean sb_shape_fits (const SbShape *shape, SbIBox box);

/* The exact, slow and independent check: every outline inside `box`, every two at least exact_gap
 * apart, by the integers of geometry/relation.h. Pairs of fixed copies are not looked at: their
 * conflicts are the maker's. Thread-safe. */
gboolean sb_task_check (const SbTask *task, SbIBox box, const SbPlacing *placings, guint n);

/* The keep-out regions of a task, made when they are first asked for. One thread only. */
typedef struct _SbKeepOuts SbKeepOuts;

SbKeepOuts *sb_keep_outs_new (const SbTask *task) G_GNUC_WARN_UNUSED_RESULT;
void sb_keep_outs_free (SbKeepOuts *keep_outs);

/* Borrowed; stays until sb_keep_outs_tidy. */
const SbKeepOut *sb_keep_outs_get (SbKeepOuts *keep_outs, guint still_shape, guint still_pose,
                                   guint moving_shape, guint moving_pose);

/* The same region, perhaps as it lies when both poses are turned back by the still one's turn: of
 * cyclic shapes that is one region for each difference of turns instead of one for each pair. */
typedef struct {
  const SbKeepOut *region;
  double cos, sin; /* of the turn to take back */
} SbKeepOutView;

/* How a moving pose keeps out of a still one, both by their index in their shape; of shapes that
 * are turned in even steps one region serves all turns. Borrowed as sb_keep_outs_get is. */
SbKeepOutView sb_keep_outs_view (SbKeepOuts *keep_outs, guint still_shape, guint still_pose,
                                 guint moving_shape, guint moving_pose);

/* The depth of (x, y) about the still pose. */
static inline double
sb_keep_out_view_depth (const SbKeepOutView *view, double x, double y)
{
  return sb_keep_out_depth (view->region, view->cos * x + view->sin * y,
                            view->cos * y - view->sin * x);
}

static inline double
sb_keep_out_view_signed_depth (const SbKeepOutView *view, double x, double y, SbKeepOutEdge *way)
{
  double depth = sb_keep_out_signed_depth (view->region, view->cos * x + view->sin * y,
                                           view->cos * y - view->sin * x, way);
  double nx = way->nx, ny = way->ny;
  way->nx = view->cos * nx - view->sin * ny;
  way->ny = view->sin * nx + view->cos * ny;
  return depth;
}

/* Call it now and then: lets go of the regions once they are many; those got before are no longer
 * valid. */
void sb_keep_outs_tidy (SbKeepOuts *keep_outs);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbTask, sb_task_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbKeepOuts, sb_keep_outs_free)

G_END_DECLS
