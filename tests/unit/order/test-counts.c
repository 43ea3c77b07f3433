/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The order's arithmetic against sums done by hand, written out beside each check. */
#include "suite.h"

#include "box-job.h"
#include "order/counts.h"
#include "order/finish.h"
#include "order/plan.h"

static const SbCount *
find (GArray *counts, const char *name)
{
  for (guint i = 0; i < counts->len; i++)
    if (g_str_equal (g_array_index (counts, SbCount, i).name, name))
      return &g_array_index (counts, SbCount, i);
  return NULL;
}

/* Handbook 7.1: 40 packs of 5 designs, 10 % overs (under 50 pieces) = 44 each. */
START_TEST (test_forty_packs_of_five)
{
  g_autoptr (SbState) state = sb_make_job (5);
  SbOrder *order = sb_order_copy (state->order);
  SbPack *pack = sb_order_add_pack (order, "Harvest");
  pack->wanted = 40;
  for (guint i = 0; i < 5; i++)
    sb_pack_set_line (pack, ((SbDesign *)state->designs->pdata[i])->id, 1);
  sb_take (&state, sb_edit_set_order (state, order));
  g_autoptr (GArray) counts = sb_order_count (state);
  ck_assert_uint_eq (counts->len, 5);
  for (guint i = 0; i < counts->len; i++) {
    const SbCount *count = &g_array_index (counts, SbCount, i);
    ck_assert_int_eq (count->to_print, 40);
    ck_assert_int_eq (count->overs_percent, 10);
    ck_assert_int_eq (count->copies, 44);
    ck_assert_int_eq (count->left, -40);
  }
}
END_TEST

/* 40 packs ordered, 3 made: 37 to make. Radish: 37 x 2 + 7 singles = 81, less 12 in hand = 69; from
 * 50 on 5 %: 69 x 1.05 = 72.45, so 73. Rue: 37 x 1 = 37; 10 %: 40.7, so 41. Carrot: 5 in hand and
 * nobody asks: 0. The second pack of 4 takes a radish each: 81 + 4 = 85 - 12 = 73 -> 76.65 -> 77.
 */
static SbState *
make_order (void)
{
  SbState *state = sb_make_letter (6350, 3000);
  guint radish = sb_add_box (&state, "Radish", 40, 30, 3);
  guint rue = sb_add_box (&state, "Rue", 30, 30, 3);
  guint carrot = sb_add_box (&state, "Carrot", 20, 30, 3);
  SbOrder *order = sb_order_copy (state->order);
  SbPack *pack = sb_order_add_pack (order, "Harvest");
  pack->wanted = 40;
  pack->in_hand = 3;
  sb_pack_set_line (pack, radish, 2);
  sb_pack_set_line (pack, rue, 1);
  sb_order_set_item (order, (SbOrderItem){radish, 7, 12, 0});
  sb_order_set_item (order, (SbOrderItem){carrot, 0, 5, 0});
  sb_take (&state, sb_edit_set_order (state, order));
  return state;
}

START_TEST (test_packs_singles_and_stock)
{
  g_autoptr (SbState) state = make_order ();
  g_autoptr (GArray) counts = sb_order_count (state);
  const SbCount *radish = find (counts, "Radish"), *rue = find (counts, "Rue"),
                *carrot = find (counts, "Carrot");
  ck_assert_int_eq (radish->from_packs, 74);
  ck_assert_int_eq (radish->to_print, 69);
  ck_assert_int_eq (radish->copies, 73);
  ck_assert_int_eq (rue->to_print, 37);
  ck_assert_int_eq (rue->copies, 41);
  ck_assert_int_eq (carrot->to_print, 0);
  ck_assert_int_eq (carrot->copies, 0);

  SbOrder *order = sb_order_copy (state->order);
  SbPack *gift = sb_order_add_pack (order, "Gift");
  gift->wanted = 4;
  sb_pack_set_line (gift, radish->item_id, 1);
  sb_take (&state, sb_edit_set_order (state, order));
  g_autoptr (GArray) again = sb_order_count (state);
  ck_assert_int_eq (find (again, "Radish")->to_print, 73);
  ck_assert_int_eq (find (again, "Radish")->copies, 77);
}
END_TEST

