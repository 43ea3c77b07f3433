/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "output/sticker-png.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/edit.h"
#include "job/file.h"
#include "output/guide.h"
#include "output/painter.h"
#include "output/png-writer.h"
#include "output/text.h"

#define PT_PER_MM (SB_PT_PER_INCH / SB_MM_PER_INCH)
#define MOST_SIDE 20000 /* px */
#define MARK_MM 9.0
#define MARK_STEP_MM 34.0
#define MARK_ALPHA 0.45

static void
append (png_structp png, png_bytep data, png_size_t length)
{
  g_byte_array_append (png_get_io_ptr (png), data, (guint)length);
}

/* From cairo's premultiplied words to R, G, B, A. */
static void
unpack_row (const guint32 *from, guint8 *to, int width)
{
  for (int x = 0; x < width; x++, to += 4) {
    guint alpha = from[x] >> 24;
    for (int c = 0; c < 3; c++) {
      guint value = from[x] >> (16 - 8 * c) & 0xff;
      to[c] = alpha == 0 ? 0 : (guint8)MIN (255, (value * 255 + alpha / 2) / alpha);
    }
    to[3] = (guint8)alpha;
  }
}

/* Everything between libpng's setjmp and its end; the caller owns `row`. */
static gboolean
write_image (png_structp png, png_infop info, cairo_surface_t *image, double dpi, guint8 *row)
{
  int width = cairo_image_surface_get_width (image);
  int height = cairo_image_surface_get_height (image);
  const guint8 *data = cairo_image_surface_get_data (image);
  gsize stride = (gsize)cairo_image_surface_get_stride (image);
  if (setjmp (png_jmpbuf (png)) != 0)
    return FALSE;
  sb_png_writer_begin (png, info, width, height, PNG_COLOR_TYPE_RGBA, dpi);
  for (int y = 0; y < height; y++) {
    unpack_row ((const guint32 *)(const void *)(data + (gsize)y * stride), row, width);
    png_write_row (png, row);
  }
  png_write_end (png, info);
  return TRUE;
}

static GBytes *
pack (cairo_surface_t *image, double dpi, GError **error)
{
  cairo_surface_flush (image);
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  g_autofree guint8 *row = g_malloc (4 * (gsize)cairo_image_surface_get_width (image));
  png_structp png = sb_png_writer_new (bytes, append);
  png_infop info = png_create_info_struct (png);
  gboolean ok = write_image (png, info, image, dpi, row);
  png_destroy_write_struct (&png, &info);
  if (ok)
    return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
  g_set_error_literal (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE,
                       _ ("The picture could not be packed"));
  return NULL;
}

/* A page just as large as the sticker, and it alone on it. */
static SbState *
page_of_one (const SbDesign *design, double width_mm, double height_mm)
{
  g_autoptr (SbState) empty =
      sb_state_new ("custom", sb_um_from_mm (width_mm), sb_um_from_mm (height_mm));
  SbDesign *bare = sb_design_copy (design);
  bare->guide.style = SB_GUIDE_OFF;
  bare->id = 0;
  SbPiece piece = {.at = {empty->page_width / 2, empty->page_height / 2}};
  g_autoptr (SbState) with = sb_edit_add_design (empty, bare, &piece.design_id);
  return sb_edit_add_piece (with, 0, piece, NULL);
}

static void
fill_white (cairo_t *cr, const SbOutline *outline, double width_mm, double height_mm)
{
  SbPoint centre = sb_box_centre (sb_outline_get_box (outline));
  cairo_save (cr);
  cairo_scale (cr, PT_PER_MM, PT_PER_MM);
  cairo_translate (cr, width_mm / 2 - centre.x, height_mm / 2 - centre.y);
  cairo_set_source_rgb (cr, 1, 1, 1);
  sb_guide_trace_outline (cr, outline);
  cairo_fill (cr);
  cairo_restore (cr);
}

static cairo_surface_t *
image_new (double width_px, double height_px, GError **error)
{
  int width = MAX (1, (int)lround (width_px)), height = MAX (1, (int)lround (height_px));
  if (width <= MOST_SIDE && height <= MOST_SIDE) {
    cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
    if (cairo_surface_status (image) == CAIRO_STATUS_SUCCESS)
      return image;
    cairo_surface_destroy (image);
  }
  g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_LIMIT,
               _ ("A picture of %d × %d pixels is too large; choose a lower resolution"), width,
               height);
  return NULL;
}

GBytes *
sb_sticker_png (const SbDesign *design, int dpi, GCancellable *cancellable, GError **error)
{
  double width_mm, height_mm, scale = dpi / SB_PT_PER_INCH;
  sb_design_get_finished_size (design, &width_mm, &height_mm);
  cairo_surface_t *image =
      image_new (width_mm * PT_PER_MM * scale, height_mm * PT_PER_MM * scale, error);
  if (image == NULL)
    return NULL;
  g_autoptr (SbState) page = page_of_one (design, width_mm, height_mm);
  g_autoptr (SbPainter) painter = sb_painter_new (page, dpi);
  cairo_t *cr = cairo_create (image);
  cairo_scale (cr, scale, scale);
  fill_white (cr, sb_design_get_outline (design), width_mm, height_mm);
  SbPaintOptions options = {0};
  gboolean ok = sb_painter_paint (painter, cr, 0, &options, cancellable, error);
  cairo_destroy (cr);
  GBytes *bytes = ok ? pack (image, dpi, error) : NULL;
  cairo_surface_destroy (image);
  return bytes;
}

/* Rows of the mark, aslant, each shifted against the one before; dark letters with a light rim, to
 * be read on any artwork. */
static void
write_marks (cairo_t *cr, const char *mark, double width_mm, double height_mm)
{
  double reach = hypot (width_mm, height_mm);
  double step = sb_text_measure (cr, MARK_MM, mark) + 2 * MARK_MM;
  cairo_translate (cr, width_mm / 2, height_mm / 2);
  cairo_rotate (cr, -G_PI / 6);
  int row = 0;
  for (double y = -reach / 2; y < reach / 2; y += MARK_STEP_MM, row++)
    for (double x = -reach / 2 - (row % 2) * step / 2; x < reach / 2; x += step) {
      cairo_set_source_rgba (cr, 1, 1, 1, MARK_ALPHA);
      sb_text_draw (cr, x + 0.5, y + 0.5, 0, MARK_MM, mark);
      cairo_set_source_rgba (cr, 0, 0, 0, MARK_ALPHA);
      sb_text_draw (cr, x, y, 0, MARK_MM, mark);
    }
}

GBytes *
sb_shop_picture_png (const SbState *state, guint index, const char *mark, GCancellable *cancellable,
                     GError **error)
{
  double width = sb_um_to_pt (state->page_width), height = sb_um_to_pt (state->page_height);
  double scale = SB_SHOP_PICTURE_SIDE / MAX (width, height), dpi = scale * SB_PT_PER_INCH;
  cairo_surface_t *image = image_new (width * scale, height * scale, error);
  if (image == NULL)
    return NULL;
  g_autoptr (SbPainter) painter = sb_painter_new (state, (int)ceil (dpi));
  cairo_t *cr = cairo_create (image);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, scale, scale);
  SbPaintOptions options = {0};
  gboolean ok = sb_painter_paint (painter, cr, index, &options, cancellable, error);
  cairo_scale (cr, PT_PER_MM, PT_PER_MM);
  write_marks (cr, mark, width / PT_PER_MM, height / PT_PER_MM);
  cairo_destroy (cr);
  GBytes *bytes = ok ? pack (image, dpi, error) : NULL;
  cairo_surface_destroy (image);
  return bytes;
}
