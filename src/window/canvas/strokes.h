/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lines and dots over the pages, in view px. Each is a render node of its own, no larger than it
 * has to be: what a node covers is drawn anew when it changes. */
#pragma once

#include <gtk/gtk.h>

#include "geometry/point.h"

G_BEGIN_DECLS

void sb_stroke_line (GtkSnapshot *snapshot, SbPoint a, SbPoint b, double width,
                     const GdkRGBA *colour);

/* A filled dot with a rim. */
void sb_stroke_dot (GtkSnapshot *snapshot, SbPoint at, double radius, const GdkRGBA *rim,
                    const GdkRGBA *fill);

/* Dashes with white between them, that show on any ground. */
void sb_stroke_dashed_line (GtkSnapshot *snapshot, SbPoint a, SbPoint b, const GdkRGBA *colour);
void sb_stroke_dashed_box (GtkSnapshot *snapshot, const graphene_rect_t *box,
                           const GdkRGBA *colour);

G_END_DECLS
