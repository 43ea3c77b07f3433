/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Light divided out. It changes slowly, so what it must be raised by is worked out at nodes and
 * taken linearly between them. */
#include <math.h>
#include <string.h>

#include "picture/bands.h"
#include "picture/light.h"
#include "picture/srgb.h"

#define NODE_STEP 64 /* px */
#define LEAST_GAIN 0.5
#define MOST_GAIN SB_SRGB_MOST
/* Light changes its colour across a sheet by no more than this: so paper that is extended over
 * artwork cannot tint it. */
#define MOST_TINT 1.3f
/* Light hardly changes over so many px: gains are worked out once for them. */
#define STRETCH 8

/* How much the light must be raised, at nodes NODE_STEP px apart, for red, green and blue light. */
typedef struct {
  float *values;
  int columns, rows;
} Gains;

void
sb_light_fill_terms (double x, double y, double terms[SB_LIGHT_TERMS])
{
  const double all[SB_LIGHT_TERMS] = {1,     x,         y,         x * x,     x * y,
                                      y * y, x * x * x, x * x * y, x * y * y, y * y * y};
  memcpy (terms, all, sizeof all);
}

/* The polynomial says nothing far beyond the paper it was fitted to: half a cell is the least that
 * is needed. */
static double
place_on_fit (double px, int cell, int cells)
{
  double last = MAX (cells - 1, 1), at = fmax (-1, fmin (px / cell - 0.5, last + 1));
  return 2 * at / last - 1;
}

static void
fill_node (const SbLight *light, SbPoint at, float *gains)
{
  double terms[SB_LIGHT_TERMS];

  sb_light_fill_terms (place_on_fit (at.x, light->cell, light->columns),
                       place_on_fit (at.y, light->cell, light->rows), terms);
  for (int c = 0; c < 3; c++) {
    double sum = 0;
    for (int t = 0; t < SB_LIGHT_TERMS; t++)
      sum += light->shape[c][t] * terms[t];
    gains[c] = (float)CLAMP (exp (light->top[c] - sum), LEAST_GAIN, MOST_GAIN);
  }
  for (int c = 0; c < 3; c += 2)
    gains[c] = CLAMP (gains[c], gains[1] / MOST_TINT, MIN (gains[1] * MOST_TINT, (float)MOST_GAIN));
}

static Gains
gains_new (const SbLight *light, const SbMap *map, int width, int height)
{
  Gains gains = {.columns = width / NODE_STEP + 2, .rows = height / NODE_STEP + 2};

  gains.values = g_new (float, 3 * (gsize)gains.columns * (gsize)gains.rows);
  for (int r = 0; r < gains.rows; r++)
    for (int i = 0; i < gains.columns; i++) {
      SbPoint at = {i * NODE_STEP, r * NODE_STEP};
      fill_node (light, map != NULL ? sb_map_point (map, at) : at,
                 gains.values + 3 * (r * gains.columns + i));
    }
  return gains;
}

typedef struct {
  Gains gains;
  const guint8 *from;
  guint8 *into;
  gsize from_stride, into_stride;
  int width;
} Division;

/* The gains of row `y` at the nodes' columns. */
static void
gains_of_row (const Gains *gains, int y, float *values)
{
  double at = (y + 0.5) / NODE_STEP;
  int row = (int)at;
  float part = (float)(at - row);
  const float *above = gains->values + 3 * row * gains->columns;
  const float *below = above + 3 * gains->columns;

  for (int i = 0; i < 3 * gains->columns; i++)
    values[i] = above[i] + part * (below[i] - above[i]);
}

/* Over white, for pictures that have transparent parts after all. */
static guint32
divide_pixel (const SbSrgb *srgb, const float gains[3], guint32 p)
{
  guint32 white = 255 - (p >> 24), result = 0xff;

  for (int c = 0; c < 3; c++) {
    guint32 v = MIN ((p >> (16 - 8 * c) & 0xff) + white, 255);
    result = result << 8 | sb_srgb_encode (srgb, srgb->linear[v] * gains[c]);
  }
  return result;
}

static void
divide_row (const float *gains, const guint32 *from, guint32 *into, int width)
{
  const SbSrgb *srgb = sb_srgb_tables ();

  for (int x0 = 0; x0 < width; x0 += STRETCH) {
    int x1 = MIN (x0 + STRETCH, width);
    float at = (float)(x0 + x1) / (2 * NODE_STEP);
    int i = (int)at;
    float part = at - (float)i;
    const float *g = gains + 3 * i;
    float here[3];
    for (int c = 0; c < 3; c++)
      here[c] = g[c] + part * (g[3 + c] - g[c]);
    for (int x = x0; x < x1; x++)
      into[x] = divide_pixel (srgb, here, from[x]);
  }
}

static void
divide_rows (int first, int end, gpointer data)
{
  const Division *d = data;
  g_autofree float *gains = g_new (float, 3 * d->gains.columns);

  for (int y = first; y < end; y++) {
    const guint32 *from = (const guint32 *)(const void *)(d->from + (gsize)y * d->from_stride);
    guint32 *into = (guint32 *)(void *)(d->into + (gsize)y * d->into_stride);
    gains_of_row (&d->gains, y, gains);
    divide_row (gains, from, into, d->width);
  }
}

void
sb_light_divide (const SbLight *light, const SbMap *map, cairo_surface_t *from,
                 cairo_surface_t *into)
{
  int width = cairo_image_surface_get_width (from), height = cairo_image_surface_get_height (from);

  cairo_surface_flush (from);
  cairo_surface_flush (into);
  Division d = {
      gains_new (light, map, width, height),        cairo_image_surface_get_data (from),
      cairo_image_surface_get_data (into),          (gsize)cairo_image_surface_get_stride (from),
      (gsize)cairo_image_surface_get_stride (into), width};
  sb_bands_run (height, divide_rows, &d);
  g_free (d.gains.values);
  cairo_surface_mark_dirty (into);
}
