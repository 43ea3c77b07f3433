/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * From distances to the paper to coverage. */
#include <math.h>
#include <string.h>

#include "picture/brush.h"
#include "picture/cleaner.h"
#include "picture/lab.h"
#include "picture/paper.h"

#define HAIR_LENGTH_MM 10.0
/* Grain must not count as artwork: the tolerance is at least this many times its spread. */
#define GRAIN_TIMES 1.5

static gsize
mask_size (const SbMask *mask)
{
  return (gsize)mask->width * (gsize)mask->height;
}

static guint8 *
mask_row (const SbMask *mask, int y)
{
  return mask->plane + (gsize)y * (gsize)mask->width;
}

static void
visit (const SbCleanWork *work, const SbStroke *stroke, SbBrushFunc func, gpointer data)
{
  sb_brush_visit (stroke, &work->from_picture, work->mask.width, work->mask.height, func, data);
}

static void
keep_stretch (int y, int x0, int x1, gpointer mask)
{
  memset (mask_row (mask, y) + x0, SB_MASK_ARTWORK, (gsize)(x1 - x0));
}

static void
remove_stretch (int y, int x0, int x1, gpointer mask)
{
  memset (mask_row (mask, y) + x0, SB_MASK_PAPER, (gsize)(x1 - x0));
}

static void
open_stretch (int y, int x0, int x1, gpointer mask)
{
  for (int x = x0; x < x1; x++)
    if (mask_row (mask, y)[x] == SB_MASK_LIKE_PAPER)
      sb_mask_flood_from (mask, x, y, NULL, NULL);
}

static void
apply_strokes (SbCleanWork *work)
{
  static const SbBrushFunc funcs[SB_STROKE_N_KINDS] = {
      [SB_STROKE_KEEP] = keep_stretch,
      [SB_STROKE_REMOVE] = remove_stretch,
      [SB_STROKE_OPEN] = open_stretch,
  };

  for (guint i = 0; i < sb_strokes_get_n (work->recipe->strokes); i++) {
    SbStroke stroke = sb_strokes_get (work->recipe->strokes, i);
    if (funcs[stroke.kind] != NULL)
      visit (work, &stroke, funcs[stroke.kind], &work->mask);
  }
}

/* What a speck must touch to stay: strokes that put back or keep. NULL when there are none. */
static guint8 *
marks_of_kept (const SbCleanWork *work)
{
  SbMask marks = work->mask;

  marks.plane = NULL;
  for (guint i = 0; i < sb_strokes_get_n (work->recipe->strokes); i++) {
    SbStroke stroke = sb_strokes_get (work->recipe->strokes, i);
    if (stroke.kind != SB_STROKE_PUT_BACK && stroke.kind != SB_STROKE_KEEP)
      continue;
    if (marks.plane == NULL)
      marks.plane = g_malloc0 (mask_size (&marks));
    visit (work, &stroke, keep_stretch, &marks);
  }
  return marks.plane;
}

static void
drop_specks (const SbCleanWork *work)
{
  const SbCleanup *recipe = work->recipe;
  g_autofree guint8 *kept = marks_of_kept (work);
  const SbSpeckSizes sizes = {.dust = recipe->speck_mm * work->px_per_mm,
                              .hair_width = recipe->hair_mm * work->px_per_mm,
                              .hair_length = HAIR_LENGTH_MM * work->px_per_mm,
                              /* Averaging widens the mask, and so do half covered pixels. */
                              .margin = work->radius + 0.5};

  /* Enclosed paper that stays is white as well. */
  if (recipe->open_enclosed || !recipe->remove_paper)
    sb_pinholes_fill (&work->mask, recipe->pinhole_mm * work->px_per_mm, kept, work->specks);
  if (recipe->speck_mm > 0 || recipe->hair_mm > 0)
    sb_specks_remove (&work->mask, &sizes, kept, work->specks);
}

/* All of one colour that is too dark for an empty sheet: a swatch. */
static gboolean
is_swatch (const SbCleanWork *work)
{
  const guint8 *paper = work->light->paper;
  return !work->recipe->paper_picked &&
         memchr (work->mask.plane, SB_MASK_ARTWORK, mask_size (&work->mask)) == NULL &&
         sb_lab_from_rgb (paper[0], paper[1], paper[2]).l < SB_PAPER_LEAST_LIGHTNESS;
}

