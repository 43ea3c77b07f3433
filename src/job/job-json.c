/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each kind of thing has a function that writes its object and one that reads it. What a newer
 * version has put into an object is found by writing anew what was read: whatever the new object
 * lacks is kept as the thing's `extra`. So no list of known fields has to be kept. */
#include "config.h"

#include "job/job-json.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "job/cleanup-json.h"
#include "job/file.h"
#include "job/hand-json.h"
#include "job/json-parts.h"
#include "job/json-text.h"
#include "job/order-json.h"

#define MOST_TEXT 1000 /* bytes of a printer's or a stock's name */

static const char *const shape_keys[] = {"grown", "box", "round", "ellipse", "hull", NULL};
static const char *const guide_keys[] = {"scissors", "knife", "ticks", "off", NULL};
static const char *const align_keys[] = {"start", "centre", "end", NULL};
static const char *const turning_keys[] = {"upright", "quarters", "any", NULL};
static const char *const source_keys[] = {"fallback", "printer", "typed", NULL};

char *
sb_artwork_get_name (const SbPicture *picture)
{
  return g_strconcat (sb_picture_get_sha256 (picture), ".", sb_picture_get_extension (picture),
                      NULL);
}

SbPicture *
sb_picture_from_artwork (GBytes *bytes, const char *name, GError **error)
{
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, name, error);
  if (picture == NULL)
    return NULL;
  g_autofree char *true_name = sb_artwork_get_name (picture);
  if (!g_str_equal (true_name, name)) {
    g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_FORMAT, _ ("the artwork %s is damaged"), name);
    return NULL;
  }
  return g_steal_pointer (&picture);
}

/* Writing */

static void
put_int (JsonObject *object, const char *member, gint64 value)
{
  json_object_set_int_member (object, member, value);
}

static void
put_number (JsonObject *object, const char *member, double value)
{
  json_object_set_double_member (object, member, value);
}

static void
put_bool (JsonObject *object, const char *member, gboolean value)
{
  json_object_set_boolean_member (object, member, value != FALSE);
}

static void
put_text (JsonObject *object, const char *member, const char *value)
{
  json_object_set_string_member (object, member, value);
}

static JsonObject *
write_silhouette (const SbSilhouetteParams *params)
{
  JsonObject *object = json_object_new ();
  put_number (object, "threshold", params->threshold);
  put_number (object, "speck_mm", params->speck_mm);
  return object;
}

static JsonObject *
write_border (const SbBorderParams *border)
{
  JsonObject *object = json_object_new ();
  put_text (object, "shape", shape_keys[border->shape]);
  put_number (object, "width_mm", border->width_mm);
  put_number (object, "nook_mm", border->nook_mm);
  put_number (object, "spike_mm", border->spike_mm);
  put_number (object, "corner_mm", border->corner_mm);
  put_bool (object, "keep_holes", border->keep_holes);
  put_bool (object, "bridge", border->bridge);
  put_number (object, "tolerance_um", border->tolerance_um);
  return object;
}

static JsonObject *
write_guide (const SbGuide *guide)
{
  JsonObject *object = json_object_new ();
  put_text (object, "style", guide_keys[guide->style]);
  put_number (object, "line_pt", guide->line_pt);
  put_number (object, "grey", guide->grey);
  return object;
}

static JsonObject *
write_lettering (const SbLettering *lettering)
{
  JsonObject *object = json_object_new ();
  put_text (object, "string", lettering->string);
  put_text (object, "font", lettering->font);
  put_text (object, "language", lettering->language);
  put_number (object, "size_pt", lettering->size_pt);
  put_text (object, "align", align_keys[lettering->align]);
  put_int (object, "rgb", lettering->rgb);
  return object;
}

/* Artwork that is clear around comes without one, and so it is read. */
static gboolean
needs_cleanup (const SbDesign *design)
{
  SbCleanup none = sb_cleanup_none ();
  return !sb_picture_has_alpha (design->picture) || !sb_cleanup_equal (&design->cleanup, &none);
}

