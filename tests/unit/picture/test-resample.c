/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <math.h>

#include "picture/resample.h"
#include "pixel.h"

static cairo_surface_t *
make_surface (int width, int height, guint32 (*colour) (int x, int y))
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  guint8 *data = cairo_image_surface_get_data (surface);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      ((guint32 *)(void *)(data + y * cairo_image_surface_get_stride (surface)))[x] = colour (x, y);
  cairo_surface_mark_dirty (surface);
  return surface;
}

static cairo_surface_t *
resampled (cairo_surface_t *from, int width, int height)
{
  cairo_surface_t *into = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  ck_assert (sb_resample (from, into, FALSE, NULL, NULL));
  return into;
}

static guint32
mixed_colour (int x, int y)
{
  guint32 a = (guint32)(x * 37 + y * 91 + x * y) & 255;
  return a << 24 | (a * 3 / 4) << 16 | (a / 2) << 8 | a / 5;
}

START_TEST (test_same_size_is_a_copy)
{
  cairo_surface_t *from = make_surface (31, 17, mixed_colour);
  cairo_surface_t *into = resampled (from, 31, 17);
  for (int y = 0; y < 17; y++)
    for (int x = 0; x < 31; x++)
      ck_assert_uint_eq (pixel_at (into, x, y), mixed_colour (x, y));
  cairo_surface_destroy (from);
  cairo_surface_destroy (into);
}
END_TEST

static guint32
flat_colour (int x, int y)
{
  return 0xc0604020;
}

START_TEST (test_flat_stays_flat)
{
  static const int sizes[][2] = {{1, 1}, {7, 3}, {40, 40}, {41, 39}, {100, 9}, {13, 333}};
  cairo_surface_t *from = make_surface (40, 40, flat_colour);
  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++) {
    cairo_surface_t *into = resampled (from, sizes[i][0], sizes[i][1]);
    for (int y = 0; y < sizes[i][1]; y++)
      for (int x = 0; x < sizes[i][0]; x++)
        ck_assert_uint_eq (pixel_at (into, x, y), 0xc0604020);
    cairo_surface_destroy (into);
  }
  cairo_surface_destroy (from);
}
END_TEST

/* Whole-number reduction is the plain mean of each block, computed here the slow way: coverage to
 * half a step, colours, which have one hue here, to two roundings. */
START_TEST (test_block_mean)
{
  cairo_surface_t *from = make_surface (60, 40, mixed_colour);
  cairo_surface_t *into = resampled (from, 12, 10);
  for (int y = 0; y < 10; y++)
    for (int x = 0; x < 12; x++)
      for (int shift = 0; shift < 32; shift += 8) {
        int sum = 0;
        for (int j = 0; j < 4; j++)
          for (int i = 0; i < 5; i++)
            sum += (int)(mixed_colour (5 * x + i, 4 * y + j) >> shift & 255);
        int got = (int)(pixel_at (into, x, y) >> shift & 255);
        ck_assert_double_le (fabs (got - sum / 20.0), shift == 24 ? 0.51 : 1.01);
      }
  cairo_surface_destroy (from);
  cairo_surface_destroy (into);
}
END_TEST

static guint32
black_and_white (int x, int y)
{
  return (x + y) % 2 ? 0xffffffff : 0xff000000;
}

/* Half the light is 188 in sRGB, not 128 (IEC 61966-2-1: 1.055 * 0.5^(1/2.4) - 0.055 = 0.7354), so
 * that fine lines keep their weight when they are shown small. */
START_TEST (test_reduction_keeps_the_light)
{
  cairo_surface_t *from = make_surface (64, 64, black_and_white);
  cairo_surface_t *into = resampled (from, 16, 16);
  for (int y = 0; y < 16; y++)
    for (int x = 0; x < 16; x++)
      ck_assert_int_le (abs ((int)(pixel_at (into, x, y) & 255) - 188), 1);
  cairo_surface_destroy (from);
  cairo_surface_destroy (into);
}
END_TEST

static guint32
four_colours (int x, int y)
{
  return 0xff000000 | (guint32)(x * 200) << 16 | (guint32)(y * 200);
}

/* Pixel art: by a whole step each pixel is a square of its colour. */
START_TEST (test_squares_stay_hard)
{
  cairo_surface_t *from = make_surface (2, 2, four_colours);
  cairo_surface_t *into = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 14, 14);
  ck_assert (sb_resample (from, into, TRUE, NULL, NULL));
  for (int y = 0; y < 14; y++)
    for (int x = 0; x < 14; x++)
      ck_assert_uint_eq (pixel_at (into, x, y), four_colours (x / 7, y / 7));
  cairo_surface_destroy (from);
  cairo_surface_destroy (into);
}
END_TEST

static double
coverage_sum (cairo_surface_t *surface)
{
  double sum = 0;
  int w = cairo_image_surface_get_width (surface), h = cairo_image_surface_get_height (surface);
  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++)
      sum += pixel_at (surface, x, y) >> 24;
  return sum / w / h;
}

/* Every source pixel weighs the same, also where the steps are not whole. */
START_TEST (test_reduction_keeps_the_mean)
{
  cairo_surface_t *from = make_surface (97, 89, mixed_colour);
  double mean = coverage_sum (from);
  for (int side = 5; side < 89; side += 7) {
    cairo_surface_t *into = resampled (from, side, side + 1);
    ck_assert_double_eq_tol (coverage_sum (into), mean, 0.2);
    cairo_surface_destroy (into);
  }
  cairo_surface_destroy (from);
}
END_TEST

static guint32
bright_beside_clear (int x, int y)
{
  return x < 10 ? 0xffffffff : 0;
}

/* The fault that straight alpha makes: dark rims. Premultiplied white stays white at every
 * coverage. */
START_TEST (test_no_dark_rim)
{
  cairo_surface_t *from = make_surface (20, 20, bright_beside_clear);
  for (int side = 3; side < 60; side++) {
    cairo_surface_t *into = resampled (from, side, side);
    for (int x = 0; x < side; x++) {
      guint32 p = pixel_at (into, x, 1);
      ck_assert_uint_eq (p & 0xff, p >> 24);
      ck_assert_uint_eq (p >> 16 & 0xff, p >> 24);
    }
    cairo_surface_destroy (into);
  }
  cairo_surface_destroy (from);
}
END_TEST

static guint32
ramp (int x, int y)
{
  return 0xff000000 | (guint32)(x * 16);
}

START_TEST (test_enlarged_ramp_is_linear)
{
  cairo_surface_t *from = make_surface (16, 1, ramp);
  cairo_surface_t *into = resampled (from, 64, 5);
  for (int x = 0; x < 64; x++) {
    double want = CLAMP ((x + 0.5) / 4 - 0.5, 0, 15) * 16;
    ck_assert_double_le (fabs ((double)(pixel_at (into, x, 3) & 255) - want), 0.51);
  }
  cairo_surface_destroy (from);
  cairo_surface_destroy (into);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("resample");
  TCase *tcase = tcase_create ("resample");

  tcase_add_test (tcase, test_same_size_is_a_copy);
  tcase_add_test (tcase, test_flat_stays_flat);
  tcase_add_test (tcase, test_block_mean);
  tcase_add_test (tcase, test_reduction_keeps_the_light);
  tcase_add_test (tcase, test_squares_stay_hard);
  tcase_add_test (tcase, test_reduction_keeps_the_mean);
  tcase_add_test (tcase, test_no_dark_rim);
  tcase_add_test (tcase, test_enlarged_ramp_is_linear);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
