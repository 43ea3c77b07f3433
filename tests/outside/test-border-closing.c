/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the nook radius closes: the fillet between two discs against plane geometry, combs and
 * sealed pockets against GEOS (buffer, 128 segments to a quadrant). Eight random poses each, at
 * 600 and 300 dpi, drawn with exact coverage. */
#include "suite.h"

#include "border/silhouette.h"
#include "drawing.h"
#include "geos-outline.h"
#include "outline-check.h"

#define WIDTH_MM 2.54
#define NOOK_MM 2.032
#define POSES 8
#define SEGMENTS 128
#define FINE_UM 0.5 /* the tolerance that stands for no fitting */

/* Turned about the picture's middle, in px. */
static SbPoint
pose (SbPoint p, double side, double turn)
{
  double x = p.x - side / 2, y = p.y - side / 2, c = cos (turn), s = sin (turn);
  return (SbPoint){side / 2 + c * x - s * y, side / 2 + s * x + c * y};
}

static SbGrowth *
grow (SbDrawing *drawing, double mm, double tolerance_um)
{
  SbSilhouetteParams how = sb_silhouette_params_default ();
  double width = drawing->width * mm, height = drawing->height * mm;
  g_autoptr (SbSilhouette) silhouette =
      sb_silhouette_from_coverage (sb_drawing_end (drawing), width, height, &how, NULL);
  ck_assert_ptr_nonnull (silhouette);
  SbBorderParams params = sb_border_params_default ();
  params.width_mm = WIDTH_MM;
  params.nook_mm = NOOK_MM;
  params.spike_mm = 0;
  params.tolerance_um = tolerance_um;
  return sb_border_grow (silhouette, &params, NULL, NULL);
}

static GArray *
flat (const SbGrowth *growth)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  sb_check_flatten (sb_growth_get_outline (growth), 8, 0.2, points, ends);
  ck_assert_uint_eq (ends->len, 1);
  return points;
}

/* How far `p` lies from the outline of two discs of radius `big` (border included) with a fillet of
 * NOOK_MM: around a fillet's centre where the way to it passes between the two discs, else around
 * the nearer disc. */
static double
off_fillet (SbPoint p, const SbPoint centre[2], double big)
{
  SbPoint d = {centre[1].x - centre[0].x, centre[1].y - centre[0].y};
  double l = hypot (d.x, d.y), out = big + NOOK_MM, high = sqrt (out * out - l * l / 4);
  SbPoint u = {d.x / l, d.y / l};
  double x = (p.x - centre[0].x) * u.x + (p.y - centre[0].y) * u.y - l / 2;
  double y = fabs ((p.y - centre[0].y) * u.x - (p.x - centre[0].x) * u.y);
  if (fabs (x) * high < (high - y) * l / 2)
    return fabs (hypot (x, high - y) - NOOK_MM);
  return fabs (hypot (fabs (x) - l / 2, y) - big);
}

static void
check_discs (double dpi, double limit_um)
{
  GRand *random = g_rand_new_with_seed (600);
  double mm = 25.4 / dpi, scale = dpi / 600, side = 1200 * scale;
  static SbPoint p[4096];
  for (int k = 0; k < POSES; k++) {
    double turn = g_rand_double_range (random, 0, 6.28);
    double radius = g_rand_double_range (random, 150, 200) * scale;
    double apart = g_rand_double_range (random, 2.2, 2.6) * radius;
    SbPoint centre[2];
    SbGrowth *growth[2];
    for (int fine = 0; fine < 2; fine++) {
      SbDrawing *drawing = sb_drawing_new ((int)side, (int)side);
      for (int i = 0; i < 2; i++) {
        centre[i] = pose ((SbPoint){side / 2 + (i - 0.5) * apart, side / 2 + 0.3}, side, turn);
        sb_drawing_add (drawing, p, sb_drawing_regular (p, 4096, centre[i], radius, 0.1));
        centre[i] = (SbPoint){centre[i].x * mm, centre[i].y * mm};
      }
      growth[fine] = grow (drawing, mm, fine ? FINE_UM : 5);
      g_autoptr (GArray) points = flat (growth[fine]);
      double most = 0;
      for (guint i = 0; i < points->len; i++)
        most = MAX (
            most, off_fillet (g_array_index (points, SbPoint, i), centre, radius * mm + WIDTH_MM));
      ck_assert_double_le (1000 * most, limit_um + (fine ? FINE_UM : 5));
    }
    ck_assert_double_ge (sb_check_tightest_nook (sb_growth_get_outline (growth[0]), NULL),
                         0.95 * NOOK_MM);
    sb_growth_unref (growth[0]);
    sb_growth_unref (growth[1]);
  }
  g_rand_free (random);
}

