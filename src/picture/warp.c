/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a frame shows, as pixels. Between pixels a cubic is used (Catmull and Rom's), in linear
 * light and premultiplied, so that thin lines keep their weight and edges their colour. */
#include <math.h>
#include <string.h>

#include "picture/bands.h"
#include "picture/quad.h"
#include "picture/srgb.h"

/* A place that misses a pixel's middle by less is on it. */
#define ON_PIXEL 1e-3

typedef struct {
  SbMap map;
  const guint8 *from;
  guint8 *into;
  gsize from_stride, into_stride;
  int from_width, from_height, width;
  GCancellable *cancellable;
} Warp;

static const guint32 *
row_of (const Warp *w, int y)
{
  return (const guint32 *)(const void *)(w->from +
                                         (gsize)CLAMP (y, 0, w->from_height - 1) * w->from_stride);
}

static void
cubic_weights (float t, float weights[4])
{
  weights[0] = t * (-0.5f + t * (1 - 0.5f * t));
  weights[1] = 1 + t * t * (-2.5f + 1.5f * t);
  weights[2] = t * (0.5f + t * (2 - 1.5f * t));
  weights[3] = t * t * (-0.5f + 0.5f * t);
}

/* Adds a pixel's premultiplied light. */
static void
add_light (const SbSrgb *srgb, guint32 p, float weight, float sum[4])
{
  guint32 a = p >> 24;

  if (a == 0)
    return;
  float part = weight * (float)a / 255;
  for (int c = 0; c < 3; c++) {
    guint32 v = p >> (16 - 8 * c) & 0xff;
    sum[c] += part * srgb->linear[a == 255 ? v : MIN ((v * 255 + a / 2) / a, 255)];
  }
  sum[3] += part;
}

static guint32
pack_light (const SbSrgb *srgb, const float sum[4])
{
  guint32 a = (guint32)(CLAMP (sum[3], 0, 1) * 255 + 0.5f), p = a << 24;

  for (int c = 0; c < 3 && a > 0; c++) {
    guint32 v = sb_srgb_encode (srgb, CLAMP (sum[c] / sum[3], 0, 1));
    p |= (v * a + 127) / 255 << (16 - 8 * c);
  }
  return p;
}

static guint32
sample (const Warp *w, const SbSrgb *srgb, double x, double y)
{
  double left = floor (x), top = floor (y);
  float across[4], down[4], sum[4] = {0};

  cubic_weights ((float)(x - left), across);
  cubic_weights ((float)(y - top), down);
  for (int j = 0; j < 4; j++) {
    const guint32 *row = row_of (w, (int)top - 1 + j);
    for (int i = 0; i < 4; i++) {
      int column = CLAMP ((int)left - 1 + i, 0, w->from_width - 1);
      add_light (srgb, row[column], across[i] * down[j], sum);
    }
  }
  return pack_light (srgb, sum);
}

static void
warp_rows (int first, int end, gpointer data)
{
  const Warp *w = data;
  const SbSrgb *srgb = sb_srgb_tables ();

  for (int y = first; y < end && !g_cancellable_is_cancelled (w->cancellable); y++) {
    guint32 *row = (guint32 *)(void *)(w->into + (gsize)y * w->into_stride);
    for (int x = 0; x < w->width; x++) {
      SbPoint at = sb_map_point (&w->map, (SbPoint){x + 0.5, y + 0.5});
      double px = CLAMP (at.x - 0.5, -2, w->from_width + 1);
      double py = CLAMP (at.y - 0.5, -2, w->from_height + 1);
      row[x] = sample (w, srgb, px, py);
    }
  }
}

/* Whether pixels fall on pixels: the map only moves by a whole number of them, and not outside. */
static gboolean
is_move (const Warp *w, int height, int *dx, int *dy)
{
  const SbPoint ends[3] = {{0, 0}, {w->width, 0}, {0, height}};

  for (int i = 0; i < 3; i++) {
    SbPoint at = sb_map_point (&w->map, ends[i]);
    double x = at.x - ends[i].x, y = at.y - ends[i].y;
    if (i == 0) {
      *dx = (int)lround (x);
      *dy = (int)lround (y);
    }
    if (fabs (x - *dx) > ON_PIXEL || fabs (y - *dy) > ON_PIXEL)
      return FALSE;
  }
  return *dx >= 0 && *dy >= 0 && *dx + w->width <= w->from_width && *dy + height <= w->from_height;
}

gboolean
sb_quad_fill (const SbQuad *frame, cairo_surface_t *from, cairo_surface_t *into,
              GCancellable *cancellable, GError **error)
{
  int height = cairo_image_surface_get_height (into), dx, dy;
  Warp w = {.from_width = cairo_image_surface_get_width (from),
            .from_height = cairo_image_surface_get_height (from),
            .width = cairo_image_surface_get_width (into),
            .from_stride = (gsize)cairo_image_surface_get_stride (from),
            .into_stride = (gsize)cairo_image_surface_get_stride (into),
            .cancellable = cancellable};

  cairo_surface_flush (from);
  cairo_surface_flush (into);
  w.from = cairo_image_surface_get_data (from);
  w.into = cairo_image_surface_get_data (into);
  w.map = sb_quad_get_map (frame, w.width, height, w.from_width);
  if (is_move (&w, height, &dx, &dy))
    for (int y = 0; y < height; y++)
      memcpy (w.into + (gsize)y * w.into_stride, row_of (&w, y + dy) + dx, 4 * (gsize)w.width);
  else
    sb_bands_run (height, warp_rows, &w);
  cairo_surface_mark_dirty (into);
  return !g_cancellable_set_error_if_cancelled (cancellable, error);
}
