/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/relation.h"
#include "polyomino.h"
#include "slow-polygon.h"
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

/* ---- Against the cells that shapes are made of ---- */

#define ROUNDS 4000 /* for each seed */

START_TEST (cells_agree_on_overlap_and_area)
{
  /* Upright, sheared, turned and stretched: what overlaps overlaps in each. */
  static const int maps[][4] = {{1, 0, 0, 1},  {3, 0, 0, 3},  {2, 1, 0, 1},     {3, -2, 2, 3},
                                {7, 3, -2, 5}, {0, -1, 1, 0}, {1000, 0, 0, 999}};
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i);
  for (int i = 0; i < ROUNDS; i++) {
    Polyomino p = polyomino_random (rand), q = polyomino_random (rand);
    int x = g_rand_int_range (rand, -POLYOMINO_SIDE, POLYOMINO_SIDE + 1);
    int y = g_rand_int_range (rand, -POLYOMINO_SIDE, POLYOMINO_SIDE + 1);
    const int *m = maps[g_rand_int_range (rand, 0, G_N_ELEMENTS (maps))];
    g_autoptr (SbPolygon) a = polyomino_to_polygon (&p, m, 0, 0);
    g_autoptr (SbPolygon) b =
        polyomino_to_polygon (&q, m, m[0] * x + m[1] * y, m[2] * x + m[3] * y);
    gboolean expected = polyomino_overlap (&p, &q, x, y);
    ck_assert_msg (sb_polygons_overlap (a, b) == expected, "seed %d, round %d", _i, i);
    ck_assert_msg (sb_polygons_overlap (b, a) == expected, "seed %d, round %d, swapped", _i, i);

    int cells = 0;
    for (int v = 0; v < POLYOMINO_SIDE; v++)
      for (int u = 0; u < POLYOMINO_SIDE; u++)
        cells += p.cells[v][u];
    ck_assert_double_eq (sb_polygon_get_area_mm2 (a), cells * (m[0] * m[3] - m[1] * m[2]) / 1e6);
  }
}
END_TEST

/* The points that are told are as far apart as the cells are, and on both edges. */
static void
check_nearest (const SbPolygon *a, const SbPolygon *b, double distance)
{
  SbPoint on_a, on_b, foot;

  if (distance == 0)
    return;
  ck_assert_double_eq_tol (sb_polygons_find_nearest (a, b, &on_a, &on_b), distance, 1e-9);
  ck_assert_double_eq_tol (hypot (on_a.x - on_b.x, on_a.y - on_b.y), distance, 1e-9);
  /* The cells are a grid of tens, whose nearest points are corners or feet of corners: whole. */
  SbIPoint p = {(sb_um)lround (on_a.x), (sb_um)lround (on_a.y)};
  SbIPoint q = {(sb_um)lround (on_b.x), (sb_um)lround (on_b.y)};
  ck_assert_double_eq_tol (hypot (p.x - on_a.x, p.y - on_a.y), 0, 1e-9);
  ck_assert_double_eq (sb_polygon_find_nearest (a, p, &foot), 0);
  ck_assert_double_eq (sb_polygon_find_nearest (b, q, &foot), 0);
  ck_assert_double_eq_tol (sb_polygon_find_nearest (b, p, &foot), distance, 1e-9);
  ck_assert_double_eq_tol (hypot (foot.x - p.x, foot.y - p.y), distance, 1e-9);
}

