/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Designs made of parts of a scan: what they share, what is written, and variants for a test
 * print. */
#include "suite.h"

#include <glib/gstdio.h>

#include "job/cleanup-json.h"
#include "job/design-split.h"
#include "job/file.h"
#include "job/variants.h"
#include "make-job.h"
#include "make-scan.h"
#include "picture/clean-preview.h"

#define DPI 300
#define PX_PER_MM (DPI / 25.4)

static cairo_status_t
append (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* Three blots of 20 x 15, 12 x 12 and 30 x 10 mm on cream paper; the last lies turned by 12
 * degrees. */
static SbDesign *
make_scan (void)
{
  static const double blots[3][5] = {
      {180, 180, 20, 15, 0}, {780, 210, 12, 12, 0}, {510, 690, 30, 10, 12}};
  const SbScanParams params = {
      .px_per_mm = PX_PER_MM, .paper = {0.96, 0.94, 0.86}, .light = 0.2, .seed = 4};
  cairo_surface_t *truth = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 1020, 960);
  for (int i = 0; i < 3; i++) {
    cairo_t *cr = cairo_create (truth);
    cairo_translate (cr, blots[i][0], blots[i][1]);
    cairo_rotate (cr, blots[i][4] * G_PI / 180);
    cairo_scale (cr, PX_PER_MM, PX_PER_MM);
    cairo_rectangle (cr, -blots[i][2] / 2, -blots[i][3] / 2, blots[i][2], blots[i][3]);
    cairo_set_source_rgb (cr, 0.5, 0.2, 0.1 + 0.3 * i);
    cairo_fill (cr);
    cairo_destroy (cr);
  }
  SbScan scan = sb_scan_new (truth, &params);
  GByteArray *png = g_byte_array_new ();
  cairo_surface_write_to_png_stream (scan.scan, append, png);
  g_autoptr (GBytes) bytes = g_byte_array_free_to_bytes (png);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "blots.png", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  SbDesign *design = sb_design_new (picture, "blots");
  sb_design_set_size (design, 1020 / PX_PER_MM, 960 / PX_PER_MM);
  sb_scan_clear (&scan);
  return design;
}

static GPtrArray *
split (const SbDesign *scan, gboolean straighten)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbSplit) found = sb_design_find_paintings (scan, NULL, &error);
  ck_assert_msg (found != NULL, "%s", error ? error->message : "");
  GPtrArray *designs = sb_design_split (scan, found, straighten, NULL, &error);
  ck_assert_msg (designs != NULL, "%s", error ? error->message : "");
  return designs;
}

START_TEST (test_parts_have_their_true_size)
{
  static const double sizes[3][2] = {{20, 15}, {12, 12}, {30, 10}};
  g_autoptr (SbDesign) scan = make_scan ();
  g_autoptr (GPtrArray) designs = split (scan, TRUE);
  ck_assert_uint_eq (designs->len, 3);
  for (guint i = 0; i < 3; i++) {
    const SbDesign *design = designs->pdata[i];
    SbBox box = sb_outline_get_box (sb_design_get_artwork (design));
    ck_assert_double_eq_tol (box.x1 - box.x0, sizes[i][0], 0.1);
    ck_assert_double_eq_tol (box.y1 - box.y0, sizes[i][1], 0.1);
    ck_assert_double_eq_tol (sb_design_get_px_per_mm (design), PX_PER_MM, 1e-9);
    ck_assert_str_eq (sb_picture_get_sha256 (design->picture),
                      sb_picture_get_sha256 (scan->picture));
  }
  g_autoptr (GPtrArray) as_they_lie = split (scan, FALSE);
  SbBox box = sb_outline_get_box (sb_design_get_artwork (as_they_lie->pdata[2]));
  ck_assert_double_gt (box.y1 - box.y0, 14);
}
END_TEST

/* What a coarse look counts, for the offer to split. */
START_TEST (test_paintings_are_counted)
{
  g_autoptr (SbDesign) scan = make_scan ();
  ck_assert_uint_eq (sb_design_count_paintings (scan, NULL), 3);
  SbCleanup kept = sb_cleanup_keep_paper ();
  sb_design_set_cleanup (scan, &kept);
  ck_assert_uint_eq (sb_design_count_paintings (scan, NULL), 1);
  g_autoptr (SbDesign) seed = sb_make_design ("bean", 1, 20, 15);
  ck_assert_uint_eq (sb_design_count_paintings (seed, NULL), 1);
}
END_TEST

/* A speck that a preview is too small to show is in the list of full resolution, and put back by
 * it. */
