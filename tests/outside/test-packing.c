/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Packing against what is known outside:
 * - circles in a unit square, n = 1..30: E. Specht, Packomania ("The best known packings of equal
 *   circles in a square"), optimal for n <= 30;
 * - unit squares in a square: E. Friedman, "Packing unit squares in squares", Electronic Journal of
 *   Combinatorics, dynamic survey DS7: 5 need side 2.7072, 10 need 3.7072, 11 need 3.8771;
 * - J. W. Moon, L. Moser, "Some packing and covering theorems", 1967: squares of total area 1/2 at
 *   most always fit a unit square;
 * - discs on a page: the hexagonal lattice by hand (rows sqrt (3) / 2 apart);
 * - layouts published with the strip-packing sets of ESICUP, and three of them that overlap.
 *
 * The circles and the sets are read from ../shared/packing beside the source; where that is missing
 * those checks are skipped. */
#include <stdio.h>

#include "geometry/relation.h"
#include "packing-set.h"
#include "packing/fit.h"
#include "packing/lattice.h"
#include "suite.h"

#define UNIT 5000000 /* um: the unit square's side here */

static char *
data_path (const char *name)
{
  const char *source = g_getenv ("SB_TEST_SOURCE_DIR");
  char *path =
      g_build_filename (source != NULL ? source : ".", "..", "shared", "packing", name, NULL);
  if (g_file_test (path, G_FILE_TEST_EXISTS))
    return path;
  printf ("skipped: %s is not there\n", path);
  g_free (path);
  return NULL;
}

/* A polygon of 256 corners that contains the disc (out) or lies in it. */
static SbPolygon *
make_disc (double radius, gboolean out)
{
  enum { CORNERS = 256 };
  SbIPoint points[CORNERS];
  double reach = out ? radius / cos (G_PI / CORNERS) + 1 : radius - 1;
  for (int i = 0; i < CORNERS; i++) {
    double angle = 2 * G_PI * (i + 0.5) / CORNERS;
    points[i] =
        (SbIPoint){(sb_um)lround (reach * cos (angle)), (sb_um)lround (reach * sin (angle))};
  }
  SbLoop loop = {CORNERS, points};
  return sb_polygon_new (&loop, 1);
}

/* Whether n copies are found to fit the square of side `side`. */
static gboolean
copies_fit (const SbPolygon *outline, const gint32 *turns, guint n_turns, guint n, sb_um side,
            double seconds, double slack)
{
  g_autoptr (SbTask) task = sb_task_new (0, 0);
  sb_task_add_shape (task, sb_shape_new (outline, turns, n_turns, slack));
  g_autofree SbPlacing *placings = g_new0 (SbPlacing, n);
  SbRandom random = sb_random_stream (7, n);
  for (guint i = 0; i < n; i++) {
    placings[i].x = sb_random_between (&random, 0, side);
    placings[i].y = sb_random_between (&random, 0, side);
  }
  SbBudget budget = {.deadline = g_get_monotonic_time () + (gint64)(seconds * G_USEC_PER_SEC)};
  SbIBox box = {0, 0, side, side};
  g_autoptr (SbFitter) fitter = sb_fitter_new (task);
  return sb_fit (fitter, box, placings, n, &random, G_MAXUINT64, &budget) &&
         sb_task_check (task, box, placings, n);
}

START_TEST (circles_fit_at_098_and_never_at_1001)
{
  g_autofree char *path = data_path ("circles_in_unit_square.csv");
  g_autofree char *text = NULL;
  if (path == NULL || !g_file_get_contents (path, &text, NULL, NULL))
    return;
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  gint32 upright = 0;
  double slowest = 0;
  for (guint i = 1; lines[i] != NULL && *lines[i] != '\0'; i++) {
    g_auto (GStrv) cells = g_strsplit (lines[i], ",", -1);
    guint n = (guint)g_ascii_strtoull (cells[0], NULL, 10);
    double radius = g_ascii_strtod (cells[1], NULL) * UNIT;
    g_autoptr (SbPolygon) fits = make_disc (0.98 * radius, TRUE);
    gint64 begun = g_get_monotonic_time ();
    ck_assert_msg (copies_fit (fits, &upright, 1, n, UNIT, 20, 200), "%u circles at 0.98", n);
    slowest = MAX (slowest, (double)(g_get_monotonic_time () - begun) / G_USEC_PER_SEC);
    /* Discs of this radius never fit; a success with polygons inside of them by 0.00015 of it
     * would still be one at 1.0008. */
    g_autoptr (SbPolygon) too_large = make_disc (1.001 * radius, FALSE);
    ck_assert_msg (!copies_fit (too_large, &upright, 1, n, UNIT, 0.1, 0), "%u circles at 1.001", n);
  }
  printf ("circles-slowest %.2f s\n", slowest);
}
END_TEST

START_TEST (unit_squares_fit_small_squares)
{
  static const struct {
    guint n;
    double side, too_small;
  } cases[] = {{5, 2.75, 2.70}, {10, 3.75, 3.70}, {11, 3.93, 3.87}};
  gint32 turns[18];
  for (gint32 i = 0; i < 18; i++)
    turns[i] = i * 5000;
  SbIBox unit = {-500000, -500000, 500000, 500000};
  g_autoptr (SbPolygon) square = sb_polygon_new_box (unit);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    gint64 begun = g_get_monotonic_time ();
    ck_assert_msg (
        copies_fit (square, turns, 18, cases[i].n, (sb_um)(cases[i].side * 1000000), 60, 0),
        "%u squares in %.2f", cases[i].n, cases[i].side);
    printf ("squares-%u %.2f s\n", cases[i].n,
            (double)(g_get_monotonic_time () - begun) / G_USEC_PER_SEC);
    ck_assert_msg (
        !copies_fit (square, turns, 18, cases[i].n, (sb_um)(cases[i].too_small * 1000000), 0.2, 0),
        "%u squares in %.2f", cases[i].n, cases[i].too_small);
  }
}
END_TEST

