/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The early steps of a clean-up, and what is kept of them. */
#include "config.h"

#include "picture/cleanup.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "picture/cleaner.h"
#include "picture/private.h"

/* Light is slow: a sheet that only serves to find it need not be larger, px. */
#define SHEET_SIDE 1200

struct _SbCleaner {
  cairo_surface_t *picture;
  gboolean keep;
  /* What the steps below were made with. */
  SbCleanup made;
  int width, height, radius;
  cairo_surface_t *framed; /* the frame's pixels, as they came in */
  gboolean light_is_known;
  SbLight *light;                /* NULL: none found, or not asked for */
  int light_width, light_height; /* of the surface it was found on */
  cairo_surface_t *evened;       /* light divided out, retouched */
  guint8 *distances;             /* to the paper */
};

SbCleaner *
sb_cleaner_new (cairo_surface_t *picture, gboolean keep)
{
  SbCleaner *cleaner = g_new0 (SbCleaner, 1);
  cleaner->picture = cairo_surface_reference (picture);
  cleaner->keep = keep;
  return cleaner;
}

static void
drop_distances (SbCleaner *cleaner)
{
  g_clear_pointer (&cleaner->distances, g_free);
}

static void
drop_evened (SbCleaner *cleaner)
{
  g_clear_pointer (&cleaner->evened, cairo_surface_destroy);
  drop_distances (cleaner);
}

static void
drop_light (SbCleaner *cleaner)
{
  g_clear_pointer (&cleaner->light, sb_light_free);
  cleaner->light_is_known = FALSE;
  drop_evened (cleaner);
}

static void
drop_framed (SbCleaner *cleaner)
{
  g_clear_pointer (&cleaner->framed, cairo_surface_destroy);
  drop_light (cleaner);
}

void
sb_cleaner_free (SbCleaner *cleaner)
{
  if (cleaner == NULL)
    return;
  drop_framed (cleaner);
  sb_strokes_unref (cleaner->made.strokes);
  cairo_surface_destroy (cleaner->picture);
  g_free (cleaner);
}

static gboolean
retouched_alike (const SbStrokes *a, const SbStrokes *b)
{
  return sb_strokes_equal (a, b) ||
         (!sb_strokes_have (a, SB_STROKE_RETOUCH) && !sb_strokes_have (b, SB_STROKE_RETOUCH));
}

static gboolean
wants_light (const SbCleanup *recipe)
{
  return recipe->remove_paper || recipe->even_light || recipe->whiten;
}

/* Lets go of the first step that the new recipe changes, and of those after it. */
static void
drop_what_changes (SbCleaner *cleaner, const SbCleanup *recipe, int width, int height, int radius)
{
  const SbCleanup *made = &cleaner->made;

  if (cleaner->width != width || cleaner->height != height ||
      !sb_quad_equal (sb_cleanup_get_frame (made), sb_cleanup_get_frame (recipe)))
    drop_framed (cleaner);
  if (!sb_quad_equal (&made->sheet, &recipe->sheet) || wants_light (made) != wants_light (recipe) ||
      made->even_light != recipe->even_light || made->paper_picked != recipe->paper_picked ||
      (recipe->paper_picked && memcmp (made->paper, recipe->paper, sizeof made->paper) != 0))
    drop_light (cleaner);
  if (!retouched_alike (made->strokes, recipe->strokes))
    drop_evened (cleaner);
  if (cleaner->radius != radius)
    drop_distances (cleaner);

  SbStrokes *strokes = sb_strokes_ref (recipe->strokes);
  sb_strokes_unref (made->strokes);
  cleaner->made = *recipe;
  cleaner->made.strokes = strokes;
  cleaner->width = width;
  cleaner->height = height;
  cleaner->radius = radius;
}

static int
width_of (cairo_surface_t *surface)
{
  return cairo_image_surface_get_width (surface);
}

static int
height_of (cairo_surface_t *surface)
{
  return cairo_image_surface_get_height (surface);
}

