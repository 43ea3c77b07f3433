/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/details/details-border.h"
#include "window/details/details-editing.h"
#include "window/details/details-outline.h"
#include "window/parts/measure-entry.h"

/* What tools can follow: inward bends, small scissors and craft knife (handbook 4.2). */
#define SCISSORS_NOOK_MM 3.0
#define KNIFE_NOOK_MM 1.0
#define NECK_LEAST_MM 4.0

struct _SbDetailsBorder {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *grid;
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

  SbDetailsEditing editing;
  SbDesign *shown; /* or NULL */
  char *failed;    /* why the last settings of `shown` could not be, or NULL */
};

G_DEFINE_FINAL_TYPE (SbDetailsBorder, sb_details_border, GTK_TYPE_WIDGET)

/* --- From the controls to the design --- */

/* `offset`: of a double in SbBorderParams. */
static void
set_length (SbDetailsBorder *self, gsize offset, double mm, const char *format, gboolean live)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  SbBorderParams border = copy->border;
  G_STRUCT_MEMBER (double, &border, offset) = mm;
  sb_design_set_border (copy, &border);
  sb_details_editing_end (&self->editing, copy, format, live);
}

/* `offset`: of a gboolean in SbBorderParams. */
static void
set_flag (SbDetailsBorder *self, gsize offset, GtkWidget *check, const char *format)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  SbBorderParams border = copy->border;
  G_STRUCT_MEMBER (gboolean, &border, offset) =
      gtk_check_button_get_active (GTK_CHECK_BUTTON (check));
  sb_design_set_border (copy, &border);
  sb_details_editing_end (&self->editing, copy, format, FALSE);
}

#define OFFSET(field) G_STRUCT_OFFSET (SbBorderParams, field)

static void
border_committed_cb (SbDetailsBorder *self, double mm)
{
  set_length (self, OFFSET (width_mm), mm, _ ("Border Width of %s"), FALSE);
}

static void
border_moved_cb (SbDetailsBorder *self)
{
  set_length (self, OFFSET (width_mm), gtk_adjustment_get_value (self->border_adjustment),
              _ ("Border Width of %s"), TRUE);
}

static void
nook_committed_cb (SbDetailsBorder *self, double mm)
{
  set_length (self, OFFSET (nook_mm), mm, _ ("Nook Radius of %s"), FALSE);
}

static void
nook_moved_cb (SbDetailsBorder *self)
{
  set_length (self, OFFSET (nook_mm), gtk_adjustment_get_value (self->nook_adjustment),
              _ ("Nook Radius of %s"), TRUE);
}

static void
spike_committed_cb (SbDetailsBorder *self, double mm)
{
  set_length (self, OFFSET (spike_mm), mm, _ ("Round Points of %s"), FALSE);
}

static void
corner_committed_cb (SbDetailsBorder *self, double mm)
{
  set_length (self, OFFSET (corner_mm), mm, _ ("Corner Radius of %s"), FALSE);
}

static void
holes_toggled_cb (SbDetailsBorder *self)
{
  set_flag (self, OFFSET (keep_holes), self->holes_check, _ ("Holes of %s"));
}

static void
bridge_toggled_cb (SbDetailsBorder *self)
{
  set_flag (self, OFFSET (bridge), self->bridge_check, _ ("Join Parts of %s"));
}

static void
shape_changed_cb (SbDetailsBorder *self)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  SbBorderParams border = copy->border;
  border.shape = (SbBorderShape)gtk_drop_down_get_selected (self->shape_drop);
  sb_design_set_border (copy, &border);
  sb_details_editing_end (&self->editing, copy, _ ("Border Shape of %s"), FALSE);
}

static void
speck_committed_cb (SbDetailsBorder *self, double mm)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  SbSilhouetteParams params = copy->silhouette_params;
  params.speck_mm = mm;
  sb_design_set_silhouette_params (copy, &params);
  sb_details_editing_end (&self->editing, copy, _ ("Drop Specks of %s"), FALSE);
}

static void
paper_changed_cb (SbDetailsBorder *self)
{
  SbDesign *copy = sb_details_editing_begin (&self->editing);

  if (!copy)
    return;
  SbCleanup recipe = copy->cleanup;
  recipe.tolerance = gtk_adjustment_get_value (self->paper_adjustment);
  sb_design_set_cleanup (copy, &recipe);
  sb_details_editing_end (&self->editing, copy, _ ("Paper Tone of %s"), TRUE);
}

/* --- From the design to the controls --- */

/* What a hand with a tool will find wrong with the outline, the worst first; NULL when nothing. */
static char *
dup_caution (SbDetailsBorder *self, SbDesign *design)
{
  guint islands = design->growth ? sb_growth_get_n_islands (design->growth) : 1;
  double neck = design->growth ? sb_growth_get_neck_mm (design->growth, NULL) : G_MAXDOUBLE;
  gboolean grown = design->border.shape == SB_BORDER_GROWN;

  if (self->failed)
    return g_strdup (self->failed);
  if (islands > 1)
    return g_strdup_printf (ngettext ("It falls into %u part. A wider border joins them.",
                                      "It falls into %u parts. A wider border joins them.",
                                      islands),
                            islands);
  if (grown && design->border.nook_mm < KNIFE_NOOK_MM)
    return g_strdup (_ ("Bends may be too tight even for a craft knife."));
  if (grown && design->border.nook_mm < SCISSORS_NOOK_MM)
    return g_strdup (_ ("A craft knife can follow every bend; scissors may not."));
  if (neck < NECK_LEAST_MM) {
    g_autofree char *length = sb_length_format (neck, sb_desk_get_unit (self->editing.desk));
    return g_strdup_printf (_ ("A part is only %s thin and may tear."), length);
  }
  return NULL;
}

