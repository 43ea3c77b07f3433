/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The shore of a mask. Results are kept in lists and written at the end, so that every pixel is
 * judged by colours and a mask that nothing has touched, whatever the order. */
#include "picture/mask.h"

#include <math.h>
#include <string.h>

#include "picture/bands.h"

/* How far beyond the inset the artwork's own colour is looked for, px. */
#define REACH 2
/* What a mixture may miss, in 8-bit steps, beside the grain. */
#define LEAST_MISS 10.0
/* What is nearer to the paper than this many times the grain is paper, not a trace of artwork. */
#define GRAIN_TIMES 8.0
/* Candidates whose distance to the paper is at least this part of the farthest one's (squared)
 * are averaged, against the grain. */
#define ALIKE 0.85
/* Below the first coverage a pixel takes its neighbours' colour, from the second on its own. */
#define NEIGHBOURS_BELOW 0.3
#define OWN_FROM 0.9

typedef struct {
  gsize at; /* in the mask */
  guint8 coverage, rgb[3];
} Softened;

typedef struct {
  const SbMask *mask;
  guint8 *pixels;
  gsize stride;
  int paper[3];
  double miss_squared, grain_squared;
  int inset;
  GMutex lock;
  GPtrArray *lists; /* of GArray of Softened, one a band */
  GCancellable *cancellable;
} Shore;

static gboolean
is_artwork (const Shore *shore, int x, int y)
{
  return shore->mask->plane[(gsize)y * (gsize)shore->mask->width + (gsize)x] != SB_MASK_PAPER;
}

/* The colour's difference from the paper's, over white. */
static void
get_difference (const Shore *shore, int x, int y, int d[3])
{
  guint32 p;
  memcpy (&p, shore->pixels + (gsize)y * shore->stride + 4 * (gsize)x, 4);
  int white = 255 - (int)(p >> 24);

  for (int c = 0; c < 3; c++)
    d[c] = MIN ((int)(p >> (16 - 8 * c) & 0xff) + white, 255) - shore->paper[c];
}

