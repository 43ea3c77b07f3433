/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The end of a clean-up, and what came of it. */
#include <math.h>
#include <string.h>

#include "picture/bands.h"
#include "picture/cleaner.h"
#include "picture/colour.h"
#include "picture/lab.h"

/* So many pixels are enough for a histogram. */
#define MOST_COUNTED 1000000

typedef struct {
  guint8 *pixels;
  gsize stride;
  int width;
  const guint8 *coverage; /* NULL: the surface's own */
  SbColour *adjust;
  int every; /* rows that are counted */
  SbCleanResult *result;
  guint64 covered;
  GMutex lock;
} Finish;

/* From opaque (or premultiplied) pixels and coverage to the result. */
static void
finish_row (const Finish *f, guint32 *row, const guint8 *coverage, guint8 *rgba)
{
  for (int x = 0; x < f->width; x++) {
    guint32 p = row[x], a = p >> 24;
    for (int c = 0; c < 3; c++) {
      guint32 v = p >> (16 - 8 * c) & 0xff;
      rgba[4 * x + c] = (guint8)(a == 255 || a == 0 ? v : MIN ((v * 255 + a / 2) / a, 255));
    }
    rgba[4 * x + 3] = (guint8)(coverage != NULL ? (a * coverage[x] + 127) / 255 : a);
  }
  if (f->adjust != NULL)
    sb_colour_apply (f->adjust, rgba, (gsize)f->width);
  for (int x = 0; x < f->width; x++)
    row[x] = sb_argb_from_rgba8 (rgba + 4 * x);
}

static void
count_row (const Finish *f, const guint8 *rgba, guint32 (*counts)[256])
{
  for (int x = 0; x < f->width; x += f->every) {
    const guint8 *p = rgba + 4 * x;
    if (p[3] < 128)
      continue;
    counts[0][(int)(sb_lab_from_rgb (p[0], p[1], p[2]).l * 2.55f + 0.5f)]++;
    for (int c = 0; c < 3; c++)
      counts[1 + c][p[c]]++;
  }
}

static void
add_counts (Finish *f, guint32 (*counts)[256], guint64 covered)
{
  g_mutex_lock (&f->lock);
  f->covered += covered;
  for (int k = 0; k < 4; k++)
    for (int v = 0; v < 256; v++)
      f->result->histogram[k][v] += counts[k][v];
  g_mutex_unlock (&f->lock);
}

static void
finish_rows (int first, int end, gpointer data)
{
  Finish *f = data;
  g_autofree guint8 *rgba = g_malloc (4 * (gsize)f->width);
  guint32 counts[4][256] = {{0}};
  guint64 covered = 0;

  for (int y = first; y < end; y++) {
    finish_row (f, (guint32 *)(void *)(f->pixels + (gsize)y * f->stride),
                f->coverage != NULL ? f->coverage + (gsize)y * (gsize)f->width : NULL, rgba);
    for (int x = 0; x < f->width; x++)
      covered += rgba[4 * x + 3];
    if (y % f->every == 0)
      count_row (f, rgba, counts);
  }
  add_counts (f, counts, covered);
}

static void
count_specks (SbCleanResult *result)
{
  for (guint i = 0; i < result->specks->len; i++) {
    const SbSpeck *speck = &g_array_index (result->specks, SbSpeck, i);
    if (speck->put_back)
      continue;
    if (speck->kind == SB_SPECK_DUST)
      result->n_dust++;
    else if (speck->kind == SB_SPECK_HAIR)
      result->n_hairs++;
    else
      result->n_pinholes++;
  }
}

