/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "make-picture.h"
#include "picture/picture.h"
#include "pixel.h"

/* The pixel that a reader must show, by the PNG specification, as straight RGBA in 16 bits. */
static void
expected_rgba (const SbMakePng *make, int x, int y, guint rgba[4])
{
  guint most = (1u << make->depth) - 1;
  guint s[4];
  for (int c = 0; c < 4; c++)
    s[c] = sb_make_sample (x, y, c, make->depth);

  rgba[3] = 65535;
  switch (make->colour) {
  case PNG_COLOR_TYPE_PALETTE:
    rgba[0] = (guint8)(s[0] * 7 + 3) * 257u;
    rgba[1] = (guint8)(s[0] * 31 + 5) * 257u;
    rgba[2] = (guint8)(s[0] * 87) * 257u;
    if (make->transparent && s[0] == 0)
      rgba[3] = 0;
    return;
  case PNG_COLOR_TYPE_GRAY:
  case PNG_COLOR_TYPE_GRAY_ALPHA:
    rgba[0] = rgba[1] = rgba[2] = s[0] * 65535 / most;
    if (make->colour == PNG_COLOR_TYPE_GRAY_ALPHA)
      rgba[3] = s[1] * 65535 / most;
    else if (make->transparent && s[0] == sb_make_sample (0, 0, 0, make->depth))
      rgba[3] = 0;
    return;
  default:
    for (int c = 0; c < 3; c++)
      rgba[c] = s[c] * 65535 / most;
    if (make->colour == PNG_COLOR_TYPE_RGBA)
      rgba[3] = s[3] * 65535 / most;
    else if (make->transparent && s[0] == sb_make_sample (0, 0, 0, make->depth) &&
             s[1] == sb_make_sample (0, 0, 1, make->depth) &&
             s[2] == sb_make_sample (0, 0, 2, make->depth))
      rgba[3] = 0;
    return;
  }
}

static guint32
premultiplied (const guint rgba[4])
{
  guint32 out = (guint32)(rgba[3] / 257.0 + 0.5) << 24;
  for (int c = 0; c < 3; c++)
    out |= (guint32)(rgba[c] / 257.0 * rgba[3] / 65535.0 + 0.5) << (16 - 8 * c);
  return out;
}

static void
check_pixels (const SbMakePng *make)
{
  g_autoptr (GBytes) bytes = sb_make_png (make);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "leek.png", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  ck_assert_int_eq (sb_picture_get_width (picture), make->width);
  ck_assert_int_eq (sb_picture_get_height (picture), make->height);
  ck_assert_str_eq (sb_picture_get_extension (picture), "png");
  ck_assert_int_eq (sb_picture_has_alpha (picture),
                    make->transparent || (make->colour & PNG_COLOR_MASK_ALPHA) != 0);

  cairo_surface_t *surface = sb_picture_decode (picture, NULL, &error);
  ck_assert_msg (surface != NULL, "%s", error ? error->message : "");
  for (int y = 0; y < make->height; y++)
    for (int x = 0; x < make->width; x++) {
      guint rgba[4];
      expected_rgba (make, x, y, rgba);
      guint32 want = premultiplied (rgba), got = pixel_at (surface, x, y);
      ck_assert_msg (want == got, "colour type %d depth %d %s %dx%d: %d,%d is %08x, not %08x",
                     make->colour, make->depth, make->interlaced ? "interlaced" : "plain",
                     make->width, make->height, x, y, got, want);
    }
  cairo_surface_destroy (surface);
}

START_TEST (test_every_kind)
{
  static const int kinds[][2] = {
      {PNG_COLOR_TYPE_GRAY, 1},        {PNG_COLOR_TYPE_GRAY, 2},    {PNG_COLOR_TYPE_GRAY, 4},
      {PNG_COLOR_TYPE_GRAY, 8},        {PNG_COLOR_TYPE_GRAY, 16},   {PNG_COLOR_TYPE_PALETTE, 1},
      {PNG_COLOR_TYPE_PALETTE, 2},     {PNG_COLOR_TYPE_PALETTE, 4}, {PNG_COLOR_TYPE_PALETTE, 8},
      {PNG_COLOR_TYPE_RGB, 8},         {PNG_COLOR_TYPE_RGB, 16},    {PNG_COLOR_TYPE_GRAY_ALPHA, 8},
      {PNG_COLOR_TYPE_GRAY_ALPHA, 16}, {PNG_COLOR_TYPE_RGBA, 8},    {PNG_COLOR_TYPE_RGBA, 16}};
  static const int sizes[][2] = {{1, 1}, {3, 2}, {4, 9}, {5, 5}, {9, 4}, {33, 17}};

  for (gsize k = 0; k < G_N_ELEMENTS (kinds); k++)
    for (gsize s = 0; s < G_N_ELEMENTS (sizes); s++)
      for (int interlaced = 0; interlaced < 2; interlaced++)
        for (int transparent = 0; transparent < 2; transparent++) {
          if (transparent && (kinds[k][0] & PNG_COLOR_MASK_ALPHA) != 0)
            continue;
          SbMakePng make = {.width = sizes[s][0],
                            .height = sizes[s][1],
                            .depth = kinds[k][1],
                            .colour = kinds[k][0],
                            .interlaced = interlaced != 0,
                            .transparent = transparent != 0};
          check_pixels (&make);
        }
}
END_TEST

