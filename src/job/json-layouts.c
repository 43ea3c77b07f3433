/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Layouts as JSON. */
#include "config.h"

#include <glib/gi18n.h>

#include "job/json-parts.h"

static const char *const kind_keys[] = {"sheet", "header", "backing", NULL};

/* Where the whole numbers of a layout are, what they are called and their range. */
static const struct {
  const char *member;
  gsize offset;
  int least, most;
} numbers[] = {
    {"width_um", G_STRUCT_OFFSET (SbLayout, width), SB_LAYOUT_LEAST, SB_LAYOUT_MOST},
    {"height_um", G_STRUCT_OFFSET (SbLayout, height), SB_LAYOUT_LEAST, SB_LAYOUT_MOST},
    {"edge_um", G_STRUCT_OFFSET (SbLayout, edge), 0, SB_LAYOUT_EDGE_MOST},
    {"gap_um", G_STRUCT_OFFSET (SbLayout, gap), 0, SB_LAYOUT_GAP_MOST},
    {"corner_um", G_STRUCT_OFFSET (SbLayout, corner), 0, SB_LAYOUT_CORNER_MOST},
    {"lane_um", G_STRUCT_OFFSET (SbLayout, lane), 0, SB_LAYOUT_LANE_MOST},
    {"zone_um", G_STRUCT_OFFSET (SbLayout, zone), 0, SB_LAYOUT_ZONE_MOST},
    {"hole_um", G_STRUCT_OFFSET (SbLayout, hole), 0, SB_LAYOUT_HOLE_MOST},
    {"hole_at_um", G_STRUCT_OFFSET (SbLayout, hole_at), 0, SB_LAYOUT_MOST / 2},
    {"background_rgb", G_STRUCT_OFFSET (SbLayout, background), -1, 0xffffff},
    {"weight_gsm", G_STRUCT_OFFSET (SbLayout, weight), 0, SB_LAYOUT_WEIGHT_MOST},
    {"wanted", G_STRUCT_OFFSET (SbLayout, wanted), 0, SB_WANTED_MOST},
};

static JsonObject *
write_layout (const SbState *state, const SbLayout *layout)
{
  JsonObject *object = json_object_new ();
  json_object_set_int_member (object, "id", layout->id);
  json_object_set_string_member (object, "kind", kind_keys[layout->kind]);
  json_object_set_string_member (object, "name", layout->name);
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    json_object_set_int_member (object, numbers[i].member,
                                G_STRUCT_MEMBER (int, layout, numbers[i].offset));
  json_object_set_array_member (object, "pieces",
                                sb_json_write_pieces (state, layout->pieces, layout->n_pieces));
  return object;
}

JsonArray *
sb_json_write_layouts (const SbState *state)
{
  JsonArray *array = json_array_new ();
  for (guint i = 0; i < state->layouts->len; i++) {
    const SbLayout *layout = state->layouts->pdata[i];
    sb_json_add_element (array, write_layout (state, layout), layout->extra);
  }
  return array;
}

static SbLayout *
read_layout (SbJsonReading *reading, JsonObject *object)
{
  SbJsonReader *json = &reading->json;
  SbLayoutKind kind = (SbLayoutKind)sb_json_reader_choice (json, object, "kind", kind_keys);
  SbLayout *layout = sb_layout_new (kind, sb_json_reader_text (json, object, "name"),
                                    SB_LAYOUT_LEAST, SB_LAYOUT_LEAST);
  layout->id = sb_json_read_id (reading, object);
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    G_STRUCT_MEMBER (int, layout, numbers[i].offset) = (int)sb_json_reader_int (
        json, object, numbers[i].member, numbers[i].least, numbers[i].most);
  if (layout->lane > 0 && layout->lane < SB_LAYOUT_LANE_LEAST)
    sb_json_reader_fail (json, _ ("“%s” is %g, which is not between %g and %g"), "lane_um",
                         (double)layout->lane, (double)SB_LAYOUT_LANE_LEAST,
                         (double)SB_LAYOUT_LANE_MOST);
  guint n;
  g_autofree SbPiece *pieces = sb_json_read_pieces (reading, object, &n);
  sb_layout_set_pieces (layout, pieces, n);
  g_autoptr (JsonObject) known = write_layout (reading->state, layout);
  layout->extra = sb_json_leftover (object, known);
  return layout;
}

void
sb_json_read_layouts (SbJsonReading *reading, JsonArray *array)
{
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);
  guint n = array != NULL ? json_array_get_length (array) : 0;
  for (guint i = 0; i < n && reading->json.error == NULL; i++) {
    JsonObject *object = sb_json_reader_element (&reading->json, array, i);
    if (object == NULL)
      return;
    SbLayout *layout = read_layout (reading, object);
    g_ptr_array_add (reading->state->layouts, layout);
    if (!g_hash_table_add (names, layout->name))
      sb_json_reader_fail (&reading->json, _ ("two layouts are called “%s”"), layout->name);
  }
}
