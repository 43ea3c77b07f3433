/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What hand-edit.c and hand-drag.c share. */
#pragma once

#include "window/canvas/hand-edit.h"
#include "window/canvas/pages-view.h"

G_BEGIN_DECLS

struct _SbHandEdit {
  GtkWidget parent_instance;

  SbPagesView *pages; /* the parent */
  guint piece_id;     /* 0: nothing is edited */
  GArray *points;     /* SbHandPoint */
  GPtrArray *views;   /* SbHandPointView, one a point */

  guint dragged;     /* point */
  gboolean held;     /* the press was on it */
  gboolean dragging; /* past the threshold */
  SbPoint grip;      /* from the pointer to the point, px */
};

typedef struct {
  SbState *state; /* borrowed */
  const SbPiece *piece;
  SbDesign *design;
  guint page;
} SbHandSubject;

/* hand-edit.c. What is edited, in the state that is shown; FALSE when that is nothing. */
gboolean sb_hand_edit_find_subject (SbHandEdit *self, SbHandSubject *subject);
/* The design as history knows it, borrowed. */
SbDesign *sb_hand_edit_get_settled_design (SbHandEdit *self, const SbHandSubject *subject);
/* A place of the view (px) in mm of the artwork. */
SbPoint sb_hand_edit_from_view (SbHandEdit *self, const SbHandSubject *subject, double x, double y);
void sb_hand_edit_focus_point (SbHandEdit *self, guint i);
void sb_hand_edit_add_near (SbHandEdit *self, const SbHandSubject *subject, SbPoint near);
/* One step of history; `format` is a translated one that takes the design's name. */
void sb_hand_edit_take (SbHandEdit *self, const SbHandSubject *subject, SbHand *hand,
                        const char *format, const char *merge);

/* hand-drag.c: the pointer on the points. */
void sb_hand_edit_add_pointer (SbHandEdit *self);
void sb_hand_edit_give_up_drag (SbHandEdit *self);

G_END_DECLS
