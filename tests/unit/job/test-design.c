/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "make-job.h"
#include "make-picture.h"

static void
expect_clean (const char *name, const char *expected)
{
  g_autofree char *clean = sb_name_clean (name);
  ck_assert_str_eq (clean, expected);
  g_autofree char *again = sb_name_clean (clean);
  ck_assert_str_eq (again, clean);
}

START_TEST (test_names_are_cleaned)
{
  expect_clean ("radish", "radish");
  expect_clean ("  rue \t", "rue");
  expect_clean ("", "Unnamed");
  expect_clean ("\n\r\x7f", "Unnamed");
  expect_clean ("bee\nbalm", "bee balm");
  expect_clean ("c\xc3\xa9leri", "c\xc3\xa9leri");
  expect_clean ("ce\xcc\x81leri", "c\xc3\xa9leri");   /* composed */
  expect_clean ("beet\xff", "beet\xef\xbf\xbd");      /* not UTF-8 */
  expect_clean ("sage\xe2\x80\xaegnp", "sage gnp");   /* U+202E would turn the rest around */
  expect_clean ("dill\xe2\x80\xa9seed", "dill seed"); /* paragraph separator */
}
END_TEST

START_TEST (test_long_names_are_cut_by_characters)
{
  g_autoptr (GString) name = g_string_new (NULL);
  for (int i = 0; i < 500; i++)
    g_string_append (name, "\xc3\xbc");
  g_autofree char *clean = sb_name_clean (name->str);
  ck_assert_int_eq (g_utf8_strlen (clean, -1), SB_NAME_MOST);
  ck_assert (g_utf8_validate (clean, -1, NULL));
}
END_TEST

START_TEST (test_a_new_design_has_the_pictures_own_size)
{
  g_autoptr (SbPicture) picture = sb_make_seed (1, 31.5, 20);
  g_autoptr (SbDesign) design = sb_design_new (picture, "bean");
  ck_assert_double_eq_tol (design->width_mm, 31.5, 1e-3);
  ck_assert_double_eq_tol (design->height_mm, 20, 1e-3);
  ck_assert_uint_eq (design->id, 0);
  ck_assert_int_eq (design->wanted, 1);
  ck_assert (!design->freebie);
}
END_TEST

START_TEST (test_setters_drop_what_has_to_be_measured_again)
{
  g_autoptr (SbDesign) design = sb_make_design ("bean", 1, 20, 15);
  SbSilhouette *silhouette = design->silhouette;

  sb_design_set_name (design, "pea");
  sb_design_set_size (design, design->width_mm, design->height_mm);
  SbBorderParams border = design->border;
  sb_design_set_border (design, &border);
  SbSilhouetteParams params = design->silhouette_params;
  sb_design_set_silhouette_params (design, &params);
  ck_assert_msg (design->growth != NULL, "equal values keep the outline");

  border.width_mm = 1.5;
  sb_design_set_border (design, &border);
  ck_assert_ptr_null (design->growth);
  ck_assert_msg (design->silhouette == silhouette, "a new border keeps the silhouette");

  ck_assert (sb_design_prepare (design, NULL, NULL));
  params.threshold = 0.25;
  sb_design_set_silhouette_params (design, &params);
  ck_assert_ptr_null (design->silhouette);
  ck_assert_ptr_null (design->growth);

  ck_assert (sb_design_prepare (design, NULL, NULL));
  g_autoptr (SbPicture) other = sb_make_seed (2, 20, 15);
  sb_design_set_picture (design, other);
  ck_assert_ptr_null (design->silhouette);
}
END_TEST

/* The change is kept when the border is another one, and goes with the size. */
START_TEST (test_changes_by_hand_stay_with_the_design)
{
  g_autoptr (SbDesign) design = sb_make_design ("bean", 1, 20, 15);
  g_autoptr (SbDesign) plain = sb_design_copy (design);
  SbHand *hand;
  SbOutline *grown = sb_growth_get_grown (design->growth);
  g_autoptr (GArray) points = sb_hand_get_points (NULL, grown);
  SbPoint p = g_array_index (points, SbHandPoint, 0).p;
  SbPoint c = sb_box_centre (sb_outline_get_box (grown));
  p = (SbPoint){p.x + 0.2 * (p.x - c.x), p.y + 0.2 * (p.y - c.y)};
  ck_assert (sb_hand_move (NULL, grown, 0, p, &hand));
  sb_design_set_hand (design, hand);
  sb_hand_unref (hand);
  ck_assert_msg (design->growth != NULL, "a prepared design stays prepared");
  ck_assert (!sb_design_equal (design, plain));

  for (int i = 0; i < 3; i++) {
    ck_assert (sb_design_prepare (design, NULL, NULL));
    ck_assert_double_gt (sb_outline_get_area_mm2 (sb_design_get_outline (design)),
                         sb_outline_get_area_mm2 (sb_growth_get_grown (design->growth)) + 0.5);
    SbBorderParams border = design->border;
    border.width_mm += 0.5;
    sb_design_set_border (design, &border);
    if (i == 1)
      sb_design_set_size (design, 30, 22.5);
  }
  ck_assert (sb_design_prepare (design, NULL, NULL));
  sb_design_set_hand (design, NULL);
  ck_assert_ptr_eq (sb_design_get_outline (design), sb_growth_get_grown (design->growth));
}
END_TEST

