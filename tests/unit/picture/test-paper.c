/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <math.h>
#include <string.h>

#include "picture/paper.h"

#define SIDE 200

/* Seeded noise, the same in every run. */
static guint32
next_random (guint32 *state)
{
  *state ^= *state << 13;
  *state ^= *state >> 17;
  *state ^= *state << 5;
  return *state;
}

/* About normal with the given deviation: the sum of twelve even ones. */
static double
noise (guint32 *state, double deviation)
{
  double sum = -6;
  for (int i = 0; i < 12; i++)
    sum += next_random (state) / 4294967296.0;
  return sum * deviation;
}

static cairo_surface_t *
paper_sheet (double red, double green, double blue)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, SIDE, SIDE);
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, red, green, blue);
  cairo_paint (cr);
  cairo_destroy (cr);
  return surface;
}

static void
add_noise (cairo_surface_t *surface, double deviation)
{
  guint32 state = 12345;
  cairo_surface_flush (surface);
  guint8 *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < 4 * SIDE; x++) {
      guint8 *p = data + y * stride + x;
      if (x % 4 != 3)
        *p = (guint8)CLAMP (lround (*p + noise (&state, deviation)), 0, 255);
    }
  cairo_surface_mark_dirty (surface);
}

static void
draw_ring (cairo_surface_t *surface, double outer, double inner)
{
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, 0.1, 0.45, 0.2);
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_arc (cr, SIDE / 2.0 + 0.3, SIDE / 2.0, outer, 0, 2 * G_PI);
  cairo_new_sub_path (cr);
  cairo_arc (cr, SIDE / 2.0 + 0.3, SIDE / 2.0, inner, 0, 2 * G_PI);
  cairo_fill (cr);
  cairo_destroy (cr);
}

static double
covered_area (cairo_surface_t *surface, guint8 *coverage)
{
  double sum = 0;
  g_autoptr (GError) error = NULL;
  ck_assert (sb_paper_coverage (surface, 10, coverage, NULL, &error));
  for (int i = 0; i < SIDE * SIDE; i++)
    sum += coverage[i];
  return sum / 255;
}

/* The white inside the ring is enclosed, so the whole disc counts; its area is exact to sub-pixel
 * coverage. A hard mask would be wrong by up to a pixel along the edge: 500 px. */
START_TEST (test_disc_on_paper)
{
  static const double tones[][3] = {{1, 1, 1}, {0.97, 0.94, 0.86}, {0.75, 0.75, 0.78}};
  g_autofree guint8 *coverage = g_malloc (SIDE * SIDE);

  for (gsize i = 0; i < G_N_ELEMENTS (tones); i++) {
    cairo_surface_t *surface = paper_sheet (tones[i][0], tones[i][1], tones[i][2]);
    draw_ring (surface, 80, 50);
    double area = covered_area (surface, coverage);
    ck_assert_double_eq_tol (area, G_PI * 80 * 80, 10);
    ck_assert_int_eq (coverage[SIDE / 2 * SIDE + SIDE / 2], 255);
    ck_assert_int_eq (coverage[0], 0);
    cairo_surface_destroy (surface);
  }
}
END_TEST

START_TEST (test_grain)
{
  g_autofree guint8 *coverage = g_malloc (SIDE * SIDE);
  cairo_surface_t *surface = paper_sheet (0.95, 0.93, 0.88);

  draw_ring (surface, 80, 50);
  add_noise (surface, 4);
  ck_assert_double_eq_tol (covered_area (surface, coverage), G_PI * 80 * 80, 60);
  cairo_surface_destroy (surface);
}
END_TEST

/* A ring with a gap lets the flood in. */
START_TEST (test_open_ring)
{
  g_autofree guint8 *coverage = g_malloc (SIDE * SIDE);
  cairo_surface_t *surface = paper_sheet (1, 1, 1);

  draw_ring (surface, 80, 50);
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_rectangle (cr, 98, 0, 4, 100);
  cairo_fill (cr);
  cairo_destroy (cr);
  ck_assert_double_eq_tol (covered_area (surface, coverage), G_PI * (80 * 80 - 50 * 50) - 4 * 30.02,
                           10);
  ck_assert_int_eq (coverage[SIDE / 2 * SIDE + SIDE / 2], 0);
  cairo_surface_destroy (surface);
}
END_TEST

START_TEST (test_artwork_over_the_edge)
{
  g_autofree guint8 *coverage = g_malloc (SIDE * SIDE);
  cairo_surface_t *surface = paper_sheet (0.96, 0.95, 0.9);
  cairo_t *cr = cairo_create (surface);

  cairo_set_source_rgb (cr, 0.6, 0.1, 0.2);
  cairo_rectangle (cr, 0, 0, SIDE, 70.5);
  cairo_fill (cr);
  cairo_destroy (cr);
  ck_assert_double_eq_tol (covered_area (surface, coverage), SIDE * 70.5, 2);
  cairo_surface_destroy (surface);
}
END_TEST

/* Every edge pixel of another colour: nothing to call paper. */
START_TEST (test_no_paper)
{
  g_autofree guint8 *coverage = g_malloc (SIDE * SIDE);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, SIDE, SIDE);
  guint8 *data = cairo_image_surface_get_data (surface);
  guint32 state = 7;

  for (int i = 0; i < SIDE * cairo_image_surface_get_stride (surface); i++)
    data[i] = i % 4 == 3 ? 255 : (guint8)next_random (&state);
  cairo_surface_mark_dirty (surface);
  ck_assert_double_eq (covered_area (surface, coverage), SIDE * SIDE);
  cairo_surface_destroy (surface);
}
END_TEST

START_TEST (test_blank_and_tiny)
{
  g_autofree guint8 *coverage = g_malloc (SIDE * SIDE);
  cairo_surface_t *surface = paper_sheet (1, 1, 1);
  ck_assert_double_eq (covered_area (surface, coverage), 0);
  cairo_surface_destroy (surface);

  surface = paper_sheet (0, 0, 0);
  ck_assert_double_eq (covered_area (surface, coverage), SIDE * SIDE);
  cairo_surface_destroy (surface);

  surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 1, 1);
  ck_assert (sb_paper_coverage (surface, 10, coverage, NULL, NULL));
  ck_assert_int_eq (coverage[0], 0);
  cairo_surface_destroy (surface);
}
END_TEST

START_TEST (test_cancel)
{
  g_autofree guint8 *coverage = g_malloc (SIDE * SIDE);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  cairo_surface_t *surface = paper_sheet (1, 1, 1);

  g_cancellable_cancel (cancellable);
  ck_assert (!sb_paper_coverage (surface, 10, coverage, cancellable, &error));
  ck_assert (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
  cairo_surface_destroy (surface);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("paper");
  TCase *tcase = tcase_create ("paper");

  tcase_add_test (tcase, test_disc_on_paper);
  tcase_add_test (tcase, test_grain);
  tcase_add_test (tcase, test_open_ring);
  tcase_add_test (tcase, test_artwork_over_the_edge);
  tcase_add_test (tcase, test_no_paper);
  tcase_add_test (tcase, test_blank_and_tiny);
  tcase_add_test (tcase, test_cancel);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
