/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The jobs opened or saved last, as the desktop remembers them. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Remembers a job that was opened or saved. */
void sb_recent_add (GFile *file);

/* Fills `list` with a row for each recent job that still exists, newest first; the row's uri is
 * told by sb_recent_row_get_uri. Returns how many there are. */
guint sb_recent_fill (GtkListBox *list);
const char *sb_recent_row_get_uri (GtkListBoxRow *row);

G_END_DECLS
