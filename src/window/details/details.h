/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Details, at the end of the window: what is selected, editable to the digit: pieces and their
 * design, a design, or the sheet while nothing is selected; and what the proof finds about it. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_DETAILS (sb_details_get_type ())
G_DECLARE_FINAL_TYPE (SbDetails, sb_details, SB, DETAILS, GtkWidget)

/* Follows the desk and its selection. */
GtkWidget *sb_details_new (SbDesk *desk);

G_END_DECLS
