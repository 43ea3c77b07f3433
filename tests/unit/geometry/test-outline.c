/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/outline.h"
#include "suite.h"

#include <locale.h>
#include <math.h>
#include <string.h>

/* A circle of four cubics; the usual constant keeps it within 0.03 % of the radius. */
static void
add_circle (SbOutlineBuilder *builder, double x, double y, double r)
{
  const double k = 0.5522847498 * r;
  sb_outline_builder_move_to (builder, (SbPoint){x + r, y});
  sb_outline_builder_curve_to (builder, (SbPoint){x + r, y + k}, (SbPoint){x + k, y + r},
                               (SbPoint){x, y + r});
  sb_outline_builder_curve_to (builder, (SbPoint){x - k, y + r}, (SbPoint){x - r, y + k},
                               (SbPoint){x - r, y});
  sb_outline_builder_curve_to (builder, (SbPoint){x - r, y - k}, (SbPoint){x - k, y - r},
                               (SbPoint){x, y - r});
  sb_outline_builder_curve_to (builder, (SbPoint){x + k, y - r}, (SbPoint){x + r, y - k},
                               (SbPoint){x + r, y});
  sb_outline_builder_close (builder);
}

static void
add_box (SbOutlineBuilder *builder, double x0, double y0, double x1, double y1)
{
  sb_outline_builder_move_to (builder, (SbPoint){x0, y0});
  sb_outline_builder_line_to (builder, (SbPoint){x1, y0});
  sb_outline_builder_line_to (builder, (SbPoint){x1, y1});
  sb_outline_builder_line_to (builder, (SbPoint){x0, y1});
  sb_outline_builder_close (builder);
}

static SbOutline *
circle (double x, double y, double r)
{
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  add_circle (builder, x, y, r);
  return sb_outline_builder_end (builder);
}

static SbOutline *
random_outline (GRand *rand, double reach)
{
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  SbPoint p[3];
  int n = g_rand_int_range (rand, 2, 8);
  sb_outline_builder_move_to (builder, (SbPoint){g_rand_double_range (rand, -reach, reach), 0});
  for (int i = 0; i < n; i++) {
    for (int k = 0; k < 3; k++)
      p[k] = (SbPoint){g_rand_double_range (rand, -reach, reach),
                       g_rand_double_range (rand, -reach, reach)};
    if (g_rand_int_range (rand, 0, 4) == 0)
      p[0] = p[1]; /* control points that fall together */
    if (g_rand_int_range (rand, 0, 4) == 0)
      sb_outline_builder_line_to (builder, p[2]);
    else
      sb_outline_builder_curve_to (builder, p[0], p[1], p[2]);
  }
  return sb_outline_builder_end (builder);
}

static SbPoint
curve_at (SbPoint p, const SbCurve *c, double t)
{
  double s = 1 - t;
  if (c->straight)
    return (SbPoint){s * p.x + t * c->end.x, s * p.y + t * c->end.y};
  return (SbPoint){
      s * s * s * p.x + 3 * s * s * t * c->c1.x + 3 * s * t * t * c->c2.x + t * t * t * c->end.x,
      s * s * s * p.y + 3 * s * s * t * c->c1.y + 3 * s * t * t * c->c2.y + t * t * t * c->end.y};
}

START_TEST (a_circle_measures_as_one)
{
  g_autoptr (SbOutline) outline = circle (30, 40, 10);
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (outline), G_PI * 100, 0.001 * G_PI * 100);
  ck_assert_double_eq_tol (sb_outline_get_perimeter_mm (outline), 2 * G_PI * 10,
                           0.0005 * 2 * G_PI * 10);
  SbBox box = sb_outline_get_box (outline);
  ck_assert_double_eq_tol (box.x0, 20, 1e-9);
  ck_assert_double_eq_tol (box.y1, 50, 1e-9);
}
END_TEST

START_TEST (a_parabola_measures_exactly)
{
  /* y = 4 x (1 - x) from 0,0 to 1,0, raised to a cubic, closed by its base: area 2/3, height 1,
   * arc length sqrt(17)/2 + asinh(4)/8 (Archimedes; the integral of sqrt(1 + (4 - 8x)^2)). */
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  sb_outline_builder_move_to (builder, (SbPoint){1, 0});
  sb_outline_builder_curve_to (builder, (SbPoint){2 / 3.0, 4 / 3.0}, (SbPoint){1 / 3.0, 4 / 3.0},
                               (SbPoint){0, 0});
  g_autoptr (SbOutline) outline = sb_outline_builder_end (builder);
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (outline), 2 / 3.0, 1e-14);
  ck_assert_double_eq_tol (sb_outline_get_box (outline).y1, 1, 1e-14);
  double length = 1 + sqrt (17) / 2 + asinh (4) / 8;
  ck_assert_double_eq_tol (sb_outline_get_perimeter_mm (outline), length, 1e-6 * length);
}
END_TEST

