/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A bill against one drawn up by hand. */
#include "suite.h"

#include <math.h>

#include "box-job.h"
#include "order/bill.h"
#include "order/cutting.h"
#include "order/tables.h"

static double
value_of (const SbBill *bill, const char *key)
{
  const SbFigure *figure = sb_bill_get (bill, key);
  ck_assert_msg (figure != NULL, "no figure %s", key);
  ck_assert_msg (figure->lines->len > 0, "%s does not say how it came", key);
  return figure->value;
}

#define NEAR(bill, key, expected) ck_assert_double_eq_tol (value_of (bill, key), expected, 1e-6)

/* Ten packs of 2 radishes (40 x 30 mm outline, perimeter 140 mm). A page of 8, printed 3 times: 24
 * for 20 and 2 overs. On A4 so that the share of A4 is 1. */
static SbState *
make_order (void)
{
  SbState *state = sb_state_new ("iso_a4_210x297mm", 210000, 297000);
  guint radish = sb_add_box (&state, "Radish", 34, 24, 3);
  for (int i = 0; i < 8; i++)
    sb_make_piece (&state, radish, 50 + 60 * (i % 2), 40 + 50 * (i / 2));
  SbOrder *order = sb_order_copy (state->order);
  SbPack *pack = sb_order_add_pack (order, "Duo");
  pack->wanted = 10;
  sb_pack_set_line (pack, radish, 2);
  sb_order_set_times (order, sb_state_get_page (state, 0)->id, 3);
  sb_order_set_rate (order, SB_RATE_STOCK_PRICE, 10);
  sb_order_set_rate (order, SB_RATE_STOCK_SHEETS, 20);
  sb_order_set_rate (order, SB_RATE_INK_PRICE, 24);
  sb_order_set_rate (order, SB_RATE_INK_YIELD, 200);
  sb_order_set_rate (order, SB_RATE_INK_QUALITY, 1);
  sb_order_set_rate (order, SB_RATE_BAG_PRICE, 0.05);
  sb_order_set_rate (order, SB_RATE_LABEL_PRICE, 0.02);
  sb_order_set_rate (order, SB_RATE_STAPLE_PRICE, 0.005);
  sb_order_set_rate (order, SB_RATE_WAGE, 18);
  sb_order_set_rate (order, SB_RATE_STALL, 5);
  sb_order_set_rate (order, SB_RATE_MARKET_FEE, 6);
  sb_order_set_rate (order, SB_RATE_CARD_FEE, 2);
  sb_order_set_rate (order, SB_RATE_PAYMENTS, 10);
  sb_order_set_rate (order, SB_RATE_PAYMENT_FEE, 0.1);
  sb_order_set_rate (order, SB_RATE_PACK_ASKED, 4);
  sb_take (&state, sb_edit_set_order (state, order));
  return state;
}

