/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>
#include <glib.h>
#include <string.h>

/* A pixel of an image surface of 32 bits a pixel, which is flushed. */
static inline guint32
pixel_at (cairo_surface_t *surface, int x, int y)
{
  const guint8 *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  guint32 pixel;

  memcpy (&pixel, data + (gsize)y * (gsize)stride + 4 * (gsize)x, sizeof pixel);
  return pixel;
}
