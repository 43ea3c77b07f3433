/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The paper's colour in the settings of a clean-up: which it is, whether it was found or picked,
 * and buttons for both. */
#pragma once

#include "window/cleanup/cleanup-session.h"

G_BEGIN_DECLS

#define SB_TYPE_CLEANUP_PAPER (sb_cleanup_paper_get_type ())
G_DECLARE_FINAL_TYPE (SbCleanupPaper, sb_cleanup_paper, SB, CLEANUP_PAPER, GtkWidget)

/* Follows the session. Signal "pick" when the maker wants to point at the paper. */
GtkWidget *sb_cleanup_paper_new (SbCleanupSession *session);

G_END_DECLS