static gboolean
make_framed (SbCleaner *cleaner, GCancellable *cancellable, GError **error)
{
  const SbQuad *frame = sb_cleanup_get_frame (&cleaner->made);

  if (cleaner->framed != NULL)
    return TRUE;
  if (!frame->set && cleaner->width == width_of (cleaner->picture) &&
      cleaner->height == height_of (cleaner->picture)) {
    cleaner->framed = cairo_surface_reference (cleaner->picture);
    return TRUE;
  }
  cleaner->framed =
      sb_picture_new_surface (cleaner->width, cleaner->height, _ ("the picture"), error);
  if (cleaner->framed == NULL)
    return FALSE;
  if (!sb_quad_fill (frame, cleaner->picture, cleaner->framed, cancellable, error)) {
    drop_framed (cleaner);
    return FALSE;
  }
  return TRUE;
}

/* The sheet alone, where the frame shows only a part of it; NULL with an error. */
static cairo_surface_t *
make_sheet (const SbCleaner *cleaner, GCancellable *cancellable, GError **error)
{
  const SbQuad *sheet = &cleaner->made.sheet;
  double scale = MIN (1, (double)SHEET_SIDE / MAX (sheet->width, sheet->height));
  cairo_surface_t *surface =
      sb_picture_new_surface (MAX ((int)(sheet->width * scale), 1),
                              MAX ((int)(sheet->height * scale), 1), _ ("the picture"), error);

  if (surface != NULL && !sb_quad_fill (sheet, cleaner->picture, surface, cancellable, error))
    g_clear_pointer (&surface, cairo_surface_destroy);
  return surface;
}

static gboolean
has_part_of_sheet (const SbCleanup *recipe)
{
  return recipe->frame.set && recipe->sheet.set;
}

static gboolean
make_light (SbCleaner *cleaner, GCancellable *cancellable, GError **error)
{
  const SbCleanup *recipe = &cleaner->made;

  if (cleaner->light_is_known)
    return TRUE;
  if (wants_light (recipe)) {
    cairo_surface_t *sheet = has_part_of_sheet (recipe) ? make_sheet (cleaner, cancellable, error)
                                                        : cairo_surface_reference (cleaner->framed);
    if (sheet == NULL)
      return FALSE;
    cleaner->light =
        sb_light_estimate (sheet, recipe->paper_picked ? recipe->paper : NULL, recipe->even_light);
    cleaner->light_width = width_of (sheet);
    cleaner->light_height = height_of (sheet);
    cairo_surface_destroy (sheet);
  }
  cleaner->light_is_known = TRUE;
  return TRUE;
}

static SbMap
chain (const SbMap *first, const SbMap *then)
{
  SbMap both;
  for (int r = 0; r < 3; r++)
    for (int c = 0; c < 3; c++) {
      double sum = 0;
      for (int k = 0; k < 3; k++)
        sum += then->m[3 * r + k] * first->m[3 * k + c];
      both.m[3 * r + c] = sum;
    }
  return both;
}

static void
divide_light (SbCleaner *cleaner)
{
  const SbCleanup *recipe = &cleaner->made;

  if (!has_part_of_sheet (recipe)) {
    sb_light_divide (cleaner->light, NULL, cleaner->framed, cleaner->evened);
    return;
  }
  SbMap to_picture = sb_quad_get_map (&recipe->frame, cleaner->width, cleaner->height, 1);
  SbMap to_sheet = sb_quad_get_map (&recipe->sheet, cleaner->light_width, cleaner->light_height, 1);
  to_sheet = sb_map_invert (&to_sheet);
  SbMap map = chain (&to_picture, &to_sheet);
  sb_light_divide (cleaner->light, &map, cleaner->framed, cleaner->evened);
}

static cairo_surface_t *
copy_surface (cairo_surface_t *from, GError **error)
{
  cairo_surface_t *copy =
      sb_picture_new_surface (width_of (from), height_of (from), _ ("the picture"), error);
  if (copy == NULL)
    return NULL;
  cairo_surface_flush (from);
  memcpy (cairo_image_surface_get_data (copy), cairo_image_surface_get_data (from),
          (gsize)cairo_image_surface_get_stride (from) * (gsize)height_of (from));
  cairo_surface_mark_dirty (copy);
  return copy;
}

