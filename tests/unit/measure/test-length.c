/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/length.h"
#include "suite.h"

#include <locale.h>
#include <math.h>
#include <string.h>

static const struct {
  const char *text;
  double mm;
} good[] = {
    {"2in", 50.8},
    {"2 in", 50.8},
    {"2\"", 50.8},
    {"2''", 50.8},
    {"2″", 50.8},
    {"2 inches", 50.8},
    {"2 IN", 50.8},
    {"  51mm ", 51},
    {"50,8 mm", 50.8},
    {"50.8\u2009mm", 50.8}, /* thin space, as we write it */
    {"50.8\u00a0mm", 50.8}, /* no-break space */
    {"5cm", 50},
    {"72pt", 25.4},
    {"0.5pt", 0.5 * 25.4 / 72},
    {"1/4 in", 6.35},
    {"1 / 4 in", 6.35},
    {"1\u2044"
     "4 in",
     6.35},
    {"1 1/2 in", 38.1},
    {"1½ in", 38.1},
    {"1 ½\"", 38.1},
    {"¼\"", 6.35},
    {"-1 1/2 in", -38.1},
    {"\u2212"
     "3 mm",
     -3},
    {"+3", 3},
    {"12", 12},
    {".5", 0.5},
    {",5 cm", 5},
    {"3.", 3},
    {"007", 7},
    {"10000 mm", 10000},
};

START_TEST (reads_what_people_type)
{
  GError *error = NULL;
  double mm = NAN;
  gboolean read = sb_length_parse (good[_i].text, SB_UNIT_MM, &mm, &error);
  ck_assert_msg (read, "%s: %s", good[_i].text, read ? "" : error->message);
  ck_assert_msg (fabs (mm - good[_i].mm) < 1e-9, "%s gives %.9f", good[_i].text, mm);
}
END_TEST

static const char *bad[] = {
    "",        " ",        "mm",       "two inches", "nan",        "inf",
    "-inf mm", "1e3",      "0x10",     "1.2.3",      "1,234.5",    "12 px",
    "12 in 3", "1/0 in",   "1/ in",    "/4 in",      "1.5 1/2 in", "1 1/2 1/2 in",
    "--3",     "3 mm mm",  "1/2.5 in", "3\xff mm",   "\xff",       ".",
    "1 2 in",  "12\"\"\"", "5 '",      "1/0",        "1 1/0",      "mm 3",
};

START_TEST (refuses_what_is_no_length)
{
  g_autoptr (GError) error = NULL;
  double mm = 7;
  ck_assert_msg (!sb_length_parse (bad[_i], SB_UNIT_MM, &mm, &error), "took %s", bad[_i]);
  ck_assert (g_error_matches (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_SYNTAX));
  ck_assert (g_utf8_validate (error->message, -1, NULL));
  ck_assert_double_eq (mm, 7);
}
END_TEST

START_TEST (refuses_what_is_too_long)
{
  g_autofree char *digits = g_strnfill (400, '9'); /* infinite as a double */
  const char *texts[] = {"10000.1 mm", "-1001 cm", "99999999999 in", digits};
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++) {
    g_autoptr (GError) error = NULL;
    double mm;
    ck_assert (!sb_length_parse (texts[i], SB_UNIT_MM, &mm, &error));
    ck_assert (g_error_matches (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_RANGE));
    ck_assert_uint_lt (strlen (error->message), 200);
  }
}
END_TEST

START_TEST (a_bare_number_is_in_the_fallback_unit)
{
  double mm;
  ck_assert (sb_length_parse ("1/2", SB_UNIT_INCH, &mm, NULL));
  ck_assert_double_eq_tol (mm, 12.7, 1e-12);
  SbUnit unit = SB_UNIT_CM;
  ck_assert (sb_length_parse_with_unit ("2 in", &unit, &mm, NULL));
  ck_assert_int_eq (unit, SB_UNIT_INCH);
}
END_TEST

