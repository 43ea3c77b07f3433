/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The canvas under real pointer events: what a drag does to the job, to the history and to the
 * selection. */
#include "config.h"

#include <math.h>

#include "canvas-scene.h"
#include "geometry/relation.h"
#include "suite.h"
#include "window/canvas/canvas-private.h"

static SbScene *scene;

static void
setup (void)
{
  scene = sb_scene_new_rows ();
}

static void
teardown (void)
{
  g_clear_pointer (&scene, sb_scene_free);
}

static SbPiece
piece_at (guint index)
{
  return *sb_scene_get_piece (scene, index);
}

static double
um_a_px (void)
{
  SbPagesView *pages = sb_canvas_get_pages_view (scene->canvas);

  return SB_UM_PER_MM / sb_pages_view_get_layout (pages)->scale;
}

static void
drag_piece (SbPiece piece, double dx, double dy, const char *keys, gboolean release)
{
  double x, y;

  ck_assert (sb_scene_find_piece (scene, piece.id, &x, &y));
  sb_scene_drag (scene, x, y, x + dx, y + dy, keys, release);
}

START_TEST (drag_moves_by_what_the_pointer_moved)
{
  SbPiece before = piece_at (0);
  g_autoptr (SbState) settled = sb_state_ref (sb_job_get_settled_state (scene->job));

  drag_piece (before, 60, 140, "alt", TRUE);
  SbPiece after = sb_scene_find (scene, before.id);
  ck_assert_double_eq_tol (after.at.x - before.at.x, 60 * um_a_px (), 2);
  ck_assert_double_eq_tol (after.at.y - before.at.y, 140 * um_a_px (), 2);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Move leaf 1");

  sb_job_undo (scene->job);
  ck_assert_ptr_eq (sb_job_get_state (scene->job), settled);
  ck_assert (!sb_job_can_undo (scene->job));
}
END_TEST

START_TEST (shift_keeps_to_one_axis)
{
  SbPiece before = piece_at (0);

  drag_piece (before, 30, 150, "alt+shift", TRUE);
  SbPiece after = sb_scene_find (scene, before.id);
  ck_assert_int_eq (after.at.x, before.at.x);
  ck_assert_double_eq_tol (after.at.y - before.at.y, 150 * um_a_px (), 2);
}
END_TEST

START_TEST (ctrl_leaves_the_original)
{
  SbPiece before = piece_at (0);

  drag_piece (before, 10, 330, "ctrl", TRUE);
  ck_assert_uint_eq (sb_scene_count_pieces (scene), 7);
  ck_assert_int_eq (sb_scene_find (scene, before.id).at.y, before.at.y);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Duplicate leaf 1");
  guint n;
  const guint *ids = sb_selection_get_pieces (scene->selection, &n);
  ck_assert_uint_eq (n, 1);
  ck_assert_uint_ne (ids[0], before.id);
  sb_job_undo (scene->job);
  ck_assert_uint_eq (sb_scene_count_pieces (scene), 6);
}
END_TEST

START_TEST (escape_gives_a_drag_up)
{
  SbPiece before = piece_at (0);
  g_autoptr (SbState) settled = sb_state_ref (sb_job_get_settled_state (scene->job));

  drag_piece (before, 40, 200, NULL, FALSE);
  ck_assert_ptr_ne (sb_job_get_state (scene->job), settled);
  sb_scene_do (scene, "key Escape");
  sb_scene_run (100);
  ck_assert_ptr_eq (sb_job_get_state (scene->job), settled);
  sb_scene_do (scene, "mouseup 1");
  sb_scene_run (100);
  ck_assert_ptr_eq (sb_job_get_state (scene->job), settled);
  ck_assert (!sb_job_can_undo (scene->job));
}
END_TEST

