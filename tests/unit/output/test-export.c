/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>

#include "job/file.h"
#include "make-sheet.h"
#include "output/export.h"
#include "own-folder.h"
#include "trouble.h"

/* Two designs, turned copies, guides, on two pages. */
static SbState *
make_sheet (void)
{
  SbState *state = sb_make_letter ();
  cairo_surface_t *painting = sb_make_painting (200, 1);
  g_autoptr (GBytes) png = sb_make_png_of (painting);
  cairo_surface_destroy (painting);
  g_autoptr (GBytes) red = sb_make_square (100, 1, 0, 0);
  guint a = sb_make_add (&state, sb_make_design (png, "beet", 40, 40, 3, SB_GUIDE_SCISSORS));
  guint b = sb_make_add (&state, sb_make_design (red, "tomato", 25, 25, 3, SB_GUIDE_TICKS));
  SbState *two = sb_edit_add_page (state, 1);
  sb_state_unref (state);
  for (guint i = 0; i < 6; i++)
    sb_make_place (&two, i % 2, i % 3 ? a : b, 40 + 30 * i, 60 + 20 * i, 40 * i);
  return two;
}

static gboolean
try_export (const SbState *state, const char *name, const SbExportOptions *options, GError **error)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  return sb_export (state, path, options, NULL, error);
}

static char *
read_file (const char *name, gsize *length)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  char *data = NULL;
  ck_assert (g_file_get_contents (path, &data, length, NULL));
  return data;
}

START_TEST (same_state_same_bytes)
{
  static const char *const endings[] = {".pdf", ".png", ".svg"};
  g_autoptr (SbState) state = make_sheet ();
  SbExportOptions options = sb_export_options_default ();
  options.paint.check_bar = TRUE;
  for (guint i = 0; i < 3; i++) {
    g_autofree char *name = g_strconcat ("page", endings[i], NULL);
    gsize first_length, second_length;
    ck_assert (try_export (state, name, &options, NULL));
    g_autofree char *first = read_file (name, &first_length);
    ck_assert (try_export (state, name, &options, NULL));
    g_autofree char *second = read_file (name, &second_length);
    ck_assert_uint_eq (first_length, second_length);
    ck_assert_msg (memcmp (first, second, first_length) == 0, "%s differs", endings[i]);
  }
}
END_TEST

START_TEST (wrong_wishes_are_refused)
{
  g_autoptr (SbState) state = make_sheet ();
  SbExportOptions options = sb_export_options_default ();
  g_autoptr (GError) error = NULL;
  ck_assert (!try_export (state, "page.bmp", &options, &error));
  ck_assert_msg (strstr (error->message, "page.bmp") && strstr (error->message, ".pdf"), "%s",
                 error->message);
  g_clear_error (&error);
  options.page = 2;
  ck_assert (!try_export (state, "page.pdf", &options, &error));
  ck_assert_msg (strstr (error->message, "page 3") != NULL, "%s", error->message);
  g_clear_error (&error);
  options.page = 0;
  options.dpi = 5000;
  ck_assert (!try_export (state, "page.png", &options, &error));
  ck_assert_msg (strstr (error->message, "5000") != NULL, "%s", error->message);
  ck_assert_uint_eq (sb_count_files (folder), 0);
}
END_TEST

/* A disk that takes no more than a few kilobytes: the file of before stays and nothing is left
 * beside it. */
START_TEST (full_disk_keeps_the_old_file)
{
  static const char *const names[] = {"page.pdf", "page.png", "page.svg"};
  g_autoptr (SbState) state = make_sheet ();
  SbExportOptions options = sb_export_options_default ();
  signal (SIGXFSZ, SIG_IGN);
  for (guint i = 0; i < 3; i++) {
    g_autofree char *path = g_build_filename (folder, names[i], NULL);
    ck_assert (g_file_set_contents (path, "old", 3, NULL));
    struct rlimit before, small = {4096, RLIM_INFINITY};
    getrlimit (RLIMIT_FSIZE, &before);
    setrlimit (RLIMIT_FSIZE, &small);
    g_autoptr (GError) error = NULL;
    gboolean written = sb_export (state, path, &options, NULL, &error);
    setrlimit (RLIMIT_FSIZE, &before);
    ck_assert_msg (!written, "%s claims to be written", names[i]);
    ck_assert (g_error_matches (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE));
    ck_assert_msg (strstr (error->message, names[i]) != NULL, "%s", error->message);
    g_autofree char *kept = NULL;
    g_file_get_contents (path, &kept, NULL, NULL);
    ck_assert_str_eq (kept, "old");
    ck_assert_uint_eq (sb_count_files (folder), i + 1);
  }
}
END_TEST

