/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The wheel over the sliders and numbers in `widget` (itself, or what is in it by now) scrolls the
 * pane around them. GTK would change their values, unasked and unseen, as a pane is scrolled past
 * the pointer. Main thread. */
void sb_wheel_pass_on (GtkWidget *widget);

G_END_DECLS
