/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the pointer does on the pages: select, move, duplicate, turn, resize, rubber band and pan.
 * While a drag is under way the job shows a preview; its end is one step of history. */
#pragma once

#include "window/canvas/pages-view.h"

G_BEGIN_DECLS

/* Adds the gestures to the view, which owns them from then on. */
void sb_canvas_drag_attach (SbPagesView *view);

/* Gives up what is being dragged; everything is as before. FALSE when nothing was. */
gboolean sb_canvas_drag_cancel (SbPagesView *view);

/* While the space bar is held the pointer pans. */
void sb_canvas_drag_set_space (SbPagesView *view, gboolean held);

/* A name for an edit of pieces: "Move radish" or "Move 3 pieces". `one` has a %s for the design's
 * name, `many` a %u for the number; both translated. Free with g_free. */
char *sb_canvas_drag_name_edit (const SbState *state, const guint *ids, guint n, const char *one,
                                const char *many) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
