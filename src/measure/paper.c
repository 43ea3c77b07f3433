/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/paper.h"

#include <glib/gi18n.h>
#include <string.h>

#include "measure/quote.h"

#define LEAST_SIDE 20000
#define MOST_SIDE 1500000
#define SAME_SIZE 200 /* um; IPP and printer drivers round to 1/100 mm or whole points */

#define INCHES(length) ((sb_um)((length)*SB_UM_PER_INCH))

/* Names: PWG 5101.1 (Media Standardized Names 2.0), tables of North American, ISO and other
 * metric sizes. Measures: ANSI/ASME Y14.1, ISO 216, and trade custom (handbook section 3.1). */
static const SbPaper papers[] = {
    {"na_letter_8.5x11in", "letter", N_ ("Letter"), INCHES (8.5), INCHES (11)},
    {"iso_a4_210x297mm", "a4", N_ ("A4"), 210000, 297000},
    {"iso_a5_148x210mm", "a5", N_ ("A5"), 148000, 210000},
    {"iso_a6_105x148mm", "a6", N_ ("A6"), 105000, 148000},
    {"na_invoice_5.5x8.5in", "half-letter", N_ ("Half letter"), INCHES (5.5), INCHES (8.5)},
    {"custom_quarter-letter_4.25x5.5in", "quarter-letter", N_ ("Quarter letter"), INCHES (4.25),
     INCHES (5.5)},
    {"na_index-4x6_4x6in", "4x6", N_ ("4 × 6 in"), INCHES (4), INCHES (6)},
    {"om_small-photo_100x150mm", "10x15", N_ ("10 × 15 cm"), 100000, 150000},
    {"na_5x7_5x7in", "5x7", N_ ("5 × 7 in"), INCHES (5), INCHES (7)},
};

const SbPaper *
sb_papers (gsize *n)
{
  *n = G_N_ELEMENTS (papers);
  return papers;
}

const SbPaper *
sb_paper_find (const char *name)
{
  for (gsize i = 0; i < G_N_ELEMENTS (papers); i++)
    if (g_ascii_strcasecmp (name, papers[i].name) == 0 ||
        g_ascii_strcasecmp (name, papers[i].alias) == 0)
      return &papers[i];
  return NULL;
}

const SbPaper *
sb_paper_find_size (sb_um width, sb_um height)
{
  sb_um across = MIN (width, height);
  sb_um along = MAX (width, height);
  for (gsize i = 0; i < G_N_ELEMENTS (papers); i++)
    if (ABS (across - papers[i].width) <= SAME_SIZE && ABS (along - papers[i].height) <= SAME_SIZE)
      return &papers[i];
  return NULL;
}

/* "180" or "107.95": whole micrometres as millimetres without needless noughts. */
static void
append_mm (GString *text, sb_um length)
{
  g_string_append_printf (text, "%d", length / SB_UM_PER_MM);
  int rest = length % SB_UM_PER_MM;
  if (rest == 0)
    return;
  g_string_append_printf (text, ".%03d", rest);
  while (text->str[text->len - 1] == '0')
    g_string_truncate (text, text->len - 1);
}

static char *
custom_name (sb_um width, sb_um height)
{
  g_autoptr (GString) size = g_string_new (NULL);
  append_mm (size, MIN (width, height));
  g_string_append_c (size, 'x');
  append_mm (size, MAX (width, height));
  g_string_append (size, "mm");
  return g_strdup_printf ("custom_%s_%s", size->str, size->str);
}

/* The "x" between two sides: the last one, and not the one in a unit's name. */
static gboolean
split_sides (const char *text, char **first, char **second)
{
  static const char *const signs[] = {"×", "x", "X"};
  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++) {
    const char *at = strstr (text, signs[i]);
    if (at != NULL) {
      *first = g_strndup (text, at - text);
      *second = g_strdup (at + strlen (signs[i]));
      return TRUE;
    }
  }
  return FALSE;
}

/* Two lengths of which the first takes the second's unit where it has none. */
static gboolean
read_sides (const char *text, sb_um *width, sb_um *height)
{
  g_autofree char *first = NULL;
  g_autofree char *second = NULL;
  SbUnit unit = SB_UNIT_MM;
  double width_mm, height_mm;
  if (!split_sides (text, &first, &second) ||
      !sb_length_parse_with_unit (second, &unit, &height_mm, NULL) ||
      !sb_length_parse_with_unit (first, &unit, &width_mm, NULL))
    return FALSE;
  *width = sb_um_from_mm (width_mm);
  *height = sb_um_from_mm (height_mm);
  return TRUE;
}

