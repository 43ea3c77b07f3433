/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "make-scan.h"
#include "picture/cleanup.h"
#include "picture/light.h"

#define SIDE 400
#define PX_PER_MM 10.0

static cairo_surface_t *
new_truth (void)
{
  return cairo_image_surface_create (CAIRO_FORMAT_ARGB32, SIDE, SIDE);
}

static void
fill_circle (cairo_surface_t *surface, double x, double y, double radius, guint32 rgb)
{
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, (rgb >> 16) / 255.0, (rgb >> 8 & 255) / 255.0, (rgb & 255) / 255.0);
  cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
  cairo_fill (cr);
  cairo_destroy (cr);
}

/* Takes `truth`: on cream paper, in even light, without grain. */
static cairo_surface_t *
on_paper (cairo_surface_t *truth, double light)
{
  const SbScanParams params = {.px_per_mm = PX_PER_MM, .paper = {0.96, 0.94, 0.86}, .light = light};
  SbScan scan = sb_scan_new (truth, &params);
  cairo_surface_t *result = cairo_surface_reference (scan.scan);
  sb_scan_clear (&scan);
  return result;
}

static SbStrokes *
strokes_of (const SbStroke *strokes, guint n)
{
  SbStrokes *list = NULL;
  for (guint i = 0; i < n; i++) {
    SbStrokes *longer = sb_strokes_add (list, strokes + i);
    sb_strokes_unref (list);
    list = longer;
  }
  return list;
}

static cairo_surface_t *
clean (const SbCleanup *recipe, const SbStroke *strokes, guint n, cairo_surface_t *scan,
       GArray *specks)
{
  SbCleanup with_strokes = *recipe;
  g_autoptr (SbStrokes) list = strokes_of (strokes, n);
  with_strokes.strokes = list;
  g_autoptr (SbCleanResult) result = sb_scan_clean (&with_strokes, scan, PX_PER_MM);
  if (specks != NULL)
    g_array_append_vals (specks, result->specks->data, result->specks->len);
  return cairo_surface_reference (result->surface);
}

static guint
alpha_at (cairo_surface_t *surface, int x, int y)
{
  return sb_scan_row (surface, y)[x] >> 24;
}

/* The light's fall-off is taken out: one flat colour across the paper. */
START_TEST (test_light)
{
  for (int tenths = 0; tenths <= 5; tenths++) {
    cairo_surface_t *truth = new_truth ();
    fill_circle (truth, 200, 180, 110, 0x305090);
    cairo_surface_t *scan = on_paper (truth, tenths / 10.0);
    g_autoptr (SbLight) light = sb_light_estimate (scan, NULL, TRUE);
    ck_assert (light != NULL);
    cairo_surface_t *even = new_truth ();
    sb_light_divide (light, NULL, scan, even);
    cairo_surface_flush (even);
    for (int i = 5; i < SIDE; i += 13)
      for (int c = 0; c < 3; c++) {
        int shift = 16 - 8 * c;
        int here = (int)(sb_scan_row (even, i)[20] >> shift & 255);
        ck_assert_int_le (abs (here - light->paper[c]), 2);
      }
    ck_assert_int_le (abs (light->paper[0] - 245), 5);
    ck_assert_int_le (abs (light->paper[2] - 219), 5);
    cairo_surface_destroy (scan);
    cairo_surface_destroy (even);
  }
}
END_TEST

/* Two papers on one scan: the picked one counts, though the other has the edge. That is too dark to
 * be taken for paper unless it is picked itself. */
START_TEST (test_picked_paper)
{
  cairo_surface_t *scan = new_truth ();
  cairo_t *cr = cairo_create (scan);
  cairo_set_source_rgb (cr, 0.2, 0.2, 0.25);
  cairo_paint (cr);
  cairo_set_source_rgb (cr, 0.9, 0.9, 0.8);
  cairo_rectangle (cr, 50, 50, 300, 300);
  cairo_fill (cr);
  cairo_destroy (cr);

  const guint8 cream[3] = {230, 230, 205}, dark[3] = {50, 50, 60};
  ck_assert (sb_light_estimate (scan, NULL, TRUE) == NULL);
  g_autoptr (SbLight) edge = sb_light_estimate (scan, dark, TRUE);
  g_autoptr (SbLight) picked = sb_light_estimate (scan, cream, TRUE);
  ck_assert_int_le (abs (edge->paper[0] - 51), 2);
  ck_assert_int_le (abs (picked->paper[0] - 230), 2);
  cairo_surface_destroy (scan);
}
END_TEST

