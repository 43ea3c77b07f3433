/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "window/canvas/frame.h"

#define STEM_PX 28
#define REACH_PX 11 /* of a fingertip's aim, more than what is drawn */

SbFrame
sb_frame_new (SbPoint centre, double half_width, double half_height, gint32 turn)
{
  SbTransform t = sb_transform_turn ((SbPoint){0, 0}, turn / 1000.0, centre);
  SbFrame frame = {.centre = centre};
  const double x[] = {-1, 1, 1, -1}, y[] = {-1, -1, 1, 1};

  for (int i = 0; i < 4; i++)
    frame.corners[i] = sb_transform_point (t, (SbPoint){x[i] * half_width, y[i] * half_height});
  frame.stem = sb_transform_point (t, (SbPoint){0, -half_height});
  frame.turn = sb_transform_point (t, (SbPoint){0, -half_height - STEM_PX});
  return frame;
}

SbFrame
sb_frame_follow (const SbFrame *frame, gint32 turn, double pull)
{
  const SbPoint *corners = frame->corners;
  double width = hypot (corners[1].x - corners[0].x, corners[1].y - corners[0].y);
  double height = hypot (corners[2].x - corners[1].x, corners[2].y - corners[1].y);

  return sb_frame_new (frame->centre, width / 2 * pull, height / 2 * pull, turn);
}

static gboolean
is_near (SbPoint p, double x, double y)
{
  return hypot (p.x - x, p.y - y) <= REACH_PX;
}

SbHandle
sb_frame_pick (const SbFrame *frame, double x, double y)
{
  if (is_near (frame->turn, x, y))
    return SB_HANDLE_TURN;
  for (int i = 0; i < 4; i++)
    if (is_near (frame->corners[i], x, y))
      return SB_HANDLE_CORNER;
  return SB_HANDLE_NONE;
}

double
sb_frame_get_pull (const SbFrame *frame, double start_x, double start_y, double x, double y)
{
  double dx = start_x - frame->centre.x, dy = start_y - frame->centre.y;
  double length2 = dx * dx + dy * dy;

  if (length2 < 1)
    return 1;
  return MAX (((x - frame->centre.x) * dx + (y - frame->centre.y) * dy) / length2, 0.01);
}

double
sb_frame_get_angle (SbPoint centre, double x, double y)
{
  double angle = atan2 (x - centre.x, centre.y - y) * 180 / G_PI;

  return angle < 0 ? angle + 360 : angle;
}
