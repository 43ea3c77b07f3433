/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Lets the arrow keys of a widget class call `run` with "(ii)", a way in um: 1 mm, with Shift 10,
 * with Ctrl 0.1 mm. For class_init. */
void sb_nudge_keys_bind (GtkWidgetClass *klass, GtkShortcutFunc run);

G_END_DECLS
