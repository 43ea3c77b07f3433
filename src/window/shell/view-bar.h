/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The bar above the canvas while it shows a layout from inside: which one, and the way back. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_VIEW_BAR (sb_view_bar_get_type ())
G_DECLARE_FINAL_TYPE (SbViewBar, sb_view_bar, SB, VIEW_BAR, GtkWidget)

/* Follows the desk: hidden while its pages are shown. */
GtkWidget *sb_view_bar_new (SbDesk *desk);

G_END_DECLS
