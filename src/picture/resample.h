/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

G_BEGIN_DECLS

/* Resamples an ARGB32 surface to all of another one: an axis that shrinks by the average of the
 * area each pixel covers, in linear light; one that grows linearly between pixel centres, the
 * outermost pixels continued, or with `hard` as squares of one colour. Premultiplied, in memory of
 * a few rows. FALSE when cancelled. */
gboolean sb_resample (cairo_surface_t *from, cairo_surface_t *into, gboolean hard,
                      GCancellable *cancellable, GError **error);

G_END_DECLS
