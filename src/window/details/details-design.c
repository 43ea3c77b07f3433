/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/details/details-arranging.h"
#include "window/details/details-design.h"
#include "window/details/details-outline.h"
#include "window/parts/measure-entry.h"

/* What tools can follow: inward bends, small scissors and craft knife (handbook 4.2). */
#define SCISSORS_NOOK_MM 3.0
#define KNIFE_NOOK_MM 1.0
#define NECK_LEAST_MM 4.0
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
  GtkDropDown *shape_drop;
  SbMeasureEntry *border_entry;
  GtkAdjustment *border_adjustment;
  GtkWidget *nook_label;
  SbMeasureEntry *nook_entry;
  GtkWidget *nook_scale;
  GtkAdjustment *nook_adjustment;
  GtkWidget *bends_label;
  SbMeasureEntry *spike_entry;
  SbMeasureEntry *corner_entry;
  SbMeasureEntry *speck_entry;
  GtkWidget *paper_label;
  GtkWidget *paper_spin;
  GtkAdjustment *paper_adjustment;
  GtkWidget *holes_check;
  GtkWidget *bridge_check;
  SbDetailsOutline *outline;
  GtkDropDown *guide_drop;
  SbMeasureEntry *line_entry;
  SbDetailsArranging *arranging;

  /* owned */
  SbDesk *desk;
  SbDesignChanger *changer; /* the desk's */
  char *failed;             /* why the last settings could not be, or NULL */

  guint design_id;
  gboolean updating; /* controls are set by the program */
};

G_DEFINE_FINAL_TYPE (SbDetailsDesign, sb_details_design, GTK_TYPE_WIDGET)

/* --- From the controls to the design --- */

static SbDesign *
begin (SbDetailsDesign *self)
{
  return self->updating || !self->desk ? NULL
                                       : sb_design_changer_begin (self->changer, self->design_id);
}

static void
end (SbDetailsDesign *self, SbDesign *copy, const char *format, gboolean live)
{
  g_clear_pointer (&self->failed, g_free);
  sb_design_changer_end (self->changer, copy, format, live);
}

static void
take_name (SbDetailsDesign *self)
{
  g_autofree char *name =
      g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->name_entry))));
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  if (!*name || g_str_equal (name, copy->name)) {
    gtk_editable_set_text (GTK_EDITABLE (self->name_entry), copy->name);
    sb_design_unref (copy);
    return;
  }
  sb_design_set_name (copy, name);
  sb_design_changer_end (self->changer, copy, _ ("Rename to %s"), FALSE);
}

static void
name_activate_cb (SbDetailsDesign *self)
{
  take_name (self);
}

