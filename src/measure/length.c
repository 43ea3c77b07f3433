/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/length.h"

#include <glib/gi18n.h>
#include <langinfo.h>
#include <math.h>
#include <string.h>

#include "measure/quote.h"

G_DEFINE_QUARK (sb_measure_error, sb_measure_error)

static const struct {
  const char *symbol;
  double mm;
  int digits;
} units[] = {
    [SB_UNIT_MM] = {"mm", 1.0, 1},
    [SB_UNIT_CM] = {"cm", 10.0, 2},
    [SB_UNIT_INCH] = {"in", SB_MM_PER_INCH, 2},
    [SB_UNIT_PT] = {"pt", SB_MM_PER_PT, 2},
};

/* Other ways in which people write a unit. */
static const struct {
  const char *text;
  SbUnit unit;
} spellings[] = {
    {"mm", SB_UNIT_MM},    {"cm", SB_UNIT_CM},     {"in", SB_UNIT_INCH},
    {"in.", SB_UNIT_INCH}, {"inch", SB_UNIT_INCH}, {"inches", SB_UNIT_INCH},
    {"\"", SB_UNIT_INCH},  {"''", SB_UNIT_INCH},   {"″", SB_UNIT_INCH}, /* double prime */
    {"”", SB_UNIT_INCH}, /* what some keyboards make of the inch mark */
    {"pt", SB_UNIT_PT},
};

/* Fractions that keyboards have as one character. */
static const struct {
  const char *text;
  double value;
} vulgar_fractions[] = {
    {"¼", 0.25}, {"½", 0.5}, {"¾", 0.75}, {"⅛", 0.125}, {"⅜", 0.375}, {"⅝", 0.625}, {"⅞", 0.875},
};

double
sb_unit_get_mm (SbUnit unit)
{
  return units[unit].mm;
}

sb_um
sb_um_from_mm (double mm)
{
  g_return_val_if_fail (fabs (mm) <= SB_UM_MOST / (double)SB_UM_PER_MM, 0);
  return (sb_um)lround (mm * SB_UM_PER_MM);
}

/* Also the spaces that this file writes: thin and no-break ones. */
static const char *
skip_blanks (const char *s)
{
  while (*s != '\0') {
    gunichar c = g_utf8_get_char (s);
    if (!g_unichar_isspace (c))
      break;
    s = g_utf8_next_char (s);
  }
  return s;
}

static gboolean
read_sign (const char **s)
{
  if (g_str_has_prefix (*s, "\u2212")) { /* minus sign */
    *s += 3;
    return TRUE;
  }
  if (**s == '+' || **s == '-')
    return *(*s)++ == '-';
  return FALSE;
}

/* Digits with at most one decimal mark. No exponent, no "nan", no "inf": nobody types a length so.
 * `whole` is told whether there was no mark. */
static gboolean
read_decimal (const char **s, double *value, gboolean *whole)
{
  g_autoptr (GString) number = g_string_new (NULL);
  guint digits = 0;
  *whole = TRUE;
  for (; g_ascii_isdigit (**s) || ((**s == '.' || **s == ',') && *whole); (*s)++) {
    if (g_ascii_isdigit (**s)) {
      g_string_append_c (number, **s);
      digits++;
    } else {
      g_string_append_c (number, '.');
      *whole = FALSE;
    }
  }
  *value = g_ascii_strtod (number->str, NULL);
  return digits > 0;
}

static gboolean
read_vulgar_fraction (const char **s, double *value)
{
  for (gsize i = 0; i < G_N_ELEMENTS (vulgar_fractions); i++) {
    if (g_str_has_prefix (*s, vulgar_fractions[i].text)) {
      *s += strlen (vulgar_fractions[i].text);
      *value = vulgar_fractions[i].value;
      return TRUE;
    }
  }
  return FALSE;
}

/* "/4" after the upper number; the fraction slash U+2044 too. */
static gboolean
read_divisor (const char **s, double *divisor)
{
  const char *p = skip_blanks (*s);
  if (g_str_has_prefix (p, "\u2044"))
    p += 3;
  else if (*p == '/')
    p++;
  else
    return FALSE;
  p = skip_blanks (p);
  gboolean whole;
  if (!read_decimal (&p, divisor, &whole) || !whole || *divisor == 0)
    return FALSE;
  *s = p;
  return TRUE;
}

