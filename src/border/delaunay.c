/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Divide and conquer (L. Guibas, J. Stolfi, "Primitives for the Manipulation of General
 * Subdivisions and the Computation of Voronoi Diagrams", 1985), with cuts across x and y in turn
 * (R. A. Dwyer, "A Faster Divide-and-Conquer Algorithm for Constructing Delaunay Triangulations",
 * 1987). Signs come from doubles where their error bound allows and from 128-bit integers where
 * not; the bound of the circle test is J. R. Shewchuk's ("Adaptive Precision Floating-Point
 * Arithmetic and Fast Robust Geometric Predicates", 1997). */
#include "border/delaunay.h"

#include <math.h>

#include "border/block.h"

#define NONE G_MAXUINT
#define THREADED_LEAST 20000 /* points */
#define CIRCLE_ERROR 1.2e-15 /* (10 + 96 u) u with u = 2^-53, rounded up */

/* Edges to take from. */
typedef struct {
  guint next, end;  /* not used yet */
  guint given_back; /* linked by `next` */
} Pool;

/* One part of the triangulation. */
typedef struct {
  const SbPoint *points;
  guint *order; /* the part's points */
  guint n;
  gboolean across_y; /* this part is cut into lower and higher y, else x */
  SbMeshEdge *edges;
  Pool *pool;
  guint hull; /* result: an edge with nothing on its right */
} Part;

/* Twice the area of a, b, c; exact: the products of differences stay below 2^60, and what the
 * doubles round away only matters near 0. */
static inline int
side (SbPoint a, SbPoint b, SbPoint c)
{
  double l = (b.x - a.x) * (c.y - a.y), r = (b.y - a.y) * (c.x - a.x), d = l - r;
  if (fabs (d) > 4e-16 * (fabs (l) + fabs (r)))
    return d > 0 ? 1 : -1;
  gint64 exact = (gint64)(b.x - a.x) * (gint64)(c.y - a.y) - //
                 (gint64)(b.y - a.y) * (gint64)(c.x - a.x);
  return exact > 0 ? 1 : exact < 0 ? -1 : 0;
}

static gboolean
in_circle_exactly (SbPoint a, SbPoint b, SbPoint c, SbPoint d)
{
  gint64 ax = (gint64)(a.x - d.x), ay = (gint64)(a.y - d.y), bx = (gint64)(b.x - d.x),
         by = (gint64)(b.y - d.y), cx = (gint64)(c.x - d.x), cy = (gint64)(c.y - d.y);
  __int128 sum = (__int128)(ax * ax + ay * ay) * (bx * cy - by * cx) +
                 (__int128)(bx * bx + by * by) * (cx * ay - cy * ax) +
                 (__int128)(cx * cx + cy * cy) * (ax * by - ay * bx);
  return sum > 0;
}

/* Does `d` lie in the circle through a, b, c, which turn left? */
static inline gboolean
in_circle (SbPoint a, SbPoint b, SbPoint c, SbPoint d)
{
  double ax = a.x - d.x, ay = a.y - d.y, bx = b.x - d.x, by = b.y - d.y, cx = c.x - d.x,
         cy = c.y - d.y;
  double aa = ax * ax + ay * ay, bb = bx * bx + by * by, cc = cx * cx + cy * cy;
  double sum = aa * (bx * cy - by * cx) + bb * (cx * ay - cy * ax) + cc * (ax * by - ay * bx);
  double size = aa * (fabs (bx * cy) + fabs (by * cx)) + bb * (fabs (cx * ay) + fabs (cy * ax)) +
                cc * (fabs (ax * by) + fabs (ay * bx));
  if (fabs (sum) > CIRCLE_ERROR * size)
    return sum > 0;
  return in_circle_exactly (a, b, c, d);
}

static inline SbPoint
origin (const Part *part, guint e)
{
  return part->points[part->edges[e].origin];
}

static inline gboolean
is_right_of (const Part *part, guint p, guint e)
{
  return side (part->points[p], origin (part, e ^ 1), origin (part, e)) > 0;
}

static inline gboolean
is_left_of (const Part *part, guint p, guint e)
{
  return side (part->points[p], origin (part, e), origin (part, e ^ 1)) > 0;
}

static inline guint
round_left (const Part *part, guint e)
{
  return part->edges[e ^ 1].back;
}

static inline guint
round_right (const Part *part, guint e)
{
  return part->edges[e ^ 1].next;
}

static guint
make_edge (Part *part, guint from, guint to)
{
  Pool *pool = part->pool;
  guint e = pool->given_back;
  if (e != NONE) {
    pool->given_back = part->edges[e].next;
  } else {
    g_assert (pool->next < pool->end);
    e = pool->next;
    pool->next += 2;
  }
  part->edges[e] = (SbMeshEdge){from, e, e};
  part->edges[e + 1] = (SbMeshEdge){to, e + 1, e + 1};
  return e;
}

static void
give_back (SbMeshEdge *edges, Pool *pool, guint even)
{
  edges[even].origin = edges[even + 1].origin = NONE;
  edges[even].next = pool->given_back;
  pool->given_back = even;
}

/* Puts the lone edge `e` after `before`, turning left round their origin. */
static void
insert (Part *part, guint e, guint before)
{
  guint after = part->edges[before].next;
  part->edges[e].next = after;
  part->edges[e].back = before;
  part->edges[before].next = e;
  part->edges[after].back = e;
}

/* A new edge from the end of `a` to the origin of `b`, which share the face on their left. */
static guint
connect (Part *part, guint a, guint b)
{
  guint e = make_edge (part, part->edges[a ^ 1].origin, part->edges[b].origin);
  insert (part, e, round_left (part, a));
  insert (part, e ^ 1, b);
  return e;
}

static void
drop_edge (Part *part, guint e)
{
  SbMeshEdge *edges = part->edges;
  guint even = e & ~1u;
  for (guint k = even; k <= even + 1; k++) {
    edges[edges[k].back].next = edges[k].next;
    edges[edges[k].next].back = edges[k].back;
  }
  give_back (edges, part->pool, even);
}

/* The order along a cut: by x then y, or a quarter turn of it. */
static inline gboolean
comes_before (SbPoint a, SbPoint b, gboolean across_y)
{
  if (across_y)
    return a.y < b.y || (a.y == b.y && a.x > b.x);
  return a.x < b.x || (a.x == b.x && a.y < b.y);
}

/* Moves the `middle` first points of the order to the front. */
static void
split (const SbPoint *points, guint *order, guint n, guint middle, gboolean across_y)
{
  guint low = 0, high = n - 1;
  while (low < high) {
    SbPoint pivot = points[order[low + (high - low) / 2]];
    guint i = low, k = high;
    for (;;) {
      while (comes_before (points[order[i]], pivot, across_y))
        i++;
      while (comes_before (pivot, points[order[k]], across_y))
        k--;
      if (i >= k)
        break;
      guint swap = order[i];
      order[i++] = order[k];
      order[k--] = swap;
    }
    if (middle <= k)
      high = k;
    else
      low = k + 1;
  }
}

static void
sort_few (Part *part)
{
  for (guint i = 1; i < part->n; i++)
    for (guint k = i; k > 0 && comes_before (part->points[part->order[k]],
                                             part->points[part->order[k - 1]], FALSE);
         k--) {
      guint swap = part->order[k];
      part->order[k] = part->order[k - 1];
      part->order[k - 1] = swap;
    }
}

static void
build_few (Part *part)
{
  sort_few (part);
  const guint *p = part->order;
  guint a = make_edge (part, p[0], p[1]);
  part->hull = a;
  if (part->n == 2)
    return;
  guint b = make_edge (part, p[1], p[2]);
  insert (part, b, a ^ 1);
  int turn = side (part->points[p[0]], part->points[p[1]], part->points[p[2]]);
  if (turn != 0)
    connect (part, b, a);
  if (turn < 0)
    part->hull = a ^ 1;
}

/* From one edge of a hull to the one that leaves its farthest point, in the cut's direction or
 * against it. */
static guint
extreme (const Part *part, guint hull, gboolean highest)
{
  guint best = hull;
  for (guint e = round_right (part, hull); e != hull; e = round_right (part, e)) {
    SbPoint p = origin (part, e), q = origin (part, best);
    if (highest ? comes_before (q, p, part->across_y) : comes_before (p, q, part->across_y))
      best = e;
  }
  return best;
}

/* Joins the hulls of the two halves, and triangulates what lies between them. */
static void
merge (Part *part, guint left_hull, guint right_hull)
{
  SbMeshEdge *edges = part->edges;
  guint l = edges[extreme (part, left_hull, TRUE)].back, r = extreme (part, right_hull, FALSE);
  for (;;) { /* down to the common tangent */
    if (is_left_of (part, edges[r].origin, l))
      l = round_left (part, l);
    else if (is_right_of (part, edges[l].origin, r))
      r = round_right (part, r);
    else
      break;
  }
  guint base = connect (part, r ^ 1, l);
  part->hull = base ^ 1;
  for (;;) { /* and up again */
    guint left = edges[base ^ 1].next, right = edges[base].back;
    gboolean has_left = is_right_of (part, edges[left ^ 1].origin, base);
    gboolean has_right = is_right_of (part, edges[right ^ 1].origin, base);
    if (has_left)
      for (;;) {
        guint next = edges[left].next;
        if (!in_circle (origin (part, base ^ 1), origin (part, base), origin (part, left ^ 1),
                        origin (part, next ^ 1)))
          break;
        drop_edge (part, left);
        left = next;
      }
    if (has_right)
      for (;;) {
        guint next = edges[right].back;
        if (!in_circle (origin (part, base ^ 1), origin (part, base), origin (part, right ^ 1),
                        origin (part, next ^ 1)))
          break;
        drop_edge (part, right);
        right = next;
      }
    if (!has_left && !has_right)
      return;
    if (!has_left || (has_right && in_circle (origin (part, left ^ 1), origin (part, left),
                                              origin (part, right), origin (part, right ^ 1))))
      base = connect (part, right, base ^ 1);
    else
      base = connect (part, base ^ 1, left ^ 1);
  }
}

static void
build (Part *part)
{
  if (part->n <= 3) {
    build_few (part);
    return;
  }
  Part low = *part, high = *part;
  low.n = part->n / 2;
  high.n -= low.n;
  high.order += low.n;
  low.across_y = high.across_y = !part->across_y;
  split (part->points, part->order, part->n, low.n, part->across_y);
  build (&low);
  build (&high);
  merge (part, low.hull, high.hull);
}

static gpointer
build_in_thread (gpointer part)
{
  build (part);
  return NULL;
}

/* Two halves at once, each with its own edges; what they leave over joins them. */
static void
build_twice (Part *part)
{
  Part low = *part, high = *part;
  low.n = part->n / 2;
  high.n -= low.n;
  high.order += low.n;
  low.across_y = high.across_y = !part->across_y;
  Pool low_pool = {0, 6 * low.n, NONE}, high_pool = {6 * low.n, 6 * part->n, NONE};
  low.pool = &low_pool;
  high.pool = &high_pool;
  split (part->points, part->order, part->n, low.n, part->across_y);
  GThread *thread = g_thread_new ("triangulate", build_in_thread, &low);
  build (&high);
  g_thread_join (thread);
  *part->pool = high_pool;
  for (; low_pool.next < low_pool.end; low_pool.next += 2)
    give_back (part->edges, part->pool, low_pool.next);
  while (low_pool.given_back != NONE) {
    guint even = low_pool.given_back;
    low_pool.given_back = part->edges[even].next;
    give_back (part->edges, part->pool, even);
  }
  merge (part, low.hull, high.hull);
}

SbMesh *
sb_mesh_new (const SbPoint *points, guint n)
{
  SbMesh *mesh = g_new0 (SbMesh, 1);
  if (n < 2)
    return mesh;
  mesh->edges = sb_block_new ((gsize)6 * n * sizeof *mesh->edges);
  Pool pool = {0, 6 * n, NONE};
  Part part = {
      .points = points, .order = g_new (guint, n), .n = n, .edges = mesh->edges, .pool = &pool};
  for (guint i = 0; i < n; i++)
    part.order[i] = i;
  if (n >= THREADED_LEAST && g_get_num_processors () > 1)
    build_twice (&part);
  else
    build (&part);
  mesh->n_edges = pool.next;
  g_free (part.order);
  return mesh;
}

void
sb_mesh_free (SbMesh *mesh)
{
  if (mesh == NULL)
    return;
  sb_block_free (mesh->edges);
  g_free (mesh);
}
