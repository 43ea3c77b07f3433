/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Shows a modal dialog of `parent` that says what went wrong, in a heading and a sentence, until it
 * is closed. Returns at once. Main thread. */
void sb_error_dialog_show (GtkWindow *parent, const char *heading, const char *reason);

G_END_DECLS
