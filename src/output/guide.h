/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The cut guide of a design, drawn once for all its copies. */
#pragma once

#include <cairo.h>

#include "job/design.h"

G_BEGIN_DECLS

/* A recording of the guide around `outline`, in millimetres, or NULL for SB_GUIDE_OFF. Its own 0,0
 * lies at `*origin` of the outline's frame (cairo's SVG cuts off what is left of or above 0,0). The
 * line lies wholly outside: its inner edge keeps SB_GUIDE_CLEARANCE_MM. Ticks continue the edges of
 * the outline's box outwards and are shorter than half of `gap_mm`, so that those of neighbours do
 * not cross. On a bleed the guide has a white partner line, so that it shows on dark artwork
 * (handbook 4.4). */
cairo_surface_t *sb_guide_record (const SbOutline *outline, const SbGuide *guide, double gap_mm,
                                  gboolean on_bleed, SbPoint *origin) G_GNUC_WARN_UNUSED_RESULT;

/* The outline as a path of `cr`, whose unit is a millimetre of the artwork's frame. */
void sb_guide_trace_outline (cairo_t *cr, const SbOutline *outline);

G_END_DECLS