START_TEST (squares_of_half_the_area_always_fit)
{
  for (guint seed = 0; seed < 20; seed++) {
    SbRandom random = sb_random_stream (seed, 0);
    g_autoptr (SbTask) task = sb_task_new (0, 0);
    guint n = 2 + sb_random_below (&random, 20);
    g_autofree double *sides = g_new (double, n);
    double area = 0;
    for (guint i = 0; i < n; i++) {
      sides[i] = 0.05 + sb_random_unit (&random);
      area += sides[i] * sides[i];
    }
    g_autofree SbPlacing *placings = g_new0 (SbPlacing, n);
    for (guint i = 0; i < n; i++) {
      gint32 upright = 0;
      sb_um half = (sb_um)(sides[i] / sqrt (area) * sqrt (0.5) * 1000000 / 2);
      g_autoptr (SbPolygon) square = sb_polygon_new_box ((SbIBox){-half, -half, half, half});
      placings[i].shape = sb_task_add_shape (task, sb_shape_new (square, &upright, 1, 0));
    }
    SbBudget budget = {.deadline = g_get_monotonic_time () + 20 * G_USEC_PER_SEC};
    g_autoptr (SbFitter) fitter = sb_fitter_new (task);
    ck_assert_msg (sb_fit (fitter, (SbIBox){0, 0, 1000000, 1000000}, placings, n, &random,
                           G_MAXUINT64, &budget),
                   "seed %u: %u squares", seed, n);
  }
}
END_TEST

/* Copies of the tightest lattice on a page of 8.26 x 10.76 in. */
static guint
lattice_count (const SbPolygon *outline, double gap_inch)
{
  gint32 upright = 0;
  sb_um gap = (sb_um)lround (gap_inch * SB_UM_PER_INCH);
  g_autoptr (SbTask) task = sb_task_new (gap, gap);
  guint shape = sb_task_add_shape (task, sb_shape_new (outline, &upright, 1, 0));
  g_autoptr (SbKeepOuts) keep_outs = sb_keep_outs_new (task);
  g_autoptr (GArray) laid = sb_lattice_lay (task, keep_outs, (SbIBox){0, 0, 209804, 273304}, shape);
  return laid->len;
}

START_TEST (lattices_reach_the_counts_by_hand)
{
  g_autoptr (SbPolygon) inch = make_disc (12700, TRUE);
  ck_assert_uint_ge (lattice_count (inch, 0), 90);
  ck_assert_uint_ge (lattice_count (inch, 0.08), 77);
  ck_assert_uint_ge (lattice_count (inch, 0.125), 72);
  /* No lattice beats the density of the hexagonal one, pi / sqrt (12): 88.84 in2 hold 102 at most.
   */
  ck_assert_uint_le (lattice_count (inch, 0), 102);
  /* 4 x 5 squares of 2 in fit exactly while the gap is 0.0867 in at most. */
  g_autoptr (SbPolygon) square = sb_polygon_new_box ((SbIBox){-25400, -25400, 25400, 25400});
  ck_assert_uint_eq (lattice_count (square, 0.08), 20);
  ck_assert_uint_eq (lattice_count (square, 0.0866), 20);
  ck_assert_uint_lt (lattice_count (square, 0.0868), 20);
}
END_TEST

/* A set's items as shapes of one task, and published layouts of them. */
typedef struct {
  SbTask *task;
  double scale;
  sb_um width;
  JsonParser *parser;
  JsonArray *items, *solutions;
} Set;

