/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Editing an outline by hand on the canvas: while it lasts, the points of the outline of one piece
 * are widgets that take the focus and have a name; they are dragged or moved by the arrow keys,
 * added by a double click on the outline or Insert, removed by Delete. All copies of the design
 * follow at once, and every change is a step of history. Escape, Return or a click elsewhere ends
 * it. The child of an SbPagesView that lies above all others. */
#pragma once

#include "window/desk/selection.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SB_TYPE_HAND_EDIT (sb_hand_edit_get_type ())
G_DECLARE_FINAL_TYPE (SbHandEdit, sb_hand_edit, SB, HAND_EDIT, GtkWidget)

/* `pages_view` is an SbPagesView, not referenced. */
GtkWidget *sb_hand_edit_new (GtkWidget *pages_view);

/* Begins with the piece and gives its first point the focus; ends what was being edited. */
void sb_hand_edit_begin (SbHandEdit *self, guint piece_id);
void sb_hand_edit_end (SbHandEdit *self);
/* The piece whose outline is edited, 0 for none. */
guint sb_hand_edit_get_piece (SbHandEdit *self);

/* Where a point is in the view (px); FALSE when there are not that many. */
gboolean sb_hand_edit_get_place (SbHandEdit *self, guint point, double *x, double *y);

/* Allocates the points anew, from the pages view's own allocation: it has scrolled or zoomed. */
void sb_hand_edit_place_points (SbHandEdit *self);

/* The pages view's job or selection are others. */
void sb_hand_edit_follow (SbHandEdit *self);

G_END_DECLS
