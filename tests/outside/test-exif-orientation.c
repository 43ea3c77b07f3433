/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Orientation of JPEG (EXIF) and TIFF against the table of the standards: CIPA DC-008 (EXIF 2.32)
 * section 4.6.5, tag 274, the same as TIFF 6.0 section 8. For each value it says on which visual
 * sides the 0th row and the 0th column of the stored picture lie. */
#include "suite.h"

#include "make-photo.h"
#include "picture/picture.h"

#define WIDTH 64
#define HEIGHT 32

typedef enum { TOP, RIGHT, BOTTOM, LEFT } Side;

static const struct {
  Side row0, column0;
} table[9] = {
    [1] = {TOP, LEFT}, [2] = {TOP, RIGHT}, [3] = {BOTTOM, RIGHT}, [4] = {BOTTOM, LEFT},
    [5] = {LEFT, TOP}, [6] = {RIGHT, TOP}, [7] = {RIGHT, BOTTOM}, [8] = {LEFT, BOTTOM},
};

static Side
opposite (Side side)
{
  return (Side)((side + 2) % 4);
}

/* The colour in the middle of the quadrant where two sides of the upright picture meet. */
static guint32
corner_colour (cairo_surface_t *surface, Side one, Side other)
{
  int w = cairo_image_surface_get_width (surface), h = cairo_image_surface_get_height (surface);
  int x = one == LEFT || other == LEFT ? w / 4 : w * 3 / 4;
  int y = one == TOP || other == TOP ? h / 4 : h * 3 / 4;
  guint32 p;
  memcpy (&p,
          cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface) +
              4 * x,
          4);
  return p & 0xffffff;
}

static void
assert_near (guint32 got, guint32 want, const char *what)
{
  for (int shift = 0; shift < 24; shift += 8)
    ck_assert_msg (abs ((int)(got >> shift & 255) - (int)(want >> shift & 255)) < 12,
                   "%s is %06x, not %06x", what, got, want);
}

static void
check_picture (GBytes *bytes, int orientation)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "marrow", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  cairo_surface_t *surface = sb_picture_decode (picture, NULL, &error);
  ck_assert_msg (surface != NULL, "%s", error ? error->message : "");

  gboolean turned = orientation >= 5;
  ck_assert_int_eq (sb_picture_get_width (picture), turned ? HEIGHT : WIDTH);
  ck_assert_int_eq (cairo_image_surface_get_width (surface), turned ? HEIGHT : WIDTH);
  ck_assert_int_eq (cairo_image_surface_get_height (surface), turned ? WIDTH : HEIGHT);

  /* Stored 0,0 is red, the end of row 0 green, the end of column 0 blue. */
  Side row0 = table[orientation].row0, column0 = table[orientation].column0;
  g_autofree char *what = g_strdup_printf ("orientation %d", orientation);
  assert_near (corner_colour (surface, row0, column0), 0xff0000, what);
  assert_near (corner_colour (surface, row0, opposite (column0)), 0x00ff00, what);
  assert_near (corner_colour (surface, opposite (row0), column0), 0x0000ff, what);
  cairo_surface_destroy (surface);

  /* 200 along the stored rows, 100 down the stored columns. */
  double w = 0, h = 0;
  ck_assert (sb_picture_get_size_mm (picture, &w, &h));
  ck_assert_double_eq_tol (turned ? h : w, WIDTH / 200.0 * 25.4, 1e-6);
  ck_assert_double_eq_tol (turned ? w : h, HEIGHT / 100.0 * 25.4, 1e-6);
}

START_TEST (test_jpeg)
{
  for (int o = 1; o <= 8; o++)
    for (int big = 0; big < 2; big++) {
      SbMakeTiff tags = {.big_endian = big != 0,
                         .orientation = o,
                         .x_above = 200,
                         .y_above = 100,
                         .below = 1,
                         .unit = 2};
      g_autoptr (GBytes) bytes = sb_make_exif_jpeg (WIDTH, HEIGHT, &tags);
      check_picture (bytes, o);
    }
}
END_TEST

START_TEST (test_tiff)
{
  for (int o = 1; o <= 8; o++)
    for (int big = 0; big < 2; big++) {
      SbMakeTiff make = {.big_endian = big != 0,
                         .orientation = o,
                         .x_above = 20000,
                         .y_above = 10000,
                         .below = 254,
                         .unit = 3,
                         .width = WIDTH,
                         .height = HEIGHT};
      g_autoptr (GBytes) bytes = sb_make_tiff (&make);
      check_picture (bytes, o);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("exif-orientation");
  TCase *tcase = tcase_create ("exif-orientation");

  tcase_add_test (tcase, test_jpeg);
  tcase_add_test (tcase, test_tiff);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
