/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is carried when a design is dragged out of the drawer, or one of its pieces out of the
 * window: the design's id and the job it is of. It is offered as a GdkContentProvider of
 * SB_TYPE_DESIGN_DRAG; the page canvas (place or move a piece) and the drawer (put in another
 * order) take it. Never leaves the process. */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

#define SB_TYPE_DESIGN_DRAG (sb_design_drag_get_type ())

typedef struct {
  SbJob *job;
  guint design_id;
  guint piece_id; /* 0 for the design itself */
} SbDesignDrag;

GType sb_design_drag_get_type (void);

/* Keeps the job. */
SbDesignDrag *sb_design_drag_new (SbJob *job, guint design_id,
                                  guint piece_id) G_GNUC_WARN_UNUSED_RESULT;
SbDesignDrag *sb_design_drag_copy (const SbDesignDrag *drag) G_GNUC_WARN_UNUSED_RESULT;
void sb_design_drag_free (SbDesignDrag *drag);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbDesignDrag, sb_design_drag_free)

G_END_DECLS
