/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "geometry/relation.h"
#include "make-sheet.h"
#include "output/check-bar.h"
#include "output/export.h"
#include "output/painter.h"

#define DPI 144

static cairo_surface_t *
paint (const SbState *state, const SbPaintOptions *options)
{
  double scale = DPI / 72.0;
  cairo_surface_t *image = cairo_image_surface_create (
      CAIRO_FORMAT_RGB24, (int)(sb_um_to_pt (state->page_width) * scale),
      (int)(sb_um_to_pt (state->page_height) * scale));
  cairo_t *cr = cairo_create (image);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, scale, scale);
  g_autoptr (SbPainter) painter = sb_painter_new (state, DPI);
  g_autoptr (GError) error = NULL;
  ck_assert_msg (sb_painter_paint (painter, cr, 0, options, NULL, &error), "%s",
                 error ? error->message : "");
  cairo_destroy (cr);
  cairo_surface_flush (image);
  return image;
}

/* The mean darkness of the page, 0 white to 1 black. */
static double
measure_ink (cairo_surface_t *image)
{
  double sum = 0;
  int width = cairo_image_surface_get_width (image);
  int height = cairo_image_surface_get_height (image);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++) {
      const guint8 *p = cairo_image_surface_get_data (image) +
                        (gsize)y * (gsize)cairo_image_surface_get_stride (image) + 4 * (gsize)x;
      sum += 3 * 255 - p[0] - p[1] - p[2];
    }
  return sum / 3 / 255 / width / height;
}

static SbState *
make_black_squares (double degrees)
{
  SbState *state = sb_make_letter ();
  g_autoptr (GBytes) png = sb_make_square (200, 0, 0, 0);
  guint id = sb_make_add (&state, sb_make_design (png, "square", 60, 60, 3, SB_GUIDE_SCISSORS));
  sb_make_place (&state, 0, id, 80, 60, degrees);
  sb_make_place (&state, 0, id, 80, 150, degrees);
  return state;
}

START_TEST (turned_piece_lies_about_its_middle)
{
  g_autoptr (SbState) state = make_black_squares (45);
  SbPaintOptions options = {0};
  cairo_surface_t *image = paint (state, &options);
  SbDarkBox box = sb_measure_dark (image);
  double half = 60 / sqrt (2.0), px = DPI / 25.4;
  ck_assert_double_eq_tol (box.x0, (80 - half) * px, 1.5);
  ck_assert_double_eq_tol (box.x1, (80 + half) * px, 1.5);
  ck_assert_double_eq_tol (box.y0, (60 - half) * px, 1.5);
  ck_assert_double_eq_tol (box.y1, (150 + half) * px, 1.5);
  cairo_surface_destroy (image);
}
END_TEST

START_TEST (plain_test_needs_little_ink)
{
  g_autoptr (SbState) state = make_black_squares (0);
  SbPaintOptions full = {0}, plain = {.mode = SB_PAINT_PLAIN};
  cairo_surface_t *a = paint (state, &full), *b = paint (state, &plain);
  double full_ink = measure_ink (a), plain_ink = measure_ink (b);
  ck_assert_double_gt (full_ink, 0.1);
  ck_assert_double_gt (plain_ink, 0.0005); /* outlines, names and sizes are there */
  ck_assert_double_lt (plain_ink, 0.05 * full_ink);
  cairo_surface_destroy (a);
  cairo_surface_destroy (b);
}
END_TEST

START_TEST (check_bar_keeps_clear)
{
  /* The foot is taken, so the bar goes to the head; then all but a side is. */
  g_autoptr (SbState) state = sb_make_letter ();
  SbIBox room;
  gboolean upright;
  ck_assert (sb_check_bar_find_room (state, 0, &room, &upright));
  ck_assert (!upright);
  ck_assert_int_eq (room.y1, 279400 - 6350);

  g_autoptr (GBytes) png = sb_make_square (10, 0, 0, 0);
  guint wide = sb_make_add (&state, sb_make_design (png, "wide", 180, 20, 3, SB_GUIDE_OFF));
  sb_make_place (&state, 0, wide, 107, 260, 0);
  ck_assert (sb_check_bar_find_room (state, 0, &room, &upright));
  ck_assert (!upright);
  ck_assert_int_eq (room.y0, 6350);

  sb_make_place (&state, 0, wide, 107, 20, 0);
  ck_assert (sb_check_bar_find_room (state, 0, &room, &upright));
  ck_assert (upright);
  for (guint i = 0; i < sb_state_get_page (state, 0)->n_pieces; i++) {
    g_autoptr (SbPolygon) outline = sb_piece_get_outline (sb_state_get_design (state, wide),
                                                          &sb_state_get_page (state, 0)->pieces[i]);
    g_autoptr (SbPolygon) bar = sb_polygon_new_box (room);
    ck_assert (!sb_polygons_closer_than (outline, bar, 500));
  }

  guint huge = sb_make_add (&state, sb_make_design (png, "huge", 190, 180, 3, SB_GUIDE_OFF));
  sb_make_place (&state, 0, huge, 107, 140, 0);
  ck_assert (!sb_check_bar_find_room (state, 0, &room, &upright));
}
END_TEST

