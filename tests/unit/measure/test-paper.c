/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/paper.h"
#include "suite.h"

#include <string.h>

static const struct {
  const char *text, *name;
  sb_um width, height;
} good[] = {
    {"letter", "na_letter_8.5x11in", 215900, 279400},
    {"Letter", "na_letter_8.5x11in", 215900, 279400},
    {"na_letter_8.5x11in", "na_letter_8.5x11in", 215900, 279400},
    {" A4 ", "iso_a4_210x297mm", 210000, 297000},
    {"8.5x11in", "na_letter_8.5x11in", 215900, 279400},
    {"8 1/2 x 11 in", "na_letter_8.5x11in", 215900, 279400},
    {"8.5\"x11\"", "na_letter_8.5x11in", 215900, 279400},
    {"297x210", "iso_a4_210x297mm", 297000, 210000},
    {"210,0 × 297,1 mm", "iso_a4_210x297mm", 210000, 297000},
    {"4in x 6in", "na_index-4x6_4x6in", 101600, 152400},
    {"4x6", "na_index-4x6_4x6in", 101600, 152400},
    {"10x15", "om_small-photo_100x150mm", 100000, 150000},
    {"10x15cm", "om_small-photo_100x150mm", 100000, 150000},
    {"100x150mm", "om_small-photo_100x150mm", 100000, 150000},
    {"5x7", "na_5x7_5x7in", 127000, 177800},
    {"quarter-letter", "custom_quarter-letter_4.25x5.5in", 107950, 139700},
    {"180x250mm", "custom_180x250mm_180x250mm", 180000, 250000},
    {"250x180", "custom_180x250mm_180x250mm", 250000, 180000},
    {"7x9in", "custom_177.8x228.6mm_177.8x228.6mm", 177800, 228600},
    {"na_legal_8.5x14in", "na_legal_8.5x14in", 215900, 355600},
    {"custom_min_20x20mm", "custom_min_20x20mm", 20000, 20000},
    {"1500x1500mm", "custom_1500x1500mm_1500x1500mm", 1500000, 1500000},
};

START_TEST (reads_papers)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *name = NULL;
  sb_um width = 0, height = 0;
  gboolean read = sb_paper_parse (good[_i].text, &name, &width, &height, &error);
  ck_assert_msg (read, "%s: %s", good[_i].text, read ? "" : error->message);
  ck_assert_str_eq (name, good[_i].name);
  ck_assert_int_eq (width, good[_i].width);
  ck_assert_int_eq (height, good[_i].height);

  /* A name that we gave out is read again as the same paper. */
  g_autofree char *again = NULL;
  ck_assert (sb_paper_parse (name, &again, &width, &height, NULL));
  ck_assert_str_eq (again, name);
  ck_assert_int_eq (width, MIN (good[_i].width, good[_i].height));
  ck_assert_int_eq (height, MAX (good[_i].width, good[_i].height));
}
END_TEST

static const char *bad[] = {
    "",
    "foolscap",
    "x",
    "100",
    "100x",
    "x100",
    "100x1500.1mm",
    "19x100mm",
    "-100x150mm",
    "1e2x150",
    "nanxinf",
    "100x150x200",
    "na_letter_8.5x11furlong",
    "zz_letter_8.5x11in",
    "na__8.5x11in",
    "na_a_b_8.5x11in",
    "custom_../../etc_100x150mm",
    "custom_a b_100x150mm",
    "\xff\xfe",
    "custom_x_1x2mm",
    "a name that is very much longer than any paper has, ééééééééééééééééééééééééééé",
};

START_TEST (refuses_what_is_no_paper)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *name = NULL;
  sb_um width, height;
  ck_assert_msg (!sb_paper_parse (bad[_i], &name, &width, &height, &error), "took %s", bad[_i]);
  ck_assert (g_error_matches (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_PAPER));
  ck_assert (g_utf8_validate (error->message, -1, NULL));
  ck_assert_uint_lt (strlen (error->message), 200);
  ck_assert_ptr_null (name);
}
END_TEST

START_TEST (every_known_paper_is_found)
{
  gsize n;
  const SbPaper *papers = sb_papers (&n);
  ck_assert_uint_eq (n, 9);
  for (gsize i = 0; i < n; i++) {
    ck_assert_int_le (papers[i].width, papers[i].height);
    ck_assert_ptr_eq (sb_paper_find (papers[i].name), &papers[i]);
    ck_assert_ptr_eq (sb_paper_find (papers[i].alias), &papers[i]);
    ck_assert_ptr_eq (sb_paper_find_size (papers[i].width, papers[i].height), &papers[i]);
    ck_assert_ptr_eq (sb_paper_find_size (papers[i].height + 200, papers[i].width - 200),
                      &papers[i]);
    ck_assert_ptr_ne (sb_paper_find_size (papers[i].width + 201, papers[i].height), &papers[i]);
  }
  ck_assert_ptr_null (sb_paper_find ("a3"));
}
END_TEST

static const struct {
  const char *text;
  SbMargins margins;
} good_margins[] = {
    {"6.35", {6350, 6350, 6350, 6350}},
    {"6,35", {6350, 6350, 6350, 6350}},
    {"1/4 in", {6350, 6350, 6350, 6350}},
    {"1,2,3,4", {1000, 2000, 3000, 4000}},
    {"3.05, 3.05, 12.7, 3.05", {3050, 3050, 12700, 3050}},
    {"3,05; 3,05; 12,7; 3,05", {3050, 3050, 12700, 3050}},
    {"1/8,1/8,1/2,1/8in", {3175, 3175, 12700, 3175}},
    {"1in,2mm,3,4mm", {25400, 2000, 3000, 4000}},
    {"0,0,0,0", {0, 0, 0, 0}},
};

START_TEST (reads_margins)
{
  SbMargins m = {0};
  ck_assert (sb_margins_parse (good_margins[_i].text, SB_UNIT_MM, &m, NULL));
  ck_assert_int_eq (m.top, good_margins[_i].margins.top);
  ck_assert_int_eq (m.right, good_margins[_i].margins.right);
  ck_assert_int_eq (m.bottom, good_margins[_i].margins.bottom);
  ck_assert_int_eq (m.left, good_margins[_i].margins.left);
}
END_TEST

static const char *bad_margins[] = {"",         "1,2,3",   "1,2,3,4,5", "-1",
                                    "1,2,-3,4", "a,b,c,d", ",,,",       "1,2,3,"};

START_TEST (refuses_what_are_no_margins)
{
  g_autoptr (GError) error = NULL;
  SbMargins m = {1, 2, 3, 4};
  ck_assert_msg (!sb_margins_parse (bad_margins[_i], SB_UNIT_MM, &m, &error), "took %s",
                 bad_margins[_i]);
  ck_assert_ptr_nonnull (error);
  ck_assert_int_eq (m.top, 1);
  ck_assert_int_eq (m.left, 4);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("paper");
  TCase *papers = tcase_create ("papers");
  tcase_add_loop_test (papers, reads_papers, 0, G_N_ELEMENTS (good));
  tcase_add_loop_test (papers, refuses_what_is_no_paper, 0, G_N_ELEMENTS (bad));
  tcase_add_test (papers, every_known_paper_is_found);
  suite_add_tcase (suite, papers);
  TCase *margins = tcase_create ("margins");
  tcase_add_loop_test (margins, reads_margins, 0, G_N_ELEMENTS (good_margins));
  tcase_add_loop_test (margins, refuses_what_are_no_margins, 0, G_N_ELEMENTS (bad_margins));
  suite_add_tcase (suite, margins);
  return sb_run_suite (suite);
}