START_TEST (test_small_specks_are_listed)
{
  const SbScanParams params = {
      .px_per_mm = 600 / 25.4, .paper = {0.96, 0.94, 0.86}, .grain = 1, .dust = 60, .seed = 3};
  cairo_surface_t *truth = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 2000, 1500);
  cairo_t *cr = cairo_create (truth);
  cairo_rectangle (cr, 700, 500, 600, 500);
  cairo_fill (cr);
  cairo_destroy (cr);
  SbScan made = sb_scan_new (truth, &params);
  GByteArray *png = g_byte_array_new ();
  cairo_surface_write_to_png_stream (made.scan, append, png);
  g_autoptr (GBytes) bytes = g_byte_array_free_to_bytes (png);
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "dust.png", NULL);
  g_autoptr (SbDesign) design = sb_design_new (picture, "dust");
  sb_design_set_size (design, 2000 / params.px_per_mm, 1500 / params.px_per_mm);
  ck_assert (sb_picture_get_clean_result (design->picture) == NULL);

  cairo_surface_t *small = sb_picture_render (design->picture, 300, 225, NULL, NULL);
  cairo_surface_destroy (small);
  ck_assert (sb_picture_get_clean_result (design->picture) == NULL); /* not of a preview */
  ck_assert (sb_design_prepare (design, NULL, NULL));
  g_autoptr (SbCleanResult) full = sb_picture_get_clean_result (design->picture);
  g_autoptr (SbCleanPreview) preview = sb_clean_preview_new (design->picture, 300, NULL, NULL);
  g_autoptr (SbCleanResult) coarse = sb_clean_preview_run (
      preview, &design->cleanup, sb_design_get_px_per_mm (design), NULL, NULL, NULL, NULL);
  ck_assert (full->surface == NULL);
  ck_assert_int_eq (full->width, 2000);
  ck_assert_uint_ge (full->n_dust, made.dust->len * 8 / 10);
  ck_assert_uint_gt (full->n_dust, coarse->n_dust);

  /* Levels leave the list as it is. */
  g_autoptr (SbDesign) darker = sb_design_copy (design);
  SbCleanup levels = darker->cleanup;
  levels.adjust.brightness = -20;
  sb_design_set_cleanup (darker, &levels);
  g_autoptr (SbCleanResult) same = sb_picture_get_clean_result (darker->picture);
  ck_assert (same != NULL && same->specks == full->specks);

  for (guint i = 0; i < full->specks->len; i += 7) {
    g_autoptr (SbDesign) copy = sb_design_copy (design);
    SbCleanup recipe = copy->cleanup;
    g_autoptr (SbStrokes) back = sb_clean_result_toggle_speck (full, i, NULL);
    recipe.strokes = back;
    sb_design_set_cleanup (copy, &recipe);
    ck_assert (sb_design_prepare (copy, NULL, NULL));
    g_autoptr (SbCleanResult) with = sb_picture_get_clean_result (copy->picture);
    ck_assert_uint_eq (with->n_dust, full->n_dust - 1);
    ck_assert (g_array_index (with->specks, SbSpeck, i).put_back);
  }
  sb_scan_clear (&made);
}
END_TEST