/* The handle lies straight above the middle of an unturned piece. */
START_TEST (the_turn_handle_snaps_to_15_degrees)
{
  SbPiece before = piece_at (1);
  SbFrame frame;
  double x, y;

  sb_selection_set_piece (scene->selection, before.id);
  sb_scene_run (50);
  SbPagesView *pages = sb_canvas_get_pages_view (scene->canvas);
  ck_assert (sb_marks_get_frame (sb_pages_view_get_marks (pages), &frame));
  gtk_widget_translate_coordinates (GTK_WIDGET (pages), scene->window, frame.turn.x, frame.turn.y,
                                    &x, &y);
  /* To the right of the middle: a quarter turn and a little. */
  double to_x = x + 90, to_y = y + (frame.centre.y - frame.turn.y) + 5;
  sb_scene_drag (scene, x, y, to_x, to_y, NULL, TRUE);
  ck_assert_int_eq (sb_scene_find (scene, before.id).turn, 90000);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Turn leaf 2");
  ck_assert_int_eq (sb_scene_find (scene, before.id).at.x, before.at.x);
  sb_job_undo (scene->job);

  sb_scene_run (100);
  sb_scene_drag (scene, x, y, to_x, to_y, "alt", TRUE);
  ck_assert_int_ne (sb_scene_find (scene, before.id).turn % 15000, 0);
  ck_assert_int_gt (sb_scene_find (scene, before.id).turn, 90000);
  ck_assert_int_lt (sb_scene_find (scene, before.id).turn, 96000);
}
END_TEST

static gboolean
wait_for_design (const SbDesign *before)
{
  for (int i = 0; i < 100; i++) {
    if (sb_state_get_design (sb_job_get_settled_state (scene->job), before->id) != before)
      return TRUE;
    sb_scene_run (50);
  }
  return FALSE;
}

START_TEST (a_corner_resizes_the_artwork_and_not_the_border)
{
  SbPiece piece = piece_at (0);
  SbState *state = sb_job_get_settled_state (scene->job);
  g_autoptr (SbDesign) before = sb_design_ref (sb_state_get_design (state, piece.design_id));
  SbPagesView *pages = sb_canvas_get_pages_view (scene->canvas);
  SbFrame frame;
  double x, y, width_before, height_before, width, height;

  sb_selection_set_piece (scene->selection, piece.id);
  sb_scene_run (50);
  ck_assert (sb_marks_get_frame (sb_pages_view_get_marks (pages), &frame));
  gtk_widget_translate_coordinates (GTK_WIDGET (pages), scene->window, frame.corners[2].x,
                                    frame.corners[2].y, &x, &y);
  double dx = (frame.corners[2].x - frame.centre.x) * 0.25;
  double dy = (frame.corners[2].y - frame.centre.y) * 0.25;
  sb_scene_drag (scene, x, y, x + dx, y + dy, NULL, TRUE);
  ck_assert (wait_for_design (before));

  SbDesign *after = sb_state_get_design (sb_job_get_settled_state (scene->job), piece.design_id);
  sb_design_get_finished_size (before, &width_before, &height_before);
  sb_design_get_finished_size (after, &width, &height);
  /* The finished diagonal grows by the quarter that the corner was pulled, to a pixel. */
  ck_assert_double_eq_tol (hypot (width, height), 1.25 * hypot (width_before, height_before), 0.7);
  ck_assert_double_eq (after->border.width_mm, before->border.width_mm);
  ck_assert_double_eq_tol (after->width_mm / after->height_mm, before->width_mm / before->height_mm,
                           1e-9);
  ck_assert_int_eq (sb_scene_find (scene, piece.id).at.x, piece.at.x);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Resize leaf 1");
}
END_TEST

/* The frame's points in the window. */
static SbFrame
get_frame (void)
{
  SbPagesView *pages = sb_canvas_get_pages_view (scene->canvas);
  SbFrame frame;
  double x, y;

  ck_assert (sb_marks_get_frame (sb_pages_view_get_marks (pages), &frame));
  gtk_widget_translate_coordinates (GTK_WIDGET (pages), scene->window, 0, 0, &x, &y);
  frame.centre = (SbPoint){frame.centre.x + x, frame.centre.y + y};
  frame.turn = (SbPoint){frame.turn.x + x, frame.turn.y + y};
  for (int i = 0; i < 4; i++)
    frame.corners[i] = (SbPoint){frame.corners[i].x + x, frame.corners[i].y + y};
  return frame;
}

static double
get_distance (SbPiece a, SbPiece b)
{
  return hypot ((double)a.at.x - b.at.x, (double)a.at.y - b.at.y);
}

