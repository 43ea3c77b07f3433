/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Strokes of a recipe as pixels of what is cleaned. */
#pragma once

#include "picture/quad.h"
#include "picture/strokes.h"

G_BEGIN_DECLS

/* Pixels x0..x1-1 of row y lie under the brush. Some may be told more than once. */
typedef void (*SbBrushFunc) (int y, int x0, int x1, gpointer data);

/* Calls `visit` for all pixels of a `width` x `height` plane whose middles are under the stroke;
 * for one that is too small to hold a middle, for the pixel it is in. `map` leads from parts of the
 * picture's width to px of the plane. */
void sb_brush_visit (const SbStroke *stroke, const SbMap *map, int width, int height,
                     SbBrushFunc visit, gpointer data);

/* The area inside a lasso as an A8 surface, its edge soft, or NULL when there is no memory. */
cairo_surface_t *sb_brush_fill_lasso (const SbStroke *stroke, const SbMap *map, int width,
                                      int height) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
