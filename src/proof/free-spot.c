/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The largest free rectangles of a page.
 *
 *   1. The printable area is cut into square cells. A cell is taken when any point of it is closer
 *      than the gap to an outline: row by row, the reach of each edge with the gap around it is
 *      solved, and what an outline encloses is filled in between.
 *   2. The largest rectangle of free cells is found in one pass over the rows: how many free cells
 *      stand above each column makes a skyline, under which the largest box is found with a stack.
 *   3. Its sides are pushed out from the cells' grid to where the exact check still says that the
 *      gap is kept.
 *   4. The cells that it reaches are taken, and the search is repeated for the next one.
 *
 * Cells are only free when all of them is, so a spot never claims occupied space. */
#include <math.h>
#include <string.h>

#include "geometry/relation.h"
#include "proof/shapes.h"

#define CELL_UM 500    /* no maker misses half a millimetre of waste */
#define MOST_CELLS 640 /* along a side: larger pages have larger cells */

typedef struct {
  SbIBox area;
  sb_um cell;
  guint columns, rows;
  guint8 *taken; /* [row * columns + column] */
} Grid;

static void
grid_init (Grid *grid, SbIBox area)
{
  sb_um longest = MAX (area.x1 - area.x0, area.y1 - area.y0);
  grid->area = area;
  grid->cell = MAX (CELL_UM, longest / MOST_CELLS);
  grid->columns = (guint)((area.x1 - area.x0) / grid->cell);
  grid->rows = (guint)((area.y1 - area.y0) / grid->cell);
  grid->taken = g_new0 (guint8, (gsize)grid->columns * grid->rows + 1);
}

/* Takes the cells of a row that share more than an edge with x0..x1 (um). */
static void
take_run (Grid *grid, guint row, double x0, double x1)
{
  const double touch = 1e-6; /* of a cell: below a thousandth of a micrometre */
  double first = floor ((x0 - grid->area.x0) / grid->cell + touch);
  double end = ceil ((x1 - grid->area.x0) / grid->cell - touch);
  first = MAX (first, 0);
  end = MIN (end, grid->columns);
  if (first < end)
    memset (grid->taken + (gsize)row * grid->columns + (guint)first, 1, (guint)(end - first));
}

/* ---- The reach of an edge with the gap around it ---- */

/* An edge and all that is within the gap of it: two discs and the strip between them. */
typedef struct {
  double ax, ay, bx, by, gap; /* ay <= by */
  double nx, ny;              /* from the edge to the right side of the strip */
} Capsule;

static Capsule
capsule (SbIPoint a, SbIPoint b, double gap)
{
  if (a.y > b.y)
    return capsule (b, a, gap);
  double dx = b.x - a.x, dy = b.y - a.y, length = sqrt (dx * dx + dy * dy);
  return (Capsule){a.x, a.y, b.x, b.y, gap, dy / length * gap, -dx / length * gap};
}

static Capsule
mirrored (const Capsule *c)
{
  return (Capsule){-c->ax, c->ay, -c->bx, c->by, c->gap, c->nx, -c->ny};
}

/* How far right the capsule reaches at height y, which is within it. */
static double
right_at (const Capsule *c, double y)
{
  double from_a = y - c->ay - c->ny, from_b = y - c->by - c->ny;
  if (from_a >= 0 && from_b <= 0 && c->by > c->ay)
    return c->ax + c->nx + from_a / (c->by - c->ay) * (c->bx - c->ax);
  gboolean at_a = from_a < 0 || (from_b <= 0 && c->ax > c->bx);
  double d = y - (at_a ? c->ay : c->by);
  return (at_a ? c->ax : c->bx) + sqrt (MAX (0, c->gap * c->gap - d * d));
}

/* How far right it reaches anywhere in y0..y1: it is convex, so its right side falls off from its
 * rightmost point both ways. */
static double
right_in (const Capsule *c, double y0, double y1)
{
  double rightmost = c->bx > c->ax ? c->by : c->ay;
  return right_at (c, CLAMP (rightmost, y0, y1));
}

static void
take_edge (Grid *grid, SbIPoint a, SbIPoint b, double gap)
{
  Capsule right = capsule (a, b, gap), left = mirrored (&right);
  double top = right.ay - gap, bottom = right.by + gap;
  double first = floor ((top - grid->area.y0) / grid->cell);
  double last = floor ((bottom - grid->area.y0) / grid->cell);
  for (double row = MAX (first, 0); row <= MIN (last, grid->rows - 1.0); row++) {
    double y0 = grid->area.y0 + row * grid->cell;
    double from = MAX (y0, top), to = MIN (y0 + grid->cell, bottom);
    take_run (grid, (guint)row, -right_in (&left, from, to), right_in (&right, from, to));
  }
}