/* In the job the scan's bytes are there once; what comes back is the same. */
START_TEST (test_parts_share_the_scan)
{
  g_autofree char *dir = g_dir_make_tmp ("sb-scan-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (dir, "blots.stickleback", NULL);
  g_autoptr (SbDesign) scan = make_scan ();
  g_autoptr (GPtrArray) designs = split (scan, FALSE);
  SbState *state = sb_make_job (0);
  for (guint i = 0; i < designs->len; i++)
    sb_take (&state, sb_edit_add_design (state, sb_design_ref (designs->pdata[i]), NULL));
  g_autoptr (GError) error = NULL;
  ck_assert_msg (sb_job_file_save (state, path, NULL, &error), "%s", error ? error->message : "");
  GStatBuf info;
  ck_assert_int_eq (g_stat (path, &info), 0);
  gsize size = g_bytes_get_size (sb_picture_get_bytes (scan->picture));
  ck_assert_int_lt (info.st_size, (gint64)size + 20000);

  g_autoptr (SbState) loaded = sb_job_file_load (path, NULL, &error);
  ck_assert_msg (loaded != NULL, "%s", error ? error->message : "");
  ck_assert (sb_state_equal (state, loaded));
  const SbDesign *before = state->designs->pdata[1], *after = loaded->designs->pdata[1];
  ck_assert_str_eq (sb_picture_get_key (before->picture), sb_picture_get_key (after->picture));
  sb_state_unref (state);
  g_unlink (path);
  g_rmdir (dir);
}
END_TEST

static SbCleanup
make_rich_recipe (SbStrokes **strokes)
{
  const float points[6] = {0.1f, 0.2f, 0.7f, 0.3f, 0.31f, 0.9f};
  SbCleanup recipe = sb_cleanup_default ();
  for (int kind = 0; kind < SB_STROKE_N_KINDS; kind++) {
    const SbStroke stroke = {(SbStrokeKind)kind, 0.013f, 3, points};
    SbStrokes *longer = sb_strokes_add (*strokes, &stroke);
    sb_strokes_unref (*strokes);
    *strokes = longer;
  }
  recipe.strokes = *strokes;
  recipe.crisp = recipe.whiten = TRUE;
  recipe.white_point = 3.5;
  recipe.black_point = 12;
  recipe.frame = sb_quad_turned (1020, (SbPoint){510, 480}, 600, 300, 7);
  recipe.sheet = sb_quad_crop (1020, 3, 4, 900, 800);
  return recipe;
}

START_TEST (test_recipes_round_trip)
{
  g_autoptr (SbDesign) scan = make_scan ();
  g_autoptr (SbStrokes) strokes = NULL;
  SbCleanup recipe = make_rich_recipe (&strokes);
  g_autoptr (JsonObject) object = sb_cleanup_json_write (&recipe);
  g_autoptr (JsonNode) node = json_node_init_object (json_node_alloc (), object);
  g_autofree char *text = json_to_string (node, FALSE);
  SbJsonReader reader = {NULL};
  g_autoptr (JsonObject) parsed = sb_json_reader_parse (&reader, text, strlen (text));
  SbCleanup read = sb_cleanup_json_read (&reader, parsed, scan->picture);
  g_autoptr (SbStrokes) read_strokes = read.strokes;
  ck_assert (reader.error == NULL);
  ck_assert (sb_cleanup_equal (&recipe, &read));
  g_autofree char *key = sb_cleanup_get_key (&recipe), *same = sb_cleanup_get_key (&read);
  ck_assert_str_eq (key, same);
}
END_TEST

/* A recipe from before paper could be whitened. */
START_TEST (test_older_recipes)
{
  g_autoptr (SbDesign) scan = make_scan ();
  SbCleanup recipe = sb_cleanup_default ();
  g_autoptr (JsonObject) object = sb_cleanup_json_write (&recipe);
  static const char *const newer[] = {"whiten", "white_point", "black_point"};
  for (gsize i = 0; i < G_N_ELEMENTS (newer); i++)
    json_object_remove_member (object, newer[i]);
  SbJsonReader reader = {NULL};
  SbCleanup read = sb_cleanup_json_read (&reader, object, scan->picture);
  ck_assert (reader.error == NULL);
  ck_assert (sb_cleanup_equal (&recipe, &read));
}
END_TEST

/* Each of these is refused with a reason. */
START_TEST (test_hostile_recipes)
{
  static const char *const bad[] = {
      "'frame':{'corners':[0,0,1,0,1,1],'width_px':9,'height_px':9}",
      "'frame':{'corners':[0,0,1,0,1,1,0,'x'],'width_px':9,'height_px':9}",
      "'frame':{'corners':[0,0,0,1,1,1,1,0],'width_px':9,'height_px':9}",
      "'frame':{'corners':[0,0,1e9,0,1e9,1,0,1],'width_px':9,'height_px':9}",
      "'frame':{'corners':[0,0,1,0,1,0.9,0,0.9],'width_px':30001,'height_px':9}",
      "'sheet':[]",
      "'strokes':[{'kind':'lick','radius':0.1,'points':[0,0]}]",
      "'strokes':[{'kind':'keep','radius':2,'points':[0,0]}]",
      "'strokes':[{'kind':'keep','radius':0.1,'points':[]}]",
      "'strokes':[{'kind':'lasso','radius':0,'points':[0,0,1,1]}]",
      "'strokes':[7]",
      "'strokes':{}",
  };
  g_autoptr (SbDesign) scan = make_scan ();
  SbCleanup plain = sb_cleanup_default ();
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++) {
    g_autofree char *quoted = g_strdup_printf ("{%s}", bad[i]);
    g_strdelimit (quoted, "'", '"');
    SbJsonReader reader = {NULL};
    g_autoptr (JsonObject) extra = sb_json_reader_parse (&reader, quoted, strlen (quoted));
    g_autoptr (JsonObject) object = sb_cleanup_json_write (&plain);
    sb_json_add_leftover (object, extra);
    SbCleanup read = sb_cleanup_json_read (&reader, object, scan->picture);
    ck_assert_msg (reader.error != NULL, "%s", bad[i]);
    sb_strokes_unref (read.strokes);
    g_error_free (reader.error);
  }
}
END_TEST

