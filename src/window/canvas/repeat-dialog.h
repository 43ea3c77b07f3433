/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/canvas/canvas.h"

G_BEGIN_DECLS

/* Asks how often the selected pieces are to be repeated in a row or a grid, and how far apart; what
 * is answered is one step of history, by the canvas's pieces.repeat. */
void sb_repeat_dialog_open (SbCanvas *canvas);

G_END_DECLS