static char *
dup_fine (SbDetailsBorder *self, SbDesign *design)
{
  double bridged = design->growth ? sb_growth_get_bridge_mm (design->growth) : 0;

  if (bridged == 0)
    return g_strdup (_ ("✓ Scissors can follow every bend."));
  g_autofree char *length = sb_length_format (bridged, sb_desk_get_unit (self->editing.desk));
  return g_strdup_printf (_ ("The border grew %s wider to join the parts."), length);
}

static void
update_bends (SbDetailsBorder *self, SbDesign *design)
{
  g_autofree char *caution = dup_caution (self, design);
  g_autofree char *fine = caution ? NULL : dup_fine (self, design);

  gtk_label_set_label (GTK_LABEL (self->bends_label), caution ? caution : fine);
  gtk_widget_set_css_classes (self->bends_label,
                              (const char *[]){caution ? "warning-text" : "fine", NULL});
}

static void
update_units (SbDetailsBorder *self)
{
  SbMeasureEntry *lengths[] = {self->border_entry, self->nook_entry, self->spike_entry,
                               self->corner_entry, self->speck_entry};

  for (guint i = 0; i < G_N_ELEMENTS (lengths); i++)
    sb_measure_entry_set_unit (lengths[i], sb_desk_get_unit (self->editing.desk));
}

static void
update_border (SbDetailsBorder *self, const SbBorderParams *border)
{
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
update_artwork (SbDetailsBorder *self, SbDesign *design)
{
  gboolean scan = design->cleanup.remove_paper || !sb_picture_has_alpha (design->picture);

  sb_measure_entry_set_value (self->speck_entry, design->silhouette_params.speck_mm);
  gtk_adjustment_set_value (self->paper_adjustment, design->cleanup.tolerance);
  gtk_widget_set_visible (self->paper_label, scan);
  gtk_widget_set_visible (self->paper_spin, scan);
}

void
sb_details_border_show (SbDetailsBorder *self, SbDesign *design)
{
  g_return_if_fail (SB_IS_DETAILS_BORDER (self));

  if (design != self->shown) {
    g_clear_pointer (&self->failed, g_free);
    g_clear_pointer (&self->shown, sb_design_unref);
    self->shown = design ? sb_design_ref (design) : NULL;
  }
  self->editing.design_id = design ? design->id : 0;
  if (!design)
    return;
  self->editing.updating = TRUE;
  update_units (self);
  update_border (self, &design->border);
  update_bends (self, design);
  update_artwork (self, design);
  sb_details_outline_show (self->outline, design);
  self->editing.updating = FALSE;
}

static void
failed_cb (SbDetailsBorder *self, const char *reason)
{
  SbDesign *design =
      sb_state_get_design (sb_desk_get_state (self->editing.desk), self->editing.design_id);

  if (!design)
    return;
  sb_details_border_show (self, design);
  g_free (self->failed);
  self->failed = g_strdup (reason);
  update_bends (self, design);
}

/* --- Widget --- */

static void
sb_details_border_dispose (GObject *object)
{
  SbDetailsBorder *self = SB_DETAILS_BORDER (object);

  self->editing.updating = TRUE;
  if (self->editing.desk)
    g_signal_handlers_disconnect_by_data (sb_desk_get_changer (self->editing.desk), self);
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_DETAILS_BORDER);
  g_clear_object (&self->editing.desk);
  g_clear_pointer (&self->shown, sb_design_unref);
  g_clear_pointer (&self->failed, g_free);
  G_OBJECT_CLASS (sb_details_border_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
#define BIND(name) gtk_widget_class_bind_template_child (widget_class, SbDetailsBorder, name)
  BIND (grid);
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
#undef BIND
}

static void
bind_callbacks (GtkWidgetClass *widget_class)
{
#define BIND(name) gtk_widget_class_bind_template_callback (widget_class, name)
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
#undef BIND
}

static void
sb_details_border_class_init (SbDetailsBorderClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_details_border_dispose;
  g_type_ensure (SB_TYPE_MEASURE_ENTRY);
  g_type_ensure (SB_TYPE_DETAILS_OUTLINE);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/details-border.ui");
  bind_children (widget_class);
  bind_callbacks (widget_class);
}

static void
sb_details_border_init (SbDetailsBorder *self)
{
  self->editing.updating = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->editing.updating = FALSE;
}

void
sb_details_border_set_desk (SbDetailsBorder *self, SbDesk *desk)
{
  g_return_if_fail (SB_IS_DETAILS_BORDER (self));
  g_return_if_fail (self->editing.desk == NULL);

  self->editing.desk = g_object_ref (desk);
  g_signal_connect_swapped (sb_desk_get_changer (desk), "failed", G_CALLBACK (failed_cb), self);
  sb_details_outline_set_desk (self->outline, desk);
}