static gboolean
has_filling (const SbFilling *filling)
{
  return filling->greatest_mm > 0 || filling->share != 1 || filling->size_of != 0;
}

static JsonObject *
write_filling (const SbFilling *filling)
{
  JsonObject *object = json_object_new ();
  put_number (object, "least_mm", filling->least_mm);
  put_number (object, "greatest_mm", filling->greatest_mm);
  put_int (object, "share", filling->share);
  put_int (object, "size_of", filling->size_of);
  return object;
}

static JsonObject *
write_design (const SbDesign *design)
{
  JsonObject *object = json_object_new ();
  g_autofree char *artwork = sb_artwork_get_name (design->picture);
  put_int (object, "id", design->id);
  put_text (object, "name", design->name);
  put_text (object, "artwork", artwork);
  if (design->lettering != NULL)
    json_object_set_object_member (object, "lettering", write_lettering (design->lettering));
  put_number (object, "width_mm", design->width_mm);
  put_number (object, "height_mm", design->height_mm);
  if (needs_cleanup (design))
    json_object_set_object_member (object, "cleanup", sb_cleanup_json_write (&design->cleanup));
  json_object_set_object_member (object, "silhouette",
                                 write_silhouette (&design->silhouette_params));
  json_object_set_object_member (object, "border", write_border (&design->border));
  if (design->hand != NULL)
    json_object_set_array_member (object, "by_hand", sb_hand_write (design->hand));
  put_number (object, "bleed_mm", design->bleed_mm);
  json_object_set_object_member (object, "guide", write_guide (&design->guide));
  put_text (object, "turning", turning_keys[design->turning]);
  put_int (object, "wanted", design->wanted);
  put_bool (object, "freebie", design->freebie);
  if (has_filling (&design->filling))
    json_object_set_object_member (object, "filling", write_filling (&design->filling));
  return object;
}

static JsonObject *
write_paper (const SbState *state)
{
  JsonObject *object = json_object_new ();
  put_text (object, "name", state->paper_name);
  put_int (object, "width_um", state->page_width);
  put_int (object, "height_um", state->page_height);
  return object;
}

static JsonObject *
write_margins (const SbState *state)
{
  JsonObject *object = json_object_new ();
  put_int (object, "top_um", state->margins.top);
  put_int (object, "right_um", state->margins.right);
  put_int (object, "bottom_um", state->margins.bottom);
  put_int (object, "left_um", state->margins.left);
  put_text (object, "source", source_keys[state->margins_source]);
  if (state->overshoot > 0)
    put_int (object, "overshoot_um", state->overshoot);
  return object;
}

static JsonObject *
write_stock (const SbStock *stock)
{
  JsonObject *object = json_object_new ();
  put_text (object, "name", stock->name);
  put_bool (object, "inkjet_ok", stock->inkjet_ok);
  put_bool (object, "laser_ok", stock->laser_ok);
  put_bool (object, "film", stock->film);
  put_number (object, "drying_hours", stock->drying_hours);
  if (stock->rgb != SB_STOCK_WHITE)
    put_int (object, "rgb", stock->rgb);
  return object;
}

/* The job but for its designs and pages. */
static JsonObject *
write_sheet (const SbState *state)
{
  JsonObject *object = json_object_new ();
  put_int (object, "format", SB_JOB_FORMAT);
  json_object_set_object_member (object, "paper", write_paper (state));
  json_object_set_object_member (object, "margins", write_margins (state));
  if (state->printer != NULL)
    put_text (object, "printer", state->printer);
  put_int (object, "gap_um", state->gap);
  json_object_set_object_member (object, "stock", write_stock (&state->stock));
  put_bool (object, "check_bar", state->check_bar);
  put_int (object, "next_id", state->next_id);
  return object;
}

