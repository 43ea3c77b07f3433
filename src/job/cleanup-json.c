/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/cleanup-json.h"

#include <glib/gi18n.h>

#include "job/file.h"

static const char *const stroke_keys[SB_STROKE_N_KINDS + 1] = {
    "keep", "remove", "open", "put_back", "retouch", "lasso", NULL};

/* Numbers alone, so that a recipe of many strokes stays short. */
static JsonArray *
write_points (const float *points, guint n)
{
  JsonArray *array = json_array_sized_new (2 * n);
  for (guint i = 0; i < 2 * n; i++)
    json_array_add_double_element (array, points[i]);
  return array;
}

static JsonArray *
write_strokes (const SbStrokes *strokes)
{
  JsonArray *array = json_array_new ();
  for (guint i = 0; i < sb_strokes_get_n (strokes); i++) {
    SbStroke stroke = sb_strokes_get (strokes, i);
    JsonObject *object = json_object_new ();
    json_object_set_string_member (object, "kind", stroke_keys[stroke.kind]);
    json_object_set_double_member (object, "radius", stroke.radius);
    json_object_set_array_member (object, "points", write_points (stroke.points, stroke.n_points));
    json_array_add_object_element (array, object);
  }
  return array;
}

static JsonObject *
write_frame (const SbQuad *frame)
{
  JsonObject *object = json_object_new ();
  JsonArray *corners = json_array_sized_new (8);
  for (int i = 0; i < 4; i++) {
    json_array_add_double_element (corners, frame->corners[i].x);
    json_array_add_double_element (corners, frame->corners[i].y);
  }
  json_object_set_array_member (object, "corners", corners);
  json_object_set_int_member (object, "width_px", frame->width);
  json_object_set_int_member (object, "height_px", frame->height);
  return object;
}

static void
write_parts (JsonObject *object, const SbCleanup *recipe)
{
  if (recipe->frame.set)
    json_object_set_object_member (object, "frame", write_frame (&recipe->frame));
  if (recipe->sheet.set)
    json_object_set_object_member (object, "sheet", write_frame (&recipe->sheet));
  if (recipe->strokes != NULL)
    json_object_set_array_member (object, "strokes", write_strokes (recipe->strokes));
}

JsonObject *
sb_cleanup_json_write (const SbCleanup *recipe)
{
  JsonObject *object = json_object_new ();
  json_object_set_boolean_member (object, "remove_paper", recipe->remove_paper != FALSE);
  json_object_set_boolean_member (object, "even_light", recipe->even_light != FALSE);
  json_object_set_boolean_member (object, "open_enclosed", recipe->open_enclosed != FALSE);
  if (recipe->paper_picked)
    json_object_set_int_member (object, "paper_rgb",
                                recipe->paper[0] << 16 | recipe->paper[1] << 8 | recipe->paper[2]);
  json_object_set_double_member (object, "tolerance", recipe->tolerance);
  json_object_set_double_member (object, "smoothness_mm", recipe->smoothness_mm);
  json_object_set_double_member (object, "speck_mm", recipe->speck_mm);
  json_object_set_double_member (object, "hair_mm", recipe->hair_mm);
  json_object_set_double_member (object, "pinhole_mm", recipe->pinhole_mm);
  json_object_set_boolean_member (object, "whiten", recipe->whiten != FALSE);
  json_object_set_double_member (object, "white_point", recipe->white_point);
  json_object_set_double_member (object, "black_point", recipe->black_point);
  json_object_set_double_member (object, "brightness", recipe->adjust.brightness);
  json_object_set_double_member (object, "contrast", recipe->adjust.contrast);
  json_object_set_double_member (object, "warmth", recipe->adjust.warmth);
  json_object_set_double_member (object, "saturation", recipe->adjust.saturation);
  if (recipe->crisp)
    json_object_set_boolean_member (object, "crisp", TRUE);
  write_parts (object, recipe);
  return object;
}

/* The numbers of a list of whole points. */
static double *
read_points (SbJsonReader *json, JsonObject *object, const char *member, guint most, guint *n)
{
  JsonArray *array = sb_json_reader_array (json, object, member, 2 * most);
  *n = array != NULL ? json_array_get_length (array) / 2 : 0;
  double *points = g_new (double, 2 * *n + 1);
  for (guint i = 0; i < 2 * *n; i++) {
    JsonNode *node = json_array_get_element (array, i);
    if (!JSON_NODE_HOLDS_VALUE (node) || (json_node_get_value_type (node) != G_TYPE_DOUBLE &&
                                          json_node_get_value_type (node) != G_TYPE_INT64))
      sb_json_reader_fail (json, _ ("“%s” holds something that is not a number"), member);
    points[i] = json->error == NULL ? json_node_get_double (node) : 0;
  }
  return points;
}

static SbStrokes *
read_stroke (SbJsonReader *json, JsonObject *object, const SbStrokes *before)
{
  SbStroke stroke = {
      .kind = (SbStrokeKind)sb_json_reader_choice (json, object, "kind", stroke_keys),
      .radius = (float)sb_json_reader_number (json, object, "radius", 0, 1),
  };
  g_autofree double *points =
      read_points (json, object, "points", SB_STROKES_MOST_POINTS, &stroke.n_points);
  g_autofree float *shorter = g_new (float, 2 * stroke.n_points + 1);
  for (guint i = 0; i < 2 * stroke.n_points; i++)
    shorter[i] = (float)CLAMP (points[i], -SB_STROKES_FARTHEST, SB_STROKES_FARTHEST);
  stroke.points = shorter;
  return sb_strokes_add (before, &stroke);
}