START_TEST (several_pieces_turn_together_in_one_step)
{
  SbPiece a = piece_at (0), b = piece_at (1);

  sb_selection_set_pieces (scene->selection, (const guint[]){a.id, b.id}, 2);
  sb_scene_run (50);
  SbFrame frame = get_frame ();
  /* From above the middle to the right of it: a quarter turn and a little. */
  sb_scene_drag (scene, frame.turn.x, frame.turn.y, frame.centre.x + 150, frame.centre.y + 6, NULL,
                 FALSE);
  ck_assert_int_eq (sb_scene_find (scene, a.id).turn, 90000);
  /* The frame goes along, so the handle stays under the pointer. */
  SbFrame turned = get_frame ();
  ck_assert_double_gt (turned.turn.x, turned.centre.x + 50);
  ck_assert_double_eq_tol (turned.turn.y, turned.centre.y, 1);
  sb_scene_do (scene, "mouseup 1");
  sb_scene_run (100);
  ck_assert_int_eq (sb_scene_find (scene, b.id).turn, 90000);
  /* They lay side by side and lie one above the other, as far apart, about the same middle. */
  ck_assert_int_le (abs (sb_scene_find (scene, a.id).at.x - sb_scene_find (scene, b.id).at.x),
                    abs (a.at.y - b.at.y) + 2);
  ck_assert_double_eq_tol (get_distance (sb_scene_find (scene, a.id), sb_scene_find (scene, b.id)),
                           get_distance (a, b), 2);
  ck_assert_int_lt (sb_scene_find (scene, a.id).at.y, sb_scene_find (scene, b.id).at.y);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Turn 2 pieces");
  sb_job_undo (scene->job);
  ck_assert_int_eq (sb_scene_find (scene, a.id).turn, 0);
  ck_assert_int_eq (sb_scene_find (scene, b.id).at.x, b.at.x);
  ck_assert (!sb_job_can_undo (scene->job));
}
END_TEST

START_TEST (several_pieces_resize_together_in_one_step)
{
  SbPiece a = piece_at (0), b = piece_at (1);
  SbState *state = sb_job_get_settled_state (scene->job);
  g_autoptr (SbDesign) before = sb_design_ref (sb_state_get_design (state, a.design_id));
  g_autoptr (SbDesign) other = sb_design_ref (sb_state_get_design (state, b.design_id));
  double width_before, height_before, width, height;

  ck_assert_uint_ne (a.design_id, b.design_id);
  sb_selection_set_pieces (scene->selection, (const guint[]){a.id, b.id}, 2);
  sb_scene_run (50);
  SbFrame frame = get_frame ();
  SbPoint corner = frame.corners[2];
  sb_scene_drag (scene, corner.x, corner.y, corner.x - (corner.x - frame.centre.x) * 0.2,
                 corner.y - (corner.y - frame.centre.y) * 0.2, NULL, TRUE);
  ck_assert (wait_for_design (before));

  state = sb_job_get_settled_state (scene->job);
  SbDesign *after = sb_state_get_design (state, a.design_id);
  sb_design_get_finished_size (before, &width_before, &height_before);
  sb_design_get_finished_size (after, &width, &height);
  ck_assert_double_eq_tol (hypot (width, height), 0.8 * hypot (width_before, height_before), 0.7);
  ck_assert_double_eq (after->border.width_mm, before->border.width_mm);
  ck_assert_ptr_ne (sb_state_get_design (state, b.design_id), other);
  ck_assert_double_eq_tol (get_distance (sb_scene_find (scene, a.id), sb_scene_find (scene, b.id)),
                           0.8 * get_distance (a, b), 700);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Resize 2 pieces");
  sb_job_undo (scene->job);
  ck_assert_ptr_eq (sb_state_get_design (sb_job_get_state (scene->job), a.design_id), before);
  ck_assert_int_eq (sb_scene_find (scene, b.id).at.x, b.at.x);
  ck_assert (!sb_job_can_undo (scene->job));
}
END_TEST

START_TEST (the_rubber_band_and_clicks_select)
{
  double x0, y0, x1, y1;
  guint n;

  sb_scene_find_piece (scene, piece_at (0).id, &x0, &y0);
  sb_scene_find_piece (scene, piece_at (1).id, &x1, &y1);
  /* From the ground left of the page over the first two of the upper row. */
  sb_scene_drag (scene, x0 - 90, y0 - 75, x1 + 20, y1 + 20, NULL, TRUE);
  sb_selection_get_pieces (scene->selection, &n);
  ck_assert_uint_eq (n, 2);

  sb_scene_do (scene, "mousemove %d %d click 1", (int)x1, (int)y1);
  sb_scene_run (100);
  sb_selection_get_pieces (scene->selection, &n);
  ck_assert_uint_eq (n, 1);
  sb_scene_do (scene, "keydown shift mousemove %d %d click 1 keyup shift", (int)x0, (int)y0);
  sb_scene_run (100);
  sb_selection_get_pieces (scene->selection, &n);
  ck_assert_uint_eq (n, 2);
  sb_scene_do (scene, "mousemove %d %d click 1", (int)x0 - 130, (int)y0);
  sb_scene_run (100);
  sb_selection_get_pieces (scene->selection, &n);
  ck_assert_uint_eq (n, 0);
}
END_TEST

