/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The settings of a clean-up: paper, edge, specks, levels and colour. */
#pragma once

#include "window/cleanup/cleanup-session.h"

G_BEGIN_DECLS

#define SB_TYPE_CLEANUP_SETTINGS (sb_cleanup_settings_get_type ())
G_DECLARE_FINAL_TYPE (SbCleanupSettings, sb_cleanup_settings, SB, CLEANUP_SETTINGS, GtkWidget)

/* Signals: "pick" when the maker wants to point at the paper's colour; "show-speck" (guint index
 * in the result's specks) when one is chosen in the list. */
GtkWidget *sb_cleanup_settings_new (SbCleanupSession *session);

G_END_DECLS
