/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is packed comes out again, by the reverse written here from the PNG specification (section
 * 9.2), and packs as tightly as libpng packs the same pixels. */
#include "suite.h"

#include <string.h>
#include <zlib.h>

#include "make-sheet.h"
#include "output/predictor.h"

static guint8
undo (int filter, int x, int a, int b, int c)
{
  int p = a + b - c, pa = abs (p - a), pb = abs (p - b), pc = abs (p - c);
  switch (filter) {
  case 0:
    return (guint8)x;
  case 1:
    return (guint8)(x + a);
  case 2:
    return (guint8)(x + b);
  case 3:
    return (guint8)(x + ((a + b) >> 1));
  case 4:
    return (guint8)(x + (pa <= pb && pa <= pc ? a : pb <= pc ? b : c));
  default:
    ck_abort_msg ("filter %d", filter);
  }
}

static void
check_round_trip (const guint8 *pixels, gsize n, gsize rows, guint bpp)
{
  g_autoptr (GByteArray) packed = sb_predictor_pack (pixels, n, rows, bpp);
  uLongf length = (n + 1) * rows;
  g_autofree guint8 *data = g_malloc (length);
  ck_assert_int_eq (uncompress (data, &length, packed->data, packed->len), Z_OK);
  ck_assert_uint_eq (length, (n + 1) * rows);
  g_autofree guint8 *out = g_malloc0 (n * rows);
  for (gsize y = 0; y < rows; y++)
    for (gsize i = 0; i < n; i++) {
      int a = i >= bpp ? out[y * n + i - bpp] : 0;
      int b = y > 0 ? out[(y - 1) * n + i] : 0;
      int c = y > 0 && i >= bpp ? out[(y - 1) * n + i - bpp] : 0;
      out[y * n + i] = undo (data[y * (n + 1)], data[y * (n + 1) + 1 + i], a, b, c);
    }
  ck_assert (memcmp (out, pixels, n * rows) == 0);
}

START_TEST (round_trips)
{
  guint32 random = 7;
  for (gsize width = 1; width < 40; width += 3)
    for (guint bpp = 1; bpp <= 3; bpp += 2) {
      gsize n = width * bpp, rows = 30;
      g_autofree guint8 *pixels = g_malloc (n * rows);
      for (gsize i = 0; i < n * rows; i++) {
        random = random * 1664525u + 1013904223u;
        pixels[i] = (guint8)(width % 2 == 0 ? random >> 24 : (i / n) * 3 + i % n * 2);
      }
      check_round_trip (pixels, n, rows, bpp);
    }
}
END_TEST

static gsize
pack_surface (cairo_surface_t *surface)
{
  int side = cairo_image_surface_get_width (surface);
  const guint8 *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  g_autofree guint8 *pixels = g_malloc ((gsize)side * (gsize)side * 3);
  for (int y = 0; y < side; y++)
    for (int x = 0; x < side; x++) {
      guint32 p = ((const guint32 *)(const void *)(data + (gsize)y * (gsize)stride))[x];
      for (int c = 0; c < 3; c++)
        pixels[((gsize)y * (gsize)side + (gsize)x) * 3 + (gsize)c] = (guint8)(p >> (16 - 8 * c));
    }
  g_autoptr (GByteArray) packed = sb_predictor_pack (pixels, (gsize)side * 3, (gsize)side, 3);
  return packed->len;
}

static void
check_against_libpng (cairo_surface_t *surface, double most)
{
  g_autoptr (GBytes) png = sb_make_png_of (surface);
  gsize packed = pack_surface (surface);
  ck_assert_msg ((double)packed <= most * (double)g_bytes_get_size (png), "%zu against %zu", packed,
                 g_bytes_get_size (png));
  cairo_surface_destroy (surface);
}

START_TEST (packs_like_libpng)
{
  check_against_libpng (sb_make_painting (400, 3), 1.02);
  /* A flat drawing: filters only harm it. */
  cairo_surface_t *flat = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 400, 400);
  cairo_t *cr = cairo_create (flat);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  for (int i = 0; i < 200; i++) {
    cairo_set_source_rgb (cr, i % 3 / 2.0, i % 5 / 4.0, i % 2);
    cairo_arc (cr, i * 37 % 400, i * 61 % 400, 30, 0, 7);
    cairo_fill (cr);
  }
  cairo_destroy (cr);
  cairo_surface_flush (flat);
  check_against_libpng (flat, 1.02);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("predictor");
  TCase *tc = tcase_create ("predictor");
  tcase_add_test (tc, round_trips);
  tcase_add_test (tc, packs_like_libpng);
  suite_add_tcase (suite, tc);
  return sb_run_suite (suite);
}