/* A known length sets the size; levels leave the outline as it is. */
START_TEST (test_sizes_and_levels)
{
  g_autoptr (SbDesign) design = make_scan ();
  ck_assert (sb_design_set_known_length (design, (SbPoint){0, 0}, (SbPoint){102, 0}, 25));
  ck_assert_double_eq_tol (design->width_mm, 250, 1e-9);
  ck_assert (!sb_design_set_known_length (design, (SbPoint){5, 5}, (SbPoint){5, 5}, 25));
  ck_assert (sb_design_prepare (design, NULL, NULL));
  g_autoptr (SbDesign) copy = sb_design_copy (design);
  SbCleanup recipe = copy->cleanup;
  recipe.adjust.contrast = 30;
  sb_design_set_cleanup (copy, &recipe);
  ck_assert_ptr_eq (copy->silhouette, design->silhouette);
  recipe.frame = sb_quad_crop (1020, 20, 20, 530, 500);
  sb_design_set_cleanup (copy, &recipe);
  ck_assert_ptr_null (copy->silhouette);
  ck_assert_double_eq_tol (copy->width_mm, 125, 1e-9);
  /* Another picture has no use for the frame. */
  g_autoptr (SbPicture) other = sb_make_seed (7, 20, 15);
  sb_design_set_picture (copy, other);
  ck_assert (!copy->cleanup.frame.set);
}
END_TEST

static double
mean_lightness (const SbDesign *design)
{
  cairo_surface_t *surface = sb_picture_decode (design->picture, NULL, NULL);
  double sum = 0, n = 0;
  for (int y = 0; y < cairo_image_surface_get_height (surface); y++)
    for (int x = 0; x < cairo_image_surface_get_width (surface); x++) {
      guint32 p = sb_scan_row (surface, y)[x];
      if (p >> 24 == 255) {
        sum += (p >> 16 & 255) + (p >> 8 & 255) + (p & 255);
        n++;
      }
    }
  cairo_surface_destroy (surface);
  return sum / n;
}

/* Four pieces on a page of their own, from dark to light, none over another. */
START_TEST (test_variants)
{
  g_autoptr (SbDesign) scan = make_scan ();
  g_autoptr (GPtrArray) parts = split (scan, FALSE);
  g_autoptr (GError) error = NULL;
  guint id;
  SbState *state = sb_make_job (0);
  sb_take (&state, sb_edit_add_design (state, sb_design_ref (parts->pdata[0]), &id));
  g_autoptr (GPtrArray) variants = sb_design_make_variants (parts->pdata[0], NULL, &error);
  ck_assert_msg (variants != NULL, "%s", error ? error->message : "");
  sb_take (&state, sb_edit_add_variants (state, id, variants));

  ck_assert_uint_eq (state->designs->len, 4);
  ck_assert_uint_eq (state->pages->len, 2);
  const SbPage *page = sb_state_get_page (state, 1);
  ck_assert_uint_eq (page->n_pieces, 4);
  for (guint i = 1; i < 4; i++) {
    const SbDesign *darker = sb_state_get_design (state, page->pieces[i - 1].design_id);
    const SbDesign *lighter = sb_state_get_design (state, page->pieces[i].design_id);
    ck_assert_double_lt (mean_lightness (darker), mean_lightness (lighter));
    ck_assert_int_gt (page->pieces[i].at.x, page->pieces[i - 1].at.x);
  }
  g_autoptr (SbDesign) lines = sb_make_design ("bean", 1, 20, 15);
  ck_assert (sb_design_make_variants (lines, NULL, &error) == NULL);
  sb_state_unref (state);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("scan");
  TCase *tcase = tcase_create ("scan");
  tcase_add_test (tcase, test_parts_have_their_true_size);
  tcase_add_test (tcase, test_paintings_are_counted);
  tcase_add_test (tcase, test_small_specks_are_listed);
  tcase_add_test (tcase, test_parts_share_the_scan);
  tcase_add_test (tcase, test_recipes_round_trip);
  tcase_add_test (tcase, test_older_recipes);
  tcase_add_test (tcase, test_hostile_recipes);
  tcase_add_test (tcase, test_sizes_and_levels);
  tcase_add_test (tcase, test_variants);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
