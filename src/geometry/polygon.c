/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/polygon-private.h"

#include <math.h>
#include <string.h>

G_GNUC_EXTENSION typedef __int128 int128;

static const SbIBox empty_box = {1, 1, 0, 0};

static SbIBox
ibox_union (SbIBox a, SbIBox b)
{
  if (a.x1 < a.x0)
    return b;
  if (b.x1 < b.x0)
    return a;
  return (SbIBox){MIN (a.x0, b.x0), MIN (a.y0, b.y0), MAX (a.x1, b.x1), MAX (a.y1, b.y1)};
}

static gint64
cross (SbIPoint o, SbIPoint a, SbIPoint b)
{
  return (gint64)(a.x - o.x) * (b.y - o.y) - (gint64)(a.y - o.y) * (b.x - o.x);
}

static gboolean
same_point (SbIPoint a, SbIPoint b)
{
  return a.x == b.x && a.y == b.y;
}

/* Copies a loop without the corners that say nothing: repeated ones, ones on a straight line, and
 * the tips of spikes without width. What remains bounds the same area. Returns the number of
 * corners. */
static guint
weld_loop (const SbLoop *loop, SbIPoint *out)
{
  guint n = 0;
  for (guint i = 0; i < loop->n_points; i++) {
    SbIPoint p = loop->points[i];
    while (n >= 2 && cross (out[n - 2], out[n - 1], p) == 0)
      n--;
    if (n == 0 || !same_point (out[n - 1], p))
      out[n++] = p;
  }
  /* The same across the seam, from both of its sides. */
  guint first = 0;
  for (gboolean changed = TRUE; changed && n - first >= 3;) {
    changed = TRUE;
    if (cross (out[n - 2], out[n - 1], out[first]) == 0)
      n--;
    else if (cross (out[n - 1], out[first], out[first + 1]) == 0)
      first++;
    else
      changed = FALSE;
  }
  n -= first;
  memmove (out, out + first, n * sizeof *out);
  return n < 3 ? 0 : n;
}

/* Twice the area, exactly; the sum runs in 128 bits because a loop may wind as it likes. */
static int128
loop_area2 (const SbLoop *loop)
{
  int128 sum = 0;
  for (guint i = 2; i < loop->n_points; i++)
    sum += cross (loop->points[0], loop->points[i - 1], loop->points[i]);
  return sum;
}

static SbIBox
edge_box (const SbEdgeLine *e)
{
  return (SbIBox){MIN (e->a.x, e->b.x), MIN (e->a.y, e->b.y), MAX (e->a.x, e->b.x),
                  MAX (e->a.y, e->b.y)};
}

static void
build_tree (SbPolygon *polygon)
{
  guint runs = (polygon->n_edges + SB_EDGES_PER_LEAF - 1) / SB_EDGES_PER_LEAF;
  polygon->box = empty_box;
  if (runs == 0)
    return;
  polygon->n_leaves = 1;
  while (polygon->n_leaves < runs)
    polygon->n_leaves *= 2;
  polygon->nodes = g_new (SbIBox, 2 * polygon->n_leaves);
  for (guint i = 0; i < polygon->n_leaves; i++)
    polygon->nodes[polygon->n_leaves + i] = empty_box;
  for (guint i = 0; i < polygon->n_edges; i++) {
    SbIBox *leaf = &polygon->nodes[polygon->n_leaves + i / SB_EDGES_PER_LEAF];
    *leaf = ibox_union (*leaf, edge_box (&polygon->edges[i]));
  }
  for (guint k = polygon->n_leaves - 1; k >= 1; k--)
    polygon->nodes[k] = ibox_union (polygon->nodes[2 * k], polygon->nodes[2 * k + 1]);
  polygon->nodes[0] = empty_box;
  polygon->box = polygon->nodes[1];
}

static gboolean
box_in_range (SbIBox box)
{
  return box.x0 >= -SB_UM_MOST && box.y0 >= -SB_UM_MOST && box.x1 <= SB_UM_MOST &&
         box.y1 <= SB_UM_MOST;
}

static gboolean
in_range (const SbLoop *loops, guint n_loops)
{
  for (guint l = 0; l < n_loops; l++)
    for (guint i = 0; i < loops[l].n_points; i++) {
      SbIPoint p = loops[l].points[i];
      if (!box_in_range ((SbIBox){p.x, p.y, p.x, p.y}))
        return FALSE;
    }
  return TRUE;
}

/* Fills in loops and edges; polygon->points has room for all corners. */
static void
take_loops (SbPolygon *polygon, const SbLoop *loops, guint n_loops)
{
  for (guint l = 0; l < n_loops; l++) {
    SbIPoint *points = polygon->points + polygon->n_edges;
    SbLoop loop = {weld_loop (&loops[l], points), points};
    if (loop.n_points == 0 || loop_area2 (&loop) == 0)
      continue;
    polygon->loops[polygon->n_loops++] = loop;
    for (guint i = 0; i < loop.n_points; i++)
      polygon->edges[polygon->n_edges + i] =
          (SbEdgeLine){points[i], points[(i + 1) % loop.n_points]};
    polygon->n_edges += loop.n_points;
  }
}

