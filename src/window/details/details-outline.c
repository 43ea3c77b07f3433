/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/details/details-editing.h"
#include "window/details/details-outline.h"
#include "window/parts/measure-entry.h"
#include "window/parts/words.h"

struct _SbDetailsOutline {
  GtkWidget parent_instance;

  GtkWidget *grid;
  GtkWidget *bleed_entry; /* SbMeasureEntry */
  GtkWidget *bleed_hint;
  GtkWidget *soft_label;
  GtkWidget *coverage_label;
  GtkWidget *coverage_spin;
  GtkWidget *hand_label;
  GtkWidget *hand_button;

  SbDetailsEditing editing;
};

G_DEFINE_FINAL_TYPE (SbDetailsOutline, sb_details_outline, GTK_TYPE_WIDGET)

/* --- From the controls to the design --- */

static void
bleed_committed_cb (SbDetailsOutline *self, double mm)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  copy->bleed_mm = mm;
  sb_details_editing_end (&self->editing, copy, _ ("Bleed of %s"), FALSE);
}

static void
coverage_changed_cb (SbDetailsOutline *self)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  SbSilhouetteParams params = copy->silhouette_params;
  params.threshold = gtk_spin_button_get_value (GTK_SPIN_BUTTON (self->coverage_spin)) / 100;
  sb_design_set_silhouette_params (copy, &params);
  sb_details_editing_end (&self->editing, copy, _ ("Shadow of %s"), TRUE);
}

/* Its own edit, which keeps the artwork where it lies. */
static void
undo_outline_cb (SbDetailsOutline *self)
{
  SbJob *job = sb_desk_get_job (self->editing.desk);
  SbState *state = sb_job_get_settled_state (job);
  SbDesign *design = sb_state_get_design (state, self->editing.design_id);

  if (!design)
    return;
  g_autofree char *name = g_strdup_printf (_ ("Undo Outline of %s"), design->name);
  sb_job_edit (job, sb_edit_set_hand (state, self->editing.design_id, NULL), name, NULL);
}

/* --- From the design to the controls --- */

static void
update_bleed (SbDetailsOutline *self, SbDesign *design)
{
  gboolean bare = design->border.width_mm == 0 && design->bleed_mm == 0;

  sb_measure_entry_set_unit (SB_MEASURE_ENTRY (self->bleed_entry),
                             sb_desk_get_unit (self->editing.desk));
  sb_measure_entry_set_value (SB_MEASURE_ENTRY (self->bleed_entry), design->bleed_mm);
  gtk_widget_set_visible (self->bleed_hint, bare);
}

static void
update_coverage (SbDetailsOutline *self, SbDesign *design)
{
  gboolean other = design->silhouette_params.threshold != sb_silhouette_params_default ().threshold;
  gboolean soft = sb_silhouette_get_softness (design->silhouette) > SB_SOFTNESS_ASK;

  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->coverage_spin),
                             100 * design->silhouette_params.threshold);
  gtk_widget_set_visible (self->soft_label, soft);
  gtk_widget_set_visible (self->coverage_label, soft || other);
  gtk_widget_set_visible (self->coverage_spin, soft || other);
}

static void
update_hand (SbDetailsOutline *self, SbDesign *design)
{
  guint n = sb_hand_get_n (design->hand), left_out = sb_growth_get_left_out (design->growth);
  g_autofree char *text = NULL;

  if (left_out > 0)
    text = g_strdup_printf (ngettext ("Changed by hand; %u change does not go with this border.",
                                      "Changed by hand; %u changes do not go with this border.",
                                      left_out),
                            left_out);
  else
    text = g_strdup_printf (ngettext ("%u point of the outline is changed by hand.",
                                      "%u points of the outline are changed by hand.", n),
                            n);
  gtk_label_set_label (GTK_LABEL (self->hand_label), text);
  gtk_widget_set_visible (self->hand_label, n > 0);
  gtk_widget_set_visible (self->hand_button, n > 0);
}

void
sb_details_outline_show (SbDetailsOutline *self, SbDesign *design)
{
  self->editing.design_id = design->id;
  self->editing.updating = TRUE;
  update_bleed (self, design);
  update_coverage (self, design);
  update_hand (self, design);
  self->editing.updating = FALSE;
}

/* --- Widget --- */

