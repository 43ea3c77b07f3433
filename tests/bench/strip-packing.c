/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Packs a strip-packing set of the literature and prints its density:
 *
 *   strip-packing FILE.json --seconds=S [--seed=N] [--effort=N] [--layout=OUT.json]
 */
#include <stdio.h>

#include "packing-set.h"
#include "packing/strip.h"

typedef struct {
  const char *id;
  guint shape;
  int demand;
} Item;

/* Units of the set a micrometre stands for: the largest power of ten (times the strip's own whole
 * numbers) that keeps the strip's sides well below SB_UM_MOST. */
static double
choose_scale (double longest)
{
  double scale = 1;
  while (longest * scale * 10 <= SB_UM_MOST * 0.8)
    scale *= 10;
  while (longest * scale > SB_UM_MOST * 0.8)
    scale /= 10;
  while (longest * scale * 2 <= SB_UM_MOST * 0.8)
    scale *= 2;
  return scale;
}

static SbShape *
read_shape (JsonObject *item, double scale)
{
  gint32 turns[72];
  guint n = 0;
  if (json_object_has_member (item, "rotations") &&
      !json_object_get_null_member (item, "rotations")) {
    JsonArray *rotations = json_object_get_array_member (item, "rotations");
    for (guint i = 0; i < json_array_get_length (rotations) && n < G_N_ELEMENTS (turns); i++)
      turns[n++] = (gint32)lround (json_array_get_double_element (rotations, i) * 1000);
  } else {
    for (; n < G_N_ELEMENTS (turns); n++)
      turns[n] = (gint32)n * 5000;
  }
  g_autoptr (SbPolygon) outline =
      sb_read_ring (json_object_get_array_member (item, "polygon"), scale);
  return sb_shape_new (outline, turns, n, 0);
}

static void
write_layout (const char *path, const SbStrip *strip, const SbTask *task, const Item *items,
              const guint *item_of, double scale)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autofree int *copies = g_new0 (int, strip->n);
  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "length");
  json_builder_add_double_value (builder, strip->length / scale);
  json_builder_set_member_name (builder, "placements");
  json_builder_begin_array (builder);
  for (guint i = 0; i < strip->n; i++) {
    const SbPlacing *placing = &strip->placings[i];
    json_builder_begin_object (builder);
    json_builder_set_member_name (builder, "item");
    json_builder_add_string_value (builder, items[item_of[i]].id);
    json_builder_set_member_name (builder, "copy");
    json_builder_add_int_value (builder, copies[item_of[i]]++);
    json_builder_set_member_name (builder, "x");
    json_builder_add_double_value (builder, placing->x / scale);
    json_builder_set_member_name (builder, "y");
    json_builder_add_double_value (builder, placing->y / scale);
    json_builder_set_member_name (builder, "angle");
    json_builder_add_double_value (
        builder, sb_task_get_pose (task, placing->shape, placing->pose)->turn / 1000.0);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = json_builder_get_root (builder);
  json_generator_set_root (generator, root);
  g_autoptr (GError) error = NULL;
  if (!json_generator_to_file (generator, path, &error)) {
    fprintf (stderr, "%s\n", error->message);
    exit (3);
  }
}

int
main (int argc, char **argv)
{
  SbStripParams params = {1, 10, 0};
  gint64 seed = 1, effort = 0;
  g_autofree char *layout = NULL;
  GOptionEntry entries[] = {
      {"seconds", 0, 0, G_OPTION_ARG_DOUBLE, &params.seconds, "Time to pack", "S"},
      {"seed", 0, 0, G_OPTION_ARG_INT64, &seed, "Seed of the generator", "N"},
      {"effort", 0, 0, G_OPTION_ARG_INT64, &effort, "Evaluations to spend", "N"},
      {"layout", 0, 0, G_OPTION_ARG_FILENAME, &layout, "Where to write the layout", "OUT.json"},
      {NULL}};
  g_autoptr (GError) error = NULL;
  g_autoptr (GOptionContext) context = g_option_context_new ("FILE.json");
  g_option_context_add_main_entries (context, entries, NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  if (!g_option_context_parse (context, &argc, &argv, &error) || argc != 2 ||
      !json_parser_load_from_file (parser, argv[1], &error)) {
    fprintf (stderr, "%s\n", error != NULL ? error->message : "Name one set to pack");
    return 2;
  }
  params.seed = (guint64)seed;
  params.effort = (guint64)effort;

  JsonObject *set = json_node_get_object (json_parser_get_root (parser));
  JsonArray *list = json_object_get_array_member (set, "items");
  double width = json_object_get_double_member (set, "strip_width");
  double area = json_object_get_double_member (set, "total_area");
  double scale = choose_scale (MAX (width, area / width * 2.2));
  g_autoptr (SbTask) task = sb_task_new (0, 0);
  guint n_items = json_array_get_length (list);
  g_autofree Item *items = g_new0 (Item, n_items);
  g_autoptr (GArray) shapes = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GArray) item_of = g_array_new (FALSE, FALSE, sizeof (guint));
  double packed = 0;
  for (guint i = 0; i < n_items; i++) {
    JsonObject *item = json_array_get_object_element (list, i);
    items[i] = (Item){json_object_get_string_member (item, "id"),
                      sb_task_add_shape (task, read_shape (item, scale)),
                      (int)json_object_get_int_member (item, "demand")};
    const SbShape *shape = task->shapes->pdata[items[i].shape];
    for (int k = 0; k < items[i].demand; k++) {
      g_array_append_val (shapes, items[i].shape);
      g_array_append_val (item_of, i);
      packed += shape->area;
    }
  }
  sb_um strip_width = (sb_um)floor (width * scale + 1e-9);
  sb_um perfect = (sb_um)floor (packed / strip_width);
  g_autoptr (SbStrip) strip =
      sb_strip_pack (task, strip_width, (const guint *)(gpointer)shapes->data, shapes->len, perfect,
                     &params, NULL);
  if (strip == NULL) {
    fprintf (stderr, "%s: a piece is wider than the strip\n", argv[1]);
    return 1;
  }
  printf ("length %.6f\n", strip->length / scale);
  printf ("evaluations %" G_GUINT64_FORMAT "\n", strip->evaluations);
  printf ("density %.2f\n", 100 * area / (width * (strip->length / scale)));
  if (layout != NULL)
    write_layout (layout, strip, task, items, (const guint *)(gpointer)item_of->data, scale);
  return 0;
}
