/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <glib/gstdio.h>
#include <string.h>

#include "make-picture.h"
#include "picture/picture.h"
#include "pixel.h"

#define SVG "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' "

static SbPicture *
open_svg (const char *text, GError **error)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  return sb_picture_new (bytes, "chard.svg", error);
}

static guint32
rendered_pixel (const char *text, int width, int height, int x, int y)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = open_svg (text, &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  cairo_surface_t *surface = sb_picture_render (picture, width, height, NULL, &error);
  ck_assert_msg (surface != NULL, "%s", error ? error->message : "");
  guint32 p = pixel_at (surface, x, y);
  cairo_surface_destroy (surface);
  return p;
}

START_TEST (test_drawn_at_any_size)
{
  const char *half = SVG "width='10mm' height='20mm' viewBox='0 0 2 4'>"
                         "<rect width='1' height='4' fill='#f00'/></svg>";
  ck_assert_uint_eq (rendered_pixel (half, 100, 200, 49, 199), 0xffff0000);
  ck_assert_uint_eq (rendered_pixel (half, 100, 200, 50, 0), 0);
  /* Another aspect stretches, as it does a bitmap. */
  ck_assert_uint_eq (rendered_pixel (half, 200, 100, 99, 99), 0xffff0000);
  ck_assert_uint_eq (rendered_pixel (half, 200, 100, 101, 0), 0);
}
END_TEST

START_TEST (test_without_any_size)
{
  const char *text = SVG "><rect x='-40' y='500' width='30' height='10' fill='#00f'/></svg>";
  g_autoptr (SbPicture) picture = open_svg (text, NULL);
  double w, h;

  ck_assert (picture != NULL);
  ck_assert (!sb_picture_get_size_mm (picture, &w, &h));
  ck_assert_int_eq (sb_picture_get_width (picture), 1024);
  ck_assert_int_eq (sb_picture_get_height (picture), 341);
  ck_assert_uint_eq (rendered_pixel (text, 30, 10, 0, 0), 0xff0000ff);
  ck_assert_uint_eq (rendered_pixel (text, 30, 10, 29, 9), 0xff0000ff);
}
END_TEST

static void
assert_refused (const char *text, SbPictureError code)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = open_svg (text, &error);
  ck_assert (picture == NULL);
  ck_assert_msg (g_error_matches (error, SB_PICTURE_ERROR, (int)code), "%s", error->message);
  ck_assert_msg (strstr (error->message, "chard.svg") != NULL, "%s", error->message);
}

START_TEST (test_refused)
{
  assert_refused ("<!DOCTYPE html><html><body>seeds</body></html>", SB_PICTURE_ERROR_UNKNOWN);
  assert_refused (SVG "width='100'><rect></svg>", SB_PICTURE_ERROR_CORRUPT);
  assert_refused (SVG "/>", SB_PICTURE_ERROR_EMPTY);
  assert_refused (SVG "width='0' height='10'/>", SB_PICTURE_ERROR_EMPTY);
  assert_refused (SVG "width='1000in' height='10'/>", SB_PICTURE_ERROR_TOO_LARGE);
}
END_TEST

START_TEST (test_cut_short)
{
  GString *text = g_string_new (SVG "width='10mm' height='10mm'>");
  for (int i = 0; i < 40; i++)
    g_string_append_printf (text, "<path d='M%d 0 L 10 %d' stroke='black'/>\n", i, i);
  g_string_append (text, "</svg>");

  for (gsize n = text->len - 1; n > 97; n -= 97) {
    g_string_truncate (text, n);
    assert_refused (text->str, SB_PICTURE_ERROR_CORRUPT);
  }
  g_string_free (text, TRUE);
}
END_TEST

/* Ten levels of ten: 10^10 characters if it were let. */
START_TEST (test_entities_do_not_explode)
{
  GString *text = g_string_new ("<?xml version='1.0'?><!DOCTYPE svg [<!ENTITY a0 'laugh'>");
  for (int i = 1; i <= 10; i++) {
    g_string_append_printf (text, "<!ENTITY a%d '", i);
    for (int k = 0; k < 10; k++)
      g_string_append_printf (text, "&a%d;", i - 1);
    g_string_append (text, "'>");
  }
  g_string_append (text, "]>" SVG "width='10' height='10'><text>&a10;</text></svg>");

  gint64 start = g_get_monotonic_time ();
  g_autoptr (SbPicture) picture = open_svg (text->str, NULL);
  ck_assert_int_lt (g_get_monotonic_time () - start, 20 * G_USEC_PER_SEC);
  ck_assert (picture == NULL);
  g_string_free (text, TRUE);
}
END_TEST

