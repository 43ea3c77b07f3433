/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "picture/cleanup.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "picture/bands.h"
#include "picture/lab.h"
#include "picture/light.h"
#include "picture/paper.h"
#include "picture/private.h"

#define HAIR_LENGTH_MM 10.0
/* Grain must not count as artwork: the tolerance is at least this many times its spread. */
#define GRAIN_TIMES 1.5

typedef struct {
  const SbCleanup *recipe;
  const SbStroke *strokes;
  guint n_strokes;
  double px_per_mm;
  cairo_surface_t *surface; /* the result, opaque until the end */
  const SbLight *light;
  SbMask mask;
  int radius; /* px of averaging */
  GArray *specks;
  SbProgress progress;
  gpointer progress_data;
  GCancellable *cancellable;
} Work;

SbCleanup
sb_cleanup_default (void)
{
  return (SbCleanup){.remove_paper = TRUE,
                     .even_light = TRUE,
                     .tolerance = 8,
                     .smoothness_mm = 0.05,
                     .speck_mm = 0.5,
                     .hair_mm = 0.15,
                     .pinhole_mm = 0.7};
}

SbCleanup
sb_cleanup_none (void)
{
  SbCleanup recipe = sb_cleanup_default ();
  recipe.remove_paper = recipe.even_light = FALSE;
  return recipe;
}

gboolean
sb_cleanup_is_none (const SbCleanup *recipe)
{
  return !recipe->remove_paper && !recipe->even_light && sb_adjust_is_none (&recipe->adjust);
}

gboolean
sb_cleanup_equal (const SbCleanup *a, const SbCleanup *b)
{
  return a->remove_paper == b->remove_paper && a->even_light == b->even_light &&
         a->paper_picked == b->paper_picked &&
         (!a->paper_picked || memcmp (a->paper, b->paper, sizeof a->paper) == 0) &&
         a->tolerance == b->tolerance && a->smoothness_mm == b->smoothness_mm &&
         a->open_enclosed == b->open_enclosed && a->speck_mm == b->speck_mm &&
         a->hair_mm == b->hair_mm && a->pinhole_mm == b->pinhole_mm &&
         a->adjust.brightness == b->adjust.brightness && a->adjust.contrast == b->adjust.contrast &&
         a->adjust.warmth == b->adjust.warmth && a->adjust.saturation == b->adjust.saturation;
}

static gboolean
step_done (const Work *work, double done, GError **error)
{
  if (work->progress != NULL)
    work->progress (done, work->progress_data);
  return !g_cancellable_set_error_if_cancelled (work->cancellable, error);
}

/* Calls `visit` for each row of pixels under a stroke; the brush is a disc moved along it. */
typedef void (*StretchFunc) (const Work *work, int y, int x0, int x1, gpointer data);

static void
visit_disc (const Work *work, double x, double y, double radius, StretchFunc visit, gpointer data)
{
  int top = MAX ((int)ceil (y - radius - 0.5), 0);
  int bottom = MIN ((int)floor (y + radius - 0.5), work->mask.height - 1);

  for (int j = top; j <= bottom; j++) {
    double down = j + 0.5 - y, half = sqrt (MAX (radius * radius - down * down, 0));
    int x0 = MAX ((int)ceil (x - half - 0.5), 0);
    int x1 = MIN ((int)floor (x + half - 0.5) + 1, work->mask.width);
    if (x0 < x1)
      visit (work, j, x0, x1, data);
  }
}

static void
visit_stroke (const Work *work, const SbStroke *stroke, StretchFunc visit, gpointer data)
{
  double scale = work->mask.width;
  double radius = MAX (stroke->radius * scale, 0.71); /* any place holds at least one pixel */

  for (guint i = 0; i < stroke->n_points; i++) {
    const float *to = stroke->points + 2 * i, *from = i > 0 ? to - 2 : to;
    double dx = (to[0] - from[0]) * scale, dy = (to[1] - from[1]) * scale;
    int steps = (int)CLAMP (hypot (dx, dy) / MAX (radius / 4, 0.5), 1, 1e5);
    for (int k = i > 0 ? 1 : steps; k <= steps; k++)
      visit_disc (work, from[0] * scale + dx * k / steps, from[1] * scale + dy * k / steps, radius,
                  visit, data);
  }
}

