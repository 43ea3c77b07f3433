/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "window/canvas/strokes.h"

static cairo_t *
begin (GtkSnapshot *snapshot, double x0, double y0, double x1, double y1)
{
  graphene_rect_t bounds =
      GRAPHENE_RECT_INIT ((float)floor (MIN (x0, x1)), (float)floor (MIN (y0, y1)),
                          (float)ceil (fabs (x1 - x0)) + 1, (float)ceil (fabs (y1 - y0)) + 1);

  return gtk_snapshot_append_cairo (snapshot, &bounds);
}

void
sb_stroke_dot (GtkSnapshot *snapshot, SbPoint at, double radius, const GdkRGBA *rim,
               const GdkRGBA *fill)
{
  double reach = radius + 2;
  cairo_t *cr = begin (snapshot, at.x - reach, at.y - reach, at.x + reach, at.y + reach);

  cairo_arc (cr, at.x, at.y, radius, 0, 2 * G_PI);
  gdk_cairo_set_source_rgba (cr, fill);
  cairo_fill_preserve (cr);
  gdk_cairo_set_source_rgba (cr, rim);
  cairo_set_line_width (cr, 2);
  cairo_stroke (cr);
  cairo_destroy (cr);
}

void
sb_stroke_line (GtkSnapshot *snapshot, SbPoint a, SbPoint b, double width, const GdkRGBA *colour)
{
  double reach = width + 1;
  cairo_t *cr = begin (snapshot, MIN (a.x, b.x) - reach, MIN (a.y, b.y) - reach,
                       MAX (a.x, b.x) + reach, MAX (a.y, b.y) + reach);

  gdk_cairo_set_source_rgba (cr, colour);
  cairo_set_line_width (cr, width);
  cairo_move_to (cr, a.x, a.y);
  cairo_line_to (cr, b.x, b.y);
  cairo_stroke (cr);
  cairo_destroy (cr);
}

void
sb_stroke_dashed_line (GtkSnapshot *snapshot, SbPoint a, SbPoint b, const GdkRGBA *colour)
{
  cairo_t *cr = begin (snapshot, a.x - 1, a.y - 1, b.x + 1, b.y + 1);

  cairo_set_line_width (cr, 1);
  cairo_move_to (cr, a.x, a.y);
  cairo_line_to (cr, b.x, b.y);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_stroke_preserve (cr);
  cairo_set_dash (cr, (const double[]){4, 3}, 2, 0);
  gdk_cairo_set_source_rgba (cr, colour);
  cairo_stroke (cr);
  cairo_destroy (cr);
}

/* Four nodes: one as large as the box would have all of it drawn anew. */
void
sb_stroke_dashed_box (GtkSnapshot *snapshot, const graphene_rect_t *box, const GdkRGBA *colour)
{
  double x0 = floor (box->origin.x) + 0.5, y0 = floor (box->origin.y) + 0.5;
  double x1 = x0 + floor (box->size.width), y1 = y0 + floor (box->size.height);

  sb_stroke_dashed_line (snapshot, (SbPoint){x0, y0}, (SbPoint){x1, y0}, colour);
  sb_stroke_dashed_line (snapshot, (SbPoint){x1, y0}, (SbPoint){x1, y1}, colour);
  sb_stroke_dashed_line (snapshot, (SbPoint){x0, y1}, (SbPoint){x1, y1}, colour);
  sb_stroke_dashed_line (snapshot, (SbPoint){x0, y0}, (SbPoint){x0, y1}, colour);
}
