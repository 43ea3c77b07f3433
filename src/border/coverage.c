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
  /* In whole words, as cairo has it. */
  coverage->stride = ((gsize)width + 2 * SB_COVERAGE_FRAME + 3) / 4 * 4;
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

/* A vector drawing is painted without its colours, of which the border asks nothing. */
static SbCoverage *
draw_vector (const SbPicture *picture, double width_mm, double height_mm, GError **error)
{
  double scale = MIN (1 / VECTOR_PIXEL_MM, VECTOR_MOST_SIDE / MAX (width_mm, height_mm));
  int width = MAX (1, (int)ceil (width_mm * scale));
  int height = MAX (1, (int)ceil (height_mm * scale));
  g_autoptr (SbCoverage) coverage = sb_coverage_new (width, height);
  cairo_surface_t *surface = cairo_image_surface_create_for_data (
      sb_coverage_row (coverage, 0), CAIRO_FORMAT_A8, width, height, (int)coverage->stride);
  gboolean drawn = sb_picture_draw_coverage (picture, surface, error);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);
  return drawn ? g_steal_pointer (&coverage) : NULL;
}

SbCoverage *
sb_coverage_read (const SbPicture *picture, double width_mm, double height_mm,
                  const SbSilhouetteParams *params, GCancellable *cancellable, GError **error)
{
  if (sb_picture_get_kind (picture) == SB_PICTURE_VECTOR)
    return draw_vector (picture, width_mm, height_mm, error);
  cairo_surface_t *surface = sb_picture_decode (picture, cancellable, error);
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