START_TEST (test_a_bill_drawn_up_by_hand)
{
  g_autoptr (SbState) state = make_order ();
  const double coverage[] = {100};
  g_autoptr (SbBill) bill = sb_bill_new (state, coverage);
  ck_assert_uint_eq (bill->missing->len, 0);
  /* 3 sheets and 1 for tests at 10 / 20 */
  NEAR (bill, "paper", 2.00);
  /* handbook 7.2: at 0.12 a page 100 % total coverage is 0.60; 3 sheets */
  NEAR (bill, "ink", 1.80);
  const SbFigure *ink = sb_bill_get (bill, "ink");
  ck_assert_double_eq_tol (ink->low, 0.90, 1e-9);
  ck_assert_double_eq_tol (ink->high, 2.70, 1e-9);
  NEAR (bill, "coverage", 100);
  /* 10 x (0.05 + 0.02 + 2 x 0.005) */
  NEAR (bill, "packing-materials", 0.80);
  NEAR (bill, "materials", 4.60);
  /* 24 x (10 s + 140 mm / 10 mm/s) = 24 x 24 s; 10 packs of 60 s */
  NEAR (bill, "cutting", 576);
  NEAR (bill, "packing", 600);
  NEAR (bill, "time", 1176);
  /* 1176 / 3600 x 18 */
  NEAR (bill, "labour", 5.88);
  /* 10 % of 4.60 + 5.88 */
  NEAR (bill, "overhead", 1.048);
  NEAR (bill, "cost", 11.528);
  /* (2.00 + 1.80) / 3 */
  NEAR (bill, "sheet", 3.8 / 3);
  /* 24 printed, 2 of them overs: (3.80 + 576 / 3600 x 18) / 22 = 6.68 / 22 */
  NEAR (bill, "sticker", 6.68 / 22);
  NEAR (bill, "sticker:Radish", 6.68 / 22);
  /* 2 x 0.303636 + 0.08 + 60 / 3600 x 18 = 0.987273; with overhead 1.086 */
  NEAR (bill, "pack:Duo", 0.98727272727 * 1.1);
  /* x 2 = 1.97, up to whole quarters 2.00; x 2 = 4.00 */
  NEAR (bill, "wholesale:Duo", 2.00);
  NEAR (bill, "retail:Duo", 4.00);
  /* 10 x 4 */
  NEAR (bill, "income", 40);
  /* 5 + 8 % of 40 + 10 x 0.1 */
  NEAR (bill, "fees", 9.20);
  /* 40 - 9.20 - 4.60 - 1.048 */
  NEAR (bill, "earned", 25.152);
  NEAR (bill, "hourly", 25.152 / (1176 / 3600.0));
}
END_TEST

/* Handbook 7.2: at 0.12 a page 150 % total coverage is 0.90, 200 % is 1.20. */
START_TEST (test_ink_by_coverage)
{
  g_autoptr (SbState) state = make_order ();
  const double heavy[] = {150}, heavier[] = {200};
  g_autoptr (SbBill) bill = sb_bill_new (state, heavy);
  NEAR (bill, "ink", 3 * 0.90);
  g_autoptr (SbBill) more = sb_bill_new (state, heavier);
  NEAR (more, "ink", 3 * 1.20);
}
END_TEST

/* The maker's own count wins and is no estimate: 24 / 60 sheets x 3. */
START_TEST (test_ink_by_the_makers_own_count)
{
  g_autoptr (SbState) state = make_order ();
  SbOrder *order = sb_order_copy (state->order);
  sb_order_set_rate (order, SB_RATE_INK_LASTED, 60);
  sb_take (&state, sb_edit_set_order (state, order));
  const double coverage[] = {100};
  g_autoptr (SbBill) bill = sb_bill_new (state, coverage);
  NEAR (bill, "ink", 1.20);
  const SbFigure *ink = sb_bill_get (bill, "ink"), *cost = sb_bill_get (bill, "cost");
  ck_assert (ink->low == ink->value && ink->high == ink->value);
  ck_assert (cost->low == cost->value);
}
END_TEST

/* 3 sheets x 0.40 of film, 3 x 90 s of work. */
START_TEST (test_film)
{
  g_autoptr (SbState) state = make_order ();
  SbOrder *order = sb_order_copy (state->order);
  order->covered = TRUE;
  sb_order_set_rate (order, SB_RATE_FILM_PRICE, 0.4);
  sb_take (&state, sb_edit_set_order (state, order));
  const double coverage[] = {100};
  g_autoptr (SbBill) bill = sb_bill_new (state, coverage);
  NEAR (bill, "film", 1.20);
  NEAR (bill, "covering", 270);
  NEAR (bill, "materials", 5.80);
}
END_TEST

START_TEST (test_prices_that_are_not_known_are_named)
{
  g_autoptr (SbState) state = make_order ();
  SbOrder *order = sb_order_copy (state->order);
  sb_order_set_rate (order, SB_RATE_BAG_PRICE, 0);
  sb_order_set_rate (order, SB_RATE_INK_YIELD, 0);
  sb_take (&state, sb_edit_set_order (state, order));
  const double coverage[] = {100};
  g_autoptr (SbBill) bill = sb_bill_new (state, coverage);
  ck_assert_uint_eq (bill->missing->len, 2);
  ck_assert_str_eq (bill->missing->pdata[0], sb_rate_get_info (SB_RATE_INK_YIELD)->label);
  NEAR (bill, "ink", 0);
}
END_TEST

