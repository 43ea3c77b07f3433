/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a clean-up took away as dust and hairs and what it filled as pinholes: a count, and a list
 * from which each can be put back. */
#pragma once

#include "window/cleanup/cleanup-session.h"

G_BEGIN_DECLS

#define SB_TYPE_CLEANUP_SPECKS (sb_cleanup_specks_get_type ())
G_DECLARE_FINAL_TYPE (SbCleanupSpecks, sb_cleanup_specks, SB, CLEANUP_SPECKS, GtkWidget)

/* Signal "chosen" (guint index in the result's specks) when a line is activated. */
GtkWidget *sb_cleanup_specks_new (SbCleanupSession *session);

/* Puts speck number `index` of the session's result back, or takes it away again. */
void sb_cleanup_specks_toggle (SbCleanupSession *session, guint index);

G_END_DECLS
