/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is drawn over the picture: numbered boxes, handles, the brush and its stroke. Each line is
 * dark between light ones, so that it shows on any artwork and any ground. */
#include "config.h"

#include <math.h>

#include "window/cleanup/cleanup-view-private.h"
#include "window/parts/palette.h"

#define LEAST_BOX_PX 12 /* a mark of a speck is drawn no smaller */
#define HANDLE_PX 7.0
#define CURSOR_PX 9.0

static void
stroke_line (cairo_t *cr, const GdkRGBA *colour, double width)
{
  cairo_set_source_rgba (cr, 1, 1, 1, 0.9);
  cairo_set_line_width (cr, width + 2);
  cairo_stroke_preserve (cr);
  gdk_cairo_set_source_rgba (cr, colour);
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
}

static SbPoint
place (SbCleanupView *self, double x, double y)
{
  return sb_cleanup_view_to_screen (self, (SbPoint){x * self->width, y * self->width});
}

static void
paint_number (cairo_t *cr, SbCleanupView *self, const SbCleanupMark *mark, SbPoint at)
{
  const SbPalette *palette = sb_palette_get (GTK_WIDGET (self));
  g_autofree char *text = g_strdup_printf ("%u", mark->number);
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
  int width, height;

  pango_layout_get_pixel_size (layout, &width, &height);
  double half = MAX (width + 12, height + 2) / 2.0, middle = height / 2.0 + 1;
  at.x = MAX (at.x, 2);
  at.y = MAX (at.y, 2);
  cairo_rectangle (cr, at.x, at.y, 2 * half, 2 * middle);
  gdk_cairo_set_source_rgba (cr, mark->chosen ? &palette->accent : &palette->plate);
  cairo_fill (cr);
  gdk_cairo_set_source_rgba (cr, &palette->plate_text);
  cairo_move_to (cr, at.x + half - width / 2.0, at.y + 1);
  pango_cairo_show_layout (cr, layout);
}

static void
paint_mark (cairo_t *cr, SbCleanupView *self, const SbCleanupMark *mark)
{
  const SbPalette *palette = sb_palette_get (GTK_WIDGET (self));
  static const double dashes[] = {5, 4};
  SbPoint a = place (self, mark->x0, mark->y0), b = place (self, mark->x1, mark->y1);
  double wider = MAX (LEAST_BOX_PX - (b.x - a.x), 4) / 2;
  double taller = MAX (LEAST_BOX_PX - (b.y - a.y), 4) / 2;

  a = (SbPoint){floor (a.x - wider) + 0.5, floor (a.y - taller) + 0.5};
  b = (SbPoint){ceil (b.x + wider) - 0.5, ceil (b.y + taller) - 0.5};
  cairo_rectangle (cr, a.x, a.y, b.x - a.x, b.y - a.y);
  if (mark->crossed) {
    cairo_set_dash (cr, dashes, 2, 0);
    if (mark->number) {
      cairo_move_to (cr, a.x, a.y);
      cairo_line_to (cr, b.x, b.y);
      cairo_move_to (cr, a.x, b.y);
      cairo_line_to (cr, b.x, a.y);
    }
  }
  stroke_line (cr, mark->chosen ? &palette->accent : &palette->plate, mark->chosen ? 3 : 1.5);
  cairo_set_dash (cr, NULL, 0, 0);
  if (mark->number)
    paint_number (cr, self, mark, a);
}

static void
paint_stroke (cairo_t *cr, SbCleanupView *self)
{
  gboolean lasso = self->hand == SB_CLEANUP_HAND_LASSO;

  cairo_new_path (cr);
  for (guint i = 0; i + 1 < self->stroke->len; i += 2) {
    SbPoint at = place (self, g_array_index (self->stroke, float, i),
                        g_array_index (self->stroke, float, i + 1));
    cairo_line_to (cr, at.x, at.y);
    if (self->stroke->len == 2)
      cairo_line_to (cr, at.x + 0.01, at.y);
  }
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  if (lasso) {
    cairo_close_path (cr);
    stroke_line (cr, &self->colour, 1.5);
    return;
  }
  cairo_set_source_rgba (cr, self->colour.red, self->colour.green, self->colour.blue, 0.5);
  cairo_set_line_width (cr, MAX (2 * self->radius * self->width * self->scale, 2));
  cairo_stroke (cr);
}

