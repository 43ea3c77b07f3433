/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "window/canvas/pages-layout.h"

static double
um_to_px (const SbPagesLayout *layout, double um)
{
  return um * layout->scale / SB_UM_PER_MM;
}

static sb_um
stride (const SbPagesLayout *layout)
{
  return layout->page_height + SB_PAGES_SPACE_UM;
}

void
sb_pages_layout_get_size (const SbPagesLayout *layout, double *width, double *height)
{
  *width = um_to_px (layout, layout->page_width + 2.0 * SB_PAGES_SPACE_UM);
  *height = um_to_px (layout, (double)layout->n_pages * stride (layout) + SB_PAGES_SPACE_UM);
}

double
sb_pages_layout_get_fit_scale (const SbPagesLayout *layout)
{
  double width_mm = sb_um_to_mm (layout->page_width + 2 * SB_PAGES_SPACE_UM);
  double height_mm = sb_um_to_mm (layout->page_height + 2 * SB_PAGES_SPACE_UM);

  return MIN (layout->view_width / width_mm, layout->view_height / height_mm);
}

/* Where the content's top left corner lies: in the middle of a view that is larger. */
static SbPoint
content_origin (const SbPagesLayout *layout)
{
  double width, height;

  sb_pages_layout_get_size (layout, &width, &height);
  return (SbPoint){
      width < layout->view_width ? (layout->view_width - width) / 2 : -layout->scroll_x,
      height < layout->view_height ? (layout->view_height - height) / 2 : -layout->scroll_y,
  };
}

SbPoint
sb_pages_layout_get_origin (const SbPagesLayout *layout, guint page)
{
  SbPoint content = content_origin (layout);
  double above_um = (double)page * stride (layout) + SB_PAGES_SPACE_UM;

  return (SbPoint){
      floor (content.x + um_to_px (layout, SB_PAGES_SPACE_UM) + 0.5),
      floor (content.y + um_to_px (layout, above_um) + 0.5),
  };
}

SbPoint
sb_pages_layout_to_view (const SbPagesLayout *layout, guint page, double x_um, double y_um)
{
  SbPoint origin = sb_pages_layout_get_origin (layout, page);

  return (SbPoint){origin.x + um_to_px (layout, x_um), origin.y + um_to_px (layout, y_um)};
}

void
sb_pages_layout_to_page (const SbPagesLayout *layout, guint page, SbPoint view, double *x_um,
                         double *y_um)
{
  SbPoint origin = sb_pages_layout_get_origin (layout, page);

  *x_um = (view.x - origin.x) * SB_UM_PER_MM / layout->scale;
  *y_um = (view.y - origin.y) * SB_UM_PER_MM / layout->scale;
}

guint
sb_pages_layout_find_page (const SbPagesLayout *layout, double view_y)
{
  double y_um, ignored;

  sb_pages_layout_to_page (layout, 0, (SbPoint){0, view_y}, &ignored, &y_um);
  double page = floor ((y_um + SB_PAGES_SPACE_UM / 2.0) / stride (layout));
  return (guint)CLAMP (page, 0, (double)MAX (layout->n_pages, 1) - 1);
}

sb_um
sb_pages_layout_stack_y (const SbPagesLayout *layout, guint page, sb_um y)
{
  return (sb_um)page * stride (layout) + y;
}

guint
sb_pages_layout_stack_page (const SbPagesLayout *layout, sb_um stack_y, sb_um *y)
{
  double page = floor ((stack_y + SB_PAGES_SPACE_UM / 2.0) / stride (layout));
  guint index = (guint)CLAMP (page, 0, (double)MAX (layout->n_pages, 1) - 1);

  *y = stack_y - (sb_um)index * stride (layout);
  return index;
}

SbPoint
sb_pages_layout_get_spot (const SbPagesLayout *layout, double view_x, double view_y)
{
  SbPoint content = content_origin (layout);

  return (SbPoint){(view_x - content.x) / layout->scale, (view_y - content.y) / layout->scale};
}

void
sb_pages_layout_hold_spot (SbPoint spot, double scale, double view_x, double view_y,
                           double *scroll_x, double *scroll_y)
{
  *scroll_x = spot.x * scale - view_x;
  *scroll_y = spot.y * scale - view_y;
}
