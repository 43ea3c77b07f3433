/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "output/export.h"

cairo_matrix_t
sb_sheet_from_page (sb_um page_width, sb_um page_height)
{
  cairo_matrix_t matrix;
  if (page_width <= page_height)
    cairo_matrix_init_identity (&matrix);
  else /* x' = page height - y, y' = x */
    cairo_matrix_init (&matrix, 0, 1, -1, 0, sb_um_to_pt (page_height), 0);
  return matrix;
}

SbMargins
sb_margins_page_from_sheet (SbMargins sheet, gboolean landscape)
{
  if (!landscape)
    return sheet;
  return (SbMargins){
      .top = sheet.right, .right = sheet.bottom, .bottom = sheet.left, .left = sheet.top};
}

SbMargins
sb_margins_sheet_from_page (SbMargins page, gboolean landscape)
{
  if (!landscape)
    return page;
  return (SbMargins){
      .top = page.left, .right = page.top, .bottom = page.right, .left = page.bottom};
}
