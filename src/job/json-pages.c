/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pages and pieces as JSON. */
#include "config.h"

#include <glib/gi18n.h>

#include "job/json-parts.h"

/* Writing */

static JsonObject *
write_piece (const SbPiece *piece)
{
  JsonObject *object = json_object_new ();
  json_object_set_int_member (object, "id", piece->id);
  json_object_set_int_member (object, "design", piece->design_id);
  json_object_set_int_member (object, "x_um", piece->at.x);
  json_object_set_int_member (object, "y_um", piece->at.y);
  json_object_set_int_member (object, "turn_millidegrees", piece->turn);
  json_object_set_boolean_member (object, "pinned", piece->pinned != FALSE);
  return object;
}

void
sb_json_add_element (JsonArray *array, JsonObject *object, JsonObject *extra)
{
  if (extra != NULL)
    sb_json_add_leftover (object, extra);
  json_array_add_object_element (array, object);
}

JsonArray *
sb_json_write_pieces (const SbState *state, const SbPiece *pieces, guint n)
{
  JsonArray *array = json_array_new ();
  for (guint i = 0; i < n; i++) {
    JsonObject *extra = NULL;
    if (state->piece_extra != NULL)
      extra = g_hash_table_lookup (state->piece_extra, GUINT_TO_POINTER (pieces[i].id));
    sb_json_add_element (array, write_piece (&pieces[i]), extra);
  }
  return array;
}

static JsonArray *
write_placements (const SbPage *page)
{
  JsonArray *array = json_array_new ();
  for (guint i = 0; i < page->n_placements; i++) {
    const SbPlacement *placement = &page->placements[i];
    JsonObject *object = json_object_new ();
    json_object_set_int_member (object, "x_um", placement->at.x);
    json_object_set_int_member (object, "y_um", placement->at.y);
    json_object_set_boolean_member (object, "turned", placement->turned != FALSE);
    json_array_add_object_element (array, object);
  }
  return array;
}

static JsonObject *
write_page (const SbState *state, const SbPage *page)
{
  JsonObject *object = json_object_new ();
  json_object_set_int_member (object, "id", page->id);
  json_object_set_array_member (object, "pieces",
                                sb_json_write_pieces (state, page->pieces, page->n_pieces));
  if (page->layout_id != 0) {
    json_object_set_int_member (object, "layout", page->layout_id);
    json_object_set_array_member (object, "placements", write_placements (page));
  }
  return object;
}

JsonArray *
sb_json_write_pages (const SbState *state)
{
  JsonArray *array = json_array_new ();
  for (guint i = 0; i < state->pages->len; i++) {
    const SbPage *page = state->pages->pdata[i];
    sb_json_add_element (array, write_page (state, page), page->extra);
  }
  return array;
}

/* Reading */

guint
sb_json_read_id (SbJsonReading *reading, JsonObject *object)
{
  guint id = (guint)sb_json_reader_int (&reading->json, object, "id", 1, SB_JSON_MOST_ID);
  if (!g_hash_table_add (reading->ids, GUINT_TO_POINTER (id)))
    sb_json_reader_fail (&reading->json, _ ("the id %u is there twice"), id);
  reading->state->next_id = MAX (reading->state->next_id, id + 1);
  return id;
}

static void
keep_piece_extra (SbState *state, guint piece_id, JsonObject *extra)
{
  if (state->piece_extra == NULL)
    state->piece_extra =
        g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify)json_object_unref);
  g_hash_table_insert (state->piece_extra, GUINT_TO_POINTER (piece_id), extra);
}

static SbPiece
read_piece (SbJsonReading *reading, JsonObject *object)
{
  SbJsonReader *json = &reading->json;
  SbPiece piece = {
      .id = sb_json_read_id (reading, object),
      .design_id = (guint)sb_json_reader_int (json, object, "design", 1, SB_JSON_MOST_ID),
      .at.x =
          (sb_um)sb_json_reader_int (json, object, "x_um", -SB_PIECE_FARTHEST, SB_PIECE_FARTHEST),
      .at.y =
          (sb_um)sb_json_reader_int (json, object, "y_um", -SB_PIECE_FARTHEST, SB_PIECE_FARTHEST),
      .turn = (gint32)sb_json_reader_int (json, object, "turn_millidegrees", 0, 359999),
      .pinned = sb_json_reader_bool (json, object, "pinned"),
  };
  if (!g_hash_table_contains (reading->design_ids, GUINT_TO_POINTER (piece.design_id)))
    sb_json_reader_fail (json, _ ("piece %u is of the design %u, which is not there"), piece.id,
                         piece.design_id);
  g_autoptr (JsonObject) known = write_piece (&piece);
  JsonObject *extra = sb_json_leftover (object, known);
  if (extra != NULL)
    keep_piece_extra (reading->state, piece.id, extra);
  return piece;
}

