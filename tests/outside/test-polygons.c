/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Areas, hulls, distances and overlap against GEOS (libgeos, whose predicates are exact too), on
 * random shapes of page size and on published ones: the ESICUP packing sets (EURO working group on
 * cutting and packing, CC0), whose published layouts are full of pieces that just touch. */
#include "geometry/outline.h"
#include "geometry/relation.h"
#include "geos-polygon.h"
#include "packing/convex.h"
#include "suite.h"

#include <json-glib/json-glib.h>
#include <math.h>

static GEOSContextHandle_t geos;

/* A star around a place: never crosses itself, with spikes, notches and flat runs. */
static SbPolygon *
random_star (GRand *rand, double x, double y, double reach)
{
  SbIPoint points[60];
  guint n = (guint)g_rand_int_range (rand, 5, G_N_ELEMENTS (points));
  for (guint i = 0; i < n; i++) {
    double r = reach * (g_rand_int_range (rand, 0, 3) ? g_rand_double_range (rand, 0.2, 1) : 1);
    double angle = 2 * G_PI * i / n;
    points[i] = sb_point_round ((SbPoint){x + r * cos (angle), y + r * sin (angle)});
  }
  SbLoop loop = {n, points};
  return sb_polygon_new (&loop, 1);
}

static void
assert_pair_agrees (const SbPolygon *a, const SbPolygon *b, const char *which)
{
  GEOSGeometry *ga = geos_from_polygon (geos, a);
  GEOSGeometry *gb = geos_from_polygon (geos, b);
  double distance;
  /* insides share a point: the first place of the intersection matrix */
  gboolean overlap = GEOSRelatePattern_r (geos, ga, gb, "T********") == 1;
  GEOSDistance_r (geos, ga, gb, &distance);
  double ours = sb_polygons_distance_um (a, b);
  GEOSGeom_destroy_r (geos, ga);
  GEOSGeom_destroy_r (geos, gb);
  ck_assert_msg (sb_polygons_overlap (a, b) == overlap, "%s: overlap", which);
  ck_assert_msg (fabs (ours - distance) <= 1e-6, "%s: %.9g, not %.9g", which, ours, distance);
  if (distance > 1) {
    ck_assert (!sb_polygons_closer_than (a, b, (sb_um)floor (distance - 1e-6)));
    ck_assert (sb_polygons_closer_than (a, b, (sb_um)ceil (distance + 1e-6)));
  }
}

START_TEST (stars_agree_in_pairs)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i);
  for (int i = 0; i < 300; i++) {
    g_autoptr (SbPolygon) a = random_star (rand, 100, 100, 40);
    g_autoptr (SbPolygon) b =
        random_star (rand, g_rand_double_range (rand, 30, 180), g_rand_double_range (rand, 80, 120),
                     g_rand_double_range (rand, 1, 40));
    g_autofree char *which = g_strdup_printf ("seed %d, pair %d", _i, i);
    assert_pair_agrees (a, b, which);
  }
}
END_TEST

START_TEST (areas_and_hulls_agree)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i);
  for (int i = 0; i < 200; i++) {
    g_autoptr (SbPolygon) a = random_star (rand, 0, -50, 60);
    const SbLoop *loop = sb_polygon_get_loop (a, 0);
    g_autoptr (GArray) corners = sb_points_hull (loop->points, loop->n_points);
    SbLoop around_loop = {corners->len, (const SbIPoint *)(gpointer)corners->data};
    g_autoptr (SbPolygon) hull = sb_polygon_new (&around_loop, 1);
    GEOSGeometry *area = geos_from_polygon (geos, a);
    GEOSGeometry *around = GEOSConvexHull_r (geos, area);
    double length;
    GEOSLength_r (geos, area, &length);
    ck_assert_double_eq_tol (sb_polygon_get_area_mm2 (a), geos_area_mm2 (geos, area), 1e-6);
    ck_assert_double_eq_tol (sb_polygon_get_perimeter_mm (a), length / 1000, 1e-6);
    ck_assert_double_eq_tol (sb_polygon_get_area_mm2 (hull), geos_area_mm2 (geos, around), 1e-6);
    GEOSGeom_destroy_r (geos, area);
    GEOSGeom_destroy_r (geos, around);
  }
}
END_TEST

/* A flattened outline lies within its tolerance of a very fine one, by GEOS' Hausdorff distance (of
 * corners, made dense). */
