/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/mask.h"

#include <math.h>
#include <string.h>

#include "picture/bands.h"
#include "picture/lab.h"

/* Lab is only worked out for colours that lie in reach of the paper's: those of cells of the colour
 * cube whose middle is not too far. */
#define CUBE_SIDE 64
#define CELL_WIDTH (256 / CUBE_SIDE)
/* No cell is wider than this in Lab. */
#define MOST_CELL_LAB 12.0

typedef struct {
  const SbMask *mask;
  const guint8 *pixels;
  gsize stride;
  SbLab paper;
  int radius;
  guint8 *far; /* of each cell: whether all of it is out of reach */
} Comparison;

static double
distance_at (const Comparison *c, int red, int green, int blue)
{
  return sb_lab_distance (sb_lab_from_rgb ((guint8)red, (guint8)green, (guint8)blue), c->paper);
}

static void
judge_cells (int first, int end, gpointer data)
{
  const Comparison *c = data;
  const double reach = 255.0 / SB_MASK_STEPS + MOST_CELL_LAB;

  for (int i = first; i < end; i++)
    for (int j = 0; j < CUBE_SIDE; j++)
      for (int k = 0; k < CUBE_SIDE; k++)
        c->far[(i * CUBE_SIDE + j) * CUBE_SIDE + k] =
            distance_at (c, i * CELL_WIDTH + CELL_WIDTH / 2, j * CELL_WIDTH + CELL_WIDTH / 2,
                         k * CELL_WIDTH + CELL_WIDTH / 2) > reach;
}

static guint8
measure_colour (const Comparison *c, guint32 red, guint32 green, guint32 blue)
{
  if (c->far[(red / CELL_WIDTH * CUBE_SIDE + green / CELL_WIDTH) * CUBE_SIDE + blue / CELL_WIDTH])
    return 255;
  double steps = distance_at (c, (int)red, (int)green, (int)blue) * SB_MASK_STEPS;
  return (guint8)MIN (ceil (steps), 255);
}

static void
add_row (const Comparison *c, int y, guint16 *sums)
{
  const guint8 *row = c->pixels + (gsize)CLAMP (y, 0, c->mask->height - 1) * c->stride;
  for (int i = 0; i < 4 * c->mask->width; i++)
    sums[i] = (guint16)(sums[i] + row[i]);
}

static void
take_row (const Comparison *c, int y, guint16 *sums)
{
  const guint8 *row = c->pixels + (gsize)CLAMP (y, 0, c->mask->height - 1) * c->stride;
  for (int i = 0; i < 4 * c->mask->width; i++)
    sums[i] = (guint16)(sums[i] - row[i]);
}

/* The bytes of ARGB32 in order of the machine's. */
#if G_BYTE_ORDER == G_LITTLE_ENDIAN
enum { BLUE, GREEN, RED, ALPHA };
#else
enum { ALPHA, RED, GREEN, BLUE };
#endif

/* `sums` are those of the rows in reach; this adds the columns in reach. What is clear counts as
 * white. */
static void
measure_row (const Comparison *c, const guint16 *sums, guint8 *into)
{
  int width = c->mask->width, side = 2 * c->radius + 1;
  float share = 1.0f / (float)(side * side);
  guint32 sum[4] = {0}, all = 255 * (guint32)(side * side);

  for (int i = -c->radius; i <= c->radius; i++)
    for (int k = 0; k < 4; k++)
      sum[k] += sums[4 * CLAMP (i, 0, width - 1) + k];
  for (int x = 0; x < width; x++) {
    guint32 white = all - sum[ALPHA];
    into[x] = measure_colour (c, (guint32)((float)(MIN (sum[RED] + white, all)) * share + 0.5f),
                              (guint32)((float)(MIN (sum[GREEN] + white, all)) * share + 0.5f),
                              (guint32)((float)(MIN (sum[BLUE] + white, all)) * share + 0.5f));
    const guint16 *leaves = sums + 4 * MAX (x - c->radius, 0);
    const guint16 *enters = sums + 4 * MIN (x + c->radius + 1, width - 1);
    for (int k = 0; k < 4; k++)
      sum[k] += (guint32)enters[k] - leaves[k];
  }
}

static void
measure_rows (int first, int end, gpointer data)
{
  const Comparison *c = data;
  g_autofree guint16 *sums = g_new0 (guint16, 4 * (gsize)c->mask->width);

  for (int i = -c->radius; i <= c->radius; i++)
    add_row (c, first + i, sums);
  for (int y = first; y < end; y++) {
    measure_row (c, sums, c->mask->plane + (gsize)y * (gsize)c->mask->width);
    take_row (c, y - c->radius, sums);
    add_row (c, y + c->radius + 1, sums);
  }
}

