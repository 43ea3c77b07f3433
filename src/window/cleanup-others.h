/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Other designs cleaned alike. */
#pragma once

#include "window/app-window.h"

G_BEGIN_DECLS

/* Asks which designs shall get the settings of `design`; their own frames and strokes stay. */
void sb_cleanup_others_open (SbAppWindow *window, SbDesign *design);

G_END_DECLS
