/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lines of text as pieces: adding and rewriting them. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

/* Adds a line in the middle of what is shown and selects it: of the page, of the sheet, or of the
 * front or back of a card. */
void sb_text_pieces_add (SbDesk *desk, gboolean on_back);

/* Writes the text of a design anew. FALSE and a message (or NULL where no reason is known) when it
 * cannot be: the text that was there stays. */
gboolean sb_text_pieces_rewrite (SbDesk *desk, guint design_id, const SbLettering *lettering,
                                 GError **error);

G_END_DECLS
