/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A design gets another size by hand: the border is grown anew in a thread, then the job is edited
 * in one step. */
#pragma once

#include "window/pages-view.h"

G_BEGIN_DECLS

/* The factor nearest to `stretch` that leaves the artwork between 3 mm and 1000 mm. */
double sb_design_resize_clamp (const SbDesign *design, double stretch);

/* Resizes the artwork by `stretch`; the view shows the stretched stand-in until the border is
 * there. Nothing happens when the design has meanwhile become another one. */
void sb_design_resize (SbPagesView *view, SbDesign *design, double stretch);

G_END_DECLS
