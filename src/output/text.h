/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lettering on pages: names, sizes, rulers. */
#pragma once

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

/* One line of `size_mm` letters, its left end (or middle, or right end, with align 0, 0.5, 1) at x
 * and its middle height at y; the unit of `cr` is a millimetre. */
void sb_text_draw (cairo_t *cr, double x, double y, double align, double size_mm, const char *text);

/* `text` from x, y (the top) in lines of at most `width_mm`, paragraphs parted by line breaks;
 * returns the height it takes, mm. */
double sb_text_draw_wrapped (cairo_t *cr, double x, double y, double width_mm, double size_mm,
                             const char *text);

/* The width of that line. */
double sb_text_measure (cairo_t *cr, double size_mm, const char *text);

G_END_DECLS
