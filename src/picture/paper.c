/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Three steps: the paper's colour from the picture's edge; a flood from the edge over what has that
 * colour, whose mask is the coverage plane itself (0 flooded, 255 not); and the coverage of the
 * pixels along the flood's shore from what their colour is mixed of. */
#include "picture/paper.h"

#include <math.h>
#include <string.h>

#include "picture/lab.h"

#define PAPER 0
#define ARTWORK 255
/* How far around a pixel its artwork's own colour is looked for. Edges of drawings are about one
 * pixel wide, those of scans three. */
#define REACH 2
/* The least part of the picture's edge that must be paper. */
#define LEAST_SHARE 0.25
/* Of an empty sheet (CIE L*): white and cream paper have 90 and more (from memory). */
#define LEAST_LIGHTNESS 85

typedef struct {
  int width, height;
  const guint8 *data;
  gsize stride;
  guint8 rgb[3]; /* the paper's colour */
  SbLab lab;
  double tolerance;
  /* Whether a colour is paper, remembered for all 2^24 of them: two bits each. */
  guint8 *known;
  guint8 *coverage;
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
  paper->lab = sb_lab_from_rgb (rgb[0], rgb[1], rgb[2]);
  return (double)colours.taken >= LEAST_SHARE * (double)colours.all;
}

static gboolean
has_paper_colour (const Paper *paper, int x, int y)
{
  guint8 rgb[3];
  get_rgb (paper, x, y, rgb);
  guint32 colour = (guint32)(rgb[0] << 16 | rgb[1] << 8 | rgb[2]);
  guint8 *byte = paper->known + (colour >> 2);
  int shift = (int)(colour & 3) * 2;

  if ((*byte >> shift & 2) == 0) {
    gboolean near =
        sb_lab_distance (sb_lab_from_rgb (rgb[0], rgb[1], rgb[2]), paper->lab) <= paper->tolerance;
    *byte |= (guint8)((near ? 3 : 2) << shift);
  }
  return (*byte >> shift & 1) != 0;
}

static gboolean
may_flood (const Paper *paper, int x, int y)
{
  return paper->coverage[(gsize)y * (gsize)paper->width + (gsize)x] == ARTWORK &&
         has_paper_colour (paper, x, y);
}

typedef struct {
  int x, y;
} Seed;

/* The first pixel of every stretch of row `y` between two columns that may be flooded. */
static void
push_row (const Paper *paper, GArray *seeds, int y, int left, int right)
{
  gboolean inside = FALSE;

  for (int x = left; x <= right; x++) {
    gboolean may = may_flood (paper, x, y);
    if (may && !inside) {
      Seed seed = {x, y};
      g_array_append_val (seeds, seed);
    }
    inside = may;
  }
}

/* Floods the stretch of the seed's row, and leaves seeds in the rows above and below. */
static void
flood_row (const Paper *paper, GArray *seeds, Seed seed)
{
  int left = seed.x, right = seed.x;

  while (left > 0 && may_flood (paper, left - 1, seed.y))
    left--;
  while (right < paper->width - 1 && may_flood (paper, right + 1, seed.y))
    right++;
  memset (paper->coverage + (gsize)seed.y * (gsize)paper->width + left, PAPER,
          (gsize)(right - left + 1));
  if (seed.y > 0)
    push_row (paper, seeds, seed.y - 1, left, right);
  if (seed.y < paper->height - 1)
    push_row (paper, seeds, seed.y + 1, left, right);
}

static gboolean
flood (const Paper *paper, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) seeds = g_array_new (FALSE, FALSE, sizeof (Seed));

  push_row (paper, seeds, 0, 0, paper->width - 1);
  push_row (paper, seeds, paper->height - 1, 0, paper->width - 1);
  for (int y = 0; y < paper->height; y++) {
    push_row (paper, seeds, y, 0, 0);
    push_row (paper, seeds, y, paper->width - 1, paper->width - 1);
  }
  while (seeds->len > 0) {
    Seed seed = g_array_index (seeds, Seed, seeds->len - 1);
    g_array_set_size (seeds, seeds->len - 1);
    if (may_flood (paper, seed.x, seed.y))
      flood_row (paper, seeds, seed);
    if (g_cancellable_set_error_if_cancelled (cancellable, error))
      return FALSE;
  }
  return TRUE;
}

