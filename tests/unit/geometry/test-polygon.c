/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/polygon.h"
#include "geometry/relation.h"
#include "suite.h"

static SbPolygon *
polygon (const SbIPoint *points, guint n)
{
  SbLoop loop = {n, points};
  return sb_polygon_new (&loop, 1);
}

START_TEST (a_box_measures_exactly)
{
  g_autoptr (SbPolygon) box = sb_polygon_new_box ((SbIBox){-1000, -2000, 3000, 1000});
  ck_assert_double_eq (sb_polygon_get_area_mm2 (box), 12);
  ck_assert_double_eq (sb_polygon_get_perimeter_mm (box), 14);
  SbIBox own = sb_polygon_get_box (box);
  ck_assert_int_eq (own.x0, -1000);
  ck_assert_int_eq (own.y1, 1000);
}
END_TEST

START_TEST (the_largest_polygon_does_not_overflow)
{
  SbIBox all = {-SB_UM_MOST, -SB_UM_MOST, SB_UM_MOST, SB_UM_MOST};
  g_autoptr (SbPolygon) box = sb_polygon_new_box (all);
  ck_assert_double_eq (sb_polygon_get_area_mm2 (box), 20000.0 * 20000.0);
  ck_assert (sb_polygon_contains (box, (SbIPoint){SB_UM_MOST, -SB_UM_MOST}));
  ck_assert (sb_polygons_overlap (box, box));
  const SbIPoint corner[] = {
      {-SB_UM_MOST, -SB_UM_MOST}, {-SB_UM_MOST + 1, -SB_UM_MOST}, {-SB_UM_MOST, -SB_UM_MOST + 1}};
  const SbIPoint slope[] = {
      {SB_UM_MOST, SB_UM_MOST}, {-SB_UM_MOST, SB_UM_MOST}, {SB_UM_MOST, -SB_UM_MOST}};
  g_autoptr (SbPolygon) a = polygon (corner, 3);
  g_autoptr (SbPolygon) b = polygon (slope, 3);
  ck_assert (!sb_polygons_closer_than (a, b, SB_UM_MOST));
  ck_assert_double_eq_tol (sb_polygons_distance_um (a, b), 14142134.9, 0.1);
}
END_TEST

START_TEST (corners_that_say_nothing_are_welded)
{
  /* repeated, straight on, a spike out and back, and a seam in the middle of a side */
  const SbIPoint points[] = {{500, 0},    {500, 0},     {1000, 0},    {1500, 0}, {1000, 0},
                             {1000, 500}, {1000, 1000}, {1000, 1000}, {0, 1000}, {-400, 1000},
                             {0, 1000},   {0, 0},       {250, 0}};
  g_autoptr (SbPolygon) square = polygon (points, G_N_ELEMENTS (points));
  ck_assert_uint_eq (sb_polygon_get_n_loops (square), 1);
  ck_assert_uint_eq (sb_polygon_get_loop (square, 0)->n_points, 4);
  ck_assert_double_eq (sb_polygon_get_area_mm2 (square), 1);
  ck_assert_int_eq (sb_polygon_get_box (square).x0, 0);
}
END_TEST

START_TEST (loops_without_area_are_dropped)
{
  const SbIPoint line[] = {{0, 0}, {10, 10}, {20, 20}, {5, 5}};
  const SbIPoint two[] = {{0, 0}, {10, 10}};
  const SbIPoint eight[] = {{0, 0}, {10, 10}, {10, 0}, {0, 10}};
  const SbIPoint good[] = {{0, 0}, {1000, 0}, {0, 1000}};
  SbLoop loops[] = {{4, line}, {2, two}, {0, NULL}, {4, eight}, {3, good}};
  g_autoptr (SbPolygon) p = sb_polygon_new (loops, G_N_ELEMENTS (loops));
  ck_assert_uint_eq (sb_polygon_get_n_loops (p), 1);
  ck_assert_double_eq (sb_polygon_get_area_mm2 (p), 0.5);
  g_autoptr (SbPolygon) none = sb_polygon_new (NULL, 0);
  SbIBox box = sb_polygon_get_box (none);
  ck_assert_int_lt (box.x1, box.x0);
  ck_assert_double_eq (sb_polygon_get_area_mm2 (none), 0);
  ck_assert (!sb_polygons_overlap (none, p));
  ck_assert (!sb_polygons_closer_than (p, none, 100));
  ck_assert (!sb_polygon_contains (none, (SbIPoint){0, 0}));
}
END_TEST

START_TEST (moving_changes_only_the_place)
{
  const SbIPoint points[] = {{0, 0}, {1001, 3}, {997, 2000}, {400, 700}, {-3, 1999}};
  g_autoptr (SbPolygon) a = polygon (points, G_N_ELEMENTS (points));
  g_autoptr (SbPolygon) b = sb_polygon_move (a, 12345, -777);
  ck_assert_double_eq (sb_polygon_get_area_mm2 (a), sb_polygon_get_area_mm2 (b));
  for (guint i = 0; i < 5; i++) {
    SbIPoint p = sb_polygon_get_loop (a, 0)->points[i];
    SbIPoint q = sb_polygon_get_loop (b, 0)->points[i];
    ck_assert_int_eq (q.x - p.x, 12345);
    ck_assert_int_eq (q.y - p.y, -777);
  }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("polygon");
  TCase *tcase = tcase_create ("polygon");
  tcase_add_test (tcase, a_box_measures_exactly);
  tcase_add_test (tcase, the_largest_polygon_does_not_overflow);
  tcase_add_test (tcase, corners_that_say_nothing_are_welded);
  tcase_add_test (tcase, loops_without_area_are_dropped);
  tcase_add_test (tcase, moving_changes_only_the_place);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
