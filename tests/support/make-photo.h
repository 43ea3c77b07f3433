/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * JPEG and TIFF files for tests: JPEG is written by gdk-pixbuf and given its tags here, TIFF is
 * written byte by byte (TIFF 6.0, uncompressed, one strip). */
#pragma once

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <string.h>

/* Four quadrants: red and green above, blue and white below. */
static inline guint32
sb_make_quadrant (int x, int y, int width, int height)
{
  static const guint32 colours[4] = {0xff0000, 0x00ff00, 0x0000ff, 0xffffff};
  return colours[(y >= height / 2) * 2 + (x >= width / 2)];
}

static inline GdkPixbuf *
sb_make_quadrants (int width, int height)
{
  GdkPixbuf *pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, width, height);
  guint8 *pixels = gdk_pixbuf_get_pixels (pixbuf);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++) {
      guint32 c = sb_make_quadrant (x, y, width, height);
      guint8 *p = pixels + y * gdk_pixbuf_get_rowstride (pixbuf) + 3 * x;
      p[0] = (guint8)(c >> 16);
      p[1] = (guint8)(c >> 8);
      p[2] = (guint8)c;
    }
  return pixbuf;
}

/* Any format gdk-pixbuf writes; `option` and `value` may be NULL. */
static inline GBytes *
sb_make_with_pixbuf (GdkPixbuf *pixbuf, const char *format, const char *option, const char *value)
{
  char *data;
  gsize size;
  g_autoptr (GError) error = NULL;
  char *names[] = {(char *)option, NULL}, *values[] = {(char *)value, NULL};

  if (!gdk_pixbuf_save_to_bufferv (pixbuf, &data, &size, format, names, values, &error))
    g_error ("gdk-pixbuf could not write %s: %s", format, error->message);
  return g_bytes_new_take (data, size);
}

typedef struct {
  gboolean big_endian;
  int orientation;                 /* 0: no tag */
  guint32 x_above, y_above, below; /* density as rationals; 0: no tags */
  int unit;                        /* 0: no tag */
  gboolean alpha;                  /* a fourth sample, 128 everywhere, unassociated */
  int width, height;               /* of the pixels; 0 for tags alone, as in EXIF */
} SbMakeTiff;

typedef struct {
  GByteArray *out;
  gboolean big;
  int entries;
} SbTiffWriter;

static inline void
sb_put16 (SbTiffWriter *w, guint v)
{
  guint16 n = (guint16)(w->big ? GUINT16_TO_BE (v) : GUINT16_TO_LE (v));
  g_byte_array_append (w->out, (const guint8 *)&n, 2);
}

static inline void
sb_put32 (SbTiffWriter *w, guint32 v)
{
  guint32 n = w->big ? GUINT32_TO_BE (v) : GUINT32_TO_LE (v);
  g_byte_array_append (w->out, (const guint8 *)&n, 4);
}

static inline void
sb_put_short (SbTiffWriter *w, guint tag, guint v)
{
  sb_put16 (w, tag);
  sb_put16 (w, 3);
  sb_put32 (w, 1);
  sb_put16 (w, v);
  sb_put16 (w, 0);
  w->entries++;
}

static inline void
sb_put_long (SbTiffWriter *w, guint tag, guint type, guint32 count, guint32 v)
{
  sb_put16 (w, tag);
  sb_put16 (w, type);
  sb_put32 (w, count);
  sb_put32 (w, v);
  w->entries++;
}

/* Places: 8 rationals, 24 bits per sample, 32 directory, 300 pixels. */
static inline void
sb_put_directory (SbTiffWriter *w, const SbMakeTiff *make)
{
  guint samples = make->alpha ? 4 : 3;

  sb_put16 (w, 0);
  if (make->width > 0) {
    sb_put_short (w, 256, (guint)make->width);
    sb_put_short (w, 257, (guint)make->height);
    sb_put_long (w, 258, 3, samples, 24);
    sb_put_short (w, 259, 1);
    sb_put_short (w, 262, 2);
    sb_put_long (w, 273, 4, 1, 300);
  }
  if (make->orientation > 0)
    sb_put_short (w, 274, (guint)make->orientation);
  if (make->width > 0) {
    sb_put_short (w, 277, samples);
    sb_put_short (w, 278, (guint)make->height);
    sb_put_long (w, 279, 4, 1, (guint32)(make->width * make->height) * samples);
  }
  if (make->below > 0) {
    sb_put_long (w, 282, 5, 1, 8);
    sb_put_long (w, 283, 5, 1, 16);
  }
  if (make->unit > 0)
    sb_put_short (w, 296, (guint)make->unit);
  if (make->alpha)
    sb_put_short (w, 338, 2);
  sb_put32 (w, 0);
}

static inline GByteArray *
sb_make_tiff_array (const SbMakeTiff *make)
{
  SbTiffWriter w = {g_byte_array_new (), make->big_endian, 0};

  g_byte_array_append (w.out, (const guint8 *)(make->big_endian ? "MM" : "II"), 2);
  sb_put16 (&w, 42);
  sb_put32 (&w, 32);
  sb_put32 (&w, make->x_above);
  sb_put32 (&w, make->below);
  sb_put32 (&w, make->y_above);
  sb_put32 (&w, make->below);
  for (int c = 0; c < 4; c++)
    sb_put16 (&w, 8);
  sb_put_directory (&w, make);
  w.out->data[make->big_endian ? 33 : 32] = (guint8)w.entries;
  if (make->width == 0)
    return w.out;

  g_byte_array_set_size (w.out, 300);
  for (int y = 0; y < make->height; y++)
    for (int x = 0; x < make->width; x++) {
      guint32 c = sb_make_quadrant (x, y, make->width, make->height);
      guint8 p[4] = {(guint8)(c >> 16), (guint8)(c >> 8), (guint8)c, 128};
      g_byte_array_append (w.out, p, make->alpha ? 4 : 3);
    }
  return w.out;
}

static inline GBytes *
sb_make_tiff (const SbMakeTiff *make)
{
  return g_byte_array_free_to_bytes (sb_make_tiff_array (make));
}

/* A JPEG of the quadrants with an EXIF block of these tags (NULL for none) in place of JFIF's. */
static inline GBytes *
sb_make_exif_jpeg (int width, int height, const SbMakeTiff *tags)
{
  g_autoptr (GdkPixbuf) pixbuf = sb_make_quadrants (width, height);
  g_autoptr (GBytes) plain = sb_make_with_pixbuf (pixbuf, "jpeg", "quality", "95");
  gsize size;
  const guint8 *data = g_bytes_get_data (plain, &size);
  gsize jfif = 2 + (gsize)(data[4] << 8 | data[5]);
  GByteArray *out = g_byte_array_new ();

  g_assert (data[2] == 0xff && data[3] == 0xe0);
  g_byte_array_append (out, data, 2);
  if (tags != NULL) {
    GByteArray *block = sb_make_tiff_array (tags);
    guint length = block->len + 8;
    guint8 head[] = {0xff, 0xe1, (guint8)(length >> 8), (guint8)length, 'E', 'x', 'i', 'f', 0, 0};
    g_byte_array_append (out, head, sizeof head);
    g_byte_array_append (out, block->data, block->len);
    g_byte_array_unref (block);
  }
  g_byte_array_append (out, data + 2 + jfif, (guint)(size - 2 - jfif));
  return g_byte_array_free_to_bytes (out);
}
