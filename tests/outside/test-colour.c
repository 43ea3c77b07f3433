/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Colour against lcms2 itself and against published figures. */
#include "suite.h"

#include <lcms2.h>
#include <math.h>

#include "make-picture.h"
#include "picture/lab.h"
#include "picture/picture.h"

/* sRGB's Lab against lcms2's own sRGB and Lab profiles, on a grid of colours. */
START_TEST (test_lab_against_lcms)
{
  cmsHPROFILE srgb = cmsCreate_sRGBProfile (), lab = cmsCreateLab4Profile (NULL);
  cmsHTRANSFORM transform = cmsCreateTransform (srgb, TYPE_RGB_8, lab, TYPE_Lab_DBL,
                                                INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE);
  double worst = 0;

  for (int i = 0; i < 18 * 18 * 18; i++) {
    guint8 rgb[3] = {(guint8)(i % 18 * 15), (guint8)(i / 18 % 18 * 15), (guint8)(i / 324 * 15)};
    cmsCIELab want;
    cmsDoTransform (transform, rgb, &want, 1);
    SbLab got = sb_lab_from_rgb (rgb[0], rgb[1], rgb[2]);
    worst = MAX (worst, hypot (hypot (got.l - want.L, got.a - want.a), got.b - want.b));
  }
  cmsDeleteTransform (transform);
  cmsCloseProfile (srgb);
  cmsCloseProfile (lab);
  ck_assert_double_lt (worst, 0.1);
}
END_TEST

/* One grey-ramp and colour patch row, tagged, decoded to sRGB. */
static void
decode_tagged (const guint16 (*rgb)[3], int n, int depth, gboolean interlaced, double gamma,
               const double *xy, GBytes *profile, guint8 (*got)[3])
{
  GByteArray *out = g_byte_array_new ();
  png_structp png = png_create_write_struct (PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
  png_infop info = png_create_info_struct (png);
  SbMakePng make = {.width = n,
                    .height = 1,
                    .depth = depth,
                    .colour = PNG_COLOR_TYPE_RGB,
                    .interlaced = interlaced,
                    .gamma = gamma,
                    .chromaticities = xy,
                    .profile = profile ? g_bytes_get_data (profile, NULL) : NULL,
                    .profile_size = profile ? (guint32)g_bytes_get_size (profile) : 0};
  g_autofree guint8 *row = g_malloc ((gsize)n * 6);
  for (int i = 0; i < 3 * n; i++) {
    guint16 v = rgb[i / 3][i % 3];
    if (depth == 16) {
      row[2 * i] = (guint8)(v >> 8);
      row[2 * i + 1] = (guint8)v;
    } else {
      row[i] = (guint8)((v + 128) / 257);
    }
  }
  if (setjmp (png_jmpbuf (png)))
    g_error ("libpng could not write the test picture");
  png_set_write_fn (png, out, sb_make_append, NULL);
  sb_make_png_info (png, info, &make);
  png_write_info (png, info);
  png_bytep rows[1] = {row};
  png_write_image (png, rows);
  png_write_end (png, info);
  png_destroy_write_struct (&png, &info);

  g_autoptr (GBytes) bytes = g_byte_array_free_to_bytes (out);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "plum", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  cairo_surface_t *surface = sb_picture_decode (picture, NULL, &error);
  ck_assert_msg (surface != NULL, "%s", error ? error->message : "");
  const guint32 *pixels = (const guint32 *)(void *)cairo_image_surface_get_data (surface);
  for (int i = 0; i < n; i++)
    for (int c = 0; c < 3; c++)
      got[i][c] = (guint8)(pixels[i] >> (16 - 8 * c));
  cairo_surface_destroy (surface);
}

/* Adobe RGB (1998) Color Image Encoding, version 2005-05: red 0.64,0.33, green 0.21,0.71, blue
 * 0.15,0.06, white 0.3127,0.3290 (D65), gamma 2.19921875 (563/256). */
static const double adobe_xy[8] = {0.3127, 0.3290, 0.64, 0.33, 0.21, 0.71, 0.15, 0.06};

static GBytes *
adobe_profile (void)
{
  cmsToneCurve *curve = cmsBuildGamma (NULL, 563 / 256.0);
  cmsToneCurve *curves[3] = {curve, curve, curve};
  cmsCIExyY white = {0.3127, 0.3290, 1};
  cmsCIExyYTRIPLE primaries = {{0.64, 0.33, 1}, {0.21, 0.71, 1}, {0.15, 0.06, 1}};
  cmsHPROFILE profile = cmsCreateRGBProfile (&white, &primaries, curves);
  cmsUInt32Number size = 0;
  cmsSaveProfileToMem (profile, NULL, &size);
  guint8 *data = g_malloc (size);
  cmsSaveProfileToMem (profile, data, &size);
  cmsCloseProfile (profile);
  cmsFreeToneCurve (curve);
  return g_bytes_new_take (data, size);
}

/* The sum itself, without any colour library: decode by the gamma, through XYZ (the matrices that
 * follow from the primaries above; Adobe RGB's is in section 4.3.5.3 of its specification, sRGB's
 * inverse in IEC 61966-2-1), encode by sRGB's curve. */
static void
adobe_to_srgb (const guint16 in[3], double out[3])
{
  static const double to_xyz[3][3] = {
      {0.57667, 0.18556, 0.18823}, {0.29734, 0.62736, 0.07529}, {0.02703, 0.07069, 0.99134}};
  static const double from_xyz[3][3] = {
      {3.2406, -1.5372, -0.4986}, {-0.9689, 1.8758, 0.0415}, {0.0557, -0.2040, 1.0570}};
  double linear[3], xyz[3];
  for (int c = 0; c < 3; c++)
    linear[c] = pow (in[c] / 65535.0, 563 / 256.0);
  for (int i = 0; i < 3; i++)
    xyz[i] = to_xyz[i][0] * linear[0] + to_xyz[i][1] * linear[1] + to_xyz[i][2] * linear[2];
  for (int i = 0; i < 3; i++) {
    double v = from_xyz[i][0] * xyz[0] + from_xyz[i][1] * xyz[1] + from_xyz[i][2] * xyz[2];
    v = CLAMP (v, 0, 1);
    out[i] = 255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * pow (v, 1 / 2.4) - 0.055);
  }
}

