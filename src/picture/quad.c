/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Corners and the maps between a picture and what a frame shows of it. */
#include "picture/quad.h"

#include <math.h>

#include "picture/picture.h"

/* How much farther than the picture's own sides corners may lie outside it. */
#define FARTHEST 1.0
/* Of the picture's diagonal: the focal length of a usual phone camera, taken where the corners do
 * not tell it. */
#define USUAL_FOCUS 0.65
#define LEAST_FOCUS 0.3
#define MOST_FOCUS 8.0

static SbQuad
frame_new (int picture_width, const SbPoint corners[4], double width, double height)
{
  SbQuad frame = {.set = TRUE,
                  .width = MAX ((int)lround (MIN (width, 1e6)), 1),
                  .height = MAX ((int)lround (MIN (height, 1e6)), 1)};

  for (int i = 0; i < 4; i++)
    frame.corners[i] = (SbPoint){corners[i].x / picture_width, corners[i].y / picture_width};
  return frame;
}

SbQuad
sb_quad_crop (int picture_width, int x0, int y0, int x1, int y1)
{
  const SbPoint corners[4] = {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
  return frame_new (picture_width, corners, x1 - x0, y1 - y0);
}

SbQuad
sb_quad_turned (int picture_width, SbPoint middle, double width, double height, double degrees)
{
  SbTransform turn = sb_transform_turn ((SbPoint){width / 2, height / 2}, degrees, middle);
  const SbPoint corners[4] = {sb_transform_point (turn, (SbPoint){0, 0}),
                              sb_transform_point (turn, (SbPoint){width, 0}),
                              sb_transform_point (turn, (SbPoint){width, height}),
                              sb_transform_point (turn, (SbPoint){0, height})};
  return frame_new (picture_width, corners, width, height);
}

typedef struct {
  double x, y, z;
} Vector;

static Vector
cross (Vector a, Vector b)
{
  return (Vector){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

static double
inner (Vector a, Vector b)
{
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

/* Width by height of the rectangle. The corners are numbered along rows, as in the source. */
static double
find_proportion (int picture_width, int picture_height, const SbPoint c[4])
{
  Vector m[4];
  const SbPoint rows[4] = {c[0], c[1], c[3], c[2]};
  for (int i = 0; i < 4; i++)
    m[i] = (Vector){rows[i].x - picture_width / 2.0, rows[i].y - picture_height / 2.0, 1};
  Vector across = cross (m[0], m[3]);
  double k2 = inner (across, m[2]) / inner (cross (m[1], m[3]), m[2]);
  double k3 = inner (across, m[1]) / inner (cross (m[2], m[3]), m[1]);
  Vector n2 = {k2 * m[1].x - m[0].x, k2 * m[1].y - m[0].y, k2 - 1};
  Vector n3 = {k3 * m[2].x - m[0].x, k3 * m[2].y - m[0].y, k3 - 1};

  double diagonal = hypot (picture_width, picture_height);
  double squared = -(n2.x * n3.x + n2.y * n3.y) / (n2.z * n3.z);
  double focus = squared > 0 ? sqrt (squared) / diagonal : 0;
  if (!(focus >= LEAST_FOCUS && focus <= MOST_FOCUS))
    focus = USUAL_FOCUS;
  double f = focus * diagonal;
  return sqrt ((n2.x * n2.x / f / f + n2.y * n2.y / f / f + n2.z * n2.z) /
               (n3.x * n3.x / f / f + n3.y * n3.y / f / f + n3.z * n3.z));
}

static double
distance (SbPoint a, SbPoint b)
{
  return hypot (b.x - a.x, b.y - a.y);
}

SbQuad
sb_quad_straighten (int picture_width, int picture_height, const SbPoint corners[4])
{
  double width = MAX (distance (corners[0], corners[1]), distance (corners[3], corners[2]));
  double height = MAX (distance (corners[0], corners[3]), distance (corners[1], corners[2]));
  double proportion = find_proportion (picture_width, picture_height, corners);

  /* The side that is seen larger keeps its pixels. */
  if (width / height > proportion)
    height = width / proportion;
  else
    width = height * proportion;
  return frame_new (picture_width, corners, width, height);
}

SbQuad
sb_quad_inside (const SbQuad *frame, int picture_width, int x0, int y0, int x1, int y1)
{
  SbMap map = sb_quad_get_map (frame, frame->width, frame->height, picture_width);
  const SbPoint corners[4] = {
      sb_map_point (&map, (SbPoint){x0, y0}), sb_map_point (&map, (SbPoint){x1, y0}),
      sb_map_point (&map, (SbPoint){x1, y1}), sb_map_point (&map, (SbPoint){x0, y1})};
  return frame_new (picture_width, corners, x1 - x0, y1 - y0);
}

static double
turn_at (SbPoint a, SbPoint b, SbPoint c)
{
  return (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
}

gboolean
sb_quad_is_usable (const SbQuad *frame, int picture_width, int picture_height)
{
  double height = (double)picture_height / picture_width;
  double least = 1e-9 * MAX (1, height);

  if (frame->width < 1 || frame->height < 1 || frame->width > SB_PICTURE_MOST_SIDE ||
      frame->height > SB_PICTURE_MOST_SIDE ||
      (gint64)frame->width * frame->height > SB_PICTURE_MOST_PIXELS)
    return FALSE;
  for (int i = 0; i < 4; i++) {
    const SbPoint *p = &frame->corners[i];
    if (!(fabs (p->x - 0.5) <= 0.5 + FARTHEST &&
          fabs (p->y - height / 2) <= height * (0.5 + FARTHEST)) ||
        !(turn_at (*p, frame->corners[(i + 1) % 4], frame->corners[(i + 2) % 4]) > least))
      return FALSE;
  }
  return TRUE;
}

gboolean
sb_quad_is_slanted (const SbQuad *frame)
{
  const SbPoint *c = frame->corners;
  double least = 1e-6;
  return fabs (c[0].x - c[1].x + c[2].x - c[3].x) > least ||
         fabs (c[0].y - c[1].y + c[2].y - c[3].y) > least;
}

gboolean
sb_quad_equal (const SbQuad *a, const SbQuad *b)
{
  if (!a->set || !b->set)
    return !a->set == !b->set;
  for (int i = 0; i < 4; i++)
    if (a->corners[i].x != b->corners[i].x || a->corners[i].y != b->corners[i].y)
      return FALSE;
  return a->width == b->width && a->height == b->height;
}

/* From the unit square to a quadrilateral (P. Heckbert: Fundamentals of texture mapping and image
 * warping, 1989, section 2.2.3). */
static SbMap
map_of_square (const SbPoint q[4])
{
  double sx = q[0].x - q[1].x + q[2].x - q[3].x, sy = q[0].y - q[1].y + q[2].y - q[3].y;
  double dx1 = q[1].x - q[2].x, dx2 = q[3].x - q[2].x;
  double dy1 = q[1].y - q[2].y, dy2 = q[3].y - q[2].y;
  double all = dx1 * dy2 - dx2 * dy1;
  double g = (sx * dy2 - dx2 * sy) / all, h = (dx1 * sy - sx * dy1) / all;

  /* What is a parallelogram but for rounding has no vanishing point. */
  if (fabs (g) < 1e-12 && fabs (h) < 1e-12)
    g = h = 0;
  return (SbMap){{q[1].x - q[0].x + g * q[1].x, q[3].x - q[0].x + h * q[3].x, q[0].x,
                  q[1].y - q[0].y + g * q[1].y, q[3].y - q[0].y + h * q[3].y, q[0].y, g, h, 1}};
}

SbMap
sb_quad_get_map (const SbQuad *frame, int width, int height, int picture_width)
{
  double scale = picture_width;

  if (!frame->set)
    return (SbMap){{scale / width, 0, 0, 0, scale / width, 0, 0, 0, 1}};
  SbMap map = map_of_square (frame->corners);
  for (int row = 0; row < 3; row++) {
    map.m[3 * row] *= (row < 2 ? scale : 1) / width;
    map.m[3 * row + 1] *= (row < 2 ? scale : 1) / height;
    map.m[3 * row + 2] *= row < 2 ? scale : 1;
  }
  return map;
}

SbMap
sb_map_invert (const SbMap *map)
{
  const double *m = map->m;
  /* The adjugate: a common factor makes no difference. */
  return (SbMap){{m[4] * m[8] - m[5] * m[7], m[2] * m[7] - m[1] * m[8], m[1] * m[5] - m[2] * m[4],
                  m[5] * m[6] - m[3] * m[8], m[0] * m[8] - m[2] * m[6], m[2] * m[3] - m[0] * m[5],
                  m[3] * m[7] - m[4] * m[6], m[1] * m[6] - m[0] * m[7], m[0] * m[4] - m[1] * m[3]}};
}

SbPoint
sb_map_point (const SbMap *map, SbPoint p)
{
  const double *m = map->m;
  double w = m[6] * p.x + m[7] * p.y + m[8];
  return (SbPoint){(m[0] * p.x + m[1] * p.y + m[2]) / w, (m[3] * p.x + m[4] * p.y + m[5]) / w};
}
