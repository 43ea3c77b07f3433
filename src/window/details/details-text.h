/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Details of a text: its words, font, size, colour and language. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_DETAILS_TEXT (sb_details_text_get_type ())
G_DECLARE_FINAL_TYPE (SbDetailsText, sb_details_text, SB, DETAILS_TEXT, GtkWidget)

/* Once, before anything is shown. */
void sb_details_text_set_desk (SbDetailsText *self, SbDesk *desk);
/* Shows the text of `design`; nothing when it is NULL or no text. */
void sb_details_text_show (SbDetailsText *self, SbDesign *design);

G_END_DECLS
