/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Putting pieces in order on the canvas, with real keys and a real pointer: the menu's alignments,
 * gaps and pages, snapping to equal gaps with the distance told, and being free of it. */
#include "config.h"

#include <math.h>

#include "canvas-scene.h"
#include "suite.h"
#include "window/canvas/canvas-private.h"
#include "window/canvas/snap.h"

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

static guint
id_of (guint index)
{
  return sb_scene_get_piece (scene, index)->id;
}

static SbIBox
box_of (guint id)
{
  SbState *state = sb_job_get_state (scene->job);
  const SbPiece *piece = sb_state_get_piece (state, id, NULL);
  g_autoptr (SbPolygon) outline =
      sb_piece_get_outline (sb_state_get_design (state, piece->design_id), piece);

  return sb_polygon_get_box (outline);
}

static guint
page_of (guint id)
{
  guint page;

  ck_assert_ptr_nonnull (sb_state_get_piece (sb_job_get_state (scene->job), id, &page));
  return page;
}

static GtkWidget *
find_stack (GtkWidget *widget)
{
  GtkWidget *found = GTK_IS_STACK (widget) ? widget : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child && !found;
       child = gtk_widget_get_next_sibling (child))
    found = find_stack (child);
  return found;
}

/* Until the menu is there and shows its first part, or another one. */
static void
wait_for_menu (gboolean main)
{
  GtkWidget *menu = GTK_WIDGET (sb_canvas_get_menu (scene->canvas));

  for (int i = 0; i < 250; i++) {
    GtkStack *stack = gtk_widget_get_mapped (menu) ? GTK_STACK (find_stack (menu)) : NULL;
    if (stack && !gtk_stack_get_transition_running (stack) &&
        g_str_equal (gtk_stack_get_visible_child_name (stack), "main") == main)
      return;
    sb_scene_run (20);
  }
  ck_abort_msg ("no menu");
}

/* Selects pieces and goes through their menu by the letters of its entries. */
static void
choose (const guint *ids, guint n, const char *submenu, const char *entry)
{
  SbState *before = sb_job_get_settled_state (scene->job);

  sb_selection_set_pieces (scene->selection, ids, n);
  gtk_widget_grab_focus (GTK_WIDGET (scene->canvas));
  sb_scene_do (scene, "key shift+F10");
  wait_for_menu (TRUE);
  sb_scene_do (scene, "key %s", submenu);
  wait_for_menu (FALSE);
  sb_scene_do (scene, "key %s", entry);
  for (int i = 0; i < 100 && sb_job_get_settled_state (scene->job) == before; i++)
    sb_scene_run (20);
  sb_scene_run (60);
}

static void
drag_to_offset (guint id, double dx, double dy, const char *keys)
{
  double x, y;

  ck_assert (sb_scene_find_piece (scene, id, &x, &y));
  sb_scene_drag (scene, x, y, x + dx, y + dy, keys, TRUE);
}

static double
px_a_um (void)
{
  return sb_pages_view_get_layout (sb_canvas_get_pages_view (scene->canvas))->scale / SB_UM_PER_MM;
}

START_TEST (the_menu_aligns)
{
  guint ids[] = {id_of (0), id_of (1), id_of (4)};

  choose (ids, 3, "a", "l");
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Align 3 pieces");
  ck_assert_int_eq (box_of (ids[1]).x0, box_of (ids[0]).x0);
  ck_assert_int_eq (box_of (ids[2]).x0, box_of (ids[0]).x0);
  sb_job_undo (scene->job);
  choose (ids, 3, "a", "b");
  ck_assert_int_eq (box_of (ids[0]).y1, box_of (ids[2]).y1);
  ck_assert_int_eq (box_of (ids[1]).y1, box_of (ids[2]).y1);
}
END_TEST

START_TEST (the_menu_makes_equal_gaps)
{
  guint ids[] = {id_of (0), id_of (1), id_of (2)};

  drag_to_offset (ids[1], 20, 0, "alt");
  SbIBox a = box_of (ids[0]), b = box_of (ids[1]), c = box_of (ids[2]);
  ck_assert_int_gt (b.x0 - a.x1, c.x0 - b.x1 + 5000);
  choose (ids, 3, "a", "g");
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Space out 3 pieces");
  b = box_of (ids[1]);
  ck_assert_int_le (abs ((b.x0 - a.x1) - (c.x0 - b.x1)), 1);
  ck_assert_int_eq (box_of (ids[0]).x0, a.x0);
  ck_assert_int_eq (box_of (ids[2]).x1, c.x1);
}
END_TEST

START_TEST (the_menu_centres_on_the_page)
{
  guint ids[] = {id_of (0), id_of (1)};
  SbIBox area = sb_state_get_printable_box (sb_job_get_state (scene->job));

  choose (ids, 2, "a", "o");
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Centre 2 pieces");
  SbIBox a = box_of (ids[0]), b = box_of (ids[1]);
  ck_assert_int_le (abs (a.x0 + b.x1 - area.x0 - area.x1), 2);
  ck_assert_int_le (abs (MIN (a.y0, b.y0) + MAX (a.y1, b.y1) - area.y0 - area.y1), 2);
}
END_TEST

