/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Border growth against exact mathematics and against GEOS.
 *
 * The area of a convex polygon of area A and perimeter P grown by w is A + P w + pi w^2 (J.
 * Steiner, "Ueber parallele Flaechen", 1840); the disc of radius R becomes pi (R + w)^2. Eight
 * poses each, at 600 and 300 dpi, drawn with exact coverage. The places of the grown edge are
 * compared as well. */
#include "suite.h"

#include <geos_c.h>

#include "border/silhouette.h"
#include "drawing.h"
#include "outline-check.h"

#define WIDTH_MM 2.54
#define NOOK_MM 2.032
#define POSES 8

typedef struct {
  SbPoint p[8192]; /* px */
  guint n;
  double mm; /* a pixel */
  SbSilhouette *silhouette;
} Shape;

static Shape shape;

static void
draw (double dpi, int pose, guint corners)
{
  double scale = dpi / 600;
  int side = (int)(1200 * scale);
  SbPoint centre = {side / 2 + 0.187 * pose + 0.05, side / 2 + 0.204 * pose};
  shape.mm = 25.4 / dpi;
  shape.n = sb_drawing_regular (shape.p, corners, centre, 300 * scale, 0.1 + 0.37 * pose);
  SbDrawing *drawing = sb_drawing_new (side, side);
  sb_drawing_add (drawing, shape.p, shape.n);
  SbSilhouetteParams params = sb_silhouette_params_default ();
  shape.silhouette = sb_silhouette_from_coverage (sb_drawing_end (drawing), side * shape.mm,
                                                  side * shape.mm, &params, NULL);
  ck_assert_ptr_nonnull (shape.silhouette);
}

static SbGrowth *
grow (double nook, double tolerance_um)
{
  SbBorderParams params = sb_border_params_default ();
  params.width_mm = WIDTH_MM;
  params.nook_mm = nook;
  params.spike_mm = 0;
  params.tolerance_um = tolerance_um;
  SbGrowth *growth = sb_border_grow (shape.silhouette, &params, NULL, NULL);
  ck_assert_ptr_nonnull (growth);
  return growth;
}

static double
steiner_area (void)
{
  double twice = 0, around = 0;
  for (guint i = 0; i < shape.n; i++) {
    SbPoint a = shape.p[i], b = shape.p[(i + 1) % shape.n];
    twice += a.x * b.y - a.y * b.x;
    around += hypot (b.x - a.x, b.y - a.y);
  }
  return twice / 2 * shape.mm * shape.mm + around * shape.mm * WIDTH_MM +
         G_PI * WIDTH_MM * WIDTH_MM;
}

static double
distance_to_shape (SbPoint p)
{
  double least = G_MAXDOUBLE;
  for (guint i = 0; i < shape.n; i++) {
    SbPoint a = shape.p[i], b = shape.p[(i + 1) % shape.n];
    a = (SbPoint){a.x * shape.mm, a.y * shape.mm};
    b = (SbPoint){b.x * shape.mm, b.y * shape.mm};
    double dx = b.x - a.x, dy = b.y - a.y;
    double t = CLAMP (((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy), 0, 1);
    least = MIN (least, hypot (a.x + t * dx - p.x, a.y + t * dy - p.y));
  }
  return least;
}

/* The farthest that the outline strays from the exact border, um. */
static double
strays_um (const SbOutline *outline)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  sb_check_flatten (outline, 8, 0.5, points, ends);
  double most = 0;
  for (guint i = 0; i < points->len; i++)
    most = MAX (most, fabs (distance_to_shape (g_array_index (points, SbPoint, i)) - WIDTH_MM));
  return 1000 * most;
}

/* Limits in um before fitting (a tolerance of 0.5 um stands for it) and after it. */
static void
check_shape (guint corners, double dpi, double limit_um)
{
  for (int pose = 0; pose < POSES; pose++) {
    draw (dpi, pose, corners);
    g_autoptr (SbGrowth) fine = grow (NOOK_MM, 0.5), usual = grow (NOOK_MM, 5);
    double exact = steiner_area ();
    ck_assert_double_le (strays_um (sb_growth_get_outline (fine)), limit_um + 0.5);
    ck_assert_double_le (strays_um (sb_growth_get_outline (usual)), limit_um + 5);
    ck_assert_double_eq_tol (sb_outline_get_area_mm2 (sb_growth_get_outline (fine)), exact,
                             0.0002 * exact);
    ck_assert_double_eq_tol (sb_outline_get_area_mm2 (sb_growth_get_outline (usual)), exact,
                             0.0002 * exact);
    ck_assert_uint_eq (sb_check_crossings (sb_growth_get_outline (usual), NULL), 0);
    sb_silhouette_unref (shape.silhouette);
  }
}

