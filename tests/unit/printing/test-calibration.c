/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <glib/gstdio.h>
#include <string.h>

#include "make-sheet.h"
#include "printing/calibration.h"
#include "printing/printers.h"

#define WIDTH 215900
#define HEIGHT 279400

/* What a maker reads off a sheet from a printer that is off by this much. */
static SbRulerReadings
read_off (double sx, double sy, double dx, double dy, SbMargins white)
{
  double w = WIDTH / 1000.0, h = HEIGHT / 1000.0;
  return (SbRulerReadings){
      .across_mm = 150 * sx,
      .along_mm = 200 * sy,
      .left_mm = 20 * sx + dx,
      .top_mm = 20 * sy + dy,
      /* A mark at m of the scale lies at s m + d on paper; the lowest that is not in the white. */
      .first_top_mm = (white.top / 1000.0 - dy) / sy,
      .first_left_mm = (white.left / 1000.0 - dx) / sx,
      .first_right_mm = w - (w - white.right / 1000.0 - dx) / sx,
      .first_bottom_mm = h - (h - white.bottom / 1000.0 - dy) / sy,
  };
}

START_TEST (readings_give_back_the_error)
{
  SbMargins white = {4000, 4500, 13000, 5000};
  SbRulerReadings readings = read_off (1.015, 0.988, 0.7, -0.4, white);
  SbCalibration c;
  g_autoptr (GError) error = NULL;
  ck_assert_msg (sb_calibration_from_readings (&readings, WIDTH, HEIGHT, &c, &error), "%s",
                 error ? error->message : "");
  ck_assert_double_eq_tol (c.scale_x, 1.015, 1e-9);
  ck_assert_double_eq_tol (c.scale_y, 0.988, 1e-9);
  ck_assert_double_eq_tol (c.shift_x_mm, 0.7, 1e-9);
  ck_assert_double_eq_tol (c.shift_y_mm, -0.4, 1e-9);
  ck_assert_int_eq (c.margins.top, white.top);
  ck_assert_int_eq (c.margins.right, white.right);
  ck_assert_int_eq (c.margins.bottom, white.bottom);
  ck_assert_int_eq (c.margins.left, white.left);

  /* Sent through the adjustment and then through the printer, a point is where it was. */
  SbAdjustment a = sb_calibration_get_adjustment (&c);
  for (double p = 0; p < 280; p += 35) {
    double x = a.scale_x * p + a.shift_x_mm, y = a.scale_y * p + a.shift_y_mm;
    ck_assert_double_eq_tol (1.015 * x + 0.7, p, 1e-9);
    ck_assert_double_eq_tol (0.988 * y - 0.4, p, 1e-9);
  }
}
END_TEST

START_TEST (a_shrinking_setting_is_named)
{
  /* Letter fitted into margins of 6.35 mm: 94.1 % (handbook 5.3). */
  SbRulerReadings shrunk = read_off (0.941, 0.941, 0, 0, (SbMargins){0});
  SbCalibration c;
  g_autoptr (GError) error = NULL;
  ck_assert (!sb_calibration_from_readings (&shrunk, WIDTH, HEIGHT, &c, &error));
  ck_assert (g_error_matches (error, SB_PRINT_ERROR, SB_PRINT_ERROR_CALIBRATION));
  ck_assert_msg (strstr (error->message, "94.1 %") && strstr (error->message, "fit to page"), "%s",
                 error->message);
  g_clear_error (&error);
  SbRulerReadings grown = read_off (1, 1.04, 0, 0, (SbMargins){0});
  ck_assert (!sb_calibration_from_readings (&grown, WIDTH, HEIGHT, &c, &error));
  ck_assert_msg (strstr (error->message, "borderless") != NULL, "%s", error->message);
  g_clear_error (&error);
  SbRulerReadings moved = read_off (1, 1, 14, 0, (SbMargins){0});
  ck_assert (!sb_calibration_from_readings (&moved, WIDTH, HEIGHT, &c, &error));
  SbRulerReadings edge = read_off (0.97, 1.03, 0, 0, (SbMargins){0});
  edge.across_mm += 1e-9;
  edge.along_mm -= 1e-9;
  g_clear_error (&error);
  ck_assert (sb_calibration_from_readings (&edge, WIDTH, HEIGHT, &c, &error));
}
END_TEST

