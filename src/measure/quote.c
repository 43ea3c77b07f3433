/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/quote.h"

#define MOST_CHARACTERS 40

char *
sb_quote (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  if (g_utf8_strlen (valid, -1) <= MOST_CHARACTERS)
    return g_steal_pointer (&valid);
  g_autofree char *start = g_utf8_substring (valid, 0, MOST_CHARACTERS);
  return g_strconcat (start, "…", NULL);
}
