/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/details/details-arranging.h"
#include "window/details/details-editing.h"
#include "window/details/what-if-box.h"
#include "window/parts/measure-entry.h"

#define SIZE_LEAST_MM 2.0
#define SIZE_MOST_MM 300.0
#define SAME_MM 0.05 /* what two entries show alike */

struct _SbDetailsArranging {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *grid;
  GtkDropDown *turning_drop;
  GtkWidget *wanted_label;
  GtkAdjustment *wanted_adjustment;
  GtkWidget *freebie_switch;
  GtkWidget *least_label;
  SbMeasureEntry *least_entry;
  GtkWidget *greatest_label;
  SbMeasureEntry *greatest_entry;
  GtkWidget *share_label;
  GtkWidget *share_spin;
  GtkAdjustment *share_adjustment;
  SbWhatIfBox *what_if;

  SbDetailsEditing editing;
};

G_DEFINE_FINAL_TYPE (SbDetailsArranging, sb_details_arranging, GTK_TYPE_WIDGET)

static void
turning_changed_cb (SbDetailsArranging *self)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  copy->turning = (SbTurning)gtk_drop_down_get_selected (self->turning_drop);
  sb_details_editing_end (&self->editing, copy, _ ("Turning of %s"), FALSE);
}

static void
wanted_changed_cb (SbDetailsArranging *self)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  copy->wanted = (int)gtk_adjustment_get_value (self->wanted_adjustment);
  sb_details_editing_end (&self->editing, copy, _ ("Wanted of %s"), TRUE);
}

static void
freebie_changed_cb (SbDetailsArranging *self)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  copy->freebie = gtk_switch_get_active (GTK_SWITCH (self->freebie_switch));
  if (copy->freebie)
    sb_details_editing_end (&self->editing, copy, _ ("Make %s a Freebie"), FALSE);
  else
    sb_details_editing_end (&self->editing, copy, _ ("Make %s an Ordered Design"), FALSE);
}

static double
get_longer_side (const SbDesign *design)
{
  double width, height;

  sb_design_get_finished_size (design, &width, &height);
  return MAX (width, height);
}

/* A freebie that has no sizes yet comes as large as it is. */
static void
get_sizes (const SbDesign *design, double *least, double *greatest)
{
  gboolean set = design->filling.greatest_mm > 0;

  *least = set ? design->filling.least_mm : get_longer_side (design);
  *greatest = set ? design->filling.greatest_mm : get_longer_side (design);
}

static void
set_sizes (SbDetailsArranging *self, SbDesign *copy, double least, double greatest)
{
  double own = get_longer_side (copy);

  if (fabs (least - own) < SAME_MM && fabs (greatest - own) < SAME_MM)
    least = greatest = 0;
  copy->filling.least_mm = least;
  copy->filling.greatest_mm = greatest;
  sb_details_editing_end (&self->editing, copy, _ ("Sizes of %s"), FALSE);
}

static void
least_committed_cb (SbDetailsArranging *self, double mm)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);
  double least, greatest;

  if (!copy)
    return;
  get_sizes (copy, &least, &greatest);
  set_sizes (self, copy, mm, MAX (mm, greatest));
}

static void
greatest_committed_cb (SbDetailsArranging *self, double mm)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);
  double least, greatest;

  if (!copy)
    return;
  get_sizes (copy, &least, &greatest);
  set_sizes (self, copy, MIN (mm, least), mm);
}

static void
share_changed_cb (SbDetailsArranging *self)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  copy->filling.share = (int)gtk_adjustment_get_value (self->share_adjustment);
  sb_details_editing_end (&self->editing, copy, _ ("Share of %s"), TRUE);
}

static void
update_filling (SbDetailsArranging *self, SbDesign *design)
{
  gboolean shown = design->freebie && design->filling.size_of == 0;
  GtkWidget *rows[] = {self->least_label,    GTK_WIDGET (self->least_entry),
                       self->greatest_label, GTK_WIDGET (self->greatest_entry),
                       self->share_label,    self->share_spin};
  SbUnit unit = sb_desk_get_unit (self->editing.desk);
  double least, greatest;

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    gtk_widget_set_visible (rows[i], shown);
  sb_measure_entry_set_unit (self->least_entry, unit);
  sb_measure_entry_set_unit (self->greatest_entry, unit);
  get_sizes (design, &least, &greatest);
  sb_measure_entry_set_value (self->least_entry, least);
  sb_measure_entry_set_value (self->greatest_entry, greatest);
  gtk_adjustment_set_value (self->share_adjustment, design->filling.share);
}

void
sb_details_arranging_show (SbDetailsArranging *self, SbDesign *design)
{
  g_return_if_fail (SB_IS_DETAILS_ARRANGING (self));

  self->editing.design_id = design->id;
  self->editing.updating = TRUE;
  gtk_drop_down_set_selected (self->turning_drop, design->turning);
  gtk_adjustment_set_value (self->wanted_adjustment, design->wanted);
  gtk_label_set_label (GTK_LABEL (self->wanted_label),
                       design->freebie ? _ ("At most (0: as fits)") : _ ("Copies wanted"));
  gtk_switch_set_active (GTK_SWITCH (self->freebie_switch), design->freebie);
  update_filling (self, design);
  self->editing.updating = FALSE;
  sb_what_if_box_show (self->what_if, design->id);
}

static void
sb_details_arranging_dispose (GObject *object)
{
  SbDetailsArranging *self = SB_DETAILS_ARRANGING (object);

  self->editing.updating = TRUE;
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_DETAILS_ARRANGING);
  g_clear_object (&self->editing.desk);
  G_OBJECT_CLASS (sb_details_arranging_parent_class)->dispose (object);
}

static void
sb_details_arranging_class_init (SbDetailsArrangingClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_details_arranging_dispose;
  g_type_ensure (SB_TYPE_MEASURE_ENTRY);
  g_type_ensure (SB_TYPE_WHAT_IF_BOX);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/details-arranging.ui");
#define BIND(name) gtk_widget_class_bind_template_child (widget_class, SbDetailsArranging, name)
  BIND (grid);
  BIND (turning_drop);
  BIND (wanted_label);
  BIND (wanted_adjustment);
  BIND (freebie_switch);
  BIND (least_label);
  BIND (least_entry);
  BIND (greatest_label);
  BIND (greatest_entry);
  BIND (share_label);
  BIND (share_spin);
  BIND (share_adjustment);
  BIND (what_if);
#undef BIND
#define BIND(name) gtk_widget_class_bind_template_callback (widget_class, name)
  BIND (turning_changed_cb);
  BIND (wanted_changed_cb);
  BIND (freebie_changed_cb);
  BIND (least_committed_cb);
  BIND (greatest_committed_cb);
  BIND (share_changed_cb);
#undef BIND
}

static void
sb_details_arranging_init (SbDetailsArranging *self)
{
  self->editing.updating = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->editing.updating = FALSE;
  sb_measure_entry_set_range (self->least_entry, SIZE_LEAST_MM, SIZE_MOST_MM);
  sb_measure_entry_set_range (self->greatest_entry, SIZE_LEAST_MM, SIZE_MOST_MM);
}

void
sb_details_arranging_set_desk (SbDetailsArranging *self, SbDesk *desk)
{
  g_return_if_fail (SB_IS_DETAILS_ARRANGING (self));
  g_return_if_fail (self->editing.desk == NULL);

  self->editing.desk = g_object_ref (desk);
  sb_what_if_box_set_desk (self->what_if, desk);
}
