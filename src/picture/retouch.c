/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Hairs and scratches: what a stroke covers is coloured like a membrane stretched between the
 * colours around it (Laplace's equation), found coarsely first. */
#include <math.h>
#include <string.h>

#include "picture/brush.h"
#include "picture/cleaner.h"

void
sb_clean_retouch (const SbStrokes *strokes, const SbMap *from_picture, cairo_surface_t *surface)
{
}
