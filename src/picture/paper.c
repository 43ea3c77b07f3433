/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The paper's colour comes from the picture's edge; the rest is the mask's work. */
#include "picture/paper.h"

#include <math.h>
#include <string.h>

#include "picture/lab.h"
#include "picture/mask.h"

/* The least part of the picture's edge that must be paper. */
#define LEAST_SHARE 0.25

typedef struct {
  int width, height;
  const guint8 *data;
  gsize stride;
  guint8 rgb[3]; /* the paper's colour */
  double tolerance;
} Paper;

/* Over white, for pictures that have transparent parts after all. */
static void
get_rgb (const Paper *paper, int x, int y, guint8 rgb[3])
{
  guint32 p;
  memcpy (&p, paper->data + (gsize)y * paper->stride + 4 * (gsize)x, sizeof p);
  guint32 white = 255 - (p >> 24);

  for (int c = 0; c < 3; c++)
    rgb[c] = (guint8)MIN ((p >> (16 - 8 * c) & 0xff) + white, 255);
}

static void
for_edge (Paper *paper, void (*visit) (Paper *, int, int, gpointer), gpointer data)
{
  for (int x = 0; x < paper->width; x++) {
    visit (paper, x, 0, data);
    visit (paper, x, paper->height - 1, data);
  }
  for (int y = 1; y < paper->height - 1; y++) {
    visit (paper, 0, y, data);
    visit (paper, paper->width - 1, y, data);
  }
}

typedef struct {
  guint32 *bins; /* 16 x 16 x 16 colours */
  SbLab around;
  double within;
  double sum[3];
  gint64 taken, all;
} EdgeColours;

static void
count_colour (Paper *paper, int x, int y, gpointer data)
{
  EdgeColours *colours = data;
  guint8 rgb[3];
  get_rgb (paper, x, y, rgb);
  colours->bins[(rgb[0] >> 4) << 8 | (rgb[1] >> 4) << 4 | rgb[2] >> 4]++;
}

static void
add_colour (Paper *paper, int x, int y, gpointer data)
{
  EdgeColours *colours = data;
  guint8 rgb[3];
  get_rgb (paper, x, y, rgb);
  colours->all++;
  if (sb_lab_distance (sb_lab_from_rgb (rgb[0], rgb[1], rgb[2]), colours->around) > colours->within)
    return;
  colours->taken++;
  for (int c = 0; c < 3; c++)
    colours->sum[c] += rgb[c];
}

/* The commonest colour of the edge, coarsely, then the mean of what is near it; twice, so that a
 * tone which two bins share is found whole. FALSE when it is too little of the edge. */
static gboolean
find_paper (Paper *paper)
{
  g_autofree guint32 *bins = g_new0 (guint32, 4096);
  EdgeColours colours = {.bins = bins, .within = MAX (paper->tolerance, 6)};
  int best = 0;

  for_edge (paper, count_colour, &colours);
  for (int i = 1; i < 4096; i++)
    if (bins[i] > bins[best])
      best = i;
  guint8 rgb[3] = {(guint8)(best >> 8 << 4 | 8), (guint8)((best >> 4 & 15) << 4 | 8),
                   (guint8)((best & 15) << 4 | 8)};

  for (int round = 0; round < 2; round++) {
    colours.around = sb_lab_from_rgb (rgb[0], rgb[1], rgb[2]);
    colours.taken = colours.all = 0;
    memset (colours.sum, 0, sizeof colours.sum);
    for_edge (paper, add_colour, &colours);
    for (int c = 0; c < 3 && colours.taken > 0; c++)
      rgb[c] = (guint8)lround (colours.sum[c] / (double)colours.taken);
  }
  memcpy (paper->rgb, rgb, 3);
  return (double)colours.taken >= LEAST_SHARE * (double)colours.all;
}

gboolean
sb_paper_coverage (cairo_surface_t *surface, double tolerance, guint8 *coverage,
                   GCancellable *cancellable, GError **error)
{
  Paper paper = {.width = cairo_image_surface_get_width (surface),
                 .height = cairo_image_surface_get_height (surface),
                 .stride = (gsize)cairo_image_surface_get_stride (surface),
                 .tolerance = tolerance};
  const SbMask mask = {paper.width, paper.height, coverage};

  cairo_surface_flush (surface);
  paper.data = cairo_image_surface_get_data (surface);
  if (!find_paper (&paper)) {
    memset (coverage, SB_MASK_ARTWORK, (gsize)paper.width * (gsize)paper.height);
    return TRUE;
  }
  sb_mask_measure (&mask, surface, paper.rgb, 0);
  sb_mask_divide (&mask, tolerance);
  if (!sb_mask_flood (&mask, cancellable, error))
    return FALSE;
  /* All of one colour: an empty sheet where it is as light as paper, else a swatch. */
  gsize n = (gsize)paper.width * (gsize)paper.height;
  if (memchr (coverage, SB_MASK_ARTWORK, n) == NULL &&
      sb_lab_from_rgb (paper.rgb[0], paper.rgb[1], paper.rgb[2]).l < SB_PAPER_LEAST_LIGHTNESS) {
    memset (coverage, SB_MASK_ARTWORK, n);
    return TRUE;
  }
  sb_mask_close (&mask);
  return sb_mask_soften (&mask, surface, paper.rgb, 0, 1, FALSE, cancellable, error);
}
