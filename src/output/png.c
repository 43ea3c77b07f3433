/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A page as PNG, painted and written in bands, so that a Letter page at 1200 dpi (135 million
 * pixels) takes no more memory than one of 300. */
#include "config.h"

#include "output/writers.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/file.h"
#include "output/png-writer.h"

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
  sb_png_writer_begin (png, info, width, height, PNG_COLOR_TYPE_RGB, options->dpi);
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
  png_structp png = sb_png_writer_new (&sink, write_chunk);
  png_infop info = png_create_info_struct (png);
  gboolean ok = write_image (png, info, band, painter, width, height, options, cancellable, error);
  png_destroy_write_struct (&png, &info);
  cairo_surface_destroy (band);
  /* A failed write is told by the file itself when it is committed. */
  return ok || sink.failed;
}