/* d' = max (ceil (d (1 + s)), d + 1), handbook 7.1. */
START_TEST (test_overs)
{
  static const int sums[][3] = {
      {0, 10, 0},    /* nothing asked, nothing printed */
      {1, 10, 2},    /* 1.1 -> 2 */
      {9, 10, 10},   /* 9.9 -> 10 */
      {10, 10, 11},  /* just 11 */
      {40, 10, 44},  /* just 44, not 45 */
      {40, 15, 46},  /* with film */
      {40, 20, 48},  /* with film and by knife */
      {49, 10, 54},  /* 53.9 */
      {50, 5, 53},   /* 52.5 */
      {200, 5, 210}, /* just 210 */
      {5, 1, 6},     /* 5.05 */
      {100, 0, 100}, /* the maker wants none */
      {9999, 100, 19998},
  };
  for (guint i = 0; i < G_N_ELEMENTS (sums); i++)
    ck_assert_int_eq (sb_overs_add (sums[i][0], sums[i][1]), sums[i][2]);
  ck_assert_int_eq (sb_overs_usual_percent (49, FALSE, FALSE), 10);
  ck_assert_int_eq (sb_overs_usual_percent (50, FALSE, FALSE), 5);
  ck_assert_int_eq (sb_overs_usual_percent (50, TRUE, FALSE), 10);
  ck_assert_int_eq (sb_overs_usual_percent (10, TRUE, TRUE), 20);
}
END_TEST

/* A page of 6 radishes printed 13 times and one of 9 rues printed 5 times: 78 and 45. 2 radishes
 * are spoiled: 78 - 2 - 69 = 7 left. Rue: 45 - 37 = 8. Afterwards radishes in hand: 12 + 78 - 2 -
 * 81 = 7; rues 8; carrots stay 5; of 40 packs none is asked any more. */
START_TEST (test_what_is_left_goes_to_stock)
{
  g_autoptr (SbState) state = make_order ();
  guint radish = sb_state_find_design (state, "Radish")->id;
  guint rue = sb_state_find_design (state, "Rue")->id;
  for (int i = 0; i < 6; i++)
    sb_make_piece (&state, radish, 60, 30 + 40 * i);
  sb_take (&state, sb_edit_add_page (state, 1));
  for (int i = 0; i < 9; i++) {
    SbPiece piece = {.design_id = rue, .at = {60000, 20000 + 20000 * i}};
    sb_take (&state, sb_edit_add_piece (state, 1, piece, NULL));
  }
  SbOrder *order = sb_order_copy (state->order);
  sb_order_set_times (order, sb_state_get_page (state, 0)->id, 13);
  sb_order_set_times (order, sb_state_get_page (state, 1)->id, 5);
  SbOrderItem item = sb_order_get_item (order, radish);
  item.spoiled = 2;
  sb_order_set_item (order, item);
  sb_take (&state, sb_edit_set_order (state, order));
  ck_assert_uint_eq (sb_order_count_sheets (state), 18);
  g_autoptr (GArray) counts = sb_order_count (state);
  ck_assert_int_eq (find (counts, "Radish")->printed, 78);
  ck_assert_int_eq (find (counts, "Radish")->left, 7);
  ck_assert_int_eq (find (counts, "Rue")->left, 8);

  sb_take (&state, sb_edit_set_order (state, sb_order_finish (state)));
  ck_assert_int_eq (sb_order_get_item (state->order, radish).in_hand, 7);
  ck_assert_int_eq (sb_order_get_item (state->order, radish).singles, 0);
  ck_assert_int_eq (sb_order_get_item (state->order, radish).spoiled, 0);
  ck_assert_int_eq (sb_order_get_item (state->order, rue).in_hand, 8);
  const SbPack *pack = state->order->packs->pdata[0];
  ck_assert_int_eq (pack->wanted, 0);
  ck_assert_int_eq (pack->in_hand, 0);
  ck_assert_int_eq (sb_pack_get_line (pack, radish), 2);
  ck_assert_uint_eq (sb_order_count_sheets (state), 0);
  /* Done twice it changes nothing more. */
  SbState *same = sb_edit_set_order (state, sb_order_finish (state));
  ck_assert_ptr_eq (same, state);
  sb_state_unref (same);
}
END_TEST

