/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * PNG through libpng. Rows are read one at a time as straight RGBA of 8 or 16 bits, converted to
 * sRGB, and packed into the surface. An interlaced picture is read as its seven small pictures
 * (PNG specification, section 8.2), each pixel of which has one place in the whole, so it needs no
 * more memory than another. */
#include "config.h"

#include "picture/private.h"

#include <glib/gi18n.h>
#include <png.h>
#include <string.h>

#include "picture/colour.h"

#define METRES_PER_INCH 0.0254

/* More than one in so many pixels must be clear for an alpha channel to count. */
#define LEAST_CLEAR 1000

typedef struct {
  png_structp png;
  png_infop info;
  const guint8 *data;
  gsize size, at;
  char message[128];
} Reader;

static void
on_error (png_structp png, png_const_charp message)
{
  Reader *reader = png_get_error_ptr (png);
  g_strlcpy (reader->message, message, sizeof reader->message);
  png_longjmp (png, 1);
}

static void
on_warning (png_structp png, png_const_charp message)
{
}

static void
on_read (png_structp png, png_bytep into, size_t n)
{
  Reader *reader = png_get_io_ptr (png);
  if (n > reader->size - reader->at)
    png_error (png, _ ("the file ends too early"));
  memcpy (into, reader->data + reader->at, n);
  reader->at += n;
}

static void
reader_clear (Reader *reader)
{
  if (reader->png != NULL)
    png_destroy_read_struct (&reader->png, &reader->info, NULL);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Reader, reader_clear)

/* Reads all chunks before the pixels. FALSE after an error; reader->message says which. */
static gboolean
read_info (Reader *reader, GBytes *bytes)
{
  reader->data = g_bytes_get_data (bytes, &reader->size);
  reader->png = png_create_read_struct (PNG_LIBPNG_VER_STRING, reader, on_error, on_warning);
  if (reader->png != NULL)
    reader->info = png_create_info_struct (reader->png);
  if (reader->info == NULL) {
    g_strlcpy (reader->message, _ ("not enough memory"), sizeof reader->message);
    return FALSE;
  }

  if (setjmp (png_jmpbuf (reader->png)))
    return FALSE;
  png_set_read_fn (reader->png, reader, on_read);
  /* Our own limits name the file and the size, so libpng's are lifted to the format's. */
  png_set_user_limits (reader->png, PNG_UINT_31_MAX, PNG_UINT_31_MAX);
  png_set_chunk_malloc_max (reader->png, 32 * 1024 * 1024);
  png_read_info (reader->png, reader->info);
  return TRUE;
}

gboolean
sb_png_sniff (const guint8 *data, gsize size)
{
  return size >= 8 && png_sig_cmp (data, 0, 8) == 0;
}

/* The order of the PNG specification: iCCP, else sRGB, else gAMA and cHRM. */
static SbColour *
embedded_colour (Reader *reader, int bits)
{
  png_charp profile_name;
  png_bytep profile;
  png_uint_32 size;
  int method;
  if (png_get_iCCP (reader->png, reader->info, &profile_name, &method, &profile, &size))
    return sb_colour_new_icc (profile, size, bits);
  if (png_get_valid (reader->png, reader->info, PNG_INFO_sRGB))
    return NULL;

  double gamma = 0, xy[8];
  png_get_gAMA (reader->png, reader->info, &gamma);
  gboolean has_xy = png_get_cHRM (reader->png, reader->info, &xy[0], &xy[1], &xy[2], &xy[3], &xy[4],
                                  &xy[5], &xy[6], &xy[7]) != 0;
  return sb_colour_new_gamma (gamma, has_xy ? xy : NULL, bits);
}

/* Everything comes out as RGBA, 8 bits for depths up to 8, else 16 in the machine's byte order. */
static int
ask_for_rgba (Reader *reader)
{
  int bits = png_get_bit_depth (reader->png, reader->info) == 16 ? 16 : 8;

  png_set_expand (reader->png);
  png_set_gray_to_rgb (reader->png);
  png_set_add_alpha (reader->png, bits == 16 ? 0xffff : 0xff, PNG_FILLER_AFTER);
  if (bits == 16 && G_BYTE_ORDER == G_LITTLE_ENDIAN)
    png_set_swap (reader->png);
  return bits;
}