static SbPolygon *
polygon_alloc (guint n_loops, guint n_points)
{
  SbPolygon *polygon = g_new0 (SbPolygon, 1);
  g_atomic_ref_count_init (&polygon->refs);
  polygon->loops = g_new0 (SbLoop, n_loops);
  polygon->points = g_new (SbIPoint, n_points);
  polygon->edges = g_new (SbEdgeLine, n_points);
  polygon->box = empty_box;
  return polygon;
}

SbPolygon *
sb_polygon_new (const SbLoop *loops, guint n_loops)
{
  gsize n_points = 0;
  for (guint l = 0; l < n_loops; l++)
    n_points += loops[l].n_points;
  g_return_val_if_fail (n_points <= G_MAXINT32, polygon_alloc (0, 0));
  g_return_val_if_fail (in_range (loops, n_loops), polygon_alloc (0, 0));

  SbPolygon *polygon = polygon_alloc (n_loops, (guint)n_points);
  take_loops (polygon, loops, n_loops);
  build_tree (polygon);
  return polygon;
}

SbPolygon *
sb_polygon_new_box (SbIBox box)
{
  const SbIPoint corners[] = {
      {box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}};
  SbLoop loop = {G_N_ELEMENTS (corners), corners};
  return sb_polygon_new (&loop, box.x1 < box.x0 ? 0 : 1);
}

SbPolygon *
sb_polygon_ref (SbPolygon *polygon)
{
  g_atomic_ref_count_inc (&polygon->refs);
  return polygon;
}

void
sb_polygon_unref (SbPolygon *polygon)
{
  if (!g_atomic_ref_count_dec (&polygon->refs))
    return;
  g_free (polygon->loops);
  g_free (polygon->points);
  g_free (polygon->edges);
  g_free (polygon->nodes);
  g_free (polygon);
}

guint
sb_polygon_get_n_loops (const SbPolygon *polygon)
{
  return polygon->n_loops;
}

const SbLoop *
sb_polygon_get_loop (const SbPolygon *polygon, guint i)
{
  g_return_val_if_fail (i < polygon->n_loops, NULL);
  return &polygon->loops[i];
}

SbIBox
sb_polygon_get_box (const SbPolygon *polygon)
{
  return polygon->box;
}

double
sb_polygon_get_area_mm2 (const SbPolygon *polygon)
{
  int128 sum = 0;
  for (guint l = 0; l < polygon->n_loops; l++)
    sum += loop_area2 (&polygon->loops[l]);
  return (double)sum / (2.0 * SB_UM_PER_MM * SB_UM_PER_MM);
}

double
sb_polygon_get_perimeter_mm (const SbPolygon *polygon)
{
  double sum = 0;
  for (guint i = 0; i < polygon->n_edges; i++) {
    const SbEdgeLine *e = &polygon->edges[i];
    sum += hypot (e->b.x - e->a.x, e->b.y - e->a.y);
  }
  return sum / SB_UM_PER_MM;
}

static void
move_box (SbIBox *box, sb_um dx, sb_um dy)
{
  if (box->x1 < box->x0)
    return;
  *box = (SbIBox){box->x0 + dx, box->y0 + dy, box->x1 + dx, box->y1 + dy};
}

/* Nothing is welded or built anew: all that changes is where it lies. */
SbPolygon *
sb_polygon_move (const SbPolygon *polygon, sb_um dx, sb_um dy)
{
  SbPolygon *moved = polygon_alloc (polygon->n_loops, polygon->n_edges);
  SbIBox box = polygon->box;
  if (polygon->n_edges == 0)
    return moved;
  g_return_val_if_fail (ABS (dx) <= 2 * SB_UM_MOST && ABS (dy) <= 2 * SB_UM_MOST, moved);
  move_box (&box, dx, dy);
  g_return_val_if_fail (box_in_range (box), moved);

  moved->box = box;
  moved->n_loops = polygon->n_loops;
  moved->n_edges = polygon->n_edges;
  moved->n_leaves = polygon->n_leaves;
  moved->nodes = g_memdup2 (polygon->nodes, 2 * (gsize)polygon->n_leaves * sizeof (SbIBox));
  for (guint k = 0; k < 2 * polygon->n_leaves; k++)
    move_box (&moved->nodes[k], dx, dy);
  for (guint i = 0; i < polygon->n_edges; i++) {
    SbEdgeLine e = polygon->edges[i];
    moved->points[i] = (SbIPoint){e.a.x + dx, e.a.y + dy};
    moved->edges[i] = (SbEdgeLine){moved->points[i], {e.b.x + dx, e.b.y + dy}};
  }
  for (guint l = 0; l < polygon->n_loops; l++)
    moved->loops[l] = (SbLoop){polygon->loops[l].n_points,
                               moved->points + (polygon->loops[l].points - polygon->points)};
  return moved;
}
