/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Recipes: strokes, parts of a picture, perspective, and steps that are kept between changes. */
#include "suite.h"

#include "make-scan.h"
#include "picture/clean-preview.h"

#define SIDE 300
#define PX_PER_MM 10.0

static cairo_surface_t *
new_surface (int width, int height)
{
  return cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
}

static void
fill_circle (cairo_surface_t *surface, double x, double y, double radius, double grey)
{
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, grey, grey * 0.6, grey * 0.3);
  cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
  cairo_fill (cr);
  cairo_destroy (cr);
}

/* A disc, a speck, paper in a ring, on cream paper in light that falls off. */
static cairo_surface_t *
make_scan (void)
{
  const SbScanParams params = {
      .px_per_mm = PX_PER_MM, .paper = {0.96, 0.94, 0.86}, .light = 0.2, .grain = 1, .seed = 3};
  cairo_surface_t *truth = new_surface (SIDE, SIDE);
  fill_circle (truth, 150, 150, 80, 0.6);
  fill_circle (truth, 40, 40, 2, 0.3);
  cairo_t *cr = cairo_create (truth);
  cairo_set_operator (cr, CAIRO_OPERATOR_CLEAR);
  cairo_arc (cr, 150, 150, 30, 0, 2 * G_PI);
  cairo_fill (cr);
  cairo_destroy (cr);
  SbScan scan = sb_scan_new (truth, &params);
  cairo_surface_t *result = cairo_surface_reference (scan.scan);
  sb_scan_clear (&scan);
  return result;
}

static gboolean
is_same (cairo_surface_t *a, cairo_surface_t *b)
{
  int width = cairo_image_surface_get_width (a), height = cairo_image_surface_get_height (a);
  if (width != cairo_image_surface_get_width (b) || height != cairo_image_surface_get_height (b))
    return FALSE;
  for (int y = 0; y < height; y++)
    if (memcmp (sb_scan_row (a, y), sb_scan_row (b, y), 4 * (gsize)width) != 0)
      return FALSE;
  return TRUE;
}

START_TEST (test_strokes_are_values)
{
  const float at[4] = {0.1f, 0.2f, 0.3f, 0.4f};
  const SbStroke keep = {SB_STROKE_KEEP, 0.1f, 2, at}, lasso = {SB_STROKE_LASSO, 0, 2, at};
  const float nowhere[2] = {NAN, 0};
  const SbStroke bad = {SB_STROKE_KEEP, 0.1f, 1, nowhere};

  g_autoptr (SbStrokes) one = sb_strokes_add (NULL, &keep);
  g_autoptr (SbStrokes) two = sb_strokes_add (one, &keep);
  g_autoptr (SbStrokes) again = sb_strokes_without (two, 0);
  ck_assert_uint_eq (sb_strokes_get_n (one), 1);
  ck_assert_uint_eq (sb_strokes_get_n (two), 2);
  ck_assert (sb_strokes_equal (one, again) && !sb_strokes_equal (one, two));
  ck_assert (sb_strokes_without (one, 0) == NULL);
  /* A lasso of two points and a place that is none are left out. */
  g_autoptr (SbStrokes) same = sb_strokes_add (one, &lasso);
  ck_assert (sb_strokes_equal (one, same));
  g_autoptr (SbStrokes) still = sb_strokes_add (one, &bad);
  ck_assert (sb_strokes_equal (one, still));
}
END_TEST

/* A crop is the picture's own pixels, whatever else. */
START_TEST (test_a_crop_is_exact)
{
  cairo_surface_t *scan = make_scan ();
  SbQuad crop = sb_quad_crop (SIDE, 17, 30, 217, 131);
  cairo_surface_t *into = new_surface (crop.width, crop.height);
  ck_assert (sb_quad_is_usable (&crop, SIDE, SIDE));
  ck_assert (sb_quad_fill (&crop, scan, into, NULL, NULL));
  for (int y = 0; y < crop.height; y++)
    ck_assert (memcmp (sb_scan_row (into, y), sb_scan_row (scan, y + 30) + 17,
                       4 * (gsize)crop.width) == 0);
  SbQuad inner = sb_quad_inside (&crop, SIDE, 10, 20, 60, 80),
         want = sb_quad_crop (SIDE, 27, 50, 77, 110);
  for (int i = 0; i < 4; i++) {
    ck_assert_double_eq_tol (inner.corners[i].x, want.corners[i].x, 1e-12);
    ck_assert_double_eq_tol (inner.corners[i].y, want.corners[i].y, 1e-12);
  }
  cairo_surface_destroy (scan);
  cairo_surface_destroy (into);
}
END_TEST