START_TEST (cells_agree_on_distance_and_gap)
{
  static const int map[4] = {10, 0, 0, 10};
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i + 1000);
  for (int i = 0; i < ROUNDS / 4; i++) {
    Polyomino p = polyomino_random (rand), q = polyomino_random (rand);
    int x = g_rand_int_range (rand, -10, 11), y = g_rand_int_range (rand, -10, 11);
    g_autoptr (SbPolygon) a = polyomino_to_polygon (&p, map, 0, 0);
    g_autoptr (SbPolygon) b = polyomino_to_polygon (&q, map, 10 * x, 10 * y);
    gboolean overlap = polyomino_overlap (&p, &q, x, y);
    int d2 = 100 * polyomino_distance2 (&p, &q, x, y);
    ck_assert_msg (fabs (sb_polygons_distance_um (a, b) - sqrt (d2)) < 1e-9,
                   "seed %d, round %d: %g, not %g", _i, i, sb_polygons_distance_um (a, b),
                   sqrt (d2));
    check_nearest (a, b, sqrt (d2));
    for (sb_um gap = 0; gap < 40; gap++)
      ck_assert_msg (sb_polygons_closer_than (a, b, gap) == (overlap || d2 < gap * gap),
                     "seed %d, round %d, gap %d", _i, i, gap);
  }
}
END_TEST

START_TEST (cells_agree_on_what_is_inside)
{
  static const int map[4] = {2, 0, 0, 2};
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i + 2000);
  for (int i = 0; i < ROUNDS / 20; i++) {
    Polyomino p = polyomino_random (rand);
    g_autoptr (SbPolygon) a = polyomino_to_polygon (&p, map, 0, 0);
    for (int y = -1; y <= 2 * POLYOMINO_SIDE + 1; y++)
      for (int x = -1; x <= 2 * POLYOMINO_SIDE + 1; x++) {
        /* even places are edges and corners: there any of the cells around will do */
        gboolean expected = polyomino_has (&p, (x + 2) / 2 - 1, (y + 2) / 2 - 1) ||
                            (x % 2 == 0 && polyomino_has (&p, x / 2 - 1, (y + 2) / 2 - 1)) ||
                            (y % 2 == 0 && polyomino_has (&p, (x + 2) / 2 - 1, y / 2 - 1)) ||
                            (x % 2 == 0 && y % 2 == 0 && polyomino_has (&p, x / 2 - 1, y / 2 - 1));
        ck_assert_msg (sb_polygon_contains (a, (SbIPoint){x, y}) == expected,
                       "seed %d, round %d, at %d, %d", _i, i, x, y);
      }
  }
}
END_TEST

/* ---- Against a slow sweep, for slanting edges ---- */

/* A polygon that is made to touch `a`: turned by half a turn about the middle of one of its edges,
 * or with a corner put on one of its corners, or anywhere. */
static SbPolygon *
neighbour (GRand *rand, const SbPolygon *a, guint n, sb_um reach)
{
  const SbLoop *loop = sb_polygon_get_loop (a, 0);
  guint k = (guint)g_rand_int_range (rand, 0, (gint32)loop->n_points);
  SbIPoint p = loop->points[k], q = loop->points[(k + 1) % loop->n_points];
  if (g_rand_int_range (rand, 0, 3) == 0) {
    g_autofree SbIPoint *turned = g_new (SbIPoint, loop->n_points);
    for (guint i = 0; i < loop->n_points; i++)
      turned[i] = (SbIPoint){p.x + q.x - loop->points[i].x, p.y + q.y - loop->points[i].y};
    SbLoop other = {loop->n_points, turned};
    return sb_polygon_new (&other, 1);
  }
  g_autoptr (SbPolygon) b = slow_random_polygon (rand, n, reach);
  if (g_rand_boolean (rand))
    return g_steal_pointer (&b);
  SbIPoint corner = sb_polygon_get_loop (b, 0)->points[0];
  return sb_polygon_move (b, p.x - corner.x, p.y - corner.y);
}

