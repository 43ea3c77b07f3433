/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The PDF as cairo draws it, in memory; pdf-finish.c makes the final document of it. */
#include "config.h"

#include "output/pdf.h"

#include <cairo-pdf.h>
#include <glib/gi18n.h>

#include "job/file.h"
#include "output/export.h"
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

GBytes *
sb_pdf_build (double width_pt, double height_pt, const char *title, guint n_pages, SbPdfDraw draw,
              gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (GByteArray) pdf = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (append, pdf, width_pt, height_pt);
  cairo_surface_set_fallback_resolution (surface, FALLBACK_DPI, FALLBACK_DPI);
  if (title != NULL)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, title);

  cairo_t *cr = cairo_create (surface);
  gboolean ok = TRUE;
  for (guint i = 0; ok && i < n_pages; i++) {
    cairo_save (cr);
    ok = draw (cr, i, data, cancellable, error);
    cairo_restore (cr);
    cairo_show_page (cr);
  }
  cairo_destroy (cr);
  cairo_surface_finish (surface);
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

typedef struct {
  const SbState *state;
  const SbExportOptions *options;
  SbPainter *painter;
} Pages;

static gboolean
draw_page (cairo_t *cr, guint index, gpointer data, GCancellable *cancellable, GError **error)
{
  Pages *pages = data;
  const SbAdjustment *a = &pages->options->adjustment;
  cairo_translate (cr, a->shift_x_mm * PT_PER_MM, a->shift_y_mm * PT_PER_MM);
  cairo_scale (cr, a->scale_x, a->scale_y);
  if (pages->options->portrait) {
    cairo_matrix_t turn = sb_sheet_from_page (pages->state->page_width, pages->state->page_height);
    cairo_transform (cr, &turn);
  }
  guint number = pages->options->pages != NULL ? pages->options->pages[index]
                 : pages->options->page >= 0   ? (guint)pages->options->page
                                               : index;
  return sb_painter_paint (pages->painter, cr, number, &pages->options->paint, cancellable, error);
}

GBytes *
sb_export_pdf (const SbState *state, const char *title, const SbExportOptions *options,
               GCancellable *cancellable, GError **error)
{
  double width = sb_um_to_pt (state->page_width), height = sb_um_to_pt (state->page_height);
  gboolean turned = options->portrait && state->page_width > state->page_height;
  g_autoptr (SbPainter) painter = sb_painter_new (state, options->dpi);
  Pages pages = {state, options, painter};
  guint n_pages = options->pages != NULL ? options->n_pages
                  : options->page >= 0   ? 1
                                         : state->pages->len;
  return sb_pdf_build (turned ? height : width, turned ? width : height, title, n_pages, draw_page,
                       &pages, cancellable, error);
}