static guint8 *
mask_row (const Work *work, int y)
{
  return work->mask.plane + (gsize)y * (gsize)work->mask.width;
}

static void
set_stretch (const Work *work, int y, int x0, int x1, gpointer data)
{
  memset (mask_row (work, y) + x0, GPOINTER_TO_INT (data), (gsize)(x1 - x0));
}

static void
open_stretch (const Work *work, int y, int x0, int x1, gpointer data)
{
  for (int x = x0; x < x1; x++)
    if (mask_row (work, y)[x] == SB_MASK_LIKE_PAPER)
      sb_mask_flood_from (&work->mask, x, y, NULL, NULL);
}

static void
mark_stretch (const Work *work, int y, int x0, int x1, gpointer data)
{
  guint8 *marks = data;
  memset (marks + (gsize)y * (gsize)work->mask.width + x0, 1, (gsize)(x1 - x0));
}

static void
apply_strokes (const Work *work)
{
  for (guint i = 0; i < work->n_strokes; i++) {
    const SbStroke *stroke = work->strokes + i;
    switch (stroke->kind) {
    case SB_STROKE_KEEP:
      visit_stroke (work, stroke, set_stretch, GINT_TO_POINTER (SB_MASK_ARTWORK));
      break;
    case SB_STROKE_REMOVE:
      visit_stroke (work, stroke, set_stretch, GINT_TO_POINTER (SB_MASK_PAPER));
      break;
    case SB_STROKE_OPEN:
      visit_stroke (work, stroke, open_stretch, NULL);
      break;
    case SB_STROKE_PUT_BACK:
    default:
      break;
    }
  }
}

/* What a speck must touch to stay: strokes that put back or keep. NULL when there are none. */
static guint8 *
marks_of_kept (const Work *work)
{
  guint8 *marks = NULL;

  for (guint i = 0; i < work->n_strokes; i++) {
    const SbStroke *stroke = work->strokes + i;
    if (stroke->kind != SB_STROKE_PUT_BACK && stroke->kind != SB_STROKE_KEEP)
      continue;
    if (marks == NULL)
      marks = g_malloc0 ((gsize)work->mask.width * (gsize)work->mask.height);
    visit_stroke (work, stroke, mark_stretch, marks);
  }
  return marks;
}

static void
drop_specks (const Work *work)
{
  const SbCleanup *recipe = work->recipe;
  g_autofree guint8 *kept = marks_of_kept (work);
  const SbSpeckSizes sizes = {.dust = recipe->speck_mm * work->px_per_mm,
                              .hair_width = recipe->hair_mm * work->px_per_mm,
                              .hair_length = HAIR_LENGTH_MM * work->px_per_mm,
                              /* Averaging widens the mask, and so do half covered pixels. */
                              .margin = work->radius + 0.5};

  if (recipe->open_enclosed)
    sb_pinholes_fill (&work->mask, recipe->pinhole_mm * work->px_per_mm, work->specks);
  if (recipe->speck_mm > 0 || recipe->hair_mm > 0)
    sb_specks_remove (&work->mask, &sizes, kept, work->specks);
}

/* All of one colour that is too dark for an empty sheet: a swatch. */
static gboolean
is_swatch (const Work *work)
{
  const guint8 *paper = work->light->paper;
  gsize n = (gsize)work->mask.width * (gsize)work->mask.height;
  return !work->recipe->paper_picked && memchr (work->mask.plane, SB_MASK_ARTWORK, n) == NULL &&
         sb_lab_from_rgb (paper[0], paper[1], paper[2]).l < SB_PAPER_LEAST_LIGHTNESS;
}

static gboolean
make_mask (Work *work, GError **error)
{
  const SbLight *light = work->light;
  double side = 2 * work->radius + 1;
  double tolerance = MAX (work->recipe->tolerance, GRAIN_TIMES * light->noise / side);

  sb_mask_compare (&work->mask, work->surface, light->paper, tolerance, work->radius);
  if (!step_done (work, 0.45, error) || !sb_mask_flood (&work->mask, work->cancellable, error) ||
      !step_done (work, 0.55, error))
    return FALSE;
  if (is_swatch (work))
    memset (work->mask.plane, SB_MASK_ARTWORK, (gsize)work->mask.width * (gsize)work->mask.height);
  apply_strokes (work);
  drop_specks (work);
  sb_mask_close (&work->mask);
  return step_done (work, 0.7, error) &&
         sb_mask_soften (&work->mask, work->surface, light->paper, light->noise, work->radius + 1,
                         TRUE, work->cancellable, error) &&
         step_done (work, 0.9, error);
}