static int
dot (const int a[3], const int b[3])
{
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/* TRUE when a pixel of the other kind lies within `reach`. */
static gboolean
is_near_other (const Shore *shore, int x, int y, int reach)
{
  gboolean here = is_artwork (shore, x, y);
  int x1 = MIN (x + reach, shore->mask->width - 1), y1 = MIN (y + reach, shore->mask->height - 1);

  for (int j = MAX (y - reach, 0); j <= y1; j++)
    for (int i = MAX (x - reach, 0); i <= x1; i++)
      if (is_artwork (shore, i, j) != here)
        return TRUE;
  return FALSE;
}

/* Whether difference `v` may be a mixture of the paper and difference `d`: it lies beside the way
 * from the one to the other, and not beyond. */
static gboolean
may_mix (const Shore *shore, const int v[3], int v_squared, const int d[3], int d_squared)
{
  double along = dot (v, d);

  if (along <= 0)
    return v_squared <= shore->miss_squared;
  return v_squared - along * along / d_squared <= shore->miss_squared;
}

typedef struct {
  double sum[3];
  int n;
} Mean;

/* The artwork's colour beside the pixel, as a difference from the paper's. FALSE when none is
 * farther from the paper than the pixel's own. */
static gboolean
find_artwork_colour (const Shore *shore, int x, int y, const int v[3], double colour[3])
{
  int reach = shore->inset + REACH, v_squared = dot (v, v);
  int x0 = MAX (x - reach, 0), x1 = MIN (x + reach, shore->mask->width - 1);
  int y0 = MAX (y - reach, 0), y1 = MIN (y + reach, shore->mask->height - 1);
  int most = 0;
  Mean mean = {{0}, 0};

  for (int round = 0; round < 2; round++)
    for (int j = y0; j <= y1; j++)
      for (int i = x0; i <= x1; i++) {
        int d[3];
        if (!is_artwork (shore, i, j))
          continue;
        get_difference (shore, i, j, d);
        int d_squared = dot (d, d);
        if (d_squared < v_squared || d_squared == 0 || d_squared < most * ALIKE ||
            !may_mix (shore, v, v_squared, d, d_squared))
          continue;
        if (round == 0) {
          most = MAX (most, d_squared);
          continue;
        }
        for (int c = 0; c < 3; c++)
          mean.sum[c] += d[c];
        mean.n++;
      }
  for (int c = 0; c < 3 && mean.n > 0; c++)
    colour[c] = mean.sum[c] / mean.n;
  return mean.n > 0;
}

static Softened
soften_pixel (const Shore *shore, int x, int y)
{
  Softened s = {.at = (gsize)y * (gsize)shore->mask->width + (gsize)x};
  int v[3];
  double f[3];

  get_difference (shore, x, y, v);
  double a = 1;
  if (dot (v, v) < shore->grain_squared)
    return s;
  if (find_artwork_colour (shore, x, y, v, f))
    a = CLAMP ((v[0] * f[0] + v[1] * f[1] + v[2] * f[2]) /
                   (f[0] * f[0] + f[1] * f[1] + f[2] * f[2]),
               0, 1);
  else if (!is_artwork (shore, x, y))
    a = 0;
  else
    for (int c = 0; c < 3; c++)
      f[c] = v[c];

  double own = CLAMP ((a - NEIGHBOURS_BELOW) / (OWN_FROM - NEIGHBOURS_BELOW), 0, 1);
  s.coverage = (guint8)lround (a * 255);
  for (int c = 0; c < 3 && s.coverage > 0; c++) {
    double mixed = own > 0 ? own * v[c] / a + (1 - own) * f[c] : f[c];
    s.rgb[c] = (guint8)lround (CLAMP (shore->paper[c] + mixed, 0, 255));
  }
  return s;
}

/* Most of a picture is far from any shore: whole stretches of one kind in all rows in reach. */
static gboolean
is_uniform (const Shore *shore, int x, int end, int y, int reach)
{
  int x0 = MAX (x - reach, 0), x1 = MIN (end + reach, shore->mask->width);
  int y0 = MAX (y - reach, 0), y1 = MIN (y + reach, shore->mask->height - 1);
  const guint8 *first = shore->mask->plane + (gsize)y0 * (gsize)shore->mask->width + x0;

  for (int j = y0; j <= y1; j++) {
    const guint8 *row = shore->mask->plane + (gsize)j * (gsize)shore->mask->width + x0;
    if (row[0] != first[0] || memcmp (row, row + 1, (gsize)(x1 - x0 - 1)) != 0)
      return FALSE;
  }
  return TRUE;
}

static void
soften_rows (int first, int end, gpointer data)
{
  enum { STRETCH = 64 };
  Shore *shore = data;
  int width = shore->mask->width;
  GArray *list = g_array_new (FALSE, FALSE, sizeof (Softened));

  for (int y = first; y < end && !g_cancellable_is_cancelled (shore->cancellable); y++)
    for (int x0 = 0; x0 < width; x0 += STRETCH) {
      int x1 = MIN (x0 + STRETCH, width);
      if (is_uniform (shore, x0, x1, y, shore->inset))
        continue;
      for (int x = x0; x < x1; x++)
        if (is_near_other (shore, x, y, is_artwork (shore, x, y) ? shore->inset : 1)) {
          Softened s = soften_pixel (shore, x, y);
          g_array_append_val (list, s);
        }
    }
  g_mutex_lock (&shore->lock);
  g_ptr_array_add (shore->lists, list);
  g_mutex_unlock (&shore->lock);
}

static void
write_list (const Shore *shore, const GArray *list, gboolean recover)
{
  gsize width = (gsize)shore->mask->width;

  for (guint i = 0; i < list->len; i++) {
    const Softened *s = &g_array_index (list, Softened, i);
    shore->mask->plane[s->at] = s->coverage;
    if (!recover)
      continue;
    guint32 p = 0xff000000u | (guint32)s->rgb[0] << 16 | (guint32)s->rgb[1] << 8 | s->rgb[2];
    memcpy (shore->pixels + s->at / width * shore->stride + 4 * (s->at % width), &p, 4);
  }
}

gboolean
sb_mask_soften (const SbMask *mask, cairo_surface_t *surface, const guint8 paper[3], double noise,
                int inset, gboolean recover, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) lists = g_ptr_array_new_with_free_func ((GDestroyNotify)g_array_unref);
  double miss = LEAST_MISS + 3 * noise;

  cairo_surface_flush (surface);
  Shore shore = {.mask = mask,
                 .pixels = cairo_image_surface_get_data (surface),
                 .stride = (gsize)cairo_image_surface_get_stride (surface),
                 .paper = {paper[0], paper[1], paper[2]},
                 .miss_squared = miss * miss,
                 .grain_squared = GRAIN_TIMES * noise * GRAIN_TIMES * noise,
                 .inset = inset,
                 .lists = lists,
                 .cancellable = cancellable};
  g_mutex_init (&shore.lock);
  sb_bands_run (mask->height, soften_rows, &shore);
  g_mutex_clear (&shore.lock);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;

  for (guint i = 0; i < lists->len; i++)
    write_list (&shore, g_ptr_array_index (lists, i), recover);
  if (recover)
    cairo_surface_mark_dirty (surface);
  return TRUE;
}
