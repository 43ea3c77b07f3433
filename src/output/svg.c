/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A page as SVG whose user unit is one millimetre (CSS Values and Units, section 6.2: 1 in =
 * 25.4 mm = 96 px). cairo puts each artwork into <defs> once and <use>s it for every copy. It names
 * them by how many surfaces the program has made so far; they are counted anew here, so that the
 * same page gives the same bytes. */
#include "config.h"

#include "output/writers.h"

#include <cairo-svg.h>
#include <string.h>

/* The length of the name of a surface (letters, signs, then a number) at `text`, or 0. */
static gsize
match_name (const char *text, const char *end, gsize *stem)
{
  const char *p = text;
  while (p < end && (g_ascii_isalpha (*p) || *p == '-' || *p == '_'))
    p++;
  *stem = (gsize)(p - text);
  const char *digits = p;
  while (p < end && g_ascii_isdigit (*p))
    p++;
  gboolean ends = p < end && (*p == '"' || *p == ')');
  return *stem > 0 && p > digits && ends ? (gsize)(p - text) : 0;
}

static gboolean
names_follow (const char *begin, const char *p)
{
  return (p - begin >= 4 && memcmp (p - 4, "id=\"", 4) == 0) ||
         (p - begin >= 2 && p[-1] == '#' && (p[-2] == '"' || p[-2] == '('));
}

static void
write_renumbered (SbSafeFile *file, const char *svg, gsize length)
{
  g_autoptr (GHashTable) numbers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  const char *end = svg + length, *written = svg;
  for (const char *p = svg; p < end; p++) {
    gsize stem, n;
    if ((p[0] & 0x40) == 0 || !names_follow (svg, p) || (n = match_name (p, end, &stem)) == 0)
      continue; /* letters have bit 6 set: a quick way past most of the text */
    g_autofree char *name = g_strndup (p, n);
    guint number = GPOINTER_TO_UINT (g_hash_table_lookup (numbers, name));
    if (number == 0) {
      number = g_hash_table_size (numbers) + 1;
      g_hash_table_insert (numbers, g_strdup (name), GUINT_TO_POINTER (number));
    }
    g_autofree char *text = g_strdup_printf ("%u", number);
    sb_safe_file_write (file, written, (gsize)(p + stem - written));
    sb_safe_file_write (file, text, strlen (text));
    written = p + n;
    p += n - 1;
  }
  sb_safe_file_write (file, written, (gsize)(end - written));
}

static cairo_status_t
append (void *closure, const unsigned char *data, unsigned int length)
{
  g_string_append_len (closure, (const char *)data, length);
  return CAIRO_STATUS_SUCCESS;
}

gboolean
sb_write_svg (const SbState *state, SbSafeFile *file, const SbExportOptions *options,
              GCancellable *cancellable, GError **error)
{
  g_autoptr (SbPainter) painter = sb_painter_new (state, options->dpi);
  g_autoptr (GString) svg = g_string_new (NULL);
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream (
      append, svg, sb_um_to_mm (state->page_width), sb_um_to_mm (state->page_height));
  cairo_svg_surface_set_document_unit (surface, CAIRO_SVG_UNIT_MM);
  cairo_t *cr = cairo_create (surface);
  cairo_scale (cr, SB_MM_PER_PT, SB_MM_PER_PT);
  guint index = options->page < 0 ? 0 : (guint)options->page;
  gboolean ok = sb_painter_paint (painter, cr, index, &options->paint, cancellable, error);
  cairo_destroy (cr);
  /* The elements are written when the surface is finished: the painter must still be there. */
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);
  if (ok)
    write_renumbered (file, svg->str, svg->len);
  return ok;
}