void
sb_mask_measure (const SbMask *mask, cairo_surface_t *surface, const guint8 paper[3], int radius)
{
  g_autofree guint8 *far = g_malloc (CUBE_SIDE * CUBE_SIDE * CUBE_SIDE);

  g_return_if_fail (radius >= 0 && radius <= SB_MASK_MOST_RADIUS);
  cairo_surface_flush (surface);
  Comparison c = {.mask = mask,
                  .pixels = cairo_image_surface_get_data (surface),
                  .stride = (gsize)cairo_image_surface_get_stride (surface),
                  .paper = sb_lab_from_rgb (paper[0], paper[1], paper[2]),
                  .radius = radius,
                  .far = far};
  sb_bands_run (CUBE_SIDE, judge_cells, &c);
  sb_bands_run (mask->height, measure_rows, &c);
}

void
sb_mask_divide (const SbMask *mask, double tolerance)
{
  gsize n = (gsize)mask->width * (gsize)mask->height;
  guint8 most = (guint8)CLAMP (floor (tolerance * SB_MASK_STEPS), 0, 254);

  for (gsize i = 0; i < n; i++)
    mask->plane[i] = mask->plane[i] <= most ? SB_MASK_LIKE_PAPER : SB_MASK_ARTWORK;
}

typedef struct {
  int x, y;
} Seed;

/* The first pixel of every stretch of row `y` between two columns that may be flooded. */
static void
push_row (const SbMask *mask, GArray *seeds, int y, int left, int right)
{
  const guint8 *row = mask->plane + (gsize)y * (gsize)mask->width;

  for (int x = left; x <= right; x++)
    if (row[x] == SB_MASK_LIKE_PAPER && (x == left || row[x - 1] != SB_MASK_LIKE_PAPER)) {
      Seed seed = {x, y};
      g_array_append_val (seeds, seed);
    }
}

/* Floods the stretch of the seed's row, and leaves seeds in the rows above and below. */
static void
flood_row (const SbMask *mask, GArray *seeds, Seed seed)
{
  guint8 *row = mask->plane + (gsize)seed.y * (gsize)mask->width;
  int left = seed.x, right = seed.x;

  if (row[seed.x] != SB_MASK_LIKE_PAPER)
    return;
  while (left > 0 && row[left - 1] == SB_MASK_LIKE_PAPER)
    left--;
  while (right < mask->width - 1 && row[right + 1] == SB_MASK_LIKE_PAPER)
    right++;
  memset (row + left, SB_MASK_PAPER, (gsize)(right - left + 1));
  if (seed.y > 0)
    push_row (mask, seeds, seed.y - 1, left, right);
  if (seed.y < mask->height - 1)
    push_row (mask, seeds, seed.y + 1, left, right);
}

static gboolean
flood_seeds (const SbMask *mask, GArray *seeds, GCancellable *cancellable, GError **error)
{
  while (seeds->len > 0) {
    Seed seed = g_array_index (seeds, Seed, seeds->len - 1);
    g_array_set_size (seeds, seeds->len - 1);
    flood_row (mask, seeds, seed);
    if (g_cancellable_set_error_if_cancelled (cancellable, error))
      return FALSE;
  }
  return TRUE;
}

gboolean
sb_mask_flood (const SbMask *mask, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) seeds = g_array_new (FALSE, FALSE, sizeof (Seed));

  push_row (mask, seeds, 0, 0, mask->width - 1);
  push_row (mask, seeds, mask->height - 1, 0, mask->width - 1);
  for (int y = 0; y < mask->height; y++) {
    push_row (mask, seeds, y, 0, 0);
    push_row (mask, seeds, y, mask->width - 1, mask->width - 1);
  }
  return flood_seeds (mask, seeds, cancellable, error);
}

gboolean
sb_mask_flood_from (const SbMask *mask, int x, int y, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) seeds = g_array_new (FALSE, FALSE, sizeof (Seed));
  Seed seed = {x, y};

  g_array_append_val (seeds, seed);
  return flood_seeds (mask, seeds, cancellable, error);
}

void
sb_mask_close (const SbMask *mask)
{
  gsize n = (gsize)mask->width * (gsize)mask->height;

  for (gsize i = 0; i < n; i++)
    mask->plane[i] = mask->plane[i] == SB_MASK_PAPER ? SB_MASK_PAPER : SB_MASK_ARTWORK;
}