SbCleanResult *
sb_clean_finish (SbCleanWork *work, const guint8 *coverage)
{
  SbCleanResult *result = g_new0 (SbCleanResult, 1);
  g_autoptr (SbColour) adjust = sb_adjust_new (&work->recipe->adjust);
  double pixels = (double)work->mask.width * work->mask.height;

  g_atomic_ref_count_init (&result->refs);
  result->surface = g_steal_pointer (&work->surface);
  result->width = work->mask.width;
  result->height = work->mask.height;
  result->specks = g_array_ref (work->specks);
  result->has_paper = work->light != NULL;
  if (work->light != NULL)
    memcpy (result->paper, work->light->paper, sizeof result->paper);
  result->to_picture = sb_map_invert (&work->from_picture);
  count_specks (result);

  cairo_surface_flush (result->surface);
  Finish f = {.pixels = cairo_image_surface_get_data (result->surface),
              .stride = (gsize)cairo_image_surface_get_stride (result->surface),
              .width = work->mask.width,
              .coverage = coverage,
              .adjust = adjust,
              .every = MAX ((int)ceil (sqrt (pixels / MOST_COUNTED)), 1),
              .result = result};
  g_mutex_init (&f.lock);
  sb_bands_run (work->mask.height, finish_rows, &f);
  g_mutex_clear (&f.lock);
  cairo_surface_mark_dirty (result->surface);
  result->covered = (double)f.covered / 255 / pixels;
  return result;
}

SbCleanResult *
sb_clean_result_without_pixels (const SbCleanResult *result)
{
  SbCleanResult *rest = g_memdup2 (result, sizeof *result);

  g_atomic_ref_count_init (&rest->refs);
  rest->surface = NULL;
  g_array_ref (rest->specks);
  return rest;
}

SbCleanResult *
sb_clean_result_ref (SbCleanResult *result)
{
  g_atomic_ref_count_inc (&result->refs);
  return result;
}

void
sb_clean_result_unref (SbCleanResult *result)
{
  if (!g_atomic_ref_count_dec (&result->refs))
    return;
  g_clear_pointer (&result->surface, cairo_surface_destroy);
  g_array_unref (result->specks);
  g_free (result);
}

SbPoint
sb_clean_result_to_picture (const SbCleanResult *result, double x, double y)
{
  return sb_map_point (&result->to_picture, (SbPoint){x, y});
}

double
sb_clean_result_scale (const SbCleanResult *result, double x, double y, double length)
{
  SbPoint at = sb_clean_result_to_picture (result, x, y);
  SbPoint right = sb_clean_result_to_picture (result, x + 1, y);
  SbPoint below = sb_clean_result_to_picture (result, x, y + 1);
  double area = (right.x - at.x) * (below.y - at.y) - (right.y - at.y) * (below.x - at.x);
  return length * sqrt (fabs (area));
}

/* Whether a stroke puts back what lies in the box: a click on it, or a brush over it. */
static gboolean
puts_back (const SbCleanResult *result, const SbSpeck *speck, const SbStroke *stroke)
{
  SbMap from_picture = sb_map_invert (&result->to_picture);

  if (stroke->kind != SB_STROKE_PUT_BACK)
    return FALSE;
  for (guint i = 0; i < stroke->n_points; i++) {
    SbPoint at =
        sb_map_point (&from_picture, (SbPoint){stroke->points[2 * i], stroke->points[2 * i + 1]});
    if (at.x >= speck->x0 - 1 && at.x <= speck->x1 + 1 && at.y >= speck->y0 - 1 &&
        at.y <= speck->y1 + 1)
      return TRUE;
  }
  return FALSE;
}

SbStrokes *
sb_clean_result_toggle_speck (const SbCleanResult *result, guint speck, const SbStrokes *strokes)
{
  g_return_val_if_fail (speck < result->specks->len, sb_strokes_ref ((SbStrokes *)strokes));
  const SbSpeck *it = &g_array_index (result->specks, SbSpeck, speck);
  g_autoptr (SbStrokes) left = sb_strokes_ref ((SbStrokes *)strokes);

  if (!it->put_back) {
    SbPoint at = sb_clean_result_to_picture (result, it->x + 0.5, it->y + 0.5);
    const float points[2] = {(float)at.x, (float)at.y};
    /* As wide as a pixel: it must be met at any other size too. */
    const SbStroke click = {SB_STROKE_PUT_BACK,
                            (float)sb_clean_result_scale (result, it->x, it->y, 1), 1, points};
    return sb_strokes_add (left, &click);
  }
  for (guint i = sb_strokes_get_n (left); i-- > 0;) {
    SbStroke stroke = sb_strokes_get (left, i);
    if (!puts_back (result, it, &stroke))
      continue;
    SbStrokes *fewer = sb_strokes_without (left, i);
    sb_strokes_unref (left);
    left = fewer;
  }
  return g_steal_pointer (&left);
}