START_TEST (holes_are_taken_off)
{
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  add_box (builder, 0, 0, 10, 10);
  sb_outline_builder_move_to (builder, (SbPoint){2, 2});
  sb_outline_builder_line_to (builder, (SbPoint){2, 4});
  sb_outline_builder_line_to (builder, (SbPoint){4, 4});
  sb_outline_builder_line_to (builder, (SbPoint){4, 2});
  g_autoptr (SbOutline) outline = sb_outline_builder_end (builder);
  ck_assert_uint_eq (sb_outline_get_n_rings (outline), 2);
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (outline), 96, 1e-12);
  ck_assert_double_eq_tol (sb_outline_get_perimeter_mm (outline), 48, 1e-12);
}
END_TEST

START_TEST (rings_that_are_none_are_dropped)
{
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  add_box (builder, 0, 0, 0, 10);
  add_box (builder, NAN, 0, 5, 10);
  add_box (builder, 0, 0, INFINITY, 10);
  add_box (builder, 0, 0, 10000.5, 10);
  sb_outline_builder_move_to (builder, (SbPoint){0, 0});
  sb_outline_builder_move_to (builder, (SbPoint){1, 1});
  sb_outline_builder_line_to (builder, (SbPoint){1, 1});
  sb_outline_builder_close (builder);
  sb_outline_builder_close (builder);
  add_box (builder, 0, 0, 2, 3);
  g_autoptr (SbOutline) outline = sb_outline_builder_end (builder);
  ck_assert_uint_eq (sb_outline_get_n_rings (outline), 1);
  ck_assert_double_eq (sb_outline_get_area_mm2 (outline), 6);
  g_autoptr (SbOutline) none = sb_outline_builder_end (sb_outline_builder_new ());
  ck_assert (sb_box_is_empty (sb_outline_get_box (none)));
  g_autofree char *path = sb_outline_to_svg (none);
  ck_assert_str_eq (path, "");
}
END_TEST

/* The box touches the curve on all sides and holds all of it: against 1000 points of each curve. */
START_TEST (the_box_is_the_curves_own)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i);
  g_autoptr (SbOutline) outline = random_outline (rand, 100);
  SbBox box = sb_outline_get_box (outline), seen = SB_BOX_EMPTY;
  for (guint r = 0; r < sb_outline_get_n_rings (outline); r++) {
    const SbRing *ring = sb_outline_get_ring (outline, r);
    SbPoint p = ring->start;
    for (guint k = 0; k < ring->n_curves; p = ring->curves[k++].end)
      for (int i = 0; i <= 1000; i++)
        seen = sb_box_add (seen, curve_at (p, &ring->curves[k], i / 1000.0));
  }
  ck_assert_double_ge (seen.x0, box.x0 - 1e-9);
  ck_assert_double_le (seen.y1, box.y1 + 1e-9);
  ck_assert_double_eq_tol (seen.x0, box.x0, 0.01);
  ck_assert_double_eq_tol (seen.y0, box.y0, 0.01);
  ck_assert_double_eq_tol (seen.x1, box.x1, 0.01);
  ck_assert_double_eq_tol (seen.y1, box.y1, 0.01);
}
END_TEST

static double
distance_to_polygon (const SbPolygon *polygon, SbPoint p)
{
  double least = INFINITY;
  for (guint l = 0; l < sb_polygon_get_n_loops (polygon); l++) {
    const SbLoop *loop = sb_polygon_get_loop (polygon, l);
    for (guint i = 0; i < loop->n_points; i++) {
      SbIPoint a = loop->points[i], b = loop->points[(i + 1) % loop->n_points];
      double dx = b.x - a.x, dy = b.y - a.y;
      double t = ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy);
      t = CLAMP (t, 0, 1);
      least = MIN (least, hypot (a.x + t * dx - p.x, a.y + t * dy - p.y));
    }
  }
  return least;
}

/* No point of the curves is farther from the polygon than promised, whatever the curves; and the
 * bound is used, not wasted. */
