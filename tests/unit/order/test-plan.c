/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sheets against the handbook's own sums (7.1), which a grid of squares must reach. */
#include "suite.h"

#include "box-job.h"
#include "order/counts.h"
#include "order/forced.h"
#include "order/plan.h"
#include "order/print-at-home.h"
#include "packing/layout.h"

/* Squares of 63.5 mm on Letter with margins of 6.35 mm: 3 x 4 fit with a gap of 3 mm
 * (3 x 63.5 + 2 x 3 = 196.5 of 203.2; 4 x 63.5 + 3 x 3 = 263 of 266.7), 3 x 3 with one of 5 mm
 * (4 x 63.5 + 3 x 5 = 269). */
static SbState *
make_squares (guint n_designs, sb_um gap)
{
  SbState *state = sb_make_letter (6350, gap);
  for (guint i = 0; i < n_designs; i++) {
    g_autofree char *name = g_strdup_printf ("square %u", i + 1);
    guint id = sb_add_box (&state, name, 57.5, 57.5, 3);
    SbDesign *design = sb_design_copy (sb_state_get_design (state, id));
    design->guide.style = SB_GUIDE_OFF;
    design->turning = SB_TURNING_UPRIGHT;
    sb_take (&state, sb_edit_replace_design (state, design));
  }
  return state;
}

static void
order_singles (SbState **state, int each, int overs)
{
  SbOrder *order = sb_order_copy ((*state)->order);
  order->overs = overs;
  for (guint i = 0; i < (*state)->designs->len; i++)
    sb_order_set_item (
        order,
        (SbOrderItem){.item_id = ((SbDesign *)(*state)->designs->pdata[i])->id, .singles = each});
  sb_take (state, sb_edit_set_order (*state, order));
}

static SbPlan *
plan (const SbState *state)
{
  SbPlanParams params = sb_plan_params_default ();
  g_autoptr (GError) error = NULL;
  SbPlan *laid = sb_order_plan (state, &params, NULL, &error);
  ck_assert_msg (laid != NULL, "%s", error ? error->message : "");
  /* Whatever way was taken: everything is there, nothing lies wrong, and the sheets are told right.
   */
  ck_assert_uint_eq (sb_order_count_sheets (laid->state), laid->sheets);
  ck_assert_uint_eq (laid->state->pages->len, laid->pages);
  g_autoptr (GArray) counts = sb_order_count (laid->state);
  for (guint i = 0; i < counts->len; i++) {
    const SbCount *count = &g_array_index (counts, SbCount, i);
    ck_assert_int_ge (count->printed, count->copies);
    ck_assert_int_eq (sb_state_get_design (laid->state, count->item_id)->wanted,
                      sb_state_count_placed (laid->state, count->item_id));
  }
  for (guint k = 0; k < laid->state->pages->len; k++)
    ck_assert (sb_page_is_valid (laid->state, sb_state_get_page (laid->state, k)));
  return laid;
}

/* 40 of each of 5, 10 % overs: 220 pieces, 9 a sheet: 5 pages 5 times each = 25 sheets, and an
 * ideal mix takes 220 / 9 -> 25 too. */
START_TEST (test_nine_a_sheet)
{
  g_autoptr (SbState) state = make_squares (5, 5000);
  order_singles (&state, 40, 10);
  g_autoptr (SbPlan) laid = plan (state);
  ck_assert_uint_eq (laid->sheets_by[SB_PLAN_ONE_EACH], 25);
  ck_assert_uint_eq (laid->sheets, 25);
}
END_TEST

/* Twelve a sheet: one design a page takes 4 x 5 = 20 sheets, an ideal mix 220 / 12 -> 19. */
START_TEST (test_twelve_a_sheet)
{
  g_autoptr (SbState) state = make_squares (5, 3000);
  order_singles (&state, 40, 10);
  g_autoptr (SbPlan) laid = plan (state);
  ck_assert_uint_eq (laid->sheets_by[SB_PLAN_ONE_EACH], 20);
  ck_assert_uint_eq (laid->sheets, 19);
}
END_TEST

/* 6 designs, 8 of each: 48 pieces, 12 a sheet: one page with 2 of each, printed 4 times. */
START_TEST (test_equal_pages_come_before_more_pages)
{
  g_autoptr (SbState) state = make_squares (6, 3000);
  order_singles (&state, 8, 0);
  g_autoptr (SbPlan) laid = plan (state);
  ck_assert_uint_eq (laid->sheets, 4);
  ck_assert_uint_eq (laid->pages, 1);
  ck_assert_int_eq (laid->way, SB_PLAN_EQUAL);
  ck_assert_int_eq (sb_order_get_times (laid->state->order, sb_state_get_page (laid->state, 0)->id),
                    4);
}
END_TEST

