/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/canvas/finding-card.h"
#include "window/canvas/finding-plate.h"

struct _SbFindingPlate {
  GtkWidget parent_instance;

  GtkWidget *button;
  GtkWidget *icon;
  GtkWidget *label;
  GtkWidget *message; /* in the popover: the whole sentence */
};

G_DEFINE_FINAL_TYPE (SbFindingPlate, sb_finding_plate, GTK_TYPE_WIDGET)

char *
sb_finding_plate_describe (const SbFinding *finding, SbUnit unit)
{
  g_autofree char *lost = sb_length_format_fine (finding->lost_mm, unit);

  switch (finding->rule) {
  case SB_RULE_OVERLAP:
    return g_strdup (_ ("Overlaps a neighbour"));
  case SB_RULE_GAP:
    return g_strdup_printf (_ ("%s too near a neighbour"), lost);
  case SB_RULE_EDGE:
    if (finding->severity == SB_SEVERITY_STOP)
      return g_strdup_printf (_ ("Artwork crosses by %s"), lost);
    if (finding->severity == SB_SEVERITY_CAUTION)
      return g_strdup_printf (_ ("Border crosses by %s"), lost);
    return g_strdup_printf (_ ("Guide crosses by %s"), lost);
  case SB_RULE_RESOLUTION:
  case SB_RULE_ISLANDS:
  case SB_RULE_SMALL:
  case SB_RULE_NECK:
  case SB_RULE_THROUGH:
  case SB_RULE_BORDERLESS:
  case SB_RULE_MARGINS:
  case SB_RULE_LAID:
  case SB_RULE_RIM:
  case SB_RULE_FOLD:
  case SB_RULE_ZONE:
  case SB_RULE_HOLE:
  case SB_RULE_UPSIDE_DOWN:
  case SB_RULE_WEIGHT:
  case SB_RULE_TEST_CORNER:
  default:
    return g_strdup (finding->message);
  }
}

static void
mend_cb (SbFindingPlate *self)
{
  gtk_menu_button_popdown (GTK_MENU_BUTTON (self->button));
  gtk_widget_activate_action (GTK_WIDGET (self), "pieces.move-inside", NULL);
}

static GtkWidget *
make_popover (SbFindingPlate *self)
{
  GtkWidget *popover = gtk_popover_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *mend = gtk_button_new_with_mnemonic (_ ("_Move Inside"));

  self->message = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->message), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (self->message), 34);
  gtk_label_set_xalign (GTK_LABEL (self->message), 0);
  g_signal_connect_swapped (mend, "clicked", G_CALLBACK (mend_cb), self);
  gtk_box_append (GTK_BOX (box), self->message);
  gtk_box_append (GTK_BOX (box), mend);
  gtk_widget_add_css_class (box, "finding-mend");
  gtk_popover_set_child (GTK_POPOVER (popover), box);
  return popover;
}

static void
sb_finding_plate_dispose (GObject *object)
{
  g_clear_pointer (&SB_FINDING_PLATE (object)->button, gtk_widget_unparent);
  G_OBJECT_CLASS (sb_finding_plate_parent_class)->dispose (object);
}

static void
sb_finding_plate_class_init (SbFindingPlateClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_finding_plate_dispose;
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "findingplate");
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
sb_finding_plate_init (SbFindingPlate *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->icon = gtk_image_new ();
  self->label = gtk_label_new (NULL);
  gtk_box_append (GTK_BOX (box), self->icon);
  gtk_box_append (GTK_BOX (box), self->label);
  gtk_box_append (GTK_BOX (box), gtk_image_new_from_icon_name ("pan-down-symbolic"));
  self->button = gtk_menu_button_new ();
  gtk_menu_button_set_child (GTK_MENU_BUTTON (self->button), box);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (self->button), make_popover (self));
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
sb_finding_plate_new (void)
{
  return g_object_new (SB_TYPE_FINDING_PLATE, NULL);
}

void
sb_finding_plate_set_finding (SbFindingPlate *self, const SbFinding *finding, SbUnit unit)
{
  gtk_widget_set_visible (GTK_WIDGET (self), finding != NULL);
  if (!finding)
    return;
  g_autofree char *text = sb_finding_plate_describe (finding, unit);
  gtk_image_set_from_icon_name (GTK_IMAGE (self->icon), sb_severity_get_icon (finding->severity));
  gtk_label_set_label (GTK_LABEL (self->label), text);
  gtk_label_set_label (GTK_LABEL (self->message), finding->message);
  g_autofree char *name =
      g_strdup_printf ("%s: %s", sb_severity_get_word (finding->severity), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  name, -1);
}
