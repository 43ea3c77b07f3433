/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is made of a clean-up beside the design itself: other designs cleaned alike, and a strip of
 * variants for a test print. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

/* Asks, in a dialog of `parent`, which designs shall get the settings of `design`; their own frames
 * and strokes stay. */
void sb_cleanup_others_open (GtkWindow *parent, SbDesk *desk, SbDesign *design);

/* Adds a page with the design from 10 % darker to 20 % lighter, one piece each. */
void sb_cleanup_others_make_strip (SbDesk *desk, SbDesign *design);

G_END_DECLS