START_TEST (disc)
{
  check_shape (2048, 600, 2);
  check_shape (2048, 300, 4);
}
END_TEST

START_TEST (square)
{
  check_shape (4, 600, 15);
  check_shape (4, 300, 30);
}
END_TEST

START_TEST (heptagon)
{
  check_shape (7, 600, 15);
  check_shape (7, 300, 30);
}
END_TEST

/* Two equal discs of radius R, their growths g apart, meet under a nook of g/2 + g^2 / (8 (R + w)):
 * then the fillets' centres, R + w + r from both centres, lie r from the line between them. */
START_TEST (bridge_follows_its_formula)
{
  for (double apart = 1; apart <= 3; apart += 0.5) {
    double mm = 25.4 / 300, radius = 60, out = radius * mm + WIDTH_MM;
    double between = 2 * out + apart;
    SbDrawing *drawing = sb_drawing_new (600, 300);
    SbPoint p[2048];
    sb_drawing_add (drawing, p, sb_drawing_regular (p, 2048, (SbPoint){120, 150}, radius, 0));
    sb_drawing_add (drawing, p,
                    sb_drawing_regular (p, 2048, (SbPoint){120 + between / mm, 150}, radius, 0));
    SbSilhouetteParams params = sb_silhouette_params_default ();
    shape.silhouette =
        sb_silhouette_from_coverage (sb_drawing_end (drawing), 600 * mm, 300 * mm, &params, NULL);
    SbBorderParams border = sb_border_params_default ();
    border.width_mm = WIDTH_MM;
    border.nook_mm = 0.1;
    border.spike_mm = 0;
    border.bridge = TRUE;
    g_autoptr (SbGrowth) growth = sb_border_grow (shape.silhouette, &border, NULL, NULL);
    ck_assert_uint_eq (sb_growth_get_n_islands (growth), 1);
    double nook = apart / 2 + apart * apart / (8 * out);
    /* A neck of no width is never left: it is 0.1 mm at least, for which it takes a little more. */
    ck_assert_double_eq_tol (border.nook_mm + sb_growth_get_bridge_mm (growth), nook, 0.12);
    sb_silhouette_unref (shape.silhouette);
  }
}
END_TEST

static void
quiet (const char *format, ...)
{
}

static GEOSGeometry *
geos_polygon (const SbPoint *p, guint n)
{
  GEOSCoordSequence *points = GEOSCoordSeq_create (n + 1, 2);
  for (guint i = 0; i <= n; i++)
    GEOSCoordSeq_setXY (points, i, p[i % n].x, p[i % n].y);
  return GEOSGeom_createPolygon (GEOSGeom_createLinearRing (points), NULL, 0);
}

/* Random stars: +(w + r), then -r, with 64 segments to a quadrant. Tips of less than some 20
 * degrees are left out: their last half pixel is less than half covered, and not in the picture. */
