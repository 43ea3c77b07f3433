/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where the pages lie on the canvas. Three spaces: a page (um from its top left corner), the stack
 * of all pages one under the other with a little ground between them (um from the first page's top
 * left), and the view (logical px from the canvas' top left corner as scrolled). Plain values. */
#pragma once

#include "geometry/point.h"

G_BEGIN_DECLS

/* Ground around and between the pages. */
#define SB_PAGES_SPACE_UM 12000

typedef struct {
  double scale; /* logical px a millimetre */
  sb_um page_width, page_height;
  guint n_pages;
  int view_width, view_height; /* px */
  double scroll_x, scroll_y;   /* px of the content hidden at the left and the top */
} SbPagesLayout;

/* Pages and ground in px. */
void sb_pages_layout_get_size (const SbPagesLayout *layout, double *width, double *height);

/* The scale at which one page with its ground fits into the view. */
double sb_pages_layout_get_fit_scale (const SbPagesLayout *layout);

/* The page's top left corner in the view, on a whole px so that edges stay crisp. */
SbPoint sb_pages_layout_get_origin (const SbPagesLayout *layout, guint page);

SbPoint sb_pages_layout_to_view (const SbPagesLayout *layout, guint page, double x_um, double y_um);
void sb_pages_layout_to_page (const SbPagesLayout *layout, guint page, SbPoint view, double *x_um,
                              double *y_um);

/* The page that lies at or nearest to a height in the view. */
guint sb_pages_layout_find_page (const SbPagesLayout *layout, double view_y);

/* From a page to the stack and back. The stack's page is the one whose paper is nearest. */
sb_um sb_pages_layout_stack_y (const SbPagesLayout *layout, guint page, sb_um y);
guint sb_pages_layout_stack_page (const SbPagesLayout *layout, sb_um stack_y, sb_um *y);

/* The point of the whole surface (mm from its top left corner) under a point of the view. */
SbPoint sb_pages_layout_get_spot (const SbPagesLayout *layout, double view_x, double view_y);

/* The scroll offsets at a scale that bring a spot under a point of the view, as far as there is
 * something to scroll. */
void sb_pages_layout_hold_spot (SbPoint spot, double scale, double view_x, double view_y,
                                double *scroll_x, double *scroll_y);

G_END_DECLS
