/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whether the overlay can be read: its marks against white paper and its words against their
 * plates, measured on real pixels by the contrast ratio of WCAG 2.2 (success criteria 1.4.11: 3:1
 * for graphics, 1.4.3: 4.5:1 for text), in the plain and in the high contrast palette. Paper is
 * white in the light and in the dark style alike. */
#include "config.h"

#include <math.h>

#include "canvas-scene.h"
#include "suite.h"
#include "window/canvas/canvas-private.h"

#define WIDTH 900
#define HEIGHT 800

static SbScene *scene;
static guint32 *shot; /* ARGB, of the pages view */
static int shot_width, shot_height;

/* Relative luminance and contrast as WCAG 2.2 defines them. */
static double
channel (guint value)
{
  double c = value / 255.0;

  return c <= 0.04045 ? c / 12.92 : pow ((c + 0.055) / 1.055, 2.4);
}

static double
luminance (guint32 argb)
{
  return 0.2126 * channel (argb >> 16 & 255) + 0.7152 * channel (argb >> 8 & 255) +
         0.0722 * channel (argb & 255);
}

static double
contrast (guint32 a, guint32 b)
{
  double p = luminance (a), q = luminance (b);

  return (MAX (p, q) + 0.05) / (MIN (p, q) + 0.05);
}

static guint32
to_argb (const GdkRGBA *c)
{
  return 0xff000000u | (guint32)lroundf (c->red * 255) << 16 |
         (guint32)lroundf (c->green * 255) << 8 | (guint32)lroundf (c->blue * 255);
}

static guint32
over_white (const GdkRGBA *c)
{
  GdkRGBA mixed = {1 - c->alpha * (1 - c->red), 1 - c->alpha * (1 - c->green),
                   1 - c->alpha * (1 - c->blue), 1};

  return to_argb (&mixed);
}

static void
take_shot (void)
{
  GtkWidget *pages = GTK_WIDGET (sb_canvas_get_pages_view (scene->canvas));
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (pages);
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  g_autoptr (GskRenderer) renderer = gsk_cairo_renderer_new ();
  g_autoptr (GError) error = NULL;

  shot_width = gtk_widget_get_width (pages);
  shot_height = gtk_widget_get_height (pages);
  gdk_paintable_snapshot (paintable, snapshot, shot_width, shot_height);
  GskRenderNode *node = gtk_snapshot_free_to_node (snapshot);
  ck_assert (gsk_renderer_realize (renderer, NULL, &error));
  g_autoptr (GdkTexture) texture = gsk_renderer_render_texture (
      renderer, node, &GRAPHENE_RECT_INIT (0, 0, (float)shot_width, (float)shot_height));
  g_free (shot);
  shot = g_new (guint32, shot_width * shot_height);
  gdk_texture_download (texture, (guchar *)shot, (gsize)shot_width * 4);
  gsk_render_node_unref (node);
  gsk_renderer_unrealize (renderer);
}

/* How many pixels of exactly this colour lie in a box of the first page, mm. */
static guint
count_colour (guint32 colour, double x0_mm, double y0_mm, double x1_mm, double y1_mm)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (sb_canvas_get_pages_view (scene->canvas));
  SbPoint a = sb_pages_layout_to_view (layout, 0, x0_mm * 1000, y0_mm * 1000);
  SbPoint b = sb_pages_layout_to_view (layout, 0, x1_mm * 1000, y1_mm * 1000);
  guint n = 0;

  for (int y = MAX ((int)a.y, 0); y < MIN ((int)b.y, shot_height); y++)
    for (int x = MAX ((int)a.x, 0); x < MIN ((int)b.x, shot_width); x++)
      n += shot[y * shot_width + x] == colour;
  return n;
}

static void
setup (void)
{
  SbSceneParams params = {
      .designs = 1, .pieces = 1, .picture_px = 200, .size_mm = 60, .spread = 90000};

  scene = sb_scene_new (sb_scene_make_state (&params), WIDTH, HEIGHT);
  g_object_set (scene->canvas, "overlay", SB_OVERLAY_ALL, NULL);
  sb_scene_settle (scene);
  take_shot ();
}

static void
teardown (void)
{
  g_clear_pointer (&scene, sb_scene_free);
  g_clear_pointer (&shot, g_free);
}

static void
set_theme (const char *name)
{
  g_object_set (gtk_settings_get_default (), "gtk-theme-name", name, NULL);
  sb_scene_settle (scene);
  take_shot ();
}

