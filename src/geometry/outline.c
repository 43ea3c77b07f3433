/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/outline.h"
#include "geometry/vector.h"

#include <math.h>
#include <string.h>

struct _SbOutline {
  gatomicrefcount refs;
  guint n_rings;
  SbRing *rings;
  SbCurve *curves; /* of all rings */
  SbBox box;
  double area_mm2;
};

struct _SbOutlineBuilder {
  GArray *rings;  /* SbRing, curves not yet set */
  GArray *curves; /* SbCurve of all finished rings and the open one */
  guint first;    /* of the open ring's curves */
  gboolean open;
  gboolean bad; /* the open ring has a coordinate that is not usable */
  SbPoint start, at;
};

static gboolean
usable (SbPoint p)
{
  return fabs (p.x) <= SB_UM_MOST / SB_UM_PER_MM && fabs (p.y) <= SB_UM_MOST / SB_UM_PER_MM;
}

static gboolean
same_point (SbPoint a, SbPoint b)
{
  return a.x == b.x && a.y == b.y;
}

static SbPoint
mix (SbPoint a, SbPoint b, double t)
{
  return (SbPoint){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

/* ---- Measures of one curve ---- */

/* Half the integral of x dy - y dx along a curve from `p`, by Green's theorem: for a cubic with
 * corners 0..3 it is (6 c01 + 3 c02 + c03 + 3 c12 + 3 c13 + 6 c23) / 20, cij the cross product of
 * corners i and j. Taken relative to `origin`, which costs no accuracy far from 0,0. */
static double
curve_area (SbPoint p, const SbCurve *curve, SbPoint origin)
{
  SbPoint p0 = sb_minus (p, origin);
  SbPoint p3 = sb_minus (curve->end, origin);
  if (curve->straight)
    return sb_cross (p0, p3) / 2;
  SbPoint p1 = sb_minus (curve->c1, origin);
  SbPoint p2 = sb_minus (curve->c2, origin);
  return (6 * sb_cross (p0, p1) + 3 * sb_cross (p0, p2) + sb_cross (p0, p3) +
          3 * sb_cross (p1, p2) + 3 * sb_cross (p1, p3) + 6 * sb_cross (p2, p3)) /
         20;
}

static double
ring_area (const SbRing *ring)
{
  double sum = 0;
  SbPoint p = ring->start;
  for (guint i = 0; i < ring->n_curves; i++) {
    sum += curve_area (p, &ring->curves[i], ring->start);
    p = ring->curves[i].end;
  }
  return sum;
}

static double
cubic_at (double a, double b, double c, double d, double t)
{
  double s = 1 - t;
  return s * s * (s * a + 3 * t * b) + t * t * (3 * s * c + t * d);
}

/* Widens lo..hi by the extremes of a cubic in one axis: where its derivative
 * 3 (A t^2 + B t + C) is nought. */
static void
widen (double a, double b, double c, double d, double *lo, double *hi)
{
  double A = d - a + 3 * (b - c);
  double B = 2 * (a - 2 * b + c);
  double C = b - a;
  double q = B * B - 4 * A * C;
  if (q < 0)
    return;
  /* The stable pair of roots (no difference of close numbers); a root at infinity fails the test
   * below. */
  double r = -0.5 * (B + copysign (sqrt (q), B));
  const double roots[] = {r / A, C / r};
  for (int i = 0; i < 2; i++) {
    if (!(roots[i] > 0 && roots[i] < 1))
      continue;
    double v = cubic_at (a, b, c, d, roots[i]);
    *lo = MIN (*lo, v);
    *hi = MAX (*hi, v);
  }
}

static SbBox
curve_box (SbPoint p, const SbCurve *curve)
{
  SbBox box = sb_box_add ((SbBox){p.x, p.y, p.x, p.y}, curve->end);
  if (curve->straight)
    return box;
  widen (p.x, curve->c1.x, curve->c2.x, curve->end.x, &box.x0, &box.x1);
  widen (p.y, curve->c1.y, curve->c2.y, curve->end.y, &box.y0, &box.y1);
  return box;
}

static double
distance (SbPoint a, SbPoint b)
{
  return hypot (b.x - a.x, b.y - a.y);
}

/* A curve is at least as long as its chord and at most as long as its control polygon. It is
 * halved until both agree, then their mean is taken. The depth bounds the work at a cusp, where
 * the remainder is too short to matter. */
static double
cubic_length (SbPoint p0, SbPoint p1, SbPoint p2, SbPoint p3, int depth)
{
  double chord = distance (p0, p3);
  double legs = distance (p0, p1) + distance (p1, p2) + distance (p2, p3);
  if (legs - chord <= 2e-6 * chord || depth == 24)
    return (chord + legs) / 2;
  SbPoint a = mix (p0, p1, 0.5), b = mix (p1, p2, 0.5), c = mix (p2, p3, 0.5);
  SbPoint ab = mix (a, b, 0.5), bc = mix (b, c, 0.5);
  SbPoint middle = mix (ab, bc, 0.5);
  return cubic_length (p0, a, ab, middle, depth + 1) + cubic_length (middle, bc, c, p3, depth + 1);
}

/* ---- Building ---- */

SbOutlineBuilder *
sb_outline_builder_new (void)
{
  SbOutlineBuilder *builder = g_new0 (SbOutlineBuilder, 1);
  builder->rings = g_array_new (FALSE, FALSE, sizeof (SbRing));
  builder->curves = g_array_new (FALSE, FALSE, sizeof (SbCurve));
  return builder;
}

void
sb_outline_builder_free (SbOutlineBuilder *builder)
{
  g_array_unref (builder->rings);
  g_array_unref (builder->curves);
  g_free (builder);
}

void
sb_outline_builder_move_to (SbOutlineBuilder *builder, SbPoint p)
{
  sb_outline_builder_close (builder);
  builder->open = TRUE;
  builder->bad = !usable (p);
  builder->first = builder->curves->len;
  builder->start = builder->at = p;
}

void
sb_outline_builder_line_to (SbOutlineBuilder *builder, SbPoint p)
{
  g_return_if_fail (builder->open);
  if (same_point (p, builder->at))
    return;
  SbCurve curve = {.straight = TRUE, .c1 = builder->at, .c2 = p, .end = p};
  builder->bad |= !usable (p);
  builder->at = p;
  g_array_append_val (builder->curves, curve);
}

void
sb_outline_builder_curve_to (SbOutlineBuilder *builder, SbPoint c1, SbPoint c2, SbPoint end)
{
  g_return_if_fail (builder->open);
  if (same_point (c1, builder->at) && same_point (c2, end)) {
    sb_outline_builder_line_to (builder, end);
    return;
  }
  SbCurve curve = {.c1 = c1, .c2 = c2, .end = end};
  builder->bad |= !usable (c1) || !usable (c2) || !usable (end);
  builder->at = end;
  g_array_append_val (builder->curves, curve);
}

void
sb_outline_builder_close (SbOutlineBuilder *builder)
{
  if (!builder->open)
    return;
  sb_outline_builder_line_to (builder, builder->start);
  builder->open = FALSE;

  SbRing ring = {.start = builder->start,
                 .n_curves = builder->curves->len - builder->first,
                 .curves = &g_array_index (builder->curves, SbCurve, builder->first)};
  if (builder->bad || ring.n_curves < 2 || ring_area (&ring) == 0)
    g_array_set_size (builder->curves, builder->first);
  else
    g_array_append_val (builder->rings, ring);
}

SbOutline *
sb_outline_builder_end (SbOutlineBuilder *builder)
{
  sb_outline_builder_close (builder);
  SbOutline *outline = g_new0 (SbOutline, 1);
  g_atomic_ref_count_init (&outline->refs);
  outline->n_rings = builder->rings->len;
  outline->rings = (SbRing *)(void *)g_array_free (g_steal_pointer (&builder->rings), FALSE);
  outline->curves = (SbCurve *)(void *)g_array_free (g_steal_pointer (&builder->curves), FALSE);
  outline->box = SB_BOX_EMPTY;
  g_free (builder);

  const SbCurve *next = outline->curves;
  for (guint i = 0; i < outline->n_rings; i++) {
    SbRing *ring = &outline->rings[i];
    ring->curves = next;
    next += ring->n_curves;
    outline->area_mm2 += ring_area (ring);
    SbPoint p = ring->start;
    for (guint k = 0; k < ring->n_curves; k++) {
      outline->box = sb_box_union (outline->box, curve_box (p, &ring->curves[k]));
      p = ring->curves[k].end;
    }
  }
  return outline;
}

SbOutline *
sb_outline_ref (SbOutline *outline)
{
  g_atomic_ref_count_inc (&outline->refs);
  return outline;
}

void
sb_outline_unref (SbOutline *outline)
{
  if (!g_atomic_ref_count_dec (&outline->refs))
    return;
  g_free (outline->rings);
  g_free (outline->curves);
  g_free (outline);
}

guint
sb_outline_get_n_rings (const SbOutline *outline)
{
  return outline->n_rings;
}

const SbRing *
sb_outline_get_ring (const SbOutline *outline, guint i)
{
  g_return_val_if_fail (i < outline->n_rings, NULL);
  return &outline->rings[i];
}

SbBox
sb_outline_get_box (const SbOutline *outline)
{
  return outline->box;
}

double
sb_outline_get_area_mm2 (const SbOutline *outline)
{
  return outline->area_mm2;
}

double
sb_outline_get_perimeter_mm (const SbOutline *outline)
{
  double sum = 0;
  for (guint i = 0; i < outline->n_rings; i++) {
    const SbRing *ring = &outline->rings[i];
    SbPoint p = ring->start;
    for (guint k = 0; k < ring->n_curves; k++) {
      const SbCurve *curve = &ring->curves[k];
      sum += curve->straight ? distance (p, curve->end)
                             : cubic_length (p, curve->c1, curve->c2, curve->end, 0);
      p = curve->end;
    }
  }
  return sum;
}

/* ---- Transforming ---- */

/* TRUE when `t` is a mirror: rings must then run the other way, so that outer ones stay positive.
 */
static gboolean
mirrors (SbTransform t)
{
  return t.xx * t.yy - t.xy * t.yx < 0;
}

static void
add_curve (SbOutlineBuilder *builder, SbTransform t, const SbCurve *curve, gboolean back,
           SbPoint end)
{
  SbPoint p = sb_transform_point (t, end);
  if (curve->straight)
    sb_outline_builder_line_to (builder, p);
  else
    sb_outline_builder_curve_to (builder, sb_transform_point (t, back ? curve->c2 : curve->c1),
                                 sb_transform_point (t, back ? curve->c1 : curve->c2), p);
}

SbOutline *
sb_outline_transform (const SbOutline *outline, SbTransform t)
{
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  gboolean back = mirrors (t);
  for (guint i = 0; i < outline->n_rings; i++) {
    const SbRing *ring = &outline->rings[i];
    sb_outline_builder_move_to (builder, sb_transform_point (t, ring->start));
    for (guint k = 0; k < ring->n_curves; k++) {
      guint m = back ? ring->n_curves - 1 - k : k;
      SbPoint end = !back ? ring->curves[m].end : m > 0 ? ring->curves[m - 1].end : ring->start;
      add_curve (builder, t, &ring->curves[m], back, end);
    }
    sb_outline_builder_close (builder);
  }
  return sb_outline_builder_end (builder);
}

/* ---- Flattening ---- */

/* The longest step h (0..1) over which the cubic strays at most `tolerance` from its chord.
 *
 * With u = 3 p1 - 2 p0 - p3 and v = 3 p2 - p0 - 2 p3, the point of a cubic at t and the point of
 * its chord at t differ by t (1 - t) ((1 - t) u + t v), so at most by max(|u|, |v|) / 4. In the
 * second differences d1 = p0 - 2 p1 + p2, d2 = p1 - 2 p2 + p3 this is at most 3/4 max(|d1|, |d2|);
 * and for the part 0..h of the curve they are h^2 d1 and h^2 (d1 + h (d2 - d1)). The steps are then
 * evened out, so that the last one is not a scrap. */
static double
longest_step (SbPoint d1, SbPoint d2, double tolerance)
{
  double most = tolerance / 0.75;
  double start = hypot (d1.x, d1.y);
  double h = start > most ? sqrt (most / start) : 1;
  SbPoint d = mix (d1, d2, h);
  while (h * h * hypot (d.x, d.y) > most) {
    h *= 0.95;
    d = mix (d1, d2, h);
  }
  return 1 / ceil (1 / h - 1e-6);
}

static void
flatten_cubic (GArray *points, SbPoint p0, SbPoint p1, SbPoint p2, SbPoint p3, double tolerance)
{
  /* A little less than asked pays for the 1e-6 in evening out and for rounding. */
  double allowed = tolerance * (1 - 1e-5);
  for (;;) {
    SbPoint d1 = {p0.x - 2 * p1.x + p2.x, p0.y - 2 * p1.y + p2.y};
    SbPoint d2 = {p1.x - 2 * p2.x + p3.x, p1.y - 2 * p2.y + p3.y};
    double h = longest_step (d1, d2, allowed);
    if (h == 1)
      break;
    SbPoint a = mix (p0, p1, h), b = mix (p1, p2, h), c = mix (p2, p3, h);
    SbPoint ab = mix (a, b, h), bc = mix (b, c, h);
    p0 = mix (ab, bc, h);
    p1 = bc;
    p2 = c;
    SbIPoint corner = sb_point_round (p0);
    g_array_append_val (points, corner);
  }
  SbIPoint corner = sb_point_round (p3);
  g_array_append_val (points, corner);
}

static void
flatten_ring (GArray *points, const SbRing *ring, SbTransform t, double tolerance_mm)
{
  SbPoint p = sb_transform_point (t, ring->start);
  for (guint k = 0; k < ring->n_curves; k++) {
    const SbCurve *curve = &ring->curves[k];
    SbPoint end = sb_transform_point (t, curve->end);
    if (curve->straight) {
      SbIPoint corner = sb_point_round (end);
      g_array_append_val (points, corner);
    } else {
      flatten_cubic (points, p, sb_transform_point (t, curve->c1),
                     sb_transform_point (t, curve->c2), end, tolerance_mm);
    }
    p = end;
  }
}

static void
reverse_points (SbIPoint *points, guint n)
{
  for (guint i = 0; i < n / 2; i++) {
    SbIPoint p = points[i];
    points[i] = points[n - 1 - i];
    points[n - 1 - i] = p;
  }
}

SbPolygon *
sb_outline_flatten (const SbOutline *outline, SbTransform t, double tolerance_um)
{
  g_return_val_if_fail (tolerance_um >= 2 && tolerance_um <= 1000, sb_polygon_new (NULL, 0));

  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbIPoint));
  g_autofree SbLoop *loops = g_new (SbLoop, outline->n_rings);
  for (guint i = 0; i < outline->n_rings; i++) {
    guint before = points->len;
    flatten_ring (points, &outline->rings[i], t, tolerance_um / SB_UM_PER_MM);
    loops[i].n_points = points->len - before;
  }
  SbIPoint *next = (SbIPoint *)(void *)points->data;
  for (guint i = 0; i < outline->n_rings; i++) {
    loops[i].points = next;
    if (mirrors (t))
      reverse_points (next, loops[i].n_points);
    next += loops[i].n_points;
  }
  return sb_polygon_new (loops, outline->n_rings);
}