static GtkWidget *
make_label (const char *text)
{
  GtkWidget *label = sb_words_new (text, NULL);

  gtk_label_set_width_chars (GTK_LABEL (label), 20);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 30);
  return label;
}

static void
make_bleed (SbDetailsOutline *self, GtkGrid *grid)
{
  GtkWidget *label = make_label (_ ("Bleed past the cut"));

  gtk_label_set_width_chars (GTK_LABEL (label), -1);
  gtk_widget_set_hexpand (label, TRUE);
  self->bleed_entry = g_object_new (SB_TYPE_MEASURE_ENTRY, "label", _ ("Bleed past the cut"), NULL);
  sb_measure_entry_set_range (SB_MEASURE_ENTRY (self->bleed_entry), 0, SB_BLEED_MOST_MM);
  gtk_widget_set_tooltip_text (self->bleed_entry,
                               _ ("How far the colours of the artwork’s edge are repeated past the "
                                  "cut; 2 to 3 mm are usual without a border"));
  g_signal_connect_swapped (self->bleed_entry, "committed", G_CALLBACK (bleed_committed_cb), self);
  self->bleed_hint = make_label (
      _ ("Without a border a cut that strays shows paper. A bleed of 2 to 3 mm hides that."));
  gtk_widget_add_css_class (self->bleed_hint, "warning-text");
  gtk_grid_attach (grid, label, 0, 0, 1, 1);
  gtk_grid_attach (grid, self->bleed_entry, 1, 0, 1, 1);
  gtk_grid_attach (grid, self->bleed_hint, 0, 1, 2, 1);
}

static void
make_coverage (SbDetailsOutline *self, GtkGrid *grid)
{
  self->soft_label = make_label (
      _ ("The edge fades slowly. Is it a shadow? What covers less than this is no artwork:"));
  gtk_widget_add_css_class (self->soft_label, "warning-text");
  self->coverage_label = make_label (_ ("Least coverage, %"));
  gtk_label_set_width_chars (GTK_LABEL (self->coverage_label), -1);
  self->coverage_spin = gtk_spin_button_new_with_range (1, 100, 1);
  gtk_widget_set_halign (self->coverage_spin, GTK_ALIGN_END);
  gtk_spin_button_set_numeric (GTK_SPIN_BUTTON (self->coverage_spin), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->coverage_spin),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Least coverage in percent that counts as artwork"), -1);
  g_signal_connect_swapped (self->coverage_spin, "value-changed", G_CALLBACK (coverage_changed_cb),
                            self);
  gtk_grid_attach (grid, self->soft_label, 0, 2, 2, 1);
  gtk_grid_attach (grid, self->coverage_label, 0, 3, 1, 1);
  gtk_grid_attach (grid, self->coverage_spin, 1, 3, 1, 1);
}

static void
make_hand (SbDetailsOutline *self, GtkGrid *grid)
{
  self->hand_label = make_label (NULL);
  self->hand_button = gtk_button_new_with_mnemonic (_ ("_Undo Outline"));
  gtk_widget_set_halign (self->hand_button, GTK_ALIGN_START);
  g_signal_connect_swapped (self->hand_button, "clicked", G_CALLBACK (undo_outline_cb), self);
  gtk_grid_attach (grid, self->hand_label, 0, 4, 2, 1);
  gtk_grid_attach (grid, self->hand_button, 0, 5, 2, 1);
}

static void
sb_details_outline_dispose (GObject *object)
{
  SbDetailsOutline *self = SB_DETAILS_OUTLINE (object);

  self->editing.updating = TRUE;
  g_clear_pointer (&self->grid, gtk_widget_unparent);
  g_clear_object (&self->editing.desk);
  G_OBJECT_CLASS (sb_details_outline_parent_class)->dispose (object);
}

static void
sb_details_outline_class_init (SbDetailsOutlineClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_details_outline_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
sb_details_outline_init (SbDetailsOutline *self)
{
  self->editing.updating = TRUE;
  self->grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (self->grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 12);
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
  make_bleed (self, GTK_GRID (self->grid));
  make_coverage (self, GTK_GRID (self->grid));
  make_hand (self, GTK_GRID (self->grid));
  self->editing.updating = FALSE;
}

void
sb_details_outline_set_desk (SbDetailsOutline *self, SbDesk *desk)
{
  g_return_if_fail (self->editing.desk == NULL);

  self->editing.desk = g_object_ref (desk);
}
