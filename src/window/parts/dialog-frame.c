/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/parts/dialog-frame.h"

void
sb_dialog_frame (GtkWindow *dialog, GtkWindow *parent, const char *title, GtkWidget *apply)
{
  GtkWidget *bar = gtk_header_bar_new ();
  GtkWidget *cancel = gtk_button_new_with_mnemonic (_ ("_Cancel"));
  GtkEventController *keys = gtk_shortcut_controller_new ();

  g_object_set (dialog, "transient-for", parent, "modal", TRUE, "title", title,
                "destroy-with-parent", TRUE, NULL);
  gtk_header_bar_set_show_title_buttons (GTK_HEADER_BAR (bar), FALSE);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (bar), cancel);
  gtk_header_bar_pack_end (GTK_HEADER_BAR (bar), apply);
  gtk_widget_add_css_class (apply, "suggested-action");
  g_signal_connect_swapped (cancel, "clicked", G_CALLBACK (gtk_window_destroy), dialog);
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, (GdkModifierType)0),
                        gtk_named_action_new ("window.close")));
  gtk_widget_add_controller (GTK_WIDGET (dialog), keys);
  gtk_window_set_titlebar (dialog, bar);
}