START_TEST (test_specks_are_counted)
{
  const SbCleanup recipe = sb_cleanup_default ();
  cairo_surface_t *truth = new_truth ();
  fill_circle (truth, 200, 200, 100, 0x802030);
  fill_circle (truth, 40, 40, 2, 0x333333);   /* 0.4 mm: dust */
  fill_circle (truth, 350, 60, 2, 0x333333);  /* dust */
  fill_circle (truth, 40, 350, 5, 0x333333);  /* 1 mm: stays */
  fill_circle (truth, 200, 200, 2, 0xffffff); /* inside: not touched */
  cairo_t *cr = cairo_create (truth);
  cairo_move_to (cr, 330, 330);
  cairo_line_to (cr, 370, 350); /* 4.5 mm by 0.1 mm: a hair */
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  cairo_destroy (cr);
  cairo_surface_t *scan = on_paper (truth, 0);

  g_autoptr (GArray) specks = g_array_new (FALSE, FALSE, sizeof (SbSpeck));
  cairo_surface_t *result = clean (&recipe, NULL, 0, scan, specks);
  ck_assert_uint_eq (specks->len, 3);
  int hairs = 0;
  for (guint i = 0; i < 3; i++)
    hairs += g_array_index (specks, SbSpeck, i).kind == SB_SPECK_HAIR;
  ck_assert_int_eq (hairs, 1);
  ck_assert_uint_eq (alpha_at (result, 40, 40), 0);
  ck_assert_uint_eq (alpha_at (result, 350, 340), 0);
  ck_assert_uint_eq (alpha_at (result, 40, 350), 255);
  ck_assert_uint_eq (alpha_at (result, 200, 200), 255);
  cairo_surface_destroy (result);

  /* One put back by a click on it. */
  const float at[2] = {40.0f / SIDE, 40.0f / SIDE};
  const SbStroke click = {SB_STROKE_PUT_BACK, 0.002f, 1, at};
  g_array_set_size (specks, 0);
  result = clean (&recipe, &click, 1, scan, specks);
  ck_assert_uint_eq (specks->len, 3);
  ck_assert_uint_eq (alpha_at (result, 40, 40), 255);
  ck_assert_uint_eq (alpha_at (result, 350, 60), 0);
  ck_assert (g_array_index (specks, SbSpeck, 0).put_back);
  ck_assert (!g_array_index (specks, SbSpeck, 1).put_back);
  cairo_surface_destroy (result);
  cairo_surface_destroy (scan);
}
END_TEST

/* A ring: its inside is paper that stays, unless it is opened by a click or by the recipe; then
 * pinholes stay filled. */
START_TEST (test_enclosed_paper)
{
  SbCleanup recipe = sb_cleanup_default ();
  cairo_surface_t *truth = new_truth ();
  fill_circle (truth, 200, 200, 150, 0x206030);
  cairo_t *cr = cairo_create (truth);
  cairo_set_operator (cr, CAIRO_OPERATOR_CLEAR);
  cairo_arc (cr, 200, 200, 60, 0, 2 * G_PI);
  cairo_fill (cr);
  cairo_arc (cr, 300, 200, 2.5, 0, 2 * G_PI); /* 0.5 mm */
  cairo_fill (cr);
  cairo_destroy (cr);
  cairo_surface_t *scan = on_paper (truth, 0);

  cairo_surface_t *result = clean (&recipe, NULL, 0, scan, NULL);
  ck_assert_uint_eq (alpha_at (result, 200, 200), 255);
  ck_assert_uint_eq (alpha_at (result, 300, 200), 255);
  cairo_surface_destroy (result);

  const float at[2] = {0.5f, 0.5f};
  const SbStroke click = {SB_STROKE_OPEN, 0.002f, 1, at};
  result = clean (&recipe, &click, 1, scan, NULL);
  ck_assert_uint_eq (alpha_at (result, 200, 200), 0);
  ck_assert_uint_eq (alpha_at (result, 200, 250), 0);
  ck_assert_uint_eq (alpha_at (result, 300, 200), 255);
  cairo_surface_destroy (result);

  g_autoptr (GArray) specks = g_array_new (FALSE, FALSE, sizeof (SbSpeck));
  recipe.open_enclosed = TRUE;
  result = clean (&recipe, NULL, 0, scan, specks);
  ck_assert_uint_eq (alpha_at (result, 200, 200), 0);
  ck_assert_uint_eq (alpha_at (result, 300, 200), 255);
  ck_assert_uint_eq (specks->len, 1);
  ck_assert_int_eq (g_array_index (specks, SbSpeck, 0).kind, SB_SPECK_PINHOLE);
  cairo_surface_destroy (result);
  cairo_surface_destroy (scan);
}
END_TEST

