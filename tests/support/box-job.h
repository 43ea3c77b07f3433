/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Jobs of rectangles, for sums that can be done by hand: artwork that fills its picture, a border
 * with square corners. For tests only. */
#pragma once

#include "make-job.h"

/* `width_mm` x `height_mm` of artwork and `border_mm` around it. */
static inline SbDesign *
sb_make_box (const char *name, double width_mm, double height_mm, double border_mm)
{
  g_autofree char *text = g_strdup_printf (
      "<svg xmlns='http://www.w3.org/2000/svg' width='%.3fmm' height='%.3fmm' viewBox='0 0 1 1' "
      "preserveAspectRatio='none'><rect width='1' height='1'/></svg>",
      width_mm, height_mm);
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "box.svg", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  SbDesign *design = sb_design_new (picture, name);
  SbBorderParams border = sb_border_params_default ();
  border.shape = SB_BORDER_BOX;
  border.width_mm = border_mm;
  border.corner_mm = 0;
  sb_design_set_border (design, &border);
  ck_assert_msg (sb_design_prepare (design, NULL, &error), "%s", error ? error->message : "");
  return design;
}

/* Adds such a design and tells its id. */
static inline guint
sb_add_box (SbState **state, const char *name, double width_mm, double height_mm, double border_mm)
{
  guint id;
  sb_take (state,
           sb_edit_add_design (*state, sb_make_box (name, width_mm, height_mm, border_mm), &id));
  return id;
}

static inline SbState *
sb_make_letter (sb_um margin, sb_um gap)
{
  SbState *state = sb_state_new ("na_letter_8.5x11in", 215900, 279400);
  SbMargins margins = {margin, margin, margin, margin};
  sb_take (&state, sb_edit_set_margins (state, margins, SB_MARGINS_TYPED));
  sb_take (&state, sb_edit_set_gap (state, gap));
  return state;
}
