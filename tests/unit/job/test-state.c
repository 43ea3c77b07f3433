/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "make-job.h"

START_TEST (test_a_new_job_is_one_empty_page)
{
  g_autoptr (SbState) state = sb_state_new ("na_letter_8.5x11in", 215900, 279400);
  ck_assert_uint_eq (state->pages->len, 1);
  ck_assert_uint_eq (sb_state_get_page (state, 0)->n_pieces, 0);
  ck_assert_uint_ne (sb_state_get_page (state, 0)->id, 0);
  ck_assert_ptr_null (sb_state_get_page (state, 1));
  ck_assert_int_eq (state->gap, 4000);
  ck_assert_int_eq (state->margins.top, 6350);
  ck_assert_int_eq (state->margins_source, SB_MARGINS_FALLBACK);
}
END_TEST

START_TEST (test_printable_box)
{
  g_autoptr (SbState) state = sb_state_new ("iso_a4_210x297mm", 210000, 297000);
  sb_take (&state,
           sb_edit_set_margins (state, (SbMargins){3000, 4000, 5000, 6000}, SB_MARGINS_TYPED));
  SbIBox box = sb_state_get_printable_box (state);
  ck_assert_int_eq (box.x0, 6000);
  ck_assert_int_eq (box.y0, 3000);
  ck_assert_int_eq (box.x1, 206000);
  ck_assert_int_eq (box.y1, 292000);
}
END_TEST

START_TEST (test_margins_that_eat_the_page_leave_a_micrometre)
{
  const SbMargins eaters[] = {
      {0, 150000, 0, 150000}, {0, 0, 0, 210000},  {0, 210000, 0, 0},
      {0, 0, 0, 1500000},     {0, 1500000, 0, 0}, {1500000, 1500000, 1500000, 1500000},
  };
  for (gsize i = 0; i < G_N_ELEMENTS (eaters); i++) {
    g_autoptr (SbState) state = sb_state_new ("iso_a4_210x297mm", 210000, 297000);
    sb_take (&state, sb_edit_set_margins (state, eaters[i], SB_MARGINS_TYPED));
    SbIBox box = sb_state_get_printable_box (state);
    ck_assert_int_eq (box.x1 - box.x0, 1);
    ck_assert_int_ge (box.x0, 0);
    ck_assert_int_le (box.x1, 210000);
    ck_assert_int_gt (box.y1, box.y0);
  }
}
END_TEST

START_TEST (test_a_piece_lies_with_its_outlines_centre_at_its_place)
{
  g_autoptr (SbState) state = sb_make_job (1);
  const SbDesign *design = state->designs->pdata[0];
  for (gint32 turn = 0; turn < 360000; turn += 90000) {
    SbPiece piece = {1, design->id, {50000, 70000}, turn, FALSE};
    g_autoptr (SbPolygon) outline = sb_piece_get_outline (design, &piece);
    SbIBox box = sb_polygon_get_box (outline);
    ck_assert_int_le (ABS (box.x0 + box.x1 - 100000), 10); /* SB_FLATTEN_UM */
    ck_assert_int_le (ABS (box.y0 + box.y1 - 140000), 10);
    gboolean lies = turn % 180000 != 0;
    double width = (box.x1 - box.x0) / 1000.0;
    ck_assert_double_eq_tol (width, lies ? 15 + 6 : 20 + 6, 0.05);
  }
}
END_TEST

START_TEST (test_a_turn_is_clockwise)
{
  g_autoptr (SbState) state = sb_make_job (1);
  const SbDesign *design = state->designs->pdata[0];
  SbPiece piece = {1, design->id, {50000, 70000}, 90000, FALSE};
  /* The artwork's right end goes to the bottom. */
  SbPoint right = sb_transform_point (sb_piece_get_transform (design, &piece), (SbPoint){20, 7.5});
  ck_assert_double_eq_tol (right.x, 50, 0.02);
  ck_assert_double_eq_tol (right.y, 80, 0.02);
}
END_TEST

START_TEST (test_look_ups)
{
  g_autoptr (SbState) state = sb_make_job (3);
  guint second = ((SbDesign *)state->designs->pdata[1])->id;
  guint first_piece = sb_make_piece (&state, second, 50, 50);
  sb_take (&state, sb_edit_add_page (state, 1));
  guint other_piece;
  sb_take (&state, sb_edit_add_piece (state, 1, (SbPiece){.design_id = second}, &other_piece));

  ck_assert_str_eq (sb_state_get_design (state, second)->name, "seed 2");
  ck_assert_uint_eq (sb_state_find_design (state, "seed 2")->id, second);
  ck_assert_ptr_null (sb_state_find_design (state, "Seed 2"));
  ck_assert_ptr_null (sb_state_get_design (state, 9999));
  guint page_index = 99;
  ck_assert_ptr_nonnull (sb_state_get_piece (state, other_piece, &page_index));
  ck_assert_uint_eq (page_index, 1);
  ck_assert_ptr_null (sb_state_get_piece (state, 9999, NULL));
  ck_assert_int_eq (sb_state_count_placed (state, second), 2);
  ck_assert_int_eq (sb_state_count_placed (state, 9999), 0);

  g_autofree char *one = sb_piece_get_label (state, first_piece);
  g_autofree char *two = sb_piece_get_label (state, other_piece);
  ck_assert_str_eq (one, "seed 2, piece 1");
  ck_assert_str_eq (two, "seed 2, piece 2");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("state");
  TCase *tcase = tcase_create ("state");
  tcase_add_test (tcase, test_a_new_job_is_one_empty_page);
  tcase_add_test (tcase, test_printable_box);
  tcase_add_test (tcase, test_margins_that_eat_the_page_leave_a_micrometre);
  tcase_add_test (tcase, test_a_piece_lies_with_its_outlines_centre_at_its_place);
  tcase_add_test (tcase, test_a_turn_is_clockwise);
  tcase_add_test (tcase, test_look_ups);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