/* Strokes hold at every tolerance, and the later one wins. */
START_TEST (test_strokes)
{
  cairo_surface_t *truth = new_truth ();
  fill_circle (truth, 200, 200, 100, 0x206030);
  cairo_surface_t *scan = on_paper (truth, 0.2);
  const float keep[4] = {0.05f, 0.1f, 0.25f, 0.1f}, remove[2] = {0.5f, 0.5f},
              again[2] = {0.1f, 0.1f};
  const SbStroke strokes[3] = {{SB_STROKE_KEEP, 0.02f, 2, keep},
                               {SB_STROKE_REMOVE, 0.1f, 1, remove},
                               {SB_STROKE_REMOVE, 0.02f, 1, again}};

  for (int tolerance = 4; tolerance <= 30; tolerance += 13) {
    SbCleanup recipe = sb_cleanup_default ();
    recipe.tolerance = tolerance;
    cairo_surface_t *result = clean (&recipe, strokes, 3, scan, NULL);
    ck_assert_uint_eq (alpha_at (result, 80, 40), 255);
    ck_assert_uint_eq (alpha_at (result, 40, 40), 0);
    ck_assert_uint_eq (alpha_at (result, 200, 200), 0);
    ck_assert_uint_eq (alpha_at (result, 200, 280), 255);
    ck_assert_uint_eq (alpha_at (result, 20, 200), 0);
    cairo_surface_destroy (result);
  }
  cairo_surface_destroy (scan);
}
END_TEST

/* No cream in the rim: mixed pixels have the artwork's colour. */
START_TEST (test_rim)
{
  const SbCleanup recipe = sb_cleanup_default ();
  cairo_surface_t *truth = new_truth ();
  fill_circle (truth, 200, 200, 100.3, 0x203080);
  cairo_surface_t *scan = on_paper (truth, 0);
  cairo_surface_t *result = clean (&recipe, NULL, 0, scan, NULL);
  int mixed = 0;

  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++) {
      guint32 p = sb_scan_row (result, y)[x], a = p >> 24;
      if (a < 40 || a == 255)
        continue;
      mixed++;
      ck_assert_int_le (abs ((int)((p >> 16 & 255) * 255 / a) - 0x20), 12);
      ck_assert_int_le (abs ((int)((p & 255) * 255 / a) - 0x80), 12);
    }
  ck_assert_int_gt (mixed, 300);
  cairo_surface_destroy (result);
  cairo_surface_destroy (scan);
}
END_TEST

/* Without the paper's removal only light and levels change; the picture that came in never does. */
START_TEST (test_levels_only)
{
  SbCleanup recipe = sb_cleanup_default ();
  cairo_surface_t *truth = new_truth ();
  fill_circle (truth, 200, 200, 100, 0x808080);
  cairo_surface_t *scan = on_paper (truth, 0);
  gsize bytes = (gsize)(SIDE * cairo_image_surface_get_stride (scan));
  g_autofree guint8 *before = g_memdup2 (cairo_image_surface_get_data (scan), bytes);

  recipe.remove_paper = recipe.even_light = FALSE;
  cairo_surface_t *same = clean (&recipe, NULL, 0, scan, NULL);
  ck_assert_mem_eq (cairo_image_surface_get_data (same), before, bytes);

  recipe.adjust.brightness = 40;
  cairo_surface_t *lighter = clean (&recipe, NULL, 0, scan, NULL);
  recipe.adjust = (SbAdjust){.warmth = 50};
  cairo_surface_t *warmer = clean (&recipe, NULL, 0, scan, NULL);
  recipe.adjust = (SbAdjust){.saturation = -100};
  cairo_surface_t *grey = clean (&recipe, NULL, 0, scan, NULL);
  guint32 l = sb_scan_row (lighter, 200)[200], w = sb_scan_row (warmer, 200)[200],
          g = sb_scan_row (grey, 5)[5];
  ck_assert_uint_gt (l & 255, 0x90);
  ck_assert_uint_eq (l >> 24, 255);
  ck_assert_uint_gt (w >> 16 & 255, (w & 255) + 20);
  ck_assert_int_le (abs ((int)(g & 255) - (int)(g >> 16 & 255)), 1);
  ck_assert_mem_eq (cairo_image_surface_get_data (scan), before, bytes);

  cairo_surface_destroy (same);
  cairo_surface_destroy (lighter);
  cairo_surface_destroy (warmer);
  cairo_surface_destroy (grey);
  cairo_surface_destroy (scan);
}
END_TEST

/* Whatever is set, black and white keep without a tint: no dots where paper should be white. */
START_TEST (test_black_and_white_stay)
{
  const SbAdjust all[] = {{.brightness = 100}, {.brightness = -100}, {.contrast = 100},
                          {.contrast = -100},  {.warmth = 100},      {.warmth = -100},
                          {.saturation = 100}, {.saturation = -100}};
  for (gsize i = 0; i < G_N_ELEMENTS (all); i++) {
    g_autoptr (SbColour) change = sb_adjust_new (&all[i]);
    guint8 row[8] = {255, 255, 255, 77, 0, 0, 0, 88};
    sb_colour_apply (change, row, 2);
    for (int c = 0; c < 3; c++) {
      ck_assert_int_ge (row[c], 253);
      ck_assert_int_le (row[4 + c], 3);
    }
    ck_assert_int_eq (row[3], 77);
    ck_assert_int_eq (row[7], 88);
  }
  SbAdjust none = {0};
  ck_assert (sb_adjust_new (&none) == NULL);
}
END_TEST

