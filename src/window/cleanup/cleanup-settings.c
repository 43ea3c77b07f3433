/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/cleanup/cleanup-histogram.h"
#include "window/cleanup/cleanup-settings.h"
#include "window/cleanup/cleanup-specks.h"
#include "window/parts/measure-entry.h"
#include "window/parts/wheel.h"

/* A number of the recipe, set by a slider and an entry beside it. */
typedef struct {
  const char *label, *tip;
  const char *step; /* of history */
  gsize offset;     /* in SbCleanup */
  double lower, upper, increment;
  gboolean length; /* mm; else a plain number */
} Field;

enum {
  TOLERANCE,
  SMOOTHNESS,
  SPECKS,
  HAIRS,
  PINHOLES,
  WHITE_POINT,
  BLACK_POINT,
  BRIGHTNESS,
  CONTRAST,
  WARMTH,
  SATURATION,
  N_FIELDS,
};

static const Field fields[N_FIELDS] = {
    [TOLERANCE] = {N_ ("Tolerance"), N_ ("How far from the paper’s colour still counts as paper"),
                   N_ ("Tolerance of %s"), G_STRUCT_OFFSET (SbCleanup, tolerance),
                   SB_CLEANUP_TOLERANCE_LEAST, SB_CLEANUP_TOLERANCE_MOST, 0.5, FALSE},
    [SMOOTHNESS] = {N_ ("Smoothness"),
                    N_ ("Over how far colours are averaged before they are "
                        "compared: more for coarse paper"),
                    N_ ("Smoothness of %s"), G_STRUCT_OFFSET (SbCleanup, smoothness_mm), 0,
                    SB_CLEANUP_SMOOTHNESS_MOST_MM, 0.01, TRUE},
    [SPECKS] = {N_ ("Dust up to"), N_ ("Specks outside the artwork that are not larger go away"),
                N_ ("Dust Size of %s"), G_STRUCT_OFFSET (SbCleanup, speck_mm), 0,
                SB_CLEANUP_SPECK_MOST_MM, 0.05, TRUE},
    [HAIRS] = {N_ ("Hairs thinner than"), N_ ("Long thin marks outside the artwork go away"),
               N_ ("Hair Width of %s"), G_STRUCT_OFFSET (SbCleanup, hair_mm), 0,
               SB_CLEANUP_HAIR_MOST_MM, 0.01, TRUE},
    [PINHOLES] = {N_ ("Pinholes up to"), N_ ("Smaller holes in the artwork are filled"),
                  N_ ("Pinhole Size of %s"), G_STRUCT_OFFSET (SbCleanup, pinhole_mm), 0,
                  SB_CLEANUP_SPECK_MOST_MM, 0.05, TRUE},
    [WHITE_POINT] = {N_ ("White point"), N_ ("How much darker than the paper still becomes white"),
                     N_ ("White Point of %s"), G_STRUCT_OFFSET (SbCleanup, white_point), 0,
                     SB_CLEANUP_POINT_MOST, 0.5, FALSE},
    [BLACK_POINT] = {N_ ("Black point"), N_ ("How light may be what becomes black"),
                     N_ ("Black Point of %s"), G_STRUCT_OFFSET (SbCleanup, black_point), 0,
                     SB_CLEANUP_POINT_MOST, 0.5, FALSE},
    [BRIGHTNESS] = {N_ ("Brightness"), NULL, N_ ("Brightness of %s"),
                    G_STRUCT_OFFSET (SbCleanup, adjust.brightness), -100, 100, 1, FALSE},
    [CONTRAST] = {N_ ("Contrast"), NULL, N_ ("Contrast of %s"),
                  G_STRUCT_OFFSET (SbCleanup, adjust.contrast), -100, 100, 1, FALSE},
    [WARMTH] = {N_ ("Warmth"), NULL, N_ ("Warmth of %s"),
                G_STRUCT_OFFSET (SbCleanup, adjust.warmth), -100, 100, 1, FALSE},
    [SATURATION] = {N_ ("Saturation"), NULL, N_ ("Saturation of %s"),
                    G_STRUCT_OFFSET (SbCleanup, adjust.saturation), -100, 100, 1, FALSE},
};

/* A yes or no of the recipe. */
typedef struct {
  const char *label, *tip, *step;
  gsize offset;
} Toggle;

