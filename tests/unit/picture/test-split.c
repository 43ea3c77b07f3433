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

static gboolean
is_inside (const GArray *polygon, double x, double y)
{
  cairo_surface_t *plane = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1);
  cairo_t *cr = cairo_create (plane);
  for (guint i = 0; i < polygon->len; i++) {
    SbPoint p = g_array_index (polygon, SbPoint, i);
    cairo_line_to (cr, p.x, p.y);
  }
  gboolean in = cairo_in_fill (cr, x, y);
  cairo_destroy (cr);
  cairo_surface_destroy (plane);
  return in;
}

/* A painting in the angle of another: boxes overlap, lassos do not. */
START_TEST (test_lassos_keep_neighbours_out)
{
  cairo_surface_t *sheet = new_sheet ();
  fill_box (sheet, 100, 100, 300, 40);
  fill_box (sheet, 100, 100, 40, 300);
  fill_box (sheet, 164, 164, 100, 100);
  fill_box (sheet, 600, 500, 100, 100);

  g_autoptr (SbSplit) result = split (sheet);
  ck_assert_uint_eq (sb_split_get_n_parts (result), 3);
  g_autoptr (GArray) angle = sb_split_get_lasso (result, 0);
  g_autoptr (GArray) square = sb_split_get_lasso (result, 1);
  for (int y = 95; y < 405; y += 3)
    for (int x = 95; x < 405; x += 3) {
      gboolean on_angle = (x >= 100 && x < 400 && y >= 100 && y < 140) ||
                          (x >= 100 && x < 140 && y >= 100 && y < 400);
      gboolean on_square = x >= 164 && x < 264 && y >= 164 && y < 264;
      if (on_angle)
        ck_assert (is_inside (angle, x, y) && !is_inside (square, x, y));
      if (on_square)
        ck_assert (is_inside (square, x, y) && !is_inside (angle, x, y));
    }
  ck_assert (sb_split_get_lasso (result, 2) == NULL);
  cairo_surface_destroy (sheet);
}
END_TEST

/* What is falsely joined or split is put right, and sorted anew. */
START_TEST (test_corrections)
{
  cairo_surface_t *sheet = new_sheet ();
  fill_box (sheet, 100, 100, 100, 100);
  fill_box (sheet, 300, 100, 100, 100);
  fill_box (sheet, 100, 400, 300, 100);

  g_autoptr (SbSplit) result = split (sheet);
  ck_assert_uint_eq (sb_split_get_n_parts (result), 3);
  ck_assert_int_eq (sb_split_find_part (result, 350, 150), 1);
  ck_assert_int_eq (sb_split_find_part (result, 250, 150), -1);
  ck_assert_int_eq (sb_split_find_part (result, -5, 1e9), -1);
  const guint pair[2] = {1, 0};
  g_autoptr (SbSplit) joined = sb_split_join (result, pair, 2);
  ck_assert_uint_eq (sb_split_get_n_parts (joined), 2);
  assert_box (joined, 0, 100, 100, 300, 100);
  assert_box (joined, 1, 100, 400, 300, 100);

  const SbPoint lasso[4] = {{280, 390}, {500, 390}, {500, 600}, {280, 600}};
  g_autoptr (SbSplit) parted = sb_split_part_along (joined, 1, lasso, 4);
  ck_assert_uint_eq (sb_split_get_n_parts (parted), 3);
  SbSplitPart left = sb_split_get_part (parted, 1), right = sb_split_get_part (parted, 2);
  ck_assert_int_le (abs (left.x1 - 280), 2); /* a cell is 2 px */
  ck_assert_int_le (abs (right.x0 - 280), 2);
  ck_assert_int_eq (right.x1, 400);
  g_autoptr (SbSplit) dropped = sb_split_drop (parted, 1);
  ck_assert_uint_eq (sb_split_get_n_parts (dropped), 2);

  const SbPoint nothing[3] = {{700, 10}, {710, 10}, {710, 20}};
  g_autoptr (SbSplit) same = sb_split_part_along (joined, 1, nothing, 3);
  ck_assert_ptr_eq (same, joined);
  cairo_surface_destroy (sheet);
}
END_TEST

/* A rectangle that lies askew is told, to a tenth of a degree, and its sides; round things are
 * left as they lie. */
START_TEST (test_straightening)
{
  for (int degrees = -40; degrees <= 40; degrees += 8) {
    cairo_surface_t *sheet = new_sheet ();
    cairo_t *cr = cairo_create (sheet);
    cairo_translate (cr, 300, 300);
    cairo_rotate (cr, degrees * G_PI / 180);
    cairo_rectangle (cr, -150, -60, 300, 120);
    cairo_fill (cr);
    cairo_identity_matrix (cr);
    cairo_arc (cr, 750, 300, 90, 0, 2 * G_PI);
    cairo_fill (cr);
    cairo_destroy (cr);
    g_autoptr (SbSplit) result = split (sheet);
    ck_assert_uint_eq (sb_split_get_n_parts (result), 2);
    ck_assert_double_eq_tol (sb_split_get_turn (result, 0), degrees, 0.1);
    SbQuad quad = sb_split_get_quad (result, 0, TRUE);
    ck_assert_int_le (abs (quad.width - 300), degrees == 0 ? 0 : 4);
    ck_assert_int_le (abs (quad.height - 120), degrees == 0 ? 0 : 4);
    ck_assert_double_eq (sb_split_get_turn (result, 1), 0);
    cairo_surface_destroy (sheet);
  }
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
  SbSplitPart part = sb_split_get_part (result, 0);
  double sum = 0, all = 0;
  for (int y = part.y0; y < part.y1; y++)
    for (int x = part.x0; x < part.x1; x++)
      sum += sb_scan_row (sheet, y)[x] >> 24;
  for (int y = 0; y < 700; y++)
    for (int x = 0; x < 900; x++)
      all += sb_scan_row (sheet, y)[x] >> 24;
  ck_assert_double_eq (sum, all);
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
  tcase_add_test (tcase, test_lassos_keep_neighbours_out);
  tcase_add_test (tcase, test_corrections);
  tcase_add_test (tcase, test_straightening);
  tcase_add_test (tcase, test_soft_edges_are_whole);
  tcase_add_test (tcase, test_blank);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
