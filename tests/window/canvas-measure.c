/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Measuring on the canvas, by real pointer and key events: what is told is what the outlines' own
 * corners say. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "canvas-scene.h"
#include "suite.h"
#include "window/canvas/canvas-private.h"

static SbScene *scene;
static GtkWidget *tool;

static void
setup (void)
{
  SbSceneParams params = {
      .designs = 3, .pieces = 6, .picture_px = 120, .size_mm = 24, .turned = TRUE, .spread = 50000};

  scene = sb_scene_new (sb_scene_make_state (&params), 1000, 800);
  sb_scene_settle (scene);
  gtk_widget_grab_focus (GTK_WIDGET (scene->canvas));
  sb_scene_run (50);
  tool = GTK_WIDGET (sb_pages_view_get_measure_tool (sb_canvas_get_pages_view (scene->canvas)));
}

static void
teardown (void)
{
  g_clear_pointer (&scene, sb_scene_free);
}

static void
check_told (const char *told)
{
  char *wrong = gtk_test_accessible_check_property (GTK_ACCESSIBLE (tool),
                                                    GTK_ACCESSIBLE_PROPERTY_LABEL, told);

  ck_assert_msg (wrong == NULL, "told %s, not %s", wrong, told);
}

/* Between corners of one outline and points set closely along the other. */
static double
slow_distance_um (guint index_a, guint index_b)
{
  SbPagesView *pages = sb_canvas_get_pages_view (scene->canvas);
  SbPolygon *outlines[2];
  double least = G_MAXDOUBLE;

  for (int i = 0; i < 2; i++)
    outlines[i] = sb_piece_view_get_outline (
        sb_pages_view_find (pages, sb_scene_get_piece (scene, i ? index_b : index_a)->id));
  const SbLoop *a = sb_polygon_get_loop (outlines[0], 0), *b = sb_polygon_get_loop (outlines[1], 0);
  for (guint i = 0; i < a->n_points; i++)
    for (guint j = 0; j < b->n_points; j++)
      for (int k = 0; k < 16; k++) {
        SbIPoint p = a->points[i], q = b->points[j], r = b->points[(j + 1) % b->n_points];
        double x = q.x + (r.x - q.x) * k / 16.0, y = q.y + (r.y - q.y) * k / 16.0;
        least = MIN (least, hypot (p.x - x, p.y - y));
      }
  return least;
}

/* The check of a wrong value tells the right one. */
static char *
get_told (void)
{
  char *told =
      gtk_test_accessible_check_property (GTK_ACCESSIBLE (tool), GTK_ACCESSIBLE_PROPERTY_LABEL, "");

  ck_assert_ptr_nonnull (told);
  return told;
}

/* The millimetres after the colon. */
static double
told_mm (void)
{
  g_autofree char *told = get_told ();
  const char *colon = strchr (told, ':');

  ck_assert_msg (colon != NULL, "%s", told);
  return g_ascii_strtod (colon + 1, NULL);
}

START_TEST (from_the_selected_piece_to_its_nearest_neighbour_by_keys)
{
  sb_scene_press (scene, "Tab");
  ck_assert (!gtk_widget_get_visible (tool));
  sb_scene_press (scene, "d");
  ck_assert (gtk_widget_get_visible (tool));
  ck_assert (gtk_widget_is_focus (tool));
  /* Six pieces in rows of four: the neighbours are the second and the fifth. */
  double expected = MIN (slow_distance_um (0, 1), slow_distance_um (0, 4)) / 1000;
  ck_assert_double_eq_tol (told_mm (), expected, 0.02);
  for (guint next = 1; next < 6; next++) {
    g_autofree char *before = get_told ();
    sb_scene_press (scene, "Tab");
    g_autofree char *after = get_told ();
    ck_assert_str_ne (before, after);
  }
  sb_scene_press (scene, "Escape");
  ck_assert (!gtk_widget_get_visible (tool));
}
END_TEST

START_TEST (two_clicks_measure_between_two_pieces)
{
  double x, y;

  sb_scene_press (scene, "d");
  check_told ("Measure from a piece or a point");
  sb_scene_find_piece (scene, sb_scene_get_piece (scene, 0)->id, &x, &y);
  sb_scene_do (scene, "mousemove %d %d", (int)x, (int)y);
  sb_scene_do (scene, "click 1");
  sb_scene_run (60);
  check_told ("From leaf 1 to another piece or point");
  sb_scene_find_piece (scene, sb_scene_get_piece (scene, 5)->id, &x, &y);
  sb_scene_do (scene, "mousemove %d %d", (int)x, (int)y);
  sb_scene_do (scene, "click 1");
  sb_scene_run (60);
  ck_assert_double_eq_tol (told_mm (), slow_distance_um (0, 5) / 1000, 0.02);
  /* Nothing was selected, moved or made a step of history by that. */
  ck_assert_uint_eq (sb_selection_get_n_pieces (scene->selection), 0);
  ck_assert (!sb_job_can_undo (scene->job));
}
END_TEST

START_TEST (a_drag_on_the_paper_measures_between_points)
{
  SbPagesView *pages = sb_canvas_get_pages_view (scene->canvas);
  const SbPagesLayout *layout = sb_pages_view_get_layout (pages);
  double x0, y0, x1, y1;
  SbPoint a = sb_pages_layout_to_view (layout, 0, 20000, 200000);
  SbPoint b = sb_pages_layout_to_view (layout, 0, 80000, 240000);

  gtk_widget_translate_coordinates (GTK_WIDGET (pages), scene->window, a.x, a.y, &x0, &y0);
  gtk_widget_translate_coordinates (GTK_WIDGET (pages), scene->window, b.x, b.y, &x1, &y1);
  sb_scene_press (scene, "d");
  sb_scene_drag (scene, floor (x0), floor (y0), floor (x1), floor (y1), NULL, TRUE);
  ck_assert_double_eq_tol (told_mm (), hypot (60, 40), 2 / layout->scale);
  /* Whole millimetres by arrow keys. */
  double before = told_mm ();
  sb_scene_press (scene, "shift+Right");
  ck_assert_double_gt (told_mm (), before + 5);
  g_object_set (scene->canvas, "unit", SB_UNIT_INCH, NULL);
  g_autofree char *told = get_told ();
  ck_assert_msg (strstr (told, "in") && strstr (told, "From a point to a point: "), "%s", told);
}
END_TEST

START_TEST (a_piece_that_goes_is_no_longer_measured)
{
  sb_scene_press (scene, "Tab");
  sb_scene_press (scene, "d");
  sb_job_edit (scene->job,
               sb_edit_remove_pieces (sb_job_get_settled_state (scene->job),
                                      (guint[]){sb_scene_get_piece (scene, 0)->id}, 1),
               "Delete", NULL);
  sb_scene_run (60);
  check_told ("Measure from a piece or a point");
}
END_TEST

int
main (void)
{
  g_setenv ("GTK_A11Y", "test", TRUE);
  if (!gtk_init_check ())
    return 77;
  Suite *suite = suite_create ("canvas-measure");
  TCase *tcase = tcase_create ("measure");

  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, from_the_selected_piece_to_its_nearest_neighbour_by_keys);
  tcase_add_test (tcase, two_clicks_measure_between_two_pieces);
  tcase_add_test (tcase, a_drag_on_the_paper_measures_between_points);
  tcase_add_test (tcase, a_piece_that_goes_is_no_longer_measured);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