START_TEST (test_bad_quads_are_told)
{
  SbQuad quad = sb_quad_crop (SIDE, 0, 0, 100, 100), far = quad, odd = quad, crossed = quad;
  far.corners[2].x = 50;
  odd.corners[1].y = NAN;
  crossed.corners[0] = quad.corners[1];
  crossed.corners[1] = quad.corners[0];
  ck_assert (sb_quad_is_usable (&quad, SIDE, SIDE));
  ck_assert (!sb_quad_is_usable (&far, SIDE, SIDE));
  ck_assert (!sb_quad_is_usable (&odd, SIDE, SIDE));
  ck_assert (!sb_quad_is_usable (&crossed, SIDE, SIDE));
  SbCleanup recipe = sb_cleanup_none ();
  recipe.frame = crossed;
  sb_cleanup_tidy (&recipe, SIDE, SIDE);
  ck_assert (sb_cleanup_is_none (&recipe));
}
END_TEST

/* The corners of an A4 sheet as a pinhole camera sees it: turned by two angles, `focus` px away. */
static void
photograph (double tilt, double swing, double focus, int width, int height, SbPoint corners[4])
{
  const double sheet[4][2] = {{-105, -148.5}, {105, -148.5}, {105, 148.5}, {-105, 148.5}};
  for (int i = 0; i < 4; i++) {
    double x = sheet[i][0] * cos (swing), z = 600 + sheet[i][0] * sin (swing);
    double y = sheet[i][1] * cos (tilt);
    z += sheet[i][1] * sin (tilt);
    corners[i] = (SbPoint){width / 2.0 + focus * x / z, height / 2.0 + focus * y / z};
  }
}

/* Proportions from the corners alone: those of A4 (ISO 216: 210 x 297 mm). */
START_TEST (test_perspective_gives_proportions)
{
  for (int tilt = -30; tilt <= 30; tilt += 20)
    for (int swing = -25; swing <= 25; swing += 10) {
      SbPoint corners[4];
      photograph (tilt * G_PI / 180, swing * G_PI / 180, 3200, 4000, 3000, corners);
      SbQuad quad = sb_quad_straighten (4000, 3000, corners);
      ck_assert (sb_quad_is_usable (&quad, 4000, 3000));
      ck_assert_double_eq_tol ((double)quad.width / quad.height, 210 / 297.0, 0.01);
    }
}
END_TEST

/* A sheet on a dark table is found to a pixel and a half of the photo, though artwork lies on it.
 */
START_TEST (test_a_sheet_is_found)
{
  for (int tilt = -20; tilt <= 20; tilt += 20) {
    SbPoint want[4], got[4];
    photograph (tilt * G_PI / 180, 0.2, 1300, 1200, 900, want);
    cairo_surface_t *photo = new_surface (1200, 900);
    cairo_t *cr = cairo_create (photo);
    cairo_set_source_rgb (cr, 0.45, 0.3, 0.18);
    cairo_paint (cr);
    for (int i = 0; i < 4; i++)
      cairo_line_to (cr, want[i].x, want[i].y);
    cairo_set_source_rgb (cr, 0.9, 0.88, 0.82);
    cairo_fill (cr);
    cairo_destroy (cr);
    fill_circle (photo, 600, 450, 100, 0.4);
    ck_assert (sb_quad_find_sheet (photo, got));
    for (int i = 0; i < 4; i++) {
      ck_assert_double_eq_tol (got[i].x, want[i].x, 1.5);
      ck_assert_double_eq_tol (got[i].y, want[i].y, 1.5);
    }
    cairo_surface_destroy (photo);
  }
  SbPoint none[4];
  cairo_surface_t *plain = new_surface (300, 200);
  ck_assert (!sb_quad_find_sheet (plain, none));
  cairo_surface_destroy (plain);
}
END_TEST

/* To a step of each channel. */
static gboolean
is_near (guint32 a, guint32 b)
{
  for (int shift = 0; shift < 32; shift += 8)
    if (abs ((int)(a >> shift & 255) - (int)(b >> shift & 255)) > 1)
      return FALSE;
  return TRUE;
}

