/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/cleanup/cleanup-fields.h"
#include "window/cleanup/cleanup-histogram.h"
#include "window/cleanup/cleanup-paper.h"
#include "window/cleanup/cleanup-settings.h"
#include "window/cleanup/cleanup-specks.h"
#include "window/parts/measure-entry.h"
#include "window/parts/wheel.h"
#include "window/parts/words.h"

struct _SbCleanupSettings {
  GtkWidget parent_instance;

  SbCleanupSession *session;
  GtkWidget *box;
  GtkAdjustment *adjustments[SB_CLEANUP_N_FIELDS];
  GtkWidget *labels[SB_CLEANUP_N_FIELDS];
  GtkWidget *entries[SB_CLEANUP_N_FIELDS];
  GtkWidget *scales[SB_CLEANUP_N_FIELDS];
  GtkWidget *checks[SB_CLEANUP_N_TOGGLES];
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
  G_STRUCT_MEMBER (double, &recipe, sb_cleanup_fields[i].offset) = value;
  sb_cleanup_session_set_recipe (self->session, &recipe, _ (sb_cleanup_fields[i].step), FALSE);
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
  G_STRUCT_MEMBER (gboolean, &recipe, sb_cleanup_toggles[i].offset) =
      gtk_check_button_get_active (check);
  sb_cleanup_session_set_recipe (self->session, &recipe, _ (sb_cleanup_toggles[i].step), TRUE);
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
update (SbCleanupSettings *self)
{
  SbDesign *design = sb_cleanup_session_get_design (self->session);
  const SbCleanup *recipe = &design->cleanup;
  SbUnit unit = sb_desk_get_unit (sb_cleanup_session_get_desk (self->session));

  self->updating = TRUE;
  for (guint i = 0; i < SB_CLEANUP_N_FIELDS; i++) {
    double value = G_STRUCT_MEMBER (double, recipe, sb_cleanup_fields[i].offset);
    gtk_adjustment_set_value (self->adjustments[i], value);
    if (sb_cleanup_fields[i].length) {
      sb_measure_entry_set_unit (SB_MEASURE_ENTRY (self->entries[i]), unit);
      sb_measure_entry_set_value (SB_MEASURE_ENTRY (self->entries[i]), value);
    }
    gboolean used = sb_cleanup_field_counts (recipe, i);
    gtk_widget_set_sensitive (self->labels[i], used);
    gtk_widget_set_sensitive (self->entries[i], used);
    gtk_widget_set_sensitive (self->scales[i], used);
  }
  for (guint i = 0; i < SB_CLEANUP_N_TOGGLES; i++)
    gtk_check_button_set_active (GTK_CHECK_BUTTON (self->checks[i]),
                                 G_STRUCT_MEMBER (gboolean, recipe, sb_cleanup_toggles[i].offset));
  gtk_widget_set_sensitive (self->checks[SB_CLEANUP_TOGGLE_OPEN_ENCLOSED], recipe->remove_paper);
  gtk_widget_set_sensitive (self->levels_reset, !sb_adjust_is_none (&recipe->adjust));
  self->updating = FALSE;
}

static void
pixels_cb (SbCleanupSettings *self)
{
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
  GtkWidget *check = gtk_check_button_new (),
            *label = sb_words_new (_ (sb_cleanup_toggles[i].label), NULL);

  gtk_check_button_set_child (GTK_CHECK_BUTTON (check), label);
  name_control (check, _ (sb_cleanup_toggles[i].label), _ (sb_cleanup_toggles[i].tip));
  g_object_set_data (G_OBJECT (check), "sb-index", GUINT_TO_POINTER (i));
  g_signal_connect_swapped (check, "toggled", G_CALLBACK (toggled_cb), self);
  gtk_box_append (GTK_BOX (section), check);
  self->checks[i] = check;
}

static GtkWidget *
new_entry (SbCleanupSettings *self, guint i)
{
  const SbCleanupField *field = sb_cleanup_fields + i;

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
  const SbCleanupField *field = sb_cleanup_fields + i;
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *label = sb_words_new (_ (field->label), NULL);

  self->adjustments[i] =
      gtk_adjustment_new (field->lower > 0 ? field->lower : 0, field->lower, field->upper,
                          field->increment, 10 * field->increment, 0);
  g_object_set_data (G_OBJECT (self->adjustments[i]), "sb-index", GUINT_TO_POINTER (i));
  g_signal_connect_swapped (self->adjustments[i], "value-changed", G_CALLBACK (moved_cb), self);
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
pick_cb (SbCleanupSettings *self)
{
  g_signal_emit (self, signals[PICK], 0);
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
  add_toggle (self, paper, SB_CLEANUP_TOGGLE_REMOVE_PAPER);
  add_toggle (self, paper, SB_CLEANUP_TOGGLE_EVEN_LIGHT);
  GtkWidget *colour = sb_cleanup_paper_new (self->session);
  g_signal_connect_swapped (colour, "pick", G_CALLBACK (pick_cb), self);
  gtk_box_append (GTK_BOX (paper), colour);
  add_field (self, paper, SB_CLEANUP_FIELD_TOLERANCE);
  add_field (self, paper, SB_CLEANUP_FIELD_SMOOTHNESS);
  add_toggle (self, paper, SB_CLEANUP_TOGGLE_OPEN_ENCLOSED);
  add_field (self, paper, SB_CLEANUP_FIELD_PINHOLES);
  add_toggle (self, paper, SB_CLEANUP_TOGGLE_WHITEN);
  add_field (self, paper, SB_CLEANUP_FIELD_WHITE_POINT);
  add_field (self, paper, SB_CLEANUP_FIELD_BLACK_POINT);

  GtkWidget *specks = add_section (self, _ ("Dust and Hairs"));
  add_field (self, specks, SB_CLEANUP_FIELD_SPECKS);
  add_field (self, specks, SB_CLEANUP_FIELD_HAIRS);
  GtkWidget *list = sb_cleanup_specks_new (self->session);
  g_signal_connect_swapped (list, "chosen", G_CALLBACK (speck_chosen_cb), self);
  gtk_box_append (GTK_BOX (specks), list);

  GtkWidget *levels = add_section (self, _ ("Levels and Colour"));
  self->histogram = sb_cleanup_histogram_new ();
  gtk_box_append (GTK_BOX (levels), self->histogram);
  for (guint i = SB_CLEANUP_FIELD_BRIGHTNESS; i < SB_CLEANUP_N_FIELDS; i++)
    add_field (self, levels, i);
  self->levels_reset = gtk_button_new_with_mnemonic (_ ("_Reset Levels"));
  gtk_widget_set_tooltip_text (self->levels_reset, _ ("All four back to the middle"));
  g_signal_connect_swapped (self->levels_reset, "clicked", G_CALLBACK (reset_levels_cb), self);
  gtk_widget_set_halign (self->levels_reset, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (levels), self->levels_reset);
  add_toggle (self, levels, SB_CLEANUP_TOGGLE_CRISP);
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
