/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Details of the layout that the canvas shows: its measures, how many, and how it looks folded. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_DETAILS_LAYOUT (sb_details_layout_get_type ())
G_DECLARE_FINAL_TYPE (SbDetailsLayout, sb_details_layout, SB, DETAILS_LAYOUT, GtkWidget)

/* Once, before anything is shown. */
void sb_details_layout_set_desk (SbDetailsLayout *self, SbDesk *desk);
/* Shows the layout of the state that the desk shows; nothing when it shows none. */
void sb_details_layout_update (SbDetailsLayout *self);

G_END_DECLS
