/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A label of plain text that wraps and begins at the left. `text` may be NULL; `css_class` is NULL
 * for none. A floating reference, as of any new widget. */
GtkWidget *sb_words_new (const char *text, const char *css_class);

G_END_DECLS