enum {
  REMOVE_PAPER,
  EVEN_LIGHT,
  OPEN_ENCLOSED,
  WHITEN,
  CRISP,
  N_TOGGLES,
};

static const Toggle toggles[N_TOGGLES] = {
    [REMOVE_PAPER] = {N_ ("Take the paper away"), N_ ("From the picture’s edge inwards"),
                      N_ ("Paper of %s"), G_STRUCT_OFFSET (SbCleanup, remove_paper)},
    [EVEN_LIGHT] = {N_ ("Even out the light"), N_ ("As if all of the paper were equally bright"),
                    N_ ("Even Light of %s"), G_STRUCT_OFFSET (SbCleanup, even_light)},
    [OPEN_ENCLOSED] = {N_ ("Enclosed paper too"),
                       N_ ("Paper that the artwork encloses goes too. Single places are clicked "
                           "away with a tool instead."),
                       N_ ("Enclosed Paper of %s"), G_STRUCT_OFFSET (SbCleanup, open_enclosed)},
    [WHITEN] = {N_ ("Whiten the paper"),
                N_ ("Paper that stays becomes white, and so does what is left of it at the "
                    "artwork’s edge. Pale washes inside stay as they are."),
                N_ ("White Paper of %s"), G_STRUCT_OFFSET (SbCleanup, whiten)},
    [CRISP] = {N_ ("Hard-edged pixels"),
               N_ ("For pixel art: enlarged in whole steps, without softening"),
               N_ ("Hard Edges of %s"), G_STRUCT_OFFSET (SbCleanup, crisp)},
};

struct _SbCleanupSettings {
  GtkWidget parent_instance;

  SbCleanupSession *session;
  GtkWidget *box;
  GtkAdjustment *adjustments[N_FIELDS];
  GtkWidget *labels[N_FIELDS], *entries[N_FIELDS], *scales[N_FIELDS];
  GtkWidget *checks[N_TOGGLES];
  GtkWidget *paper_swatch, *paper_told, *paper_again, *paper_row;
  GtkWidget *histogram, *levels_reset;
  gboolean updating; /* controls are set by the program */
};

G_DEFINE_FINAL_TYPE (SbCleanupSettings, sb_cleanup_settings, GTK_TYPE_WIDGET)

