/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "order/figure.h"

#include <glib/gi18n.h>
#include <math.h>

#include "measure/money.h"

#define MINUTE 60
#define HOUR 3600
#define SHORT_MOST 100 /* seconds that are told as seconds */

SbFigure *
sb_figure_new (const char *key, const char *label, SbFigureKind kind, double value)
{
  SbFigure *figure = g_new0 (SbFigure, 1);
  figure->key = g_strdup (key);
  figure->label = g_strdup (label);
  figure->kind = kind;
  figure->value = figure->low = figure->high = value;
  figure->lines = g_ptr_array_new_with_free_func (g_free);
  return figure;
}

void
sb_figure_free (SbFigure *figure)
{
  g_free (figure->key);
  g_free (figure->label);
  g_ptr_array_unref (figure->lines);
  g_free (figure);
}

void
sb_figure_explain (SbFigure *figure, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_ptr_array_add (figure->lines, g_strdup_vprintf (format, args));
  va_end (args);
}

char *
sb_duration_format (double seconds)
{
  if (seconds < SHORT_MOST)
    return g_strdup_printf (_ ("%.0f s"), seconds);
  long minutes = lround (seconds / MINUTE);
  if (seconds < HOUR)
    return g_strdup_printf (_ ("%ld min"), minutes);
  return g_strdup_printf (_ ("%ld h %ld min"), minutes / MINUTE, minutes % MINUTE);
}

static char *
format_value (SbFigureKind kind, double value, const char *currency)
{
  switch (kind) {
  case SB_FIGURE_MONEY:
    return sb_money_format (value, currency);
  case SB_FIGURE_FINE_MONEY:
    return sb_money_format_fine (value, currency);
  case SB_FIGURE_SECONDS:
    return sb_duration_format (value);
  case SB_FIGURE_PERCENT:
    return g_strdup_printf (_ ("%.0f %%"), value);
  case SB_FIGURE_COUNT:
  default:
    return g_strdup_printf ("%.0f", value);
  }
}

char *
sb_figure_format (const SbFigure *figure, const char *currency)
{
  g_autofree char *value = format_value (figure->kind, figure->value, currency);
  if (figure->low == figure->high)
    return g_steal_pointer (&value);
  g_autofree char *low = format_value (figure->kind, figure->low, currency);
  g_autofree char *high = format_value (figure->kind, figure->high, currency);
  /* Translators: an estimate and between what it may lie */
  return g_strdup_printf (_ ("about %s (%s to %s)"), value, low, high);
}
