/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One piece on the canvas: a focusable widget as large as the piece's box, with a name for screen
 * readers, drawn as one baked texture. Its place is the business of its parent, SbPagesView. */
#pragma once

#include "window/pictures/bakery.h"

G_BEGIN_DECLS

#define SB_TYPE_PIECE_VIEW (sb_piece_view_get_type ())
G_DECLARE_FINAL_TYPE (SbPieceView, sb_piece_view, SB, PIECE_VIEW, GtkWidget)

GtkWidget *sb_piece_view_new (SbBakery *bakery);

/* What is shown. The design is referenced. */
void sb_piece_view_set_piece (SbPieceView *self, SbDesign *design, const SbPiece *piece,
                              guint page_index);
const SbPiece *sb_piece_view_get_piece (SbPieceView *self);
SbDesign *sb_piece_view_get_design (SbPieceView *self);
guint sb_piece_view_get_page (SbPieceView *self);

/* SbBakeFlags; whether it counts as selected for screen readers follows SB_BAKE_SELECTED. */
void sb_piece_view_set_flags (SbPieceView *self, guint flags);

/* A factor for the artwork while its design is being resized; 1 when it is not. */
void sb_piece_view_set_stretch (SbPieceView *self, double stretch);
double sb_piece_view_get_stretch (SbPieceView *self);

/* Logical px a millimetre. The old texture is scaled until sb_piece_view_bake. */
void sb_piece_view_set_scale (SbPieceView *self, double scale);

/* Gets the texture for what is shown now, if the bakery has it; asks for it if not. `now`: bakes it
 * at once. */
void sb_piece_view_bake (SbPieceView *self, gboolean now);

/* Where the widget lies about the piece's place, in whole logical px: left and top are negative. */
void sb_piece_view_get_extents (SbPieceView *self, int *left, int *top, int *width, int *height);

/* The outline on the page, um; kept until the piece changes. Borrowed. */
SbPolygon *sb_piece_view_get_outline (SbPieceView *self);

/* The name for screen readers. */
void sb_piece_view_set_label (SbPieceView *self, const char *label);
const char *sb_piece_view_get_label (SbPieceView *self);

G_END_DECLS