enum {
  PICK,
  SHOW_SPECK,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

/* --- From the controls to the recipe --- */

static guint
index_of (GObject *control)
{
  return GPOINTER_TO_UINT (g_object_get_data (control, "sb-index"));
}

static void
set_number (SbCleanupSettings *self, guint i, double value)
{
  SbCleanup recipe = sb_cleanup_session_get_design (self->session)->cleanup;

  if (self->updating)
    return;
  G_STRUCT_MEMBER (double, &recipe, fields[i].offset) = value;
  sb_cleanup_session_set_recipe (self->session, &recipe, _ (fields[i].step), FALSE);
}

static void
moved_cb (SbCleanupSettings *self, GtkAdjustment *adjustment)
{
  set_number (self, index_of (G_OBJECT (adjustment)), gtk_adjustment_get_value (adjustment));
}

static void
committed_cb (SbCleanupSettings *self, double mm, SbMeasureEntry *entry)
{
  set_number (self, index_of (G_OBJECT (entry)), mm);
}

static void
toggled_cb (SbCleanupSettings *self, GtkCheckButton *check)
{
  guint i = index_of (G_OBJECT (check));
  SbCleanup recipe = sb_cleanup_session_get_design (self->session)->cleanup;

  if (self->updating)
    return;
  G_STRUCT_MEMBER (gboolean, &recipe, toggles[i].offset) = gtk_check_button_get_active (check);
  sb_cleanup_session_set_recipe (self->session, &recipe, _ (toggles[i].step), TRUE);
}

static void
pick_cb (SbCleanupSettings *self)
{
  g_signal_emit (self, signals[PICK], 0);
}

static void
find_again_cb (SbCleanupSettings *self)
{
  SbCleanup recipe = sb_cleanup_session_get_design (self->session)->cleanup;

  recipe.paper_picked = FALSE;
  sb_cleanup_session_set_recipe (self->session, &recipe, _ ("Find Paper Colour of %s"), TRUE);
}

static void
reset_levels_cb (SbCleanupSettings *self)
{
  SbCleanup recipe = sb_cleanup_session_get_design (self->session)->cleanup;

  recipe.adjust = (SbAdjust){0};
  sb_cleanup_session_set_recipe (self->session, &recipe, _ ("Reset Levels of %s"), TRUE);
}

/* --- From the recipe to the controls --- */

static void
update_paper (SbCleanupSettings *self, const SbCleanup *recipe)
{
  SbCleanResult *result = sb_cleanup_session_get_result (self->session);
  gboolean known = recipe->paper_picked || (result && result->has_paper);

  gtk_widget_set_sensitive (self->paper_row,
                            recipe->remove_paper || recipe->even_light || recipe->whiten);
  gtk_widget_set_sensitive (self->paper_again, recipe->paper_picked);
  gtk_label_set_label (GTK_LABEL (self->paper_told), recipe->paper_picked ? _ ("picked by you")
                                                     : known              ? _ ("found by itself")
                                                     : result             ? _ ("none found")
                                                                          : "");
  gtk_widget_queue_draw (self->paper_swatch);
}

/* Whether a number changes anything. */
static gboolean
uses (const SbCleanup *recipe, guint i)
{
  switch (i) {
  case TOLERANCE:
  case SMOOTHNESS:
  case SPECKS:
  case HAIRS:
    return recipe->remove_paper || recipe->whiten;
  case PINHOLES:
    return recipe->remove_paper ? recipe->open_enclosed : recipe->whiten;
  case WHITE_POINT:
  case BLACK_POINT:
    return recipe->whiten;
  default:
    return TRUE;
  }
}

static void
update (SbCleanupSettings *self)
{
  SbDesign *design = sb_cleanup_session_get_design (self->session);
  const SbCleanup *recipe = &design->cleanup;
  SbUnit unit = sb_desk_get_unit (sb_cleanup_session_get_desk (self->session));

  self->updating = TRUE;
  for (guint i = 0; i < N_FIELDS; i++) {
    double value = G_STRUCT_MEMBER (double, recipe, fields[i].offset);
    gtk_adjustment_set_value (self->adjustments[i], value);
    if (fields[i].length) {
      sb_measure_entry_set_unit (SB_MEASURE_ENTRY (self->entries[i]), unit);
      sb_measure_entry_set_value (SB_MEASURE_ENTRY (self->entries[i]), value);
    }
    gboolean used = uses (recipe, i);
    gtk_widget_set_sensitive (self->labels[i], used);
    gtk_widget_set_sensitive (self->entries[i], used);
    gtk_widget_set_sensitive (self->scales[i], used);
  }
  for (guint i = 0; i < N_TOGGLES; i++)
    gtk_check_button_set_active (GTK_CHECK_BUTTON (self->checks[i]),
                                 G_STRUCT_MEMBER (gboolean, recipe, toggles[i].offset));
  gtk_widget_set_sensitive (self->checks[OPEN_ENCLOSED], recipe->remove_paper);
  gtk_widget_set_sensitive (self->levels_reset, !sb_adjust_is_none (&recipe->adjust));
  update_paper (self, recipe);
  self->updating = FALSE;
}

static void
pixels_cb (SbCleanupSettings *self)
{
  update_paper (self, &sb_cleanup_session_get_design (self->session)->cleanup);
  sb_cleanup_histogram_show (SB_CLEANUP_HISTOGRAM (self->histogram),
                             sb_cleanup_session_get_result (self->session));
}

/* --- Building --- */

static void
name_control (GtkWidget *control, const char *name, const char *tip)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  gtk_widget_set_tooltip_text (control, tip);
}

static GtkWidget *
add_section (SbCleanupSettings *self, const char *title)
{
  GtkWidget *section = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *label = gtk_label_new (title);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "section");
  gtk_box_append (GTK_BOX (section), label);
  gtk_box_append (GTK_BOX (self->box), section);
  return section;
}

static void
add_toggle (SbCleanupSettings *self, GtkWidget *section, guint i)
{
  GtkWidget *check = gtk_check_button_new (), *label = gtk_label_new (_ (toggles[i].label));

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_check_button_set_child (GTK_CHECK_BUTTON (check), label);
  name_control (check, _ (toggles[i].label), _ (toggles[i].tip));
  g_object_set_data (G_OBJECT (check), "sb-index", GUINT_TO_POINTER (i));
  g_signal_connect_swapped (check, "toggled", G_CALLBACK (toggled_cb), self);
  gtk_box_append (GTK_BOX (section), check);
  self->checks[i] = check;
}

