/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is drawn above the pieces and never takes the pointer: frame and handles of the selection,
 * snap guides with their measures, the rubber band, what a drag tells. */
#pragma once

#include <gtk/gtk.h>

#include "window/canvas/frame.h"
#include "window/canvas/snap.h"

G_BEGIN_DECLS

#define SB_TYPE_MARKS (sb_marks_get_type ())
G_DECLARE_FINAL_TYPE (SbMarks, sb_marks, SB, MARKS, GtkWidget)

GtkWidget *sb_marks_new (void);

/* The SbPagesView it belongs to. */
void sb_marks_set_view (SbMarks *self, GtkWidget *pages_view);

/* SbSnapGuide on a page; none with n = 0. Copied. */
void sb_marks_set_guides (SbMarks *self, guint page, const SbSnapGuide *guides, guint n);

/* The rubber band in view px, or NULL. */
void sb_marks_set_band (SbMarks *self, const graphene_rect_t *band);

/* Words beside the selection while it is dragged, turned or resized, or NULL. */
void sb_marks_set_told (SbMarks *self, const char *text);

/* A piece that is not there yet: a design dragged in from the drawer, at a turn as
 * SbPiece has it. NULL for none. */
void sb_marks_set_ghost (SbMarks *self, SbDesign *design, guint page, SbIPoint at, gint32 turn);

/* Hides handles while something is dragged. */
void sb_marks_set_dragging (SbMarks *self, gboolean dragging);

/* The frame of the one selected piece, or the upright one about several of one page; FALSE when
 * none is selected, or they lie on different pages. */
gboolean sb_marks_get_frame (SbMarks *self, SbFrame *frame);

/* The frame while several pieces are turned or resized together, NULL for what they have when they
 * lie still. */
void sb_marks_set_group_frame (SbMarks *self, const SbFrame *frame);

/* The box of all selected pieces in the view; FALSE when none is selected. */
gboolean sb_marks_get_selection_box (SbMarks *self, graphene_rect_t *box);

G_END_DECLS
