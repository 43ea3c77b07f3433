/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of the canvas tell one another. */
#pragma once

#include "window/canvas/pages-view.h"

G_BEGIN_DECLS

SbPagesView *sb_canvas_get_pages_view (SbCanvas *self);

/* Multiplies the zoom about a point of the pages view. */
void sb_canvas_zoom_by (SbCanvas *self, double factor, double x, double y);

/* The popover of the context menu; borrowed. */
GtkPopover *sb_canvas_get_menu (SbCanvas *self);

/* The middle of the view. */
SbPoint sb_canvas_get_middle (SbCanvas *self);

/* Marks a point of the view on the rulers; negative for none. */
void sb_canvas_show_pointer (SbCanvas *self, double x, double y);

/* canvas-input.c: gestures of the pages and of what scrolls them. */
void sb_canvas_input_attach (SbCanvas *self, GtkWidget *scrolled);

/* canvas-keys.c */
void sb_canvas_class_bind_keys (GtkWidgetClass *klass);

/* canvas-actions.c: actions and their shortcuts. */
void sb_canvas_class_install_actions (GtkWidgetClass *klass);
/* Enables what the selection allows. */
void sb_canvas_update_actions (SbCanvas *self);
/* The context menu at a point of the pages view. */
void sb_canvas_popup_menu (SbCanvas *self, double x, double y);

G_END_DECLS
