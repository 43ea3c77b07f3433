/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The frame about a selected piece: where its handles lie in the view, and which one a point hits.
 * Plain values. */
#pragma once

#include "geometry/point.h"

G_BEGIN_DECLS

typedef enum {
  SB_HANDLE_NONE,
  SB_HANDLE_TURN,
  SB_HANDLE_CORNER, /* any of the four: all resize about the centre */
} SbHandle;

typedef struct {
  SbPoint centre;
  SbPoint corners[4]; /* clockwise from the top left before turning */
  SbPoint stem, turn; /* foot of the turn handle on the frame, and the handle */
} SbFrame;

/* A frame of half sizes (px) turned by `turn` thousandths of a degree about `centre`. */
SbFrame sb_frame_new (SbPoint centre, double half_width, double half_height, gint32 turn);

/* The same turned by `turn` thousandths of a degree and its half sizes `pull` times as long. */
SbFrame sb_frame_follow (const SbFrame *frame, gint32 turn, double pull);

SbHandle sb_frame_pick (const SbFrame *frame, double x, double y);

/* How far out along its diagonal a corner is pulled by a pointer at (x, y): 1 is where it lies. */
double sb_frame_get_pull (const SbFrame *frame, double start_x, double start_y, double x, double y);

/* The clockwise angle of a point about the centre, degrees 0..360, 0 upwards. */
double sb_frame_get_angle (SbPoint centre, double x, double y);

G_END_DECLS