/* ---- What outlines enclose ---- */

typedef struct {
  double x;
  int turn;
} Crossing;

static int
compare_crossings (const void *a, const void *b)
{
  const Crossing *p = a;
  const Crossing *q = b;
  return (p->x > q->x) - (p->x < q->x);
}

static void
find_crossings (const SbPolygon *polygon, double y, GArray *crossings)
{
  g_array_set_size (crossings, 0);
  for (guint l = 0; l < sb_polygon_get_n_loops (polygon); l++) {
    const SbLoop *loop = sb_polygon_get_loop (polygon, l);
    SbIPoint a = loop->points[loop->n_points - 1];
    for (guint i = 0; i < loop->n_points; i++) {
      SbIPoint b = loop->points[i];
      if ((a.y <= y) != (b.y <= y)) {
        Crossing crossing = {a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x), b.y > a.y ? 1 : -1};
        g_array_append_val (crossings, crossing);
      }
      a = b;
    }
  }
  g_array_sort (crossings, compare_crossings);
}

/* The cells that an edge passes are taken already; the others lie wholly inside or outside, as
 * their middle does. */
static void
take_inside (Grid *grid, const SbPolygon *polygon, GArray *crossings)
{
  SbIBox box = sb_polygon_get_box (polygon);
  double first = floor ((double)(box.y0 - grid->area.y0) / grid->cell);
  double last = floor ((double)(box.y1 - grid->area.y0) / grid->cell);
  for (double row = MAX (first, 0); row <= MIN (last, grid->rows - 1.0); row++) {
    find_crossings (polygon, grid->area.y0 + (row + 0.5) * grid->cell, crossings);
    int winding = 0;
    for (guint i = 0; i + 1 < crossings->len; i++) {
      const Crossing *at = &g_array_index (crossings, Crossing, i);
      winding += at->turn;
      if (winding != 0)
        take_run (grid, (guint)row, at[0].x, at[1].x);
    }
  }
}

/* Half a millimetre asks for no finer outline than this; what it may be off is kept clear too. */
#define ROUGH_UM 60.0
#define ROUNDING_UM 1.0

static void
take_shape (Grid *grid, const SbShape *shape, sb_um gap, GArray *crossings)
{
  g_autoptr (SbPolygon) polygon =
      sb_outline_flatten (sb_design_get_outline (shape->design),
                          sb_piece_get_transform (shape->design, shape->piece), ROUGH_UM);
  double clear = gap + ROUGH_UM + ROUNDING_UM;
  for (guint l = 0; l < sb_polygon_get_n_loops (polygon); l++) {
    const SbLoop *loop = sb_polygon_get_loop (polygon, l);
    for (guint i = 0; i < loop->n_points; i++)
      take_edge (grid, loop->points[i], loop->points[(i + 1) % loop->n_points], clear);
  }
  take_inside (grid, polygon, crossings);
}

/* ---- The largest rectangle of free cells ---- */

typedef struct {
  guint column, row, columns, rows;
} Cells;

/* Columns of a skyline that wait for a lower one; each reaches back to where it began. */
typedef struct {
  guint from, height;
} Step;

static void
consider (Cells *best, guint from, guint to, guint bottom, guint height)
{
  if ((guint64)(to - from) * height > (guint64)best->columns * best->rows)
    *best = (Cells){from, bottom + 1 - height, to - from, height};
}

static Cells
largest_free (const Grid *grid)
{
  Cells best = {0};
  g_autofree guint *heights = g_new0 (guint, grid->columns + 1); /* the last one stays 0 */
  g_autofree Step *steps = g_new (Step, grid->columns + 1);
  for (guint row = 0; row < grid->rows; row++) {
    const guint8 *taken = grid->taken + (gsize)row * grid->columns;
    guint n = 0;
    for (guint column = 0; column <= grid->columns; column++) {
      if (column < grid->columns)
        heights[column] = taken[column] ? 0 : heights[column] + 1;
      guint from = column;
      while (n > 0 && steps[n - 1].height >= heights[column]) {
        from = steps[--n].from;
        consider (&best, from, column, row, steps[n].height);
      }
      if (heights[column] > 0)
        steps[n++] = (Step){from, heights[column]};
    }
  }
  return best;
}

/* Takes every cell that a spot reaches into. */
static void
take_box (Grid *grid, SbIBox box)
{
  guint first = (guint)((box.y0 - grid->area.y0) / grid->cell);
  guint end = (guint)((box.y1 - grid->area.y0 + grid->cell - 1) / grid->cell);
  for (guint row = first; row < MIN (end, grid->rows); row++)
    take_run (grid, row, box.x0, box.x1);
}

