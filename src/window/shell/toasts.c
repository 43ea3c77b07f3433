/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/parts/words.h"
#include "window/shell/toasts.h"

#define SHOWN_SECONDS 6

struct _SbToasts {
  GtkWidget parent_instance;

  GtkWidget *revealer;
  GtkWidget *label;
  GtkWidget *button;
  GtkEventController *motion;
  GtkEventController *focus;
  guint timeout;
};

G_DEFINE_FINAL_TYPE (SbToasts, sb_toasts, GTK_TYPE_WIDGET)

static gboolean
timeout_cb (gpointer user_data)
{
  SbToasts *self = user_data;

  if (gtk_event_controller_motion_contains_pointer (GTK_EVENT_CONTROLLER_MOTION (self->motion)) ||
      gtk_event_controller_focus_contains_focus (GTK_EVENT_CONTROLLER_FOCUS (self->focus)))
    return G_SOURCE_CONTINUE;
  self->timeout = 0;
  sb_toasts_hide (self);
  return G_SOURCE_REMOVE;
}

static void
sb_toasts_dispose (GObject *object)
{
  SbToasts *self = SB_TOASTS (object);

  g_clear_handle_id (&self->timeout, g_source_remove);
  g_clear_pointer (&self->revealer, gtk_widget_unparent);
  G_OBJECT_CLASS (sb_toasts_parent_class)->dispose (object);
}

static void
sb_toasts_class_init (SbToastsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_toasts_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "toasts");
}

static void
sb_toasts_init (SbToasts *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *close = gtk_button_new_from_icon_name ("window-close-symbolic");

  self->revealer = gtk_revealer_new ();
  gtk_revealer_set_transition_type (GTK_REVEALER (self->revealer),
                                    GTK_REVEALER_TRANSITION_TYPE_CROSSFADE);
  gtk_widget_set_parent (self->revealer, GTK_WIDGET (self));

  gtk_widget_add_css_class (box, "toast");
  gtk_revealer_set_child (GTK_REVEALER (self->revealer), box);
  self->motion = gtk_event_controller_motion_new ();
  gtk_widget_add_controller (box, self->motion);
  self->focus = gtk_event_controller_focus_new ();
  gtk_widget_add_controller (box, self->focus);

  self->label = sb_words_new (NULL, NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (self->label), 60);
  gtk_label_set_natural_wrap_mode (GTK_LABEL (self->label), GTK_NATURAL_WRAP_NONE);
  gtk_widget_set_hexpand (self->label, TRUE);
  gtk_box_append (GTK_BOX (box), self->label);

  self->button = gtk_button_new ();
  gtk_button_set_use_underline (GTK_BUTTON (self->button), TRUE);
  gtk_widget_set_valign (self->button, GTK_ALIGN_CENTER);
  g_signal_connect_swapped (self->button, "clicked", G_CALLBACK (sb_toasts_hide), self);
  gtk_box_append (GTK_BOX (box), self->button);

  gtk_widget_set_valign (close, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (close, "flat");
  gtk_widget_set_tooltip_text (close, _ ("Dismiss"));
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (sb_toasts_hide), self);
  gtk_box_append (GTK_BOX (box), close);

  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_END);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

void
sb_toasts_show (SbToasts *self, const char *text, const char *button, const char *action)
{
  g_return_if_fail (SB_IS_TOASTS (self));

  gtk_label_set_label (GTK_LABEL (self->label), text);
  gtk_widget_set_visible (self->button, action != NULL);
  gtk_button_set_label (GTK_BUTTON (self->button), button ? button : "");
  gtk_actionable_set_detailed_action_name (GTK_ACTIONABLE (self->button), action);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->revealer), TRUE);
  g_clear_handle_id (&self->timeout, g_source_remove);
  self->timeout = g_timeout_add_seconds (SHOWN_SECONDS, timeout_cb, self);
}

void
sb_toasts_hide (SbToasts *self)
{
  g_return_if_fail (SB_IS_TOASTS (self));

  g_clear_handle_id (&self->timeout, g_source_remove);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->revealer), FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}