/* A square has no notch; a cross of square arms has 4 corners that turn inwards; a nook of just the
 * easy radius is none. */
START_TEST (test_notches)
{
  static const struct {
    const char *path;
    guint notches;
  } shapes[] = {
      {"M0,0 L40,0 L40,40 L0,40 Z", 0},
      {"M10,0 L20,0 L20,10 L30,10 L30,20 L20,20 L20,30 L10,30 L10,20 L0,20 L0,10 L10,10 Z", 4},
      /* a half disc of 5 mm radius taken out of the upper side, and one of 3 mm */
      {"M0,0 L15,0 C15,2.7614 17.2386,5 20,5 C22.7614,5 25,2.7614 25,0 L40,0 L40,20 L0,20 Z", 0},
      {"M0,0 L17,0 C17,1.6569 18.3431,3 20,3 C21.6569,3 23,1.6569 23,0 L40,0 L40,20 L0,20 Z", 1},
  };
  for (guint i = 0; i < G_N_ELEMENTS (shapes); i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SbOutline) outline = sb_outline_from_svg (shapes[i].path, &error);
    ck_assert_msg (outline != NULL, "%s", error ? error->message : "");
    ck_assert_uint_eq (sb_outline_count_notches (outline), shapes[i].notches);
  }
}
END_TEST

/* Handbook 7.3: a circle of 2 in takes 26 s with scissors. By knife 8 + 159.6 / 12 = 21.3 s; by
 * ruler 4 cuts of 8 s. */
START_TEST (test_cutting_time)
{
  g_autoptr (SbOrder) order = sb_order_new ();
  g_autoptr (SbDesign) design = sb_make_design ("round", 0x204060, 44.8, 44.8);
  SbBorderParams border = design->border;
  border.shape = SB_BORDER_ROUND;
  border.width_mm = 3;
  sb_design_set_border (design, &border);
  ck_assert (sb_design_prepare (design, NULL, NULL));
  SbCutting cutting = sb_cutting_of (design, order);
  ck_assert_double_eq_tol (cutting.perimeter_mm, G_PI * 50.8, 0.3);
  ck_assert_uint_eq (cutting.notches, 0);
  ck_assert_double_eq_tol (cutting.seconds, 26, 0.1);
  design->guide = sb_guide_for_style (SB_GUIDE_KNIFE);
  ck_assert_double_eq_tol (sb_cutting_of (design, order).seconds, 21.3, 0.1);
  design->guide = sb_guide_for_style (SB_GUIDE_TICKS);
  ck_assert_double_eq_tol (sb_cutting_of (design, order).seconds, 32, 1e-9);
}
END_TEST

/* RFC 4180: quotes doubled, CRLF. Formulas are defused (common practice). */
START_TEST (test_csv)
{
  g_autoptr (SbState) state = make_order ();
  SbDesign *design = sb_design_copy (state->designs->pdata[0]);
  sb_design_set_name (design, "=2+2 \"hot\", radish");
  sb_take (&state, sb_edit_replace_design (state, design));
  const double coverage[] = {100};
  g_autoptr (SbBill) bill = sb_bill_new (state, coverage);
  g_autofree char *csv = sb_order_to_csv (state, bill);
  ck_assert_ptr_nonnull (strstr (csv, "\r\n\"'=2+2 \"\"hot\"\", radish\",20,0,0,20,22,24,0,4\r\n"));
  ck_assert_ptr_nonnull (strstr (csv, "\r\n\"ink\",\"Ink or toner\",1.8,"));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("bill");
  TCase *tcase = tcase_create ("bill");
  tcase_add_test (tcase, test_a_bill_drawn_up_by_hand);
  tcase_add_test (tcase, test_ink_by_coverage);
  tcase_add_test (tcase, test_ink_by_the_makers_own_count);
  tcase_add_test (tcase, test_film);
  tcase_add_test (tcase, test_prices_that_are_not_known_are_named);
  tcase_add_test (tcase, test_notches);
  tcase_add_test (tcase, test_cutting_time);
  tcase_add_test (tcase, test_csv);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
