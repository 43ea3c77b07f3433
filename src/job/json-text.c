/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "job/json-text.h"

#include <string.h>

#define MOST_DIGITS 17 /* of a double (IEEE 754-2019, 5.12.2) */

/* Adds the number of `length` characters at `number`, which json-glib wrote. */
static void
add_number (GString *text, const char *number, gsize length)
{
  char whole[G_ASCII_DTOSTR_BUF_SIZE];
  if (length < MOST_DIGITS || length >= sizeof whole) {
    g_string_append_len (text, number, (gssize)length);
    return;
  }
  memcpy (whole, number, length);
  whole[length] = '\0';
  static const char *const shorter[] = {"%.15g", "%.16g"};
  double value = g_ascii_strtod (whole, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (shorter) && strpbrk (whole, ".e") != NULL; i++) {
    char rounded[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd (rounded, sizeof rounded, shorter[i], value);
    if (g_ascii_strtod (rounded, NULL) == value) {
      g_string_append (text, rounded);
      if (strpbrk (rounded, ".e") == NULL)
        g_string_append (text, ".0");
      return;
    }
  }
  g_string_append (text, whole);
}

/* The character after the string that begins at `c`. */
static const char *
skip_string (const char *c)
{
  for (c++; *c != '"'; c++)
    if (*c == '\\')
      c++;
  return c + 1;
}

char *
sb_json_to_text (JsonNode *root, gsize *length)
{
  g_autofree char *written = json_to_string (root, FALSE);
  GString *text = g_string_sized_new (strlen (written));
  const char *end;
  for (const char *c = written; *c != '\0'; c = end) {
    if (*c == '-' || g_ascii_isdigit (*c)) {
      end = c + strspn (c, "+-.0123456789eE");
      add_number (text, c, (gsize)(end - c));
    } else {
      end = *c == '"' ? skip_string (c) : c + 1;
      g_string_append_len (text, c, end - c);
    }
  }
  if (length != NULL)
    *length = text->len;
  return g_string_free (text, FALSE);
}