START_TEST (flattening_agrees)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i);
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  const int n = 7;
  /* a closed chain of cubics around a centre, smooth or not */
  for (int i = 0; i < n; i++) {
    SbPoint p[3];
    for (int k = 0; k < 3; k++) {
      double angle = 2 * G_PI * (3 * i + k - 2) / (3 * n);
      double r = g_rand_double_range (rand, 15, 25);
      p[k] = (SbPoint){r * cos (angle), r * sin (angle)};
    }
    if (i == 0)
      sb_outline_builder_move_to (builder, p[2]);
    else
      sb_outline_builder_curve_to (builder, p[0], p[1], p[2]);
  }
  g_autoptr (SbOutline) outline = sb_outline_builder_end (builder);
  g_autoptr (SbPolygon) fine = sb_outline_flatten (outline, SB_TRANSFORM_IDENTITY, 2);
  GEOSGeometry *g_fine = geos_from_loop (geos, sb_polygon_get_loop (fine, 0));
  const double tolerances[] = {5, 10, 50, 200};
  for (gsize i = 0; i < G_N_ELEMENTS (tolerances); i++) {
    g_autoptr (SbPolygon) coarse =
        sb_outline_flatten (outline, SB_TRANSFORM_IDENTITY, tolerances[i]);
    GEOSGeometry *g_coarse = geos_from_loop (geos, sb_polygon_get_loop (coarse, 0));
    double hausdorff;
    GEOSHausdorffDistanceDensify_r (geos, g_fine, g_coarse, 0.05, &hausdorff);
    GEOSGeom_destroy_r (geos, g_coarse);
    ck_assert_msg (hausdorff <= tolerances[i] + 2 + 1.5, "%g um for %g", hausdorff, tolerances[i]);
    ck_assert_double_eq_tol (sb_polygon_get_area_mm2 (coarse), sb_outline_get_area_mm2 (outline),
                             tolerances[i] / 1000 * sb_outline_get_perimeter_mm (outline));
  }
  GEOSGeom_destroy_r (geos, g_fine);
}
END_TEST

/* ---- Published pieces in published places ---- */

static SbPolygon *
read_piece (JsonArray *items, const char *id, double turn, double x, double y)
{
  for (guint i = 0; i < json_array_get_length (items); i++) {
    JsonObject *item = json_array_get_object_element (items, i);
    if (g_strcmp0 (json_object_get_string_member (item, "id"), id) != 0)
      continue;
    JsonArray *corners = json_object_get_array_member (item, "polygon");
    guint n = json_array_get_length (corners);
    g_autofree SbIPoint *points = g_new (SbIPoint, n);
    SbTransform t = sb_transform_turn ((SbPoint){0, 0}, turn, (SbPoint){x, y});
    double area = 0;
    for (guint k = 0; k < n; k++) {
      JsonArray *corner = json_array_get_array_element (corners, k);
      JsonArray *next = json_array_get_array_element (corners, (k + 1) % n);
      area += json_array_get_double_element (corner, 0) * json_array_get_double_element (next, 1) -
              json_array_get_double_element (corner, 1) * json_array_get_double_element (next, 0);
      points[k] = sb_point_round (
          sb_transform_point (t, (SbPoint){json_array_get_double_element (corner, 0),
                                           json_array_get_double_element (corner, 1)}));
    }
    for (guint k = 0; area < 0 && k < n / 2; k++) {
      SbIPoint p = points[k];
      points[k] = points[n - 1 - k];
      points[n - 1 - k] = p;
    }
    SbLoop loop = {n, points};
    return sb_polygon_new (&loop, 1);
  }
  return NULL;
}

static GPtrArray *
read_layout (JsonObject *set, guint solution)
{
  JsonArray *items = json_object_get_array_member (set, "items");
  JsonArray *solutions = json_object_get_array_member (set, "published_solutions");
  JsonArray *placements = json_object_get_array_member (
      json_array_get_object_element (solutions, solution), "placements");
  GPtrArray *pieces = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_polygon_unref);
  for (guint i = 0; i < json_array_get_length (placements); i++) {
    JsonObject *place = json_array_get_object_element (placements, i);
    SbPolygon *piece = read_piece (items, json_object_get_string_member (place, "piece"),
                                   json_object_get_double_member (place, "angle"),
                                   json_object_get_double_member (place, "x"),
                                   json_object_get_double_member (place, "y"));
    if (piece != NULL)
      g_ptr_array_add (pieces, piece);
  }
  return pieces;
}

START_TEST (published_layouts_agree)
{
  static const char *sets[] = {"fu", "dighe1", "dighe2", "marques", "blaz", "shapes1"};
  g_autofree char *path = g_strdup_printf ("%s/../shared/packing/datasets/%s.json",
                                           g_getenv ("SB_TEST_SOURCE_DIR"), sets[_i]);
  g_autoptr (JsonParser) parser = json_parser_new ();
  if (!g_file_test (path, G_FILE_TEST_EXISTS)) {
    g_print ("skipped: the packing set %s is not beside the sources\n", sets[_i]);
    return;
  }
  ck_assert (json_parser_load_from_file (parser, path, NULL));
  g_autoptr (GPtrArray) pieces =
      read_layout (json_node_get_object (json_parser_get_root (parser)), 0);
  ck_assert_uint_gt (pieces->len, 5);
  for (guint i = 0; i < pieces->len; i++)
    for (guint k = 0; k < i; k++) {
      g_autofree char *which = g_strdup_printf ("%s, %u and %u", sets[_i], i, k);
      assert_pair_agrees (pieces->pdata[i], pieces->pdata[k], which);
    }
}
END_TEST

int
main (void)
{
  geos = geos_begin ();
  Suite *suite = suite_create ("polygons");
  TCase *tcase = tcase_create ("geos");
  tcase_add_loop_test (tcase, stars_agree_in_pairs, 0, 5);
  tcase_add_loop_test (tcase, areas_and_hulls_agree, 0, 3);
  tcase_add_loop_test (tcase, flattening_agrees, 0, 20);
  tcase_add_loop_test (tcase, published_layouts_agree, 0, 6);
  suite_add_tcase (suite, tcase);
  int status = sb_run_suite (suite);
  GEOS_finish_r (geos);
  return status;
}