SbPiece *
sb_json_read_pieces (SbJsonReading *reading, JsonObject *object, guint *n)
{
  JsonArray *array = sb_json_reader_array (&reading->json, object, "pieces",
                                           SB_JOB_MOST_PIECES - reading->n_pieces);
  *n = array != NULL ? json_array_get_length (array) : 0;
  reading->n_pieces += *n;
  SbPiece *pieces = g_new0 (SbPiece, *n);
  for (guint i = 0; i < *n && reading->json.error == NULL; i++) {
    JsonObject *element = sb_json_reader_element (&reading->json, array, i);
    if (element != NULL)
      pieces[i] = read_piece (reading, element);
  }
  return pieces;
}

static SbPlacement
read_placement (SbJsonReader *json, JsonObject *object)
{
  return (SbPlacement){
      .at.x =
          (sb_um)sb_json_reader_int (json, object, "x_um", -SB_PIECE_FARTHEST, SB_PIECE_FARTHEST),
      .at.y =
          (sb_um)sb_json_reader_int (json, object, "y_um", -SB_PIECE_FARTHEST, SB_PIECE_FARTHEST),
      .turned = sb_json_reader_bool (json, object, "turned"),
  };
}

/* The copies of a layout that lie on `page`. */
static void
read_laid (SbJsonReading *reading, SbPage *page, JsonObject *object)
{
  SbJsonReader *json = &reading->json;
  guint layout_id = (guint)sb_json_reader_int (json, object, "layout", 1, SB_JSON_MOST_ID);
  const SbLayout *layout = sb_state_get_layout (reading->state, layout_id);
  if (layout == NULL)
    sb_json_reader_fail (json, _ ("a page carries the layout %u, which is not there"), layout_id);
  JsonArray *array = sb_json_reader_array (json, object, "placements",
                                           SB_JOB_MOST_PLACEMENTS - reading->n_placements);
  if (json->error != NULL)
    return;
  page->layout_id = layout_id;
  page->n_placements = json_array_get_length (array);
  page->placements = g_new0 (SbPlacement, page->n_placements);
  reading->n_placements += page->n_placements;
  reading->n_expanded += (guint64)page->n_placements * layout->n_pieces;
  if (reading->n_expanded > SB_JOB_MOST_EXPANDED)
    sb_json_reader_fail (json, _ ("“%s” has more than %u entries"), "placements",
                         SB_JOB_MOST_EXPANDED);
  for (guint i = 0; i < page->n_placements && json->error == NULL; i++) {
    JsonObject *element = sb_json_reader_element (json, array, i);
    if (element != NULL)
      page->placements[i] = read_placement (json, element);
  }
}

static SbPage *
read_page (SbJsonReading *reading, JsonObject *object)
{
  guint n;
  guint id = sb_json_read_id (reading, object);
  g_autofree SbPiece *pieces = sb_json_read_pieces (reading, object, &n);
  SbPage *page = sb_page_new (id, pieces, n);
  if (json_object_has_member (object, "layout"))
    read_laid (reading, page, object);
  g_autoptr (JsonObject) known = write_page (reading->state, page);
  page->extra = sb_json_leftover (object, known);
  return page;
}

void
sb_json_read_pages (SbJsonReading *reading, JsonArray *array)
{
  guint n = array != NULL ? json_array_get_length (array) : 0;
  if (n == 0)
    sb_json_reader_fail (&reading->json, _ ("it has no page"));
  for (guint i = 0; i < n && reading->json.error == NULL; i++) {
    JsonObject *object = sb_json_reader_element (&reading->json, array, i);
    if (object != NULL)
      g_ptr_array_add (reading->state->pages, read_page (reading, object));
  }
}