START_TEST (stars_as_geos_grows_them)
{
  initGEOS (quiet, quiet);
  GRand *random = g_rand_new_with_seed (4711);
  for (int k = 0; k < 50; k++) {
    double mm = 25.4 / 600;
    SbPoint p[64];
    double outer = g_rand_double_range (random, 200, 300);
    guint n = sb_drawing_star (p, (guint)g_rand_int_range (random, 3, 8), (SbPoint){450, 450},
                               outer, outer * g_rand_double_range (random, 0.5, 0.8),
                               6.28 * g_rand_double (random));
    SbDrawing *drawing = sb_drawing_new (900, 900);
    sb_drawing_add (drawing, p, n);
    SbSilhouetteParams params = sb_silhouette_params_default ();
    shape.silhouette =
        sb_silhouette_from_coverage (sb_drawing_end (drawing), 900 * mm, 900 * mm, &params, NULL);
    g_autoptr (SbGrowth) growth = grow (NOOK_MM, 5);
    for (guint i = 0; i < n; i++)
      p[i] = (SbPoint){p[i].x * mm, p[i].y * mm};
    g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
    g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
    sb_check_flatten (sb_growth_get_outline (growth), 16, 0.2, points, ends);
    ck_assert_uint_eq (ends->len, 1);
    GEOSGeometry *star = geos_polygon (p, n), *grown = GEOSBuffer (star, WIDTH_MM + NOOK_MM, 64),
                 *exact = GEOSBuffer (grown, -NOOK_MM, 64),
                 *ours = geos_polygon ((SbPoint *)points->data, points->len),
                 *between = GEOSSymDifference (exact, ours);
    double area, differs;
    GEOSArea (exact, &area);
    GEOSArea (between, &differs);
    ck_assert_double_le (differs, 0.0005 * area);
    ck_assert_uint_eq (sb_check_crossings (sb_growth_get_outline (growth), NULL), 0);
    ck_assert_double_ge (sb_check_tightest_nook (sb_growth_get_outline (growth), NULL),
                         0.95 * NOOK_MM);
    GEOSGeom_destroy (star);
    GEOSGeom_destroy (grown);
    GEOSGeom_destroy (exact);
    GEOSGeom_destroy (ours);
    GEOSGeom_destroy (between);
    sb_silhouette_unref (shape.silhouette);
  }
  g_rand_free (random);
  finishGEOS ();
}
END_TEST

/* The least distance from any corner of an opaque pixel to the outline. */
static double
thinnest_mm (const guint8 *opaque, int side, double mm, const SbOutline *outline)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  sb_check_flatten (outline, 8, 0.1, points, ends);
  double least = G_MAXDOUBLE;
  for (int y = 0; y < side; y++)
    for (int x = 0; x < side; x++)
      for (int k = 0; k < 4 && opaque[y * side + x]; k++)
        if (x == 0 || !opaque[y * side + x - 1] || !opaque[y * side + x + 1] ||
            !opaque[(y - 1) * side + x] || !opaque[(y + 1) * side + x])
          least = MIN (
              least, sb_check_depth (points, ends, (SbPoint){(x + k % 2) * mm, (y + k / 2) * mm}));
  return least;
}

/* Tips of all sharpness, and rods a pixel or two wide, with edges that are smooth and with edges of
 * whole pixels. */
START_TEST (opaque_pixels_keep_their_border)
{
  enum { SIDE = 160 };
  g_autofree guint8 *opaque = g_malloc (SIDE * SIDE);
  GRand *random = g_rand_new_with_seed (1848);
  double mm = 25.4 / 300;
  for (int k = 0; k < 40; k++) {
    SbPoint p[64];
    double outer = g_rand_double_range (random, 40, 70);
    guint n = sb_drawing_star (p, (guint)g_rand_int_range (random, 3, 8), (SbPoint){80, 80}, outer,
                               outer * g_rand_double_range (random, 0.02, 0.6),
                               6.28 * g_rand_double (random));
    SbDrawing *drawing = sb_drawing_new (SIDE, SIDE);
    sb_drawing_add (drawing, p, n);
    SbCoverage *coverage = sb_drawing_end (drawing);
    for (int y = 0; y < SIDE; y++)
      for (int x = 0; x < SIDE; x++) {
        guint8 *c = sb_coverage_row (coverage, y) + x;
        *c = k % 2 == 0 ? *c : *c < 128 ? 0 : 255;
        opaque[y * SIDE + x] = *c == 255;
      }
    SbSilhouetteParams params = sb_silhouette_params_default ();
    params.speck_mm = 0;
    shape.silhouette = sb_silhouette_from_coverage (coverage, SIDE * mm, SIDE * mm, &params, NULL);
    g_autoptr (SbGrowth) growth = grow (NOOK_MM, 5);
    double thinnest = thinnest_mm (opaque, SIDE, mm, sb_growth_get_outline (growth));
    ck_assert_double_ge (thinnest, WIDTH_MM - 0.005);
    sb_silhouette_unref (shape.silhouette);
  }
  g_rand_free (random);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("border against mathematics and GEOS");
  TCase *tcase = tcase_create ("exact");
  tcase_set_timeout (tcase, 240);
  tcase_add_test (tcase, disc);
  tcase_add_test (tcase, square);
  tcase_add_test (tcase, heptagon);
  tcase_add_test (tcase, bridge_follows_its_formula);
  tcase_add_test (tcase, stars_as_geos_grows_them);
  tcase_add_test (tcase, opaque_pixels_keep_their_border);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
