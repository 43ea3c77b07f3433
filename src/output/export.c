/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "output/export.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/file.h"
#include "output/writers.h"

#define PNG_DPI 300
#define PNG_DPI_LEAST 36
#define PNG_DPI_MOST 1200

SbExportOptions
sb_export_options_default (void)
{
  return (SbExportOptions){.page = -1, .adjustment = SB_ADJUSTMENT_NONE};
}

static gboolean
write_pdf (const SbState *state, SbSafeFile *file, const char *title,
           const SbExportOptions *options, GCancellable *cancellable, GError **error)
{
  g_autoptr (GBytes) pdf = sb_export_pdf (state, title, options, cancellable, error);
  if (pdf == NULL)
    return FALSE;
  gsize length;
  const void *data = g_bytes_get_data (pdf, &length);
  sb_safe_file_write (file, data, length); /* a failure is told by the commit */
  return TRUE;
}

/* "sheets/Spring radishes.pdf" -> "Spring radishes" */
static char *
title_from_path (const char *path)
{
  g_autofree char *base = g_filename_display_basename (path);
  char *dot = strrchr (base, '.');
  if (dot != NULL && dot != base)
    *dot = '\0';
  return g_steal_pointer (&base);
}

static gboolean
has_ending (const char *path, const char *ending)
{
  gsize length = strlen (path), n = strlen (ending);
  return length > n && g_ascii_strcasecmp (path + length - n, ending) == 0;
}

static gboolean
check_options (const SbState *state, const char *path, const SbExportOptions *options,
               GError **error)
{
  g_autofree char *shown = g_filename_display_name (path);
  if (!has_ending (path, ".pdf") && !has_ending (path, ".png") && !has_ending (path, ".svg"))
    g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_FORMAT,
                 _ ("%s: a page can be written as .pdf, .png or .svg"), shown);
  else if (options->page >= (int)state->pages->len)
    g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_FORMAT,
                 _ ("%s: there is no page %d; the job has %u"), shown, options->page + 1,
                 state->pages->len);
  else if (has_ending (path, ".png") && options->dpi != 0 &&
           (options->dpi < PNG_DPI_LEAST || options->dpi > PNG_DPI_MOST))
    g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_FORMAT,
                 _ ("%s: a PNG can have %d to %d dpi, not %d"), shown, PNG_DPI_LEAST, PNG_DPI_MOST,
                 options->dpi);
  else
    return TRUE;
  return FALSE;
}

gboolean
sb_export (const SbState *state, const char *path, const SbExportOptions *options,
           GCancellable *cancellable, GError **error)
{
  if (!check_options (state, path, options, error))
    return FALSE;
  g_autoptr (SbSafeFile) file = sb_safe_file_open (path, error);
  if (file == NULL)
    return FALSE;

  gboolean ok;
  if (has_ending (path, ".pdf")) {
    g_autofree char *title = title_from_path (path);
    ok = write_pdf (state, file, title, options, cancellable, error);
  } else if (has_ending (path, ".png")) {
    SbExportOptions png = *options;
    if (png.dpi == 0)
      png.dpi = PNG_DPI;
    ok = sb_write_png (state, file, &png, cancellable, error);
  } else {
    ok = sb_write_svg (state, file, options, cancellable, error);
  }
  return ok && sb_safe_file_commit (g_steal_pointer (&file), error);
}

static cairo_status_t
append (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

GBytes *
sb_export_thumbnail (const SbState *state, int side, GError **error)
{
  double width = sb_um_to_pt (state->page_width), height = sb_um_to_pt (state->page_height);
  double scale = side / MAX (width, height);
  cairo_surface_t *surface =
      cairo_image_surface_create (CAIRO_FORMAT_RGB24, MAX (1, (int)lround (width * scale)),
                                  MAX (1, (int)lround (height * scale)));
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, scale, scale);
  SbPaintOptions options = {0};
  g_autoptr (SbPainter) painter =
      sb_painter_new (state, MAX (1, (int)ceil (scale * SB_PT_PER_INCH)));
  gboolean ok = sb_painter_paint (painter, cr, 0, &options, NULL, error);
  cairo_destroy (cr);

  g_autoptr (GByteArray) png = g_byte_array_new ();
  if (ok) {
    cairo_status_t status = cairo_surface_write_to_png_stream (surface, append, png);
    if (status != CAIRO_STATUS_SUCCESS) {
      g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE,
                   _ ("The thumbnail could not be drawn: %s"), cairo_status_to_string (status));
      ok = FALSE;
    }
  }
  cairo_surface_destroy (surface);
  return ok ? g_byte_array_free_to_bytes (g_steal_pointer (&png)) : NULL;
}
