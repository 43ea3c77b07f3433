/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * White and black point: paper that stays comes out white, and nothing changes deep inside the
 * artwork. The scans' truth is known (make-scan.h). */
#include "suite.h"

#include "make-scan.h"
#include "picture/cleanup.h"

#define SIDE 480
#define PX_PER_MM 12.0 /* 305 dpi */
#define DEEP 14        /* px: past the millimetre that white and black point reach into */

/* A ring of radius 180 and 100 px; between them a pale wash, 8 steps of L* from the paper and
 * less than the tolerance from it at its palest. */
static cairo_surface_t *
new_truth (void)
{
  cairo_surface_t *truth = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, SIDE, SIDE);
  cairo_t *cr = cairo_create (truth);
  cairo_set_source_rgb (cr, 0.35, 0.5, 0.3);
  cairo_arc (cr, 240, 240, 180, 0, 2 * G_PI);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, 0.93, 0.86, 0.84);
  cairo_arc (cr, 240, 100, 36, 0, 2 * G_PI);
  cairo_fill (cr);
  cairo_set_operator (cr, CAIRO_OPERATOR_CLEAR);
  cairo_arc (cr, 240, 260, 90, 0, 2 * G_PI);
  cairo_fill (cr);
  cairo_destroy (cr);
  return truth;
}

static SbScan
make_scan (void)
{
  const SbScanParams params = {.px_per_mm = PX_PER_MM,
                               .paper = {0.965, 0.935, 0.865},
                               .light = 0.3,
                               .grain = 2,
                               .dust = 25,
                               .hairs = 3,
                               .seed = 5};
  return sb_scan_new (new_truth (), &params);
}

/* Whether all pixels within `reach` (a square) are clear in the truth, or all are covered. */
static gboolean
is_deep (cairo_surface_t *truth, int x, int y, int reach, gboolean clear)
{
  for (int j = MAX (y - reach, 0); j <= MIN (y + reach, SIDE - 1); j++)
    for (int i = MAX (x - reach, 0); i <= MIN (x + reach, SIDE - 1); i++)
      if (clear ? sb_scan_row (truth, j)[i] != 0 : sb_scan_row (truth, j)[i] >> 24 != 255)
        return FALSE;
  return TRUE;
}

/* Cream, uneven, grainy and dusty paper: all white, inside the ring as well. */
START_TEST (test_kept_paper_is_white)
{
  const SbCleanup recipe = sb_cleanup_keep_paper ();
  SbScan scan = make_scan ();
  g_autoptr (SbCleanResult) result = sb_scan_clean (&recipe, scan.scan, PX_PER_MM);
  int paper = 0, white = 0, dirty = 0;

  ck_assert_uint_gt (result->n_dust, 10);
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++) {
      guint32 p = sb_scan_row (result->surface, y)[x];
      ck_assert_uint_eq (p >> 24, 255);
      if (!is_deep (scan.truth, x, y, 3, TRUE))
        continue;
      paper++;
      white += p == 0xffffffff;
      dirty += MIN (MIN (p & 255, p >> 8 & 255), p >> 16 & 255) < 245;
    }
  ck_assert_int_gt (paper, 80000);
  ck_assert_int_ge (white, paper * 99 / 100);
  ck_assert_int_le (dirty, paper / 2000);
  sb_scan_clear (&scan);
}
END_TEST

static double
mean_at (cairo_surface_t *surface, int x, int y, int channel)
{
  double sum = 0;
  for (int j = y - 5; j <= y + 5; j++)
    for (int i = x - 5; i <= x + 5; i++)
      sum += sb_scan_row (surface, j)[i] >> (16 - 8 * channel) & 255;
  return sum / 121;
}

