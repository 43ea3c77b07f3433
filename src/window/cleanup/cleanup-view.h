/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A picture, large, to clean: zoomed and moved about, before or after, on a ground that shows what
 * is left of its rim, with a tool in the hand. By pointer, or by keys: the arrow keys steer the
 * tool, Space puts it down and lifts it. Main thread only.
 *
 * Places are in parts of the picture's width: 0,0 is its top left corner, 1,height/width the bottom
 * right one.
 *
 * Signals: "stroke" (const float *points, guint n) when a brush is lifted or a lasso closed; its
 * places, x and y in turn, live during the signal. "point" (double x, double y) when a tool that
 * points is clicked. "handles-changed" when one was moved. "cursor" when the tool was steered by
 * key, "zoomed" when the scale is another one.
 * CSS node: cleanupview. */
#pragma once

#include "window/pictures/pixels.h"

G_BEGIN_DECLS

#define SB_TYPE_CLEANUP_VIEW (sb_cleanup_view_get_type ())
G_DECLARE_FINAL_TYPE (SbCleanupView, sb_cleanup_view, SB, CLEANUP_VIEW, GtkWidget)

typedef enum {
  SB_CLEANUP_GROUND_CHECKS, /* squares, as clear pixels are often shown */
  SB_CLEANUP_GROUND_WHITE,
  SB_CLEANUP_GROUND_BLACK,
  SB_CLEANUP_GROUND_GREY,
  SB_CLEANUP_GROUND_STOCK,
} SbCleanupGround;

/* What the tool in the hand does. */
typedef enum {
  SB_CLEANUP_HAND_MOVES,   /* the picture */
  SB_CLEANUP_HAND_BRUSHES, /* a disc of the brush's radius */
  SB_CLEANUP_HAND_POINTS,
  SB_CLEANUP_HAND_LASSO,
  SB_CLEANUP_HAND_HANDLES, /* moves the nearest handle */
} SbCleanupHand;

/* A box with a number or sign beside it. */
typedef struct {
  float x0, y0, x1, y1;
  guint number;     /* 0 for none */
  gboolean crossed; /* dropped, or put back */
  gboolean chosen;
} SbCleanupMark;

GtkWidget *sb_cleanup_view_new (void);

/* The picture's size in its own px; what is shown may have fewer. Fits it into the view when it
 * has another shape than before. */
void sb_cleanup_view_set_size (SbCleanupView *self, int width, int height);
/* Either may be NULL: nothing is there yet. Both show the whole picture. */
void sb_cleanup_view_set_pixels (SbCleanupView *self, SbPixels *before, SbPixels *after);
/* Whether it is shown as it came in; what is seen through clear pixels; the stock's colour. */
void sb_cleanup_view_set_before (SbCleanupView *self, gboolean before);
void sb_cleanup_view_set_ground (SbCleanupView *self, SbCleanupGround ground);
void sb_cleanup_view_set_stock (SbCleanupView *self, const GdkRGBA *stock);
/* What the tool does; the brush's radius in parts of the width. */
void sb_cleanup_view_set_hand (SbCleanupView *self, SbCleanupHand hand);
void sb_cleanup_view_set_brush (SbCleanupView *self, double radius, const GdkRGBA *colour);
/* Copied. */
void sb_cleanup_view_set_marks (SbCleanupView *self, const SbCleanupMark *marks, guint n);

/* Places that can be moved, joined by lines: four corners, the two ends of a line, or (`box`) two
 * opposite corners of a rectangle. */
void sb_cleanup_view_set_handles (SbCleanupView *self, const double *places, guint n, gboolean box);
const double *sb_cleanup_view_get_handles (SbCleanupView *self, guint *n);

/* All of the picture into the view; or a scale as of sb_cleanup_view_get_scale. */
void sb_cleanup_view_fit (SbCleanupView *self);
void sb_cleanup_view_set_scale (SbCleanupView *self, double scale); /* about the middle */
/* Logical px of the screen for one of the picture. */
double sb_cleanup_view_get_scale (SbCleanupView *self);
/* Brings a box into the middle, and near when it is small. */
void sb_cleanup_view_show (SbCleanupView *self, const SbCleanupMark *mark);
/* Where the tool is steered to by key. */
void sb_cleanup_view_get_cursor (SbCleanupView *self, double *x, double *y);

G_END_DECLS
