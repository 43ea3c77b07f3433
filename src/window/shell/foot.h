/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The foot of the window: pages, what lies on them, *Fill gaps* and *Arrange*, and the zoom. Its
 * labels keep their width while a drag is under way, so that nothing shifts under the pointer. */
#pragma once

#include "window/canvas/canvas.h"
#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_FOOT (sb_foot_get_type ())
G_DECLARE_FINAL_TYPE (SbFoot, sb_foot, SB, FOOT, GtkWidget)

/* Follows both. */
GtkWidget *sb_foot_new (SbDesk *desk, SbCanvas *canvas);

G_END_DECLS
