/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The scrollable surface of the canvas: the ground, the pages and the pieces on them, and above all
 * the marks (handles, guides, plates). It follows the job and the selection; what the pointer and
 * the keyboard do to them is the business of canvas-drag.c and canvas-actions.c. */
#pragma once

#include "window/canvas/canvas.h"
#include "window/canvas/fit-area.h"
#include "window/canvas/hand-edit.h"
#include "window/canvas/marks.h"
#include "window/canvas/measure-tool.h"
#include "window/canvas/pages-layout.h"
#include "window/canvas/piece-view.h"
#include "window/desk/checker.h"

G_BEGIN_DECLS

#define SB_TYPE_PAGES_VIEW (sb_pages_view_get_type ())
G_DECLARE_FINAL_TYPE (SbPagesView, sb_pages_view, SB, PAGES_VIEW, GtkWidget)

/* Signals: "layout-changed" when scale, scroll, size or number of pages are others; "synced" when
 * the pieces shown have followed the job or the selection. */
GtkWidget *sb_pages_view_new (SbArtStore *store, SbSelection *selection);

void sb_pages_view_set_job (SbPagesView *self, SbJob *job);
void sb_pages_view_set_checker (SbPagesView *self, SbChecker *checker);
void sb_pages_view_set_overlay (SbPagesView *self, SbOverlay overlay);
void sb_pages_view_set_unit (SbPagesView *self, SbUnit unit);

/* All borrowed; the job may be NULL. */
SbJob *sb_pages_view_get_job (SbPagesView *self);
SbSelection *sb_pages_view_get_selection (SbPagesView *self);
SbBakery *sb_pages_view_get_bakery (SbPagesView *self);
SbChecker *sb_pages_view_get_checker (SbPagesView *self);
SbMarks *sb_pages_view_get_marks (SbPagesView *self);
SbHandEdit *sb_pages_view_get_hand_edit (SbPagesView *self);
SbMeasureTool *sb_pages_view_get_measure_tool (SbPagesView *self);
const SbPagesLayout *sb_pages_view_get_layout (SbPagesView *self);
SbOverlay sb_pages_view_get_overlay (SbPagesView *self);
SbUnit sb_pages_view_get_unit (SbPagesView *self);

/* Logical px a millimetre; the point of the view stays where it is. */
void sb_pages_view_set_scale (SbPagesView *self, double scale, double view_x, double view_y);
/* Fits a page into the view, and goes on fitting until the scale is set. */
void sb_pages_view_fit (SbPagesView *self, guint page);
gboolean sb_pages_view_is_fitting (SbPagesView *self);
/* Scrolls a page's head to the head of the view. */
void sb_pages_view_show_page (SbPagesView *self, guint page);
void sb_pages_view_scroll_by (SbPagesView *self, double dx, double dy);
/* Scrolls as little as needed to bring a box of a page (um) into view. */
void sb_pages_view_scroll_to (SbPagesView *self, guint page, SbBox box_um);

/* The topmost piece under a point of the view, or NULL. */
SbPieceView *sb_pages_view_pick (SbPagesView *self, double view_x, double view_y);
/* Whether a point of the view is the finding plate's, which has its own button. */
gboolean sb_pages_view_is_over_plate (SbPagesView *self, double view_x, double view_y);
SbPieceView *sb_pages_view_find (SbPagesView *self, guint piece_id);
/* SbPieceView in reading order: by page, then from the top, then from the left. New container. */
GPtrArray *sb_pages_view_list (SbPagesView *self) G_GNUC_WARN_UNUSED_RESULT;

/* Shows every piece of a design with its artwork scaled by `stretch` until told 1. */
void sb_pages_view_set_stretch (SbPagesView *self, guint design_id, double stretch);

/* While pieces turn under the pointer their textures are baked at once, as many as a frame has time
 * for; so are those of stretched designs. */
void sb_pages_view_bake_now (SbPagesView *self, const guint *piece_ids, guint n);
void sb_pages_view_bake_stretched (SbPagesView *self);

/* Tints where a dragged piece fits; NULL for nothing. */
void sb_pages_view_set_fit (SbPagesView *self, const SbFitArea *area);

/* Draws the selected pieces above all others while they are dragged. */
void sb_pages_view_set_lifted (SbPagesView *self, gboolean lifted);

/* Whether textures or artwork are still on their way; whoever takes a picture waits for it. */
gboolean sb_pages_view_is_busy (SbPagesView *self);

G_END_DECLS
