/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pango sets the lines, cairo gives their outlines, and these are written as one SVG path. Pango
 * rounds places of letters to 1/1024 of its unit; so the text is set large and scaled. */
#include "config.h"

#include "picture/lettering.h"

#include <glib/gi18n.h>
#include <pango/pangocairo.h>
#include <string.h>

#include "geometry/point.h"

#define SET_PT 100.0 /* the size that lines are set at */

SbLettering *
sb_lettering_new (const char *string)
{
  SbLettering *lettering = g_new0 (SbLettering, 1);
  lettering->string = g_strdup (string);
  lettering->font = g_strdup ("Sans");
  lettering->language = g_strdup ("");
  lettering->size_pt = 14;
  lettering->align = SB_TEXT_CENTRE;
  sb_lettering_tidy (lettering);
  return lettering;
}

SbLettering *
sb_lettering_copy (const SbLettering *lettering)
{
  SbLettering *copy = g_memdup2 (lettering, sizeof *lettering);
  copy->string = g_strdup (lettering->string);
  copy->font = g_strdup (lettering->font);
  copy->language = g_strdup (lettering->language);
  return copy;
}

void
sb_lettering_free (SbLettering *lettering)
{
  g_free (lettering->string);
  g_free (lettering->font);
  g_free (lettering->language);
  g_free (lettering);
}

gboolean
sb_lettering_equal (const SbLettering *a, const SbLettering *b)
{
  if (a == NULL || b == NULL)
    return a == b;
  return g_str_equal (a->string, b->string) && g_str_equal (a->font, b->font) &&
         g_str_equal (a->language, b->language) && a->size_pt == b->size_pt &&
         a->align == b->align && a->rgb == b->rgb;
}

/* New. Control characters but the ends of lines become blanks; marks of direction stay. */
static char *
clean_string (const char *string)
{
  g_autofree char *valid = g_utf8_make_valid (string, -1);
  g_autoptr (GString) clean = g_string_new (NULL);
  int n = 0;
  for (const char *p = valid; *p != '\0' && n < SB_LETTERING_MOST_CHARS; n++) {
    gunichar c = g_utf8_get_char (p);
    gboolean line_end = c == 0x2028 || c == 0x2029;
    gboolean control = g_unichar_type (c) == G_UNICODE_CONTROL && c != '\n';
    g_string_append_unichar (clean, line_end ? '\n' : control ? ' ' : c);
    p = g_utf8_next_char (p);
  }
  return g_string_free (g_steal_pointer (&clean), FALSE);
}

/* New: as Pango understands it, without a size. */
static char *
clean_font (const char *font)
{
  g_autofree char *valid = g_utf8_make_valid (font, -1);
  g_autofree char *cut =
      g_utf8_substring (valid, 0, MIN (SB_LETTERING_MOST_FONT / 4, g_utf8_strlen (valid, -1)));
  PangoFontDescription *description =
      pango_font_description_from_string (strlen (valid) <= SB_LETTERING_MOST_FONT ? valid : cut);
  pango_font_description_unset_fields (description, PANGO_FONT_MASK_SIZE);
  if (pango_font_description_get_family (description) == NULL)
    pango_font_description_set_family (description, "Sans");
  char *clean = pango_font_description_to_string (description);
  pango_font_description_free (description);
  return clean;
}

