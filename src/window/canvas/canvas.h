/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The page canvas: every page of the job at scale, one under the other, with rulers. Pieces are
 * child widgets: they take the focus, have a name for screen readers and move by keyboard; the
 * pointer drags, turns and resizes them.
 *
 * Properties: "zoom" (double, 1.0 is true size), "page" (guint, index of the page in view),
 * "overlay" (SbOverlay), "unit" (SbUnit as an int), "calibration" (double, what a bank-card check
 * multiplies true size by).
 *
 * Signal "files-dropped" (GdkFileList *files, guint page_index, int x_um, int y_um): pictures
 * dropped on a page, or pasted.
 *
 * Widget actions, for menus and shortcuts below the canvas and for
 * gtk_widget_activate_action (canvas, ...):
 *   pieces.delete  .duplicate  .repeat ((uuii): columns, rows and the two steps in um)
 *   pieces.repeat-dialog   asks for them
 *   pieces.pin  .turn (i: thousandths of a degree)  .nudge ((ii): um)
 *   pieces.select-all  .select-same  .select-none
 *   pieces.copy  .cut  .paste  .raise  .to-page (u: page index; one past the last adds a page)
 *   pieces.align (s: left, centre, right, top, middle, bottom)
 *   pieces.distribute (s: across, down)   equal gaps between outlines' boxes
 *   pieces.centre-on-page  .move-inside  .zoom-to  .menu
 *   canvas.measure   begins or ends measuring, from what is selected
 *   canvas.zoom-in  .zoom-out  .fit  .true-size */
#pragma once

#include "window/desk/checker.h"
#include "window/desk/selection.h"
#include "window/pictures/art-store.h"

G_BEGIN_DECLS

/* What is laid over the pages to see before printing. */
typedef enum {
  SB_OVERLAY_STRIP = 1 << 0,  /* the non-printable strip */
  SB_OVERLAY_BORDER = 1 << 1, /* the ring between artwork and outline */
  SB_OVERLAY_WASTE = 1 << 2,  /* paper no outline covers, the largest free spot measured */
} SbOverlay;
#define SB_OVERLAY_ALL (SB_OVERLAY_STRIP | SB_OVERLAY_BORDER | SB_OVERLAY_WASTE)

#define SB_TYPE_OVERLAY (sb_overlay_get_type ())
GType sb_overlay_get_type (void);

#define SB_ZOOM_LEAST 0.1
#define SB_ZOOM_MOST 8.0

#define SB_TYPE_CANVAS (sb_canvas_get_type ())
G_DECLARE_FINAL_TYPE (SbCanvas, sb_canvas, SB, CANVAS, GtkWidget)

/* Without a job yet. Artwork comes from `store`; both are kept. */
GtkWidget *sb_canvas_new (SbArtStore *store, SbSelection *selection);

/* The job to show, or NULL. Fits the first page into view. */
void sb_canvas_set_job (SbCanvas *self, SbJob *job);

/* Where findings and the largest free spots come from; NULL shows none. */
void sb_canvas_set_checker (SbCanvas *self, SbChecker *checker);

/* Fits the page in view into the canvas, and goes on fitting while the window changes its size
 * until the maker zooms. */
void sb_canvas_zoom_fit (SbCanvas *self);
gboolean sb_canvas_is_fitting (SbCanvas *self);
/* As large as the paper will be, by the monitor's own measures times the calibration. */
void sb_canvas_zoom_true (SbCanvas *self);
/* Brings the selected pieces into view as large as fits. */
void sb_canvas_zoom_to_selection (SbCanvas *self);
/* Scrolls until the piece is in view and gives it the focus. */
void sb_canvas_show_piece (SbCanvas *self, guint piece_id);

/* True size without the calibration: logical pixels a millimetre, from the monitor's millimetres,
 * 96 dpi where those are not plausible (some monitors report 25.4 dpi). */
double sb_canvas_get_monitor_scale (SbCanvas *self);

G_END_DECLS
