/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Small jobs for tests: designs of a drawn seed, each of its own colour. */
#pragma once

#include <check.h>
#include <string.h>

#include "job/edit.h"

/* An ellipse of `width_mm` x `height_mm` that fills its picture; another `colour` is another
 * artwork. */
static inline SbPicture *
sb_make_seed (guint colour, double width_mm, double height_mm)
{
  g_autofree char *text =
      g_strdup_printf ("<svg xmlns='http://www.w3.org/2000/svg' width='%.3fmm' height='%.3fmm' "
                       "viewBox='0 0 2 2' preserveAspectRatio='none'>"
                       "<ellipse cx='1' cy='1' rx='1' ry='1' fill='#%06x'/></svg>",
                       width_mm, height_mm, colour & 0xffffff);
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (GError) error = NULL;
  SbPicture *picture = sb_picture_new (bytes, "seed.svg", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  return picture;
}

static inline SbDesign *
sb_make_design (const char *name, guint colour, double width_mm, double height_mm)
{
  g_autoptr (SbPicture) picture = sb_make_seed (colour, width_mm, height_mm);
  g_autoptr (GError) error = NULL;
  SbDesign *design = sb_design_new (picture, name);
  ck_assert_msg (sb_design_prepare (design, NULL, &error), "%s", error ? error->message : "");
  return design;
}

/* Consumes `state` for the next one. */
static inline void
sb_take (SbState **state, SbState *next)
{
  sb_state_unref (*state);
  *state = next;
}

/* An A4 job with `n_designs` designs ("seed 1", ...) of 20 x 15 mm. */
static inline SbState *
sb_make_job (guint n_designs)
{
  SbState *state = sb_state_new ("iso_a4_210x297mm", 210000, 297000);
  for (guint i = 0; i < n_designs; i++) {
    g_autofree char *name = g_strdup_printf ("seed %u", i + 1);
    SbDesign *design = sb_make_design (name, 0x204060 + i * 77, 20, 15);
    sb_take (&state, sb_edit_add_design (state, design, NULL));
  }
  return state;
}

/* Adds a copy of `design_id` at x, y (mm) to the first page and tells its id. */
static inline guint
sb_make_piece (SbState **state, guint design_id, double x_mm, double y_mm)
{
  guint id;
  SbPiece piece = {.design_id = design_id, .at = sb_point_round ((SbPoint){x_mm, y_mm})};
  sb_take (state, sb_edit_add_piece (*state, 0, piece, &id));
  return id;
}