/* Turned by an angle and straightened again, a drawing is the same but for a little softness. */
START_TEST (test_straightening_turns_back)
{
  cairo_surface_t *turned = new_surface (SIDE, SIDE), *into = new_surface (120, 60);
  cairo_t *cr = cairo_create (turned);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_translate (cr, 150, 140);
  cairo_rotate (cr, 20 * G_PI / 180);
  cairo_rectangle (cr, -60, -30, 60, 60);
  cairo_set_source_rgb (cr, 0.8, 0.1, 0.1);
  cairo_fill (cr);
  cairo_rectangle (cr, 0, -30, 60, 60);
  cairo_set_source_rgb (cr, 0.1, 0.1, 0.8);
  cairo_fill (cr);
  cairo_destroy (cr);
  SbQuad quad = sb_quad_turned (SIDE, (SbPoint){150, 140}, 120, 60, 20);
  ck_assert (sb_quad_fill (&quad, turned, into, NULL, NULL));
  for (int y = 2; y < 58; y++) {
    ck_assert (is_near (sb_scan_row (into, y)[20], 0xffcc1919));
    ck_assert (is_near (sb_scan_row (into, y)[100], 0xff1919cc));
  }
  cairo_surface_destroy (turned);
  cairo_surface_destroy (into);
}
END_TEST

/* Whatever is kept of the steps before, a changed recipe gives what it gives from the start. */
START_TEST (test_kept_steps_change_nothing)
{
  cairo_surface_t *scan = make_scan ();
  g_autoptr (SbCleaner) cleaner = sb_cleaner_new (scan, TRUE);
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  const float across[4] = {0.4f, 0.35f, 0.6f, 0.38f};
  SbCleanup recipe = sb_cleanup_default ();

  for (int i = 0; i < 40; i++) {
    const SbStroke stroke = {(SbStrokeKind)g_rand_int_range (rand, 0, 5), 0.02f, 2, across};
    SbStrokes *before = recipe.strokes;
    switch (g_rand_int_range (rand, 0, 9)) {
    case 0:
      recipe.tolerance = g_rand_int_range (rand, 2, 30);
      break;
    case 1:
      recipe.strokes = sb_strokes_add (before, &stroke);
      sb_strokes_unref (before);
      break;
    case 2:
      recipe.strokes = NULL;
      sb_strokes_unref (before);
      break;
    case 3:
      recipe.frame = sb_quad_crop (SIDE, 20, 30, 20 + g_rand_int_range (rand, 100, 200), 270);
      recipe.frame.set = g_rand_boolean (rand);
      break;
    case 4:
      recipe.sheet = sb_quad_crop (SIDE, 0, 0, SIDE, SIDE);
      recipe.sheet.set = g_rand_boolean (rand);
      break;
    case 5:
      recipe.even_light = !recipe.even_light;
      break;
    case 6:
      recipe.remove_paper = !recipe.remove_paper;
      break;
    case 7:
      recipe.whiten = !recipe.whiten;
      break;
    default:
      recipe.smoothness_mm = g_rand_double_range (rand, 0, 0.3);
    }
    int width = recipe.frame.set ? recipe.frame.width : SIDE;
    int height = recipe.frame.set ? recipe.frame.height : SIDE;
    g_autoptr (SbCleaner) fresh = sb_cleaner_new (scan, FALSE);
    g_autoptr (SbCleanResult) kept =
        sb_cleaner_run (cleaner, &recipe, width, height, PX_PER_MM, NULL, NULL, NULL, NULL);
    g_autoptr (SbCleanResult) anew =
        sb_cleaner_run (fresh, &recipe, width, height, PX_PER_MM, NULL, NULL, NULL, NULL);
    ck_assert (is_same (kept->surface, anew->surface));
    ck_assert_uint_eq (kept->specks->len, anew->specks->len);
    ck_assert_uint_eq (kept->n_dust, anew->n_dust);
  }
  sb_strokes_unref (recipe.strokes);
  cairo_surface_destroy (scan);
}
END_TEST

/* A speck of the list is put back by its number, and taken away again. */
START_TEST (test_specks_are_toggled)
{
  cairo_surface_t *scan = make_scan ();
  SbCleanup recipe = sb_cleanup_default ();
  g_autoptr (SbCleanResult) clean = sb_scan_clean (&recipe, scan, PX_PER_MM);
  ck_assert_uint_eq (clean->n_dust, 1);
  ck_assert_uint_eq (sb_scan_row (clean->surface, 40)[40] >> 24, 0);
  ck_assert (clean->has_paper);
  ck_assert_double_gt (clean->covered, 0.15);
  guint counted = 0;
  for (int v = 0; v < 256; v++)
    counted += clean->histogram[0][v];
  ck_assert_double_eq_tol (counted, clean->covered * SIDE * SIDE, 0.02 * counted);

  g_autoptr (SbStrokes) back = sb_clean_result_toggle_speck (clean, 0, NULL);
  recipe.strokes = back;
  g_autoptr (SbCleanResult) with = sb_scan_clean (&recipe, scan, PX_PER_MM);
  ck_assert_uint_eq (with->n_dust, 0);
  ck_assert_uint_eq (with->specks->len, 1);
  ck_assert_uint_ge (sb_scan_row (with->surface, 40)[40] >> 24, 250);
  ck_assert (sb_clean_result_toggle_speck (with, 0, back) == NULL);
  cairo_surface_destroy (scan);
}
END_TEST

