/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is dropped on the pages: a design from the drawer becomes a piece where it is let go of,
 * files are handed on. */
#pragma once

#include "window/canvas/pages-view.h"

G_BEGIN_DECLS

/* `files_cb`: void (*) (gpointer data, GdkFileList *files, guint page, int x_um, int y_um). */
void sb_canvas_drop_attach (SbPagesView *view, GCallback files_cb, gpointer data);

G_END_DECLS