typedef struct {
  Reader *reader;
  cairo_surface_t *surface;
  SbColour *colour;
  int bits;
  guint8 *row;
  GCancellable *cancellable;
} Decoding;

static void
pack_row (const Decoding *d, guint32 *into, int first, int step, int n)
{
  if (d->colour != NULL)
    sb_colour_apply (d->colour, d->row, (gsize)n);
  if (d->bits == 16)
    for (int i = 0; i < n; i++)
      into[first + i * step] = sb_argb_from_rgba16 ((const guint16 *)d->row + 4 * i);
  else
    for (int i = 0; i < n; i++)
      into[first + i * step] = sb_argb_from_rgba8 (d->row + 4 * i);
}

/* One of the seven passes, or the whole picture with all steps 1. */
static gboolean
read_pass (const Decoding *d, int x0, int y0, int dx, int dy)
{
  int width = cairo_image_surface_get_width (d->surface);
  int height = cairo_image_surface_get_height (d->surface);
  int stride = cairo_image_surface_get_stride (d->surface);
  guint8 *pixels = cairo_image_surface_get_data (d->surface);
  int n = (width - x0 + dx - 1) / dx;

  if (width <= x0)
    return TRUE;
  for (int y = y0; y < height; y += dy) {
    if (g_cancellable_is_cancelled (d->cancellable))
      return FALSE;
    png_read_row (d->reader->png, d->row, NULL);
    pack_row (d, (guint32 *)(void *)(pixels + (gsize)y * (gsize)stride), x0, dx, n);
  }
  return TRUE;
}

/* Apart because of setjmp: what libpng's errors jump over is owned by the caller. FALSE with an
 * empty reader->message means cancelled. */
static gboolean
read_pixels (const Decoding *d)
{
  if (setjmp (png_jmpbuf (d->reader->png)))
    return FALSE;

  cairo_surface_flush (d->surface);
  if (png_get_interlace_type (d->reader->png, d->reader->info) == PNG_INTERLACE_NONE) {
    if (!read_pass (d, 0, 0, 1, 1))
      return FALSE;
  } else {
    for (int pass = 0; pass < PNG_INTERLACE_ADAM7_PASSES; pass++)
      if (!read_pass (d, PNG_PASS_START_COL (pass), PNG_PASS_START_ROW (pass),
                      1 << PNG_PASS_COL_SHIFT (pass), 1 << PNG_PASS_ROW_SHIFT (pass)))
        return FALSE;
  }
  png_read_end (d->reader->png, NULL);
  cairo_surface_mark_dirty (d->surface);
  return TRUE;
}

/* Between read_info and read_pixels, with its own landing place for errors. */
static gboolean
prepare (Decoding *d)
{
  if (setjmp (png_jmpbuf (d->reader->png)))
    return FALSE;
  d->bits = ask_for_rgba (d->reader);
  png_read_update_info (d->reader->png, d->reader->info);
  return TRUE;
}

static gboolean
has_alpha (const Reader *reader)
{
  return (png_get_color_type (reader->png, reader->info) & PNG_COLOR_MASK_ALPHA) != 0 ||
         png_get_valid (reader->png, reader->info, PNG_INFO_tRNS);
}

/* Pixels of a row that are not opaque. */
static png_uint_32
count_clear (const Decoding *d, png_uint_32 n)
{
  gsize size = d->bits / 8; /* the high byte is enough */
  gsize first = d->bits == 16 && G_BYTE_ORDER == G_LITTLE_ENDIAN ? 1 : 0;
  png_uint_32 clear = 0;

  for (png_uint_32 x = 0; x < n; x++)
    clear += d->row[(4 * x + 3) * size + first] != 0xff;
  return clear;
}