static JsonObject *
write_order (const SbOrder *order)
{
  JsonObject *object = sb_order_write (order);
  if (order->extra != NULL)
    sb_json_add_leftover (object, order->extra);
  return object;
}

char *
sb_job_json_write (const SbState *state, gsize *length)
{
  JsonArray *designs = json_array_new ();
  for (guint i = 0; i < state->designs->len; i++) {
    const SbDesign *design = state->designs->pdata[i];
    sb_json_add_element (designs, write_design (design), design->extra);
  }
  g_autoptr (JsonObject) object = write_sheet (state);
  json_object_set_array_member (object, "designs", designs);
  json_object_set_array_member (object, "layouts", sb_json_write_layouts (state));
  json_object_set_array_member (object, "pages", sb_json_write_pages (state));
  if (!sb_order_is_empty (state->order))
    json_object_set_object_member (object, "order", write_order (state->order));
  if (state->extra != NULL)
    sb_json_add_leftover (object, state->extra);

  g_autoptr (JsonNode) root = json_node_init_object (json_node_alloc (), object);
  return sb_json_to_text (root, length);
}

/* Reading */

static char *
read_short_text (SbJsonReading *reading, JsonObject *object, const char *member)
{
  const char *text = sb_json_reader_text (&reading->json, object, member);
  if (strlen (text) > MOST_TEXT)
    sb_json_reader_fail (&reading->json, _ ("“%s” is too long"), member);
  return g_strdup (text);
}

/* Until the recipe had the one paper tolerance, that of artwork whose paper stays was here. */
static void
read_old_tolerance (SbJsonReader *json, SbDesign *design, JsonObject *object)
{
  SbCleanup recipe = design->cleanup;
  recipe.tolerance = sb_json_reader_number (json, object, "paper_tolerance", 0, 200);
  if (!recipe.remove_paper)
    sb_design_set_cleanup (design, &recipe);
  json_object_remove_member (object, "paper_tolerance");
}

static void
read_silhouette (SbJsonReading *reading, SbDesign *design, JsonObject *object)
{
  SbJsonReader *json = &reading->json;
  const SbSilhouetteParams params = {
      .threshold = sb_json_reader_number (json, object, "threshold", 0, 1),
      .speck_mm = sb_json_reader_number (json, object, "speck_mm", 0, SB_SPECK_MOST_MM),
  };
  if (object != NULL && json_object_has_member (object, "paper_tolerance"))
    read_old_tolerance (json, design, object);
  sb_design_set_silhouette_params (design, &params);
}

static SbBorderParams
read_border (SbJsonReader *json, JsonObject *object)
{
  return (SbBorderParams){
      .shape = (SbBorderShape)sb_json_reader_choice (json, object, "shape", shape_keys),
      .width_mm = sb_json_reader_number (json, object, "width_mm", 0, SB_BORDER_MOST_MM),
      .nook_mm = sb_json_reader_number (json, object, "nook_mm", 0, SB_BORDER_MOST_MM),
      .spike_mm = sb_json_reader_number (json, object, "spike_mm", 0, SB_BORDER_MOST_MM),
      .corner_mm = sb_json_reader_number (json, object, "corner_mm", 0, SB_CORNER_MOST_MM),
      .keep_holes = sb_json_reader_bool (json, object, "keep_holes"),
      .bridge = sb_json_reader_bool (json, object, "bridge"),
      .tolerance_um = sb_json_reader_number (json, object, "tolerance_um", SB_TOLERANCE_LEAST_UM,
                                             SB_TOLERANCE_MOST_UM),
  };
}

static SbGuide
read_guide (SbJsonReader *json, JsonObject *object)
{
  return (SbGuide){
      .style = (SbGuideStyle)sb_json_reader_choice (json, object, "style", guide_keys),
      .line_pt =
          sb_json_reader_number (json, object, "line_pt", SB_GUIDE_LEAST_PT, SB_GUIDE_MOST_PT),
      .grey = sb_json_reader_number (json, object, "grey", 0, 1),
  };
}