START_TEST (the_menu_takes_pieces_to_another_page)
{
  guint ids[] = {id_of (0), id_of (1)};

  choose (ids, 2, "g", "n");
  ck_assert_str_eq (sb_job_get_undo_name (scene->job), "Move 2 pieces to another page");
  ck_assert_uint_eq (sb_job_get_state (scene->job)->pages->len, 2);
  ck_assert_uint_eq (page_of (ids[0]), 1);
  ck_assert_uint_eq (page_of (ids[1]), 1);
  sb_job_undo (scene->job);
  ck_assert_uint_eq (sb_job_get_state (scene->job)->pages->len, 1);
}
END_TEST

/* The third of a row, pulled to within 5 px of the gap that the first two have. */
START_TEST (a_drag_snaps_to_an_equal_gap)
{
  guint a = id_of (0), b = id_of (1), c = id_of (2), d = id_of (3);
  double x;

  g_assert_nonnull (sb_state_get_piece (sb_job_get_state (scene->job), d, NULL));
  drag_to_offset (d, 0, 250, "alt"); /* out of the row */
  sb_scene_run (50);
  double wanted = box_of (b).x1 + (box_of (b).x0 - box_of (a).x1);
  x = (wanted - box_of (c).x0) * px_a_um ();
  drag_to_offset (c, x + 5, 12, NULL);
  ck_assert_int_le (abs ((box_of (c).x0 - box_of (b).x1) - (box_of (b).x0 - box_of (a).x1)), 1);
  sb_job_undo (scene->job);
  /* And with Alt lies where the pointer has it. */
  drag_to_offset (c, x + 5, 12, "alt");
  ck_assert_int_gt (abs ((box_of (c).x0 - box_of (b).x1) - (box_of (b).x0 - box_of (a).x1)), 300);
}
END_TEST

/* What the guides tell: both gaps, each as long as it is. */
START_TEST (guides_tell_the_equal_gaps)
{
  SbState *state = sb_job_get_state (scene->job);
  const SbPiece *piece = sb_scene_get_piece (scene, 1);
  SbIBox a = box_of (id_of (0)), b = box_of (id_of (1)), c = box_of (id_of (2));
  g_autoptr (GHashTable) moving = g_hash_table_new (NULL, NULL);
  g_autoptr (GArray) guides = g_array_new (FALSE, FALSE, sizeof (SbSnapGuide));
  g_autoptr (SbSnapCache) cache = sb_snap_cache_new ();
  g_autoptr (SbPolygon) outline =
      sb_piece_get_outline (sb_state_get_design (state, piece->design_id), piece);
  sb_um middle = ((c.x0 + a.x1) - (b.x0 + b.x1)) / 2;
  g_autoptr (SbPolygon) shape = sb_polygon_move (outline, middle + 700, 0);
  SbSnapQuery query = {
      .state = state, .moving = moving, .shape = shape, .whole = TRUE, .reach_um = 1500};

  g_hash_table_add (moving, GUINT_TO_POINTER (piece->id));
  SbIPoint by = sb_snap_find (&query, cache, guides);
  ck_assert_int_le (abs (by.x + 700), 1);
  double gap = (c.x0 - a.x1 - (b.x1 - b.x0)) / 2.0;
  guint n = 0;
  for (guint i = 0; i < guides->len; i++) {
    const SbSnapGuide *guide = &g_array_index (guides, SbSnapGuide, i);
    if (guide->length_um < 0)
      continue;
    ck_assert_double_eq_tol (guide->length_um, gap, 2);
    ck_assert_double_eq_tol (fabs (guide->b.x - guide->a.x), guide->length_um, 2);
    n++;
  }
  ck_assert_uint_eq (n, 2);
}
END_TEST

START_TEST (z_brings_the_selection_into_view)
{
  SbPagesView *pages = sb_canvas_get_pages_view (scene->canvas);
  const SbPagesLayout *layout = sb_pages_view_get_layout (pages);
  double scale = layout->scale;
  guint id = id_of (4);
  graphene_rect_t box;

  sb_selection_set_piece (scene->selection, id);
  gtk_widget_grab_focus (GTK_WIDGET (scene->canvas));
  sb_scene_do (scene, "key z");
  sb_scene_settle (scene);
  ck_assert_double_gt (layout->scale, 3 * scale);
  ck_assert (sb_marks_get_selection_box (sb_pages_view_get_marks (pages), &box));
  ck_assert_float_ge (box.origin.x, 0);
  ck_assert_float_ge (box.origin.y, 0);
  ck_assert_float_le (box.origin.x + box.size.width, (float)layout->view_width);
  ck_assert_float_le (box.origin.y + box.size.height, (float)layout->view_height);
  ck_assert (!sb_job_can_undo (scene->job));
}
END_TEST

int
main (void)
{
  if (!gtk_init_check ())
    return 77;
  Suite *suite = suite_create ("canvas-arrange");
  TCase *tcase = tcase_create ("arrange");

  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, the_menu_aligns);
  tcase_add_test (tcase, the_menu_makes_equal_gaps);
  tcase_add_test (tcase, the_menu_centres_on_the_page);
  tcase_add_test (tcase, the_menu_takes_pieces_to_another_page);
  tcase_add_test (tcase, a_drag_snaps_to_an_equal_gap);
  tcase_add_test (tcase, guides_tell_the_equal_gaps);
  tcase_add_test (tcase, z_brings_the_selection_into_view);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