/* 20 sheets sold of which 2 are in hand: 18, by knife 15 %: 20.7 -> 21. A header for each of 37
 * packs: 10 %: 40.7 -> 41. On Letter with margins of 6.35 mm (203.2 x 266.7 mm) two cards of 3.25 x
 * 3 in lie side by side and three below one another: 6 a page, so the 41 take 7 sheets of 6. */
START_TEST (test_sheets_and_cards)
{
  g_autoptr (SbState) state = make_order ();
  guint sheet, header;
  sb_take (&state, sb_edit_add_layout (
                       state, sb_layout_new (SB_LAYOUT_SHEET, "Sheet", 107950, 139700), &sheet));
  sb_take (&state,
           sb_edit_add_layout (state, sb_layout_new_header ("Header", 82550, 38100), &header));
  SbOrder *order = sb_order_copy (state->order);
  sb_pack_set_line (order->packs->pdata[0], header, 1);
  sb_order_set_item (order, (SbOrderItem){sheet, 20, 2, 0});
  sb_take (&state, sb_edit_set_order (state, order));
  g_autoptr (GArray) counts = sb_order_count (state);
  ck_assert_int_eq (find (counts, "Sheet")->to_print, 18);
  ck_assert_int_eq (find (counts, "Sheet")->copies, 21);
  ck_assert_int_eq (find (counts, "Header")->to_print, 37);
  ck_assert_int_eq (find (counts, "Header")->copies, 41);

  SbPlanParams params = sb_plan_params_default ();
  params.seconds = 1;
  g_autoptr (SbPlan) plan = sb_order_plan (state, &params, NULL, NULL);
  ck_assert_ptr_nonnull (plan);
  g_autoptr (GArray) laid = sb_order_count (plan->state);
  ck_assert_int_ge (find (laid, "Sheet")->printed, 21);
  ck_assert_int_eq (find (laid, "Header")->printed, 42);
  int cards = 0;
  for (guint k = 0; k < plan->state->pages->len; k++)
    if (sb_order_is_card_page (plan->state, k))
      cards += sb_order_count_prints (plan->state, k);
  ck_assert_int_eq (cards, 7);
  ck_assert_uint_eq (plan->sheets, sb_order_count_sheets (plan->state));
}
END_TEST

START_TEST (test_a_design_that_is_gone_counts_nothing)
{
  g_autoptr (SbState) state = make_order ();
  guint rue = sb_state_find_design (state, "Rue")->id;
  sb_take (&state, sb_edit_remove_design (state, rue));
  g_autoptr (GArray) counts = sb_order_count (state);
  ck_assert_uint_eq (counts->len, 2);
  ck_assert_ptr_null (find (counts, "Rue"));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("counts");
  TCase *tcase = tcase_create ("counts");
  tcase_add_test (tcase, test_forty_packs_of_five);
  tcase_add_test (tcase, test_packs_singles_and_stock);
  tcase_add_test (tcase, test_overs);
  tcase_add_test (tcase, test_what_is_left_goes_to_stock);
  tcase_add_test (tcase, test_sheets_and_cards);
  tcase_add_test (tcase, test_a_design_that_is_gone_counts_nothing);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
