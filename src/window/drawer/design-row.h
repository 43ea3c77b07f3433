/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One design in the drawer: thumbnail, name, finished size, resolution, how many lie on the pages
 * and how many are wanted. CSS node: row > box.design-card. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_DESIGN_ROW (sb_design_row_get_type ())
G_DECLARE_FINAL_TYPE (SbDesignRow, sb_design_row, SB, DESIGN_ROW, GtkListBoxRow)

/* For a design of the desk's job. */
GtkWidget *sb_design_row_new (SbDesk *desk, SbDesign *design);

guint sb_design_row_get_design_id (SbDesignRow *self);
SbDesign *sb_design_row_get_design (SbDesignRow *self); /* borrowed */

/* Shows the design as it is now (the same id), its counts and its findings. */
void sb_design_row_update (SbDesignRow *self, SbDesign *design);
void sb_design_row_update_picture (SbDesignRow *self);
void sb_design_row_update_finding (SbDesignRow *self);

/* For dragging: what the row shows of its design, and where its picture is. */
GdkPaintable *sb_design_row_get_paintable (SbDesignRow *self);

G_END_DECLS