typedef void (*OutsideFunc) (guint8 *coverage, guint8 inside);

static void
outside_is_paper (guint8 *coverage, guint8 inside)
{
  if (inside < 128)
    *coverage = SB_MASK_PAPER;
}

/* So that the flood passes. */
static void
outside_is_like_paper (guint8 *coverage, guint8 inside)
{
  if (inside < 128)
    *coverage = SB_MASK_LIKE_PAPER;
}

static void
cut_by_lasso (guint8 *coverage, guint8 inside)
{
  *coverage = MIN (*coverage, inside);
}

static void
for_lasso (const SbMask *mask, cairo_surface_t *inside, OutsideFunc func)
{
  const guint8 *data = cairo_image_surface_get_data (inside);
  gsize stride = (gsize)cairo_image_surface_get_stride (inside);

  for (int y = 0; y < mask->height; y++) {
    const guint8 *from = data + (gsize)y * stride;
    guint8 *row = mask_row (mask, y);
    for (int x = 0; x < mask->width; x++)
      if (from[x] < 255)
        func (row + x, from[x]);
  }
}

static void
apply_lassos (const SbCleanWork *work, OutsideFunc func)
{
  for (guint i = 0; i < sb_strokes_get_n (work->recipe->strokes); i++) {
    SbStroke stroke = sb_strokes_get (work->recipe->strokes, i);
    if (stroke.kind != SB_STROKE_LASSO)
      continue;
    cairo_surface_t *inside =
        sb_brush_fill_lasso (&stroke, &work->from_picture, work->mask.width, work->mask.height);
    if (inside == NULL)
      continue;
    for_lasso (&work->mask, inside, func);
    cairo_surface_destroy (inside);
  }
}

/* From distances to paper and artwork with hard edges. */
static gboolean
separate (SbCleanWork *work, GError **error)
{
  const SbLight *light = work->light;
  double side = 2 * work->radius + 1;
  double tolerance = MAX (work->recipe->tolerance, GRAIN_TIMES * light->noise / side);

  sb_mask_divide (&work->mask, tolerance);
  apply_lassos (work, outside_is_like_paper);
  if (!sb_mask_flood (&work->mask, work->cancellable, error) ||
      !sb_clean_work_step (work, 0.55, error))
    return FALSE;
  if (is_swatch (work))
    memset (work->mask.plane, SB_MASK_ARTWORK, mask_size (&work->mask));
  apply_lassos (work, outside_is_paper);
  apply_strokes (work);
  drop_specks (work);
  sb_mask_close (&work->mask);
  return sb_clean_work_step (work, 0.7, error);
}

static gboolean
soften (SbCleanWork *work, GError **error)
{
  const SbLight *light = work->light;

  if (!sb_mask_soften (&work->mask, work->surface, light->paper, light->noise, work->radius + 1,
                       TRUE, work->cancellable, error))
    return FALSE;
  apply_lassos (work, cut_by_lasso);
  return TRUE;
}

gboolean
sb_clean_make_mask (SbCleanWork *work, GError **error)
{
  gboolean removes = work->recipe->remove_paper;

  if (!separate (work, error) || (removes && !soften (work, error)))
    return FALSE;
  if (work->recipe->whiten)
    sb_clean_whiten (work);
  if (!removes)
    sb_clean_wipe_specks (work);
  return sb_clean_work_step (work, 0.9, error);
}

guint8 *
sb_clean_cover_by_hand (const SbCleanWork *work)
{
  SbCleanWork whole = *work;

  if (!sb_strokes_have (work->recipe->strokes, SB_STROKE_REMOVE) &&
      !sb_strokes_have (work->recipe->strokes, SB_STROKE_LASSO))
    return NULL;
  whole.mask.plane = g_malloc (mask_size (&whole.mask));
  memset (whole.mask.plane, SB_MASK_ARTWORK, mask_size (&whole.mask));
  apply_strokes (&whole);
  apply_lassos (&whole, cut_by_lasso);
  return whole.mask.plane;
}
