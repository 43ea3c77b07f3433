/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The keep-out regions, convex parts and free maps against the exact check of geometry/relation.h:
 * two ways to the same answer. */
#include "geometry/relation.h"
#include "packing/convex.h"
#include "packing/free-map.h"
#include "random-shape.h"
#include "suite.h"

static SbShape *
random_shape (SbRandom *random, double slack)
{
  gint32 turns[3] = {0, 90000, sb_random_between (random, 0, 359999)};
  g_autoptr (SbPolygon) outline = random_outline (random, 20000);
  return sb_shape_new (outline, turns, 3, slack);
}

static gboolean
outlines_clash (const SbPose *still, const SbPose *moving, sb_um x, sb_um y, sb_um gap)
{
  g_autoptr (SbPolygon) moved = sb_polygon_move (moving->outline, x, y);
  return sb_polygons_closer_than (still->outline, moved, gap);
}

START_TEST (parts_have_the_area_of_their_outline)
{
  for (guint seed = 0; seed < 300; seed++) {
    SbRandom random = sb_random_stream (seed, 0);
    g_autoptr (SbShape) shape = random_shape (&random, 0);
    double area = 0;
    for (guint i = 0; i < shape->poses[0].n_parts; i++) {
      SbLoop part = {shape->poses[0].parts[i].n, shape->poses[0].parts[i].points};
      g_autoptr (SbPolygon) polygon = sb_polygon_new (&part, 1);
      area += sb_polygon_get_area_mm2 (polygon) * 1e6;
    }
    ck_assert_msg (fabs (area - shape->area) < 1, "seed %u: parts %f, outline %f", seed, area,
                   shape->area);
  }
}
END_TEST

START_TEST (without_gap_depth_and_exact_overlap_agree)
{
  for (guint seed = 0; seed < 300; seed++) {
    SbRandom random = sb_random_stream (seed, 1);
    g_autoptr (SbShape) a = random_shape (&random, 0);
    g_autoptr (SbShape) b = random_shape (&random, 0);
    for (guint pose = 0; pose < 2; pose++) { /* quarter turns round nothing: exact both ways */
      g_autofree SbKeepOut *region = sb_keep_out_new (&a->poses[0], &b->poses[pose], 0);
      for (guint k = 0; k < 40; k++) {
        sb_um x = sb_random_between (&random, -42000, 42000),
              y = sb_random_between (&random, -42000, 42000);
        gboolean inside = sb_keep_out_depth (region, x, y) > 0;
        ck_assert_msg (inside == outlines_clash (&a->poses[0], &b->poses[pose], x, y, 0),
                       "seed %u, pose %u, (%d, %d)", seed, pose, x, y);
      }
    }
  }
}
END_TEST

START_TEST (depth_changes_no_faster_than_the_place)
{
  for (guint seed = 0; seed < 200; seed++) {
    SbRandom random = sb_random_stream (seed, 2);
    g_autoptr (SbShape) a = random_shape (&random, 0);
    g_autoptr (SbShape) b = random_shape (&random, 0);
    g_autofree SbKeepOut *region = sb_keep_out_new (&a->poses[0], &b->poses[2], 500);
    double x = 0, y = 0, last = 0;
    for (guint k = 0; k < 200; k++) {
      double dx = sb_random_between (&random, -900, 900),
             dy = sb_random_between (&random, -900, 900);
      double depth = sb_keep_out_depth (region, x + dx, y + dy);
      if (k > 0)
        ck_assert_double_le (fabs (depth - last), hypot (dx, dy) + 1e-6);
      x += dx;
      y += dy;
      last = depth;
    }
  }
}
END_TEST

START_TEST (a_gap_is_never_cut_short)
{
  guint met = 0;
  for (guint seed = 0; seed < 300; seed++) {
    SbRandom random = sb_random_stream (seed, 3);
    sb_um gap = sb_random_between (&random, 0, 5000);
    g_autoptr (SbShape) a = random_shape (&random, 100);
    g_autoptr (SbShape) b = random_shape (&random, 100);
    g_autofree SbKeepOut *region = sb_keep_out_new (&a->poses[2], &b->poses[2], gap + 2);
    for (guint k = 0; k < 60; k++) {
      sb_um x = sb_random_between (&random, -45000, 45000),
            y = sb_random_between (&random, -45000, 45000);
      gboolean inside = sb_keep_out_depth (region, x, y) > 0;
      gboolean clash = outlines_clash (&a->poses[2], &b->poses[2], x, y, gap);
      ck_assert_msg (inside || !clash, "seed %u: (%d, %d) is called free", seed, x, y);
      /* Nor is it much too wide: at twice the gap and the slack nothing is forbidden. */
      if (!outlines_clash (&a->poses[2], &b->poses[2], x, y, 2 * gap + 2500))
        ck_assert_msg (!inside, "seed %u: (%d, %d) is called taken", seed, x, y);
      met += clash;
    }
  }
  ck_assert_uint_gt (met, 1000);
}
END_TEST