static SbLettering *
read_lettering (SbJsonReader *json, JsonObject *object)
{
  SbLettering *lettering = sb_lettering_new (sb_json_reader_text (json, object, "string"));
  g_free (lettering->font);
  lettering->font = g_strdup (sb_json_reader_text (json, object, "font"));
  g_free (lettering->language);
  lettering->language = g_strdup (sb_json_reader_text (json, object, "language"));
  lettering->size_pt =
      sb_json_reader_number (json, object, "size_pt", SB_LETTERING_LEAST_PT, SB_LETTERING_MOST_PT);
  lettering->align = (SbTextAlign)sb_json_reader_choice (json, object, "align", align_keys);
  lettering->rgb = (guint32)sb_json_reader_int (json, object, "rgb", 0, 0xffffff);
  sb_lettering_tidy (lettering);
  return lettering;
}

static gboolean
is_artwork_name (const char *name)
{
  const int hash_length = 64;
  for (int i = 0; i < hash_length; i++)
    if (!g_ascii_isdigit (name[i]) && (name[i] < 'a' || name[i] > 'f'))
      return FALSE;
  const char *ending = name + hash_length;
  gsize n = strspn (ending + (*ending == '.'), "abcdefghijklmnopqrstuvwxyz0123456789");
  return *ending == '.' && n > 0 && n < 9 && ending[1 + n] == '\0';
}

static SbPicture *
read_artwork (SbJsonReading *reading, JsonObject *object)
{
  const char *name = sb_json_reader_text (&reading->json, object, "artwork");
  if (!is_artwork_name (name))
    sb_json_reader_fail (&reading->json, _ ("“%.80s” is not the name of artwork"), name);
  if (reading->json.error != NULL)
    return NULL;
  return reading->find (name, reading->find_data, &reading->json.error);
}

static SbFilling
read_filling (SbJsonReader *json, JsonObject *object)
{
  SbFilling filling = {0};
  filling.greatest_mm = sb_json_reader_number (json, object, "greatest_mm", 0, SB_DESIGN_MOST_MM);
  filling.least_mm = sb_json_reader_number (json, object, "least_mm", 0, filling.greatest_mm);
  filling.share = (int)sb_json_reader_int (json, object, "share", 1, SB_SHARE_MOST);
  filling.size_of = (guint)sb_json_reader_int (json, object, "size_of", 0, SB_JSON_MOST_ID);
  return filling;
}

static SbDesign *
read_design (SbJsonReading *reading, JsonObject *object)
{
  SbJsonReader *json = &reading->json;
  g_autoptr (SbPicture) picture = read_artwork (reading, object);
  if (picture == NULL)
    return NULL;
  SbDesign *design = sb_design_new (picture, sb_json_reader_text (json, object, "name"));
  design->id = sb_json_read_id (reading, object);
  if (json_object_has_member (object, "lettering"))
    design->lettering = read_lettering (json, sb_json_reader_object (json, object, "lettering"));
  double width_mm =
      sb_json_reader_number (json, object, "width_mm", SB_DESIGN_LEAST_MM, SB_DESIGN_MOST_MM);
  double height_mm =
      sb_json_reader_number (json, object, "height_mm", SB_DESIGN_LEAST_MM, SB_DESIGN_MOST_MM);
  /* Artwork that is clear around lacks it, and so do jobs from before there was a clean-up. */
  if (json_object_has_member (object, "cleanup")) {
    JsonObject *inner = sb_json_reader_object (json, object, "cleanup");
    SbCleanup recipe = sb_cleanup_json_read (json, inner, design->picture);
    if (json->error == NULL)
      sb_design_set_cleanup (design, &recipe);
    sb_strokes_unref (recipe.strokes);
  }
  sb_design_set_size (design, width_mm, height_mm);
  read_silhouette (reading, design, sb_json_reader_object (json, object, "silhouette"));
  design->border = read_border (json, sb_json_reader_object (json, object, "border"));
  /* Outlines that nobody changed by hand lack it, and so do those of older jobs. */
  if (json_object_has_member (object, "by_hand"))
    design->hand = sb_hand_read (json, object, "by_hand");
  if (json_object_has_member (object, "bleed_mm")) /* not in older jobs */
    design->bleed_mm = sb_json_reader_number (json, object, "bleed_mm", 0, SB_BLEED_MOST_MM);
  design->guide = read_guide (json, sb_json_reader_object (json, object, "guide"));
  design->turning = (SbTurning)sb_json_reader_choice (json, object, "turning", turning_keys);
  design->wanted = (int)sb_json_reader_int (json, object, "wanted", 0, SB_WANTED_MOST);
  design->freebie = sb_json_reader_bool (json, object, "freebie");
  /* Only what a maker has set is written. */
  if (json_object_has_member (object, "filling"))
    design->filling = read_filling (json, sb_json_reader_object (json, object, "filling"));
  g_autoptr (JsonObject) known = write_design (design);
  design->extra = sb_json_leftover (object, known);
  return design;
}

