/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The dialogs that ask for a file. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Modal to its window; "response" is to unref it. */
GtkFileChooserNative *sb_file_chooser_new (GtkWindow *parent, const char *title,
                                           GtkFileChooserAction action,
                                           const char *accept) G_GNUC_WARN_UNUSED_RESULT;

/* What may be chosen; the first one added is chosen from at first. */
void sb_file_chooser_add_jobs (GtkFileChooserNative *dialog);
void sb_file_chooser_add_pictures (GtkFileChooserNative *dialog);
void sb_file_chooser_add_pattern (GtkFileChooserNative *dialog, const char *name,
                                  const char *pattern);

G_END_DECLS
