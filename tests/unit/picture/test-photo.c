/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <math.h>

#include "make-photo.h"
#include "picture/picture.h"
#include "pixel.h"

static cairo_surface_t *
decode (GBytes *bytes, SbPicture **picture, GError **error)
{
  *picture = sb_picture_new (bytes, "turnip", error);
  return *picture != NULL ? sb_picture_decode (*picture, NULL, error) : NULL;
}

static void
check_quadrants (cairo_surface_t *surface, int width, int height, int tolerance)
{
  ck_assert_int_eq (cairo_image_surface_get_width (surface), width);
  ck_assert_int_eq (cairo_image_surface_get_height (surface), height);
  for (int k = 0; k < 4; k++) {
    int x = width / 4 + (k & 1) * width / 2, y = height / 4 + (k >> 1) * height / 2;
    guint32 got = pixel_at (surface, x, y), want = sb_make_quadrant (x, y, width, height);
    for (int shift = 0; shift < 24; shift += 8)
      ck_assert_int_le (abs ((int)(got >> shift & 255) - (int)(want >> shift & 255)), tolerance);
    ck_assert_uint_eq (got >> 24, 255);
  }
}

START_TEST (test_formats)
{
  static const struct {
    const char *format, *extension;
    int tolerance;
  } known[] = {{"jpeg", "jpg", 12}, {"tiff", "tif", 0}, {"bmp", "bmp", 0}, {"ico", "ico", 0}};
  g_autoptr (GdkPixbuf) pixbuf = sb_make_quadrants (64, 32);

  for (gsize i = 0; i < G_N_ELEMENTS (known); i++) {
    g_autoptr (GBytes) bytes = sb_make_with_pixbuf (pixbuf, known[i].format, NULL, NULL);
    g_autoptr (GError) error = NULL;
    g_autoptr (SbPicture) picture = NULL;
    cairo_surface_t *surface = decode (bytes, &picture, &error);
    ck_assert_msg (surface != NULL, "%s: %s", known[i].format, error ? error->message : "");
    ck_assert_str_eq (sb_picture_get_extension (picture), known[i].extension);
    ck_assert_int_eq (sb_picture_get_kind (picture), SB_PICTURE_BITMAP);
    ck_assert (!sb_picture_has_alpha (picture));
    check_quadrants (surface, 64, 32, known[i].tolerance);
    cairo_surface_destroy (surface);
  }
}
END_TEST

/* Opens and decodes; the code of the error, or -1 when both went well. */
static int
outcome (const guint8 *data, gsize size)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = NULL;
  cairo_surface_t *surface = decode (bytes, &picture, &error);

  if (surface != NULL) {
    cairo_surface_destroy (surface);
    return -1;
  }
  ck_assert_msg (error != NULL && error->domain == SB_PICTURE_ERROR, "%s",
                 error ? error->message : "no error");
  ck_assert_msg (strstr (error->message, "turnip") != NULL, "%s", error->message);
  return error->code;
}

static void
check_cut_short (GBytes *bytes, const char *format, gsize from, gsize spare)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);

  ck_assert_int_eq (outcome (data, size), -1);
  for (gsize n = from; n < size - spare; n += n < 200 ? 7 : 97)
    ck_assert_msg (outcome (data, n) >= 0, "%s cut to %zu of %zu bytes opens", format, n, size);
}

/* A 2 x 1 GIF (GIF89a): red, and clear where `clear` says so. */
static GBytes *
make_gif (gboolean clear)
{
  const guint8 gif[] = {
      'G', 'I', 'F',  '8',  '9', 'a',           2,    0, 1,   0, 0x80, 0, 0, 255, 0, 0, 0,
      0,   255, 0x21, 0xf9, 4,   clear ? 1 : 0, 0,    0, 1,   0, 0x2c, 0, 0, 0,   0, 2, 0,
      1,   0,   0,    2,    2,   0x44,          0x0a, 0, 0x3b};
  return g_bytes_new (gif, sizeof gif);
}

START_TEST (test_cut_short)
{
  static const char *const formats[] = {"jpeg", "tiff", "bmp"};
  g_autoptr (GdkPixbuf) pixbuf = sb_make_quadrants (64, 48);

  for (gsize i = 0; i < G_N_ELEMENTS (formats); i++) {
    g_autoptr (GBytes) bytes = sb_make_with_pixbuf (pixbuf, formats[i], NULL, NULL);
    check_cut_short (bytes, formats[i], 4, 1);
  }
  SbMakeTiff make = {.width = 64, .height = 48};
  g_autoptr (GBytes) tiff = sb_make_tiff (&make);
  check_cut_short (tiff, "our tiff", 4, 1);
  g_autoptr (GBytes) gif = make_gif (FALSE);
  check_cut_short (gif, "gif", 4, 6);
  /* An icon's last 8 x 48 bytes are a mask that gdk-pixbuf does without. */
  g_autoptr (GBytes) ico = sb_make_with_pixbuf (pixbuf, "ico", NULL, NULL);
  check_cut_short (ico, "ico", 4, 8 * 48);
}
END_TEST