static char *
red_png_address (int width, int height)
{
  SbMakePng make = {.width = width, .height = height, .depth = 1, .colour = PNG_COLOR_TYPE_GRAY};
  g_autoptr (GBytes) png = sb_make_png (&make);
  gsize size;
  const guint8 *data = g_bytes_get_data (png, &size);
  g_autofree char *base64 = g_base64_encode (data, size);
  return g_strconcat ("data:image/png;base64,", base64, NULL);
}

START_TEST (test_embedded_pictures)
{
  g_autofree char *small = red_png_address (40, 40);
  g_autofree char *drawn = g_strdup_printf (
      SVG "width='40' height='40'><image width='40' height='40' xlink:href='%s'/></svg>", small);
  guint32 p = rendered_pixel (drawn, 40, 40, 0, 0);
  ck_assert_msg (p >> 24 == 255, "an embedded picture is drawn");

  g_autofree char *wide = red_png_address (30001, 2);
  g_autofree char *plain = g_strdup_printf (
      SVG "width='40' height='40'><image width='40' height='40' xlink:href='%s'/></svg>", wide);
  assert_refused (plain, SB_PICTURE_ERROR_TOO_LARGE);
  /* The same where GLib's reader gives up: an entity of the document's own. */
  g_autofree char *entity =
      g_strdup_printf ("<!DOCTYPE svg [<!ENTITY e '%s'>]>" SVG "width='40' height='40'>"
                       "<image width='40' height='40' xlink:href='&e;'/></svg>",
                       wide);
  assert_refused (entity, SB_PICTURE_ERROR_TOO_LARGE);
}
END_TEST

/* The file exists and is a picture; the drawing may not show it by any road. */
START_TEST (test_nothing_outside_is_loaded)
{
  g_autofree char *dir = g_dir_make_tmp ("sb-svg-XXXXXX", NULL);
  g_autofree char *png_path = g_build_filename (dir, "secret.png", NULL);
  g_autofree char *css_path = g_build_filename (dir, "secret.css", NULL);
  g_autofree char *svg_path = g_build_filename (dir, "chard.svg", NULL);
  SbMakePng make = {.width = 8, .height = 8, .depth = 8, .colour = PNG_COLOR_TYPE_RGB};
  g_autoptr (GBytes) png = sb_make_png (&make);
  g_file_set_contents (png_path, g_bytes_get_data (png, NULL), (gssize)g_bytes_get_size (png),
                       NULL);
  g_file_set_contents (css_path, "rect { fill: #00ff00 }", -1, NULL);

  static const char *const bodies[] = {
      "<image width='40' height='40' xlink:href='%1$s/secret.png'/>",
      "<image width='40' height='40' xlink:href='file://%1$s/secret.png'/>",
      "<image width='40' height='40' xlink:href='secret.png'/>",
      "<image width='40' height='40' href='secret.png'/>",
      "<style>@import url('secret.css');</style>",
      "<style>@import url('file://%1$s/secret.css');</style>",
      ("<filter id='f'><feImage xlink:href='secret.png'/></filter>"
       "<rect width='40' height='40' filter='url(#f)'/>"),
      "<use xlink:href='secret.svg#a'/>",
  };
  for (gsize i = 0; i < G_N_ELEMENTS (bodies); i++) {
    g_auto (GStrv) parts = g_strsplit (bodies[i], "%1$s", -1);
    g_autofree char *body = g_strjoinv (dir, parts);
    g_autofree char *text = g_strconcat (SVG "width='40' height='40'>", body,
                                         "<rect width='1' height='1' fill='none'/></svg>", NULL);
    g_file_set_contents (svg_path, text, -1, NULL);
    g_autoptr (GError) error = NULL;
    g_autoptr (SbPicture) picture = sb_picture_load (svg_path, &error);
    ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
    cairo_surface_t *surface = sb_picture_render (picture, 40, 40, NULL, &error);
    ck_assert_msg (surface != NULL, "%s", error ? error->message : "");
    for (int k = 0; k < 40; k++)
      ck_assert_msg (pixel_at (surface, k, k) == 0, "body %zu drew something", i);
    cairo_surface_destroy (surface);
  }
  g_unlink (png_path);
  g_unlink (css_path);
  g_unlink (svg_path);
  g_rmdir (dir);
}
END_TEST

static GBytes *
zipped (const void *data, gsize size)
{
  g_autoptr (GInputStream) raw = g_memory_input_stream_new_from_data (data, (gssize)size, NULL);
  g_autoptr (GConverter) gzip =
      G_CONVERTER (g_zlib_compressor_new (G_ZLIB_COMPRESSOR_FORMAT_GZIP, 9));
  g_autoptr (GInputStream) stream = g_converter_input_stream_new (raw, gzip);
  g_autoptr (GOutputStream) out = g_memory_output_stream_new_resizable ();
  g_output_stream_splice (out, stream, G_OUTPUT_STREAM_SPLICE_CLOSE_TARGET, NULL, NULL);
  return g_memory_output_stream_steal_as_bytes (G_MEMORY_OUTPUT_STREAM (out));
}

