/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * White and black point where there is paper, and near it (handbook 6.5). How far a pixel of the
 * artwork is from the paper is counted in steps of 3 to the side and 4 to the corner (Borgefors
 * 1986, "Distance transformations in digital images"). */
#include <math.h>
#include <string.h>

#include "picture/bands.h"
#include "picture/cleaner.h"
#include "picture/lab.h"
#include "picture/srgb.h"

#define NEAR_MM 1.0
#define SIDE_STEP 3
#define CORNER_STEP 4
#define FAR 255
/* Grain is white as well: the noise is half of what lies between the quartiles, and three standard
 * deviations of a normal distribution are 4.45 times that. */
#define GRAIN_TIMES 4.45
#define ALL 256 /* of a change */

typedef struct {
  guint8 *pixels;
  gsize stride;
  int width;
  const guint8 *distances;
  guint8 curves[3][256]; /* of red, green, blue */
  guint16 shares[256];   /* how much of the change counts at a distance, 0..ALL */
} Whitening;

static guint8
least_of (const guint8 *row, const guint8 *above, int x, int width, int ahead)
{
  int least = row[x];

  if (x - ahead >= 0 && x - ahead < width)
    least = MIN (least, row[x - ahead] + SIDE_STEP);
  if (above == NULL)
    return (guint8)least;
  least = MIN (least, above[x] + SIDE_STEP);
  if (x > 0)
    least = MIN (least, above[x - 1] + CORNER_STEP);
  if (x < width - 1)
    least = MIN (least, above[x + 1] + CORNER_STEP);
  return (guint8)least;
}

static guint8 *
measure_distances (const SbMask *mask)
{
  int width = mask->width, height = mask->height;
  gsize n = (gsize)width * (gsize)height;
  guint8 *distances = g_malloc (n);

  for (gsize i = 0; i < n; i++)
    distances[i] = mask->plane[i] < 128 ? 0 : FAR;
  for (int y = 0; y < height; y++) {
    guint8 *row = distances + (gsize)y * (gsize)width;
    for (int x = 0; x < width; x++)
      row[x] = least_of (row, y > 0 ? row - width : NULL, x, width, 1);
  }
  for (int y = height - 1; y >= 0; y--) {
    guint8 *row = distances + (gsize)y * (gsize)width;
    for (int x = width - 1; x >= 0; x--)
      row[x] = least_of (row, y < height - 1 ? row + width : NULL, x, width, -1);
  }
  return distances;
}

/* The light of grey with a lightness (CIE 15). */
static double
light_of (double lightness)
{
  double f = (lightness + 16) / 116;
  return lightness > 8 ? f * f * f : lightness * 27 / 24389;
}

/* The paper's colour, and what is a little darker, becomes white; in light, so that it keeps no
 * tint. */
static void
fill_curves (const SbCleanWork *work, Whitening *w)
{
  const SbSrgb *srgb = sb_srgb_tables ();
  const guint8 *paper = work->light->paper;
  double lightness = sb_lab_from_rgb (paper[0], paper[1], paper[2]).l;
  double darker = light_of (MAX (lightness - work->recipe->white_point, 1)) / light_of (lightness);
  double black = light_of (work->recipe->black_point);

  for (int c = 0; c < 3; c++) {
    int grainy = MAX (paper[c] - (int)ceil (GRAIN_TIMES * work->light->noise), 1);
    double white = MAX (srgb->linear[grainy] * darker, black + 0.001);
    for (int v = 0; v < 256; v++)
      w->curves[c][v] =
          sb_srgb_encode (srgb, (float)CLAMP ((srgb->linear[v] - black) / (white - black), 0, 1));
  }
}

static void
fill_shares (const SbCleanWork *work, Whitening *w)
{
  double reach = CLAMP (NEAR_MM * work->px_per_mm * SIDE_STEP, SIDE_STEP, FAR);

  for (int d = 0; d < 256; d++) {
    double t = MIN (d / reach, 1);
    w->shares[d] = (guint16)lround (ALL * (1 - t * t * (3 - 2 * t)));
  }
}

static void
whiten_rows (int first, int end, gpointer data)
{
  const Whitening *w = data;

  for (int y = first; y < end; y++) {
    guint32 *row = (guint32 *)(void *)(w->pixels + (gsize)y * w->stride);
    const guint8 *distances = w->distances + (gsize)y * (gsize)w->width;
    for (int x = 0; x < w->width; x++) {
      int share = w->shares[distances[x]];
      if (share == 0)
        continue;
      guint32 p = row[x] & 0xff000000u;
      for (int c = 0; c < 3; c++) {
        int shift = 16 - 8 * c, v = (int)(row[x] >> shift & 0xff);
        p |= (guint32)(v + (w->curves[c][v] - v) * share / ALL) << shift;
      }
      row[x] = p;
    }
  }
}

void
sb_clean_whiten (const SbCleanWork *work)
{
  g_autofree guint8 *distances = measure_distances (&work->mask);

  cairo_surface_flush (work->surface);
  Whitening w = {.pixels = cairo_image_surface_get_data (work->surface),
                 .stride = (gsize)cairo_image_surface_get_stride (work->surface),
                 .width = work->mask.width,
                 .distances = distances};
  fill_curves (work, &w);
  fill_shares (work, &w);
  sb_bands_run (work->mask.height, whiten_rows, &w);
  cairo_surface_mark_dirty (work->surface);
}

static void
wipe (const SbCleanWork *work, const SbSpeck *speck)
{
  guint8 *pixels = cairo_image_surface_get_data (work->surface);
  gsize stride = (gsize)cairo_image_surface_get_stride (work->surface);
  int x1 = MIN (speck->x1 + 1, work->mask.width), y1 = MIN (speck->y1 + 1, work->mask.height);

  for (int y = MAX (speck->y0 - 1, 0); y < y1; y++) {
    guint32 *row = (guint32 *)(void *)(pixels + (gsize)y * stride);
    const guint8 *mask = work->mask.plane + (gsize)y * (gsize)work->mask.width;
    for (int x = MAX (speck->x0 - 1, 0); x < x1; x++)
      if (mask[x] == SB_MASK_PAPER)
        row[x] = 0xffffffffu;
  }
}

void
sb_clean_wipe_specks (const SbCleanWork *work)
{
  cairo_surface_flush (work->surface);
  for (guint i = 0; i < work->specks->len; i++) {
    const SbSpeck *speck = &g_array_index (work->specks, SbSpeck, i);
    if (!speck->put_back && speck->kind != SB_SPECK_PINHOLE)
      wipe (work, speck);
  }
  cairo_surface_mark_dirty (work->surface);
}