/* TRUE when the pixel or one of its eight neighbours is on the other side of the shore. */
static gboolean
at_shore (const guint8 *const rows[3], int x, int width)
{
  guint8 here = rows[1][x];

  for (int r = 0; r < 3; r++)
    for (int i = MAX (x - 1, 0); i <= MIN (x + 1, width - 1); i++)
      if (rows[r] != NULL && rows[r][i] != here)
        return TRUE;
  return FALSE;
}

/* How much of the pixel is artwork: its colour's place on the way from the paper's colour to the
 * farthest one within reach. */
static guint8
shore_coverage (const Paper *paper, int x, int y)
{
  guint8 rgb[3];
  int most = 0, toward[3] = {0};

  for (int j = MAX (y - REACH, 0); j <= MIN (y + REACH, paper->height - 1); j++)
    for (int i = MAX (x - REACH, 0); i <= MIN (x + REACH, paper->width - 1); i++) {
      get_rgb (paper, i, j, rgb);
      int d[3] = {rgb[0] - paper->rgb[0], rgb[1] - paper->rgb[1], rgb[2] - paper->rgb[2]};
      int far = d[0] * d[0] + d[1] * d[1] + d[2] * d[2];
      if (far > most) {
        most = far;
        memcpy (toward, d, sizeof toward);
      }
    }
  if (most == 0)
    return PAPER;

  get_rgb (paper, x, y, rgb);
  double along = 0;
  for (int c = 0; c < 3; c++)
    along += (rgb[c] - paper->rgb[c]) * toward[c];
  return (guint8)lround (CLAMP (along / most, 0, 1) * 255);
}

/* Writes over the mask from top to bottom; of the rows that later pixels ask for, the flood's own
 * mask is kept. */
static gboolean
soften_shore (const Paper *paper, GCancellable *cancellable, GError **error)
{
  gsize width = (gsize)paper->width;
  g_autofree guint8 *kept = g_malloc (2 * width);
  guint8 *above = kept, *here = kept + width;

  for (int y = 0; y < paper->height; y++) {
    guint8 *row = paper->coverage + (gsize)y * width;
    memcpy (here, row, width);
    const guint8 *const rows[3] = {y > 0 ? above : NULL, here,
                                   y < paper->height - 1 ? row + width : NULL};
    for (int x = 0; x < paper->width; x++)
      if (at_shore (rows, x, paper->width))
        row[x] = shore_coverage (paper, x, y);
    guint8 *swap = above;
    above = here;
    here = swap;
    if (g_cancellable_set_error_if_cancelled (cancellable, error))
      return FALSE;
  }
  return TRUE;
}

gboolean
sb_paper_coverage (cairo_surface_t *surface, double tolerance, guint8 *coverage,
                   GCancellable *cancellable, GError **error)
{
  Paper paper = {.width = cairo_image_surface_get_width (surface),
                 .height = cairo_image_surface_get_height (surface),
                 .stride = (gsize)cairo_image_surface_get_stride (surface),
                 .tolerance = tolerance,
                 .coverage = coverage};

  cairo_surface_flush (surface);
  paper.data = cairo_image_surface_get_data (surface);
  memset (coverage, ARTWORK, (gsize)paper.width * (gsize)paper.height);
  if (!find_paper (&paper))
    return TRUE;

  g_autofree guint8 *known = g_malloc0 (1 << 22);
  paper.known = known;
  if (!flood (&paper, cancellable, error))
    return FALSE;
  /* All of one colour: an empty sheet where it is as light as paper, else a swatch. */
  gsize n = (gsize)paper.width * (gsize)paper.height;
  if (paper.lab.l < LEAST_LIGHTNESS && memchr (coverage, ARTWORK, n) == NULL) {
    memset (coverage, ARTWORK, n);
    return TRUE;
  }
  return soften_shore (&paper, cancellable, error);
}