/* How many pixels of the coverage are not those of the drawing with all its layers. */
static guint
count_differences (const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = open_svg (text, &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  cairo_surface_t *whole = cairo_image_surface_create (CAIRO_FORMAT_A8, 400, 400);
  cairo_surface_t *coverage = cairo_image_surface_create (CAIRO_FORMAT_A8, 400, 400);
  cairo_t *cr = cairo_create (whole);
  guint n = 0, covered = 0;

  ck_assert (sb_picture_draw_vector (picture, cr, 400, 400, &error));
  ck_assert (sb_picture_draw_coverage (picture, coverage, &error));
  cairo_destroy (cr);
  cairo_surface_flush (whole);
  const guint8 *a = cairo_image_surface_get_data (whole);
  const guint8 *b = cairo_image_surface_get_data (coverage);
  for (int i = 0; i < 400 * 400; i++) {
    n += a[i] != b[i];
    covered += b[i] > 0;
  }
  ck_assert_uint_gt (covered, 0);
  cairo_surface_destroy (whole);
  cairo_surface_destroy (coverage);
  return n;
}

START_TEST (test_coverage_has_all_layers)
{
  const char *const inside[] = {
      /* where the artwork is opaque */
      "<circle cx='50' cy='50' r='20' fill='#fff' opacity='.4'/>",
      "<g style='opacity:0.5'><circle cx='50' cy='50' r='20'/></g>",
      /* beside it, and across its edge */
      "<circle cx='5' cy='5' r='4' opacity='.6'/>",
      "<circle cx='5' cy='5' r='4' opacity='0'/>",
      "<circle cx='50' cy='12' r='9' style='opacity : .3'/>",
      "<circle cx='50' cy='10' r='0.3' opacity='0.5'/>",
      /* what takes part of it away, or adds to it */
      "<g opacity='.5'><rect width='9' height='9'/></g><circle cx='4' cy='4' r='3' opacity='1'/>",
      "<mask id='m'><rect width='7' height='7' fill='#fff'/></mask>"
      "<rect width='9' height='9' mask='url(#m)'/>",
      "<filter id='f'><feGaussianBlur stdDeviation='2'/></filter>"
      "<circle cx='8' cy='8' r='4' filter='url(#f)'/>",
      "<style>.pale { opacity: .25 }</style><rect class='pale' width='9' height='9'/>",
  };

  for (guint i = 0; i < G_N_ELEMENTS (inside); i++) {
    g_autofree char *text =
        g_strdup_printf (SVG "width='10mm' height='10mm' viewBox='0 0 100 100'>"
                             "<circle cx='50' cy='50' r='40' fill='#a33'/>%s</svg>",
                         inside[i]);
    ck_assert_msg (count_differences (text) == 0, "%u", i);
  }
}
END_TEST

START_TEST (test_compressed)
{
  const char *text = SVG "width='10mm' height='20mm'><rect width='9' height='9'/></svg>";
  g_autoptr (GBytes) good = zipped (text, strlen (text));
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (good, "chard.svgz", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  ck_assert_str_eq (sb_picture_get_extension (picture), "svgz");
  ck_assert (sb_picture_get_bytes (picture) == good);

  gsize size;
  const guint8 *data = g_bytes_get_data (good, &size);
  g_autoptr (GBytes) cut = g_bytes_new (data, size - 12);
  g_autoptr (SbPicture) none = sb_picture_new (cut, "chard.svgz", &error);
  ck_assert (none == NULL);
  ck_assert (g_error_matches (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_CORRUPT));
  g_clear_error (&error);

  gsize much = 300 * 1024 * 1024;
  g_autofree char *blanks = g_malloc (much);
  memset (blanks, ' ', much);
  g_autoptr (GBytes) bomb = zipped (blanks, much);
  none = sb_picture_new (bomb, "chard.svgz", &error);
  ck_assert (none == NULL);
  ck_assert (g_error_matches (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_TOO_LARGE));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("svg");
  TCase *tcase = tcase_create ("svg");

  tcase_set_timeout (tcase, 100);
  tcase_add_test (tcase, test_drawn_at_any_size);
  tcase_add_test (tcase, test_without_any_size);
  tcase_add_test (tcase, test_refused);
  tcase_add_test (tcase, test_cut_short);
  tcase_add_test (tcase, test_entities_do_not_explode);
  tcase_add_test (tcase, test_embedded_pictures);
  tcase_add_test (tcase, test_nothing_outside_is_loaded);
  tcase_add_test (tcase, test_coverage_has_all_layers);
  tcase_add_test (tcase, test_compressed);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