static SbPicture *
picture_with_density (guint32 x, guint32 y, int unit)
{
  SbMakePng make = {.width = 30,
                    .height = 20,
                    .depth = 8,
                    .colour = PNG_COLOR_TYPE_RGB,
                    .x_per_metre = x,
                    .y_per_metre = y,
                    .physical_unit = unit};
  g_autoptr (GBytes) bytes = sb_make_png (&make);
  return sb_picture_new (bytes, "leek.png", NULL);
}

/* An alpha channel that is opaque throughout is none: such a picture is cleaned. */
START_TEST (test_opaque_alpha)
{
  static const int colours[] = {PNG_COLOR_TYPE_RGBA, PNG_COLOR_TYPE_GRAY_ALPHA};
  for (int i = 0; i < 8; i++) {
    SbMakePng make = {.width = 21,
                      .height = 13,
                      .depth = i & 1 ? 16 : 8,
                      .colour = colours[i >> 1 & 1],
                      .interlaced = i >> 2,
                      .opaque = TRUE};
    g_autoptr (GBytes) opaque = sb_make_png (&make);
    g_autoptr (SbPicture) picture = sb_picture_new (opaque, "leek.png", NULL);
    ck_assert (!sb_picture_has_alpha (picture));
    make.opaque = FALSE;
    g_autoptr (GBytes) clear = sb_make_png (&make);
    g_autoptr (SbPicture) other = sb_picture_new (clear, "leek.png", NULL);
    ck_assert (sb_picture_has_alpha (other));
  }
}
END_TEST

START_TEST (test_size)
{
  double w = 0, h = 0;

  g_autoptr (SbPicture) at_300 = picture_with_density (11811, 11811, PNG_RESOLUTION_METER);
  ck_assert (sb_picture_get_size_mm (at_300, &w, &h));
  ck_assert_double_eq_tol (w, 2.54, 1e-9); /* 30 px at 300 dpi, although 11811 is 299.9994 */
  ck_assert_double_eq_tol (h, 20 / 300.0 * 25.4, 1e-9);
  ck_assert_int_eq (sb_picture_get_dpi_at (at_300, w, h), 300);

  g_autoptr (SbPicture) uneven = picture_with_density (11811, 23622, PNG_RESOLUTION_METER);
  ck_assert (sb_picture_get_size_mm (uneven, &w, &h));
  ck_assert_double_eq_tol (w, 2.54, 1e-9);
  ck_assert_double_eq_tol (h, 20 / 600.0 * 25.4, 1e-9);

  g_autoptr (SbPicture) metric = picture_with_density (10000, 10000, PNG_RESOLUTION_METER);
  ck_assert (sb_picture_get_size_mm (metric, &w, &h));
  ck_assert_double_eq_tol (w, 3, 1e-9);

  g_autoptr (SbPicture) no_unit = picture_with_density (11811, 11811, PNG_RESOLUTION_UNKNOWN);
  ck_assert (!sb_picture_get_size_mm (no_unit, &w, &h));
  g_autoptr (SbPicture) none = picture_with_density (0, 0, 0);
  ck_assert (!sb_picture_get_size_mm (none, &w, &h));
  g_autoptr (SbPicture) zero = picture_with_density (11811, 0, PNG_RESOLUTION_METER);
  ck_assert (!sb_picture_get_size_mm (zero, &w, &h));
  g_autoptr (SbPicture) huge = picture_with_density (1, 1, PNG_RESOLUTION_METER);
  ck_assert (!sb_picture_get_size_mm (huge, &w, &h));
}
END_TEST

