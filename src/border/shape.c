/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/shape.h"

#include <math.h>
#include <stdlib.h>

static double
cross (SbPoint o, SbPoint a, SbPoint b)
{
  return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

static int
compare_points (const void *a, const void *b)
{
  const SbPoint *p = a, *q = b;
  if (p->x != q->x)
    return p->x < q->x ? -1 : 1;
  return p->y < q->y ? -1 : p->y > q->y;
}

/* The convex hull of the outer rings, clockwise on the screen (monotone chain: A. M. Andrew,
 * "Another efficient algorithm for convex hulls in two dimensions", 1979). */
static GArray *
hull_of (const SbChain *chain)
{
  GArray *hull = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  for (guint r = 0; r < chain->n_rings; r++)
    if (!chain->rings[r].hole)
      g_array_append_vals (points, chain->points + chain->rings[r].first, chain->rings[r].n);
  guint n = points->len;
  SbPoint *p = (SbPoint *)points->data;
  qsort (p, n, sizeof *p, compare_points);
  g_array_set_size (hull, 2 * n);
  SbPoint *h = (SbPoint *)hull->data;
  guint k = 0;
  for (guint i = 0; i < n; i++) {
    while (k >= 2 && cross (h[k - 2], h[k - 1], p[i]) <= 0)
      k--;
    h[k++] = p[i];
  }
  guint lower = k + 1;
  for (guint i = n - 1; i-- > 0;) {
    while (k >= lower && cross (h[k - 2], h[k - 1], p[i]) <= 0)
      k--;
    h[k++] = p[i];
  }
  g_array_set_size (hull, MAX (k, 2) - 1);
  return hull;
}

/* A convex polygon grown by `width`: legs, and an arc around each corner. */
static void
add_grown_polygon (SbPath *path, const SbPoint *p, guint n, double width)
{
  for (guint i = 0; i < n; i++) {
    SbPoint a = p[i ? i - 1 : n - 1], b = p[i], c = p[i + 1 < n ? i + 1 : 0];
    double in = atan2 (b.y - a.y, b.x - a.x), out = atan2 (c.y - b.y, c.x - b.x);
    double turn = remainder (out - in, 2 * G_PI);
    SbPoint tangent_in = {cos (in), sin (in)}, from = {tangent_in.y, -tangent_in.x};
    if (turn <= 0)
      continue;
    if (width > 0) {
      sb_path_add_arc (path, b, width, from, turn);
    } else {
      sb_path_add (path, b, tangent_in);
      sb_path_add (path, b, (SbPoint){cos (out), sin (out)});
    }
  }
}

static void
add_box (SbPath *path, SbBox box, double corner)
{
  double r = MIN (corner, MIN (box.x1 - box.x0, box.y1 - box.y0) / 2);
  SbPoint p[4] = {{box.x0 + r, box.y0 + r},
                  {box.x1 - r, box.y0 + r},
                  {box.x1 - r, box.y1 - r},
                  {box.x0 + r, box.y1 - r}};
  static const SbPoint out[4] = {{-1, 0}, {0, -1}, {1, 0}, {0, 1}};
  for (int i = 0; i < 4; i++) {
    if (r > 0) {
      sb_path_add_arc (path, p[i], r, out[i], G_PI / 2);
    } else {
      sb_path_add (path, p[i], (SbPoint){-out[i].y, out[i].x});
      sb_path_add (path, p[i], (SbPoint){-out[(i + 1) % 4].y, out[(i + 1) % 4].x});
    }
  }
}

/* How far `p` lies inside a box with rounded corners. */
static double
depth_in_box (SbBox box, double corner, SbPoint p)
{
  double x = MIN (p.x - box.x0, box.x1 - p.x), y = MIN (p.y - box.y0, box.y1 - p.y);
  if (x < corner && y < corner)
    return corner - hypot (corner - x, corner - y);
  return MIN (x, y);
}

/* The least box around the artwork's own, grown by the width or, where a corner is rounded by more
 * than it, by as much as it takes to keep the width to every point. */
static SbBox
box_around (const SbPoint *p, guint n, SbBox inner, double width, double corner)
{
  double low = width, high = MAX (width, corner);
  for (int i = 0; i < 40; i++) {
    double grow = i > 0 ? (low + high) / 2 : low, least = G_MAXDOUBLE;
    SbBox box = (SbBox){inner.x0 - grow, inner.y0 - grow, inner.x1 + grow, inner.y1 + grow};
    double r = MIN (corner, MIN (box.x1 - box.x0, box.y1 - box.y0) / 2);
    for (guint k = 0; k < n; k++)
      least = MIN (least, depth_in_box (box, r, p[k]));
    if (least >= width - 1e-9)
      high = grow;
    else
      low = grow;
    if (high == width)
      break;
  }
  return (SbBox){inner.x0 - high, inner.y0 - high, inner.x1 + high, inner.y1 + high};
}

/* The smallest circle around convex points, by moving towards the farthest point in ever smaller
 * steps, then from the two or three points that hold it. Points are few. */
typedef struct {
  SbPoint centre;
  double radius;
} Circle;

static gboolean
circle_holds (const Circle *c, const SbPoint *p, guint n)
{
  double most = c->radius * (1 + 1e-12) + 1e-9;
  for (guint i = 0; i < n; i++)
    if (hypot (p[i].x - c->centre.x, p[i].y - c->centre.y) > most)
      return FALSE;
  return TRUE;
}

static Circle
circle_of_two (SbPoint a, SbPoint b)
{
  return (Circle){{(a.x + b.x) / 2, (a.y + b.y) / 2}, hypot (a.x - b.x, a.y - b.y) / 2};
}

static Circle
circle_of_three (SbPoint a, SbPoint b, SbPoint c)
{
  double bx = b.x - a.x, by = b.y - a.y, cx = c.x - a.x, cy = c.y - a.y;
  double d = 2 * (bx * cy - by * cx);
  if (d == 0)
    return circle_of_two (a, c);
  double b2 = bx * bx + by * by, c2 = cx * cx + cy * cy;
  double ux = (cy * b2 - by * c2) / d, uy = (bx * c2 - cx * b2) / d;
  return (Circle){{a.x + ux, a.y + uy}, hypot (ux, uy)};
}

/* E. Welzl, "Smallest enclosing disks (balls and ellipsoids)", 1991, as loops. */
static Circle
smallest_circle (const SbPoint *p, guint n)
{
  Circle c = {p[0], 0};
  for (guint i = 1; i < n; i++) {
    if (circle_holds (&c, &p[i], 1))
      continue;
    c = (Circle){p[i], 0};
    for (guint j = 0; j < i; j++) {
      if (circle_holds (&c, &p[j], 1))
        continue;
      c = circle_of_two (p[i], p[j]);
      for (guint k = 0; k < j; k++)
        if (!circle_holds (&c, &p[k], 1))
          c = circle_of_three (p[i], p[j], p[k]);
    }
  }
  return c;
}

/* The place on the ellipse a, b (semi-axes) nearest to a place inside it, first quadrant: bisection
 * on the root of (a x / (t + a^2))^2 + (b y / (t + b^2))^2 = 1 (D. Eberly, "Distance from a Point
 * to an Ellipse, an Ellipsoid, or a Hyperellipsoid", 2013). Returns the distance, negative outside.
 */
static double
distance_in_ellipse (double a, double b, double x, double y)
{
  x = MAX (fabs (x), 1e-9);
  y = MAX (fabs (y), 1e-9);
  double low = -MIN (a, b) * MIN (a, b) + MIN (a, b) * (a < b ? x : y), high = hypot (a * x, b * y);
  low = MAX (low, -MIN (a, b) * MIN (a, b) * (1 - 1e-12));
  for (int i = 0; i < 100; i++) {
    double t = (low + high) / 2, u = a * x / (t + a * a), v = b * y / (t + b * b);
    if (u * u + v * v > 1)
      low = t;
    else
      high = t;
  }
  double t = (low + high) / 2;
  double d = hypot (a * a * x / (t + a * a) - x, b * b * y / (t + b * b) - y);
  return t <= 0 ? d : -d;
}

/* The smallest ellipse with the box's centre and proportions, grown by the width on its axes or a
 * little more, that keeps the width to every point. */
static void
add_ellipse (SbPath *path, const SbPoint *p, guint n, SbBox box, double width)
{
  SbPoint c = sb_box_centre (box);
  double a = MAX ((box.x1 - box.x0) / 2, 1e-3), b = MAX ((box.y1 - box.y0) / 2, 1e-3);
  double low = 0.9, high = 1.5;
  for (int i = 0; i < 40; i++) {
    double scale = (low + high) / 2, least = G_MAXDOUBLE;
    for (guint k = 0; k < n && least >= width; k++)
      least = MIN (least, distance_in_ellipse (a * scale + width, b * scale + width, p[k].x - c.x,
                                               p[k].y - c.y));
    if (least >= width)
      high = scale;
    else
      low = scale;
  }
  a = a * high + width;
  b = b * high + width;
  const int parts = 720;
  for (int k = 0; k < parts; k++) {
    double t = 2 * G_PI * k / parts, s = sin (t), o = cos (t), l = hypot (a * s, b * o);
    sb_path_add (path, (SbPoint){c.x + a * o, c.y + b * s}, (SbPoint){-a * s / l, b * o / l});
  }
}

SbPath *
sb_shape_path (const SbChain *chain, const SbBorderParams *params)
{
  SbPath *path = sb_path_new ();
  g_autoptr (GArray) hull = hull_of (chain);
  const SbPoint *p = (const SbPoint *)hull->data;
  double w = params->width_mm;
  SbBox box = chain->box;
  switch (params->shape) {
  case SB_BORDER_BOX:
    add_box (path, box_around (p, hull->len, box, w, params->corner_mm), params->corner_mm);
    break;
  case SB_BORDER_ROUND: {
    Circle c = smallest_circle (p, hull->len);
    for (int k = 0; k < 4; k++)
      sb_path_add_arc (path, c.centre, c.radius + w,
                       (SbPoint){cos (k * G_PI / 2), sin (k * G_PI / 2)}, G_PI / 2);
    break;
  }
  case SB_BORDER_ELLIPSE:
    add_ellipse (path, p, hull->len, box, w);
    break;
  case SB_BORDER_HULL:
  case SB_BORDER_GROWN:
  default:
    add_grown_polygon (path, p, hull->len, w);
    break;
  }
  sb_path_close (path);
  return path;
}
