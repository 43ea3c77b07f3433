/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Editing an outline by hand with real pointer and key events. */
#include "config.h"

#include <math.h>

#include "canvas-scene.h"
#include "suite.h"
#include "window/canvas/canvas-private.h"

static SbScene *scene;
static SbHandEdit *hand;

/* The first piece is selected and its outline is being edited. */
static void
setup (void)
{
  SbSceneParams params = {
      .designs = 2, .pieces = 4, .picture_px = 160, .size_mm = 40, .turned = TRUE, .spread = 70000};
  double x, y;

  scene = sb_scene_new (sb_scene_make_state (&params), 1100, 850);
  hand = sb_pages_view_get_hand_edit (sb_canvas_get_pages_view (scene->canvas));
  sb_scene_settle (scene);
  ck_assert (sb_scene_find_piece (scene, sb_scene_get_piece (scene, 0)->id, &x, &y));
  sb_scene_do (scene, "mousemove %d %d click 1", (int)x, (int)y);
  sb_scene_do (scene, "key o");
}

static void
teardown (void)
{
  g_clear_pointer (&scene, sb_scene_free);
}

static SbDesign *
get_design (void)
{
  return sb_state_get_design (sb_job_get_state (scene->job),
                              sb_scene_get_piece (scene, 0)->design_id);
}

static guint
count_points (void)
{
  double x, y;
  guint n = 0;

  while (sb_hand_edit_get_place (hand, n, &x, &y))
    n++;
  return n;
}

/* In window px. */
static void
find_point (guint point, double *x, double *y)
{
  double view_x, view_y;

  ck_assert (sb_hand_edit_get_place (hand, point, &view_x, &view_y));
  ck_assert (
      gtk_widget_translate_coordinates (GTK_WIDGET (hand), scene->window, view_x, view_y, x, y));
}

/* Where the artwork's corner lies on the page, mm. */
static SbPoint
find_artwork (guint index)
{
  const SbPiece *piece = sb_scene_get_piece (scene, index);
  SbDesign *design = sb_state_get_design (sb_job_get_state (scene->job), piece->design_id);

  return sb_transform_point (sb_piece_get_transform (design, piece), (SbPoint){0, 0});
}

/* The point farthest from the middle of the piece, which can be pulled out without harm. */
static guint
find_tip (void)
{
  double x, y, middle_x, middle_y, most = 0;
  guint tip = 0;

  ck_assert (sb_scene_find_piece (scene, sb_scene_get_piece (scene, 0)->id, &middle_x, &middle_y));
  for (guint i = 0; i < count_points (); i++) {
    find_point (i, &x, &y);
    if (hypot (x - middle_x, y - middle_y) <= most)
      continue;
    most = hypot (x - middle_x, y - middle_y);
    tip = i;
  }
  return tip;
}

/* Pulls the tip outwards by some px. */
static void
pull_tip (double px, gboolean release)
{
  guint tip = find_tip ();
  double x, y, middle_x, middle_y;

  ck_assert (sb_scene_find_piece (scene, sb_scene_get_piece (scene, 0)->id, &middle_x, &middle_y));
  find_point (tip, &x, &y);
  double d = hypot (x - middle_x, y - middle_y);
  sb_scene_drag (scene, x, y, x + px * (x - middle_x) / d, y + px * (y - middle_y) / d, NULL,
                 release);
}

START_TEST (a_key_begins_and_escape_ends)
{
  ck_assert_uint_eq (sb_hand_edit_get_piece (hand), sb_scene_get_piece (scene, 0)->id);
  ck_assert_uint_ge (count_points (), SB_HAND_LEAST_POINTS);
  ck_assert (gtk_widget_get_visible (GTK_WIDGET (hand)));
  sb_scene_do (scene, "key Escape");
  ck_assert_uint_eq (sb_hand_edit_get_piece (hand), 0);
  ck_assert (!gtk_widget_get_visible (GTK_WIDGET (hand)));
  ck_assert_uint_eq (sb_selection_get_n_pieces (scene->selection), 1);
  ck_assert (!sb_job_can_undo (scene->job));
}
END_TEST

START_TEST (a_point_is_dragged_and_the_artwork_stays)
{
  SbPoint artwork[] = {find_artwork (0), find_artwork (2)};
  double before = sb_outline_get_area_mm2 (sb_design_get_outline (get_design ()));
  guint n = count_points ();

  pull_tip (40, FALSE);
  ck_assert_msg (sb_job_get_state (scene->job) != sb_job_get_settled_state (scene->job),
                 "it is shown while it is dragged");
  ck_assert_double_gt (sb_outline_get_area_mm2 (sb_design_get_outline (get_design ())), before);
  sb_scene_do (scene, "mouseup 1");

  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Outline of leaf 1");
  ck_assert_uint_eq (sb_hand_get_n (get_design ()->hand), 1);
  ck_assert_uint_eq (count_points (), n);
  ck_assert_double_gt (sb_outline_get_area_mm2 (sb_design_get_outline (get_design ())), before);
  for (guint i = 0; i < G_N_ELEMENTS (artwork); i++) {
    SbPoint now = find_artwork (2 * i);
    ck_assert_double_le (hypot (now.x - artwork[i].x, now.y - artwork[i].y), 0.002);
  }
  sb_job_undo (scene->job);
  ck_assert_ptr_null (get_design ()->hand);
  ck_assert_msg (!sb_job_can_undo (scene->job), "it was one step");
  ck_assert_msg (sb_hand_edit_get_piece (hand) != 0, "undo does not end the editing");
}
END_TEST

