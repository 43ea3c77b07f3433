/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "order/reckoning.h"

#include <glib/gi18n.h>

#include "measure/money.h"

SbFigure *
sb_reckon_add (SbReckoning *r, const char *key, const char *label, SbFigureKind kind, double value)
{
  SbFigure *figure = sb_figure_new (key, label, kind, value);
  g_ptr_array_add (r->bill->figures, figure);
  return figure;
}

static const char *
keep (SbReckoning *r, char *word)
{
  g_ptr_array_add (r->words, word);
  return word;
}

const char *
sb_reckon_money (SbReckoning *r, double amount)
{
  return keep (r, sb_money_format (amount, r->bill->currency));
}

const char *
sb_reckon_fine (SbReckoning *r, double amount)
{
  return keep (r, sb_money_format_fine (amount, r->bill->currency));
}

const char *
sb_reckon_duration (SbReckoning *r, double seconds)
{
  return keep (r, sb_duration_format (seconds));
}

double
sb_reckon_price (SbReckoning *r, SbRate rate)
{
  const char *label = _ (sb_rate_get_info (rate)->label);
  if (r->rates[rate] == 0 &&
      !g_ptr_array_find_with_equal_func (r->bill->missing, label, g_str_equal, NULL))
    g_ptr_array_add (r->bill->missing, g_strdup (label));
  return r->rates[rate];
}
