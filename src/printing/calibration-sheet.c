/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The sheet of rulers, in millimetres from the sheet's top left corner:
 *
 *      +--------- scale ---------+      scale: 0 to 20 mm from the paper's edge
 *      | tick      TOP      tick |      ====:  the ruler across
 *      |    ||                   |      ||:    the ruler along
 *      s    || ==== across ===== s
 *      c    ||   five tones      c
 *      |    along                |
 *      +--------- scale ---------+ */
#include "config.h"

#include "printing/calibration.h"

#include <glib/gi18n.h>
#include <math.h>

#include "output/pdf.h"
#include "output/text.h"

/* What the rulers leave at both ends together: the edge scales, and a little air. */
#define ENDS_MM 50.0
#define LINE_MM 0.15
#define TEXT_MM 2.6

static double
fitting_ruler (double wanted_mm, sb_um side)
{
  return fmin (wanted_mm, fmax (10 * floor ((sb_um_to_mm (side) - ENDS_MM) / 10), 10));
}

void
sb_calibration_get_rulers (sb_um width, sb_um height, double *across_mm, double *along_mm)
{
  *across_mm = fitting_ruler (150, width);
  *along_mm = fitting_ruler (200, height);
}

static double
tick_length (int mm)
{
  return mm % 10 == 0 ? 4 : mm % 5 == 0 ? 3 : 2;
}

/* A ruler from 0,0 along x with its marks below. */
static void
draw_ruler (cairo_t *cr, int length_mm)
{
  cairo_move_to (cr, 0, 0);
  cairo_line_to (cr, length_mm, 0);
  for (int mm = 0; mm <= length_mm; mm++) {
    cairo_move_to (cr, mm, 0);
    cairo_line_to (cr, mm, tick_length (mm));
  }
  cairo_stroke (cr);
  for (int mm = 0; mm <= length_mm; mm += 10) {
    g_autofree char *number = g_strdup_printf ("%d", mm);
    sb_text_draw (cr, mm, 6, 0.5, TEXT_MM, number);
  }
}

/* A scale whose 0 is the paper's edge (y = 0), its marks parallel to the edge, about x = 0. */
static void
draw_edge_scale (cairo_t *cr)
{
  for (int mm = 0; mm <= SB_CALIBRATION_LINE_MM; mm++) {
    double half = mm == SB_CALIBRATION_LINE_MM ? 10 : 1.5 * tick_length (mm);
    cairo_move_to (cr, -half, mm);
    cairo_line_to (cr, half, mm);
  }
  cairo_stroke (cr);
  for (int mm = 5; mm <= SB_CALIBRATION_LINE_MM; mm += 5) {
    g_autofree char *number = g_strdup_printf ("%d", mm);
    sb_text_draw (cr, 11, mm, 0, TEXT_MM, number);
  }
}

static void
draw_edge_scales (cairo_t *cr, double w, double h)
{
  const struct {
    double x, y, turn;
  } edges[] = {{w / 2, 0, 0}, {w, h / 2, G_PI / 2}, {w / 2, h, G_PI}, {0, h / 2, -G_PI / 2}};
  for (guint i = 0; i < G_N_ELEMENTS (edges); i++) {
    cairo_save (cr);
    cairo_translate (cr, edges[i].x, edges[i].y);
    cairo_rotate (cr, edges[i].turn);
    draw_edge_scale (cr);
    cairo_restore (cr);
  }
}

static void
draw_corner_ticks (cairo_t *cr, double w, double h)
{
  for (int i = 0; i < 4; i++) {
    double x = i & 1 ? w - 15 : 15, y = i & 2 ? h - 15 : 15;
    cairo_move_to (cr, x, y);
    cairo_line_to (cr, i & 1 ? x - 8 : x + 8, y);
    cairo_move_to (cr, x, y);
    cairo_line_to (cr, x, i & 2 ? y - 8 : y + 8);
  }
  cairo_stroke (cr);
}

static void
draw_top_arrow (cairo_t *cr, double x, double y)
{
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x - 4, y + 6);
  cairo_line_to (cr, x + 4, y + 6);
  cairo_close_path (cr);
  cairo_fill (cr);
  sb_text_draw (cr, x, y + 9, 0.5, 4, C_ ("the edge of a sheet", "TOP"));
}

/* Guides of five tones, so that the palest that still can be followed is found. */
static void
draw_tones (cairo_t *cr, double x, double y, double length)
{
  static const int tones[] = {15, 25, 35, 45, 60}; /* % of black */
  for (guint i = 0; i < G_N_ELEMENTS (tones); i++) {
    g_autofree char *name = g_strdup_printf ("%d %%", tones[i]);
    double white = 1 - tones[i] / 100.0;
    cairo_save (cr);
    cairo_set_source_rgb (cr, white, white, white);
    cairo_set_line_width (cr, 0.5 * SB_MM_PER_PT);
    cairo_move_to (cr, x, y + 5 * i);
    cairo_line_to (cr, x + length - 12, y + 5 * i);
    cairo_stroke (cr);
    cairo_restore (cr);
    sb_text_draw (cr, x + length, y + 5 * i, 1, TEXT_MM, name);
  }
}

typedef struct {
  sb_um width, height;
} Sheet;

static gboolean
draw_sheet (cairo_t *cr, guint index, gpointer data, GCancellable *cancellable, GError **error)
{
  const Sheet *sheet = data;
  double across, along, w = sb_um_to_mm (sheet->width), h = sb_um_to_mm (sheet->height);
  sb_calibration_get_rulers (sheet->width, sheet->height, &across, &along);
  cairo_scale (cr, SB_PT_PER_INCH / SB_MM_PER_INCH, SB_PT_PER_INCH / SB_MM_PER_INCH);
  cairo_set_source_rgb (cr, 0, 0, 0);
  cairo_set_line_width (cr, LINE_MM);
  draw_edge_scales (cr, w, h);
  draw_corner_ticks (cr, w, h);
  draw_top_arrow (cr, w / 4, 25);

  double x = (w - across) / 2, y = (h - along) / 2, row = h / 2 - 18;
  cairo_save (cr);
  cairo_translate (cr, x, row);
  draw_ruler (cr, (int)across);
  cairo_restore (cr);
  cairo_save (cr);
  cairo_translate (cr, w - x - 12, y);
  cairo_rotate (cr, G_PI / 2);
  draw_ruler (cr, (int)along);
  cairo_restore (cr);
  draw_tones (cr, x + 4, row + 16, fmin (60, across - 25));
  return TRUE;
}

GBytes *
sb_calibration_sheet (sb_um width, sb_um height, GError **error)
{
  Sheet sheet = {width, height};
  return sb_pdf_build (sb_um_to_pt (width), sb_um_to_pt (height), _ ("Sheet of rulers"), 1,
                       draw_sheet, &sheet, NULL, error);
}