static gboolean
set_open (Set *set, const char *name)
{
  g_autofree char *file = g_strdup_printf ("datasets/%s.json", name);
  g_autofree char *path = data_path (file);
  set->parser = json_parser_new ();
  if (path == NULL || !json_parser_load_from_file (set->parser, path, NULL)) {
    g_object_unref (set->parser);
    return FALSE;
  }
  JsonObject *root = json_node_get_object (json_parser_get_root (set->parser));
  double width = json_object_get_double_member (root, "strip_width");
  set->items = json_object_get_array_member (root, "items");
  set->solutions = json_object_get_array_member (root, "published_solutions");
  set->scale = 2000000 / width;
  set->width = 2000000;
  set->task = sb_task_new (0, 0);
  static const gint32 quarters[4] = {0, 90000, 180000, 270000};
  for (guint i = 0; i < json_array_get_length (set->items); i++) {
    JsonObject *item = json_array_get_object_element (set->items, i);
    g_autoptr (SbPolygon) outline =
        sb_read_ring (json_object_get_array_member (item, "polygon"), set->scale);
    sb_task_add_shape (set->task, sb_shape_new (outline, quarters, 4, 0));
  }
  return TRUE;
}

static void
set_close (Set *set)
{
  sb_task_free (set->task);
  g_object_unref (set->parser);
}

static SbPlacing
read_placing (const Set *set, JsonObject *placement)
{
  const char *id = json_object_get_string_member (placement, "piece");
  SbPlacing placing = {0};
  for (guint i = 0; i < json_array_get_length (set->items); i++)
    if (g_str_equal (
            json_object_get_string_member (json_array_get_object_element (set->items, i), "id"),
            id))
      placing.shape = i;
  placing.pose = (guint)lround (json_object_get_double_member (placement, "angle") / 90) % 4;
  placing.x = (sb_um)lround (json_object_get_double_member (placement, "x") * set->scale);
  placing.y = (sb_um)lround (json_object_get_double_member (placement, "y") * set->scale);
  return placing;
}

/* The deepest overlap of a published layout, as a part of the strip's width; and the same layout
 * spread by a hundredth, which an exact check must take when its overlaps are rounding only. */
static double
deepest_overlap (const Set *set, guint solution)
{
  JsonArray *list = json_object_get_array_member (
      json_array_get_object_element (set->solutions, solution), "placements");
  guint n = json_array_get_length (list);
  g_autofree SbPlacing *placings = g_new (SbPlacing, n);
  double deepest = 0;
  for (guint i = 0; i < n; i++) {
    placings[i] = read_placing (set, json_array_get_object_element (list, i));
    for (guint j = 0; j < i; j++) {
      g_autofree SbKeepOut *region =
          sb_keep_out_new (sb_task_get_pose (set->task, placings[j].shape, placings[j].pose),
                           sb_task_get_pose (set->task, placings[i].shape, placings[i].pose), 0);
      deepest = MAX (deepest, sb_keep_out_depth (region, (double)placings[i].x - placings[j].x,
                                                 (double)placings[i].y - placings[j].y));
    }
  }
  return deepest / set->width;
}

/* Coordinates are published to seven digits or so. */
#define PUBLISHED_ROUNDING 2e-5

START_TEST (published_layouts_are_taken)
{
  static const char *names[] = {"albano", "blaz", "dagli",   "dighe1",  "dighe2",
                                "fu",     "mao",  "marques", "shapes1", "shirts"};
  for (guint k = 0; k < G_N_ELEMENTS (names); k++) {
    Set set;
    if (!set_open (&set, names[k]))
      return;
    for (guint s = 0; s < 2; s++) {
      double deepest = deepest_overlap (&set, s);
      ck_assert_msg (deepest <= PUBLISHED_ROUNDING, "%s, solution %u: overlap of %g of the width",
                     names[k], s, deepest);
    }
    set_close (&set);
  }
}
END_TEST

START_TEST (published_layouts_that_overlap_are_refused)
{
  static const char *names[] = {"dagli", "marques", "shirts"};
  for (guint k = 0; k < G_N_ELEMENTS (names); k++) {
    Set set;
    if (!set_open (&set, names[k]))
      return;
    double deepest = deepest_overlap (&set, 2);
    ck_assert_msg (deepest > PUBLISHED_ROUNDING, "%s: only %g of the width", names[k], deepest);
    set_close (&set);
  }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("packing");
  TCase *tcase = tcase_create ("published facts");
  tcase_set_timeout (tcase, 280);
  tcase_add_test (tcase, published_layouts_are_taken);
  tcase_add_test (tcase, published_layouts_that_overlap_are_refused);
  tcase_add_test (tcase, lattices_reach_the_counts_by_hand);
  tcase_add_test (tcase, unit_squares_fit_small_squares);
  tcase_add_test (tcase, squares_of_half_the_area_always_fit);
  tcase_add_test (tcase, circles_fit_at_098_and_never_at_1001);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
