/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/json-reader.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/file.h"

#define MOST_NESTING 32

void
sb_json_reader_fail (SbJsonReader *reader, const char *format, ...)
{
  if (reader->error != NULL)
    return;
  va_list args;
  va_start (args, format);
  reader->error = g_error_new_valist (SB_FILE_ERROR, SB_FILE_ERROR_FORMAT, format, args);
  va_end (args);
}

/* How deep objects and arrays are nested, outside of texts. */
static int
measure_nesting (const char *text, gsize length)
{
  int depth = 0, deepest = 0;
  gboolean in_text = FALSE;
  for (gsize i = 0; i < length; i++) {
    if (in_text && text[i] == '\\')
      i++;
    else if (text[i] == '"')
      in_text = !in_text;
    else if (!in_text && (text[i] == '{' || text[i] == '['))
      depth++;
    else if (!in_text && (text[i] == '}' || text[i] == ']'))
      depth--;
    deepest = MAX (deepest, depth);
  }
  return deepest;
}

JsonObject *
sb_json_reader_parse (SbJsonReader *reader, const char *text, gsize length)
{
  if (!g_utf8_validate_len (text, length, NULL)) {
    sb_json_reader_fail (reader, _ ("it is not written in UTF-8"));
    return NULL;
  }
  if (measure_nesting (text, length) > MOST_NESTING) {
    sb_json_reader_fail (reader, _ ("it is nested too deeply"));
    return NULL;
  }
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  g_autoptr (GError) error = NULL;
  if (!json_parser_load_from_data (parser, text, (gssize)length, &error)) {
    sb_json_reader_fail (reader, "%s", error->message);
    return NULL;
  }
  JsonNode *root = json_parser_get_root (parser);
  if (root == NULL || !JSON_NODE_HOLDS_OBJECT (root)) {
    sb_json_reader_fail (reader, _ ("it does not describe a job"));
    return NULL;
  }
  return json_object_ref (json_node_get_object (root));
}

static JsonNode *
get_member (SbJsonReader *reader, JsonObject *object, const char *member)
{
  JsonNode *node = object != NULL ? json_object_get_member (object, member) : NULL;
  if (node == NULL)
    sb_json_reader_fail (reader, _ ("“%s” is missing"), member);
  return node;
}

static gboolean
holds (JsonNode *node, GType type)
{
  return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == type;
}

/* json-glib takes whole numbers for integers, whatever they stand for. */
static gboolean
get_plain_number (SbJsonReader *reader, JsonObject *object, const char *member, double *number)
{
  JsonNode *node = get_member (reader, object, member);
  if (node == NULL)
    return FALSE;
  if (!holds (node, G_TYPE_INT64) && !holds (node, G_TYPE_DOUBLE)) {
    sb_json_reader_fail (reader, _ ("“%s” is not a number"), member);
    return FALSE;
  }
  *number = json_node_get_double (node);
  return TRUE;
}

double
sb_json_reader_number (SbJsonReader *reader, JsonObject *object, const char *member, double least,
                       double most)
{
  double number;
  if (!get_plain_number (reader, object, member, &number))
    return least;
  if (isfinite (number) && number >= least && number <= most)
    return number;
  sb_json_reader_fail (reader, _ ("“%s” is %g, which is not between %g and %g"), member, number,
                       least, most);
  return least;
}

gint64
sb_json_reader_int (SbJsonReader *reader, JsonObject *object, const char *member, gint64 least,
                    gint64 most)
{
  double number = sb_json_reader_number (reader, object, member, (double)least, (double)most);
  if (number != floor (number))
    sb_json_reader_fail (reader, _ ("“%s” is %g, which is not a whole number"), member, number);
  return (gint64)number;
}

gboolean
sb_json_reader_bool (SbJsonReader *reader, JsonObject *object, const char *member)
{
  JsonNode *node = get_member (reader, object, member);
  if (node == NULL)
    return FALSE;
  if (!holds (node, G_TYPE_BOOLEAN))
    sb_json_reader_fail (reader, _ ("“%s” is neither true nor false"), member);
  return reader->error == NULL && json_node_get_boolean (node);
}

