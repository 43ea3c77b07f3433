/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Simple shapes around random artwork: each keeps the border's width to every opaque pixel
 * (handbook 4.1), by distances computed here, and none is larger than it has to be:
 *
 *   circle   GEOSMinimumBoundingCircle of what was drawn, plus the width
 *   hull     GEOSBuffer of GEOSConvexHull of what was drawn
 *   box      the pixels' box; with a corner radius r above the width w the corner of a full box
 * lies (r - w) / sqrt 2 from the arc's middle on each axis, so it grows by r - (r - w) / sqrt 2
 *   ellipse  of a disc: the disc's own circle; of a box: the smallest ellipse around a box with its
 *            proportions has sqrt 2 times its half axes */
#include "suite.h"

#include <geos_c.h>

#include "border/silhouette.h"
#include "drawing.h"
#include "outline-check.h"

#define MM (25.4 / 300)
#define SIDE 500
#define WIDTH_MM 3.0
#define RUNS 12
#define CORNER_MM 0.030 /* what a corner may be off at 300 dpi */

static SbPoint corners[4 * SIDE * SIDE]; /* mm, of wholly covered pixels */
static guint n_corners;
static SbPoint drawn[64]; /* px, the star's own corners */
static guint n_drawn;

static void
quiet (const char *format, ...)
{
}

static void
note_corners (const SbCoverage *coverage)
{
  n_corners = 0;
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++) {
      const guint8 *at = sb_coverage_row (coverage, y) + x;
      gboolean rim = at[-1] < 255 || at[1] < 255 || at[coverage->stride] < 255 ||
                     *(at - coverage->stride) < 255;
      for (int k = 0; k < 4 && *at == 255 && rim; k++)
        corners[n_corners++] = (SbPoint){(x + k % 2) * MM, (y + k / 2) * MM};
    }
}

static SbSilhouette *
silhouette_of (SbDrawing *drawing)
{
  SbCoverage *coverage = sb_drawing_end (drawing);
  SbSilhouetteParams params = sb_silhouette_params_default ();
  note_corners (coverage);
  return sb_silhouette_from_coverage (coverage, SIDE * MM, SIDE * MM, &params, NULL);
}

static SbSilhouette *
draw_star (GRand *random)
{
  SbPoint *p = drawn;
  SbDrawing *drawing = sb_drawing_new (SIDE, SIDE);
  double outer = g_rand_double_range (random, 120, 230);
  guint n = sb_drawing_star (p, (guint)g_rand_int_range (random, 3, 9), (SbPoint){250, 250}, outer,
                             outer * g_rand_double_range (random, 0.3, 0.9),
                             6.28 * g_rand_double (random));
  double flat = g_rand_double_range (random, 0.4, 1);
  for (guint i = 0; i < n; i++)
    p[i].y = 250 + flat * (p[i].y - 250);
  sb_drawing_add (drawing, p, n);
  n_drawn = n;
  return silhouette_of (drawing);
}

static SbSilhouette *
draw_box (double width, double height)
{
  SbPoint p[] = {{50, 60}, {50 + width, 60}, {50 + width, 60 + height}, {50, 60 + height}};
  SbDrawing *drawing = sb_drawing_new (SIDE, SIDE);
  sb_drawing_add (drawing, p, 4);
  return silhouette_of (drawing);
}

static SbOutline *
grow (SbSilhouette *silhouette, SbBorderShape shape, double corner_mm)
{
  SbBorderParams params = sb_border_params_default ();
  params.shape = shape;
  params.width_mm = WIDTH_MM;
  params.corner_mm = corner_mm;
  params.tolerance_um = 1;
  g_autoptr (SbGrowth) growth = sb_border_grow (silhouette, &params, NULL, NULL);
  ck_assert_uint_eq (sb_outline_get_n_rings (sb_growth_get_outline (growth)), 1);
  return sb_outline_ref (sb_growth_get_outline (growth));
}

static GEOSGeometry *
geos_points (const SbPoint *p, guint n, double mm)
{
  GEOSCoordSequence *points = GEOSCoordSeq_create (n, 2);
  for (guint i = 0; i < n; i++)
    GEOSCoordSeq_setXY (points, i, p[i].x * mm, p[i].y * mm);
  return GEOSGeom_createLineString (points);
}

/* The shapes are convex, and depth in a convex shape is least at a corner of the pixels' hull. */
static double
least_depth (const SbOutline *outline)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  sb_check_flatten (outline, 64, 0.1, points, ends);
  GEOSGeometry *line = geos_points (corners, n_corners, 1), *hull = GEOSConvexHull (line);
  const GEOSCoordSequence *rim = GEOSGeom_getCoordSeq (GEOSGetExteriorRing (hull));
  unsigned n;
  double least = G_MAXDOUBLE;
  GEOSCoordSeq_getSize (rim, &n);
  for (unsigned i = 0; i < n; i++) {
    SbPoint p;
    GEOSCoordSeq_getXY (rim, i, &p.x, &p.y);
    least = MIN (least, sb_check_depth (points, ends, p));
  }
  GEOSGeom_destroy (line);
  GEOSGeom_destroy (hull);
  return least;
}

static void
check_width (const SbOutline *outline)
{
  ck_assert_double_ge (least_depth (outline), WIDTH_MM - 0.010);
  ck_assert_uint_eq (sb_check_crossings (outline, NULL), 0);
  ck_assert_double_eq (sb_check_tightest_nook (outline, NULL), G_MAXDOUBLE);
}