static void
read_designs (SbJsonReading *reading, JsonArray *array)
{
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);
  guint n = array != NULL ? json_array_get_length (array) : 0;
  for (guint i = 0; i < n && reading->json.error == NULL; i++) {
    JsonObject *object = sb_json_reader_element (&reading->json, array, i);
    SbDesign *design = object != NULL ? read_design (reading, object) : NULL;
    if (design == NULL)
      return;
    if (!g_hash_table_add (names, design->name))
      sb_json_reader_fail (&reading->json, _ ("two designs are called “%s”"), design->name);
    g_ptr_array_add (reading->state->designs, design);
    g_hash_table_add (reading->design_ids, GUINT_TO_POINTER (design->id));
  }
}

static SbMargins
read_margins (SbJsonReader *json, JsonObject *object)
{
  return (SbMargins){
      .top = (sb_um)sb_json_reader_int (json, object, "top_um", 0, SB_PAGE_MOST),
      .right = (sb_um)sb_json_reader_int (json, object, "right_um", 0, SB_PAGE_MOST),
      .bottom = (sb_um)sb_json_reader_int (json, object, "bottom_um", 0, SB_PAGE_MOST),
      .left = (sb_um)sb_json_reader_int (json, object, "left_um", 0, SB_PAGE_MOST),
  };
}

static SbStock
read_stock (SbJsonReading *reading, JsonObject *object)
{
  SbJsonReader *json = &reading->json;
  return (SbStock){
      .name = read_short_text (reading, object, "name"),
      .inkjet_ok = sb_json_reader_bool (json, object, "inkjet_ok"),
      .laser_ok = sb_json_reader_bool (json, object, "laser_ok"),
      .film = sb_json_reader_bool (json, object, "film"),
      .drying_hours = sb_json_reader_number (json, object, "drying_hours", 0, SB_DRYING_MOST_HOURS),
      /* White stock lacks it, and so do older jobs. */
      .rgb = object != NULL && json_object_has_member (object, "rgb")
                 ? (guint32)sb_json_reader_int (json, object, "rgb", 0, SB_STOCK_WHITE)
                 : SB_STOCK_WHITE,
  };
}

