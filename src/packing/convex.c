/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/convex.h"

#include <math.h>

/* Twice the area of the triangle a b c: positive when it turns the way outer loops do. */
static gint64
turn_of (SbIPoint a, SbIPoint b, SbIPoint c)
{
  return ((gint64)b.x - a.x) * ((gint64)c.y - a.y) - ((gint64)b.y - a.y) * ((gint64)c.x - a.x);
}

/* Not hypot, whose last bit differs between machines. */
static double
length_of (double dx, double dy)
{
  return sqrt (dx * dx + dy * dy);
}

static int
compare_points (gconstpointer a, gconstpointer b)
{
  const SbIPoint *p = a, *q = b;
  if (p->x != q->x)
    return p->x < q->x ? -1 : 1;
  return p->y < q->y ? -1 : p->y > q->y;
}

GArray *
sb_points_hull (const SbIPoint *points, guint n)
{
  GArray *sorted = g_array_sized_new (FALSE, FALSE, sizeof (SbIPoint), n);
  g_array_append_vals (sorted, points, n);
  g_array_sort (sorted, compare_points);
  GArray *hull = g_array_sized_new (FALSE, FALSE, sizeof (SbIPoint), n + 1);
  /* Andrew's monotone chain: one way along the bottom, back along the top. */
  for (int pass = 0; pass < 2; pass++) {
    guint base = hull->len;
    for (guint k = 0; k < n; k++) {
      SbIPoint p = g_array_index (sorted, SbIPoint, pass == 0 ? k : n - 1 - k);
      while (hull->len >= base + 2 &&
             turn_of (g_array_index (hull, SbIPoint, hull->len - 2),
                      g_array_index (hull, SbIPoint, hull->len - 1), p) <= 0)
        g_array_set_size (hull, hull->len - 1);
      g_array_append_val (hull, p);
    }
    g_array_set_size (hull, hull->len - 1); /* the next chain begins with it */
  }
  g_array_unref (sorted);
  return hull;
}

static gboolean
triangle_has_point (SbIPoint a, SbIPoint b, SbIPoint c, SbIPoint p)
{
  return turn_of (a, b, p) >= 0 && turn_of (b, c, p) >= 0 && turn_of (c, a, p) >= 0;
}

static gboolean
same_point (SbIPoint a, SbIPoint b)
{
  return a.x == b.x && a.y == b.y;
}

static gboolean
is_ear (const SbIPoint *points, const guint *ring, guint n, guint i)
{
  SbIPoint a = points[ring[(i + n - 1) % n]], b = points[ring[i]], c = points[ring[(i + 1) % n]];
  if (turn_of (a, b, c) <= 0)
    return FALSE;
  for (guint k = 0; k < n; k++) {
    SbIPoint p = points[ring[k]];
    if (!same_point (p, a) && !same_point (p, b) && !same_point (p, c) &&
        triangle_has_point (a, b, c, p))
      return FALSE;
  }
  return TRUE;
}

/* Triangles as index triples; FALSE when no ear was left. */
static gboolean
triangulate (const SbIPoint *points, guint n, GPtrArray *triangles)
{
  g_autofree guint *ring = g_new (guint, n);
  for (guint i = 0; i < n; i++)
    ring[i] = i;
  while (n > 3) {
    guint best = G_MAXUINT;
    double best_cut = INFINITY;
    for (guint i = 0; i < n; i++) {
      SbIPoint a = points[ring[(i + n - 1) % n]], b = points[ring[i]],
               c = points[ring[(i + 1) % n]];
      if (turn_of (a, b, c) == 0) { /* a flat corner: drop it, nothing is cut off */
        best = i;
        best_cut = -1;
        break;
      }
      double cut = length_of ((double)c.x - a.x, (double)c.y - a.y);
      if (cut < best_cut && is_ear (points, ring, n, i)) {
        best = i;
        best_cut = cut;
      }
    }
    if (best == G_MAXUINT)
      return FALSE;
    if (best_cut >= 0) {
      GArray *triangle = g_array_new (FALSE, FALSE, sizeof (guint));
      guint corners[3] = {ring[(best + n - 1) % n], ring[best], ring[(best + 1) % n]};
      g_array_append_vals (triangle, corners, 3);
      g_ptr_array_add (triangles, triangle);
    }
    n--;
    memmove (ring + best, ring + best + 1, (n - best) * sizeof *ring);
  }
  if (turn_of (points[ring[0]], points[ring[1]], points[ring[2]]) > 0) {
    GArray *triangle = g_array_new (FALSE, FALSE, sizeof (guint));
    g_array_append_vals (triangle, ring, 3);
    g_ptr_array_add (triangles, triangle);
  }
  return TRUE;
}

