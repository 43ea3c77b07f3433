/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The list of recent jobs below *Open*, read anew whenever it is shown. Signal "open-recent" (uri)
 * when one is chosen. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SB_TYPE_RECENT_POPOVER (sb_recent_popover_get_type ())
G_DECLARE_FINAL_TYPE (SbRecentPopover, sb_recent_popover, SB, RECENT_POPOVER, GtkPopover)

G_END_DECLS