/* A state without designs and pages. */
static SbState *
read_sheet (SbJsonReading *reading, JsonObject *object)
{
  SbJsonReader *json = &reading->json;
  JsonObject *paper = sb_json_reader_object (json, object, "paper");
  g_autofree char *name = read_short_text (reading, paper, "name");
  sb_um width = (sb_um)sb_json_reader_int (json, paper, "width_um", SB_PAGE_LEAST, SB_PAGE_MOST);
  sb_um height = (sb_um)sb_json_reader_int (json, paper, "height_um", SB_PAGE_LEAST, SB_PAGE_MOST);

  SbState *state = sb_state_new (name, width, height);
  g_ptr_array_set_size (state->pages, 0);
  JsonObject *margins = sb_json_reader_object (json, object, "margins");
  state->margins = read_margins (json, margins);
  state->margins_source =
      (SbMarginsSource)sb_json_reader_choice (json, margins, "source", source_keys);
  if (state->margins_source == SB_MARGINS_PRINTER &&
      json_object_has_member (margins, "overshoot_um"))
    state->overshoot =
        (sb_um)sb_json_reader_int (json, margins, "overshoot_um", 0, SB_OVERSHOOT_MOST);
  if (json_object_has_member (object, "printer"))
    state->printer = read_short_text (reading, object, "printer");
  state->gap = (sb_um)sb_json_reader_int (json, object, "gap_um", 0, SB_GAP_MOST);
  g_free (state->stock.name);
  state->stock = read_stock (reading, sb_json_reader_object (json, object, "stock"));
  if (json_object_has_member (object, "check_bar"))
    state->check_bar = sb_json_reader_bool (json, object, "check_bar");
  state->next_id = (guint)sb_json_reader_int (json, object, "next_id", 1, SB_JSON_MOST_ID + 1);
  return state;
}

static void
check_format (SbJsonReader *json, JsonObject *object)
{
  gint64 format = sb_json_reader_int (json, object, "format", 1, G_MAXINT32);
  if (json->error == NULL && format > SB_JOB_FORMAT)
    json->error = g_error_new_literal (SB_FILE_ERROR, SB_FILE_ERROR_NEWER,
                                       _ ("it was made by a newer version of this program"));
}

/* Jobs in which nothing was ordered, and those of older versions, lack it. */
static void
read_order (SbJsonReading *reading, JsonObject *object)
{
  if (reading->json.error != NULL || !json_object_has_member (object, "order"))
    return;
  SbOrder *order =
      sb_order_read (&reading->json, sb_json_reader_object (&reading->json, object, "order"),
                     reading->state->next_id);
  if (order == NULL)
    return;
  sb_order_unref (reading->state->order);
  reading->state->order = order;
}

static void
read_job (SbJsonReading *reading, JsonObject *object)
{
  SbJsonReader *json = &reading->json;
  check_format (json, object);
  if (json->error != NULL)
    return;
  reading->state = read_sheet (reading, object);
  read_designs (reading, sb_json_reader_array (json, object, "designs", SB_JOB_MOST_DESIGNS));
  if (json_object_has_member (object, "layouts")) /* jobs from before there were any lack it */
    sb_json_read_layouts (reading,
                          sb_json_reader_array (json, object, "layouts", SB_JOB_MOST_LAYOUTS));
  sb_json_read_pages (reading, sb_json_reader_array (json, object, "pages", SB_JOB_MOST_PAGES));
  read_order (reading, object);
  if (json->error != NULL)
    return;
  g_autoptr (JsonObject) known = write_sheet (reading->state);
  json_object_set_null_member (known, "designs");
  json_object_set_null_member (known, "layouts");
  json_object_set_null_member (known, "pages");
  json_object_set_null_member (known, "order");
  reading->state->extra = sb_json_leftover (object, known);
}

SbState *
sb_job_json_read (const char *text, gsize length, SbArtworkFind find, gpointer data, GError **error)
{
  SbJsonReading reading = {.find = find, .find_data = data};
  g_autoptr (GHashTable) ids = g_hash_table_new (NULL, NULL);
  g_autoptr (GHashTable) design_ids = g_hash_table_new (NULL, NULL);
  reading.ids = ids;
  reading.design_ids = design_ids;
  g_autoptr (JsonObject) object = sb_json_reader_parse (&reading.json, text, length);
  if (object != NULL)
    read_job (&reading, object);
  if (reading.json.error == NULL)
    return reading.state;
  g_clear_pointer (&reading.state, sb_state_unref);
  g_propagate_error (error, reading.json.error);
  return NULL;
}
