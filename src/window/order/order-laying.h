/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lays an order on pages in a thread, and asks about a last sheet that few pieces force. */
#pragma once

#include <gtk/gtk.h>

#include "window/desk/desk.h"

G_BEGIN_DECLS

/* Shows its progress and the question in `area`, which lives in `window`. One at a time. */
void sb_order_laying_start (GtkWindow *window, GtkBox *area, SbDesk *desk);

G_END_DECLS
