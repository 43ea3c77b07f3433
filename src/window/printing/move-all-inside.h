/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

/* Clears every finding of edge, overlap and gap that moving pieces can clear, in a thread and as
 * one step of history, and tells through the desk what is left. A job that was changed
 * meanwhile stays as it is. */
void sb_desk_move_all_inside (SbDesk *desk);

G_END_DECLS
