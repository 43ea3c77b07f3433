/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The part of a design's details about what is seldom changed of its outline: the bleed past the
 * cut, which coverage counts as artwork (asked where the edge fades slowly), and what was changed
 * by hand. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_DETAILS_OUTLINE (sb_details_outline_get_type ())
G_DECLARE_FINAL_TYPE (SbDetailsOutline, sb_details_outline, SB, DETAILS_OUTLINE, GtkWidget)

/* Once, before anything is shown. */
void sb_details_outline_set_desk (SbDetailsOutline *self, SbDesk *desk);
/* `design` is one of the job's, prepared. */
void sb_details_outline_show (SbDetailsOutline *self, SbDesign *design);

G_END_DECLS
