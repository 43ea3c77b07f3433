/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/shell/job-buttons.h"

struct _SbJobButtons {
  GtkBox parent_instance;

  GtkWidget *undo_button;
  GtkWidget *redo_button;
  GtkWidget *badge_label;

  SbDesk *desk;
};

G_DEFINE_FINAL_TYPE (SbJobButtons, sb_job_buttons, GTK_TYPE_BOX)

static void
update_badge (SbJobButtons *self)
{
  SbChecker *checker = sb_desk_get_checker (self->desk);
  guint stops = sb_checker_count (checker, SB_SEVERITY_STOP);
  guint cautions = sb_checker_count (checker, SB_SEVERITY_CAUTION);
  g_autofree char *number = g_strdup_printf ("%u", stops ? stops : cautions);
  g_autofree char *told = NULL;

  if (stops)
    told = g_strdup_printf (ngettext ("%u stop", "%u stops", stops), stops);
  else
    told = g_strdup_printf (ngettext ("%u caution", "%u cautions", cautions), cautions);
  gtk_widget_set_visible (self->badge_label, stops + cautions > 0);
  gtk_label_set_label (GTK_LABEL (self->badge_label), number);
  gtk_widget_set_tooltip_text (self->badge_label, told);
  if (stops)
    gtk_widget_add_css_class (self->badge_label, "stop");
  else
    gtk_widget_remove_css_class (self->badge_label, "stop");
}

static void
update_history (SbJobButtons *self)
{
  SbJob *job = sb_desk_get_job (self->desk);
  const char *undo = sb_job_get_undo_name (job), *redo = sb_job_get_redo_name (job);
  g_autofree char *undo_tip =
      undo ? g_strdup_printf (_ ("Undo “%s” (Ctrl+Z)"), undo) : g_strdup (_ ("Nothing to undo"));
  g_autofree char *redo_tip = redo ? g_strdup_printf (_ ("Redo “%s” (Shift+Ctrl+Z)"), redo)
                                   : g_strdup (_ ("Nothing to redo"));

  gtk_widget_set_tooltip_text (self->undo_button, undo_tip);
  gtk_widget_set_tooltip_text (self->redo_button, redo_tip);
}

static void
sb_job_buttons_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), SB_TYPE_JOB_BUTTONS);
  g_clear_object (&SB_JOB_BUTTONS (object)->desk);
  G_OBJECT_CLASS (sb_job_buttons_parent_class)->dispose (object);
}

static void
sb_job_buttons_class_init (SbJobButtonsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_job_buttons_dispose;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/job-buttons.ui");
  gtk_widget_class_bind_template_child (widget_class, SbJobButtons, undo_button);
  gtk_widget_class_bind_template_child (widget_class, SbJobButtons, redo_button);
  gtk_widget_class_bind_template_child (widget_class, SbJobButtons, badge_label);
}

static void
sb_job_buttons_init (SbJobButtons *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
sb_job_buttons_set_desk (SbJobButtons *self, SbDesk *desk)
{
  g_return_if_fail (SB_IS_JOB_BUTTONS (self));
  g_return_if_fail (self->desk == NULL);

  self->desk = g_object_ref (desk);
  g_signal_connect_object (sb_desk_get_job (desk), "history-changed", G_CALLBACK (update_history),
                           self, G_CONNECT_SWAPPED);
  g_signal_connect_object (sb_desk_get_checker (desk), "changed", G_CALLBACK (update_badge), self,
                           G_CONNECT_SWAPPED);
  update_history (self);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
}
