/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Asks a printer in a thread what it cannot reach on the job's paper, and proofs the job for it. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

/* `printer` is a queue's name; NULL goes back to what nearly any printer can do. Margins
 * that the maker typed win over both. What goes wrong is told by sb_desk_say. */
void sb_printer_margins_ask (SbDesk *desk, const char *printer);

/* The job's printer with the margins of its paper, where it was borderless. */
void sb_printer_margins_leave_borderless (SbDesk *desk);

G_END_DECLS
