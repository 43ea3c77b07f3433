/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Small pictures for tests, written here byte by byte or by libpng, so that the tests carry no
 * files. Pixel x,y of every one is a known function of its place. */
#pragma once

#include <glib.h>
#include <png.h>
#include <string.h>

typedef struct {
  int width, height;
  int depth, colour; /* as libpng names them */
  gboolean interlaced;
  gboolean transparent; /* a tRNS chunk: palette entry 0, or the value of pixel 0,0 */
  gboolean opaque;      /* an alpha channel says so everywhere */
  png_uint_32 x_per_metre, y_per_metre; /* pHYs when x is not 0 */
  int physical_unit;
  double gamma;                 /* gAMA when not 0 */
  const double *chromaticities; /* cHRM */
  const void *profile;          /* iCCP */
  guint32 profile_size;
} SbMakePng;

/* The sample of channel `c` at x,y, in `depth` bits. */
static inline guint
sb_make_sample (int x, int y, int c, int depth)
{
  guint32 h = (guint32)(x * 73 + y * 151 + c * 199 + x * y * 31);
  h = h * 2654435761u;
  return (h >> 8) & ((1u << depth) - 1);
}

static inline void
sb_make_append (png_structp png, png_bytep data, size_t n)
{
  g_byte_array_append (png_get_io_ptr (png), data, (guint)n);
}

static inline void
sb_make_png_info (png_structp png, png_infop info, const SbMakePng *make)
{
  png_set_IHDR (png, info, (png_uint_32)make->width, (png_uint_32)make->height, make->depth,
                make->colour, make->interlaced ? PNG_INTERLACE_ADAM7 : PNG_INTERLACE_NONE,
                PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  if (make->colour == PNG_COLOR_TYPE_PALETTE) {
    png_color palette[256];
    for (int i = 0; i < 1 << make->depth; i++)
      palette[i] = (png_color){(png_byte)(i * 7 + 3), (png_byte)(i * 31 + 5), (png_byte)(i * 87)};
    png_set_PLTE (png, info, palette, 1 << make->depth);
  }
  if (make->transparent) {
    png_byte clear = 0;
    png_color_16 value = {0, (png_uint_16)sb_make_sample (0, 0, 0, make->depth),
                          (png_uint_16)sb_make_sample (0, 0, 1, make->depth),
                          (png_uint_16)sb_make_sample (0, 0, 2, make->depth),
                          (png_uint_16)sb_make_sample (0, 0, 0, make->depth)};
    png_set_tRNS (png, info, &clear, 1, &value);
  }
  if (make->x_per_metre != 0)
    png_set_pHYs (png, info, make->x_per_metre, make->y_per_metre, make->physical_unit);
  if (make->gamma > 0)
    png_set_gAMA (png, info, make->gamma);
  if (make->chromaticities != NULL) {
    const double *xy = make->chromaticities;
    png_set_cHRM (png, info, xy[0], xy[1], xy[2], xy[3], xy[4], xy[5], xy[6], xy[7]);
  }
  if (make->profile != NULL)
    png_set_iCCP (png, info, "test", PNG_COMPRESSION_TYPE_BASE, make->profile, make->profile_size);
}

static inline int
sb_make_channels (int colour)
{
  switch (colour) {
  case PNG_COLOR_TYPE_RGB:
    return 3;
  case PNG_COLOR_TYPE_RGBA:
    return 4;
  case PNG_COLOR_TYPE_GRAY_ALPHA:
    return 2;
  default:
    return 1;
  }
}

/* Rows as PNG stores them: samples packed from the left, 16 bits with the high byte first. */
static inline void
sb_make_png_row (const SbMakePng *make, int y, guint8 *row)
{
  int channels = sb_make_channels (make->colour);

  memset (row, 0, (gsize)make->width * 8);
  for (int x = 0; x < make->width; x++)
    for (int c = 0; c < channels; c++) {
      gboolean full = make->opaque && c == channels - 1;
      guint v = full ? (1u << make->depth) - 1 : sb_make_sample (x, y, c, make->depth);
      int i = x * channels + c;
      if (make->depth == 16) {
        row[2 * i] = (guint8)(v >> 8);
        row[2 * i + 1] = (guint8)v;
      } else {
        int per_byte = 8 / make->depth;
        row[i / per_byte] |= (guint8)(v << (8 - make->depth * (i % per_byte + 1)));
      }
    }
}

static inline GBytes *
sb_make_png (const SbMakePng *make)
{
  GByteArray *out = g_byte_array_new ();
  png_structp png = png_create_write_struct (PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
  png_infop info = png_create_info_struct (png);
  guint8 **rows = g_new (guint8 *, make->height);

  for (int y = 0; y < make->height; y++) {
    rows[y] = g_malloc ((gsize)make->width * 8);
    sb_make_png_row (make, y, rows[y]);
  }
  if (setjmp (png_jmpbuf (png)))
    g_error ("libpng could not write the test picture");
  png_set_write_fn (png, out, sb_make_append, NULL);
  sb_make_png_info (png, info, make);
  png_write_info (png, info);
  png_write_image (png, rows);
  png_write_end (png, info);
  png_destroy_write_struct (&png, &info);
  for (int y = 0; y < make->height; y++)
    g_free (rows[y]);
  g_free (rows);
  return g_byte_array_free_to_bytes (out);
}

/* PNG specification, annex D. */
static inline guint32
sb_make_crc (const guint8 *data, gsize n)
{
  guint32 crc = 0xffffffff;
  for (gsize i = 0; i < n; i++) {
    crc ^= data[i];
    for (int k = 0; k < 8; k++)
      crc = crc >> 1 ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return ~crc;
}

static inline void
sb_make_put32 (guint8 *at, guint32 v)
{
  v = GUINT32_TO_BE (v);
  memcpy (at, &v, 4);
}
