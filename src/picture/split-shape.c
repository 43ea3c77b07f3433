/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How the paintings of a split lie, and what keeps them apart. */
#include <math.h>
#include <string.h>

#include "picture/split-plan.h"

/* An upright rectangle is as good as a turned one that saves less than this part of its area. */
#define LEAST_SAVING 0.03
/* How far a painting's ground reaches beyond it, in cells: half the gap. */
#define GROUND_CELLS 4
/* Of a traced line: how far a left-out corner may lie beside it, in cells. */
#define SMOOTH 0.75

static const SbSplitPainting *
get_painting (const SbSplit *split, guint i)
{
  return g_ptr_array_index (split->parts, i);
}

static double
turn_at (SbPoint a, SbPoint b, SbPoint c)
{
  return (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
}

static int
compare_points (gconstpointer a, gconstpointer b)
{
  const SbPoint *p = a, *q = b;
  if (p->x != q->x)
    return p->x < q->x ? -1 : 1;
  return (p->y > q->y) - (p->y < q->y);
}

/* The convex hull (A. M. Andrew: Another efficient algorithm for convex hulls in two dimensions,
 * 1979). */
static GArray *
make_hull (const GArray *points)
{
  g_autoptr (GArray) sorted = g_array_copy ((GArray *)points);
  GArray *hull = g_array_new (FALSE, FALSE, sizeof (SbPoint));

  g_array_sort (sorted, compare_points);
  for (int pass = 0; pass < 2; pass++) {
    guint base = hull->len;
    for (guint i = 0; i < sorted->len; i++) {
      SbPoint p = g_array_index (sorted, SbPoint, pass == 0 ? i : sorted->len - 1 - i);
      while (hull->len >= base + 2 &&
             turn_at (g_array_index (hull, SbPoint, hull->len - 2),
                      g_array_index (hull, SbPoint, hull->len - 1), p) <= 0)
        g_array_set_size (hull, hull->len - 1);
      g_array_append_val (hull, p);
    }
    g_array_set_size (hull, hull->len - 1);
  }
  return hull;
}

/* The box of a hull in axes turned by `degrees`. */
static SbBox
turned_box (const GArray *hull, double degrees)
{
  SbTransform back = sb_transform_turn ((SbPoint){0, 0}, -degrees, (SbPoint){0, 0});
  SbBox box = SB_BOX_EMPTY;

  for (guint i = 0; i < hull->len; i++) {
    SbPoint p = sb_transform_point (back, g_array_index (hull, SbPoint, i));
    box = i == 0 ? (SbBox){p.x, p.y, p.x, p.y} : sb_box_add (box, p);
  }
  return box;
}

static double
box_area (SbBox box)
{
  return (box.x1 - box.x0) * (box.y1 - box.y0);
}

/* The least rectangle lies along a side of the hull. */
static double
best_turn (const GArray *hull)
{
  double upright = box_area (turned_box (hull, 0)), least = upright * (1 - LEAST_SAVING), turn = 0;

  for (guint i = 0; i < hull->len; i++) {
    SbPoint a = g_array_index (hull, SbPoint, i);
    SbPoint b = g_array_index (hull, SbPoint, (i + 1) % hull->len);
    double degrees = atan2 (b.y - a.y, b.x - a.x) * 180 / G_PI;
    degrees -= 90 * round (degrees / 90);
    double area = box_area (turned_box (hull, degrees));
    if (area < least) {
      least = area;
      turn = degrees;
    }
  }
  return turn;
}

double
sb_split_get_turn (const SbSplit *split, guint i)
{
  g_autoptr (GArray) hull = make_hull (get_painting (split, i)->ends);
  return hull->len >= 3 ? best_turn (hull) : 0;
}

SbQuad
sb_split_get_quad (const SbSplit *split, guint i, gboolean straighten)
{
  const SbSplitPainting *painting = get_painting (split, i);
  int width = cairo_image_surface_get_width (split->surface);
  double degrees = straighten ? sb_split_get_turn (split, i) : 0;

  if (degrees == 0)
    return sb_quad_crop (width, painting->box.x0, painting->box.y0, painting->box.x1,
                         painting->box.y1);
  g_autoptr (GArray) hull = make_hull (painting->ends);
  SbBox box = turned_box (hull, degrees);
  SbTransform turn = sb_transform_turn ((SbPoint){0, 0}, degrees, (SbPoint){0, 0});
  /* Soft edges reach a pixel beyond what is solid. */
  return sb_quad_turned (width, sb_transform_point (turn, sb_box_centre (box)),
                         ceil (box.x1 - box.x0) + 2, ceil (box.y1 - box.y0) + 2, degrees);
}

static gboolean
is_foreign (const SbSplit *split, int cell, int number)
{
  int owner = split->owner[cell];
  return owner != number && owner != SB_SPLIT_EMPTY;
}

/* Whether anything else has cells in the painting's box, or (it may be turned) near it. */
static gboolean
has_neighbour (const SbSplit *split, guint i)
{
  SbSplitPart box = get_painting (split, i)->box;
  int reach = MAX (box.x1 - box.x0, box.y1 - box.y0) / 4 / split->cell + 1;
  int c0 = MAX (box.x0 / split->cell - reach, 0), r0 = MAX (box.y0 / split->cell - reach, 0);
  int c1 = MIN (box.x1 / split->cell + reach, split->columns - 1);
  int r1 = MIN (box.y1 / split->cell + reach, split->rows - 1);

  for (int r = r0; r <= r1; r++)
    for (int c = c0; c <= c1; c++)
      if (is_foreign (split, r * split->columns + c, (int)i))
        return TRUE;
  return FALSE;
}

GArray *
sb_split_get_lasso (const SbSplit *split, guint i)
{
  return has_neighbour (split, i) ? sb_split_trace (split, (int)i) : NULL;
}

/* The cells of a painting's ground, with a border of none around. */
typedef struct {
  int columns, rows;
  guint8 *in;
  guint8 *walked; /* the side above a cell has been traced */
} Ground;

static gboolean
is_ground (const Ground *ground, int column, int row)
{
  return column >= 0 && row >= 0 && column < ground->columns && row < ground->rows &&
         ground->in[row * ground->columns + column];
}

/* Grows all paintings alike, cell by cell, until their grounds meet. */
static int *
grow_grounds (const SbSplit *split)
{
  int n = split->columns * split->rows;
  int *owner = g_memdup2 (split->owner, (gsize)n * sizeof *owner);
  g_autofree int *before = g_new (int, n);

  for (int round = 0; round < GROUND_CELLS; round++) {
    memcpy (before, owner, (gsize)n * sizeof *owner);
    for (int i = 0; i < n; i++) {
      int column = i % split->columns, row = i / split->columns;
      for (int r = MAX (row - 1, 0); r <= MIN (row + 1, split->rows - 1); r++)
        for (int c = MAX (column - 1, 0); c <= MIN (column + 1, split->columns - 1); c++)
          if (owner[i] == SB_SPLIT_EMPTY)
            owner[i] = before[r * split->columns + c];
    }
  }
  return owner;
}

/* Walks along the ground's edge with the ground to the right, from the top side of a cell. */
static void
walk (const Ground *ground, int column, int row, double cell, GArray *loop)
{
  static const int dx[4] = {1, 0, -1, 0}, dy[4] = {0, 1, 0, -1};
  int x = column, y = row, way = 0;

  do {
    SbPoint corner = {x * cell, y * cell};
    g_array_append_val (loop, corner);
    if (way == 0)
      ground->walked[y * ground->columns + x] = TRUE;
    x += dx[way];
    y += dy[way];
    /* The cells ahead, to the left and to the right of the way. */
    int ax = x + (dx[way] - 1 - dy[way]) / 2, ay = y + (dy[way] - 1 + dx[way]) / 2;
    int lx = x + (dx[way] - 1 + dy[way]) / 2, ly = y + (dy[way] - 1 - dx[way]) / 2;
    if (!is_ground (ground, ax, ay))
      way = (way + 1) % 4;
    else if (is_ground (ground, lx, ly))
      way = (way + 3) % 4;
  } while (x != column || y != row || way != 0);
}

static double
far_beside (SbPoint p, SbPoint a, SbPoint b)
{
  double length = hypot (b.x - a.x, b.y - a.y);
  return length > 0 ? fabs (turn_at (a, b, p)) / length : hypot (p.x - a.x, p.y - a.y);
}

/* Leaves out corners that lie beside the line from `first` to `last` (D. Douglas, T. Peucker,
 * 1973). */
static void
smooth (const GArray *loop, guint first, guint last, double reach, GArray *into)
{
  double most = reach;
  guint worst = 0;

  for (guint i = first + 1; i < last; i++) {
    double far = far_beside (g_array_index (loop, SbPoint, i), g_array_index (loop, SbPoint, first),
                             g_array_index (loop, SbPoint, last));
    if (far > most) {
      most = far;
      worst = i;
    }
  }
  if (worst != 0) {
    smooth (loop, first, worst, reach, into);
    smooth (loop, worst, last, reach, into);
    return;
  }
  g_array_append_val (into, g_array_index (loop, SbPoint, last));
}

/* Closed by its first point again, so that loops joined end to end come back to where they began.
 */
static void
add_loop (const GArray *loop, double reach, GArray *polygon)
{
  guint half = loop->len / 2;
  SbPoint first = g_array_index (loop, SbPoint, 0);

  g_array_append_val (polygon, first);
  smooth (loop, 0, half, reach, polygon);
  smooth (loop, half, loop->len - 1, reach, polygon);
  g_array_append_val (polygon, first);
}

static void
trace_loops (const Ground *ground, double cell, GArray *polygon)
{
  g_autoptr (GArray) starts = g_array_new (FALSE, FALSE, sizeof (SbPoint));

  for (int row = 0; row < ground->rows; row++)
    for (int column = 0; column < ground->columns; column++) {
      if (!is_ground (ground, column, row) || is_ground (ground, column, row - 1) ||
          ground->walked[row * ground->columns + column])
        continue;
      g_autoptr (GArray) loop = g_array_new (FALSE, FALSE, sizeof (SbPoint));
      walk (ground, column, row, cell, loop);
      g_array_append_val (starts, g_array_index (loop, SbPoint, 0));
      add_loop (loop, SMOOTH * cell, polygon);
    }
  /* Back along the lines that lead from loop to loop, so that these enclose nothing. */
  for (guint i = starts->len; i-- > 1;)
    g_array_append_val (polygon, g_array_index (starts, SbPoint, i - 1));
}

GArray *
sb_split_trace (const SbSplit *split, int number)
{
  int n = split->columns * split->rows;
  g_autofree int *owner = grow_grounds (split);
  g_autofree guint8 *in = g_malloc0 ((gsize)n), *walked = g_malloc0 ((gsize)n);
  const Ground ground = {split->columns, split->rows, in, walked};
  GArray *polygon = g_array_new (FALSE, FALSE, sizeof (SbPoint));

  for (int i = 0; i < n; i++)
    in[i] = owner[i] == number;
  trace_loops (&ground, split->cell, polygon);
  return polygon;
}