static SbStrokes *
read_strokes (SbJsonReader *json, JsonObject *object)
{
  JsonArray *array = sb_json_reader_array (json, object, "strokes", SB_STROKES_MOST);
  guint n = array != NULL ? json_array_get_length (array) : 0;
  SbStrokes *strokes = NULL;
  for (guint i = 0; i < n && json->error == NULL; i++) {
    JsonObject *element = sb_json_reader_element (json, array, i);
    SbStrokes *longer = read_stroke (json, element, strokes);
    sb_strokes_unref (strokes);
    strokes = longer;
  }
  if (json->error == NULL && sb_strokes_get_n (strokes) != n)
    sb_json_reader_fail (json, _ ("“%s” holds something that is no stroke"), "strokes");
  return strokes;
}

static SbQuad
read_frame (SbJsonReader *json, JsonObject *object, const char *member, SbPicture *picture)
{
  JsonObject *inner = sb_json_reader_object (json, object, member);
  guint n;
  g_autofree double *corners = read_points (json, inner, "corners", 4, &n);
  SbQuad frame = {
      .set = TRUE,
      .width = (int)sb_json_reader_int (json, inner, "width_px", 1, SB_PICTURE_MOST_SIDE),
      .height = (int)sb_json_reader_int (json, inner, "height_px", 1, SB_PICTURE_MOST_SIDE),
  };
  for (guint i = 0; i < n; i++)
    frame.corners[i] = (SbPoint){corners[2 * i], corners[2 * i + 1]};
  g_autoptr (SbPicture) origin = sb_picture_get_origin (picture);
  if (json->error == NULL && (n != 4 || !sb_quad_is_usable (&frame, sb_picture_get_width (origin),
                                                            sb_picture_get_height (origin))))
    sb_json_reader_fail (json, _ ("“%s” is not a part of the picture"), member);
  return frame;
}

static gboolean
has (JsonObject *object, const char *member)
{
  return object != NULL && json_object_has_member (object, member);
}

/* Jobs from before paper could be whitened lack it. */
static void
read_whitening (SbJsonReader *json, JsonObject *object, SbCleanup *recipe)
{
  recipe->white_point = sb_cleanup_default ().white_point;
  if (!has (object, "whiten"))
    return;
  recipe->whiten = sb_json_reader_bool (json, object, "whiten");
  recipe->white_point =
      sb_json_reader_number (json, object, "white_point", 0, SB_CLEANUP_POINT_MOST);
  recipe->black_point =
      sb_json_reader_number (json, object, "black_point", 0, SB_CLEANUP_POINT_MOST);
}

SbCleanup
sb_cleanup_json_read (SbJsonReader *json, JsonObject *object, SbPicture *picture)
{
  SbCleanup recipe = {
      .remove_paper = sb_json_reader_bool (json, object, "remove_paper"),
      .even_light = sb_json_reader_bool (json, object, "even_light"),
      .open_enclosed = sb_json_reader_bool (json, object, "open_enclosed"),
      .tolerance = sb_json_reader_number (json, object, "tolerance", SB_CLEANUP_TOLERANCE_LEAST,
                                          SB_CLEANUP_TOLERANCE_MOST),
      .smoothness_mm =
          sb_json_reader_number (json, object, "smoothness_mm", 0, SB_CLEANUP_SMOOTHNESS_MOST_MM),
      .speck_mm = sb_json_reader_number (json, object, "speck_mm", 0, SB_CLEANUP_SPECK_MOST_MM),
      .hair_mm = sb_json_reader_number (json, object, "hair_mm", 0, SB_CLEANUP_HAIR_MOST_MM),
      .pinhole_mm = sb_json_reader_number (json, object, "pinhole_mm", 0, SB_CLEANUP_SPECK_MOST_MM),
      .adjust.brightness = sb_json_reader_number (json, object, "brightness", -100, 100),
      .adjust.contrast = sb_json_reader_number (json, object, "contrast", -100, 100),
      .adjust.warmth = sb_json_reader_number (json, object, "warmth", -100, 100),
      .adjust.saturation = sb_json_reader_number (json, object, "saturation", -100, 100),
  };
  if (has (object, "paper_rgb")) {
    gint64 rgb = sb_json_reader_int (json, object, "paper_rgb", 0, 0xffffff);
    recipe.paper_picked = TRUE;
    for (int c = 0; c < 3; c++)
      recipe.paper[c] = (guint8)(rgb >> (16 - 8 * c) & 0xff);
  }
  read_whitening (json, object, &recipe);
  if (has (object, "crisp"))
    recipe.crisp = sb_json_reader_bool (json, object, "crisp");
  if (has (object, "frame"))
    recipe.frame = read_frame (json, object, "frame", picture);
  if (has (object, "sheet"))
    recipe.sheet = read_frame (json, object, "sheet", picture);
  if (has (object, "strokes"))
    recipe.strokes = read_strokes (json, object);
  return recipe;
}
