/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Designs get another size by hand: their borders are grown anew in a thread, then the job is
 * edited in one step. */
#pragma once

#include "window/canvas/pages-view.h"

G_BEGIN_DECLS

/* The factor nearest to `stretch` that leaves the artwork between 3 mm and 1000 mm. */
double sb_design_resize_clamp (const SbDesign *design, double stretch);

/* A design and the factor of its artwork. */
typedef struct {
  SbDesign *design; /* borrowed */
  double stretch;
} SbDesignStretch;

/* Resizes each design and puts `places` (pieces that lie elsewhere then; copied) where they come to
 * lie, in one step called `name`; the view shows the stretched stand-ins until the borders are
 * there. Nothing happens when one of the designs has meanwhile become another one. */
void sb_design_resize (SbPagesView *view, const SbDesignStretch *stretches, guint n,
                       const SbPiece *places, guint n_places, const char *name);

G_END_DECLS