static void
resize (SbDetailsDesign *self, gboolean by_width, double mm)
{
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  double scale = mm / (by_width ? copy->width_mm : copy->height_mm);
  sb_design_set_size (copy, copy->width_mm * scale, copy->height_mm * scale);
  end (self, copy, _ ("Resize %s"), FALSE);
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
set_border_width (SbDetailsDesign *self, double mm, gboolean live)
{
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  SbBorderParams border = copy->border;
  border.width_mm = mm;
  sb_design_set_border (copy, &border);
  end (self, copy, _ ("Border Width of %s"), live);
}

static void
border_committed_cb (SbDetailsDesign *self, double mm)
{
  set_border_width (self, mm, FALSE);
}

static void
border_moved_cb (SbDetailsDesign *self)
{
  set_border_width (self, gtk_adjustment_get_value (self->border_adjustment), TRUE);
}

static void
set_nook (SbDetailsDesign *self, double mm, gboolean live)
{
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  SbBorderParams border = copy->border;
  border.nook_mm = mm;
  sb_design_set_border (copy, &border);
  end (self, copy, _ ("Nook Radius of %s"), live);
}

static void
nook_committed_cb (SbDetailsDesign *self, double mm)
{
  set_nook (self, mm, FALSE);
}

static void
nook_moved_cb (SbDetailsDesign *self)
{
  set_nook (self, gtk_adjustment_get_value (self->nook_adjustment), TRUE);
}

static void
shape_changed_cb (SbDetailsDesign *self)
{
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  SbBorderParams border = copy->border;
  border.shape = (SbBorderShape)gtk_drop_down_get_selected (self->shape_drop);
  sb_design_set_border (copy, &border);
  end (self, copy, _ ("Border Shape of %s"), FALSE);
}

static void
spike_committed_cb (SbDetailsDesign *self, double mm)
{
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  SbBorderParams border = copy->border;
  border.spike_mm = mm;
  sb_design_set_border (copy, &border);
  end (self, copy, _ ("Round Points of %s"), FALSE);
}

static void
corner_committed_cb (SbDetailsDesign *self, double mm)
{
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  SbBorderParams border = copy->border;
  border.corner_mm = mm;
  sb_design_set_border (copy, &border);
  end (self, copy, _ ("Corner Radius of %s"), FALSE);
}

static void
holes_toggled_cb (SbDetailsDesign *self)
{
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  SbBorderParams border = copy->border;
  border.keep_holes = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->holes_check));
  sb_design_set_border (copy, &border);
  end (self, copy, _ ("Holes of %s"), FALSE);
}

static void
bridge_toggled_cb (SbDetailsDesign *self)
{
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  SbBorderParams border = copy->border;
  border.bridge = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->bridge_check));
  sb_design_set_border (copy, &border);
  end (self, copy, _ ("Join Parts of %s"), FALSE);
}

static void
speck_committed_cb (SbDetailsDesign *self, double mm)
{
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  SbSilhouetteParams params = copy->silhouette_params;
  params.speck_mm = mm;
  sb_design_set_silhouette_params (copy, &params);
  end (self, copy, _ ("Drop Specks of %s"), FALSE);
}

static void
paper_changed_cb (SbDetailsDesign *self)
{
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  SbCleanup recipe = copy->cleanup;
  recipe.tolerance = gtk_adjustment_get_value (self->paper_adjustment);
  sb_design_set_cleanup (copy, &recipe);
  end (self, copy, _ ("Paper Tone of %s"), TRUE);
}

static void
guide_changed_cb (SbDetailsDesign *self)
{
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  copy->guide = sb_guide_for_style ((SbGuideStyle)gtk_drop_down_get_selected (self->guide_drop));
  end (self, copy, _ ("Cut Guide of %s"), FALSE);
}

static void
line_committed_cb (SbDetailsDesign *self, double mm)
{
  SbDesign *copy = begin (self);

  if (!copy)
    return;
  copy->guide.line_pt = CLAMP (mm / SB_MM_PER_PT, GUIDE_LEAST_PT, GUIDE_MOST_PT);
  end (self, copy, _ ("Guide Line of %s"), FALSE);
}

/* --- From the design to the controls --- */