/* Reads rows until enough pixels were not opaque to tell something. */
static gboolean
meets_clear_pixels (const Decoding *d, png_uint_32 width, png_uint_32 height)
{
  gint64 left = (gint64)width * height / LEAST_CLEAR;
  gboolean whole = png_get_interlace_type (d->reader->png, d->reader->info) == PNG_INTERLACE_NONE;

  for (int pass = 0; pass < (whole ? 1 : PNG_INTERLACE_ADAM7_PASSES); pass++) {
    png_uint_32 columns = whole ? width : PNG_PASS_COLS (width, pass);
    png_uint_32 rows = whole ? height : PNG_PASS_ROWS (height, pass);
    for (png_uint_32 y = 0; y < rows && columns > 0; y++) {
      png_read_row (d->reader->png, d->row, NULL);
      left -= count_clear (d, columns);
      if (left < 0)
        return TRUE;
    }
  }
  return FALSE;
}

/* Apart because of setjmp. */
static gboolean
meets_clear_pixels_or_end (const Decoding *d)
{
  if (setjmp (png_jmpbuf (d->reader->png)))
    return TRUE; /* decoding will tell what is wrong */
  return meets_clear_pixels (d, png_get_image_width (d->reader->png, d->reader->info),
                             png_get_image_height (d->reader->png, d->reader->info));
}

/* An alpha channel that is opaque throughout, but for some pixels at corners, is none. */
static gboolean
has_clear_pixels (Reader *reader)
{
  Decoding d = {.reader = reader};

  if (!prepare (&d))
    return TRUE;
  g_autofree guint8 *row = g_malloc ((gsize)png_get_image_width (reader->png, reader->info) * 8);
  d.row = row;
  return meets_clear_pixels_or_end (&d);
}

gboolean
sb_png_read_header (GBytes *bytes, const char *name, SbHeader *header, GError **error)
{
  g_auto (Reader) reader = {0};

  if (!read_info (&reader, bytes)) {
    sb_picture_set_corrupt (error, name, reader.message);
    return FALSE;
  }

  png_uint_32 width = png_get_image_width (reader.png, reader.info);
  png_uint_32 height = png_get_image_height (reader.png, reader.info);
  if (!sb_picture_check_size (width, height, name, error))
    return FALSE;

  header->extension = "png";
  header->width = (int)width;
  header->height = (int)height;
  png_uint_32 x = 0, y = 0;
  int unit = PNG_RESOLUTION_UNKNOWN;
  if (png_get_pHYs (reader.png, reader.info, &x, &y, &unit) && unit == PNG_RESOLUTION_METER)
    sb_header_set_density (header, x * METRES_PER_INCH, y * METRES_PER_INCH, METRES_PER_INCH);
  header->alpha = has_alpha (&reader) && has_clear_pixels (&reader);
  return TRUE;
}

cairo_surface_t *
sb_png_decode (GBytes *bytes, const char *name, GCancellable *cancellable, GError **error)
{
  g_auto (Reader) reader = {0};
  Decoding d = {.reader = &reader, .cancellable = cancellable};

  if (!read_info (&reader, bytes) || !prepare (&d)) {
    sb_picture_set_corrupt (error, name, reader.message);
    return NULL;
  }

  int width = (int)png_get_image_width (reader.png, reader.info);
  int height = (int)png_get_image_height (reader.png, reader.info);
  d.surface = sb_picture_new_surface (width, height, name, error);
  if (d.surface == NULL)
    return NULL;

  g_autoptr (SbColour) colour = embedded_colour (&reader, d.bits);
  g_autofree guint8 *row = g_malloc ((gsize)width * 8);
  d.colour = colour;
  d.row = row;
  if (!read_pixels (&d)) {
    if (!g_cancellable_set_error_if_cancelled (cancellable, error))
      sb_picture_set_corrupt (error, name, reader.message);
    g_clear_pointer (&d.surface, cairo_surface_destroy);
  }
  return d.surface;
}