typedef struct {
  guint8 *pixels;
  gsize stride;
  int width;
  const guint8 *coverage; /* NULL: the surface's own */
  SbColour *adjust;
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
    rgba[4 * x + 3] = coverage != NULL ? coverage[x] : (guint8)a;
  }
  if (f->adjust != NULL)
    sb_colour_apply (f->adjust, rgba, (gsize)f->width);
  for (int x = 0; x < f->width; x++)
    row[x] = sb_argb_from_rgba8 (rgba + 4 * x);
}

static void
finish_rows (int first, int end, gpointer data)
{
  const Finish *f = data;
  g_autofree guint8 *rgba = g_malloc (4 * (gsize)f->width);

  for (int y = first; y < end; y++)
    finish_row (f, (guint32 *)(void *)(f->pixels + (gsize)y * f->stride),
                f->coverage != NULL ? f->coverage + (gsize)y * (gsize)f->width : NULL, rgba);
}

static void
finish (const Work *work, const guint8 *coverage)
{
  g_autoptr (SbColour) adjust = sb_adjust_new (&work->recipe->adjust);

  cairo_surface_flush (work->surface);
  Finish f = {cairo_image_surface_get_data (work->surface),
              (gsize)cairo_image_surface_get_stride (work->surface), work->mask.width, coverage,
              adjust};
  sb_bands_run (work->mask.height, finish_rows, &f);
  cairo_surface_mark_dirty (work->surface);
}

static void
copy_surface (cairo_surface_t *from, cairo_surface_t *into)
{
  cairo_t *cr = cairo_create (into);
  cairo_set_operator (cr, CAIRO_OPERATOR_SOURCE);
  cairo_set_source_surface (cr, from, 0, 0);
  cairo_paint (cr);
  cairo_destroy (cr);
}

static gboolean
clean (Work *work, cairo_surface_t *picture, GError **error)
{
  const SbCleanup *recipe = work->recipe;
  gboolean wanted = recipe->remove_paper || recipe->even_light;
  g_autoptr (SbLight) light =
      wanted ? sb_light_estimate (picture, recipe->paper_picked ? recipe->paper : NULL,
                                  recipe->even_light)
             : NULL;
  g_autofree guint8 *plane = NULL;

  if (!step_done (work, 0.1, error))
    return FALSE;
  if (light != NULL)
    sb_light_divide (light, picture, work->surface);
  else
    copy_surface (picture, work->surface);
  if (!step_done (work, 0.3, error))
    return FALSE;
  if (light != NULL && recipe->remove_paper) {
    plane = g_malloc ((gsize)work->mask.width * (gsize)work->mask.height);
    work->light = light;
    work->mask.plane = plane;
    if (!make_mask (work, error))
      return FALSE;
  }
  finish (work, plane);
  return step_done (work, 1, error);
}

cairo_surface_t *
sb_cleanup_run (const SbCleanup *recipe, const SbStroke *strokes, guint n_strokes,
                cairo_surface_t *picture, double px_per_mm, SbProgress progress,
                gpointer progress_data, GArray *specks, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) found =
      specks != NULL ? g_array_ref (specks) : g_array_new (FALSE, FALSE, sizeof (SbSpeck));
  Work work = {.recipe = recipe,
               .strokes = strokes,
               .n_strokes = n_strokes,
               .px_per_mm = px_per_mm,
               .mask = {cairo_image_surface_get_width (picture),
                        cairo_image_surface_get_height (picture), NULL},
               .radius =
                   (int)lround (CLAMP (recipe->smoothness_mm * px_per_mm, 0, SB_MASK_MOST_RADIUS)),
               .specks = found,
               .progress = progress,
               .progress_data = progress_data,
               .cancellable = cancellable};

  work.surface =
      sb_picture_new_surface (work.mask.width, work.mask.height, _ ("the picture"), error);
  if (work.surface == NULL)
    return NULL;
  if (!clean (&work, picture, error))
    g_clear_pointer (&work.surface, cairo_surface_destroy);
  return work.surface;
}
