/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Everything that the pointer does to pieces, done by real key events, and what a screen reader is
 * told of it. */
#include "config.h"

#include <string.h>

#include "canvas-scene.h"
#include "suite.h"
#include "window/canvas/canvas-private.h"

static SbScene *scene;

static void
setup (void)
{
  SbSceneParams params = {
      .designs = 3, .pieces = 6, .picture_px = 120, .size_mm = 24, .spread = 50000};

  scene = sb_scene_new (sb_scene_make_state (&params), 1000, 800);
  sb_scene_settle (scene);
  gtk_widget_grab_focus (GTK_WIDGET (scene->canvas));
  sb_scene_run (50);
}

static void
teardown (void)
{
  g_clear_pointer (&scene, sb_scene_free);
}

static guint
selected (void)
{
  guint n;
  const guint *ids = sb_selection_get_pieces (scene->selection, &n);

  return n == 1 ? ids[0] : 0;
}

START_TEST (tab_walks_the_pieces)
{
  guint first, last = 0;

  sb_scene_press (scene, "Tab");
  first = selected ();
  ck_assert_uint_eq (first, sb_scene_get_piece (scene, 0)->id);
  for (guint i = 1; i < 6; i++) {
    sb_scene_press (scene, "Tab");
    last = selected ();
    ck_assert_uint_eq (last, sb_scene_get_piece (scene, i)->id);
    GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (scene->window));
    ck_assert (SB_IS_PIECE_VIEW (focus));
    ck_assert_uint_eq (sb_piece_view_get_piece (SB_PIECE_VIEW (focus))->id, last);
  }
  sb_scene_press (scene, "shift+Tab");
  ck_assert_uint_eq (selected (), sb_scene_get_piece (scene, 4)->id);
}
END_TEST

START_TEST (arrows_move_by_1_10_and_a_tenth_mm)
{
  SbPiece before = *sb_scene_get_piece (scene, 0);

  sb_scene_press (scene, "Tab");
  sb_scene_press (scene, "Right");
  ck_assert_int_eq (sb_scene_find (scene, before.id).at.x, before.at.x + 1000);
  sb_scene_press (scene, "shift+Down");
  ck_assert_int_eq (sb_scene_find (scene, before.id).at.y, before.at.y + 10000);
  sb_scene_press (scene, "ctrl+Left");
  ck_assert_int_eq (sb_scene_find (scene, before.id).at.x, before.at.x + 900);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Move leaf 1");
  /* Keys in quick succession are one step. */
  sb_job_undo (scene->job);
  ck_assert_int_eq (sb_scene_find (scene, before.id).at.x, before.at.x);
  ck_assert_int_eq (sb_scene_find (scene, before.id).at.y, before.at.y);
}
END_TEST

START_TEST (pieces_turn_pin_double_and_go)
{
  guint id = sb_scene_get_piece (scene, 0)->id;

  sb_scene_press (scene, "Tab");
  sb_scene_press (scene, "bracketright");
  ck_assert_int_eq (sb_scene_find (scene, id).turn, 15000);
  sb_scene_press (scene, "ctrl+bracketleft");
  ck_assert_int_eq (sb_scene_find (scene, id).turn, 285000);
  sb_scene_press (scene, "p");
  ck_assert (sb_scene_find (scene, id).pinned);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Pin leaf 1");
  sb_scene_press (scene, "ctrl+d");
  ck_assert_uint_eq (sb_scene_count_pieces (scene), 7);
  ck_assert_uint_ne (selected (), id);
  ck_assert (!sb_scene_find (scene, selected ()).pinned);
  sb_scene_press (scene, "Delete");
  ck_assert_uint_eq (sb_scene_count_pieces (scene), 6);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Delete leaf 1");
}
END_TEST

START_TEST (selections_by_keys)
{
  guint n;

  sb_scene_press (scene, "ctrl+a");
  sb_selection_get_pieces (scene->selection, &n);
  ck_assert_uint_eq (n, 6);
  sb_scene_press (scene, "Escape");
  sb_selection_get_pieces (scene->selection, &n);
  ck_assert_uint_eq (n, 0);
  /* The focus is on the last one. */
  sb_scene_press (scene, "shift+Tab");
  sb_scene_press (scene, "ctrl+shift+a");
  sb_selection_get_pieces (scene->selection, &n);
  ck_assert_uint_eq (n, 2);
}
END_TEST

