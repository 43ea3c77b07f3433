/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What cleanup-view.c (zoom, painting) and cleanup-hand.c (pointer and keys) share. */
#pragma once

#include "geometry/point.h"
#include "window/cleanup/cleanup-view.h"

G_BEGIN_DECLS

#define SB_CLEANUP_MOST_HANDLES 4

struct _SbCleanupView {
  GtkWidget parent_instance;

  int width, height; /* px of the picture */
  SbPixels *before, *after;
  gboolean show_before, before_key; /* by switch; while the key is held */
  SbCleanupGround ground;
  GdkRGBA stock;

  double scale;   /* logical px for one of the picture */
  SbPoint middle; /* of the view, in picture px */
  gboolean fitted;

  SbCleanupHand hand;
  double radius; /* of the brush, in parts of the width */
  GdkRGBA colour;
  SbPoint pointer; /* px of the view; x < 0: elsewhere */
  SbPoint cursor;  /* steered by key, picture px */
  gboolean steering, key_down;
  GArray *stroke; /* float x, y; under way, or empty */
  SbPoint drag_middle, drag_handle;
  double pinch_scale;

  GArray *marks; /* SbCleanupMark */
  double handles[2 * SB_CLEANUP_MOST_HANDLES];
  guint n_handles, handle;
  gboolean handles_box; /* two are corners of a rectangle */
};

SbPoint sb_cleanup_view_to_screen (SbCleanupView *self, SbPoint picture);
SbPoint sb_cleanup_view_to_picture (SbCleanupView *self, SbPoint screen);
/* Keeps the place under `screen` where it is. */
void sb_cleanup_view_zoom_at (SbCleanupView *self, double scale, SbPoint screen);
void sb_cleanup_view_move_to (SbCleanupView *self, SbPoint middle);

/* cleanup-hand.c */
void sb_cleanup_hand_add (SbCleanupView *self);
void sb_cleanup_hand_lift (SbCleanupView *self, gboolean keep);

/* cleanup-marks.c */
void sb_cleanup_marks_paint (SbCleanupView *self, cairo_t *cr);

/* cleanup-view.c */
enum {
  SB_CLEANUP_STROKE,
  SB_CLEANUP_POINT,
  SB_CLEANUP_HANDLES_CHANGED,
  SB_CLEANUP_CURSOR,
  SB_CLEANUP_ZOOMED,
  SB_CLEANUP_N_SIGNALS,
};
extern guint sb_cleanup_view_signals[SB_CLEANUP_N_SIGNALS];

G_END_DECLS
