/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/canvas/canvas.h"
#include "window/desk/desk.h"

G_BEGIN_DECLS

/* Puts a piece of a design on the page in view, without a pointer, and selects it. */
void sb_place_design (SbDesk *desk, SbCanvas *canvas, guint design_id);

G_END_DECLS
