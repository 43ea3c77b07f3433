/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A page as PNG, painted and written in bands, so that a Letter page at 1200 dpi (135 million
 * pixels) takes no more memory than one of 300. */
#include "config.h"

#include "output/writers.h"

#include <glib/gi18n.h>
#include <math.h>
#include <png.h>

#include "job/file.h"

#define BAND_BYTES (16 * 1024 * 1024)

typedef struct {
  SbSafeFile *file;
  gboolean failed;
} Sink;

static void
write_chunk (png_structp png, png_bytep data, png_size_t length)
{
  Sink *sink = png_get_io_ptr (png);
  if (!sb_safe_file_write (sink->file, data, length)) {
    sink->failed = TRUE;
    png_error (png, "write");
  }
}

static void
flush_chunk (png_structp png)
{
}

/* libpng's own reports on the terminal say nothing to a maker; a failure is told by the file. */
static void
jump_back (png_structp png, png_const_charp message)
{
  png_longjmp (png, 1);
}

static void
keep_silent (png_structp png, png_const_charp message)
{
}

/* From cairo's 32-bit pixels of whatever byte order to R, G, B, in place. */
static void
pack_row (guint8 *row, int width)
{
  const guint32 *from = (const guint32 *)(void *)row;
  for (int x = 0; x < width; x++) {
    guint32 pixel = from[x];
    row[3 * x] = (guint8)(pixel >> 16);
    row[3 * x + 1] = (guint8)(pixel >> 8);
    row[3 * x + 2] = (guint8)pixel;
  }
}

static void
write_header (png_structp png, png_infop info, int width, int height, int dpi)
{
  png_set_IHDR (png, info, (png_uint_32)width, (png_uint_32)height, 8, PNG_COLOR_TYPE_RGB,
                PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  /* PNG specification, 11.3.5.3: whole pixels a metre; 600 dpi is 23622. */
  png_uint_32 per_metre = (png_uint_32)lround (dpi / (SB_MM_PER_INCH / 1000));
  png_set_pHYs (png, info, per_metre, per_metre, PNG_RESOLUTION_METER);
  png_set_sRGB (png, info, PNG_sRGB_INTENT_RELATIVE);
  png_write_info (png, info);
}

/* One band of the page on white, from row `top` on. */
static gboolean
paint_band (cairo_surface_t *band, int top, double scale, SbPainter *painter, guint index,
            const SbExportOptions *options, GCancellable *cancellable, GError **error)
{
  cairo_t *cr = cairo_create (band);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_translate (cr, 0, -top);
  cairo_scale (cr, scale, scale);
  gboolean ok = sb_painter_paint (painter, cr, index, &options->paint, cancellable, error);
  cairo_destroy (cr);
  cairo_surface_flush (band);
  return ok;
}

/* Everything between libpng's setjmp and its end lives in here, so that a long jump leaves nothing
 * behind: callers own `band` and `painter`. */
static gboolean
write_image (png_structp png, png_infop info, cairo_surface_t *band, SbPainter *painter, int width,
             int height, const SbExportOptions *options, GCancellable *cancellable, GError **error)
{
  if (setjmp (png_jmpbuf (png)) != 0)
    return FALSE;
  write_header (png, info, width, height, options->dpi);
  guint index = options->page < 0 ? 0 : (guint)options->page;
  int band_height = cairo_image_surface_get_height (band);
  int stride = cairo_image_surface_get_stride (band);
  for (int top = 0; top < height; top += band_height) {
    if (!paint_band (band, top, options->dpi / SB_PT_PER_INCH, painter, index, options, cancellable,
                     error))
      return FALSE;
    guint8 *pixels = cairo_image_surface_get_data (band);
    for (int y = 0; y < MIN (band_height, height - top); y++) {
      pack_row (pixels + (gsize)y * (gsize)stride, width);
      png_write_row (png, pixels + (gsize)y * (gsize)stride);
    }
    cairo_surface_mark_dirty (band);
  }
  png_write_end (png, info);
  return TRUE;
}

static int
pixels_of (sb_um length, int dpi)
{
  return MAX (1, (int)lround ((double)length * dpi / SB_UM_PER_INCH));
}

gboolean
sb_write_png (const SbState *state, SbSafeFile *file, const SbExportOptions *options,
              GCancellable *cancellable, GError **error)
{
  int width = pixels_of (state->page_width, options->dpi);
  int height = pixels_of (state->page_height, options->dpi);
  int band_height = CLAMP (BAND_BYTES / (4 * width), 1, height);
  cairo_surface_t *band = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, band_height);
  if (cairo_surface_status (band) != CAIRO_STATUS_SUCCESS) {
    g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_LIMIT,
                 _ ("A page of %d × %d pixels is too large; choose a lower resolution"), width,
                 height);
    cairo_surface_destroy (band);
    return FALSE;
  }

  Sink sink = {file, FALSE};
  g_autoptr (SbPainter) painter = sb_painter_new (state, options->dpi);
  png_structp png = png_create_write_struct (PNG_LIBPNG_VER_STRING, NULL, jump_back, keep_silent);
  png_infop info = png_create_info_struct (png);
  png_set_write_fn (png, &sink, write_chunk, flush_chunk);
  gboolean ok = write_image (png, info, band, painter, width, height, options, cancellable, error);
  png_destroy_write_struct (&png, &info);
  cairo_surface_destroy (band);
  /* A failed write is told by the file itself when it is committed. */
  return ok || sink.failed;
}
