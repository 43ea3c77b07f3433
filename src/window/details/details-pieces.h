/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The part of Details about the selected pieces: where they lie, how they are turned, whether they
 * are pinned. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_DETAILS_PIECES (sb_details_pieces_get_type ())
G_DECLARE_FINAL_TYPE (SbDetailsPieces, sb_details_pieces, SB, DETAILS_PIECES, GtkWidget)

/* Once, before anything is shown. */
void sb_details_pieces_set_desk (SbDetailsPieces *self, SbDesk *desk);

/* Shows the selected pieces as they are now. */
void sb_details_pieces_update (SbDetailsPieces *self);

G_END_DECLS
