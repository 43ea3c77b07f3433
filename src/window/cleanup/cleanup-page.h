/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The window's page for cleaning one design: its picture large, before and after, with the tools,
 * the settings and what was taken away. Actions: cleanup.*. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_CLEANUP_PAGE (sb_cleanup_page_get_type ())
G_DECLARE_FINAL_TYPE (SbCleanupPage, sb_cleanup_page, SB, CLEANUP_PAGE, GtkWidget)

/* For a bitmap design of the desk's job. Signal "done" when the maker wants to leave, or the
 * design is no more. */
GtkWidget *sb_cleanup_page_new (SbDesk *desk, guint design_id);

G_END_DECLS
