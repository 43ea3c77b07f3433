/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Paper sizes and units against what others say of them. */
#include "measure/paper.h"
#include "suite.h"

#include <cups/cups.h>
#include <librsvg/rsvg.h>
#include <math.h>
#include <string.h>

/* ISO 216, clause 3 and table 1: A0 is 841 x 1189 mm, and each size is the one before it halved
 * across its longer side, rounded down to whole millimetres. The sides are as 1 to the square root
 * of 2, within that rounding. */
START_TEST (iso_216)
{
  int width = 841, height = 1189;
  for (int n = 1; n <= 6; n++) {
    int half = height / 2;
    height = width;
    width = half;
    g_autofree char *alias = g_strdup_printf ("a%d", n);
    const SbPaper *paper = sb_paper_find (alias);
    if (n < 4)
      continue;
    ck_assert_ptr_nonnull (paper);
    ck_assert_int_eq (paper->width, width * 1000);
    ck_assert_int_eq (paper->height, height * 1000);
    ck_assert_double_eq_tol ((double)paper->height / paper->width, G_SQRT2, 1.0 / width);
  }
}
END_TEST

/* ANSI/ASME Y14.1: size A is 8.5 x 11 in; the half and the quarter are that sheet cut across
 * (trade custom). 4 x 6 and 5 x 7 in are their own names. */
START_TEST (inch_papers)
{
  const SbPaper *letter = sb_paper_find ("letter");
  const SbPaper *half = sb_paper_find ("half-letter");
  const SbPaper *quarter = sb_paper_find ("quarter-letter");
  ck_assert_int_eq (letter->width * 2, 17 * 25400);
  ck_assert_int_eq (letter->height, 11 * 25400);
  ck_assert_int_eq (half->width * 2, letter->height);
  ck_assert_int_eq (half->height, letter->width);
  ck_assert_int_eq (quarter->width * 2, half->height);
  ck_assert_int_eq (quarter->height, half->width);
  ck_assert_int_eq (sb_paper_find ("4x6")->width, 4 * 25400);
  ck_assert_int_eq (sb_paper_find ("5x7")->height, 7 * 25400);
}
END_TEST

/* The photo sizes that are mixed up most: 2.4 mm between them (handbook section 3.1). */
START_TEST (photo_papers_differ)
{
  const SbPaper *inch = sb_paper_find ("4x6");
  const SbPaper *metric = sb_paper_find ("10x15");
  ck_assert_int_eq (inch->height - metric->height, 2400);
  ck_assert_ptr_eq (sb_paper_find_size (metric->width, metric->height), metric);
  ck_assert_ptr_eq (sb_paper_find_size (inch->width, inch->height), inch);
}
END_TEST

/* PWG 5101.1 (Media Standardized Names), by the table and the reader of names in libcups, whose
 * unit is 1/100 mm. */
START_TEST (pwg_names_by_libcups)
{
  gsize n;
  const SbPaper *papers = sb_papers (&n);
  for (gsize i = 0; i < n; i++) {
    pwg_media_t *media = pwgMediaForPWG (papers[i].name);
    ck_assert_msg (media != NULL, "%s", papers[i].name);
    ck_assert_str_eq (media->pwg, papers[i].name);
    ck_assert_int_eq (media->width * 10, papers[i].width);
    ck_assert_int_eq (media->length * 10, papers[i].height);
    if (g_str_has_prefix (papers[i].name, "custom_"))
      continue;
    media = pwgMediaForSize (papers[i].width / 10, papers[i].height / 10);
    ck_assert_str_eq (media->pwg, papers[i].name);
  }
}
END_TEST

START_TEST (custom_names_by_libcups)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  for (int i = 0; i < 500; i++) {
    g_autofree char *typed = g_strdup_printf ("%.2fx%.2fmm", g_rand_double_range (rand, 20, 700),
                                              g_rand_double_range (rand, 700, 1500));
    g_autofree char *name = NULL;
    sb_um width, height;
    ck_assert (sb_paper_parse (typed, &name, &width, &height, NULL));
    pwg_media_t *media = pwgMediaForPWG (name);
    ck_assert_msg (media != NULL, "%s", name);
    ck_assert_int_le (ABS (media->width * 10 - width), 10);
    ck_assert_int_le (ABS (media->length * 10 - height), 10);
  }
}
END_TEST

/* Sizes that are in libcups' table and not in ours are read by their names. */
START_TEST (other_pwg_names_are_read)
{
  const char *names[] = {"na_legal_8.5x14in",    "iso_a3_297x420mm",      "jis_b5_182x257mm",
                         "jpn_hagaki_100x148mm", "om_dsc-photo_89x119mm", "na_foolscap_8.5x13in"};
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++) {
    g_autofree char *name = NULL;
    sb_um width, height;
    pwg_media_t *media = pwgMediaForPWG (names[i]);
    ck_assert_msg (sb_paper_parse (names[i], &name, &width, &height, NULL), "%s", names[i]);
    ck_assert_str_eq (name, names[i]);
    ck_assert_int_eq (media->width * 10, width);
    ck_assert_int_eq (media->length * 10, height);
  }
}
END_TEST

/* CSS Values and Units Module Level 3, section 6.2: 1 in = 2.54 cm = 25.4 mm = 72 pt = 96 px, as
 * librsvg has it. */
START_TEST (units_by_librsvg)
{
  const char *units[] = {"mm", "cm", "in", "pt"};
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++) {
    g_autofree char *svg = g_strdup_printf (
        "<svg xmlns='http://www.w3.org/2000/svg' width='7%s' height='7%s'/>", units[i], units[i]);
    RsvgHandle *handle = rsvg_handle_new_from_data ((const guint8 *)svg, strlen (svg), NULL);
    double px_wide, px_high, mm;
    rsvg_handle_set_dpi (handle, 96);
    ck_assert (rsvg_handle_get_intrinsic_size_in_pixels (handle, &px_wide, &px_high));
    g_object_unref (handle);
    g_autofree char *typed = g_strdup_printf ("7%s", units[i]);
    ck_assert (sb_length_parse (typed, SB_UNIT_MM, &mm, NULL));
    ck_assert_double_eq_tol (mm * 96 / 25.4, px_wide, 1e-6);
  }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("papers");
  TCase *tcase = tcase_create ("papers");
  tcase_add_test (tcase, iso_216);
  tcase_add_test (tcase, inch_papers);
  tcase_add_test (tcase, photo_papers_differ);
  tcase_add_test (tcase, pwg_names_by_libcups);
  tcase_add_test (tcase, custom_names_by_libcups);
  tcase_add_test (tcase, other_pwg_names_are_read);
  tcase_add_test (tcase, units_by_librsvg);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
