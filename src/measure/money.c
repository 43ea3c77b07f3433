/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/money.h"

#include <locale.h>
#include <math.h>
#include <monetary.h>
#include <string.h>

#define DIGITS_OTHER 2
#define FINE_DIGITS 2 /* more than the coin has */

char *
sb_currency_from_locale (void)
{
  /* ISO 4217's three letters and the sign that parts them from the amount. */
  return g_strndup (localeconv ()->int_curr_symbol, 3);
}

/* In the locale's own way. FALSE for numbers of digits that no currency has. */
static gboolean
format_local (char *text, gsize size, double amount, int digits)
{
  switch (digits) {
  case 0:
    return strfmon (text, size, "%.0n", amount) >= 0;
  case 2:
    return strfmon (text, size, "%.2n", amount) >= 0;
  case 3:
    return strfmon (text, size, "%.3n", amount) >= 0;
  case 4:
    return strfmon (text, size, "%.4n", amount) >= 0;
  case 5:
    return strfmon (text, size, "%.5n", amount) >= 0;
  default:
    return FALSE;
  }
}

static char *
format (double amount, const char *currency, int more_digits)
{
  g_autofree char *own = sb_currency_from_locale ();
  int digits = localeconv ()->int_frac_digits;
  char text[64];
  if (*currency != '\0' && g_str_equal (currency, own) &&
      format_local (text, sizeof text, amount, digits + more_digits))
    return g_strdup (text);
  g_snprintf (text, sizeof text, "%.*f", DIGITS_OTHER + more_digits, amount);
  return *currency == '\0' ? g_strdup (text) : g_strdup_printf ("%s\u00a0%s", text, currency);
}

char *
sb_money_format (double amount, const char *currency)
{
  return format (amount, currency, 0);
}

char *
sb_money_format_fine (double amount, const char *currency)
{
  return format (amount, currency, FINE_DIGITS);
}

gboolean
sb_number_parse (const char *text, double *number)
{
  g_autofree char *plain = g_strstrip (g_strdelimit (g_strdup (text), ",", '.'));
  if (strspn (plain, "+-.0123456789") != strlen (plain))
    return FALSE;
  char *end;
  double read = g_ascii_strtod (plain, &end);
  if (end == plain || *end != '\0' || !isfinite (read))
    return FALSE;
  *number = read;
  return TRUE;
}