static void
update_size (SbDetailsDesign *self, SbDesign *design)
{
  SbUnit unit = sb_desk_get_unit (self->desk);
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

/* What a hand with a tool makes of the outline; the worst comes first. */
static void
update_bends (SbDetailsDesign *self, SbDesign *design)
{
  guint islands = design->growth ? sb_growth_get_n_islands (design->growth) : 1;
  double neck = design->growth ? sb_growth_get_neck_mm (design->growth, NULL) : G_MAXDOUBLE;
  double bridged = design->growth ? sb_growth_get_bridge_mm (design->growth) : 0;
  g_autofree char *text = NULL;
  gboolean fine = FALSE;

  if (self->failed) {
    text = g_strdup (self->failed);
  } else if (islands > 1) {
    text =
        g_strdup_printf (ngettext ("It falls into %u part. A wider border joins them.",
                                   "It falls into %u parts. A wider border joins them.", islands),
                         islands);
  } else if (design->border.shape == SB_BORDER_GROWN && design->border.nook_mm < KNIFE_NOOK_MM) {
    text = g_strdup (_ ("Bends may be too tight even for a craft knife."));
  } else if (design->border.shape == SB_BORDER_GROWN && design->border.nook_mm < SCISSORS_NOOK_MM) {
    text = g_strdup (_ ("A craft knife can follow every bend; scissors may not."));
  } else if (neck < NECK_LEAST_MM) {
    g_autofree char *length = sb_length_format (neck, sb_desk_get_unit (self->desk));
    text = g_strdup_printf (_ ("A part is only %s thin and may tear."), length);
  } else if (bridged > 0) {
    g_autofree char *length = sb_length_format (bridged, sb_desk_get_unit (self->desk));
    text = g_strdup_printf (_ ("The border grew %s wider to join the parts."), length);
    fine = TRUE;
  } else {
    text = g_strdup (_ ("✓ Scissors can follow every bend."));
    fine = TRUE;
  }
  gtk_label_set_label (GTK_LABEL (self->bends_label), text);
  gtk_widget_set_css_classes (self->bends_label,
                              (const char *[]){fine ? "fine" : "warning-text", NULL});
}

static void
update_units (SbDetailsDesign *self)
{
  SbUnit unit = sb_desk_get_unit (self->desk);
  SbMeasureEntry *lengths[] = {self->width_entry, self->height_entry, self->border_entry,
                               self->nook_entry,  self->spike_entry,  self->corner_entry,
                               self->speck_entry};

  for (guint i = 0; i < G_N_ELEMENTS (lengths); i++)
    sb_measure_entry_set_unit (lengths[i], unit);
  sb_measure_entry_set_unit (self->line_entry, SB_UNIT_PT);
}

static void
update_name (SbDetailsDesign *self, SbDesign *design, gboolean other)
{
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));
  gboolean typing = focus && gtk_widget_is_ancestor (focus, self->name_entry);

  if (other || !typing)
    gtk_editable_set_text (GTK_EDITABLE (self->name_entry), design->name);
}

static void
update_border (SbDetailsDesign *self, SbDesign *design)
{
  const SbBorderParams *border = &design->border;
  gboolean grown = border->shape == SB_BORDER_GROWN;

  gtk_drop_down_set_selected (self->shape_drop, border->shape);
  sb_measure_entry_set_value (self->border_entry, border->width_mm);
  gtk_adjustment_set_value (self->border_adjustment, border->width_mm);
  sb_measure_entry_set_value (self->nook_entry, border->nook_mm);
  gtk_adjustment_set_value (self->nook_adjustment, border->nook_mm);
  gtk_widget_set_sensitive (self->nook_label, grown);
  gtk_widget_set_sensitive (GTK_WIDGET (self->nook_entry), grown);
  gtk_widget_set_sensitive (self->nook_scale, grown);
  sb_measure_entry_set_value (self->spike_entry, border->spike_mm);
  sb_measure_entry_set_value (self->corner_entry, border->corner_mm);
  gtk_widget_set_sensitive (GTK_WIDGET (self->corner_entry), border->shape == SB_BORDER_BOX);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->holes_check), border->keep_holes);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->bridge_check), border->bridge);
}

static void
update_rest (SbDetailsDesign *self, SbDesign *design)
{
  gboolean scan = design->cleanup.remove_paper || !sb_picture_has_alpha (design->picture);

  gtk_widget_set_visible (self->clean_button,
                          sb_picture_get_kind (design->picture) == SB_PICTURE_BITMAP);
  sb_measure_entry_set_value (self->speck_entry, design->silhouette_params.speck_mm);
  gtk_adjustment_set_value (self->paper_adjustment, design->cleanup.tolerance);
  gtk_widget_set_visible (self->paper_label, scan);
  gtk_widget_set_visible (self->paper_spin, scan);
  gtk_drop_down_set_selected (self->guide_drop, design->guide.style);
  sb_measure_entry_set_value (self->line_entry, design->guide.line_pt * SB_MM_PER_PT);
  gtk_widget_set_sensitive (GTK_WIDGET (self->line_entry), design->guide.style != SB_GUIDE_OFF);
}

