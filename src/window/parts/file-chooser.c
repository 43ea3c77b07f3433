/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/file.h"
#include "window/parts/file-chooser.h"

GtkFileChooserNative *
sb_file_chooser_new (GtkWindow *parent, const char *title, GtkFileChooserAction action,
                     const char *accept)
{
  GtkFileChooserNative *dialog =
      gtk_file_chooser_native_new (title, parent, action, accept, _ ("_Cancel"));

  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  return dialog;
}

static void
add_filter (GtkFileChooserNative *dialog, GtkFileFilter *filter)
{
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (dialog), filter);
  g_object_unref (filter);
}

void
sb_file_chooser_add_jobs (GtkFileChooserNative *dialog)
{
  sb_file_chooser_add_pattern (dialog, _ ("Jobs"), "*" SB_JOB_EXTENSION);
}

void
sb_file_chooser_add_pictures (GtkFileChooserNative *dialog)
{
  GtkFileFilter *filter = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, _ ("Pictures"));
  gtk_file_filter_add_pixbuf_formats (filter);
  gtk_file_filter_add_mime_type (filter, "image/svg+xml");
  add_filter (dialog, filter);
}

void
sb_file_chooser_add_pattern (GtkFileChooserNative *dialog, const char *name, const char *pattern)
{
  GtkFileFilter *filter = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, name);
  gtk_file_filter_add_pattern (filter, pattern);
  add_filter (dialog, filter);
}
