/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What canvas-drag.c, drag-move.c, drag-out.c, drag-turn.c and drag-resize.c share. */
#pragma once

#include "window/canvas/canvas-drag.h"
#include "window/canvas/design-resize.h"
#include "window/canvas/fit-area.h"
#include "window/canvas/snap.h"

G_BEGIN_DECLS

typedef enum {
  SB_DRAG_NONE,
  SB_DRAG_MOVE,
  SB_DRAG_TURN,
  SB_DRAG_RESIZE,
  SB_DRAG_BAND,
  SB_DRAG_PAN,
} SbDragMode;

/* A piece as it lay when the drag began. */
typedef struct {
  SbPiece piece;
  guint page;
} SbDragStart;

typedef struct {
  SbPagesView *view; /* owns this */
  GtkGesture *gesture;
  gboolean space;

  SbDragMode mode;
  gboolean moved;   /* past the threshold */
  gboolean toggled; /* Shift has already changed the selection at the press */
  SbPoint press, offset;
  SbPoint scroll;
  GdkModifierType modifiers;
  guint tick;

  guint grabbed; /* piece id */
  GArray *starts;
  GArray *ids; /* guint, those of starts */
  GHashTable *moving;
  SbPolygon *shape; /* in the stack, where it was */
  gboolean whole;
  SbSnapCache *cache;
  SbFitArea *fit;      /* of a single piece on the page it is over */
  gboolean fit_copies; /* the original is in the way of a copy */
  SbFrame frame;
  gint32 turn;         /* how far it has come, thousandths of a degree */
  GArray *stretches;   /* SbDesignStretch, a design of what is resized each */
  GArray *places;      /* SbPiece, where several pieces come to lie that are resized together */
  GArray *band_before; /* guint: what was selected before the band */
} SbDrag;

/* canvas-drag.c: the selected pieces where they lie now. */
void sb_drag_collect_starts (SbDrag *drag);

/* drag-move.c */
void sb_drag_begin_move (SbDrag *drag);
void sb_drag_update_move (SbDrag *drag);
void sb_drag_end_move (SbDrag *drag);

/* drag-out.c: whether a piece is held past the window's edge; and from there it is a drag between
 * programs, of the piece that was grabbed. */
gboolean sb_drag_is_outside (SbDrag *drag);
void sb_drag_go_out (SbDrag *drag);

/* drag-turn.c */
void sb_drag_update_turn (SbDrag *drag);
void sb_drag_end_turn (SbDrag *drag);

/* drag-resize.c */
void sb_drag_begin_resize (SbDrag *drag);
void sb_drag_give_up_resize (SbDrag *drag);
void sb_drag_update_resize (SbDrag *drag);
void sb_drag_end_resize (SbDrag *drag);

G_END_DECLS