/* 25 squares, 12 a sheet: the 25th forces sheet 3. Without it 2 full sheets are enough. */
START_TEST (test_one_piece_forces_a_sheet)
{
  g_autoptr (SbState) state = make_squares (1, 3000);
  order_singles (&state, 25, 0);
  g_autoptr (SbPlan) laid = plan (state);
  ck_assert_uint_eq (laid->sheets, 3);
  g_autoptr (SbForced) forced = sb_order_find_forced (laid->state, FALSE, 20, NULL);
  ck_assert_ptr_nonnull (forced);
  ck_assert_uint_eq (forced->sheet, 3);
  ck_assert_uint_eq (forced->pieces, 1);
  ck_assert_uint_eq (forced->needed, 1);
  ck_assert_uint_eq (sb_order_count_sheets (forced->dropped), 2);
  ck_assert_int_eq (
      sb_order_count_printed (forced->dropped, ((SbDesign *)state->designs->pdata[0])->id), 24);
  /* 3 sheets of 12 hold 36: 36 - 27 that lie there. */
  ck_assert_uint_eq (forced->extra, 9);
  ck_assert_int_eq (
      sb_order_count_printed (forced->filled, ((SbDesign *)state->designs->pdata[0])->id), 36);
}
END_TEST

/* Of 4 columns of squares of 48.5 mm and 3 mm between, 4 x 48.5 + 3 x 3 = 203 of 203.2 mm fit; at
 * 50 mm only 3 do: 3 x 5 = 15 a sheet against 4 x 5 = 20. 20 squares of 50 mm force sheet 2 by 5
 * pieces; artwork smaller by 4 % (44 -> 42.24, with the border 48.24) needs but one. */
START_TEST (test_shrinking_saves_a_sheet)
{
  g_autoptr (SbState) state = sb_make_letter (6350, 3000);
  guint id = sb_add_box (&state, "square", 44, 44, 3);
  SbDesign *design = sb_design_copy (sb_state_get_design (state, id));
  design->guide.style = SB_GUIDE_OFF;
  design->turning = SB_TURNING_UPRIGHT;
  sb_take (&state, sb_edit_replace_design (state, design));
  order_singles (&state, 20, 0);
  g_autoptr (SbPlan) laid = plan (state);
  ck_assert_uint_eq (laid->sheets, 2);
  g_autoptr (SbForced) forced = sb_order_find_forced (laid->state, TRUE, 20, NULL);
  ck_assert_ptr_nonnull (forced);
  ck_assert_uint_eq (forced->pieces, 5);
  ck_assert (forced->shrink_percent == 4);
  ck_assert_uint_eq (sb_order_count_sheets (forced->shrunk), 1);
}
END_TEST

START_TEST (test_an_order_of_nothing_is_an_error)
{
  g_autoptr (SbState) state = make_squares (2, 3000);
  SbPlanParams params = sb_plan_params_default ();
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (sb_order_plan (state, &params, NULL, &error));
  ck_assert (g_error_matches (error, SB_ORDER_ERROR, SB_ORDER_ERROR_EMPTY));

  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_cancellable_cancel (cancellable);
  order_singles (&state, 20, 0);
  g_clear_error (&error);
  ck_assert_ptr_null (sb_order_plan (state, &params, cancellable, &error));
  ck_assert (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}
END_TEST

/* Sizes of A4 and Letter: ISO 216 and ANSI/ASME Y14.1. Stickers keep their size on both. */
START_TEST (test_print_at_home_is_laid_anew_and_never_scaled)
{
  g_autoptr (SbState) state = make_squares (3, 3000);
  static const struct {
    const char *paper;
    sb_um width, height;
  } papers[] = {{"iso_a4_210x297mm", 210000, 297000}, {"na_letter_8.5x11in", 215900, 279400}};
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++) {
    SbAtHomeParams params = {.paper = papers[i].paper, .copies = 4, .seconds = 0.5};
    guint too_large;
    g_autoptr (SbState) home = sb_state_print_at_home (state, &params, &too_large, NULL, NULL);
    ck_assert_ptr_nonnull (home);
    ck_assert_uint_eq (too_large, 0);
    ck_assert_int_eq (home->page_width, papers[i].width);
    ck_assert_int_eq (home->page_height, papers[i].height);
    SbIBox box = sb_state_get_printable_box (home);
    ck_assert_int_eq (box.x0, 12700);
    ck_assert_int_eq (box.y1, papers[i].height - 12700);
    for (guint d = 0; d < home->designs->len; d++) {
      const SbDesign *design = home->designs->pdata[d];
      double width, height;
      sb_design_get_finished_size (design, &width, &height);
      ck_assert_double_eq_tol (width, 63.5, 0.01);
      ck_assert_double_eq_tol (height, 63.5, 0.01);
      ck_assert (design->border.nook_mm >= 4);
      ck_assert (design->guide.grey >= 0.4 && design->guide.grey <= 0.6);
      ck_assert_int_eq (sb_state_count_placed (home, design->id), 4);
    }
    for (guint k = 0; k < home->pages->len; k++)
      ck_assert (sb_page_is_valid (home, sb_state_get_page (home, k)));
  }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("plan");
  TCase *tcase = tcase_create ("plan");
  tcase_set_timeout (tcase, 100);
  tcase_add_test (tcase, test_nine_a_sheet);
  tcase_add_test (tcase, test_twelve_a_sheet);
  tcase_add_test (tcase, test_equal_pages_come_before_more_pages);
  tcase_add_test (tcase, test_one_piece_forces_a_sheet);
  tcase_add_test (tcase, test_shrinking_saves_a_sheet);
  tcase_add_test (tcase, test_an_order_of_nothing_is_an_error);
  tcase_add_test (tcase, test_print_at_home_is_laid_anew_and_never_scaled);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
