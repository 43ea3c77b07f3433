/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The list of the job's sheets and cards below the drawer: makes new ones, and opens one on the
 * canvas. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_LAYOUTS_PANE (sb_layouts_pane_get_type ())
G_DECLARE_FINAL_TYPE (SbLayoutsPane, sb_layouts_pane, SB, LAYOUTS_PANE, GtkWidget)

/* Follows the desk. */
GtkWidget *sb_layouts_pane_new (SbDesk *desk);

/* "Sticker sheet", translated. */
const char *sb_layout_kind_get_word (SbLayoutKind kind);

/* Makes a layout with usual measures, one copy wanted and laid, and shows it. */
void sb_layouts_pane_make (SbDesk *desk, SbLayoutKind kind);

G_END_DECLS