START_TEST (check_bar_is_100_mm)
{
  g_autoptr (SbState) state = sb_make_letter ();
  SbPaintOptions options = {.check_bar = TRUE};
  cairo_surface_t *image = paint (state, &options);
  /* The row of the middle line is dark from the zero line to 4 in. */
  SbIBox room;
  gboolean upright;
  sb_check_bar_find_room (state, 0, &room, &upright);
  int y = (int)((sb_um_to_mm (room.y0) + 5) * DPI / 25.4);
  int first = -1, last = -1;
  for (int x = 0; x < cairo_image_surface_get_width (image); x++) {
    for (int dy = -1; dy <= 1; dy++) {
      const guint8 *p = cairo_image_surface_get_data (image) +
                        (gsize)(y + dy) * (gsize)cairo_image_surface_get_stride (image) +
                        4 * (gsize)x;
      if (p[1] < 160) {
        first = first < 0 ? x : first;
        last = x;
      }
    }
  }
  ck_assert_double_eq_tol (last - first, 4 * DPI, 2);
  cairo_surface_destroy (image);
}
END_TEST

/* The margins of a landscape page and the turning of its drawing say the same: a point on the
 * printable edge of the page is on the printable edge of the sheet. */
START_TEST (landscape_margins_follow_the_turn)
{
  SbMargins sheet = {3050, 4200, 12700, 5100};
  SbMargins page = sb_margins_page_from_sheet (sheet, TRUE);
  SbMargins back = sb_margins_sheet_from_page (page, TRUE);
  ck_assert (memcmp (&back, &sheet, sizeof sheet) == 0);
  cairo_matrix_t turn = sb_sheet_from_page (279400, 215900);
  double x0 = sb_um_to_pt (page.left), y0 = sb_um_to_pt (page.top);
  double x1 = sb_um_to_pt (279400 - page.right), y1 = sb_um_to_pt (215900 - page.bottom);
  cairo_matrix_transform_point (&turn, &x0, &y0);
  cairo_matrix_transform_point (&turn, &x1, &y1);
  ck_assert_double_eq_tol (MIN (x0, x1), sb_um_to_pt (sheet.left), 1e-6);
  ck_assert_double_eq_tol (MAX (x0, x1), sb_um_to_pt (215900 - sheet.right), 1e-6);
  ck_assert_double_eq_tol (MIN (y0, y1), sb_um_to_pt (sheet.top), 1e-6);
  ck_assert_double_eq_tol (MAX (y0, y1), sb_um_to_pt (279400 - sheet.bottom), 1e-6);
}
END_TEST

/* The demo's scan lies on cream: none of that is printed, neither in the border nor as a rim. */
START_TEST (paper_of_a_scan_is_not_printed)
{
  g_autofree char *path = g_build_filename (g_getenv ("SB_TEST_SOURCE_DIR"), "data", "demo", "art",
                                            "marigold.jpg", NULL);
  g_autofree char *data = NULL;
  gsize length;
  ck_assert (g_file_get_contents (path, &data, &length, NULL));
  g_autoptr (GBytes) jpeg = g_bytes_new (data, length);
  g_autoptr (SbState) state = sb_make_letter ();
  SbDesign *design = sb_make_design (jpeg, "marigold", 46, 46, 2.5, SB_GUIDE_OFF);
  SbOutline *artwork = sb_design_get_artwork (design);
  ck_assert (sb_picture_is_cleaned (design->picture));
  SbBox box = sb_outline_get_box (artwork);
  ck_assert_double_lt (box.x1 - box.x0, 45.5);
  guint id = sb_make_add (&state, design);
  sb_make_place (&state, 0, id, 100, 100, 0);
  cairo_surface_t *image = paint (state, &(SbPaintOptions){0});

  /* Ink that is no stronger than the paper's tone: whole areas of it in a scan, only blades of
   * the soft edge in a cleaned one. */
  int pale = 0, strong = 0;
  for (int y = 0; y < cairo_image_surface_get_height (image); y++)
    for (int x = 0; x < cairo_image_surface_get_width (image); x++) {
      const guint8 *p = cairo_image_surface_get_data (image) +
                        (gsize)y * (gsize)cairo_image_surface_get_stride (image) + 4 * (gsize)x;
      int ink = 255 - MIN (MIN (p[0], p[1]), p[2]);
      pale += ink > 0 && ink < 60;
      strong += ink >= 60;
    }
  ck_assert_int_gt (strong, 10000);
  ck_assert_msg (pale * 20 < strong, "%d pale pixels, %d others", pale, strong);
  cairo_surface_destroy (image);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("painter");
  TCase *tc = tcase_create ("painter");
  tcase_add_test (tc, turned_piece_lies_about_its_middle);
  tcase_add_test (tc, plain_test_needs_little_ink);
  tcase_add_test (tc, check_bar_keeps_clear);
  tcase_add_test (tc, check_bar_is_100_mm);
  tcase_add_test (tc, landscape_margins_follow_the_turn);
  tcase_set_timeout (tc, 60);
  tcase_add_test (tc, paper_of_a_scan_is_not_printed);
  suite_add_tcase (suite, tc);
  return sb_run_suite (suite);
}