static gboolean
make_evened (SbCleaner *cleaner, const SbMap *from_picture, GError **error)
{
  if (cleaner->evened != NULL)
    return TRUE;
  if (cleaner->light != NULL) {
    cleaner->evened =
        sb_picture_new_surface (cleaner->width, cleaner->height, _ ("the picture"), error);
    if (cleaner->evened != NULL)
      divide_light (cleaner);
  } else {
    cleaner->evened = copy_surface (cleaner->framed, error);
  }
  if (cleaner->evened == NULL)
    return FALSE;
  sb_clean_retouch (cleaner->made.strokes, from_picture, cleaner->evened);
  return TRUE;
}

gboolean
sb_clean_work_step (const SbCleanWork *work, double done, GError **error)
{
  if (work->progress != NULL)
    work->progress (done, work->progress_data);
  return !g_cancellable_set_error_if_cancelled (work->cancellable, error);
}

static gboolean
needs_mask (const SbCleanWork *work)
{
  return work->light != NULL && (work->recipe->remove_paper || work->recipe->whiten);
}

static gboolean
make_steps (SbCleaner *cleaner, SbCleanWork *work, GError **error)
{
  if (!make_framed (cleaner, work->cancellable, error) || !sb_clean_work_step (work, 0.1, error) ||
      !make_light (cleaner, work->cancellable, error) || !sb_clean_work_step (work, 0.15, error) ||
      !make_evened (cleaner, &work->from_picture, error) || !sb_clean_work_step (work, 0.3, error))
    return FALSE;
  work->light = cleaner->light;
  if (!needs_mask (work) || cleaner->distances != NULL)
    return TRUE;
  cleaner->distances = g_malloc ((gsize)cleaner->width * (gsize)cleaner->height);
  const SbMask mask = {cleaner->width, cleaner->height, cleaner->distances};
  sb_mask_measure (&mask, cleaner->evened, work->light->paper, cleaner->radius);
  return sb_clean_work_step (work, 0.45, error);
}

/* Copies of what the late steps write into, or the things themselves where they are not kept. */
static gboolean
take_steps (SbCleaner *cleaner, SbCleanWork *work, GError **error)
{
  gsize n = (gsize)cleaner->width * (gsize)cleaner->height;

  if (!cleaner->keep) {
    work->surface = g_steal_pointer (&cleaner->evened);
    work->mask.plane = g_steal_pointer (&cleaner->distances);
    return TRUE;
  }
  work->surface = copy_surface (cleaner->evened, error);
  if (cleaner->distances != NULL)
    work->mask.plane = g_memdup2 (cleaner->distances, n);
  return work->surface != NULL;
}

static SbCleanResult *
finish (SbCleaner *cleaner, SbCleanWork *work, GError **error)
{
  if (!make_steps (cleaner, work, error) || !take_steps (cleaner, work, error))
    return NULL;
  if (needs_mask (work) && !sb_clean_make_mask (work, error))
    return NULL;
  if (work->light == NULL || !work->recipe->remove_paper) {
    g_free (work->mask.plane);
    work->mask.plane = sb_clean_cover_by_hand (work);
  }
  SbCleanResult *result = sb_clean_finish (work, work->mask.plane);
  if (!sb_clean_work_step (work, 1, error))
    g_clear_pointer (&result, sb_clean_result_unref);
  return result;
}

SbCleanResult *
sb_cleaner_run (SbCleaner *cleaner, const SbCleanup *recipe, int width, int height,
                double px_per_mm, SbProgress progress, gpointer progress_data,
                GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) specks = g_array_new (FALSE, FALSE, sizeof (SbSpeck));
  int radius = (int)lround (CLAMP (recipe->smoothness_mm * px_per_mm, 0, SB_MASK_MOST_RADIUS));
  SbMap to_picture = sb_quad_get_map (sb_cleanup_get_frame (recipe), width, height, 1);
  SbCleanWork work = {.recipe = &cleaner->made,
                      .px_per_mm = px_per_mm,
                      .from_picture = sb_map_invert (&to_picture),
                      .mask = {width, height, NULL},
                      .radius = radius,
                      .specks = specks,
                      .progress = progress,
                      .progress_data = progress_data,
                      .cancellable = cancellable};

  drop_what_changes (cleaner, recipe, width, height, radius);
  SbCleanResult *result = finish (cleaner, &work, error);
  if (work.surface != NULL)
    cairo_surface_destroy (work.surface);
  g_free (work.mask.plane);
  return result;
}