/* ---- From cells to micrometres ---- */

typedef struct {
  SbIBox area;
  sb_um gap;
  GPtrArray *near; /* SbPolygon that may hinder, borrowed */
  const SbIBox *earlier;
  guint n_earlier;
} Limits;

static gboolean
boxes_meet (SbIBox a, SbIBox b, sb_um gap)
{
  return a.x0 < b.x1 + gap && b.x0 < a.x1 + gap && a.y0 < b.y1 + gap && b.y0 < a.y1 + gap;
}

static gboolean
is_free (const Limits *limits, SbIBox box)
{
  if (box.x0 < limits->area.x0 || box.y0 < limits->area.y0 || box.x1 > limits->area.x1 ||
      box.y1 > limits->area.y1)
    return FALSE;
  for (guint i = 0; i < limits->n_earlier; i++)
    if (boxes_meet (box, limits->earlier[i], 0))
      return FALSE;
  g_autoptr (SbPolygon) polygon = sb_polygon_new_box (box);
  for (guint i = 0; i < limits->near->len; i++)
    if (sb_polygons_closer_than (polygon, limits->near->pdata[i], limits->gap))
      return FALSE;
  return TRUE;
}

static SbIBox
push_side (SbIBox box, int side, sb_um by)
{
  sb_um *const sides[] = {&box.y0, &box.x1, &box.y1, &box.x0};
  *sides[side] += side == 0 || side == 3 ? -by : by;
  return box;
}

/* Pushes each side as far as it goes, at most by `most`. The cells were decided in doubles, so a
 * fraction of a micrometre is given back first where the exact check asks for it. */
static SbIBox
grow (const Limits *limits, SbIBox box, sb_um most)
{
  if (!is_free (limits, box))
    box = (SbIBox){box.x0 + 1, box.y0 + 1, box.x1 - 1, box.y1 - 1};
  for (int side = 0; side < 4; side++) {
    sb_um good = 0, bad = most + 1;
    while (bad - good > 1) {
      sb_um middle = good + (bad - good) / 2;
      if (is_free (limits, push_side (box, side, middle)))
        good = middle;
      else
        bad = middle;
    }
    box = push_side (box, side, good);
  }
  return box;
}

static SbIBox
cells_to_box (const Grid *grid, Cells cells)
{
  sb_um x = grid->area.x0 + (sb_um)cells.column * grid->cell;
  sb_um y = grid->area.y0 + (sb_um)cells.row * grid->cell;
  return (SbIBox){x, y, x + (sb_um)cells.columns * grid->cell, y + (sb_um)cells.rows * grid->cell};
}

static void
find_near (Limits *limits, const GArray *shapes, SbIBox box, sb_um reach)
{
  g_ptr_array_set_size (limits->near, 0);
  for (guint i = 0; i < shapes->len; i++) {
    SbPolygon *outline = g_array_index (shapes, SbShape, i).outline;
    if (boxes_meet (box, sb_polygon_get_box (outline), reach))
      g_ptr_array_add (limits->near, outline);
  }
}

static guint64
area (SbIBox box)
{
  return (guint64)(box.x1 - box.x0) * (guint64)(box.y1 - box.y0);
}

/* Growing may change which one is the largest. */
static void
sort_in (SbIBox *spots, guint n)
{
  for (guint i = n; i > 0 && area (spots[i]) > area (spots[i - 1]); i--) {
    SbIBox spot = spots[i];
    spots[i] = spots[i - 1];
    spots[i - 1] = spot;
  }
}

guint
sb_free_spots_of_shapes (const SbState *state, const GArray *shapes, SbIBox *spots, guint most)
{
  Grid grid;
  grid_init (&grid, sb_state_get_printable_box (state));
  g_autoptr (GArray) crossings = g_array_new (FALSE, FALSE, sizeof (Crossing));
  for (guint i = 0; i < shapes->len; i++)
    take_shape (&grid, &g_array_index (shapes, SbShape, i), state->gap, crossings);

  g_autoptr (GPtrArray) near = g_ptr_array_new ();
  Limits limits = {grid.area, state->gap, near, spots, 0};
  guint n = 0;
  for (; n < most; n++) {
    Cells cells = largest_free (&grid);
    if (cells.columns == 0)
      break;
    SbIBox box = cells_to_box (&grid, cells);
    find_near (&limits, shapes, box, state->gap + 2 * grid.cell);
    limits.n_earlier = n;
    spots[n] = grow (&limits, box, 2 * grid.cell - 1);
    take_box (&grid, spots[n]);
    sort_in (spots, n);
  }
  g_free (grid.taken);
  return n;
}
