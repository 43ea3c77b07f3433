/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What stands beside the pages of a window: the drawer with sheets and cards at one side, Details
 * and the proof at the other. With all their fields they take longer than the pages themselves, so
 * they are made after the first frame, or by the first who needs them. Main thread only. */
#pragma once

#include "window/shell/app-window.h"

G_BEGIN_DECLS

typedef struct _SbSidePanes SbSidePanes;

/* For a window that has a desk and a canvas; leaves room for the panes in `drawer_revealer` and
 * fills `side_stack` later. The panes belong to the window; free this before it lets go of them. */
SbSidePanes *sb_side_panes_new (SbAppWindow *window, GtkRevealer *drawer_revealer,
                                GtkStack *side_stack) G_GNUC_WARN_UNUSED_RESULT;
void sb_side_panes_free (SbSidePanes *panes);

/* Makes the panes now if they are not there. */
void sb_side_panes_need (SbSidePanes *panes);

/* Opens the drawer's search. */
void sb_side_panes_start_search (SbSidePanes *panes);

G_END_DECLS