static void
paint_ring (cairo_t *cr, SbCleanupView *self, SbPoint at)
{
  cairo_new_path (cr);
  cairo_arc (cr, at.x, at.y, MAX (self->radius * self->width * self->scale, 1.5), 0, 2 * G_PI);
  stroke_line (cr, &self->colour, 1.5);
}

static void
paint_cross (cairo_t *cr, SbCleanupView *self, SbPoint at)
{
  cairo_move_to (cr, at.x - CURSOR_PX, at.y);
  cairo_line_to (cr, at.x + CURSOR_PX, at.y);
  cairo_move_to (cr, at.x, at.y - CURSOR_PX);
  cairo_line_to (cr, at.x, at.y + CURSOR_PX);
  stroke_line (cr, &sb_palette_get (GTK_WIDGET (self))->plate, 1.5);
}

static void
trace_handles (cairo_t *cr, SbCleanupView *self)
{
  cairo_new_path (cr);
  for (guint i = 0; i < self->n_handles; i++) {
    SbPoint at = place (self, self->handles[2 * i], self->handles[2 * i + 1]);
    if (i == 1 && self->handles_box) {
      SbPoint from = place (self, self->handles[0], self->handles[1]);
      cairo_rectangle (cr, from.x, from.y, at.x - from.x, at.y - from.y);
    } else {
      cairo_line_to (cr, at.x, at.y);
    }
  }
  if (self->n_handles > 2)
    cairo_close_path (cr);
}

static void
paint_handles (cairo_t *cr, SbCleanupView *self)
{
  const SbPalette *palette = sb_palette_get (GTK_WIDGET (self));

  trace_handles (cr, self);
  stroke_line (cr, &palette->accent, 1.5);
  for (guint i = 0; i < self->n_handles; i++) {
    SbPoint at = place (self, self->handles[2 * i], self->handles[2 * i + 1]);
    gboolean held = i == self->handle && gtk_widget_has_focus (GTK_WIDGET (self));
    cairo_arc (cr, at.x, at.y, held ? HANDLE_PX + 2 : HANDLE_PX, 0, 2 * G_PI);
    gdk_cairo_set_source_rgba (cr, held ? &palette->accent : &palette->plate_text);
    cairo_fill_preserve (cr);
    stroke_line (cr, &palette->accent, 1.5);
    /* The very place stays in sight. */
    cairo_arc (cr, at.x, at.y, 1.5, 0, 2 * G_PI);
    gdk_cairo_set_source_rgba (cr, held ? &palette->plate_text : &palette->accent);
    cairo_fill (cr);
  }
}

void
sb_cleanup_marks_paint (SbCleanupView *self, cairo_t *cr)
{
  for (guint i = 0; i < self->marks->len; i++)
    paint_mark (cr, self, &g_array_index (self->marks, SbCleanupMark, i));
  if (self->hand == SB_CLEANUP_HAND_HANDLES)
    paint_handles (cr, self);
  if (self->stroke->len > 0)
    paint_stroke (cr, self);
  SbPoint at = self->steering ? sb_cleanup_view_to_screen (self, self->cursor) : self->pointer;
  gboolean seen = self->steering ? gtk_widget_has_focus (GTK_WIDGET (self)) : at.x >= 0;
  if (!seen || self->hand == SB_CLEANUP_HAND_MOVES || self->hand == SB_CLEANUP_HAND_HANDLES)
    return;
  if (self->hand == SB_CLEANUP_HAND_BRUSHES)
    paint_ring (cr, self, at);
  if (self->steering)
    paint_cross (cr, self, at);
}