static GtkWidget *
new_entry (SbCleanupSettings *self, guint i)
{
  const Field *field = fields + i;

  if (!field->length) {
    GtkWidget *spin = gtk_spin_button_new (self->adjustments[i], 0, field->increment < 1 ? 1 : 0);
    gtk_spin_button_set_numeric (GTK_SPIN_BUTTON (spin), TRUE);
    g_object_set (spin, "enable-undo", FALSE, NULL);
    name_control (spin, _ (field->label), field->tip ? _ (field->tip) : NULL);
    return spin;
  }
  GtkWidget *entry = g_object_new (SB_TYPE_MEASURE_ENTRY, "label", _ (field->label), "lower",
                                   field->lower, "upper", field->upper, NULL);
  g_object_set_data (G_OBJECT (entry), "sb-index", GUINT_TO_POINTER (i));
  g_signal_connect_swapped (entry, "committed", G_CALLBACK (committed_cb), self);
  return entry;
}

static void
add_field (SbCleanupSettings *self, GtkWidget *section, guint i)
{
  const Field *field = fields + i;
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *label = gtk_label_new (_ (field->label));

  self->adjustments[i] =
      gtk_adjustment_new (field->lower > 0 ? field->lower : 0, field->lower, field->upper,
                          field->increment, 10 * field->increment, 0);
  g_object_set_data (G_OBJECT (self->adjustments[i]), "sb-index", GUINT_TO_POINTER (i));
  g_signal_connect_swapped (self->adjustments[i], "value-changed", G_CALLBACK (moved_cb), self);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_set_tooltip_text (label, field->tip ? _ (field->tip) : NULL);
  self->labels[i] = label;
  self->entries[i] = new_entry (self, i);
  gtk_widget_set_valign (self->entries[i], GTK_ALIGN_CENTER);
  self->scales[i] = gtk_scale_new (GTK_ORIENTATION_HORIZONTAL, self->adjustments[i]);
  if (field->lower < 0)
    gtk_scale_add_mark (GTK_SCALE (self->scales[i]), 0, GTK_POS_BOTTOM, NULL);
  name_control (self->scales[i], _ (field->label), field->tip ? _ (field->tip) : NULL);
  gtk_box_append (GTK_BOX (row), label);
  gtk_box_append (GTK_BOX (row), self->entries[i]);
  gtk_box_append (GTK_BOX (section), row);
  gtk_box_append (GTK_BOX (section), self->scales[i]);
}

static void
draw_swatch (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer user_data)
{
  SbCleanupSettings *self = user_data;
  const SbCleanup *recipe = &sb_cleanup_session_get_design (self->session)->cleanup;
  SbCleanResult *result = sb_cleanup_session_get_result (self->session);
  const guint8 *paper = recipe->paper_picked          ? recipe->paper
                        : result && result->has_paper ? result->paper
                                                      : NULL;

  if (!paper)
    return;
  cairo_set_source_rgb (cr, paper[0] / 255.0, paper[1] / 255.0, paper[2] / 255.0);
  cairo_paint (cr);
}

static GtkWidget *
new_button (SbCleanupSettings *self, const char *mnemonic, const char *tip, GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (mnemonic);

  gtk_widget_set_tooltip_text (button, tip);
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  g_signal_connect_swapped (button, "clicked", clicked, self);
  return button;
}