START_TEST (a_free_map_says_what_the_depth_says)
{
  for (guint seed = 0; seed < 60; seed++) {
    SbRandom random = sb_random_stream (seed, 4);
    g_autoptr (SbShape) a = random_shape (&random, 0);
    g_autoptr (SbShape) b = random_shape (&random, 0);
    g_autofree SbKeepOut *region = sb_keep_out_new (&a->poses[0], &b->poses[1], 700);
    SbIBox room = {-50000, -30000, sb_random_between (&random, 0, 60000), 50000};
    g_autoptr (SbFreeMap) map = sb_free_map_new (room, 997);
    sb_um x = sb_random_between (&random, -50000, 50000),
          y = sb_random_between (&random, -50000, 50000);
    sb_free_map_forbid (map, region, x, y);
    for (guint row = 0; row < map->rows; row++)
      for (guint column = 0; column < map->columns; column++) {
        double depth = sb_keep_out_depth (region, room.x0 + (double)column * 997 - x,
                                          room.y0 + (double)row * 997 - y);
        ck_assert_msg (sb_free_map_get (map, column, row) == (depth <= 0),
                       "seed %u: column %u, row %u, depth %g", seed, column, row, depth);
      }
  }
}
END_TEST

START_TEST (simplifying_never_cuts_into_a_loop)
{
  for (guint seed = 0; seed < 300; seed++) {
    SbRandom random = sb_random_stream (seed, 5);
    g_autoptr (SbPolygon) outline = random_outline (&random, 20000);
    g_autoptr (GArray) simple = sb_loop_simplify_outwards (sb_polygon_get_loop (outline, 0), 400);
    SbLoop loop = {simple->len, (const SbIPoint *)(gpointer)simple->data};
    g_autoptr (SbPolygon) polygon = sb_polygon_new (&loop, 1);
    const SbLoop *corners = sb_polygon_get_loop (outline, 0);
    for (guint i = 0; i < corners->n_points; i++)
      ck_assert_msg (sb_polygon_contains (polygon, corners->points[i]), "seed %u: corner %u", seed,
                     i);
    ck_assert_uint_le (simple->len, corners->n_points);
  }
}
END_TEST

START_TEST (the_hull_holds_all_and_is_convex)
{
  for (guint seed = 0; seed < 100; seed++) {
    SbRandom random = sb_random_stream (seed, 6);
    SbIPoint points[40];
    sb_um step = seed % 2 ? 1 : 1000; /* a coarse grid gives many points on one line */
    for (guint i = 0; i < G_N_ELEMENTS (points); i++)
      points[i] = (SbIPoint){sb_random_between (&random, -8, 8) * step,
                             sb_random_between (&random, -8, 8) * step};
    g_autoptr (GArray) hull = sb_points_hull (points, G_N_ELEMENTS (points));
    ck_assert_uint_ge (hull->len, 3);
    for (guint i = 0; i < hull->len; i++) {
      SbIPoint a = g_array_index (hull, SbIPoint, i),
               b = g_array_index (hull, SbIPoint, (i + 1) % hull->len);
      for (guint k = 0; k < G_N_ELEMENTS (points); k++) {
        SbIPoint c = points[k];
        ck_assert ((gint64)(b.x - a.x) * (c.y - a.y) - (gint64)(b.y - a.y) * (c.x - a.x) >= 0);
      }
    }
  }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("keep-out");
  TCase *tcase = tcase_create ("against the exact check");
  tcase_set_timeout (tcase, 100);
  tcase_add_test (tcase, parts_have_the_area_of_their_outline);
  tcase_add_test (tcase, without_gap_depth_and_exact_overlap_agree);
  tcase_add_test (tcase, depth_changes_no_faster_than_the_place);
  tcase_add_test (tcase, a_gap_is_never_cut_short);
  tcase_add_test (tcase, a_free_map_says_what_the_depth_says);
  tcase_add_test (tcase, simplifying_never_cuts_into_a_loop);
  tcase_add_test (tcase, the_hull_holds_all_and_is_convex);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
