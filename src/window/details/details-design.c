/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/details/details-arranging.h"
#include "window/details/details-border.h"
#include "window/details/details-design.h"
#include "window/details/details-editing.h"
#include "window/parts/measure-entry.h"

#define GUIDE_LEAST_PT 0.25
#define GUIDE_MOST_PT 2.0

struct _SbDetailsDesign {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box;
  GtkWidget *name_entry;
  SbMeasureEntry *width_entry;
  SbMeasureEntry *height_entry;
  GtkWidget *size_label;
  GtkWidget *clean_button;
  SbDetailsBorder *border;
  GtkDropDown *guide_drop;
  SbMeasureEntry *line_entry;
  SbDetailsArranging *arranging;

  SbDetailsEditing editing;
};

G_DEFINE_FINAL_TYPE (SbDetailsDesign, sb_details_design, GTK_TYPE_WIDGET)

/* --- From the controls to the design --- */

static void
take_name (SbDetailsDesign *self)
{
  g_autofree char *name =
      g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->name_entry))));
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  if (!*name || g_str_equal (name, copy->name)) {
    gtk_editable_set_text (GTK_EDITABLE (self->name_entry), copy->name);
    sb_design_unref (copy);
    return;
  }
  sb_design_set_name (copy, name);
  sb_details_editing_end (&self->editing, copy, _ ("Rename to %s"), FALSE);
}

static void
name_activate_cb (SbDetailsDesign *self)
{
  take_name (self);
}

static void
resize (SbDetailsDesign *self, gboolean by_width, double mm)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  double scale = mm / (by_width ? copy->width_mm : copy->height_mm);
  sb_design_set_size (copy, copy->width_mm * scale, copy->height_mm * scale);
  sb_details_editing_end (&self->editing, copy, _ ("Resize %s"), FALSE);
}

static void
width_committed_cb (SbDetailsDesign *self, double mm)
{
  resize (self, TRUE, mm);
}

static void
height_committed_cb (SbDetailsDesign *self, double mm)
{
  resize (self, FALSE, mm);
}

static void
guide_changed_cb (SbDetailsDesign *self)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  copy->guide = sb_guide_for_style ((SbGuideStyle)gtk_drop_down_get_selected (self->guide_drop));
  sb_details_editing_end (&self->editing, copy, _ ("Cut Guide of %s"), FALSE);
}

static void
line_committed_cb (SbDetailsDesign *self, double mm)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  copy->guide.line_pt = CLAMP (mm / SB_MM_PER_PT, GUIDE_LEAST_PT, GUIDE_MOST_PT);
  sb_details_editing_end (&self->editing, copy, _ ("Guide Line of %s"), FALSE);
}

/* --- From the design to the controls --- */

static void
update_size (SbDetailsDesign *self, SbDesign *design)
{
  SbUnit unit = sb_desk_get_unit (self->editing.desk);
  double width, height;

  sb_design_get_finished_size (design, &width, &height);
  g_autofree char *size = sb_length_format_size (width, height, unit);
  int dpi = sb_picture_get_dpi_at (design->picture, design->width_mm, design->height_mm);
  g_autofree char *text = NULL;
  if (dpi == 0)
    text =
        g_strdup_printf (_ ("Finished size %s with the border. Vector: sharp at any size."), size);
  else if (sb_design_get_steps (design) > 0)
    text = g_strdup_printf (_ ("Finished size %s with the border. %d × %d px with hard edges: "
                               "sizes come in whole steps, %d px to the inch."),
                            size, sb_picture_get_width (design->picture),
                            sb_picture_get_height (design->picture), dpi);
  else if (sb_design_is_coarse (design))
    text = g_strdup_printf (
        _ ("Finished size %s with the border. %d × %d px: only %d dpi at this size."), size,
        sb_picture_get_width (design->picture), sb_picture_get_height (design->picture), dpi);
  else
    text = g_strdup_printf (
        _ ("Finished size %s with the border. %d × %d px: %d dpi at this size."), size,
        sb_picture_get_width (design->picture), sb_picture_get_height (design->picture), dpi);
  gtk_label_set_label (GTK_LABEL (self->size_label), text);
}

