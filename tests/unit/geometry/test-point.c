/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/point.h"
#include "suite.h"

#include <math.h>

static void
assert_point (SbPoint p, double x, double y)
{
  ck_assert_msg (fabs (p.x - x) < 1e-9 && fabs (p.y - y) < 1e-9, "(%.12g, %.12g), not (%g, %g)",
                 p.x, p.y, x, y);
}

START_TEST (a_positive_turn_goes_clockwise_on_the_screen)
{
  SbTransform t = sb_transform_turn ((SbPoint){1, 1}, 90, (SbPoint){10, 20});
  assert_point (sb_transform_point (t, (SbPoint){1, 1}), 10, 20);
  assert_point (sb_transform_point (t, (SbPoint){2, 1}), 10, 21); /* right becomes down */
}
END_TEST

START_TEST (quarter_turns_are_exact)
{
  const double turns[] = {0, 90, 180, 270, 360, -90, 450, -720, 3600090};
  for (gsize i = 0; i < G_N_ELEMENTS (turns); i++) {
    SbTransform t = sb_transform_turn ((SbPoint){0.1, 0.7}, turns[i], (SbPoint){0, 0});
    ck_assert (fabs (t.xx) == 0 || fabs (t.xx) == 1);
    ck_assert_double_eq (fabs (t.xx) + fabs (t.yx), 1);
    ck_assert_double_eq (t.xx, t.yy);
    ck_assert_double_eq (t.xy, -t.yx);
  }
  /* and any turn plus a quarter has the same figures in other places */
  SbTransform a = sb_transform_turn ((SbPoint){0, 0}, 17, (SbPoint){0, 0});
  SbTransform b = sb_transform_turn ((SbPoint){0, 0}, 107, (SbPoint){0, 0});
  ck_assert_double_eq (b.xx, -a.yx);
  ck_assert_double_eq (b.yx, a.xx);
}
END_TEST

START_TEST (chain_applies_the_first_first)
{
  SbTransform turn = sb_transform_turn ((SbPoint){0, 0}, 90, (SbPoint){0, 0});
  SbTransform move = {1, 0, 0, 1, 5, 0};
  assert_point (sb_transform_point (sb_transform_chain (turn, move), (SbPoint){1, 0}), 5, 1);
  assert_point (sb_transform_point (sb_transform_chain (move, turn), (SbPoint){1, 0}), 0, 6);
}
END_TEST

START_TEST (invert_goes_back)
{
  SbTransform t = sb_transform_chain ((SbTransform){2, 0, 0.5, -3, 7, 1},
                                      sb_transform_turn ((SbPoint){3, 4}, 33, (SbPoint){5, 6}));
  SbTransform back;
  ck_assert (sb_transform_invert (t, &back));
  assert_point (sb_transform_point (back, sb_transform_point (t, (SbPoint){12, -5})), 12, -5);
  ck_assert (!sb_transform_invert ((SbTransform){1, 2, 2, 4, 0, 0}, &back));
  ck_assert (!sb_transform_invert ((SbTransform){NAN, 0, 0, 1, 0, 0}, &back));
}
END_TEST

START_TEST (boxes_know_what_is_empty)
{
  SbBox box = SB_BOX_EMPTY;
  ck_assert (sb_box_is_empty (box));
  box = sb_box_add (box, (SbPoint){3, 4});
  ck_assert (!sb_box_is_empty (box));
  ck_assert_double_eq (box.x0, 3);
  ck_assert_double_eq (box.y1, 4);
  box = sb_box_union (box, SB_BOX_EMPTY);
  box = sb_box_union (SB_BOX_EMPTY, box);
  box = sb_box_add (box, (SbPoint){-1, 10});
  assert_point (sb_box_centre (box), 1, 7);
}
END_TEST

START_TEST (rounding_is_to_the_nearest_micrometre)
{
  SbIPoint p = sb_point_round ((SbPoint){1.2345, -1.2344});
  ck_assert_int_eq (p.x, 1235);
  ck_assert_int_eq (p.y, -1234);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("point");
  TCase *tcase = tcase_create ("point");
  tcase_add_test (tcase, a_positive_turn_goes_clockwise_on_the_screen);
  tcase_add_test (tcase, quarter_turns_are_exact);
  tcase_add_test (tcase, chain_applies_the_first_first);
  tcase_add_test (tcase, invert_goes_back);
  tcase_add_test (tcase, boxes_know_what_is_empty);
  tcase_add_test (tcase, rounding_is_to_the_nearest_micrometre);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
