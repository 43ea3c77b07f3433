/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pango rounds glyph positions to its own units of 1/1024 of the user's; a text laid out in
 * millimetres would jump. So a line is laid out in points and scaled. */
#include "config.h"

#include "output/text.h"

#include <pango/pangocairo.h>

#include "measure/length.h"

/* Laid out large, so that hinting and rounding do not show. */
#define LAYOUT_PT 100.0

static PangoLayout *
lay_out (cairo_t *cr, const char *text)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  g_autoptr (PangoFontDescription) font = pango_font_description_new ();
  pango_font_description_set_family (font, "sans-serif");
  pango_font_description_set_absolute_size (font, LAYOUT_PT * PANGO_SCALE);
  cairo_font_options_t *options = cairo_font_options_create ();
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (pango_layout_get_context (layout), options);
  cairo_font_options_destroy (options);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_layout_set_text (layout, text, -1);
  return layout;
}

void
sb_text_draw (cairo_t *cr, double x, double y, double align, double size_mm, const char *text)
{
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, size_mm / LAYOUT_PT, size_mm / LAYOUT_PT);
  g_autoptr (PangoLayout) layout = lay_out (cr, text);
  int width, height;
  pango_layout_get_size (layout, &width, &height);
  cairo_move_to (cr, -align * width / PANGO_SCALE, -0.5 * height / PANGO_SCALE);
  pango_cairo_show_layout (cr, layout);
  cairo_restore (cr);
}

double
sb_text_draw_wrapped (cairo_t *cr, double x, double y, double width_mm, double size_mm,
                      const char *text)
{
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, size_mm / LAYOUT_PT, size_mm / LAYOUT_PT);
  g_autoptr (PangoLayout) layout = lay_out (cr, text);
  pango_layout_set_single_paragraph_mode (layout, FALSE);
  pango_layout_set_width (layout, (int)(width_mm / size_mm * LAYOUT_PT * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  int height;
  pango_layout_get_size (layout, NULL, &height);
  cairo_move_to (cr, 0, 0);
  pango_cairo_show_layout (cr, layout);
  cairo_restore (cr);
  return height * size_mm / LAYOUT_PT / PANGO_SCALE;
}

double
sb_text_measure (cairo_t *cr, double size_mm, const char *text)
{
  cairo_save (cr);
  cairo_identity_matrix (cr);
  g_autoptr (PangoLayout) layout = lay_out (cr, text);
  int width;
  pango_layout_get_size (layout, &width, NULL);
  cairo_restore (cr);
  return width * size_mm / LAYOUT_PT / PANGO_SCALE;
}
