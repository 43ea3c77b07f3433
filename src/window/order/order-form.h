/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a maker says of an order, every number an edit of the job: a table of packs and designs,
 * overs, how often each page is printed, rates and texts. */
#pragma once

#include <gtk/gtk.h>

#include "window/desk/desk.h"

G_BEGIN_DECLS

/* A box that follows the job. */
GtkWidget *sb_order_form_new (SbDesk *desk);

G_END_DECLS