const char *
sb_json_reader_text (SbJsonReader *reader, JsonObject *object, const char *member)
{
  JsonNode *node = get_member (reader, object, member);
  if (node == NULL)
    return "";
  if (!holds (node, G_TYPE_STRING)) {
    sb_json_reader_fail (reader, _ ("“%s” is not a text"), member);
    return "";
  }
  return json_node_get_string (node);
}

int
sb_json_reader_choice (SbJsonReader *reader, JsonObject *object, const char *member,
                       const char *const *keys)
{
  const char *text = sb_json_reader_text (reader, object, member);
  for (int i = 0; keys[i] != NULL; i++)
    if (g_str_equal (text, keys[i]))
      return i;
  sb_json_reader_fail (reader, _ ("“%s” is “%.40s”, which is not known"), member, text);
  return 0;
}

JsonObject *
sb_json_reader_object (SbJsonReader *reader, JsonObject *object, const char *member)
{
  JsonNode *node = get_member (reader, object, member);
  if (node != NULL && JSON_NODE_HOLDS_OBJECT (node))
    return json_node_get_object (node);
  sb_json_reader_fail (reader, _ ("“%s” is not an object"), member);
  return NULL;
}

JsonArray *
sb_json_reader_array (SbJsonReader *reader, JsonObject *object, const char *member, guint most)
{
  JsonNode *node = get_member (reader, object, member);
  if (node == NULL || !JSON_NODE_HOLDS_ARRAY (node)) {
    sb_json_reader_fail (reader, _ ("“%s” is not a list"), member);
    return NULL;
  }
  JsonArray *array = json_node_get_array (node);
  if (json_array_get_length (array) > most)
    sb_json_reader_fail (reader, _ ("“%s” has more than %u entries"), member, most);
  return reader->error == NULL ? array : NULL;
}

JsonObject *
sb_json_reader_element (SbJsonReader *reader, JsonArray *array, guint index)
{
  JsonNode *node = json_array_get_element (array, index);
  if (JSON_NODE_HOLDS_OBJECT (node))
    return json_node_get_object (node);
  sb_json_reader_fail (reader, _ ("a list holds something that is not an object"));
  return NULL;
}

JsonObject *
sb_json_leftover (JsonObject *object, JsonObject *known)
{
  g_autoptr (JsonObject) leftover = json_object_new ();
  JsonObjectIter iter;
  const char *member;
  JsonNode *node;
  json_object_iter_init_ordered (&iter, object);
  while (json_object_iter_next_ordered (&iter, &member, &node)) {
    JsonNode *same = json_object_get_member (known, member);
    if (same == NULL) {
      json_object_set_member (leftover, member, json_node_copy (node));
    } else if (JSON_NODE_HOLDS_OBJECT (same) && JSON_NODE_HOLDS_OBJECT (node)) {
      JsonObject *inner =
          sb_json_leftover (json_node_get_object (node), json_node_get_object (same));
      if (inner != NULL)
        json_object_set_object_member (leftover, member, inner);
    }
  }
  return json_object_get_size (leftover) > 0 ? g_steal_pointer (&leftover) : NULL;
}

void
sb_json_add_leftover (JsonObject *object, JsonObject *leftover)
{
  JsonObjectIter iter;
  const char *member;
  JsonNode *node;
  json_object_iter_init_ordered (&iter, leftover);
  while (json_object_iter_next_ordered (&iter, &member, &node)) {
    JsonNode *same = json_object_get_member (object, member);
    if (same == NULL)
      json_object_set_member (object, member, json_node_copy (node));
    else if (JSON_NODE_HOLDS_OBJECT (same) && JSON_NODE_HOLDS_OBJECT (node))
      sb_json_add_leftover (json_node_get_object (same), json_node_get_object (node));
  }
}