START_TEST (flattening_keeps_its_bound)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i);
  double tolerance = g_rand_double_range (rand, 2, 300);
  g_autoptr (SbOutline) outline = random_outline (rand, 40);
  SbTransform t = sb_transform_turn ((SbPoint){0, 0}, g_rand_double_range (rand, 0, 360),
                                     (SbPoint){g_rand_double_range (rand, -500, 500), 3});
  g_autoptr (SbPolygon) polygon = sb_outline_flatten (outline, t, tolerance);
  double worst = 0;
  for (guint r = 0; r < sb_outline_get_n_rings (outline); r++) {
    const SbRing *ring = sb_outline_get_ring (outline, r);
    SbPoint p = ring->start;
    for (guint k = 0; k < ring->n_curves; p = ring->curves[k++].end)
      for (int i = 0; i < 300; i++) {
        SbPoint q = sb_transform_point (t, curve_at (p, &ring->curves[k], i / 300.0));
        worst = MAX (worst, distance_to_polygon (polygon, (SbPoint){q.x * 1000, q.y * 1000}));
      }
  }
  ck_assert_msg (worst <= tolerance + 0.708, "%.3f um away, %.3f allowed", worst, tolerance);
}
END_TEST

/* One number for the corners of many flattened outlines at many turns. It holds for every compiler
 * and level of optimisation (the build forbids contracted sums); a change of it means that layouts
 * made earlier are judged by other corners, which must be meant. */
#define GOLDEN_CORNERS G_GUINT64_CONSTANT (6801696595850872573)

static guint64
add_to_hash (guint64 hash, gint32 value)
{
  for (int i = 0; i < 4; i++)
    hash = (hash ^ ((guint32)value >> (8 * i) & 0xff)) * G_GUINT64_CONSTANT (1099511628211);
  return hash; /* FNV-1a */
}

START_TEST (corners_are_the_same_everywhere)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260101);
  guint64 hash = G_GUINT64_CONSTANT (14695981039346656037);
  for (int i = 0; i < 200; i++) {
    g_autoptr (SbOutline) outline = random_outline (rand, 60);
    SbTransform t = sb_transform_turn ((SbPoint){1.5, -2}, i * 1.7, (SbPoint){100.1, 200.2});
    g_autoptr (SbPolygon) polygon = sb_outline_flatten (outline, t, 10);
    for (guint l = 0; l < sb_polygon_get_n_loops (polygon); l++)
      for (guint k = 0; k < sb_polygon_get_loop (polygon, l)->n_points; k++) {
        SbIPoint p = sb_polygon_get_loop (polygon, l)->points[k];
        hash = add_to_hash (add_to_hash (hash, p.x), p.y);
      }
  }
  ck_assert_msg (hash == GOLDEN_CORNERS, "%" G_GUINT64_FORMAT, hash);
}
END_TEST

START_TEST (flattening_wastes_no_corners)
{
  /* A chord of a circle of radius r over the angle 2 a strays r (1 - cos a). */
  g_autoptr (SbOutline) outline = circle (0, 0, 25);
  g_autoptr (SbPolygon) polygon = sb_outline_flatten (outline, SB_TRANSFORM_IDENTITY, 10);
  double least = G_PI / acos (1 - 0.010 / 25);
  guint n = sb_polygon_get_loop (polygon, 0)->n_points;
  ck_assert_uint_ge (n, (guint)least);
  ck_assert_uint_le (n, (guint)(1.25 * least));
}
END_TEST

START_TEST (flattening_keeps_the_area)
{
  g_autoptr (SbOutline) outline = circle (100, 100, 25);
  double area = sb_outline_get_area_mm2 (outline);
  g_autoptr (SbPolygon) polygon = sb_outline_flatten (outline, SB_TRANSFORM_IDENTITY, 2);
  ck_assert_double_eq_tol (sb_polygon_get_area_mm2 (polygon), area, 2 * G_PI * 25 * 0.003);
}
END_TEST

