/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What our own dialogs have around them: a header with *Cancel* and what the dialog does, and
 * Escape. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Makes `dialog` a modal one of `parent`, and puts `apply` into its header. */
void sb_dialog_frame (GtkWindow *dialog, GtkWindow *parent, const char *title, GtkWidget *apply);

G_END_DECLS
