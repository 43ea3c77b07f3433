/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/design-split.h"

#include <glib/gi18n.h>

#include "job/job-json.h"

SbSplit *
sb_design_find_paintings (const SbDesign *scan, GCancellable *cancellable, GError **error)
{
  SbSplitParams params = sb_split_params_default ();
  cairo_surface_t *surface = sb_picture_decode (scan->picture, cancellable, error);
  if (surface == NULL)
    return NULL;
  g_autoptr (SbSplit) split =
      sb_split_new (surface, sb_design_get_px_per_mm (scan), &params, cancellable, error);
  cairo_surface_destroy (surface);
  if (split == NULL || sb_split_get_n_parts (split) > 0)
    return g_steal_pointer (&split);
  g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_EMPTY,
               _ ("%s has nothing on its paper that is %g mm or larger."), scan->name,
               params.least_mm);
  return NULL;
}

/* Ten to the gap between paintings. */
#define COARSE_PX_PER_MM 4.0

guint
sb_design_count_paintings (const SbDesign *scan, GCancellable *cancellable)
{
  SbSplitParams params = sb_split_params_default ();
  double px_per_mm = sb_design_get_px_per_mm (scan);
  double scale = MIN (COARSE_PX_PER_MM / px_per_mm, 1);
  int width = MAX ((int)(sb_picture_get_width (scan->picture) * scale), 1);
  int height = MAX ((int)(sb_picture_get_height (scan->picture) * scale), 1);

  if (!scan->cleanup.remove_paper || sb_picture_get_kind (scan->picture) == SB_PICTURE_VECTOR)
    return 1;
  cairo_surface_t *surface = sb_picture_render (scan->picture, width, height, cancellable, NULL);
  if (surface == NULL)
    return 1;
  g_autoptr (SbSplit) split = sb_split_new (surface, px_per_mm * scale, &params, cancellable, NULL);
  cairo_surface_destroy (surface);
  return split != NULL ? MAX (sb_split_get_n_parts (split), 1) : 1;
}

/* From px of the scan's picture to parts of the width of the one it was made of. */
static SbMap
map_of (const SbDesign *scan)
{
  return sb_quad_get_map (sb_cleanup_get_frame (&scan->cleanup),
                          sb_picture_get_width (scan->picture),
                          sb_picture_get_height (scan->picture), 1);
}

/* What the scan shows is the sheet that all paintings' paper and light are looked for on. */
static SbQuad
sheet_of (const SbDesign *scan)
{
  const SbQuad *frame = sb_cleanup_get_frame (&scan->cleanup);
  if (scan->cleanup.sheet.set)
    return scan->cleanup.sheet;
  if (frame->set)
    return *frame;
  int width = sb_picture_get_width (scan->picture);
  return sb_quad_crop (width, 0, 0, width, sb_picture_get_height (scan->picture));
}

static SbQuad
frame_of (const SbDesign *scan, const SbSplit *split, guint i, gboolean straighten)
{
  SbQuad quad = sb_split_get_quad (split, i, straighten);
  SbMap map = map_of (scan);
  int width = sb_picture_get_width (scan->picture);
  for (int k = 0; k < 4; k++)
    quad.corners[k] =
        sb_map_point (&map, (SbPoint){quad.corners[k].x * width, quad.corners[k].y * width});
  return quad;
}

/* The scan's strokes, and a lasso around the painting where others are near. */
static SbStrokes *
strokes_of (const SbDesign *scan, const SbSplit *split, guint i)
{
  g_autoptr (GArray) lasso = sb_split_get_lasso (split, i);
  if (lasso == NULL)
    return sb_strokes_ref (scan->cleanup.strokes);
  SbMap map = map_of (scan);
  g_autofree float *points = g_new (float, 2 * lasso->len);
  for (guint k = 0; k < lasso->len; k++) {
    SbPoint p = sb_map_point (&map, g_array_index (lasso, SbPoint, k));
    points[2 * k] = (float)p.x;
    points[2 * k + 1] = (float)p.y;
  }
  const SbStroke stroke = {SB_STROKE_LASSO, 0, lasso->len, points};
  return sb_strokes_add (scan->cleanup.strokes, &stroke);
}

static SbDesign *
design_of (const SbDesign *scan, const SbSplit *split, guint i, gboolean straighten)
{
  g_autofree char *name = g_strdup_printf ("%s %u", scan->name, i + 1);
  g_autoptr (SbStrokes) strokes = strokes_of (scan, split, i);
  SbDesign *design = sb_design_copy (scan);
  SbCleanup recipe = scan->cleanup;
  recipe.sheet = sheet_of (scan);
  recipe.frame = frame_of (scan, split, i, straighten);
  recipe.strokes = strokes;
  design->id = 0;
  sb_design_set_name (design, name);
  sb_design_set_cleanup (design, &recipe);
  return design;
}

GPtrArray *
sb_design_split (const SbDesign *scan, const SbSplit *split, gboolean straighten,
                 GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) designs = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_design_unref);
  for (guint i = 0; i < sb_split_get_n_parts (split); i++)
    g_ptr_array_add (designs, design_of (scan, split, i, straighten));
  return sb_designs_prepare (designs, cancellable, error) ? g_steal_pointer (&designs) : NULL;
}
