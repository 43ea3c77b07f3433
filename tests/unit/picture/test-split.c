/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "make-scan.h"
#include "picture/split.h"

#define PX_PER_MM 8.0

static cairo_surface_t *
new_sheet (void)
{
  return cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 900, 700);
}

static void
fill_box (cairo_surface_t *sheet, double x, double y, double w, double h)
{
  cairo_t *cr = cairo_create (sheet);
  cairo_set_source_rgb (cr, 0.3, 0.5, 0.2);
  cairo_rectangle (cr, x, y, w, h);
  cairo_fill (cr);
  cairo_destroy (cr);
}

static SbSplit *
split (cairo_surface_t *sheet)
{
  const SbSplitParams params = sb_split_params_default ();
  g_autoptr (GError) error = NULL;
  SbSplit *result = sb_split_new (sheet, PX_PER_MM, &params, NULL, &error);
  ck_assert_msg (result != NULL, "%s", error ? error->message : "");
  return result;
}

static void
assert_box (const SbSplit *result, guint i, int x, int y, int w, int h)
{
  SbSplitPart part = sb_split_get_part (result, i);
  ck_assert_int_eq (part.x0, x);
  ck_assert_int_eq (part.y0, y);
  ck_assert_int_eq (part.x1, x + w);
  ck_assert_int_eq (part.y1, y + h);
}

/* Rows from the top, each from the left, though the paintings of a row start at other heights. */
START_TEST (test_reading_order)
{
  cairo_surface_t *sheet = new_sheet ();
  fill_box (sheet, 600, 40, 100, 120);
  fill_box (sheet, 50, 80, 200, 100);
  fill_box (sheet, 350, 60, 150, 150);
  fill_box (sheet, 70, 400, 100, 100);
  fill_box (sheet, 500, 380, 100, 200);

  g_autoptr (SbSplit) result = split (sheet);
  ck_assert_uint_eq (sb_split_get_n_parts (result), 5);
  assert_box (result, 0, 50, 80, 200, 100);
  assert_box (result, 1, 350, 60, 150, 150);
  assert_box (result, 2, 600, 40, 100, 120);
  assert_box (result, 3, 70, 400, 100, 100);
  assert_box (result, 4, 500, 380, 100, 200);
  cairo_surface_destroy (sheet);
}
END_TEST

/* 1 mm apart is one painting, 4 mm apart two; what is under 5 mm is none. */
START_TEST (test_gaps)
{
  cairo_surface_t *sheet = new_sheet ();
  fill_box (sheet, 100, 100, 100, 100);
  fill_box (sheet, 208, 150, 20, 20);
  fill_box (sheet, 260, 100, 100, 100);
  fill_box (sheet, 600, 500, 30, 30);

  g_autoptr (SbSplit) result = split (sheet);
  ck_assert_uint_eq (sb_split_get_n_parts (result), 2);
  assert_box (result, 0, 100, 100, 128, 100);
  assert_box (result, 1, 260, 100, 100, 100);
  cairo_surface_destroy (sheet);
}
END_TEST

/* A painting in the angle of another: boxes overlap, cuts do not. */
START_TEST (test_cut)
{
  cairo_surface_t *sheet = new_sheet ();
  fill_box (sheet, 100, 100, 300, 40);
  fill_box (sheet, 100, 100, 40, 300);
  fill_box (sheet, 200, 200, 100, 100);

  g_autoptr (SbSplit) result = split (sheet);
  ck_assert_uint_eq (sb_split_get_n_parts (result), 2);
  cairo_surface_t *angle = sb_split_cut (result, 0, sheet, NULL);
  cairo_surface_t *square = sb_split_cut (result, 1, sheet, NULL);
  ck_assert_int_eq (cairo_image_surface_get_width (angle), 300);
  ck_assert_int_eq (cairo_image_surface_get_width (square), 100);
  ck_assert_uint_eq (sb_scan_row (angle, 150)[150], 0);
  ck_assert_uint_ne (sb_scan_row (angle, 10)[290], 0);
  ck_assert_uint_ne (sb_scan_row (square, 50)[50], 0);
  cairo_surface_destroy (angle);
  cairo_surface_destroy (square);
  cairo_surface_destroy (sheet);
}
END_TEST

/* The soft edge is part of the cut: coverage adds up to the drawing's area. */
START_TEST (test_soft_edges_are_whole)
{
  cairo_surface_t *sheet = new_sheet ();
  cairo_t *cr = cairo_create (sheet);
  cairo_arc (cr, 400.3, 300.7, 100.1, 0, 2 * G_PI);
  cairo_fill (cr);
  cairo_destroy (cr);

  g_autoptr (SbSplit) result = split (sheet);
  ck_assert_uint_eq (sb_split_get_n_parts (result), 1);
  cairo_surface_t *cut = sb_split_cut (result, 0, sheet, NULL);
  double sum = 0, all = 0;
  for (int y = 0; y < cairo_image_surface_get_height (cut); y++)
    for (int x = 0; x < cairo_image_surface_get_width (cut); x++)
      sum += sb_scan_row (cut, y)[x] >> 24;
  for (int y = 0; y < 700; y++)
    for (int x = 0; x < 900; x++)
      all += sb_scan_row (sheet, y)[x] >> 24;
  ck_assert_double_eq (sum, all);
  cairo_surface_destroy (cut);
  cairo_surface_destroy (sheet);
}
END_TEST

START_TEST (test_blank)
{
  cairo_surface_t *sheet = new_sheet ();
  g_autoptr (SbSplit) result = split (sheet);
  ck_assert_uint_eq (sb_split_get_n_parts (result), 0);
  cairo_surface_destroy (sheet);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("split");
  TCase *tcase = tcase_create ("split");

  tcase_add_test (tcase, test_reading_order);
  tcase_add_test (tcase, test_gaps);
  tcase_add_test (tcase, test_cut);
  tcase_add_test (tcase, test_soft_edges_are_whole);
  tcase_add_test (tcase, test_blank);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