START_TEST (a_slow_sweep_agrees)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i + 3000);
  for (int i = 0; i < ROUNDS / 4; i++) {
    sb_um reach = g_rand_int_range (rand, 3, 12);
    g_autoptr (SbPolygon) a =
        slow_random_polygon (rand, (guint)g_rand_int_range (rand, 3, 8), reach);
    g_autoptr (SbPolygon) b = neighbour (rand, a, (guint)g_rand_int_range (rand, 3, 8), reach);
    gboolean overlap = slow_overlap (a, b);
    double distance = overlap ? 0 : slow_distance (a, b);
    ck_assert_msg (sb_polygons_overlap (a, b) == overlap, "seed %d, round %d", _i, i);
    ck_assert_msg (fabs (sb_polygons_distance_um (a, b) - distance) < 1e-9, "seed %d, round %d", _i,
                   i);
    /* moved on the way to the check or before it: the same */
    g_autoptr (SbPolygon) away = sb_polygon_move (a, 700 + i, -900 + 3 * i);
    for (sb_um gap = 0; gap < 6; gap++)
      ck_assert_msg (sb_polygons_closer_than_moved (away, -700 - i, 900 - 3 * i, b, gap) ==
                         sb_polygons_closer_than (a, b, gap),
                     "seed %d, round %d, gap %d, moved", _i, i, gap);
    for (sb_um gap = 0; gap < 6; gap++)
      if (fabs (gap - distance) > 1e-9)
        ck_assert_msg (sb_polygons_closer_than (a, b, gap) == (overlap || distance < gap),
                       "seed %d, round %d, gap %d", _i, i, gap);
  }
}
END_TEST

/* The slow checker itself can tell wrong from right. */
START_TEST (the_slow_sweep_sees_a_fault)
{
  g_autoptr (SbPolygon) a = box (0, 0, 10, 10);
  g_autoptr (SbPolygon) touching = box (10, 0, 20, 10);
  g_autoptr (SbPolygon) crossing = box (9, 0, 20, 10);
  ck_assert (!slow_overlap (a, touching));
  ck_assert (slow_overlap (a, crossing));
  ck_assert_double_eq (slow_area (a, crossing, FALSE), 200);
}
END_TEST

/* ---- Large loops ---- */

/* A cog of n teeth around 0,0: radii r0 and r1 by turns. */
static SbPolygon *
cog (guint n, double r0, double r1)
{
  g_autofree SbIPoint *points = g_new (SbIPoint, 2 * n);
  for (guint i = 0; i < 2 * n; i++) {
    double r = i % 2 ? r1 : r0, angle = i * G_PI / n;
    points[i] = (SbIPoint){(sb_um)lround (r * cos (angle)), (sb_um)lround (r * sin (angle))};
  }
  SbLoop loop = {2 * n, points};
  return sb_polygon_new (&loop, 1);
}

START_TEST (cogs_that_mesh_do_not_overlap)
{
  /* 5000 corners each, one turned by half a tooth inside a ring: closest at the tips. */
  g_autoptr (SbPolygon) a = cog (2500, 50000, 49000);
  SbIBox box_a = sb_polygon_get_box (a);
  g_autoptr (SbPolygon) b = sb_polygon_move (a, box_a.x1 - box_a.x0 + 100, 0);
  ck_assert (!sb_polygons_overlap (a, b));
  ck_assert_double_eq_tol (sb_polygons_distance_um (a, b), slow_distance (a, b), 1e-6);
  g_autoptr (SbPolygon) c = sb_polygon_move (a, box_a.x1 - box_a.x0 - 1, 0);
  ck_assert (sb_polygons_overlap (a, c) || sb_polygons_distance_um (a, c) > 0);
  g_autoptr (SbPolygon) inner = cog (2500, 48000, 48500);
  ck_assert (sb_polygons_overlap (a, inner));
  ck_assert (sb_polygons_closer_than (inner, a, 1));
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
  TCase *cells = tcase_create ("cells");
  tcase_add_loop_test (cells, cells_agree_on_overlap_and_area, 0, 5);
  tcase_add_loop_test (cells, cells_agree_on_distance_and_gap, 0, 5);
  tcase_add_loop_test (cells, cells_agree_on_what_is_inside, 0, 5);
  suite_add_tcase (suite, cells);
  TCase *slow = tcase_create ("slow");
  tcase_add_loop_test (slow, a_slow_sweep_agrees, 0, 5);
  tcase_add_test (slow, the_slow_sweep_sees_a_fault);
  tcase_add_test (slow, cogs_that_mesh_do_not_overlap);
  suite_add_tcase (suite, slow);
  return sb_run_suite (suite);
}