static void
update_units (SbDetailsDesign *self)
{
  SbUnit unit = sb_desk_get_unit (self->editing.desk);

  sb_measure_entry_set_unit (self->width_entry, unit);
  sb_measure_entry_set_unit (self->height_entry, unit);
  sb_measure_entry_set_unit (self->line_entry, SB_UNIT_PT);
}

static void
update_name (SbDetailsDesign *self, SbDesign *design, gboolean other)
{
  /* It may be filled before it stands in its window. */
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root ? gtk_root_get_focus (root) : NULL;
  gboolean typing = focus && gtk_widget_is_ancestor (focus, self->name_entry);

  if (other || !typing)
    gtk_editable_set_text (GTK_EDITABLE (self->name_entry), design->name);
}

static void
update_rest (SbDetailsDesign *self, SbDesign *design)
{
  gtk_widget_set_visible (self->clean_button,
                          sb_picture_get_kind (design->picture) == SB_PICTURE_BITMAP);
  gtk_drop_down_set_selected (self->guide_drop, design->guide.style);
  sb_measure_entry_set_value (self->line_entry, design->guide.line_pt * SB_MM_PER_PT);
  gtk_widget_set_sensitive (GTK_WIDGET (self->line_entry), design->guide.style != SB_GUIDE_OFF);
}

void
sb_details_design_show (SbDetailsDesign *self, SbDesign *design)
{
  g_return_if_fail (SB_IS_DETAILS_DESIGN (self));

  gboolean other = !design || design->id != self->editing.design_id;
  /* A name that was typed for the one before still counts. */
  if (other && self->editing.design_id && !self->editing.updating)
    take_name (self);
  self->editing.design_id = design ? design->id : 0;
  sb_details_border_show (self->border, design);
  if (!design)
    return;
  self->editing.updating = TRUE;
  update_units (self);
  update_name (self, design, other);
  sb_measure_entry_set_value (self->width_entry, design->width_mm);
  sb_measure_entry_set_value (self->height_entry, design->height_mm);
  update_size (self, design);
  update_rest (self, design);
  self->editing.updating = FALSE;
  sb_details_arranging_show (self->arranging, design);
}

static void
sb_details_design_dispose (GObject *object)
{
  SbDetailsDesign *self = SB_DETAILS_DESIGN (object);

  self->editing.updating = TRUE;
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_DETAILS_DESIGN);
  g_clear_object (&self->editing.desk);
  G_OBJECT_CLASS (sb_details_design_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
#define BIND(name) gtk_widget_class_bind_template_child (widget_class, SbDetailsDesign, name)
  BIND (box);
  BIND (name_entry);
  BIND (width_entry);
  BIND (height_entry);
  BIND (size_label);
  BIND (clean_button);
  BIND (border);
  BIND (guide_drop);
  BIND (line_entry);
  BIND (arranging);
#undef BIND
}

static void
bind_callbacks (GtkWidgetClass *widget_class)
{
#define BIND(name) gtk_widget_class_bind_template_callback (widget_class, name)
  BIND (name_activate_cb);
  BIND (width_committed_cb);
  BIND (height_committed_cb);
  BIND (guide_changed_cb);
  BIND (line_committed_cb);
#undef BIND
}

static void
sb_details_design_class_init (SbDetailsDesignClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_details_design_dispose;
  g_type_ensure (SB_TYPE_MEASURE_ENTRY);
  g_type_ensure (SB_TYPE_DETAILS_BORDER);
  g_type_ensure (SB_TYPE_DETAILS_ARRANGING);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/details-design.ui");
  bind_children (widget_class);
  bind_callbacks (widget_class);
}

static void
sb_details_design_init (SbDetailsDesign *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->editing.updating = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->editing.updating = FALSE;
  sb_measure_entry_set_range (self->line_entry, GUIDE_LEAST_PT * SB_MM_PER_PT,
                              GUIDE_MOST_PT * SB_MM_PER_PT);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (take_name), self);
  gtk_widget_add_controller (self->name_entry, focus);
}

void
sb_details_design_set_desk (SbDetailsDesign *self, SbDesk *desk)
{
  g_return_if_fail (SB_IS_DETAILS_DESIGN (self));
  g_return_if_fail (self->editing.desk == NULL);

  self->editing.desk = g_object_ref (desk);
  sb_details_border_set_desk (self->border, desk);
  sb_details_arranging_set_desk (self->arranging, desk);
}