START_TEST (every_shape_keeps_the_width)
{
  GRand *random = g_rand_new_with_seed (42);
  for (int run = 0; run < RUNS; run++) {
    g_autoptr (SbSilhouette) silhouette = draw_star (random);
    for (SbBorderShape shape = SB_BORDER_BOX; shape <= SB_BORDER_HULL; shape++) {
      g_autoptr (SbOutline) outline = grow (silhouette, shape, g_rand_double_range (random, 0, 12));
      check_width (outline);
    }
  }
  g_rand_free (random);
}
END_TEST

START_TEST (the_circle_is_the_smallest)
{
  GRand *random = g_rand_new_with_seed (43);
  for (int run = 0; run < RUNS; run++) {
    g_autoptr (SbSilhouette) silhouette = draw_star (random);
    g_autoptr (SbOutline) outline = grow (silhouette, SB_BORDER_ROUND, 0);
    double radius;
    GEOSGeometry *line = geos_points (drawn, n_drawn, MM), *centre,
                 *circle = GEOSMinimumBoundingCircle (line, &radius, &centre);
    SbBox box = sb_outline_get_box (outline);
    ck_assert_double_le ((box.x1 - box.x0) / 2, radius + WIDTH_MM + CORNER_MM);
    ck_assert_double_eq_tol (box.x1 - box.x0, box.y1 - box.y0, 0.004);
    double area = G_PI / 4 * (box.x1 - box.x0) * (box.y1 - box.y0);
    ck_assert_double_eq_tol (sb_outline_get_area_mm2 (outline), area, 0.0005 * area);
    GEOSGeom_destroy (line);
    GEOSGeom_destroy (centre);
    GEOSGeom_destroy (circle);
  }
  g_rand_free (random);
}
END_TEST

START_TEST (the_hull_is_the_grown_hull)
{
  GRand *random = g_rand_new_with_seed (44);
  for (int run = 0; run < RUNS; run++) {
    g_autoptr (SbSilhouette) silhouette = draw_star (random);
    g_autoptr (SbOutline) outline = grow (silhouette, SB_BORDER_HULL, 0);
    GEOSGeometry *line = geos_points (drawn, n_drawn, MM), *hull = GEOSConvexHull (line),
                 *most = GEOSBuffer (hull, WIDTH_MM + CORNER_MM, 64);
    double area;
    GEOSArea (most, &area);
    ck_assert_double_le (sb_outline_get_area_mm2 (outline), area);
    GEOSGeom_destroy (line);
    GEOSGeom_destroy (hull);
    GEOSGeom_destroy (most);
  }
  g_rand_free (random);
}
END_TEST

START_TEST (the_box_grows_for_round_corners)
{
  static const double radii[] = {0, 1, 3, 5, 12};
  g_autoptr (SbSilhouette) silhouette = draw_box (350, 240);
  for (guint i = 0; i < G_N_ELEMENTS (radii); i++) {
    double r = radii[i], grown = r > WIDTH_MM ? r - (r - WIDTH_MM) / sqrt (2) : WIDTH_MM;
    g_autoptr (SbOutline) outline = grow (silhouette, SB_BORDER_BOX, r);
    SbBox box = sb_outline_get_box (outline);
    ck_assert_double_eq_tol (box.x1 - box.x0, 350 * MM + 2 * grown, 0.02);
    ck_assert_double_eq_tol (box.y1 - box.y0, 240 * MM + 2 * grown, 0.02);
    double area = (box.x1 - box.x0) * (box.y1 - box.y0) - (4 - G_PI) * r * r;
    ck_assert_double_eq_tol (sb_outline_get_area_mm2 (outline), area, 0.0005 * area);
    check_width (outline);
  }
}
END_TEST

START_TEST (the_ellipse_is_sensible)
{
  SbPoint p[1024];
  SbDrawing *drawing = sb_drawing_new (SIDE, SIDE);
  guint n = sb_drawing_regular (p, 1024, (SbPoint){250, 250}, 200, 0);
  sb_drawing_add (drawing, p, n);
  g_autoptr (SbSilhouette) disc = silhouette_of (drawing);
  g_autoptr (SbOutline) round = grow (disc, SB_BORDER_ELLIPSE, 0);
  double radius = 200 * MM + WIDTH_MM;
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (round), G_PI * radius * radius,
                           0.001 * G_PI * radius * radius);
  check_width (round);

  g_autoptr (SbSilhouette) box = draw_box (360, 180);
  g_autoptr (SbOutline) wide = grow (box, SB_BORDER_ELLIPSE, 0);
  double a = 180 * sqrt (2) * MM + WIDTH_MM, b = 90 * sqrt (2) * MM + WIDTH_MM;
  ck_assert_double_le (sb_outline_get_area_mm2 (wide), 1.03 * G_PI * a * b);
  check_width (wide);
}
END_TEST

int
main (void)
{
  initGEOS (quiet, quiet);
  Suite *suite = suite_create ("simple shapes");
  TCase *tcase = tcase_create ("shapes");
  tcase_set_timeout (tcase, 120);
  tcase_add_test (tcase, every_shape_keeps_the_width);
  tcase_add_test (tcase, the_circle_is_the_smallest);
  tcase_add_test (tcase, the_hull_is_the_grown_hull);
  tcase_add_test (tcase, the_box_grows_for_round_corners);
  tcase_add_test (tcase, the_ellipse_is_sensible);
  suite_add_tcase (suite, tcase);
  int status = sb_run_suite (suite);
  finishGEOS ();
  return status;
}
