/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files that write and read a job's JSON share. Reading keeps its first error in
 * `reading->json` and goes on with harmless values. */
#pragma once

#include "job/job-json.h"
#include "job/json-reader.h"

G_BEGIN_DECLS

#define SB_JSON_MOST_ID 1000000000

typedef struct {
  SbJsonReader json;
  SbState *state;
  GHashTable *ids; /* of designs, layouts, pages and pieces: each once */
  GHashTable *design_ids;
  guint n_pieces, n_placements;
  guint64 n_expanded;
  SbArtworkFind find;
  gpointer find_data;
} SbJsonReading;

/* An id that nothing else has. */
guint sb_json_read_id (SbJsonReading *reading, JsonObject *object);

/* Adds `object` (consumed) with its leftover (or NULL) to `array`. */
void sb_json_add_element (JsonArray *array, JsonObject *object, JsonObject *extra);

JsonArray *sb_json_write_pages (const SbState *state);
void sb_json_read_pages (SbJsonReading *reading, JsonArray *array);
JsonArray *sb_json_write_pieces (const SbState *state, const SbPiece *pieces, guint n);
/* New; `*n` gets their number. */
SbPiece *sb_json_read_pieces (SbJsonReading *reading, JsonObject *object, guint *n);

JsonArray *sb_json_write_layouts (const SbState *state);
void sb_json_read_layouts (SbJsonReading *reading, JsonArray *array);

G_END_DECLS