/* "12", "1.5", "1/4", "1 1/2", "1½". */
static gboolean
read_number (const char **s, double *value)
{
  double divisor;
  gboolean whole;
  if (read_vulgar_fraction (s, value))
    return TRUE;
  if (!read_decimal (s, value, &whole))
    return FALSE;
  if (!whole)
    return TRUE;
  if (read_divisor (s, &divisor)) {
    *value /= divisor;
    return TRUE;
  }

  const char *p = skip_blanks (*s);
  double part;
  if (read_vulgar_fraction (&p, &part)) {
    *value += part;
    *s = p;
  } else if (p > *s && read_decimal (&p, &part, &whole) && whole && read_divisor (&p, &divisor)) {
    *value += part / divisor;
    *s = p;
  }
  return TRUE;
}

static gboolean
read_unit (const char *s, SbUnit *unit)
{
  g_autofree char *word = g_strdup (s);
  g_strstrip (word);
  if (*word == '\0')
    return TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (spellings); i++) {
    if (g_ascii_strcasecmp (word, spellings[i].text) == 0) {
      *unit = spellings[i].unit;
      return TRUE;
    }
  }
  return FALSE;
}

gboolean
sb_length_parse_with_unit (const char *text, SbUnit *unit, double *mm, GError **error)
{
  g_return_val_if_fail (text != NULL && unit != NULL && mm != NULL, FALSE);

  double value = 0;
  SbUnit found = *unit;
  const char *s = text;
  gboolean read = g_utf8_validate (text, -1, NULL);
  if (read) {
    s = skip_blanks (s);
    gboolean negative = read_sign (&s);
    s = skip_blanks (s);
    read = read_number (&s, &value) && read_unit (skip_blanks (s), &found);
    if (negative)
      value = -value;
  }
  if (!read) {
    g_autofree char *quoted = sb_quote (text);
    g_set_error (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_SYNTAX,
                 _ ("“%s” is not a length; type a number and mm, cm, in or "
                    "pt, such as 50.8 mm or 2 in"),
                 quoted);
    return FALSE;
  }

  value *= units[found].mm;
  if (!(fabs (value) <= SB_UM_MOST / (double)SB_UM_PER_MM)) {
    g_autofree char *quoted = sb_quote (text);
    g_set_error (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_RANGE,
                 _ ("“%s” is too long; the longest length is 10 m"), quoted);
    return FALSE;
  }
  *mm = value;
  *unit = found;
  return TRUE;
}

gboolean
sb_length_parse (const char *text, SbUnit fallback, double *mm, GError **error)
{
  return sb_length_parse_with_unit (text, &fallback, mm, error);
}

gboolean
sb_length_parse_um (const char *text, SbUnit fallback, sb_um *length, GError **error)
{
  double mm;
  if (!sb_length_parse (text, fallback, &mm, error))
    return FALSE;
  *length = sb_um_from_mm (mm);
  return TRUE;
}

char *
sb_length_format_number (double mm, SbUnit unit)
{
  int digits = units[unit].digits;
  double value = mm / units[unit].mm;
  /* No "-0.0". */
  if (fabs (value) < 0.5 * pow (10, -digits))
    value = 0;
  return g_strdup_printf ("%.*f", digits, value);
}

char *
sb_length_format (double mm, SbUnit unit)
{
  g_autofree char *number = sb_length_format_number (mm, unit);
  return g_strconcat (number, "\u2009", units[unit].symbol, NULL);
}

char *
sb_decimal_format (double value, int digits)
{
  double scale = pow (10, digits);
  gboolean fits = fabs (value - round (value * scale) / scale) < 0.05 / scale;

  return g_strdup_printf ("%.*f", fits ? digits : digits + 1, value);
}

char *
sb_length_format_fine (double mm, SbUnit unit)
{
  g_autofree char *number = sb_decimal_format (mm / units[unit].mm, units[unit].digits);
  return g_strconcat (number, "\u2009", units[unit].symbol, NULL);
}

char *
sb_length_format_size (double width_mm, double height_mm, SbUnit unit)
{
  g_autofree char *width = sb_length_format_number (width_mm, unit);
  g_autofree char *height = sb_length_format (height_mm, unit);
  return g_strconcat (width, " × ", height, NULL);
}

const char *
sb_unit_symbol (SbUnit unit)
{
  return units[unit].symbol;
}

SbUnit
sb_unit_from_locale (void)
{
  /* One byte: 1 for metric, 2 for the measures of the United States (glibc's LC_MEASUREMENT). */
  return nl_langinfo (_NL_MEASUREMENT_MEASUREMENT)[0] == 2 ? SB_UNIT_INCH : SB_UNIT_MM;
}
