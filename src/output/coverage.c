/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "output/coverage.h"

#include <math.h>

#include "output/painter.h"

#define DPI 96
#define FULL 255.0

/* Percent of C+M+Y+K, the mean of an image's pixels. */
static double
measure_image (cairo_surface_t *image)
{
  const guint8 *data = cairo_image_surface_get_data (image);
  int width = cairo_image_surface_get_width (image);
  int height = cairo_image_surface_get_height (image);
  int stride = cairo_image_surface_get_stride (image);
  guint64 sum = 0;
  for (int y = 0; y < height; y++) {
    const guint32 *row = (const guint32 *)(const void *)(data + (gsize)y * (gsize)stride);
    for (int x = 0; x < width; x++) {
      guint c = 255 - (row[x] >> 16 & 0xff), m = 255 - (row[x] >> 8 & 0xff),
            yellow = 255 - (row[x] & 0xff), k = MIN (c, MIN (m, yellow));
      sum += c + m + yellow - 2 * k; /* (c - k) + (m - k) + (y - k) + k */
    }
  }
  return 100 * (double)sum / FULL / width / height;
}

static gboolean
measure_page (SbPainter *painter, const SbState *state, guint index, double *percent,
              GCancellable *cancellable, GError **error)
{
  double scale = DPI / SB_PT_PER_INCH;
  int width = MAX (1, (int)lround (sb_um_to_pt (state->page_width) * scale));
  int height = MAX (1, (int)lround (sb_um_to_pt (state->page_height) * scale));
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (image);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  /* The sheet exactly, though its sides are no whole number of pixels. */
  cairo_scale (cr, width / sb_um_to_pt (state->page_width),
               height / sb_um_to_pt (state->page_height));
  SbPaintOptions options = {0};
  gboolean ok = sb_painter_paint (painter, cr, index, &options, cancellable, error);
  cairo_destroy (cr);
  cairo_surface_flush (image);
  if (ok)
    *percent = measure_image (image);
  cairo_surface_destroy (image);
  return ok;
}

double *
sb_coverage_measure (const SbState *state, GCancellable *cancellable, GError **error)
{
  g_autoptr (SbPainter) painter = sb_painter_new (state, DPI);
  g_autofree double *coverage = g_new0 (double, state->pages->len);
  for (guint k = 0; k < state->pages->len; k++)
    if (!measure_page (painter, state, k, &coverage[k], cancellable, error))
      return NULL;
  return g_steal_pointer (&coverage);
}