static gboolean
is_language_tag (const char *text)
{
  const gsize longest = 35; /* RFC 5646 section 4.4.1 */
  return strlen (text) <= longest &&
         text[strspn (text, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-")] ==
             '\0';
}

static void
replace (char **place, char *text)
{
  g_free (*place);
  *place = text;
}

void
sb_lettering_tidy (SbLettering *lettering)
{
  replace (&lettering->string, clean_string (lettering->string));
  replace (&lettering->font, clean_font (lettering->font));
  if (!is_language_tag (lettering->language))
    replace (&lettering->language, g_strdup (""));
  lettering->size_pt = lettering->size_pt >= SB_LETTERING_LEAST_PT
                           ? MIN (lettering->size_pt, SB_LETTERING_MOST_PT)
                           : SB_LETTERING_LEAST_PT;
  lettering->align = CLAMP (lettering->align, SB_TEXT_START, SB_TEXT_END);
  lettering->rgb &= 0xffffff;
}

static PangoLayout *
set_lines (cairo_t *cr, const SbLettering *lettering)
{
  static const PangoAlignment aligns[] = {PANGO_ALIGN_LEFT, PANGO_ALIGN_CENTER, PANGO_ALIGN_RIGHT};
  PangoLayout *layout = pango_cairo_create_layout (cr);
  PangoContext *context = pango_layout_get_context (layout);
  cairo_font_options_t *options = cairo_font_options_create ();
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (context, options);
  cairo_font_options_destroy (options);
  if (*lettering->language != '\0')
    pango_context_set_language (context, pango_language_from_string (lettering->language));
  PangoFontDescription *font = pango_font_description_from_string (lettering->font);
  pango_font_description_set_absolute_size (font, SET_PT * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_alignment (layout, aligns[lettering->align]);
  pango_layout_set_text (layout, lettering->string, -1);
  return layout;
}

static void
append_point (GString *data, const cairo_path_data_t *point, SbPoint origin, double scale)
{
  char x[G_ASCII_DTOSTR_BUF_SIZE], y[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (x, sizeof x, "%.4f", (point->point.x - origin.x) * scale);
  g_ascii_formatd (y, sizeof y, "%.4f", (point->point.y - origin.y) * scale);
  g_string_append_printf (data, " %s %s", x, y);
}

/* The path in millimetres from `origin`, as the `d` of an SVG path. */
static char *
write_path (const cairo_path_t *path, SbPoint origin, double scale)
{
  static const char letters[] = {
      [CAIRO_PATH_MOVE_TO] = 'M',
      [CAIRO_PATH_LINE_TO] = 'L',
      [CAIRO_PATH_CURVE_TO] = 'C',
      [CAIRO_PATH_CLOSE_PATH] = 'Z',
  };
  g_autoptr (GString) data = g_string_new (NULL);
  for (int i = 0; i < path->num_data; i += path->data[i].header.length) {
    const cairo_path_data_t *part = &path->data[i];
    g_string_append_c (data, letters[part->header.type]);
    for (int k = 1; k < part->header.length && part->header.type != CAIRO_PATH_CLOSE_PATH; k++)
      append_point (data, &part[k], origin, scale);
  }
  return g_string_free (g_steal_pointer (&data), FALSE);
}

/* NULL when nothing is inked. */
static char *
write_svg (cairo_t *cr, const SbLettering *lettering)
{
  double x0, y0, x1, y1;
  cairo_path_extents (cr, &x0, &y0, &x1, &y1);
  if (x1 <= x0 || y1 <= y0)
    return NULL;
  double scale = lettering->size_pt / SET_PT * SB_MM_PER_PT;
  cairo_path_t *path = cairo_copy_path (cr);
  g_autofree char *data = write_path (path, (SbPoint){x0, y0}, scale);
  cairo_path_destroy (path);
  char width[G_ASCII_DTOSTR_BUF_SIZE], height[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (width, sizeof width, "%.4f", (x1 - x0) * scale);
  g_ascii_formatd (height, sizeof height, "%.4f", (y1 - y0) * scale);
  return g_strdup_printf ("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" "
                          "height=\"%smm\" viewBox=\"0 0 %s %s\"><path fill=\"#%06x\" "
                          "d=\"%s\"/></svg>\n",
                          width, height, width, height, lettering->rgb, data);
}

SbPicture *
sb_lettering_to_picture (const SbLettering *lettering, GError **error)
{
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  g_autoptr (PangoLayout) layout = set_lines (cr, lettering);
  pango_cairo_layout_path (cr, layout);
  g_autofree char *svg = write_svg (cr, lettering);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  if (svg == NULL) {
    g_set_error_literal (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_EMPTY,
                         _ ("The text has no letters to print"));
    return NULL;
  }
  g_autoptr (GBytes) bytes = g_bytes_new (svg, strlen (svg));
  return sb_picture_new (bytes, "text.svg", error);
}
