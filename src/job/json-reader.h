/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Checked reading of JSON: each function gives a value within its limits, or keeps the first error
 * and gives a harmless value, so that a caller reads straight on and looks at `error` once. */
#pragma once

#include <json-glib/json-glib.h>

G_BEGIN_DECLS

typedef struct {
  GError *error; /* SB_FILE_ERROR; the first one */
} SbJsonReader;

/* The object that `text` holds. Refuses deep nesting, which would exhaust the parser's stack. */
JsonObject *sb_json_reader_parse (SbJsonReader *reader, const char *text, gsize length);

void sb_json_reader_fail (SbJsonReader *reader, const char *format, ...) G_GNUC_PRINTF (2, 3);

double sb_json_reader_number (SbJsonReader *reader, JsonObject *object, const char *member,
                              double least, double most);
gint64 sb_json_reader_int (SbJsonReader *reader, JsonObject *object, const char *member,
                           gint64 least, gint64 most);
gboolean sb_json_reader_bool (SbJsonReader *reader, JsonObject *object, const char *member);
/* Borrowed; never NULL. */
const char *sb_json_reader_text (SbJsonReader *reader, JsonObject *object, const char *member);
/* The place of the text in `keys` (NULL-terminated). */
int sb_json_reader_choice (SbJsonReader *reader, JsonObject *object, const char *member,
                           const char *const *keys);
/* Borrowed; NULL only after an error. */
JsonObject *sb_json_reader_object (SbJsonReader *reader, JsonObject *object, const char *member);
JsonArray *sb_json_reader_array (SbJsonReader *reader, JsonObject *object, const char *member,
                                 guint most);
/* The object at `index`. */
JsonObject *sb_json_reader_element (SbJsonReader *reader, JsonArray *array, guint index);

/* What `object` holds beyond `known` (at any depth of objects), or NULL. New. */
JsonObject *sb_json_leftover (JsonObject *object, JsonObject *known);
/* Adds a leftover to an object again, under what the object already has. */
void sb_json_add_leftover (JsonObject *object, JsonObject *leftover);

G_END_DECLS
