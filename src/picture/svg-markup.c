/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "picture/svg-markup.h"

#include <glib/gi18n.h>
#include <string.h>

#include "picture/picture.h"

#define CSS_PX_PER_Q (96 / 25.4 / 4)
/* Enough of an embedded picture for every header; an EXIF block may hold 64 kB before it. */
#define HEADER_BYTES (512 * 1024)

typedef struct {
  const char *name;
  SbSvgMarkup *markup;
  gboolean seen_root;
} Scan;

/* A length in Q, or 0. CSS units ignore case. */
static double
q_to_px (const char *value)
{
  char *end;
  double number = g_ascii_strtod (value, &end);

  while (g_ascii_isspace (*end))
    end++;
  if (end == value || g_ascii_toupper (*end) != 'Q' || end[1] != '\0' || !(number > 0) ||
      number > 1e9)
    return 0;
  return number * CSS_PX_PER_Q;
}

/* The first bytes of a data: address (RFC 2397), or NULL for other ones. */
static GBytes *
data_address_start (const char *value)
{
  if (g_ascii_strncasecmp (value, "data:", 5) != 0)
    return NULL;
  const char *comma = strchr (value, ',');
  if (comma == NULL)
    return NULL;

  g_autofree char *kind = g_ascii_strdown (value, comma - value);
  if (g_str_has_suffix (kind, ";base64")) {
    gsize n = MIN (strlen (comma + 1), HEADER_BYTES * 4 / 3);
    guint8 *start = g_malloc (n / 4 * 3 + 3);
    int state = 0;
    guint save = 0;
    gsize got = g_base64_decode_step (comma + 1, n, start, &state, &save);
    return g_bytes_new_take (start, got);
  }
  return g_uri_unescape_bytes (comma + 1, -1, NULL, NULL);
}

/* Only a size that is too large matters here: a picture that cannot be read is not drawn. The cut
 * at HEADER_BYTES may also make it look damaged. */
static gboolean
check_embedded (const char *value, const char *name, GError **error)
{
  g_autoptr (GBytes) start = data_address_start (value);
  if (start == NULL)
    return TRUE;

  g_autoptr (GError) local = NULL;
  g_autofree char *inner = g_strdup_printf (_ ("A picture inside %s"), name);
  g_autoptr (SbPicture) picture = sb_picture_new (start, inner, &local);
  if (picture == NULL && g_error_matches (local, SB_PICTURE_ERROR, SB_PICTURE_ERROR_TOO_LARGE)) {
    g_propagate_error (error, g_steal_pointer (&local));
    return FALSE;
  }
  return TRUE;
}

static void
on_start (GMarkupParseContext *context, const char *element, const char **names,
          const char **values, gpointer user_data, GError **error)
{
  Scan *scan = user_data;
  const char *local_name = strrchr (element, ':');
  local_name = local_name != NULL ? local_name + 1 : element;

  if (!scan->seen_root)
    for (int i = 0; names[i] != NULL; i++) {
      if (strcmp (names[i], "width") == 0)
        scan->markup->width_px = q_to_px (values[i]);
      else if (strcmp (names[i], "height") == 0)
        scan->markup->height_px = q_to_px (values[i]);
    }
  scan->seen_root = TRUE;

  if (strcmp (local_name, "image") != 0 && strcmp (local_name, "feImage") != 0)
    return;
  for (int i = 0; names[i] != NULL; i++)
    if (!check_embedded (values[i], scan->name, error))
      return;
}

/* Addresses end at a quote, a bracket or a blank; bytes of base64 are none of these. */
static gboolean
search_text (const char *text, gsize size, const char *name, GError **error)
{
  const char *end = text + size;

  for (const char *at = text; (at = memmem (at, (gsize)(end - at), "data:", 5)) != NULL; at++) {
    gsize n = 0;
    while (at + n < end && strchr ("\"'<>", at[n]) == NULL)
      n++;
    g_autofree char *value = g_strndup (at, n);
    if (!check_embedded (value, name, error))
      return FALSE;
  }
  return TRUE;
}

/* In an attribute or a style. Drawing programs write an opacity of 1 wherever they can. */
static gboolean
is_layered (const char *text, gsize size)
{
  static gsize made = 0;

  if (g_once_init_enter (&made)) {
    GRegex *regex = g_regex_new ("(?<![-\\w])(filter|mask|mix-blend-mode|"
                                 "opacity\\s*+[:=]\\s*+[\"']?+\\s*+(?!1(\\.0*)?\\s*[;\"'}]))",
                                 G_REGEX_RAW | G_REGEX_OPTIMIZE, 0, NULL);
    g_once_init_leave (&made, (gsize)regex);
  }
  return g_regex_match_full ((GRegex *)made, text, (gssize)size, 0, 0, NULL, NULL);
}

gboolean
sb_svg_scan_markup (const char *text, gsize size, const char *name, SbSvgMarkup *markup,
                    GError **error)
{
  const GMarkupParser parser = {.start_element = on_start};
  Scan scan = {.name = name, .markup = markup};
  g_autoptr (GMarkupParseContext) context =
      g_markup_parse_context_new (&parser, G_MARKUP_TREAT_CDATA_AS_TEXT, &scan, NULL);
  g_autoptr (GError) local = NULL;

  markup->layered = is_layered (text, size);
  if (g_markup_parse_context_parse (context, text, (gssize)size, &local))
    return TRUE;
  if (local->domain == SB_PICTURE_ERROR) {
    g_propagate_error (error, g_steal_pointer (&local));
    return FALSE;
  }
  return search_text (text, size, name, error);
}

gboolean
sb_svg_is_plain_utf8 (const char *text, gsize size)
{
  if (size < 5 || !g_utf8_validate_len (text, size, NULL))
    return FALSE;

  const char *end = memmem (text, size, "?>", 2);
  if (!g_str_has_prefix (text, "<?xml") || end == NULL)
    return TRUE;
  g_autofree char *head = g_ascii_strdown (text, end - text);
  return strstr (head, "encoding") == NULL || strstr (head, "\"utf-8\"") != NULL ||
         strstr (head, "'utf-8'") != NULL;
}