/* The size in a JPEG's frame header, raised past the limit. */
START_TEST (test_limits)
{
  g_autoptr (GdkPixbuf) pixbuf = sb_make_quadrants (64, 48);
  g_autoptr (GBytes) jpeg = sb_make_with_pixbuf (pixbuf, "jpeg", NULL, NULL);
  gsize size;
  const guint8 *data = g_bytes_get_data (jpeg, &size);
  g_autofree guint8 *changed = g_memdup2 (data, size);
  guint8 *frame = memmem (changed, size, "\xff\xc0", 2);
  frame[7] = 0xff;
  ck_assert_int_eq (outcome (changed, size), SB_PICTURE_ERROR_TOO_LARGE);

  g_autoptr (GBytes) bmp = sb_make_with_pixbuf (pixbuf, "bmp", NULL, NULL);
  data = g_bytes_get_data (bmp, &size);
  g_autofree guint8 *wide = g_memdup2 (data, size);
  wide[20] = 1; /* 65536 + 64 px */
  ck_assert_int_eq (outcome (wide, size), SB_PICTURE_ERROR_TOO_LARGE);

  SbMakeTiff make = {.width = 64, .height = 48};
  g_autoptr (GBytes) tiff = sb_make_tiff (&make);
  data = g_bytes_get_data (tiff, &size);
  g_autofree guint8 *long_tiff = g_memdup2 (data, size);
  long_tiff[34 + 9] = 0x80; /* the value of the first entry, width */
  ck_assert_int_eq (outcome (long_tiff, size), SB_PICTURE_ERROR_TOO_LARGE);
}
END_TEST

/* TIFF's unassociated alpha is straight; half-clear red is 0x80800000 premultiplied. */
START_TEST (test_tiff_alpha)
{
  SbMakeTiff make = {.width = 64, .height = 48, .alpha = TRUE};
  g_autoptr (GBytes) bytes = sb_make_tiff (&make);
  g_autoptr (SbPicture) picture = NULL;
  cairo_surface_t *surface = decode (bytes, &picture, NULL);

  ck_assert (surface != NULL);
  ck_assert (sb_picture_has_alpha (picture));
  ck_assert_uint_eq (pixel_at (surface, 5, 5), 0x80800000);
  ck_assert_uint_eq (pixel_at (surface, 63, 47), 0x80808080);
  cairo_surface_destroy (surface);
}
END_TEST

START_TEST (test_gif)
{
  for (int clear = 0; clear < 2; clear++) {
    g_autoptr (GBytes) bytes = make_gif (clear != 0);
    g_autoptr (GError) error = NULL;
    g_autoptr (SbPicture) picture = NULL;
    cairo_surface_t *surface = decode (bytes, &picture, &error);
    ck_assert_msg (surface != NULL, "%s", error ? error->message : "");
    ck_assert_str_eq (sb_picture_get_extension (picture), "gif");
    ck_assert_int_eq (sb_picture_has_alpha (picture), clear);
    ck_assert_uint_eq (pixel_at (surface, 0, 0), 0xffff0000);
    ck_assert_uint_eq (pixel_at (surface, 1, 0), clear ? 0 : 0xff0000ff);
    cairo_surface_destroy (surface);
  }
}
END_TEST

START_TEST (test_unknown)
{
  static const char text[] = "Radish & Rue: price list, not a picture";
  g_autofree guint8 *noise = g_malloc (5000);
  for (int i = 0; i < 5000; i++)
    noise[i] = (guint8)(i * 2654435761u >> 13 | 0x40);

  ck_assert_int_eq (outcome ((const guint8 *)text, sizeof text), SB_PICTURE_ERROR_UNKNOWN);
  ck_assert_int_eq (outcome (noise, 5000), SB_PICTURE_ERROR_UNKNOWN);
  ck_assert_int_eq (outcome ((const guint8 *)"x", 1), SB_PICTURE_ERROR_UNKNOWN);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("photo");
  TCase *tcase = tcase_create ("photo");

  tcase_add_test (tcase, test_formats);
  tcase_add_test (tcase, test_cut_short);
  tcase_add_test (tcase, test_limits);
  tcase_add_test (tcase, test_tiff_alpha);
  tcase_add_test (tcase, test_gif);
  tcase_add_test (tcase, test_unknown);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