static void
add_paper_row (SbCleanupSettings *self, GtkWidget *section)
{
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *title = gtk_label_new (_ ("Paper’s colour")), *row;
  GtkWidget *top = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->paper_row = row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->paper_swatch = gtk_drawing_area_new ();
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->paper_swatch), draw_swatch, self, NULL);
  gtk_widget_set_size_request (self->paper_swatch, 36, 36);
  gtk_widget_add_css_class (self->paper_swatch, "paper-shape");
  gtk_widget_set_valign (self->paper_swatch, GTK_ALIGN_CENTER);
  self->paper_told = gtk_label_new (NULL);
  gtk_widget_add_css_class (self->paper_told, "caption");
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_label_set_xalign (GTK_LABEL (self->paper_told), 0);
  gtk_label_set_wrap (GTK_LABEL (self->paper_told), TRUE);
  gtk_box_append (GTK_BOX (words), title);
  gtk_box_append (GTK_BOX (words), self->paper_told);
  gtk_box_append (GTK_BOX (top), self->paper_swatch);
  gtk_box_append (GTK_BOX (top), words);
  self->paper_again = new_button (self, _ ("_Find Again"), _ ("Let the program find it again"),
                                  G_CALLBACK (find_again_cb));
  gtk_box_append (GTK_BOX (buttons),
                  new_button (self, _ ("Pic_k"), _ ("Point at the paper in the picture (7)"),
                              G_CALLBACK (pick_cb)));
  gtk_box_append (GTK_BOX (buttons), self->paper_again);
  gtk_box_append (GTK_BOX (row), top);
  gtk_box_append (GTK_BOX (row), buttons);
  gtk_box_append (GTK_BOX (section), row);
}

static void
speck_chosen_cb (SbCleanupSettings *self, guint index)
{
  g_signal_emit (self, signals[SHOW_SPECK], 0, index);
}

static void
build (SbCleanupSettings *self)
{
  GtkWidget *paper = add_section (self, _ ("Paper"));
  add_toggle (self, paper, REMOVE_PAPER);
  add_toggle (self, paper, EVEN_LIGHT);
  add_paper_row (self, paper);
  add_field (self, paper, TOLERANCE);
  add_field (self, paper, SMOOTHNESS);
  add_toggle (self, paper, OPEN_ENCLOSED);
  add_field (self, paper, PINHOLES);
  add_toggle (self, paper, WHITEN);
  add_field (self, paper, WHITE_POINT);
  add_field (self, paper, BLACK_POINT);

  GtkWidget *specks = add_section (self, _ ("Dust and Hairs"));
  add_field (self, specks, SPECKS);
  add_field (self, specks, HAIRS);
  GtkWidget *list = sb_cleanup_specks_new (self->session);
  g_signal_connect_swapped (list, "chosen", G_CALLBACK (speck_chosen_cb), self);
  gtk_box_append (GTK_BOX (specks), list);

  GtkWidget *levels = add_section (self, _ ("Levels and Colour"));
  self->histogram = sb_cleanup_histogram_new ();
  gtk_box_append (GTK_BOX (levels), self->histogram);
  for (guint i = BRIGHTNESS; i < N_FIELDS; i++)
    add_field (self, levels, i);
  self->levels_reset = new_button (self, _ ("_Reset Levels"), _ ("All four back to the middle"),
                                   G_CALLBACK (reset_levels_cb));
  gtk_widget_set_halign (self->levels_reset, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (levels), self->levels_reset);
  add_toggle (self, levels, CRISP);
}

/* --- Widget --- */

static void
sb_cleanup_settings_dispose (GObject *object)
{
  SbCleanupSettings *self = SB_CLEANUP_SETTINGS (object);

  self->updating = TRUE;
  if (self->session) {
    g_signal_handlers_disconnect_by_data (self->session, self);
    g_signal_handlers_disconnect_by_data (
        sb_desk_get_preferences (sb_cleanup_session_get_desk (self->session)), self);
  }
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (sb_cleanup_settings_parent_class)->dispose (object);
}

static void
sb_cleanup_settings_class_init (SbCleanupSettingsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_cleanup_settings_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  signals[PICK] = g_signal_new ("pick", SB_TYPE_CLEANUP_SETTINGS, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 0);
  signals[SHOW_SPECK] = g_signal_new ("show-speck", SB_TYPE_CLEANUP_SETTINGS, G_SIGNAL_RUN_LAST, 0,
                                      NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
sb_cleanup_settings_init (SbCleanupSettings *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 18);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
sb_cleanup_settings_new (SbCleanupSession *session)
{
  SbCleanupSettings *self = g_object_new (SB_TYPE_CLEANUP_SETTINGS, NULL);

  self->session = g_object_ref (session);
  build (self);
  g_signal_connect_swapped (session, "changed", G_CALLBACK (update), self);
  g_signal_connect_swapped (session, "pixels", G_CALLBACK (pixels_cb), self);
  g_signal_connect_swapped (sb_desk_get_preferences (sb_cleanup_session_get_desk (session)),
                            "notify::unit", G_CALLBACK (update), self);
  update (self);
  sb_wheel_pass_on (GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