/* A hair across a wash of colour goes: its place differs from the wash by less than the eye sees
 * (sides of the stroke told apart by a known gradient). */
START_TEST (test_retouching)
{
  cairo_surface_t *art = new_surface (SIDE, SIDE), *hairy = new_surface (SIDE, SIDE);
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++)
      sb_scan_row (art, y)[x] =
          0xff000000 | (guint32)(100 + x / 3) << 16 | (guint32)(200 - y / 3) << 8 | 90;
  cairo_surface_mark_dirty (art);
  cairo_t *cr = cairo_create (hairy);
  cairo_set_source_surface (cr, art, 0, 0);
  cairo_paint (cr);
  cairo_set_source_rgb (cr, 0.1, 0.1, 0.1);
  cairo_move_to (cr, 60, 70);
  cairo_line_to (cr, 240, 200);
  cairo_set_line_width (cr, 3);
  cairo_stroke (cr);
  cairo_destroy (cr);
  const float points[4] = {60.0f / SIDE, 70.0f / SIDE, 240.0f / SIDE, 200.0f / SIDE};
  const SbStroke stroke = {SB_STROKE_RETOUCH, 5.0f / SIDE, 2, points};
  g_autoptr (SbStrokes) strokes = sb_strokes_add (NULL, &stroke);
  SbCleanup recipe = sb_cleanup_none ();
  recipe.strokes = strokes;
  g_autoptr (SbCleanResult) clean = sb_scan_clean (&recipe, hairy, PX_PER_MM);
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++)
      for (int shift = 0; shift < 32; shift += 8)
        ck_assert_int_le (abs ((int)(sb_scan_row (clean->surface, y)[x] >> shift & 255) -
                               (int)(sb_scan_row (art, y)[x] >> shift & 255)),
                          3);
  cairo_surface_destroy (art);
  cairo_surface_destroy (hairy);
}
END_TEST

/* By hand on a picture whose paper stays: what is removed or outside a lasso is clear. */
START_TEST (test_cutting_by_hand)
{
  cairo_surface_t *scan = make_scan ();
  const float corners[8] = {0.1f, 0.1f, 0.9f, 0.1f, 0.9f, 0.9f, 0.1f, 0.9f}, at[2] = {0.5f, 0.5f};
  const SbStroke lasso = {SB_STROKE_LASSO, 0, 4, corners}, brush = {SB_STROKE_REMOVE, 0.05f, 1, at};
  g_autoptr (SbStrokes) one = sb_strokes_add (NULL, &lasso);
  g_autoptr (SbStrokes) both = sb_strokes_add (one, &brush);
  SbCleanup recipe = sb_cleanup_none ();
  recipe.strokes = both;
  g_autoptr (SbCleanResult) clean = sb_scan_clean (&recipe, scan, PX_PER_MM);
  ck_assert_uint_eq (sb_scan_row (clean->surface, 10)[150], 0);
  ck_assert_uint_eq (sb_scan_row (clean->surface, 150)[150], 0);
  ck_assert_uint_eq (sb_scan_row (clean->surface, 50)[150], sb_scan_row (scan, 50)[150]);
  cairo_surface_destroy (scan);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("recipe");
  TCase *tcase = tcase_create ("recipe");

  tcase_add_test (tcase, test_strokes_are_values);
  tcase_add_test (tcase, test_a_crop_is_exact);
  tcase_add_test (tcase, test_bad_quads_are_told);
  tcase_add_test (tcase, test_perspective_gives_proportions);
  tcase_add_test (tcase, test_a_sheet_is_found);
  tcase_add_test (tcase, test_straightening_turns_back);
  tcase_add_test (tcase, test_kept_steps_change_nothing);
  tcase_add_test (tcase, test_specks_are_toggled);
  tcase_add_test (tcase, test_retouching);
  tcase_add_test (tcase, test_cutting_by_hand);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