START_TEST (cancelled_leaves_nothing)
{
  static const char *const names[] = {"page.pdf", "page.png", "page.svg"};
  g_autoptr (SbState) state = make_sheet ();
  SbExportOptions options = sb_export_options_default ();
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_cancellable_cancel (cancellable);
  for (guint i = 0; i < 3; i++) {
    g_autofree char *path = g_build_filename (folder, names[i], NULL);
    g_autoptr (GError) error = NULL;
    ck_assert (!sb_export (state, path, &options, cancellable, &error));
    ck_assert (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
  }
  ck_assert_uint_eq (sb_count_files (folder), 0);
}
END_TEST

START_TEST (thumbnail_fits)
{
  g_autoptr (SbState) state = make_sheet ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) png = sb_export_thumbnail (state, 128, &error);
  ck_assert_msg (png != NULL, "%s", error ? error->message : "");
  g_autoptr (SbPicture) picture = sb_picture_new (png, "thumbnail", &error);
  ck_assert_int_eq (sb_picture_get_height (picture), 128);
  ck_assert_int_eq (sb_picture_get_width (picture), 99);
}
END_TEST

/* A PNG in one band or in many is the same: the painter skips only what does not show. */
START_TEST (bands_do_not_show)
{
  g_autoptr (SbState) state = make_sheet ();
  SbExportOptions options = sb_export_options_default ();
  options.dpi = 400; /* 3400 px wide: bands of 1233 rows, 4 of them */
  options.page = 0;
  ck_assert (try_export (state, "page.png", &options, NULL));
  g_autofree char *path = g_build_filename (folder, "page.png", NULL);
  cairo_surface_t *banded = cairo_image_surface_create_from_png (path);
  ck_assert_int_eq (cairo_surface_status (banded), CAIRO_STATUS_SUCCESS);
  int width = cairo_image_surface_get_width (banded);
  int height = cairo_image_surface_get_height (banded);

  cairo_surface_t *whole = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (whole);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, 400 / 72.0, 400 / 72.0);
  g_autoptr (SbPainter) painter = sb_painter_new (state, 400);
  ck_assert (sb_painter_paint (painter, cr, 0, &options.paint, NULL, NULL));
  cairo_destroy (cr);
  cairo_surface_flush (whole);

  int most = 0;
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++) {
      const guint8 *a = cairo_image_surface_get_data (banded) +
                        (gsize)y * (gsize)cairo_image_surface_get_stride (banded) + 4 * (gsize)x;
      const guint8 *b = cairo_image_surface_get_data (whole) +
                        (gsize)y * (gsize)cairo_image_surface_get_stride (whole) + 4 * (gsize)x;
      for (int c = 0; c < 3; c++)
        most = MAX (most, abs (a[c] - b[c]));
    }
  ck_assert_int_le (most, 8); /* pixman places a turned picture by where the band starts */
  cairo_surface_destroy (banded);
  cairo_surface_destroy (whole);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("export");
  TCase *tc = tcase_create ("export");
  tcase_add_checked_fixture (tc, make_own_folder, remove_own_folder);
  tcase_set_timeout (tc, 100);
  tcase_add_test (tc, same_state_same_bytes);
  tcase_add_test (tc, wrong_wishes_are_refused);
  tcase_add_test (tc, full_disk_keeps_the_old_file);
  tcase_add_test (tc, cancelled_leaves_nothing);
  tcase_add_test (tc, thumbnail_fits);
  tcase_add_test (tc, bands_do_not_show);
  suite_add_tcase (suite, tc);
  return sb_run_suite (suite);
}