/* Greys in order stay in order. */
START_TEST (test_levels_are_monotone)
{
  for (int strength = -100; strength <= 100; strength += 50)
    for (int which = 0; which < 2 && strength != 0; which++) {
      SbAdjust adjust = {.brightness = which == 0 ? strength : 0,
                         .contrast = which == 1 ? strength : 0};
      g_autoptr (SbColour) change = sb_adjust_new (&adjust);
      guint8 greys[256][4];
      for (int v = 0; v < 256; v++)
        memset (greys[v], v, 4);
      sb_colour_apply (change, greys, 256);
      for (int v = 1; v < 256; v++)
        ck_assert_int_ge (greys[v][1] + 1, greys[v - 1][1]);
    }
}
END_TEST

static void
note_progress (double done, gpointer data)
{
  double *last = data;
  ck_assert_double_gt (done, *last);
  ck_assert_double_le (done, 1);
  *last = done;
}

START_TEST (test_progress_and_cancel)
{
  const SbCleanup recipe = sb_cleanup_default ();
  cairo_surface_t *scan = on_paper (new_truth (), 0);
  double done = 0;
  g_autoptr (SbCleaner) cleaner = sb_cleaner_new (scan, TRUE);
  g_autoptr (SbCleanResult) result =
      sb_cleaner_run (cleaner, &recipe, SIDE, SIDE, PX_PER_MM, note_progress, &done, NULL, NULL);
  ck_assert (result != NULL);
  ck_assert_double_eq (done, 1);

  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  g_cancellable_cancel (cancellable);
  ck_assert (sb_cleaner_run (cleaner, &recipe, SIDE, SIDE, PX_PER_MM, NULL, NULL, cancellable,
                             &error) == NULL);
  ck_assert (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
  cairo_surface_destroy (scan);
}
END_TEST

/* Tiny, blank and featureless pictures, and extreme settings. */
START_TEST (test_odd_pictures)
{
  static const int sizes[][2] = {{1, 1}, {1, 300}, {300, 1}, {7, 9}, {65, 64}};
  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    for (int way = 0; way < 3; way++) {
      SbCleanup recipe = sb_cleanup_default ();
      recipe.smoothness_mm = way == 2 ? 1 : 0;
      recipe.tolerance = way == 1 ? 60 : 1;
      recipe.open_enclosed = way == 2;
      cairo_surface_t *scan =
          cairo_image_surface_create (CAIRO_FORMAT_ARGB32, sizes[i][0], sizes[i][1]);
      guint64 state = 5;
      for (int y = 0; y < sizes[i][1]; y++)
        for (int x = 0; x < sizes[i][0]; x++)
          sb_scan_row (scan, y)[x] =
              way == 0 ? 0
                       : 0xff000000u | (guint32)(sb_scan_random (&state) * (way == 1 ? 0 : 1e7));
      cairo_surface_mark_dirty (scan);
      cairo_surface_t *result = clean (&recipe, NULL, 0, scan, NULL);
      ck_assert_int_eq (cairo_image_surface_get_width (result), sizes[i][0]);
      cairo_surface_destroy (result);
      cairo_surface_destroy (scan);
    }
}
END_TEST

START_TEST (test_recipes_compare)
{
  SbCleanup one = sb_cleanup_default (), other = sb_cleanup_default ();
  ck_assert (sb_cleanup_equal (&one, &other));
  other.paper[0] = 9; /* not picked: says nothing */
  ck_assert (sb_cleanup_equal (&one, &other));
  other.adjust.warmth = 1;
  ck_assert (!sb_cleanup_equal (&one, &other));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("cleanup");
  TCase *tcase = tcase_create ("cleanup");

  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, test_light);
  tcase_add_test (tcase, test_picked_paper);
  tcase_add_test (tcase, test_specks_are_counted);
  tcase_add_test (tcase, test_enclosed_paper);
  tcase_add_test (tcase, test_strokes);
  tcase_add_test (tcase, test_rim);
  tcase_add_test (tcase, test_levels_only);
  tcase_add_test (tcase, test_black_and_white_stay);
  tcase_add_test (tcase, test_levels_are_monotone);
  tcase_add_test (tcase, test_progress_and_cancel);
  tcase_add_test (tcase, test_odd_pictures);
  tcase_add_test (tcase, test_recipes_compare);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