/* A self-describing name: a class, a name, and the measures with their unit. Only the characters
 * of PWG 5101.1 section 5 are let through, since names go to printers and into files. */
static gboolean
read_pwg_name (const char *text, sb_um *width, sb_um *height)
{
  static const char *const classes[] = {"custom", "asme", "iso", "jis", "jpn", "na",
                                        "oe",     "om",   "prc", "roc", NULL};
  if (strspn (text, "abcdefghijklmnopqrstuvwxyz0123456789-._") != strlen (text))
    return FALSE;
  g_auto (GStrv) parts = g_strsplit (text, "_", -1);
  if (g_strv_length (parts) != 3 || !g_strv_contains (classes, parts[0]) || *parts[1] == '\0' ||
      !(g_str_has_suffix (parts[2], "in") || g_str_has_suffix (parts[2], "mm")))
    return FALSE;
  return read_sides (parts[2], width, height);
}

static gboolean
paper_error (GError **error, const char *text)
{
  g_autofree char *quoted = sb_quote (text);
  g_set_error (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_PAPER,
               _ ("“%s” is no paper size; use a name such as letter or a4, "
                  "or two sides such as 180x250mm"),
               quoted);
  return FALSE;
}

static gboolean
take_size (const char *name, sb_um width, sb_um height, char **name_out, sb_um *width_out,
           sb_um *height_out)
{
  *name_out = name != NULL ? g_strdup (name) : custom_name (width, height);
  *width_out = width;
  *height_out = height;
  return TRUE;
}

gboolean
sb_paper_parse (const char *text, char **name, sb_um *width, sb_um *height, GError **error)
{
  g_return_val_if_fail (text != NULL, FALSE);

  g_autofree char *typed = g_strstrip (g_ascii_strdown (text, -1));
  const SbPaper *paper = sb_paper_find (typed);
  if (paper != NULL)
    return take_size (paper->name, paper->width, paper->height, name, width, height);

  sb_um w, h;
  gboolean named = read_pwg_name (typed, &w, &h);
  if (!named && !read_sides (typed, &w, &h))
    return paper_error (error, text);
  if (MIN (w, h) < LEAST_SIDE || MAX (w, h) > MOST_SIDE) {
    g_autofree char *quoted = sb_quote (text);
    g_set_error (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_PAPER,
                 _ ("A paper of “%s” cannot be used; each side must be 20 mm "
                    "to 1500 mm long"),
                 quoted);
    return FALSE;
  }

  paper = sb_paper_find_size (w, h);
  if (paper != NULL && w <= h)
    return take_size (paper->name, paper->width, paper->height, name, width, height);
  if (paper != NULL)
    return take_size (paper->name, paper->height, paper->width, name, width, height);
  return take_size (named ? typed : NULL, w, h, name, width, height);
}

static gboolean
parse_margin (const char *text, SbUnit *unit, sb_um *margin, GError **error)
{
  double mm;
  if (!sb_length_parse_with_unit (text, unit, &mm, error))
    return FALSE;
  if (mm < 0) {
    g_set_error (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_RANGE,
                 _ ("A margin cannot be negative: %s"), text);
    return FALSE;
  }
  *margin = sb_um_from_mm (mm);
  return TRUE;
}

gboolean
sb_margins_parse (const char *text, SbUnit fallback, SbMargins *margins, GError **error)
{
  g_return_val_if_fail (text != NULL && margins != NULL, FALSE);

  g_auto (GStrv) parts = g_strsplit (text, strchr (text, ';') != NULL ? ";" : ",", -1);
  SbMargins read;
  if (g_strv_length (parts) == 4) {
    SbUnit unit = fallback;
    if (!parse_margin (parts[3], &unit, &read.left, error))
      return FALSE;
    for (int i = 0; i < 3; i++) {
      SbUnit own = unit;
      sb_um *const sides[] = {&read.top, &read.right, &read.bottom};
      if (!parse_margin (parts[i], &own, sides[i], error))
        return FALSE;
    }
  } else {
    if (!parse_margin (text, &fallback, &read.top, error))
      return FALSE;
    read.right = read.bottom = read.left = read.top;
  }
  *margins = read;
  return TRUE;
}

SbMargins
sb_margins_fallback (void)
{
  return (SbMargins){6350, 6350, 6350, 6350};
}
