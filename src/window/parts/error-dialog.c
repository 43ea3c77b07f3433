/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/parts/error-dialog.h"

void
sb_error_dialog_show (GtkWindow *parent, const char *heading, const char *reason)
{
  GtkWidget *dialog =
      gtk_message_dialog_new (parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT,
                              GTK_MESSAGE_ERROR, GTK_BUTTONS_CLOSE, "%s", heading);

  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", reason);
  g_signal_connect (dialog, "response", G_CALLBACK (gtk_window_destroy), NULL);
  gtk_window_present (GTK_WINDOW (dialog));
}