START_TEST (rounds_to_whole_micrometres)
{
  sb_um length;
  ck_assert (sb_length_parse_um ("1/4 in", SB_UNIT_MM, &length, NULL));
  ck_assert_int_eq (length, 6350);
  ck_assert (sb_length_parse_um ("3,05", SB_UNIT_MM, &length, NULL));
  ck_assert_int_eq (length, 3050);
  ck_assert_int_eq (sb_um_from_mm (0.0005), 1);
  ck_assert_int_eq (sb_um_from_mm (-0.0005), -1);
  ck_assert_int_eq (sb_um_from_mm (0.00049), 0);
  ck_assert_int_eq (sb_um_from_mm (-10000), -SB_UM_MOST);
}
END_TEST

START_TEST (writes_for_people)
{
  g_autofree char *mm = sb_length_format (50.8, SB_UNIT_MM);
  g_autofree char *in = sb_length_format (50.8, SB_UNIT_INCH);
  g_autofree char *pt = sb_length_format_number (25.4, SB_UNIT_PT);
  g_autofree char *nought = sb_length_format_number (-0.01, SB_UNIT_MM);
  g_autofree char *size = sb_length_format_size (50.8, 42, SB_UNIT_MM);
  g_autofree char *strip = sb_length_format_fine (3.05, SB_UNIT_MM);
  g_autofree char *even = sb_length_format_fine (50.8, SB_UNIT_INCH);
  g_autofree char *eighth = sb_length_format_fine (3.175, SB_UNIT_INCH);
  g_autofree char *angle = sb_decimal_format (7.5, 0);
  g_autofree char *whole = sb_decimal_format (-90, 0);
  ck_assert_str_eq (mm, "50.8\u2009mm");
  ck_assert_str_eq (in, "2.00\u2009in");
  ck_assert_str_eq (pt, "72.00");
  ck_assert_str_eq (nought, "0.0");
  ck_assert_str_eq (strip, "3.05\u2009mm");
  ck_assert_str_eq (even, "2.00\u2009in");
  ck_assert_str_eq (eighth, "0.125\u2009in");
  ck_assert_str_eq (angle, "7.5");
  ck_assert_str_eq (whole, "-90");
  ck_assert_str_eq (size, "50.8 × 42.0\u2009mm");
}
END_TEST

START_TEST (writes_the_mark_of_the_language)
{
  /* Not every machine has this locale; the C.UTF-8 of the other tests has a point. */
  if (setlocale (LC_NUMERIC, "de_DE.UTF-8") == NULL)
    return;
  g_autofree char *text = sb_length_format (50.8, SB_UNIT_MM);
  double mm = 0;
  gboolean read = sb_length_parse (text, SB_UNIT_MM, &mm, NULL);
  setlocale (LC_NUMERIC, "C");
  ck_assert_str_eq (text, "50,8\u2009mm");
  ck_assert (read);
  ck_assert_double_eq_tol (mm, 50.8, 1e-12);
}
END_TEST

/* What is written is read again as the same, for any length and unit. */
START_TEST (reads_what_it_writes)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  for (int i = 0; i < 2000; i++) {
    SbUnit unit = (SbUnit)g_rand_int_range (rand, SB_UNIT_MM, SB_UNIT_PT + 1);
    g_autofree char *text = sb_length_format (g_rand_double_range (rand, -9000, 9000), unit);
    double mm;
    ck_assert (sb_length_parse (text, SB_UNIT_MM, &mm, NULL));
    g_autofree char *again = sb_length_format (mm, unit);
    ck_assert_str_eq (text, again);
  }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("length");
  TCase *reading = tcase_create ("reading");
  tcase_add_loop_test (reading, reads_what_people_type, 0, G_N_ELEMENTS (good));
  tcase_add_loop_test (reading, refuses_what_is_no_length, 0, G_N_ELEMENTS (bad));
  tcase_add_test (reading, refuses_what_is_too_long);
  tcase_add_test (reading, a_bare_number_is_in_the_fallback_unit);
  tcase_add_test (reading, rounds_to_whole_micrometres);
  suite_add_tcase (suite, reading);
  TCase *writing = tcase_create ("writing");
  tcase_add_test (writing, writes_for_people);
  tcase_add_test (writing, writes_the_mark_of_the_language);
  tcase_add_test (writing, reads_what_it_writes);
  suite_add_tcase (suite, writing);
  return sb_run_suite (suite);
}