static void
check_palette (gboolean strong)
{
  const SbPalette *palette = sb_palette_get_for (strong);
  const guint32 white = 0xffffffff;
  /* The top strip, clear of label and corners; free paper at the foot; the piece. */
  guint strip = count_colour (to_argb (&palette->strip), 20, 0.5, 190, 5.5);
  guint waste = count_colour (to_argb (&palette->waste), 10, 200, 200, 260);
  guint ring = count_colour (to_argb (&palette->ring_hatch), 20, 15, 90, 90);

  ck_assert_uint_gt (strip, 200);
  ck_assert_uint_gt (waste, 100);
  ck_assert_uint_gt (ring, 20);
  ck_assert_double_ge (contrast (to_argb (&palette->strip), white), 4.5); /* its label too */
  ck_assert_double_ge (contrast (to_argb (&palette->waste), white), 3);
  ck_assert_double_ge (contrast (to_argb (&palette->ring_hatch), white), 3);
  /* The hatch lies on the ring's tint. */
  ck_assert_double_ge (contrast (to_argb (&palette->ring_hatch), over_white (&palette->ring_tint)),
                       3);
  ck_assert_double_ge (contrast (to_argb (&palette->accent), white), 3);
  ck_assert_double_ge (contrast (to_argb (&palette->stop), white), 3);
  ck_assert_double_ge (contrast (to_argb (&palette->caution), white), 3);
  ck_assert_double_ge (contrast (to_argb (&palette->plate_text), to_argb (&palette->spot)), 4.5);
  ck_assert_double_ge (contrast (to_argb (&palette->plate_text), to_argb (&palette->accent)), 4.5);
  ck_assert_double_ge (contrast (to_argb (&palette->plate_text), to_argb (&palette->plate)), 4.5);
}

START_TEST (marks_can_be_seen)
{
  check_palette (FALSE);
}
END_TEST

START_TEST (marks_can_be_seen_in_high_contrast)
{
  set_theme ("Default-hc");
  check_palette (TRUE);
  set_theme ("Default");
}
END_TEST

/* Paper stays white in the dark; the legend and the ground about the page do not. */
START_TEST (marks_can_be_seen_in_the_dark)
{
  g_object_set (gtk_settings_get_default (), "gtk-application-prefer-dark-theme", TRUE, NULL);
  set_theme ("Default");
  check_palette (FALSE);
  set_theme ("Default-hc");
  check_palette (TRUE);
  g_object_set (gtk_settings_get_default (), "gtk-application-prefer-dark-theme", FALSE, NULL);
  set_theme ("Default");
}
END_TEST

/* The three patterns differ in shape: each lies where the others do not, and goes with its switch.
 */
START_TEST (each_part_has_its_switch)
{
  const SbPalette *palette = sb_palette_get_for (FALSE);
  static const SbOverlay parts[] = {SB_OVERLAY_STRIP, SB_OVERLAY_WASTE, SB_OVERLAY_BORDER};

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++) {
    g_object_set (scene->canvas, "overlay", parts[i], NULL);
    sb_scene_settle (scene);
    take_shot ();
    guint strip = count_colour (to_argb (&palette->strip), 20, 0.5, 190, 5.5);
    guint waste = count_colour (to_argb (&palette->waste), 10, 200, 200, 260);
    guint ring = count_colour (to_argb (&palette->ring_hatch), 20, 15, 90, 90);
    ck_assert_int_eq (strip > 0, parts[i] == SB_OVERLAY_STRIP);
    ck_assert_int_eq (waste > 0, parts[i] == SB_OVERLAY_WASTE);
    ck_assert_int_eq (ring > 0, parts[i] == SB_OVERLAY_BORDER);
  }
}
END_TEST

/* No sticker covers waste, and waste lies under none: the piece's white hides the plus signs. */
START_TEST (waste_lies_under_no_sticker)
{
  const SbPalette *palette = sb_palette_get_for (FALSE);
  SbPiece piece = *sb_scene_get_piece (scene, 0);
  double x = sb_um_to_mm (piece.at.x), y = sb_um_to_mm (piece.at.y);

  ck_assert_uint_eq (count_colour (to_argb (&palette->waste), x - 10, y - 10, x + 10, y + 10), 0);
  ck_assert_uint_gt (count_colour (to_argb (&palette->waste), x + 40, y, x + 80, y + 40), 0);
}
END_TEST

/* A fitted page that keeps its scale in a wider view moves to the middle, its strip with it. */
START_TEST (strip_follows_a_wider_view)
{
  guint32 strip = to_argb (&sb_palette_get_for (FALSE)->strip);
  guint before = count_colour (strip, 0.5, 20, 5.5, 250);
  double scale = sb_pages_view_get_layout (sb_canvas_get_pages_view (scene->canvas))->scale;

  gtk_window_set_default_size (GTK_WINDOW (scene->window), WIDTH + 100, HEIGHT);
  sb_scene_run (500);
  sb_scene_settle (scene);
  ck_assert_double_eq (sb_pages_view_get_layout (sb_canvas_get_pages_view (scene->canvas))->scale,
                       scale);
  take_shot ();
  ck_assert_int_gt (shot_width, WIDTH);
  ck_assert_uint_gt (before, 200);
  ck_assert_uint_gt (count_colour (strip, 0.5, 20, 5.5, 250), before / 2);
}
END_TEST

int
main (void)
{
  if (!gtk_init_check ())
    return 77;
  Suite *suite = suite_create ("canvas-overlay");
  TCase *tcase = tcase_create ("overlay");

  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, marks_can_be_seen);
  tcase_add_test (tcase, marks_can_be_seen_in_high_contrast);
  tcase_add_test (tcase, marks_can_be_seen_in_the_dark);
  tcase_add_test (tcase, each_part_has_its_switch);
  tcase_add_test (tcase, waste_lies_under_no_sticker);
  tcase_add_test (tcase, strip_follows_a_wider_view);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