/* Opens and decodes; the code of the error, or -1 when both went well. */
static int
outcome (const guint8 *data, gsize size)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "leek.png", &error);
  cairo_surface_t *surface = picture != NULL ? sb_picture_decode (picture, NULL, &error) : NULL;

  if (surface != NULL) {
    cairo_surface_destroy (surface);
    ck_assert (error == NULL);
    return -1;
  }
  ck_assert (error != NULL && error->domain == SB_PICTURE_ERROR);
  ck_assert_msg (strstr (error->message, "leek.png") != NULL, "%s", error->message);
  return error->code;
}

START_TEST (test_cut_short)
{
  for (int interlaced = 0; interlaced < 2; interlaced++) {
    SbMakePng make = {.width = 64,
                      .height = 48,
                      .depth = 8,
                      .colour = PNG_COLOR_TYPE_RGBA,
                      .interlaced = interlaced != 0};
    g_autoptr (GBytes) bytes = sb_make_png (&make);
    gsize size;
    const guint8 *data = g_bytes_get_data (bytes, &size);

    ck_assert_int_eq (outcome (data, size), -1);
    ck_assert_int_eq (outcome (data, 0), SB_PICTURE_ERROR_EMPTY);
    for (gsize n = 8; n < size; n += 97)
      ck_assert_int_eq (outcome (data, n), SB_PICTURE_ERROR_CORRUPT);
    for (gsize n = size - 16; n < size; n++)
      ck_assert_int_eq (outcome (data, n), SB_PICTURE_ERROR_CORRUPT);
  }
}
END_TEST

START_TEST (test_wrong_crc)
{
  SbMakePng make = {.width = 16, .height = 16, .depth = 8, .colour = PNG_COLOR_TYPE_RGB};
  g_autoptr (GBytes) bytes = sb_make_png (&make);
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);
  g_autofree guint8 *wrong = g_memdup2 (data, size);

  wrong[29] ^= 1; /* IHDR's */
  ck_assert_int_eq (outcome (wrong, size), SB_PICTURE_ERROR_CORRUPT);
  wrong[29] ^= 1;
  wrong[size - 14] ^= 1; /* the last IDAT's */
  ck_assert_int_eq (outcome (wrong, size), SB_PICTURE_ERROR_CORRUPT);
  wrong[size - 14] ^= 1;
  ck_assert_int_eq (outcome (wrong, size), -1);
}
END_TEST

/* A sound PNG whose header claims another size. */
static int
outcome_claiming (guint32 width, guint32 height)
{
  SbMakePng make = {.width = 8, .height = 8, .depth = 8, .colour = PNG_COLOR_TYPE_RGB};
  g_autoptr (GBytes) bytes = sb_make_png (&make);
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);
  g_autofree guint8 *claims = g_memdup2 (data, size);

  sb_make_put32 (claims + 16, width);
  sb_make_put32 (claims + 20, height);
  sb_make_put32 (claims + 29, sb_make_crc (claims + 12, 17));
  return outcome (claims, size);
}

START_TEST (test_limits)
{
  ck_assert_int_eq (outcome_claiming (8, 8), -1);
  ck_assert_int_eq (outcome_claiming (30001, 8), SB_PICTURE_ERROR_TOO_LARGE);
  ck_assert_int_eq (outcome_claiming (8, 30001), SB_PICTURE_ERROR_TOO_LARGE);
  ck_assert_int_eq (outcome_claiming (20001, 20000), SB_PICTURE_ERROR_TOO_LARGE);
  ck_assert_int_eq (outcome_claiming (0x7fffffff, 0x7fffffff), SB_PICTURE_ERROR_TOO_LARGE);
  ck_assert_int_eq (outcome_claiming (0, 8), SB_PICTURE_ERROR_CORRUPT);
  ck_assert_int_eq (outcome_claiming (8, 9), SB_PICTURE_ERROR_CORRUPT);
}
END_TEST

START_TEST (test_cancel)
{
  SbMakePng make = {.width = 16, .height = 16, .depth = 8, .colour = PNG_COLOR_TYPE_RGB};
  g_autoptr (GBytes) bytes = sb_make_png (&make);
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "leek.png", NULL);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancellable);
  ck_assert (sb_picture_decode (picture, cancellable, &error) == NULL);
  ck_assert (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("png");
  TCase *tcase = tcase_create ("png");

  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, test_every_kind);
  tcase_add_test (tcase, test_opaque_alpha);
  tcase_add_test (tcase, test_size);
  tcase_add_test (tcase, test_cut_short);
  tcase_add_test (tcase, test_wrong_crc);
  tcase_add_test (tcase, test_limits);
  tcase_add_test (tcase, test_cancel);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