START_TEST (several_pieces_move_together_in_one_step)
{
  SbPiece a = piece_at (0), b = piece_at (1);

  sb_selection_set_pieces (scene->selection, (const guint[]){a.id, b.id}, 2);
  drag_piece (a, 20, 300, "alt", TRUE);
  ck_assert_int_eq (sb_scene_find (scene, a.id).at.x - a.at.x,
                    sb_scene_find (scene, b.id).at.x - b.at.x);
  ck_assert_int_eq (sb_scene_find (scene, a.id).at.y - a.at.y,
                    sb_scene_find (scene, b.id).at.y - b.at.y);
  ck_assert_int_gt (sb_scene_find (scene, b.id).at.y, b.at.y);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Move 2 pieces");
}
END_TEST

START_TEST (a_drag_snaps_to_the_printable_edge)
{
  SbPiece before = piece_at (0);
  SbState *state = sb_job_get_settled_state (scene->job);
  SbIBox area = sb_state_get_printable_box (state);
  SbDesign *design = sb_state_get_design (state, before.design_id);
  g_autoptr (SbPolygon) outline = sb_piece_get_outline (design, &before);
  SbIBox box = sb_polygon_get_box (outline);

  /* To 4 px short of the left edge, with room to all neighbours. */
  double dx = (area.x0 - box.x0) / um_a_px () + 4;
  drag_piece (before, dx, 320, NULL, TRUE);
  SbPiece after = sb_scene_find (scene, before.id);
  g_autoptr (SbPolygon) there = sb_piece_get_outline (design, &after);
  ck_assert_int_eq (sb_polygon_get_box (there).x0, area.x0 + 100);
}
END_TEST

START_TEST (a_drag_snaps_to_exactly_the_gap)
{
  SbPiece mover = piece_at (0), neighbour = piece_at (1);
  SbState *state = sb_job_get_settled_state (scene->job);
  SbDesign *own = sb_state_get_design (state, mover.design_id);
  SbDesign *other = sb_state_get_design (state, neighbour.design_id);
  g_autoptr (SbPolygon) a = sb_piece_get_outline (own, &mover);
  g_autoptr (SbPolygon) b = sb_piece_get_outline (other, &neighbour);

  double away = sb_polygons_distance_um (a, b) - state->gap;
  ck_assert_double_gt (away, 3 * um_a_px ());
  /* Within the reach of the snap, from the free side. */
  drag_piece (mover, away / um_a_px () - 3, 3, NULL, TRUE);
  SbPiece after = sb_scene_find (scene, mover.id);
  g_autoptr (SbPolygon) there = sb_piece_get_outline (own, &after);
  ck_assert (!sb_polygons_closer_than (there, b, state->gap));
  ck_assert_double_eq_tol (sb_polygons_distance_um (there, b), state->gap, 6);
}
END_TEST

START_TEST (a_drag_takes_a_piece_to_the_next_page)
{
  SbPiece before = piece_at (0);
  guint page;
  double x, y;

  sb_job_edit (scene->job, sb_edit_add_page (sb_job_get_state (scene->job), 1), "Add page", NULL);
  g_object_set (scene->canvas, "zoom", 0.35, NULL);
  g_object_set (scene->canvas, "page", 0, NULL);
  sb_scene_settle (scene);
  sb_scene_find_piece (scene, before.id, &x, &y);
  double stride = (279400 + SB_PAGES_SPACE_UM) / um_a_px ();
  sb_scene_drag (scene, x, y, x, y + stride, "alt", TRUE);
  SbPiece after = *sb_state_get_piece (sb_job_get_state (scene->job), before.id, &page);
  ck_assert_uint_eq (page, 1);
  ck_assert_double_eq_tol (after.at.x, before.at.x, 2 * um_a_px ());
  ck_assert_double_eq_tol (after.at.y, before.at.y, 2 * um_a_px ());
}
END_TEST

