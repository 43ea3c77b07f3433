/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/level.h"

#include <math.h>
#include <string.h>

/* Headings: 0 right, 1 down, 2 left, 3 up; the inside lies on the right hand. */
static const int step_x[4] = {1, 0, -1, 0};
static const int step_y[4] = {0, 1, 0, -1};
static const int right_x[4] = {0, -1, -1, 0};
static const int right_y[4] = {0, 0, -1, -1};

typedef struct {
  const SbField *field;
  float limit;   /* squared radius in steps */
  double radius; /* in steps */
  guint8 *seen;
  GArray *points, *ends;
} Level;

static inline gboolean
inside (const Level *level, int x, int y)
{
  return level->field->squared[(gsize)y * level->field->nx + x] <= level->limit;
}

static inline double
height (const Level *level, const float *node)
{
  return sqrt ((double)*node);
}

static void
add_point (Level *level, int x, int y, int heading)
{
  const SbField *field = level->field;
  int out = (heading + 3) & 3;
  gssize along = step_x[out] + step_y[out] * (gssize)field->nx;
  gssize across = step_x[heading] + step_y[heading] * (gssize)field->nx;
  const float *in = field->squared + (gsize)y * field->nx + x;
  double a = height (level, in), b = MIN (height (level, in + along), a + 1);
  double t = b > a ? (level->radius - a) / (b - a) : 0.5;
  double side = (height (level, in + across) - height (level, in - across)) / 2;
  SbLevelPoint p;
  p.node = (SbPoint){field->x0 + field->step * x, field->y0 + field->step * y};
  p.distance = field->step * a;
  p.at.x = field->x0 + field->step * (x + t * step_x[out]);
  p.at.y = field->y0 + field->step * (y + t * step_y[out]);
  p.uphill.x = (b - a) * step_x[out] + side * step_x[heading];
  p.uphill.y = (b - a) * step_y[out] + side * step_y[heading];
  g_array_append_val (level->points, p);
}

/* Walks one ring from the left side of node x,y upwards; returns twice its area in steps. */
static gint64
walk (Level *level, int x, int y)
{
  int cx = x, cy = y + 1, heading = 3;
  gint64 twice = 0;
  do {
    int px = cx + right_x[heading], py = cy + right_y[heading];
    add_point (level, px, py, heading);
    if (heading == 3) {
      gsize bit = (gsize)py * level->field->nx + px;
      level->seen[bit >> 3] |= (guint8)(1u << (bit & 7));
    }
    twice += (gint64)cx * step_y[heading] - (gint64)cy * step_x[heading];
    cx += step_x[heading];
    cy += step_y[heading];
    int left = (heading + 3) & 3;
    if (inside (level, cx + right_x[left], cy + right_y[left]))
      heading = left;
    else if (!inside (level, cx + right_x[heading], cy + right_y[heading]))
      heading = (heading + 1) & 3;
  } while (cx != x || cy != y + 1 || heading != 3);
  return twice;
}

static gboolean
ring_contains (const SbLevelPoint *ring, guint n, SbPoint p)
{
  gboolean in = FALSE;
  for (guint i = 0, j = n - 1; i < n; j = i++) {
    SbPoint a = ring[i].at, b = ring[j].at;
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) * (b.x - a.x) / (b.y - a.y))
      in = !in;
  }
  return in;
}

/* Is the ring that starts at `first` inside one that was found before? Rings are met from the top,
 * so an enclosing ring always comes first. */
static gboolean
is_enclosed (const Level *level, guint first)
{
  const SbLevelPoint *points = (const SbLevelPoint *)level->points->data;
  guint start = 0;
  for (guint r = 0; r < level->ends->len; r++) {
    guint end = g_array_index (level->ends, guint, r);
    if (ring_contains (points + start, end - start, points[first].at))
      return TRUE;
    start = end;
  }
  return FALSE;
}

/* How many of the 16 nodes lie inside; as integers, which compilers count in parallel. */
static inline int
count_inside (const float *nodes, float limit)
{
  int n = 0;
  for (int i = 0; i < 16; i++)
    n += nodes[i] <= limit;
  return n;
}

void
sb_level_rings (const SbField *field, double radius, gboolean holes, GArray *points, GArray *ends)
{
  double steps = radius / field->step;
  gsize n_nodes = (gsize)field->nx * field->ny;
  Level level = {field, (float)(steps * steps), steps, g_malloc0 (n_nodes / 8 + 1), points, ends};
  for (guint y = 1; y + 1 < field->ny; y++) {
    const float *row = field->squared + (gsize)y * field->nx;
    gboolean was_inside = FALSE;
    for (guint x = 0; x < field->nx;) {
      if (x + 16 <= field->nx && count_inside (row + x, level.limit) == (was_inside ? 16 : 0)) {
        x += 16;
        continue;
      }
      for (guint end = MIN (x + 16, field->nx); x < end; x++) {
        gboolean now = row[x] <= level.limit;
        gsize bit = (gsize)y * field->nx + x;
        if (now && !was_inside && !(level.seen[bit >> 3] >> (bit & 7) & 1)) {
          guint first = points->len;
          gint64 twice = walk (&level, (int)x, (int)y);
          if (holes || (twice > 0 && !is_enclosed (&level, first)))
            g_array_append_val (ends, points->len);
          else
            g_array_set_size (points, first);
        }
        was_inside = now;
      }
    }
  }
  g_free (level.seen);
}
