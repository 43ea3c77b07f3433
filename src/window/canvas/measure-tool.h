/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Measuring on the pages: while it lasts, a click chooses where to measure from and the next one to
 * where, a drag both at once. A piece is measured from its outline; with Alt, and beside the
 * pieces, the point itself counts. Tab walks the pieces, the arrow keys move a point, Return
 * measures on from there, Escape ends it. A child of an SbPagesView that lies above the pieces; its
 * name for screen readers tells what is measured. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SB_TYPE_MEASURE_TOOL (sb_measure_tool_get_type ())
G_DECLARE_FINAL_TYPE (SbMeasureTool, sb_measure_tool, SB, MEASURE_TOOL, GtkWidget)

/* `pages_view` is an SbPagesView, not referenced. */
GtkWidget *sb_measure_tool_new (GtkWidget *pages_view);

/* Begins with what is selected: between the last two pieces, or from the only one to its nearest
 * neighbour. */
void sb_measure_tool_begin (SbMeasureTool *self);
void sb_measure_tool_end (SbMeasureTool *self);

/* The pages view's job is another one. */
void sb_measure_tool_follow (SbMeasureTool *self);

G_END_DECLS