START_TEST (two_discs_meet_in_a_fillet)
{
  check_discs (600, 2);
  check_discs (300, 4);
}
END_TEST

/* Against GEOS, both ways: no place of either outline lies farther from the other. */
static void
check_polygon (SbPoint *p, guint n, double side, double dpi, double turn, double limit_um)
{
  double mm = 25.4 / dpi;
  for (guint i = 0; i < n; i++)
    p[i] = pose (p[i], side, turn);
  g_autoptr (GArray) exact = NULL;
  for (int fine = 0; fine < 2; fine++) {
    SbDrawing *drawing = sb_drawing_new ((int)side, (int)side);
    sb_drawing_add (drawing, p, n);
    g_autoptr (SbGrowth) growth = grow (drawing, mm, fine ? FINE_UM : 5);
    g_autoptr (GArray) points = flat (growth);
    if (exact == NULL) {
      g_autofree SbPoint *q = g_new (SbPoint, n);
      for (guint i = 0; i < n; i++)
        q[i] = (SbPoint){p[i].x * mm, p[i].y * mm};
      exact = sb_geos_close (sb_geos_polygon (q, n), WIDTH_MM + NOOK_MM, NOOK_MM, SEGMENTS);
    }
    double limit = (limit_um + (fine ? FINE_UM : 5)) / 1000;
    ck_assert_double_le (sb_ring_strays (points, exact), limit);
    ck_assert_double_le (sb_ring_strays (exact, points), limit);
    double area = sb_ring_area (exact);
    ck_assert_double_eq_tol (sb_outline_get_area_mm2 (sb_growth_get_outline (growth)), area,
                             (fine ? 0.0002 : 0.0005) * area);
  }
}

/* Teeth with gaps that the nook closes wholly, in part, and not at all: 2 w + 2 r is 216 px. */
static void
check_combs (double dpi, double limit_um)
{
  GRand *random = g_rand_new_with_seed (77);
  double scale = dpi / 600, side = 1500 * scale;
  for (int k = 0; k < POSES; k++) {
    static const double gaps[] = {60, 150, 205, 260};
    double x = 340 + g_rand_double (random), low = 900, root = 800, high = 560;
    SbPoint p[24];
    guint n = 0;
    p[n++] = (SbPoint){x, low};
    for (guint t = 0; t <= G_N_ELEMENTS (gaps); t++) {
      p[n++] = (SbPoint){x, high};
      p[n++] = (SbPoint){x + 30, high};
      if (t < G_N_ELEMENTS (gaps)) {
        p[n++] = (SbPoint){x + 30, root};
        p[n++] = (SbPoint){x + 30 + gaps[t], root};
        x += 30 + gaps[t];
      }
    }
    p[n++] = (SbPoint){x + 30, low};
    for (guint i = 0; i < n; i++)
      p[i] = (SbPoint){p[i].x * scale, p[i].y * scale};
    check_polygon (p, n, side, dpi, g_rand_double_range (random, 0, 6.28), limit_um);
  }
  g_rand_free (random);
}

START_TEST (combs_close_as_geos_closes_them)
{
  check_combs (600, 15);
  check_combs (300, 30);
}
END_TEST

/* A C whose mouth the border seals: the pocket is filled, and the mouth leaves the dent that its
 * own two lips leave, no notch. */
START_TEST (sealed_pockets_leave_no_notch)
{
  GRand *random = g_rand_new_with_seed (8);
  double dpi = 300, side = 750;
  for (int k = 0; k < POSES; k++) {
    SbPoint p[400];
    double mouth = g_rand_double_range (random, 0.08, 0.16);
    guint n = 200;
    for (guint i = 0; i < n; i++) {
      double a = mouth + (2 * G_PI - 2 * mouth) * i / (n - 1);
      p[i] = (SbPoint){side / 2 + 220 * cos (a), side / 2 + 220 * sin (a)};
      p[2 * n - 1 - i] = (SbPoint){side / 2 + 180 * cos (a), side / 2 + 180 * sin (a)};
    }
    check_polygon (p, 2 * n, side, dpi, g_rand_double_range (random, 0, 6.28), 30);
  }
  g_rand_free (random);
}
END_TEST

int
main (void)
{
  initGEOS (sb_geos_quiet, sb_geos_quiet);
  Suite *suite = suite_create ("closing against mathematics and GEOS");
  TCase *tcase = tcase_create ("closing");
  tcase_set_timeout (tcase, 240);
  tcase_add_test (tcase, two_discs_meet_in_a_fillet);
  tcase_add_test (tcase, combs_close_as_geos_closes_them);
  tcase_add_test (tcase, sealed_pockets_leave_no_notch);
  suite_add_tcase (suite, tcase);
  int status = sb_run_suite (suite);
  finishGEOS ();
  return status;
}
