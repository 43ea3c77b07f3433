/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/relation.h"
#include "suite.h"

static SbPolygon *
box (sb_um x0, sb_um y0, sb_um x1, sb_um y1)
{
  return sb_polygon_new_box ((SbIBox){x0, y0, x1, y1});
}

static const struct {
  const char *what;
  SbIBox a, b;
  gboolean overlap;
  double distance;
} boxes[] = {
    {"apart", {0, 0, 10, 10}, {13, 14, 20, 20}, FALSE, 5},
    {"side by side, a gap of 3", {0, 0, 10, 10}, {13, 0, 20, 10}, FALSE, 3},
    {"a shared edge", {0, 0, 10, 10}, {10, 0, 20, 10}, FALSE, 0},
    {"a part of an edge shared", {0, 0, 10, 10}, {10, 3, 20, 17}, FALSE, 0},
    {"a shared corner", {0, 0, 10, 10}, {10, 10, 20, 20}, FALSE, 0},
    {"one micrometre in", {0, 0, 10, 10}, {9, 0, 20, 10}, TRUE, 0},
    {"a cross", {0, 4, 10, 6}, {4, 0, 6, 10}, TRUE, 0},
    {"the same", {0, 0, 10, 10}, {0, 0, 10, 10}, TRUE, 0},
    {"one inside", {0, 0, 10, 10}, {3, 3, 6, 6}, TRUE, 0},
    {"inside, along an edge", {0, 0, 10, 10}, {0, 3, 6, 6}, TRUE, 0},
    {"inside, along three edges", {0, 0, 10, 10}, {0, 0, 6, 10}, TRUE, 0},
};

START_TEST (boxes_lie_as_they_should)
{
  for (int swap = 0; swap < 2; swap++) {
    g_autoptr (SbPolygon) a = sb_polygon_new_box (swap ? boxes[_i].b : boxes[_i].a);
    g_autoptr (SbPolygon) b = sb_polygon_new_box (swap ? boxes[_i].a : boxes[_i].b);
    ck_assert_msg (sb_polygons_overlap (a, b) == boxes[_i].overlap, "%s", boxes[_i].what);
    ck_assert_msg (sb_polygons_distance_um (a, b) == boxes[_i].distance, "%s", boxes[_i].what);
    sb_um gap = (sb_um)boxes[_i].distance;
    ck_assert_msg (sb_polygons_closer_than (a, b, gap) == boxes[_i].overlap, "%s", boxes[_i].what);
    ck_assert_msg (sb_polygons_closer_than (a, b, gap + 1), "%s", boxes[_i].what);
  }
}
END_TEST

START_TEST (a_sticker_in_anothers_hole_does_not_overlap)
{
  const SbIPoint outer[] = {{0, 0}, {100, 0}, {100, 100}, {0, 100}};
  const SbIPoint hole[] = {{20, 20}, {20, 80}, {80, 80}, {80, 20}};
  SbLoop loops[] = {{4, outer}, {4, hole}};
  g_autoptr (SbPolygon) frame = sb_polygon_new (loops, 2);
  g_autoptr (SbPolygon) in_hole = box (30, 30, 70, 70);
  g_autoptr (SbPolygon) fills_hole = box (20, 20, 80, 80);
  g_autoptr (SbPolygon) too_wide = box (20, 20, 81, 80);
  g_autoptr (SbPolygon) over_all = box (-10, -10, 110, 110);
  ck_assert (!sb_polygons_overlap (frame, in_hole));
  ck_assert_double_eq (sb_polygons_distance_um (in_hole, frame), 10);
  ck_assert (!sb_polygons_closer_than (frame, in_hole, 10));
  ck_assert (sb_polygons_closer_than (frame, in_hole, 11));
  ck_assert (!sb_polygons_overlap (frame, fills_hole));
  ck_assert (!sb_polygons_overlap (fills_hole, frame));
  ck_assert (sb_polygons_overlap (frame, too_wide));
  ck_assert (sb_polygons_overlap (frame, over_all));
  ck_assert (sb_polygons_overlap (frame, frame));
  ck_assert (!sb_polygon_contains (frame, (SbIPoint){50, 50}));
  ck_assert (sb_polygon_contains (frame, (SbIPoint){20, 50}));
  ck_assert (sb_polygon_contains (frame, (SbIPoint){10, 50}));
}
END_TEST

START_TEST (an_edge_is_part_of_the_inside_box)
{
  g_autoptr (SbPolygon) p = box (0, 0, 10, 10);
  ck_assert (sb_polygon_inside_box (p, (SbIBox){0, 0, 10, 10}));
  ck_assert (!sb_polygon_inside_box (p, (SbIBox){0, 0, 10, 9}));
  ck_assert (!sb_polygon_inside_box (p, (SbIBox){1, 0, 10, 10}));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("relation");
  TCase *tcase = tcase_create ("by hand");
  tcase_add_loop_test (tcase, boxes_lie_as_they_should, 0, G_N_ELEMENTS (boxes));
  tcase_add_test (tcase, a_sticker_in_anothers_hole_does_not_overlap);
  tcase_add_test (tcase, an_edge_is_part_of_the_inside_box);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
