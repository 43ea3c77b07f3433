/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Outlines as SVG path data (SVG 2, section 9.3), in the few commands that we write. */
#include "config.h"

#include "geometry/outline.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* ---- Writing ---- */

static void
append_number (GString *text, double value)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (number, sizeof number, "%.4f", value);
  g_string_append (text, strcmp (number, "-0.0000") == 0 ? "0.0000" : number);
}

static void
append_point (GString *text, SbPoint p)
{
  append_number (text, p.x);
  g_string_append_c (text, ',');
  append_number (text, p.y);
}

static void
append_ring (GString *text, const SbRing *ring)
{
  g_string_append (text, "M ");
  append_point (text, ring->start);
  for (guint k = 0; k < ring->n_curves; k++) {
    const SbCurve *curve = &ring->curves[k];
    if (!curve->straight) {
      g_string_append (text, " C ");
      append_point (text, curve->c1);
      g_string_append_c (text, ' ');
      append_point (text, curve->c2);
      g_string_append_c (text, ' ');
      append_point (text, curve->end);
    } else if (k + 1 < ring->n_curves) { /* Z draws the last leg */
      g_string_append (text, " L ");
      append_point (text, curve->end);
    }
  }
  g_string_append (text, " Z");
}

char *
sb_ring_to_svg (const SbRing *ring)
{
  GString *text = g_string_new (NULL);
  append_ring (text, ring);
  return g_string_free (text, FALSE);
}

char *
sb_outline_to_svg (const SbOutline *outline)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < sb_outline_get_n_rings (outline); i++) {
    if (i > 0)
      g_string_append_c (text, ' ');
    append_ring (text, sb_outline_get_ring (outline, i));
  }
  return g_string_free (text, FALSE);
}

/* ---- Reading ---- */

static const char *
skip_separators (const char *s)
{
  return s + strspn (s, " \t\r\n,");
}

/* A plain decimal number within the range of lengths; g_ascii_strtod alone would take "nan", "inf"
 * and hexadecimal. */
static gboolean
read_number (const char **s, double *value)
{
  const char *p = skip_separators (*s);
  gsize length = strspn (p, "+-.0123456789eE");
  char *end;
  *value = g_ascii_strtod (p, &end);
  *s = end;
  return end > p && (gsize)(end - p) <= length && fabs (*value) <= SB_UM_MOST / SB_UM_PER_MM;
}

static gboolean
read_points (const char **s, SbPoint *points, int n)
{
  for (int i = 0; i < n; i++)
    if (!read_number (s, &points[i].x) || !read_number (s, &points[i].y))
      return FALSE;
  return TRUE;
}

/* One command at `*s`; `*open` tells whether a ring is open. */
static gboolean
read_command (const char **s, SbOutlineBuilder *builder, gboolean *open)
{
  SbPoint p[3];
  char command = *(*s)++;
  if ((command == 'M') == *open)
    return FALSE;
  switch (command) {
  case 'M':
    if (!read_points (s, p, 1))
      return FALSE;
    sb_outline_builder_move_to (builder, p[0]);
    *open = TRUE;
    return TRUE;
  case 'L':
    if (!read_points (s, p, 1))
      return FALSE;
    sb_outline_builder_line_to (builder, p[0]);
    return TRUE;
  case 'C':
    if (!read_points (s, p, 3))
      return FALSE;
    sb_outline_builder_curve_to (builder, p[0], p[1], p[2]);
    return TRUE;
  case 'Z':
    sb_outline_builder_close (builder);
    *open = FALSE;
    return TRUE;
  default:
    return FALSE;
  }
}

SbOutline *
sb_outline_from_svg (const char *path, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);

  g_autoptr (SbOutlineBuilder) builder = sb_outline_builder_new ();
  gboolean open = FALSE;
  const char *s = skip_separators (path);
  while (*s != '\0') {
    const char *command = s;
    if (!read_command (&s, builder, &open)) {
      g_set_error (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_SYNTAX,
                   _ ("The outline cannot be read: its path is wrong at character %u"),
                   (guint)(command - path) + 1);
      return NULL;
    }
    s = skip_separators (s);
  }
  if (open) {
    g_set_error_literal (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_SYNTAX,
                         _ ("The outline cannot be read: its last ring is not closed"));
    return NULL;
  }
  return sb_outline_builder_end (g_steal_pointer (&builder));
}
