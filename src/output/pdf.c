/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The PDF as cairo draws it, in memory; pdf-finish.c makes the final document of it. */
#include "config.h"

#include "output/export.h"

#include <cairo-pdf.h>
#include <glib/gi18n.h>

#include "job/file.h"
#include "output/writers.h"

#define PT_PER_MM (SB_PT_PER_INCH / SB_MM_PER_INCH)
/* What librsvg cannot say in PDF's own words cairo draws as pixels, this many an inch. */
#define FALLBACK_DPI 600

static cairo_status_t
append (void *closure, const unsigned char *data, unsigned int length)
{
  GByteArray *pdf = closure;
  if (length > G_MAXUINT - pdf->len) /* GByteArray would abort */
    return CAIRO_STATUS_WRITE_ERROR;
  g_byte_array_append (pdf, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static gboolean
paint_page (cairo_t *cr, SbPainter *painter, const SbState *state, guint index,
            const SbExportOptions *options, GCancellable *cancellable, GError **error)
{
  const SbAdjustment *a = &options->adjustment;
  cairo_save (cr);
  cairo_translate (cr, a->shift_x_mm * PT_PER_MM, a->shift_y_mm * PT_PER_MM);
  cairo_scale (cr, a->scale_x, a->scale_y);
  if (options->portrait) {
    cairo_matrix_t turn = sb_sheet_from_page (state->page_width, state->page_height);
    cairo_transform (cr, &turn);
  }
  gboolean ok = sb_painter_paint (painter, cr, index, &options->paint, cancellable, error);
  cairo_restore (cr);
  cairo_show_page (cr);
  return ok;
}

static gboolean
paint_pages (cairo_surface_t *surface, const SbState *state, const SbExportOptions *options,
             GCancellable *cancellable, GError **error)
{
  g_autoptr (SbPainter) painter = sb_painter_new (state, options->dpi);
  guint first = options->page < 0 ? 0 : (guint)options->page;
  guint last = options->page < 0 ? state->pages->len - 1 : first;
  cairo_t *cr = cairo_create (surface);
  gboolean ok = TRUE;
  for (guint i = first; ok && i <= last; i++)
    ok = paint_page (cr, painter, state, i, options, cancellable, error);
  cairo_destroy (cr);
  /* Pictures are written when the surface is finished: the painter must still be there. */
  cairo_surface_finish (surface);
  return ok;
}

GBytes *
sb_export_pdf (const SbState *state, const char *title, const SbExportOptions *options,
               GCancellable *cancellable, GError **error)
{
  double width = sb_um_to_pt (state->page_width), height = sb_um_to_pt (state->page_height);
  gboolean turned = options->portrait && state->page_width > state->page_height;
  g_autoptr (GByteArray) pdf = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (
      append, pdf, turned ? height : width, turned ? width : height);
  cairo_surface_set_fallback_resolution (surface, FALLBACK_DPI, FALLBACK_DPI);
  if (title != NULL)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, title);

  gboolean ok = paint_pages (surface, state, options, cancellable, error);
  cairo_status_t status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (!ok)
    return NULL;
  if (status != CAIRO_STATUS_SUCCESS) {
    g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE, _ ("The PDF could not be drawn: %s"),
                 cairo_status_to_string (status));
    return NULL;
  }
  return sb_pdf_finish (pdf, cancellable, error);
}
