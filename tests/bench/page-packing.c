/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How many items of a list, from its front, fit one page:
 *
 *   page-packing FILE.json [--gap=0.08in] --seconds=S [--seed=N] [--effort=N]
 *
 * The file gives each item as a box in inches; it stands for the ellipse in it, or for the box
 * itself where the set's name begins with "squares". Ellipses may be turned. */
#include <json-glib/json-glib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "packing/fit.h"
#include "packing/greedy.h"

#define ELLIPSE_CORNERS 64
#define AIM_UM 5     /* the search keeps this much more than the gap asked for */
#define SLACK_UM 150 /* how far the parts may simplify an outline */
#define N_TURNS 36
#define FIRST_DENSITY 0.6 /* what the greedy answer is asked for */

static SbPolygon *
make_box (double width, double height)
{
  sb_um w = (sb_um)lround (width * SB_UM_PER_INCH / 2),
        h = (sb_um)lround (height * SB_UM_PER_INCH / 2);
  return sb_polygon_new_box ((SbIBox){-w, -h, w, h});
}

/* Corners outside the curve, so that the polygon contains the ellipse. */
static SbPolygon *
make_ellipse (double width, double height)
{
  SbIPoint points[ELLIPSE_CORNERS];
  double out = 1 / cos (G_PI / ELLIPSE_CORNERS);
  for (int i = 0; i < ELLIPSE_CORNERS; i++) {
    double angle = 2 * G_PI * (i + 0.5) / ELLIPSE_CORNERS;
    points[i] = (SbIPoint){(sb_um)lround (out * cos (angle) * width * SB_UM_PER_INCH / 2),
                           (sb_um)lround (out * sin (angle) * height * SB_UM_PER_INCH / 2)};
  }
  SbLoop loop = {ELLIPSE_CORNERS, points};
  return sb_polygon_new (&loop, 1);
}

static guint
add_item (SbTask *task, JsonObject *item, gboolean square)
{
  double width = json_object_get_double_member (item, "w"),
         height = json_object_get_double_member (item, "h");
  gint32 turns[N_TURNS];
  /* A half turn leaves an ellipse as it is, a quarter turn a square. */
  for (gint32 i = 0; i < N_TURNS; i++)
    turns[i] = i * 180000 / N_TURNS;
  guint n_turns = square ? 1 : N_TURNS;
  g_autoptr (SbPolygon) outline = square ? make_box (width, height) : make_ellipse (width, height);
  return sb_task_add_shape (task, sb_shape_new (outline, turns, n_turns, SLACK_UM));
}

/* Lays the first n items one after the other; FALSE when they do not all fit that way. */
static gboolean
lay_first (const SbTask *task, SbIBox box, guint n, GArray *placings)
{
  g_autofree guint *order = g_new (guint, n);
  for (guint i = 0; i < n; i++)
    order[i] = i;
  sb_greedy_sort (task, order, n);
  g_array_set_size (placings, 0);
  return sb_greedy_lay (task, box, SB_TOWARDS_TOP, 254, placings, order, n) == n;
}

static guint
longest_prefix (const SbTask *task, SbIBox box, guint64 seed, SbBudget *budget, gint64 begun)
{
  g_autoptr (GArray) placings = g_array_new (FALSE, FALSE, sizeof (SbPlacing));
  g_autoptr (SbFitter) fitter = sb_fitter_new (task);
  SbRandom random = sb_random_stream (seed, 0);
  guint n = task->shapes->len, from = 0;
  double room = FIRST_DENSITY * (double)box.x1 * box.y1;
  while (from < n && room > 0)
    room -= ((const SbShape *)task->shapes->pdata[from++])->area;
  while (from > 0 && !lay_first (task, box, from, placings))
    from--;
  guint count = from;
  printf ("first %u in %.3f s\n", count, (double)(g_get_monotonic_time () - begun) * 1e-6);
  while (count < n && !sb_budget_is_spent (budget)) {
    SbPlacing next = {.shape = count, .x = (box.x0 + box.x1) / 2, .y = (box.y0 + box.y1) / 2};
    g_array_append_val (placings, next);
    if (!sb_fit (fitter, box, (SbPlacing *)(gpointer)placings->data, placings->len, &random,
                 G_MAXUINT64, budget))
      break;
    count++;
    printf ("%u in %.3f s\n", count, (double)(g_get_monotonic_time () - begun) * 1e-6);
  }
  return count;
}

int
main (int argc, char **argv)
{
  g_autofree char *gap_text = g_strdup ("0.08in");
  double seconds = 2;
  gint64 seed = 1, effort = 0;
  GOptionEntry entries[] = {
      {"gap", 0, 0, G_OPTION_ARG_STRING, &gap_text, "Least distance between items", "LENGTH"},
      {"seconds", 0, 0, G_OPTION_ARG_DOUBLE, &seconds, "Time to pack", "S"},
      {"seed", 0, 0, G_OPTION_ARG_INT64, &seed, "Seed of the generator", "N"},
      {"effort", 0, 0, G_OPTION_ARG_INT64, &effort, "Evaluations to spend", "N"},
      {NULL}};
  g_autoptr (GError) error = NULL;
  g_autoptr (GOptionContext) context = g_option_context_new ("FILE.json");
  g_option_context_add_main_entries (context, entries, NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  sb_um gap = 0;
  if (!g_option_context_parse (context, &argc, &argv, &error) || argc != 2 ||
      !sb_length_parse_um (gap_text, SB_UNIT_INCH, &gap, &error) ||
      !json_parser_load_from_file (parser, argv[1], &error)) {
    fprintf (stderr, "%s\n", error != NULL ? error->message : "Name one list to pack");
    return 2;
  }
  gint64 begun = g_get_monotonic_time ();
  JsonObject *set = json_node_get_object (json_parser_get_root (parser));
  JsonArray *page = json_object_get_array_member (set, "page"),
            *items = json_object_get_array_member (set, "items");
  SbIBox box = {0, 0, (sb_um)lround (json_array_get_double_element (page, 0) * SB_UM_PER_INCH),
                (sb_um)lround (json_array_get_double_element (page, 1) * SB_UM_PER_INCH)};
  gboolean squares = g_str_has_prefix (json_object_get_string_member (set, "set"), "squares");
  g_autoptr (SbTask) task = sb_task_new (gap + (squares ? 0 : AIM_UM), gap);
  for (guint i = 0; i < json_array_get_length (items); i++)
    add_item (task, json_array_get_object_element (items, i), squares);
  SbBudget budget = {begun + (gint64)(seconds * G_USEC_PER_SEC), (guint64)effort};
  guint count = longest_prefix (task, box, (guint64)seed, &budget, begun);
  printf ("evaluations %" G_GUINT64_FORMAT "\n", budget.evaluations);
  printf ("items %u\n", count);
  return 0;
}
