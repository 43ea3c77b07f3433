/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How large things are on a monitor, from its own measures. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Logical px a millimetre on the monitor that a surface lies on; of 96 dpi without one, or where
 * what the monitor says of itself is not plausible. Asks the display server. */
double sb_monitor_scale_of (GdkSurface *surface);

G_END_DECLS