/* The union of `a` and `b` along a shared edge when that is convex, else NULL. */
static GArray *
join (const SbIPoint *points, const GArray *a, const GArray *b)
{
  for (guint i = 0; i < a->len; i++) {
    guint from = g_array_index (a, guint, i), to = g_array_index (a, guint, (i + 1) % a->len);
    for (guint j = 0; j < b->len; j++) {
      if (g_array_index (b, guint, j) != to || g_array_index (b, guint, (j + 1) % b->len) != from)
        continue;
      GArray *joined = g_array_new (FALSE, FALSE, sizeof (guint));
      for (guint k = 1; k <= a->len; k++)
        g_array_append_val (joined, g_array_index (a, guint, (i + k) % a->len));
      for (guint k = 2; k < b->len; k++)
        g_array_append_val (joined, g_array_index (b, guint, (j + k) % b->len));
      for (guint k = 0; k < joined->len; k++) {
        guint n = joined->len;
        if (turn_of (points[g_array_index (joined, guint, k)],
                     points[g_array_index (joined, guint, (k + 1) % n)],
                     points[g_array_index (joined, guint, (k + 2) % n)]) < 0) {
          g_array_unref (joined);
          return NULL;
        }
      }
      return joined;
    }
  }
  return NULL;
}

static void
join_parts (const SbIPoint *points, GPtrArray *parts)
{
  for (guint i = 0; i < parts->len; i++) {
    for (guint j = i + 1; j < parts->len; j++) {
      GArray *joined = join (points, parts->pdata[i], parts->pdata[j]);
      if (joined == NULL)
        continue;
      g_array_unref (parts->pdata[i]);
      parts->pdata[i] = joined;
      g_ptr_array_remove_index (parts, j);
      j = i; /* what did not fit before may fit now */
    }
  }
}

void
sb_convex_parts (const SbLoop *loop, GPtrArray *parts)
{
  g_autoptr (GPtrArray) pieces = g_ptr_array_new_with_free_func (NULL);
  gboolean whole = triangulate (loop->points, loop->n_points, pieces);
  if (whole)
    join_parts (loop->points, pieces);
  for (guint i = 0; i < pieces->len; i++) {
    GArray *piece = pieces->pdata[i];
    if (whole) {
      g_autofree SbIPoint *corners = g_new (SbIPoint, piece->len);
      for (guint k = 0; k < piece->len; k++)
        corners[k] = loop->points[g_array_index (piece, guint, k)];
      g_ptr_array_add (parts, sb_points_hull (corners, piece->len));
    }
    g_array_unref (piece);
  }
  if (!whole)
    g_ptr_array_add (parts, sb_points_hull (loop->points, loop->n_points));
}

/* The corner that stands for b and c when the legs a-b and d-c are made longer; FALSE when they do
 * not meet outside or reach out farther than `slack`. */
static gboolean
meet (SbIPoint a, SbIPoint b, SbIPoint c, SbIPoint d, double slack, SbIPoint *corner, double *reach)
{
  double ux = (double)b.x - a.x, uy = (double)b.y - a.y, vx = (double)c.x - d.x,
         vy = (double)c.y - d.y;
  double det = ux * vy - uy * vx;
  if (det >= 0) /* together they turn by half a circle or more */
    return FALSE;
  double t = (((double)c.x - b.x) * vy - ((double)c.y - b.y) * vx) / det;
  double px = b.x + t * ux, py = b.y + t * uy;
  double ex = (double)c.x - b.x, ey = (double)c.y - b.y, length = length_of (ex, ey);
  *reach = fabs ((px - b.x) * ey - (py - b.y) * ex) / length;
  if (!(*reach <= slack) || fabs (px) > SB_UM_MOST || fabs (py) > SB_UM_MOST)
    return FALSE;
  /* A little farther out from both legs, so that rounding cuts nothing off. */
  double u = length_of (ux, uy), v = length_of (vx, vy);
  double ox = uy / u - vy / v, oy = -ux / u + vx / v; /* sum of the outward normals */
  double along = (ox * uy - oy * ux) / u;             /* of either: 1 + cos of the turn */
  if (along < 0.2)
    return FALSE;
  *corner =
      (SbIPoint){(sb_um)lround (px + 1.5 * ox / along), (sb_um)lround (py + 1.5 * oy / along)};
  return TRUE;
}

