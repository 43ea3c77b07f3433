/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>

#include "proof/proof.h"

#define MOST_SPOTS 5 /* listed, the largest first */

static JsonObject *
describe_spot (SbIBox spot)
{
  JsonObject *object = json_object_new ();
  json_object_set_double_member (object, "x_mm", sb_um_to_mm (spot.x0));
  json_object_set_double_member (object, "y_mm", sb_um_to_mm (spot.y0));
  json_object_set_double_member (object, "width_mm", sb_um_to_mm (spot.x1 - spot.x0));
  json_object_set_double_member (object, "height_mm", sb_um_to_mm (spot.y1 - spot.y0));
  return object;
}

static JsonObject *
describe_page (const SbState *state, guint index)
{
  SbPageFigures figures = sb_figures_page (state, index);
  JsonObject *object = json_object_new ();
  json_object_set_int_member (object, "page", index + 1);
  json_object_set_double_member (object, "paper_mm2", figures.paper_mm2);
  json_object_set_double_member (object, "printable_mm2", figures.printable_mm2);
  json_object_set_double_member (object, "outline_mm2", figures.outline_mm2);
  json_object_set_double_member (object, "artwork_mm2", figures.artwork_mm2);
  json_object_set_double_member (object, "waste_mm2", figures.waste_mm2);
  json_object_set_double_member (object, "waste_percent", figures.waste_percent);
  json_object_set_int_member (object, "pieces", figures.pieces);
  SbIBox spots[MOST_SPOTS];
  guint n_spots = sb_figures_free_spots (state, index, spots, MOST_SPOTS);
  if (n_spots > 0)
    json_object_set_object_member (object, "free_spot", describe_spot (spots[0]));
  else
    json_object_set_null_member (object, "free_spot");
  JsonArray *list = json_array_new ();
  for (guint i = 0; i < n_spots; i++)
    json_array_add_object_element (list, describe_spot (spots[i]));
  json_object_set_array_member (object, "free_spots", list);
  return object;
}

static JsonObject *
describe_design (const SbState *state, const SbDesign *design)
{
  JsonObject *object = json_object_new ();
  json_object_set_string_member (object, "name", design->name);
  json_object_set_int_member (object, "wanted", design->wanted);
  json_object_set_int_member (object, "placed", sb_state_count_placed (state, design->id));
  return object;
}

static void
print_json (const SbState *state)
{
  JsonArray *pages = json_array_new ();
  for (guint i = 0; i < state->pages->len; i++)
    json_array_add_object_element (pages, describe_page (state, i));
  JsonArray *designs = json_array_new ();
  for (guint i = 0; i < state->designs->len; i++)
    json_array_add_object_element (designs, describe_design (state, state->designs->pdata[i]));
  JsonObject *object = json_object_new ();
  json_object_set_array_member (object, "pages", pages);
  json_object_set_array_member (object, "designs", designs);
  sb_command_print_json (object);
}

static void
print_page (const SbState *state, guint index)
{
  SbPageFigures figures = sb_figures_page (state, index);
  g_print (_ ("page %u: %u pieces, waste %.1f %% (%.0f of %.0f mm²)"), index + 1, figures.pieces,
           figures.waste_percent, figures.waste_mm2, figures.printable_mm2);
  SbIBox spots[MOST_SPOTS];
  guint n_spots = sb_figures_free_spots (state, index, spots, MOST_SPOTS);
  g_autoptr (GString) sizes = g_string_new (NULL);
  for (guint i = 0; i < n_spots; i++) {
    g_autofree char *size =
        sb_length_format_size (sb_um_to_mm (spots[i].x1 - spots[i].x0),
                               sb_um_to_mm (spots[i].y1 - spots[i].y0), sb_unit_from_locale ());
    g_string_append_printf (sizes, "%s%s", i > 0 ? ", " : "", size);
  }
  if (n_spots > 0)
    g_print (_ (", largest free spots %s"), sizes->str);
  g_print ("\n");
}

static void
print_text (const SbState *state)
{
  for (guint i = 0; i < state->pages->len; i++)
    print_page (state, i);
  for (guint i = 0; i < state->designs->len; i++) {
    const SbDesign *design = state->designs->pdata[i];
    g_print (_ ("%s: %d wanted, %d placed\n"), design->name, design->wanted,
             sb_state_count_placed (state, design->id));
  }
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  gboolean json = FALSE;
  const GOptionEntry entries[] = {
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("For programs"), NULL},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 1, 1))
    return SB_EXIT_USE;
  g_autoptr (SbState) state = sb_command_load (argv[0]);
  if (state == NULL)
    return SB_EXIT_USE;
  if (json)
    print_json (state);
  else
    print_text (state);
  return SB_EXIT_DONE;
}

const SbCommand sb_command_figures = {
    .name = "figures",
    .arguments = N_ ("JOB"),
    .summary = N_ ("Tell areas, waste, counts and the largest free spot"),
    .run = run,
};