START_TEST (a_mirrored_outline_keeps_its_sign)
{
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  add_circle (builder, 10, 10, 8);
  sb_outline_builder_move_to (builder, (SbPoint){8, 8});
  sb_outline_builder_line_to (builder, (SbPoint){8, 12});
  sb_outline_builder_line_to (builder, (SbPoint){12, 12});
  g_autoptr (SbOutline) outline = sb_outline_builder_end (builder);
  SbTransform mirror = {-1, 0, 0, 1, 50, 0};
  g_autoptr (SbOutline) mirrored = sb_outline_transform (outline, mirror);
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (mirrored), sb_outline_get_area_mm2 (outline),
                           1e-9);
  g_autoptr (SbPolygon) direct = sb_outline_flatten (outline, mirror, 5);
  g_autoptr (SbPolygon) twice = sb_outline_flatten (mirrored, SB_TRANSFORM_IDENTITY, 5);
  ck_assert_double_gt (sb_polygon_get_area_mm2 (direct), 0);
  ck_assert_double_eq_tol (sb_polygon_get_area_mm2 (direct), sb_polygon_get_area_mm2 (twice), 0.1);
  g_autoptr (SbOutline) back = sb_outline_transform (mirrored, mirror);
  g_autofree char *before = sb_outline_to_svg (outline);
  g_autofree char *after = sb_outline_to_svg (back);
  ck_assert_str_eq (before, after);
}
END_TEST

START_TEST (svg_is_what_it_was)
{
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  sb_outline_builder_move_to (builder, (SbPoint){0, -0.00001});
  sb_outline_builder_line_to (builder, (SbPoint){10, 0.5});
  sb_outline_builder_curve_to (builder, (SbPoint){10, 5}, (SbPoint){5, 10}, (SbPoint){0, 10});
  g_autoptr (SbOutline) outline = sb_outline_builder_end (builder);
  g_autofree char *path = sb_outline_to_svg (outline);
  ck_assert_str_eq (path, "M 0.0000,0.0000 L 10.0000,0.5000 C 10.0000,5.0000 5.0000,10.0000 "
                          "0.0000,10.0000 Z");
}
END_TEST

START_TEST (svg_reaches_a_fixed_point)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i);
  g_autoptr (SbOutline) outline = random_outline (rand, 300);
  g_autofree char *path = sb_outline_to_svg (outline);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbOutline) read = sb_outline_from_svg (path, &error);
  ck_assert_ptr_nonnull (read);
  g_autofree char *again = sb_outline_to_svg (read);
  ck_assert_str_eq (path, again);
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (outline), sb_outline_get_area_mm2 (read), 2);
}
END_TEST

static const char *bad_paths[] = {
    "L 1,2 Z",           "M 1,2 L 3,4",        "M 1,2 M 3,4 Z",     "M 1,2 L 3 Z",
    "M nan,2 L 3,4 Z",   "M 1,2 L inf,4 Z",    "M 0x10,2 L 3,4 Z",  "M 1,2 l 3,4 Z",
    "M 1,2 C 1,2 3,4 Z", "M 1,2 L 1e9,4 Z",    "M 1,2 Q 1,2 3,4 Z", "Z",
    "M 1,2 L 3,4 Z Z",   "M 1,2 L 3,4 Z junk", "M 1,2 3,4 5,6 Z",   "\xff",
};

START_TEST (svg_of_others_is_refused)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbOutline) outline = sb_outline_from_svg (bad_paths[_i], &error);
  ck_assert_msg (outline == NULL, "took %s", bad_paths[_i]);
  ck_assert (g_error_matches (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_SYNTAX));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("outline");
  TCase *measures = tcase_create ("measures");
  tcase_add_test (measures, a_circle_measures_as_one);
  tcase_add_test (measures, a_parabola_measures_exactly);
  tcase_add_test (measures, holes_are_taken_off);
  tcase_add_test (measures, rings_that_are_none_are_dropped);
  tcase_add_loop_test (measures, the_box_is_the_curves_own, 0, 50);
  tcase_add_test (measures, a_mirrored_outline_keeps_its_sign);
  suite_add_tcase (suite, measures);
  TCase *flattening = tcase_create ("flattening");
  tcase_add_loop_test (flattening, flattening_keeps_its_bound, 0, 60);
  tcase_add_test (flattening, corners_are_the_same_everywhere);
  tcase_add_test (flattening, flattening_wastes_no_corners);
  tcase_add_test (flattening, flattening_keeps_the_area);
  suite_add_tcase (suite, flattening);
  TCase *svg = tcase_create ("svg");
  tcase_add_test (svg, svg_is_what_it_was);
  tcase_add_loop_test (svg, svg_reaches_a_fixed_point, 0, 50);
  tcase_add_loop_test (svg, svg_of_others_is_refused, 0, G_N_ELEMENTS (bad_paths));
  suite_add_tcase (suite, svg);
  return sb_run_suite (suite);
}
