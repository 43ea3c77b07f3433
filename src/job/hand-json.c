/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "job/hand-json.h"

#include "job/design.h"

/* A change may lie off the artwork, but not much farther than a page. */
#define FARTHEST_MM (2 * SB_DESIGN_MOST_MM)

static const char *const kind_keys[] = {"moved", "added", "removed", NULL};

static JsonObject *
write_change (const SbHandChange *change)
{
  JsonObject *object = json_object_new ();
  json_object_set_string_member (object, "kind", kind_keys[change->kind]);
  json_object_set_double_member (object, "x_mm", change->at.x);
  json_object_set_double_member (object, "y_mm", change->at.y);
  json_object_set_double_member (object, "by_x_mm", change->by.x);
  json_object_set_double_member (object, "by_y_mm", change->by.y);
  json_object_set_double_member (object, "before_mm", change->before);
  json_object_set_double_member (object, "after_mm", change->after);
  return object;
}

JsonArray *
sb_hand_write (const SbHand *hand)
{
  JsonArray *array = json_array_new ();
  for (guint i = 0; i < sb_hand_get_n (hand); i++)
    json_array_add_object_element (array, write_change (sb_hand_get (hand, i)));
  return array;
}

static double
read_place (SbJsonReader *json, JsonObject *object, const char *member)
{
  return sb_json_reader_number (json, object, member, -FARTHEST_MM, FARTHEST_MM);
}

static SbHandChange
read_change (SbJsonReader *json, JsonObject *object)
{
  return (SbHandChange){
      .kind = (SbHandKind)sb_json_reader_choice (json, object, "kind", kind_keys),
      .at = {read_place (json, object, "x_mm"), read_place (json, object, "y_mm")},
      .by = {read_place (json, object, "by_x_mm"), read_place (json, object, "by_y_mm")},
      .before = sb_json_reader_number (json, object, "before_mm", 0, SB_HAND_REACH_MOST),
      .after = sb_json_reader_number (json, object, "after_mm", 0, SB_HAND_REACH_MOST),
  };
}

SbHand *
sb_hand_read (SbJsonReader *json, JsonObject *object, const char *member)
{
  JsonArray *array = sb_json_reader_array (json, object, member, SB_HAND_MOST);
  guint n = array != NULL ? json_array_get_length (array) : 0;
  g_autofree SbHandChange *changes = g_new0 (SbHandChange, n + 1);
  for (guint i = 0; i < n && json->error == NULL; i++) {
    JsonObject *change = sb_json_reader_element (json, array, i);
    if (change != NULL)
      changes[i] = read_change (json, change);
  }
  return sb_hand_new (changes, n);
}
