/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Separable: each source row is resampled across once, and the results are added up downwards with
 * their weights. Target rows overlap in at most two source rows, so two are kept. */
#include "picture/resample.h"

#include <math.h>
#include <string.h>

#include "picture/srgb.h"

/* The source pixels that make up one target pixel: those from `first` on, with their weights. */
typedef struct {
  int first, count;
  const float *weights;
} Share;

typedef struct {
  Share *shares;
  float *weights;
} Axis;

static void
axis_clear (Axis *axis)
{
  g_free (axis->shares);
  g_free (axis->weights);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Axis, axis_clear)

static int
area_share (double from, double to, int n, int *first, float *weights)
{
  int count = 0;

  *first = MIN ((int)floor (from), n - 1);
  for (int i = *first; i < n && (i < to || count == 0); i++) {
    double covered = MIN (to, i + 1) - MAX (from, i);
    weights[count++] = (float)(MAX (covered, 0) / (to - from));
  }
  return count;
}

static int
linear_share (double centre, int n, int *first, float *weights)
{
  double at = CLAMP (centre - 0.5, 0, n - 1);

  *first = MIN ((int)floor (at), MAX (n - 2, 0));
  weights[0] = n == 1 ? 1 : (float)(*first + 1 - at);
  weights[1] = 1 - weights[0];
  return n == 1 ? 1 : 2;
}

/* `hard`: what is enlarged takes the area average too, so that its pixels stay squares. */
static Axis
axis_new (int from, int into, gboolean hard)
{
  double scale = from / (double)into;
  int most = (int)ceil (scale) + 2;
  Axis axis = {g_new (Share, into), g_new (float, (gsize)into *(gsize)most)};

  for (int i = 0; i < into; i++) {
    Share *share = axis.shares + i;
    float *weights = axis.weights + (gsize)i * (gsize)most;
    share->count = scale > 1 || hard
                       ? area_share (i * scale, (i + 1) * scale, from, &share->first, weights)
                       : linear_share ((i + 0.5) * scale, from, &share->first, weights);
    share->weights = weights;
  }
  return axis;
}

/* Where pixels are averaged, their light is; what is enlarged is taken between the values as they
 * are stored, which are even steps for the eye. */
static void
add_light (const SbSrgb *srgb, guint32 p, float weight, float sum[4])
{
  guint32 a = p >> 24;
  float part = weight * (float)a / 255;

  if (a == 0)
    return;
  for (int c = 0; c < 3; c++) {
    guint32 v = p >> 8 * c & 0xff;
    sum[c] += part * srgb->linear[a == 255 ? v : MIN ((v * 255 + a / 2) / a, 255)];
  }
  sum[3] += weight * (float)a;
}

static void
add_values (guint32 p, float weight, float sum[4])
{
  for (int c = 0; c < 4; c++)
    sum[c] += weight * (float)(p >> 8 * c & 0xff);
}

/* One source row, as floats, across to the target's width. */
static void
resample_row (const guint32 *row, const Axis *across, int into, gboolean light, float *result)
{
  const SbSrgb *srgb = sb_srgb_tables ();

  for (int x = 0; x < into; x++) {
    const Share *share = across->shares + x;
    float sum[4] = {0};
    for (int i = 0; i < share->count; i++) {
      guint32 p = row[share->first + i];
      if (light)
        add_light (srgb, p, share->weights[i], sum);
      else
        add_values (p, share->weights[i], sum);
    }
    memcpy (result + 4 * x, sum, sizeof sum);
  }
}

static guint32
round_channel (float value, guint32 most)
{
  return value <= 0 ? 0 : MIN ((guint32)(value + 0.5f), most);
}

static guint32
pack_values (const float sum[4])
{
  guint32 a = round_channel (sum[3], 255);
  return a << 24 | round_channel (sum[2], a) << 16 | round_channel (sum[1], a) << 8 |
         round_channel (sum[0], a);
}

static guint32
pack_light (const SbSrgb *srgb, const float sum[4])
{
  guint32 a = round_channel (sum[3], 255), p = a << 24;

  for (int c = 0; c < 3 && a > 0; c++)
    p |= (sb_srgb_encode (srgb, MIN (sum[c] * 255 / sum[3], 1)) * a + 127) / 255 << 8 * c;
  return p;
}

static void
pack_row (const float *sums, int n, gboolean light, guint32 *into)
{
  const SbSrgb *srgb = sb_srgb_tables ();

  for (int x = 0; x < n; x++, sums += 4)
    into[x] = light ? pack_light (srgb, sums) : pack_values (sums);
}

typedef struct {
  cairo_surface_t *from;
  Axis across;
  int width;      /* of the target */
  gboolean light; /* they hold light */
  float *rows[2]; /* source rows, resampled across */
  int kept[2];    /* which ones these are */
} Rows;

static const float *
get_row (Rows *rows, int y)
{
  int slot = y & 1;

  if (rows->kept[slot] != y) {
    const guint8 *data = cairo_image_surface_get_data (rows->from);
    gsize stride = (gsize)cairo_image_surface_get_stride (rows->from);
    resample_row ((const guint32 *)(const void *)(data + (gsize)y * stride), &rows->across,
                  rows->width, rows->light, rows->rows[slot]);
    rows->kept[slot] = y;
  }
  return rows->rows[slot];
}

gboolean
sb_resample (cairo_surface_t *from, cairo_surface_t *into, gboolean hard, GCancellable *cancellable,
             GError **error)
{
  int width = cairo_image_surface_get_width (into), height = cairo_image_surface_get_height (into);
  gsize channels = 4 * (gsize)width;
  int from_width = cairo_image_surface_get_width (from);
  int from_height = cairo_image_surface_get_height (from);
  gboolean light = width < from_width || height < from_height;
  g_auto (Axis) across = axis_new (from_width, width, hard);
  g_auto (Axis) down = axis_new (from_height, height, hard);
  g_autofree float *kept = g_new (float, 2 * channels);
  g_autofree float *sums = g_new (float, channels);
  Rows rows = {from, across, width, light, {kept, kept + channels}, {-1, -1}};

  cairo_surface_flush (from);
  cairo_surface_flush (into);
  guint8 *data = cairo_image_surface_get_data (into);
  for (int y = 0; y < height; y++) {
    const Share *share = down.shares + y;
    memset (sums, 0, channels * sizeof *sums);
    for (int i = 0; i < share->count; i++) {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      const float *row = get_row (&rows, share->first + i);
      float w = share->weights[i];
      for (gsize c = 0; c < channels; c++)
        sums[c] += w * row[c];
    }
    pack_row (sums, width, light,
              (guint32 *)(void *)(data + (gsize)y * (gsize)cairo_image_surface_get_stride (into)));
  }
  cairo_surface_mark_dirty (into);
  return TRUE;
}