/* The pointer goes through the sticker: the outline stays as it last was possible. */
START_TEST (a_drag_never_crosses_the_outline)
{
  pull_tip (-250, TRUE);
  g_autoptr (SbPolygon) polygon =
      sb_outline_flatten (sb_design_get_outline (get_design ()), SB_TRANSFORM_IDENTITY, 5);
  ck_assert_uint_eq (sb_polygon_get_n_loops (polygon), 1);
  ck_assert_double_gt (sb_polygon_get_area_mm2 (polygon), 100);
}
END_TEST

START_TEST (arrow_keys_move_the_point_and_not_the_piece)
{
  SbIPoint at = sb_scene_get_piece (scene, 0)->at;
  double x, y, after_x, after_y;

  find_point (0, &x, &y);
  sb_scene_do (scene, "key ctrl+Right ctrl+Right ctrl+Right");
  find_point (0, &after_x, &after_y);
  double scale =
      sb_pages_view_get_layout (sb_canvas_get_pages_view (scene->canvas))->scale; /* px a mm */
  ck_assert_double_eq_tol (after_x - x, 0.3 * scale, 0.05 * scale);
  ck_assert_double_eq_tol (after_y, y, 0.05 * scale);
  ck_assert_uint_eq (sb_hand_get_n (get_design ()->hand), 1);
  sb_job_undo (scene->job);
  ck_assert_msg (!sb_job_can_undo (scene->job), "a run of keys is one step");
  ck_assert_int_eq (sb_scene_get_piece (scene, 0)->at.x, at.x);
}
END_TEST

START_TEST (points_are_added_and_removed_by_keys)
{
  guint n = count_points ();

  sb_scene_do (scene, "key Insert");
  ck_assert_uint_eq (count_points (), n + 1);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Add Outline Point to leaf 1");
  sb_scene_do (scene, "key Delete");
  ck_assert_uint_eq (count_points (), n);
  sb_scene_do (scene, "key Tab Delete");
  ck_assert_uint_eq (count_points (), n - 1);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Remove Outline Point of leaf 1");
  guint pieces = ((SbPage *)sb_job_get_state (scene->job)->pages->pdata[0])->n_pieces;
  ck_assert_msg (pieces == 4, "no piece is deleted");
}
END_TEST

START_TEST (a_double_click_on_the_outline_adds_a_point)
{
  guint n = count_points ();
  double x, y;

  sb_scene_do (scene, "key z"); /* points are less crowded, and follow */
  sb_scene_settle (scene);
  sb_scene_do (scene, "key Insert"); /* where a point can be */
  find_point (1, &x, &y);
  sb_job_undo (scene->job);
  ck_assert_uint_eq (count_points (), n);
  sb_scene_settle (scene);
  sb_scene_do (scene, "mousemove %d %d click 1 click 1", (int)x, (int)y);
  ck_assert_uint_eq (count_points (), n + 1);
  ck_assert_uint_eq (sb_hand_get_n (get_design ()->hand), 1);
}
END_TEST

START_TEST (a_click_elsewhere_ends_it)
{
  double x, y;

  ck_assert (sb_scene_find_piece (scene, sb_scene_get_piece (scene, 1)->id, &x, &y));
  sb_scene_do (scene, "mousemove %d %d click 1", (int)x, (int)y);
  ck_assert_uint_eq (sb_hand_edit_get_piece (hand), 0);
  ck_assert (sb_selection_contains (scene->selection, sb_scene_get_piece (scene, 1)->id));
}
END_TEST

START_TEST (changes_outlive_another_border_until_they_are_undone)
{
  pull_tip (40, TRUE);
  SbDesign *copy = sb_design_copy (get_design ());
  SbBorderParams border = copy->border;
  border.width_mm += 1;
  sb_design_set_border (copy, &border);
  ck_assert (sb_design_prepare (copy, NULL, NULL));
  sb_job_edit (scene->job, sb_edit_replace_design (sb_job_get_settled_state (scene->job), copy),
               "Border", NULL);
  ck_assert_uint_eq (sb_hand_get_n (get_design ()->hand), 1);
  ck_assert_double_gt (sb_outline_get_area_mm2 (sb_design_get_outline (get_design ())),
                       sb_outline_get_area_mm2 (sb_growth_get_grown (get_design ()->growth)) + 1);
  sb_scene_do (scene, "key Escape");
  sb_scene_do (scene, "key shift+o");
  ck_assert_ptr_null (get_design ()->hand);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Undo Outline of leaf 1");
}
END_TEST

int
main (void)
{
  if (!gtk_init_check ())
    return 77;
  Suite *suite = suite_create ("outlines by hand");
  TCase *tcase = tcase_create ("hand");

  tcase_set_timeout (tcase, 120);
  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_add_test (tcase, a_key_begins_and_escape_ends);
  tcase_add_test (tcase, a_point_is_dragged_and_the_artwork_stays);
  tcase_add_test (tcase, a_drag_never_crosses_the_outline);
  tcase_add_test (tcase, arrow_keys_move_the_point_and_not_the_piece);
  tcase_add_test (tcase, points_are_added_and_removed_by_keys);
  tcase_add_test (tcase, a_double_click_on_the_outline_adds_a_point);
  tcase_add_test (tcase, a_click_elsewhere_ends_it);
  tcase_add_test (tcase, changes_outlive_another_border_until_they_are_undone);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
