/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A ruler along one side of the canvas, in the maker's unit, zero at the corner of the page in
 * view. It marks where the pointer is and how far the selection reaches. */
#pragma once

#include <gtk/gtk.h>

#include "measure/length.h"

G_BEGIN_DECLS

#define SB_TYPE_RULER (sb_ruler_get_type ())
G_DECLARE_FINAL_TYPE (SbRuler, sb_ruler, SB, RULER, GtkWidget)

GtkWidget *sb_ruler_new (GtkOrientation orientation);

void sb_ruler_set_unit (SbRuler *self, SbUnit unit);

/* Zero at `origin` px of the ruler, `scale` px a millimetre. */
void sb_ruler_set_scale (SbRuler *self, double origin, double scale);

/* px along the ruler; negative for none. */
void sb_ruler_set_pointer (SbRuler *self, double at);

/* px along the ruler; none where `to` is not past `from`. */
void sb_ruler_set_span (SbRuler *self, double from, double to);

/* The distance of labelled ticks and of the small ones between, in mm, that suits a scale. For
 * tests. */
void sb_ruler_choose_ticks (SbUnit unit, double scale, double *labelled_mm, double *small_mm);

G_END_DECLS
