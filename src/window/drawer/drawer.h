/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The drawer: the designs of the job, freebies apart. Search, sort, rename, count, put in order,
 * replace artwork, remove; drag a design to the page, or place it by Enter. Pictures are dropped
 * here. Actions: design.* on the selected design, drawer.sort. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_DRAWER (sb_drawer_get_type ())
G_DECLARE_FINAL_TYPE (SbDrawer, sb_drawer, SB, DRAWER, GtkWidget)

/* Signals, for the window to do what needs dialogs and threads: "files-dropped" (GListModel of
 * GFile), "texture-dropped" (GdkTexture), "replace" (guint design_id), "place" (guint design_id),
 * "removed" (const char *name). */
GtkWidget *sb_drawer_new (SbDesk *desk);

/* Puts the cursor into the search. */
void sb_drawer_start_search (SbDrawer *self);

G_END_DECLS