START_TEST (cut_copies_and_paste_brings_back)
{
  sb_scene_press (scene, "Tab");
  sb_scene_press (scene, "ctrl+c");
  sb_scene_press (scene, "ctrl+v");
  sb_scene_run (100);
  ck_assert_uint_eq (sb_scene_count_pieces (scene), 7);
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Paste 1 piece");
  /* Aside of the original, not over it. */
  SbPiece original = *sb_scene_get_piece (scene, 0), copy = sb_scene_find (scene, selected ());
  ck_assert_int_eq (copy.at.x - original.at.x, 5000);
  sb_scene_press (scene, "ctrl+x");
  ck_assert_uint_eq (sb_scene_count_pieces (scene), 6);
  sb_scene_press (scene, "ctrl+v");
  sb_scene_run (100);
  ck_assert_uint_eq (sb_scene_count_pieces (scene), 7);
}
END_TEST

START_TEST (the_menu_opens_by_key)
{
  GtkWidget *menu = GTK_WIDGET (sb_canvas_get_menu (scene->canvas));

  sb_scene_press (scene, "Tab");
  ck_assert (!gtk_widget_get_mapped (menu));
  sb_scene_press (scene, "shift+F10");
  for (int i = 0; i < 100 && !gtk_widget_get_mapped (menu); i++)
    sb_scene_run (20);
  ck_assert (gtk_widget_get_mapped (menu));
  sb_scene_press (scene, "Escape");
  for (int i = 0; i < 100 && gtk_widget_get_mapped (menu); i++)
    sb_scene_run (20);
  ck_assert (!gtk_widget_get_mapped (menu));
}
END_TEST

START_TEST (pieces_have_names_places_and_states)
{
  guint id = sb_scene_get_piece (scene, 1)->id;
  SbPieceView *view = sb_pages_view_find (sb_canvas_get_pages_view (scene->canvas), id);
  SbPiece piece = sb_scene_find (scene, id);

  ck_assert (gtk_accessible_get_accessible_role (GTK_ACCESSIBLE (view)) == GTK_ACCESSIBLE_ROLE_IMG);
  ck_assert_int_eq (piece.at.x, 81000);
  ck_assert_str_eq (sb_piece_view_get_label (view),
                    "leaf 2, piece 1, 81.0 by 31.0 millimetres from the top left of page 1");
  char *wrong = gtk_test_accessible_check_property (
      GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_LABEL, sb_piece_view_get_label (view));
  ck_assert_msg (wrong == NULL, "%s", wrong);
  sb_selection_set_piece (scene->selection, id);
  wrong =
      gtk_test_accessible_check_state (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_STATE_SELECTED, TRUE);
  ck_assert_msg (wrong == NULL, "%s", wrong);

  gtk_widget_activate_action (GTK_WIDGET (scene->canvas), "pieces.turn", "i", 15000);
  gtk_widget_activate_action (GTK_WIDGET (scene->canvas), "pieces.pin", NULL);
  g_object_set (scene->canvas, "unit", SB_UNIT_INCH, NULL);
  ck_assert_str_eq (sb_piece_view_get_label (view),
                    "leaf 2, piece 1, 3.19 by 1.22 inches from the top left of page 1, turned 15 "
                    "degrees, pinned");
}
END_TEST

int
main (void)
{
  /* What screen readers are told is checked without one. */
  g_setenv ("GTK_A11Y", "test", TRUE);
  if (!gtk_init_check ())
    return 77;
  Suite *suite = suite_create ("canvas-keyboard");
  TCase *tcase = tcase_create ("keyboard");

  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, tab_walks_the_pieces);
  tcase_add_test (tcase, arrows_move_by_1_10_and_a_tenth_mm);
  tcase_add_test (tcase, pieces_turn_pin_double_and_go);
  tcase_add_test (tcase, selections_by_keys);
  tcase_add_test (tcase, cut_copies_and_paste_brings_back);
  tcase_add_test (tcase, the_menu_opens_by_key);
  tcase_add_test (tcase, pieces_have_names_places_and_states);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
