/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/desk/design-drag.h"

G_DEFINE_BOXED_TYPE (SbDesignDrag, sb_design_drag, sb_design_drag_copy, sb_design_drag_free)

SbDesignDrag *
sb_design_drag_new (SbJob *job, guint design_id, guint piece_id)
{
  SbDesignDrag *drag = g_new (SbDesignDrag, 1);

  drag->job = g_object_ref (job);
  drag->design_id = design_id;
  drag->piece_id = piece_id;
  return drag;
}

SbDesignDrag *
sb_design_drag_copy (const SbDesignDrag *drag)
{
  return sb_design_drag_new (drag->job, drag->design_id, drag->piece_id);
}

void
sb_design_drag_free (SbDesignDrag *drag)
{
  g_object_unref (drag->job);
  g_free (drag);
}