START_TEST (margins_are_the_larger_and_a_guard)
{
  SbMargins driver = {3050, 3050, 12700, 3050};
  SbCalibration none = SB_CALIBRATION_NONE;
  SbMargins m = sb_calibration_get_margins (&none, driver, WIDTH, HEIGHT);
  ck_assert (memcmp (&m, &driver, sizeof m) == 0);

  SbCalibration c = {1, 1, 0, 0, {.top = 5000, .right = 1000, .bottom = 0, .left = 3050}};
  m = sb_calibration_get_margins (&c, driver, WIDTH, HEIGHT);
  ck_assert_int_eq (m.top, 6000);
  ck_assert_int_eq (m.right, 4050);
  ck_assert_int_eq (m.bottom, 13700);
  ck_assert_int_eq (m.left, 4050);

  /* A page shifted to the right by 0.7 mm keeps 3.75 mm white on the left, 2.35 on the right. */
  SbCalibration shifted = {1, 1, 0.7, 0, {0}};
  m = sb_calibration_get_margins (&shifted, driver, WIDTH, HEIGHT);
  ck_assert_int_eq (m.left, 4750);
  ck_assert_int_eq (m.right, 3350);
}
END_TEST

START_TEST (kept_and_cleared)
{
  g_autofree char *folder = g_dir_make_tmp ("sb-config-XXXXXX", NULL);
  g_autofree char *deep = g_build_filename (folder, "new", NULL);
  g_setenv ("STICKLEBACK_CONFIG_DIR", deep, TRUE);
  SbCalibration c = {1.015, 0.988, 0.7, -0.4, {4000, 4500, 13000, 5000}};
  g_autoptr (GError) error = NULL;
  ck_assert (sb_calibration_is_none (&(SbCalibration){1, 1, 0, 0, {0}}));
  ck_assert_msg (sb_calibration_save ("office [2]", WIDTH, HEIGHT, "Matte “white”", &c, &error),
                 "%s", error ? error->message : "");
  SbCalibration back = sb_calibration_load ("office [2]", WIDTH, HEIGHT, "Matte “white”");
  ck_assert (memcmp (&back, &c, sizeof c) == 0);
  /* Nothing for another media, paper or printer. */
  back = sb_calibration_load ("office [2]", WIDTH, HEIGHT, "Gloss");
  ck_assert (sb_calibration_is_none (&back));
  back = sb_calibration_load ("office [2]", 210000, 297000, "Matte “white”");
  ck_assert (sb_calibration_is_none (&back));

  /* One that a hand has spoilt counts as none. */
  g_autofree char *path = g_build_filename (deep, "printers.ini", NULL);
  g_autofree char *text = NULL;
  ck_assert (g_file_get_contents (path, &text, NULL, NULL));
  g_auto (GStrv) parts = g_strsplit (text, "scale-x=", 2);
  g_autofree char *spoilt = g_strjoinv ("scale-x=nan\nold=", parts);
  ck_assert (g_file_set_contents (path, spoilt, -1, NULL));
  back = sb_calibration_load ("office [2]", WIDTH, HEIGHT, "Matte “white”");
  ck_assert (sb_calibration_is_none (&back));

  ck_assert (sb_calibration_save ("office [2]", WIDTH, HEIGHT, "Matte “white”", &c, NULL));
  ck_assert (sb_calibration_save ("office [2]", WIDTH, HEIGHT, "Matte “white”",
                                  &SB_CALIBRATION_NONE, NULL));
  back = sb_calibration_load ("office [2]", WIDTH, HEIGHT, "Matte “white”");
  ck_assert (sb_calibration_is_none (&back));
  g_unlink (path);
  g_rmdir (deep);
  g_rmdir (folder);
}
END_TEST

START_TEST (rulers_fit_the_paper)
{
  double across, along;
  sb_calibration_get_rulers (WIDTH, HEIGHT, &across, &along);
  ck_assert_double_eq (across, 150);
  ck_assert_double_eq (along, 200);
  sb_calibration_get_rulers (101600, 152400, &across, &along);
  ck_assert_double_eq (across, 50);
  ck_assert_double_eq (along, 100);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) pdf = sb_calibration_sheet (WIDTH, HEIGHT, &error);
  ck_assert_msg (pdf != NULL, "%s", error ? error->message : "");
  ck_assert (memcmp (g_bytes_get_data (pdf, NULL), "%PDF-", 5) == 0);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("calibration");
  TCase *tc = tcase_create ("calibration");
  tcase_add_test (tc, readings_give_back_the_error);
  tcase_add_test (tc, a_shrinking_setting_is_named);
  tcase_add_test (tc, margins_are_the_larger_and_a_guard);
  tcase_add_test (tc, kept_and_cleared);
  tcase_add_test (tc, rulers_fit_the_paper);
  suite_add_tcase (suite, tc);
  return sb_run_suite (suite);
}
