/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>
#include <glib.h>

/* Lets go of a surface that nobody else owns, once what it was drawn on is destroyed. cairo 1.16's
 * SVG takes a reference of a recording each time it draws it and never gives it back, so all that
 * are left then are dropped here; where cairo keeps its books there is only our own. */
static inline void
sb_recording_free (cairo_surface_t *surface)
{
  for (guint left = cairo_surface_get_reference_count (surface); left > 0; left--)
    cairo_surface_destroy (surface);
}
