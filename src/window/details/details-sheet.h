/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The part of Details about the sheet, shown while nothing is selected: paper, non-printable strip,
 * gap and stock. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_DETAILS_SHEET (sb_details_sheet_get_type ())
G_DECLARE_FINAL_TYPE (SbDetailsSheet, sb_details_sheet, SB, DETAILS_SHEET, GtkWidget)

/* Once, before anything is shown. */
void sb_details_sheet_set_desk (SbDetailsSheet *self, SbDesk *desk);

/* Shows the sheet as it is now. */
void sb_details_sheet_update (SbDetailsSheet *self);

G_END_DECLS
