/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <glib/gstdio.h>
#include <math.h>
#include <unistd.h>

#include "make-picture.h"
#include "picture/picture.h"

static GBytes *
small_png (void)
{
  SbMakePng make = {.width = 12, .height = 7, .depth = 8, .colour = PNG_COLOR_TYPE_RGBA};
  return sb_make_png (&make);
}

static void
assert_load_fails (const char *path, const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_load (path, &error);
  ck_assert (picture == NULL);
  ck_assert_msg (error != NULL && strstr (error->message, name) != NULL, "%s",
                 error ? error->message : "no error");
}

START_TEST (test_load)
{
  g_autofree char *dir = g_dir_make_tmp ("sb-picture-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (dir, "sorrel.png", NULL);
  g_autofree char *hole = g_build_filename (dir, "sparse.png", NULL);
  g_autoptr (GBytes) png = small_png ();
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, g_bytes_get_data (png, NULL), (gssize)g_bytes_get_size (png), NULL);
  g_autoptr (SbPicture) picture = sb_picture_load (path, &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  ck_assert (g_bytes_equal (sb_picture_get_bytes (picture), png));

  assert_load_fails (dir, "sb-picture-");
  assert_load_fails ("/nowhere/at/all/sorrel.png", "sorrel.png");
  assert_load_fails ("/dev/zero", "zero");
  /* A sparse file past the limit takes no room and is not read. */
  FILE *file = g_fopen (hole, "w");
  ck_assert_int_eq (ftruncate (fileno (file), SB_PICTURE_MOST_BYTES + 1l), 0);
  fclose (file);
  assert_load_fails (hole, "sparse.png");

  g_unlink (path);
  g_unlink (hole);
  g_rmdir (dir);
}
END_TEST

START_TEST (test_identity)
{
  g_autoptr (GBytes) png = small_png ();
  g_autoptr (SbPicture) one = sb_picture_new (png, "sorrel.png", NULL);
  g_autoptr (SbPicture) other = sb_picture_new (png, "dill.png", NULL);
  g_autofree char *sum = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, png);

  ck_assert_str_eq (sb_picture_get_sha256 (one), sum);
  ck_assert_str_eq (sb_picture_get_sha256 (other), sum);
  ck_assert_int_eq (strlen (sum), 64);
}
END_TEST

/* render at the picture's own size is decode. */
START_TEST (test_render)
{
  g_autoptr (GBytes) png = small_png ();
  g_autoptr (SbPicture) picture = sb_picture_new (png, "sorrel.png", NULL);
  cairo_surface_t *whole = sb_picture_decode (picture, NULL, NULL);
  cairo_surface_t *same = sb_picture_render (picture, 12, 7, NULL, NULL);
  cairo_surface_t *small = sb_picture_render (picture, 1, 1, NULL, NULL);
  g_autoptr (GError) error = NULL;

  ck_assert_mem_eq (cairo_image_surface_get_data (whole), cairo_image_surface_get_data (same),
                    (gsize)(7 * cairo_image_surface_get_stride (whole)));
  ck_assert_int_eq (cairo_image_surface_get_width (small), 1);
  ck_assert (sb_picture_render (picture, 0, 7, NULL, &error) == NULL);
  ck_assert (g_error_matches (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_EMPTY));
  g_clear_error (&error);
  ck_assert (sb_picture_render (picture, 40000, 7, NULL, &error) == NULL);
  ck_assert (g_error_matches (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_TOO_LARGE));
  cairo_surface_destroy (whole);
  cairo_surface_destroy (same);
  cairo_surface_destroy (small);
}
END_TEST

static gpointer
decode_in_thread (gpointer data)
{
  for (int i = 0; i < 20; i++) {
    cairo_surface_t *surface = sb_picture_render (data, 50, 50, NULL, NULL);
    ck_assert (surface != NULL);
    cairo_surface_destroy (surface);
  }
  sb_picture_unref (data);
  return NULL;
}

START_TEST (test_threads)
{
  static const char svg[] = "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'>"
                            "<circle r='4' cx='4' cy='4' fill='#394'/></svg>";
  g_autoptr (GBytes) drawing = g_bytes_new_static (svg, sizeof svg - 1);
  g_autoptr (GBytes) png = small_png ();
  GThread *threads[4];

  for (int i = 0; i < 4; i++) {
    SbPicture *picture = sb_picture_new (i % 2 ? png : drawing, "sorrel", NULL);
    ck_assert (picture != NULL);
    threads[i] = g_thread_new ("decode", decode_in_thread, sb_picture_ref (picture));
    sb_picture_unref (picture);
  }
  for (int i = 0; i < 4; i++)
    g_thread_join (threads[i]);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("picture");
  TCase *tcase = tcase_create ("picture");

  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, test_load);
  tcase_add_test (tcase, test_identity);
  tcase_add_test (tcase, test_render);
  tcase_add_test (tcase, test_threads);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
