/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What stands for nodes that stay looks as they do: when they have been drawn into a texture, and
 * when some are others since. With OpenGL. */
#include "config.h"

#include <string.h>

#include "suite.h"
#include "window/canvas/still.h"

#define SIDE 200
#define N 16

static GtkWidget *window;
static const graphene_rect_t paper = {{20, 0}, {SIDE - 20, SIDE}};

static void
add_square (GPtrArray *nodes, guint i, const GdkRGBA *colour)
{
  graphene_rect_t rect = GRAPHENE_RECT_INIT (10 + 9 * (float)i, 5 + 8 * (float)i, 15, 15);

  g_ptr_array_add (nodes, gsk_color_node_new (colour, &rect));
}

/* Paper, and squares over each other, of which the first hangs over its edge. */
static GPtrArray *
make_nodes (void)
{
  GPtrArray *nodes = g_ptr_array_new_with_free_func ((GDestroyNotify)gsk_render_node_unref);

  g_ptr_array_add (nodes, gsk_color_node_new (&(GdkRGBA){1, 1, 1, 1}, &paper));
  for (guint i = 1; i < N; i++)
    add_square (nodes, i, &(GdkRGBA){0.8f, (float)i / N, 0, 0.7f});
  return nodes;
}

/* The same but for `n` nodes from one on, which are blue squares. */
static GPtrArray *
change_nodes (GPtrArray *nodes, guint from, guint n)
{
  GPtrArray *changed = g_ptr_array_new_with_free_func ((GDestroyNotify)gsk_render_node_unref);

  for (guint i = 0; i < N; i++)
    if (i >= from && i < from + n)
      add_square (changed, i, &(GdkRGBA){0, 0, 1, 0.7f});
    else
      g_ptr_array_add (changed, gsk_render_node_ref (nodes->pdata[i]));
  return changed;
}

static void
read_pixels (GskRenderNode *node, guint32 *pixels)
{
  GskRenderer *renderer = gtk_native_get_renderer (GTK_NATIVE (window));
  g_autoptr (GdkTexture) texture =
      gsk_renderer_render_texture (renderer, node, &GRAPHENE_RECT_INIT (0, 0, SIDE, SIDE));

  gdk_texture_download (texture, (guchar *)pixels, SIDE * 4);
}

static GskRenderNode *
append (SbStill *still, GPtrArray *nodes)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();

  cairo_region_t *opaque = cairo_region_create_rectangle (
      &(cairo_rectangle_int_t){(int)paper.origin.x, 0, (int)paper.size.width, SIDE});
  sb_still_append (still, window, snapshot, nodes, opaque);
  cairo_region_destroy (opaque);
  return gtk_snapshot_free_to_node (snapshot);
}

static void
check_alike (GskRenderNode *node, GPtrArray *nodes)
{
  static guint32 a[SIDE * SIDE], b[SIDE * SIDE];
  g_autoptr (GskRenderNode) plain =
      gsk_container_node_new ((GskRenderNode **)nodes->pdata, nodes->len);
  int worst = 0;

  read_pixels (node, a);
  read_pixels (plain, b);
  for (guint i = 0; i < SIDE * SIDE; i++)
    for (guint shift = 0; shift < 32; shift += 8)
      worst = MAX (worst, abs ((int)(a[i] >> shift & 255) - (int)(b[i] >> shift & 255)));
  ck_assert_int_le (worst, 1);
}

static guint
count_nodes (GskRenderNode *node)
{
  return gsk_render_node_get_node_type (node) == GSK_CONTAINER_NODE
             ? gsk_container_node_get_n_children (node)
             : 1;
}

START_TEST (what_stays_becomes_one_texture)
{
  SbStill *still = sb_still_new ();
  g_autoptr (GPtrArray) nodes = make_nodes ();
  g_autoptr (GskRenderNode) first = append (still, nodes), second = append (still, nodes);
  g_autoptr (GskRenderNode) third = append (still, nodes);

  ck_assert_uint_eq (count_nodes (first), N);
  ck_assert_int_eq (gsk_render_node_get_node_type (second), GSK_TEXTURE_NODE);
  ck_assert_ptr_eq (second, third);
  check_alike (second, nodes);
  sb_still_free (still);
}
END_TEST

START_TEST (changes_are_laid_over_it)
{
  SbStill *still = sb_still_new ();
  g_autoptr (GPtrArray) nodes = make_nodes (), changed = change_nodes (nodes, 5, 2);

  for (guint i = 0; i < 2; i++)
    gsk_render_node_unref (append (still, nodes));
  g_autoptr (GskRenderNode) node = append (still, changed), later = append (still, changed);
  ck_assert_uint_eq (count_nodes (node), 3);
  check_alike (node, changed);
  ck_assert_uint_eq (count_nodes (later), 3);
  sb_still_free (still);
}
END_TEST

START_TEST (many_changes_begin_anew)
{
  SbStill *still = sb_still_new ();
  g_autoptr (GPtrArray) nodes = make_nodes (), changed = change_nodes (nodes, 2, N - 2);

  for (guint i = 0; i < 2; i++)
    gsk_render_node_unref (append (still, nodes));
  g_autoptr (GskRenderNode) node = append (still, changed), later = append (still, changed);
  ck_assert_uint_eq (count_nodes (node), N);
  ck_assert_int_eq (gsk_render_node_get_node_type (later), GSK_TEXTURE_NODE);
  check_alike (later, changed);
  sb_still_free (still);
}
END_TEST

/* What was there before would show through. */
START_TEST (a_change_beyond_the_paper_begins_anew)
{
  SbStill *still = sb_still_new ();
  g_autoptr (GPtrArray) nodes = make_nodes (), changed = change_nodes (nodes, 1, 1);

  for (guint i = 0; i < 2; i++)
    gsk_render_node_unref (append (still, nodes));
  g_autoptr (GskRenderNode) node = append (still, changed), later = append (still, changed);
  ck_assert_uint_eq (count_nodes (node), N);
  check_alike (later, changed);
  sb_still_free (still);
}
END_TEST

/* Back and forth for longer than textures are laid over each other. */
START_TEST (patches_do_not_pile_up)
{
  SbStill *still = sb_still_new ();
  g_autoptr (GPtrArray) nodes = make_nodes (), changed = change_nodes (nodes, 5, 3);

  for (guint i = 0; i < 40; i++) {
    GPtrArray *now = i % 2 ? changed : nodes;
    g_autoptr (GskRenderNode) node = append (still, now);
    ck_assert_uint_lt (count_nodes (node), 40);
    check_alike (node, now);
  }
  sb_still_free (still);
}
END_TEST

int
main (void)
{
  if (!gtk_init_check ())
    return 77;
  window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (window), SIDE, SIDE);
  gtk_window_set_decorated (GTK_WINDOW (window), FALSE);
  gtk_window_present (GTK_WINDOW (window));
  while (gtk_widget_get_width (window) < SIDE)
    g_main_context_iteration (NULL, TRUE);

  Suite *suite = suite_create ("still");
  TCase *tcase = tcase_create ("still");
  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, what_stays_becomes_one_texture);
  tcase_add_test (tcase, changes_are_laid_over_it);
  tcase_add_test (tcase, many_changes_begin_anew);
  tcase_add_test (tcase, a_change_beyond_the_paper_begins_anew);
  tcase_add_test (tcase, patches_do_not_pile_up);
  suite_add_tcase (suite, tcase);
  int status = sb_run_suite (suite);
  gtk_window_destroy (GTK_WINDOW (window));
  return status;
}