/* What may be done at a corner: dropping it where the loop turns inwards, or joining it with the
 * next one where both turn outwards. */
typedef struct {
  double reach; /* how far that sticks out; INFINITY where nothing may be done */
  gboolean drop;
  SbIPoint corner; /* in place of both */
} Saving;

static Saving
saving_at (const GArray *points, guint i, double slack)
{
  guint n = points->len;
  SbIPoint a = g_array_index (points, SbIPoint, (i + n - 1) % n),
           b = g_array_index (points, SbIPoint, i),
           c = g_array_index (points, SbIPoint, (i + 1) % n),
           d = g_array_index (points, SbIPoint, (i + 2) % n);
  Saving saving = {.reach = INFINITY, .corner = b};
  gint64 at_b = turn_of (a, b, c), at_c = turn_of (b, c, d);
  saving.drop = at_b <= 0;
  if (saving.drop) {
    double length = length_of ((double)c.x - a.x, (double)c.y - a.y);
    double reach = length > 0 ? (double)-at_b / length : INFINITY;
    saving.reach = reach <= slack ? reach : INFINITY;
    return saving;
  }
  double reach;
  if (at_c > 0 && meet (a, b, c, d, slack, &saving.corner, &reach))
    saving.reach = reach;
  return saving;
}

static gboolean
legs_cross (SbIPoint a, SbIPoint b, SbIPoint c, SbIPoint d)
{
  gint64 c_side = turn_of (a, b, c), d_side = turn_of (a, b, d), a_side = turn_of (c, d, a),
         b_side = turn_of (c, d, b);
  return ((c_side > 0) != (d_side > 0) || c_side == 0 || d_side == 0) &&
         ((a_side > 0) != (b_side > 0) || a_side == 0 || b_side == 0) &&
         MAX (a.x, b.x) >= MIN (c.x, d.x) && MAX (c.x, d.x) >= MIN (a.x, b.x) &&
         MAX (a.y, b.y) >= MIN (c.y, d.y) && MAX (c.y, d.y) >= MIN (a.y, b.y);
}

static gboolean
is_simple (const GArray *points)
{
  guint n = points->len;
  const SbIPoint *p = (const SbIPoint *)(gpointer)points->data;
  for (guint i = 0; i < n; i++)
    for (guint j = i + 2; j < n; j++)
      if ((j + 1) % n != i && legs_cross (p[i], p[i + 1], p[j], p[(j + 1) % n]))
        return FALSE;
  return n >= 3;
}

GArray *
sb_loop_simplify_outwards (const SbLoop *loop, double slack)
{
  GArray *points = g_array_sized_new (FALSE, FALSE, sizeof (SbIPoint), loop->n_points);
  g_array_append_vals (points, loop->points, loop->n_points);
  g_autoptr (GArray) savings = g_array_sized_new (FALSE, FALSE, sizeof (Saving), points->len);
  for (guint i = 0; i < points->len && slack > 0; i++) {
    Saving saving = saving_at (points, i, slack);
    g_array_append_val (savings, saving);
  }
  while (points->len > 4 && slack > 0) {
    guint best = 0;
    for (guint i = 1; i < points->len; i++)
      if (g_array_index (savings, Saving, i).reach < g_array_index (savings, Saving, best).reach)
        best = i;
    Saving saving = g_array_index (savings, Saving, best);
    if (!(saving.reach <= slack))
      break;
    if (!saving.drop)
      g_array_index (points, SbIPoint, (best + 1) % points->len) = saving.corner;
    g_array_remove_index (points, best);
    g_array_remove_index (savings, best);
    for (guint k = 0; k < 5; k++) { /* those whose neighbours are others now */
      guint i = (best + 2 * points->len + k - 3) % points->len;
      g_array_index (savings, Saving, i) = saving_at (points, i, slack);
    }
  }
  if (!is_simple (points)) { /* a narrow bay closed: keep the loop as it was */
    g_array_set_size (points, 0);
    g_array_append_vals (points, loop->points, loop->n_points);
  }
  return points;
}