START_TEST (test_parameters_past_their_range_are_taken_to_its_end)
{
  g_autoptr (SbDesign) design = sb_make_design ("bean", 1, 20, 15);
  SbBorderParams border = design->border;
  border.width_mm = 1e9;
  border.nook_mm = -1;
  border.spike_mm = NAN;
  sb_design_set_border (design, &border);
  ck_assert_double_eq (design->border.width_mm, SB_BORDER_MOST_MM);
  ck_assert_double_eq (design->border.nook_mm, 0);
  ck_assert_double_eq (design->border.spike_mm, 0);
}
END_TEST

START_TEST (test_a_copy_is_apart)
{
  g_autoptr (SbDesign) design = sb_make_design ("bean", 1, 20, 15);
  g_autoptr (SbDesign) copy = sb_design_copy (design);
  ck_assert (sb_design_equal (design, copy));
  ck_assert_ptr_eq (copy->growth, design->growth);

  sb_design_set_size (copy, 40, 30);
  ck_assert_ptr_nonnull (design->growth);
  ck_assert (!sb_design_equal (design, copy));
}
END_TEST

START_TEST (test_finished_size_is_that_of_the_outline)
{
  g_autoptr (SbDesign) design = sb_make_design ("bean", 1, 20, 15);
  double width, height;
  sb_design_get_finished_size (design, &width, &height);
  ck_assert_double_eq_tol (width, 20 + 2 * design->border.width_mm, 0.05);
  ck_assert_double_eq_tol (height, 15 + 2 * design->border.width_mm, 0.05);
}
END_TEST

/* 32 x 24 px: whatever is asked for, a pixel is as wide as a whole number of 300ths of an inch, so
 * of a 300 dpi and a 600 dpi printer's dots. */
START_TEST (test_pixel_art_comes_in_whole_steps)
{
  const SbMakePng make = {32, 24, 8, PNG_COLOR_TYPE_RGB};
  g_autoptr (GBytes) bytes = sb_make_png (&make);
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "bee.png", NULL);
  g_autoptr (SbDesign) design = sb_design_new (picture, "bee");
  SbCleanup recipe = sb_cleanup_none ();
  sb_design_set_size (design, 50.8, 38.1);
  ck_assert_double_eq (design->width_mm, 50.8);
  ck_assert (sb_design_is_coarse (design));

  recipe.crisp = TRUE;
  sb_design_set_cleanup (design, &recipe); /* 18.75 dots become 19 */
  ck_assert_int_eq (sb_design_get_steps (design), 19);
  ck_assert_double_eq_tol (design->width_mm, 32 * 19 * 25.4 / 300, 1e-9);
  ck_assert_double_eq_tol (design->height_mm, 24 * 19 * 25.4 / 300, 1e-9);
  ck_assert (!sb_design_is_coarse (design));
  for (double mm = 2.1; mm < 60; mm += 0.37) {
    sb_design_set_size (design, mm, mm * 0.75);
    double dots = design->width_mm / 32 / (25.4 / 300);
    ck_assert_double_eq_tol (dots, round (dots), 1e-9);
    ck_assert_double_le (fabs (design->width_mm - mm), 32 * 25.4 / 300 / 2 + 1e-9);
    ck_assert_double_eq_tol (design->height_mm, design->width_mm * 0.75, 1e-9);
  }
  /* Two pixels to a dot: nothing is enlarged. */
  sb_design_set_size (design, 1.35, 1.0125);
  ck_assert_double_eq (design->width_mm, 1.35);
  ck_assert_int_eq (sb_design_get_steps (design), 0);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("design");
  TCase *tcase = tcase_create ("design");
  tcase_add_test (tcase, test_names_are_cleaned);
  tcase_add_test (tcase, test_long_names_are_cut_by_characters);
  tcase_add_test (tcase, test_a_new_design_has_the_pictures_own_size);
  tcase_add_test (tcase, test_setters_drop_what_has_to_be_measured_again);
  tcase_add_test (tcase, test_changes_by_hand_stay_with_the_design);
  tcase_add_test (tcase, test_parameters_past_their_range_are_taken_to_its_end);
  tcase_add_test (tcase, test_a_copy_is_apart);
  tcase_add_test (tcase, test_finished_size_is_that_of_the_outline);
  tcase_add_test (tcase, test_pixel_art_comes_in_whole_steps);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
