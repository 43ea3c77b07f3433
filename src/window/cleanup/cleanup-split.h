/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A scan with many paintings becomes as many designs: a dialog that shows what was found, outlined
 * and numbered, and lets the maker leave some out, join what was cut apart and part what was taken
 * for one. */
#pragma once

#include "window/cleanup/cleanup-session.h"

G_BEGIN_DECLS

/* For the design of `session`, over `parent`. Nothing happens while its first preview is still
 * being made. */
void sb_cleanup_split_open (GtkWindow *parent, SbCleanupSession *session);

G_END_DECLS