START_TEST (the_wheel_zooms_to_the_pointer)
{
  SbPiece piece = piece_at (1);
  double x, y, x_after, y_after, zoom, zoom_after;

  g_object_get (scene->canvas, "zoom", &zoom, NULL);
  sb_scene_find_piece (scene, piece.id, &x, &y);
  sb_scene_do (scene, "mousemove %d %d keydown ctrl", (int)x, (int)y);
  /* The server may join clicks that come close together. */
  zoom_after = zoom;
  for (int i = 0; i < 40 && zoom_after < 3 * zoom; i++) {
    sb_scene_do (scene, "click 4");
    g_object_get (scene->canvas, "zoom", &zoom_after, NULL);
  }
  sb_scene_do (scene, "keyup ctrl");
  sb_scene_run (200);
  ck_assert_double_ge (zoom_after, 3 * zoom);
  sb_scene_find_piece (scene, piece.id, &x_after, &y_after);
  ck_assert_double_eq_tol (x_after, x, 6);
  ck_assert_double_eq_tol (y_after, y, 6);

  /* Panning with the space bar, then with the middle button. */
  gtk_widget_grab_focus (GTK_WIDGET (scene->canvas));
  sb_scene_do (scene, "keydown space");
  sb_scene_drag (scene, 600, 400, 550, 350, NULL, TRUE);
  sb_scene_do (scene, "keyup space");
  sb_scene_run (100);
  double x_panned, y_panned;
  sb_scene_find_piece (scene, piece.id, &x_panned, &y_panned);
  ck_assert_double_eq_tol (x_panned, x_after - 50, 2);
  ck_assert_double_eq_tol (y_panned, y_after - 50, 2);
  sb_scene_do (scene, "mousemove 550 350 mousedown 2");
  sb_scene_do (scene, "mousemove 570 380");
  sb_scene_do (scene, "mousemove 580 390");
  sb_scene_do (scene, "mouseup 2");
  sb_scene_run (100);
  sb_scene_find_piece (scene, piece.id, &x_after, &y_after);
  ck_assert_double_eq_tol (x_after, x_panned + 30, 2);
  ck_assert (!sb_job_can_undo (scene->job));
}
END_TEST

START_TEST (a_job_of_hundred_pictures_stays_small)
{
  teardown ();
  SbSceneParams params = {
      .designs = 100, .pieces = 100, .picture_px = 1200, .size_mm = 12, .spread = 22000};
  scene = sb_scene_new (sb_scene_make_state (&params), 1100, 850);
  sb_scene_settle (scene);
  /* Decoded they are 100 x 7.3 MiB. */
  ck_assert_uint_lt (sb_art_store_get_bytes (scene->store), 40 * 1024 * 1024);
  g_object_set (scene->canvas, "zoom", 8.0, NULL);
  sb_scene_settle (scene);
  for (int i = 0; i < 12; i++) {
    sb_pages_view_scroll_by (sb_canvas_get_pages_view (scene->canvas), i < 6 ? 900 : -900, 500);
    sb_scene_settle (scene);
  }
  ck_assert_uint_lt (sb_art_store_get_bytes (scene->store), 180 * 1024 * 1024);
}
END_TEST

int
main (void)
{
  if (!gtk_init_check ())
    return 77;
  Suite *suite = suite_create ("canvas-pointer");
  TCase *tcase = tcase_create ("pointer");

  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, drag_moves_by_what_the_pointer_moved);
  tcase_add_test (tcase, shift_keeps_to_one_axis);
  tcase_add_test (tcase, ctrl_leaves_the_original);
  tcase_add_test (tcase, escape_gives_a_drag_up);
  tcase_add_test (tcase, the_turn_handle_snaps_to_15_degrees);
  tcase_add_test (tcase, a_corner_resizes_the_artwork_and_not_the_border);
  tcase_add_test (tcase, several_pieces_turn_together_in_one_step);
  tcase_add_test (tcase, several_pieces_resize_together_in_one_step);
  tcase_add_test (tcase, the_rubber_band_and_clicks_select);
  tcase_add_test (tcase, several_pieces_move_together_in_one_step);
  tcase_add_test (tcase, a_drag_snaps_to_the_printable_edge);
  tcase_add_test (tcase, a_drag_snaps_to_exactly_the_gap);
  tcase_add_test (tcase, a_drag_takes_a_piece_to_the_next_page);
  tcase_add_test (tcase, the_wheel_zooms_to_the_pointer);
  tcase_add_test (tcase, a_job_of_hundred_pictures_stays_small);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