/* To the last bit what the evened picture has, washes and all, whichever way the paper goes. */
START_TEST (test_inside_stays)
{
  SbScan scan = make_scan ();

  for (int removed = 0; removed < 2; removed++) {
    SbCleanup recipe = sb_cleanup_keep_paper ();
    recipe.remove_paper = removed;
    recipe.white_point = 20;
    recipe.black_point = 25;
    SbCleanup plain = recipe;
    plain.whiten = FALSE;
    g_autoptr (SbCleanResult) whitened = sb_scan_clean (&recipe, scan.scan, PX_PER_MM);
    g_autoptr (SbCleanResult) evened = sb_scan_clean (&plain, scan.scan, PX_PER_MM);
    int inside = 0, changed_near = 0;

    for (int y = 0; y < SIDE; y++)
      for (int x = 0; x < SIDE; x++) {
        guint32 a = sb_scan_row (whitened->surface, y)[x], b = sb_scan_row (evened->surface, y)[x];
        ck_assert_uint_eq (a >> 24, b >> 24);
        if (is_deep (scan.truth, x, y, DEEP, FALSE)) {
          inside++;
          ck_assert_uint_eq (a, b);
        } else if (is_deep (scan.truth, x, y, 3, FALSE)) {
          changed_near += a != b;
        }
      }
    ck_assert_int_gt (inside, 20000);
    ck_assert_int_gt (changed_near, 2000);
    /* The wash is still one: 0.93, 0.86, 0.84 on this paper. */
    ck_assert_double_lt (mean_at (whitened->surface, 240, 100, 1), 235);
  }
  sb_scan_clear (&scan);
}
END_TEST

/* Thin lines of dark grey turn black, a broad blot of the same grey only at its edge. */
START_TEST (test_black_point)
{
  cairo_surface_t *truth = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, SIDE, SIDE);
  cairo_t *cr = cairo_create (truth);
  cairo_set_source_rgb (cr, 0.2, 0.2, 0.2); /* L* 21 */
  cairo_rectangle (cr, 60, 60, 6, 300);
  cairo_rectangle (cr, 200, 100, 200, 200);
  cairo_fill (cr);
  cairo_destroy (cr);
  const SbScanParams params = {.px_per_mm = PX_PER_MM, .paper = {0.95, 0.95, 0.95}};
  SbScan scan = sb_scan_new (truth, &params);
  SbCleanup recipe = sb_cleanup_keep_paper ();
  recipe.black_point = 25;
  g_autoptr (SbCleanResult) result = sb_scan_clean (&recipe, scan.scan, PX_PER_MM);

  ck_assert_uint_lt (sb_scan_row (result->surface, 200)[63] & 255, 25);
  ck_assert_uint_lt (sb_scan_row (result->surface, 200)[201] & 255, 15);
  ck_assert_uint_eq (sb_scan_row (result->surface, 200)[300] & 255, 51);
  /* Not further down than a grey may be that anybody sees. */
  recipe.black_point = 0;
  g_autoptr (SbCleanResult) grey = sb_scan_clean (&recipe, scan.scan, PX_PER_MM);
  ck_assert_uint_ge (sb_scan_row (grey->surface, 200)[63] & 255, 51);
  sb_scan_clear (&scan);
}
END_TEST

/* A photo without paper is left alone. */
START_TEST (test_no_paper_no_change)
{
  const SbCleanup recipe = sb_cleanup_keep_paper ();
  cairo_surface_t *dark = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 100, 80);
  for (int y = 0; y < 80; y++)
    for (int x = 0; x < 100; x++)
      sb_scan_row (dark, y)[x] = 0xff203040u + (guint32)(x + y);
  cairo_surface_mark_dirty (dark);
  g_autoptr (SbCleanResult) result = sb_scan_clean (&recipe, dark, PX_PER_MM);
  for (int y = 0; y < 80; y++)
    ck_assert_mem_eq (sb_scan_row (result->surface, y), sb_scan_row (dark, y), 400);
  cairo_surface_destroy (dark);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("whiten");
  TCase *tcase = tcase_create ("whiten");

  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, test_kept_paper_is_white);
  tcase_add_test (tcase, test_inside_stays);
  tcase_add_test (tcase, test_black_point);
  tcase_add_test (tcase, test_no_paper_no_change);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