void
sb_details_design_show (SbDetailsDesign *self, SbDesign *design)
{
  g_return_if_fail (SB_IS_DETAILS_DESIGN (self));

  gboolean other = !design || design->id != self->design_id;
  if (other && self->design_id && !self->updating) {
    /* A name that was typed for the one before still counts. */
    take_name (self);
    g_clear_pointer (&self->failed, g_free);
  }
  self->design_id = design ? design->id : 0;
  if (!design)
    return;
  self->updating = TRUE;
  update_units (self);
  update_name (self, design, other);
  sb_measure_entry_set_value (self->width_entry, design->width_mm);
  sb_measure_entry_set_value (self->height_entry, design->height_mm);
  update_size (self, design);
  update_border (self, design);
  update_bends (self, design);
  update_rest (self, design);
  sb_details_outline_show (self->outline, design);
  self->updating = FALSE;
  sb_details_arranging_show (self->arranging, design);
}

static void
failed_cb (SbDetailsDesign *self, const char *reason)
{
  SbDesign *design = sb_state_get_design (sb_desk_get_state (self->desk), self->design_id);

  self->failed = g_strdup (reason);
  if (design)
    sb_details_design_show (self, design);
}

static void
sb_details_design_dispose (GObject *object)
{
  SbDetailsDesign *self = SB_DETAILS_DESIGN (object);

  self->updating = TRUE;
  if (self->changer)
    g_signal_handlers_disconnect_by_data (self->changer, self);
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_DETAILS_DESIGN);
  g_clear_object (&self->changer);
  g_clear_object (&self->desk);
  g_clear_pointer (&self->failed, g_free);
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
  BIND (shape_drop);
  BIND (border_entry);
  BIND (border_adjustment);
  BIND (nook_label);
  BIND (nook_entry);
  BIND (nook_scale);
  BIND (nook_adjustment);
  BIND (bends_label);
  BIND (spike_entry);
  BIND (corner_entry);
  BIND (speck_entry);
  BIND (paper_label);
  BIND (paper_spin);
  BIND (paper_adjustment);
  BIND (holes_check);
  BIND (bridge_check);
  BIND (outline);
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
  BIND (shape_changed_cb);
  BIND (border_committed_cb);
  BIND (border_moved_cb);
  BIND (nook_committed_cb);
  BIND (nook_moved_cb);
  BIND (spike_committed_cb);
  BIND (corner_committed_cb);
  BIND (speck_committed_cb);
  BIND (paper_changed_cb);
  BIND (holes_toggled_cb);
  BIND (bridge_toggled_cb);
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
  g_type_ensure (SB_TYPE_DETAILS_OUTLINE);
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

  self->updating = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->updating = FALSE;
  sb_measure_entry_set_range (self->line_entry, GUIDE_LEAST_PT * SB_MM_PER_PT,
                              GUIDE_MOST_PT * SB_MM_PER_PT);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (take_name), self);
  gtk_widget_add_controller (self->name_entry, focus);
}

void
sb_details_design_set_desk (SbDetailsDesign *self, SbDesk *desk)
{
  g_return_if_fail (SB_IS_DETAILS_DESIGN (self));
  g_return_if_fail (self->desk == NULL);

  self->desk = g_object_ref (desk);
  self->changer = g_object_ref (sb_desk_get_changer (desk));
  sb_details_arranging_set_desk (self->arranging, desk);
  g_signal_connect_swapped (self->changer, "failed", G_CALLBACK (failed_cb), self);
  sb_details_outline_set_desk (self->outline, desk);
}