static int
make_patches (guint16 (*rgb)[3], int most)
{
  int n = 0;
  for (int i = 0; i < 6 * 6 * 6 && n < most; i++, n++) {
    rgb[n][0] = (guint16)(i % 6 * 51 * 257);
    rgb[n][1] = (guint16)(i / 6 % 6 * 51 * 257);
    rgb[n][2] = (guint16)(i / 36 * 51 * 257);
  }
  return n;
}

START_TEST (test_adobe_rgb)
{
  guint16 rgb[216][3];
  guint8 got[216][3];
  int n = make_patches (rgb, 216);
  g_autoptr (GBytes) profile = adobe_profile ();

  for (int way = 0; way < 6; way++) {
    gboolean icc = way % 2 == 0, interlaced = way >= 4;
    int depth = way / 2 == 0 ? 8 : 16;
    decode_tagged (rgb, n, depth, interlaced, icc ? 0 : 256 / 563.0, icc ? NULL : adobe_xy,
                   icc ? profile : NULL, got);
    for (int i = 0; i < n; i++) {
      double want[3];
      adobe_to_srgb (rgb[i], want);
      for (int c = 0; c < 3; c++)
        ck_assert_msg (fabs (got[i][c] - want[c]) < 2,
                       "%s, %d bits: patch %d channel %d is %d, not %.2f",
                       icc ? "iCCP" : "gAMA and cHRM", depth, i, c, got[i][c], want[c]);
    }
  }
}
END_TEST

/* gAMA 1.0: sRGB's curve (IEC 61966-2-1) of linear light, to half a step, the dark end above all.
 * 188 for half the light is the well-known figure. */
START_TEST (test_linear_light)
{
  guint16 rgb[256][3];
  guint8 got[256][3];

  for (int i = 0; i < 256; i++)
    for (int c = 0; c < 3; c++)
      rgb[i][c] = (guint16)(i * i);
  decode_tagged (rgb, 256, 16, FALSE, 1, NULL, NULL, got);
  for (int i = 0; i < 256; i++) {
    double v = i * i / 65535.0;
    double want = 255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * pow (v, 1 / 2.4) - 0.055);
    ck_assert_msg (fabs (got[i][0] - want) < 0.75, "%d is %d, not %.2f", i, got[i][0], want);
  }
  guint16 half[1][3] = {{32768, 32768, 32768}};
  decode_tagged (half, 1, 16, FALSE, 1, NULL, NULL, got);
  ck_assert_int_eq (got[0][1], 188);
}
END_TEST

/* A picture that says sRGB, in whichever way, keeps its numbers: PNG section 11.3.2.5 names gAMA
 * 45455 and these chromaticities as sRGB's. */
START_TEST (test_srgb_is_kept)
{
  static const double xy[8] = {0.3127, 0.3290, 0.64, 0.33, 0.30, 0.60, 0.15, 0.06};
  guint16 rgb[216][3];
  guint8 got[216][3];
  int n = make_patches (rgb, 216);
  cmsHPROFILE srgb = cmsCreate_sRGBProfile ();
  cmsUInt32Number size = 0;
  cmsSaveProfileToMem (srgb, NULL, &size);
  guint8 *data = g_malloc (size);
  cmsSaveProfileToMem (srgb, data, &size);
  cmsCloseProfile (srgb);
  g_autoptr (GBytes) profile = g_bytes_new_take (data, size);

  for (int way = 0; way < 4; way++) {
    decode_tagged (rgb, n, way % 2 ? 16 : 8, FALSE, way < 2 ? 0.45455 : 0, way < 2 ? xy : NULL,
                   way < 2 ? NULL : profile, got);
    for (int i = 0; i < n; i++)
      for (int c = 0; c < 3; c++)
        ck_assert_int_eq (got[i][c], rgb[i][c] / 257);
  }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("colour");
  TCase *tcase = tcase_create ("colour");

  tcase_add_test (tcase, test_lab_against_lcms);
  tcase_add_test (tcase, test_adobe_rgb);
  tcase_add_test (tcase, test_linear_light);
  tcase_add_test (tcase, test_srgb_is_kept);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
