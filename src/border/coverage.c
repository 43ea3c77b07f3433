/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/coverage.h"

#include <math.h>
#include <string.h>

#include "border/block.h"
#include "picture/paper.h"

#define VECTOR_PIXEL_MM (25.4 / 1200)
#define VECTOR_MOST_SIDE 7000

SbCoverage *
sb_coverage_new (int width, int height)
{
  SbCoverage *coverage = g_new (SbCoverage, 1);
  coverage->width = width;
  coverage->height = height;
  coverage->stride = (gsize)width + 2 * SB_COVERAGE_FRAME;
  /* Eight bytes more, so that readers may take eight pixels at once. */
  coverage->pixels = sb_block_new (coverage->stride * ((gsize)height + 2 * SB_COVERAGE_FRAME) + 8);
  return coverage;
}

void
sb_coverage_free (SbCoverage *coverage)
{
  if (coverage == NULL)
    return;
  sb_block_free (coverage->pixels);
  g_free (coverage);
}

static void
read_alpha (SbCoverage *coverage, cairo_surface_t *surface)
{
  const guint8 *data = cairo_image_surface_get_data (surface);
  gsize stride = (gsize)cairo_image_surface_get_stride (surface);
  int width = coverage->width;
  for (int y = 0; y < coverage->height; y++) {
    const guint32 *restrict from = (const guint32 *)(const void *)(data + (gsize)y * stride);
    guint8 *restrict to = sb_coverage_row (coverage, y);
    for (int x = 0; x < width; x++)
      to[x] = (guint8)(from[x] >> 24);
  }
}

static gboolean
separate_paper (SbCoverage *coverage, cairo_surface_t *surface, double tolerance,
                GCancellable *cancellable, GError **error)
{
  gsize width = (gsize)coverage->width;
  g_autofree guint8 *plane = g_malloc (width * (gsize)coverage->height);
  if (!sb_paper_coverage (surface, tolerance, plane, cancellable, error))
    return FALSE;
  for (int y = 0; y < coverage->height; y++)
    memcpy (sb_coverage_row (coverage, y), plane + (gsize)y * width, width);
  return TRUE;
}

static cairo_surface_t *
draw (const SbPicture *picture, double width_mm, double height_mm, GCancellable *cancellable,
      GError **error)
{
  if (sb_picture_get_kind (picture) == SB_PICTURE_BITMAP)
    return sb_picture_decode (picture, cancellable, error);
  double scale = MIN (1 / VECTOR_PIXEL_MM, VECTOR_MOST_SIDE / MAX (width_mm, height_mm));
  int width = MAX (1, (int)ceil (width_mm * scale)),
      height = MAX (1, (int)ceil (height_mm * scale));
  return sb_picture_render (picture, width, height, cancellable, error);
}

SbCoverage *
sb_coverage_read (const SbPicture *picture, double width_mm, double height_mm,
                  const SbSilhouetteParams *params, GCancellable *cancellable, GError **error)
{
  cairo_surface_t *surface = draw (picture, width_mm, height_mm, cancellable, error);
  if (surface == NULL)
    return NULL;
  cairo_surface_flush (surface);
  g_autoptr (SbCoverage) coverage = sb_coverage_new (cairo_image_surface_get_width (surface),
                                                     cairo_image_surface_get_height (surface));
  gboolean done = TRUE;
  if (sb_picture_has_alpha (picture))
    read_alpha (coverage, surface);
  else
    done = separate_paper (coverage, surface, params->paper_tolerance, cancellable, error);
  cairo_surface_destroy (surface);
  return done ? g_steal_pointer (&coverage) : NULL;
}
