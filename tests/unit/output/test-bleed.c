/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A sticker without a border whose artwork runs past the cut by 2 to 3 mm (handbook 4.1, sources
 * S30, S32, S33): what the paper shows of it, and of its neighbours. */
#include "suite.h"

#include <string.h>

#include "make-sheet.h"
#include "output/export.h"
#include "output/painter.h"
#include "proof/proof.h"

#define PX_PER_MM 10.0
#define BLEED_MM 2.5
#define SIDE_MM 20.0

#define RED 0xffc01010u
#define BLUE 0xff1020c0u
#define WHITE 0xffffffffu

/* A square, its left half red and its right half blue, with a clear rim of a tenth. */
static SbDesign *
make_halves (const char *name, double bleed_mm, SbGuideStyle guide)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 240, 240);
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, 0xc0 / 255.0, 0x10 / 255.0, 0x10 / 255.0);
  cairo_rectangle (cr, 20, 20, 100, 200);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, 0x10 / 255.0, 0x20 / 255.0, 0xc0 / 255.0);
  cairo_rectangle (cr, 120, 20, 100, 200);
  cairo_fill (cr);
  cairo_destroy (cr);
  g_autoptr (GBytes) png = sb_make_png_of (surface);
  cairo_surface_destroy (surface);
  SbDesign *design = sb_make_design (png, name, 1.2 * SIDE_MM, 1.2 * SIDE_MM, 0, guide);
  design->bleed_mm = bleed_mm;
  return design;
}

static cairo_surface_t *
paint (const SbState *state)
{
  double mm = sb_um_to_mm (state->page_width);
  cairo_surface_t *image =
      cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int)(mm * PX_PER_MM),
                                  (int)(sb_um_to_mm (state->page_height) * PX_PER_MM));
  cairo_t *cr = cairo_create (image);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, PX_PER_MM * 25.4 / 72, PX_PER_MM * 25.4 / 72);
  g_autoptr (SbPainter) painter = sb_painter_new (state, 300);
  ck_assert (sb_painter_paint (painter, cr, 0, &(SbPaintOptions){0}, NULL, NULL));
  cairo_destroy (cr);
  cairo_surface_flush (image);
  return image;
}

static void
expect_colour (cairo_surface_t *image, double x_mm, double y_mm, guint32 colour)
{
  const guint8 *row = cairo_image_surface_get_data (image) +
                      (gsize)(y_mm * PX_PER_MM) * (gsize)cairo_image_surface_get_stride (image);
  guint32 pixel = ((const guint32 *)(const void *)row)[(int)(x_mm * PX_PER_MM)] | 0xff000000u;
  for (int shift = 0; shift < 24; shift += 8)
    ck_assert_msg (abs ((int)(pixel >> shift & 0xff) - (int)(colour >> shift & 0xff)) < 12,
                   "%08x at %g, %g mm, not %08x", pixel, x_mm, y_mm, colour);
}

START_TEST (the_edge_is_repeated_as_far_as_asked)
{
  g_autoptr (SbState) state = sb_make_letter ();
  guint id = sb_make_add (&state, make_halves ("halves", BLEED_MM, SB_GUIDE_OFF));
  sb_make_place (&state, 0, id, 60, 60, 0);
  cairo_surface_t *image = paint (state);
  double half = SIDE_MM / 2, near = half + BLEED_MM - 0.2, far = half + BLEED_MM + 0.2;
  expect_colour (image, 60 - near, 60, RED);
  expect_colour (image, 60 + near, 60, BLUE);
  expect_colour (image, 55, 60 - near, RED);
  expect_colour (image, 65, 60 + near, BLUE);
  expect_colour (image, 60 - half - 1.5, 60 - half - 1.5, RED); /* about a corner */
  expect_colour (image, 60 - far, 60, WHITE);
  expect_colour (image, 60 + far, 60, WHITE);
  expect_colour (image, 65, 60 + far, WHITE);
  expect_colour (image, 60 - half - 2.2, 60 - half - 2.2, WHITE); /* past the round of it */
  /* The artwork itself is as it was. */
  expect_colour (image, 59.7, 60, RED);
  expect_colour (image, 60.3, 60, BLUE);
  cairo_surface_destroy (image);
}
END_TEST

START_TEST (without_a_bleed_nothing_is_repeated)
{
  g_autoptr (SbState) state = sb_make_letter ();
  guint id = sb_make_add (&state, make_halves ("halves", 0, SB_GUIDE_OFF));
  sb_make_place (&state, 0, id, 60, 60, 0);
  cairo_surface_t *image = paint (state);
  expect_colour (image, 60 - SIDE_MM / 2 - 0.3, 60, WHITE);
  cairo_surface_destroy (image);
}
END_TEST

START_TEST (a_bleed_turns_with_its_piece)
{
  g_autoptr (SbState) state = sb_make_letter ();
  guint id = sb_make_add (&state, make_halves ("halves", BLEED_MM, SB_GUIDE_OFF));
  sb_make_place (&state, 0, id, 60, 60, 90);
  cairo_surface_t *image = paint (state);
  double near = SIDE_MM / 2 + BLEED_MM - 0.2;
  expect_colour (image, 60, 60 - near, RED); /* the left is up */
  expect_colour (image, 60, 60 + near, BLUE);
  cairo_surface_destroy (image);
}
END_TEST

/* A neighbour with a white border 1 mm away, painted before and after. */
START_TEST (a_bleed_never_shows_on_a_neighbour)
{
  for (int order = 0; order < 2; order++) {
    g_autoptr (SbState) state = sb_make_letter ();
    g_autoptr (GBytes) black = sb_make_square (100, 0, 0, 0);
    SbDesign *bordered = sb_make_design (black, "bordered", 14, 14, 3, SB_GUIDE_OFF);
    guint halves = sb_make_add (&state, make_halves ("halves", BLEED_MM, SB_GUIDE_OFF));
    guint other = sb_make_add (&state, bordered);
    if (order == 0)
      sb_make_place (&state, 0, halves, 60, 60, 0);
    sb_make_place (&state, 0, other, 60 + 10 + 1 + 10, 60, 0);
    if (order == 1)
      sb_make_place (&state, 0, halves, 60, 60, 0);
    cairo_surface_t *image = paint (state);
    expect_colour (image, 70.5, 60, BLUE);  /* between the cuts */
    expect_colour (image, 71.3, 60, WHITE); /* the neighbour's border */
    expect_colour (image, 76, 60, 0xff000000u);
    cairo_surface_destroy (image);
  }
}
END_TEST

/* The guide lies on the bleed with a white line beside it, wholly outside the cut: 0.1 mm of
 * clearance, then 3 lines' width of 0.5 pt, white and grey and white (handbook 4.4). */
START_TEST (the_guide_shows_on_the_bleed)
{
  g_autoptr (SbState) state = sb_make_letter ();
  guint id = sb_make_add (&state, make_halves ("halves", BLEED_MM, SB_GUIDE_SCISSORS));
  sb_make_place (&state, 0, id, 60, 60, 0);
  cairo_surface_t *image = paint (state);
  double edge = 60 + SIDE_MM / 2, line = 0.5 * 25.4 / 72;
  gboolean dark = FALSE, light = FALSE;
  for (double x = edge + 0.1; x < edge + 0.1 + 3 * line; x += 1 / PX_PER_MM) {
    const guint8 *p = cairo_image_surface_get_data (image) +
                      600 * (gsize)cairo_image_surface_get_stride (image) +
                      4 * (gsize)(x * PX_PER_MM);
    dark |= abs (p[0] - p[2]) < 40 && p[1] < 200 && p[1] > 100;
    light |= abs (p[0] - p[2]) < 60 && p[1] > 200;
  }
  ck_assert_msg (dark, "the grey line is there");
  ck_assert_msg (light, "and its white partner");
  expect_colour (image, edge - 0.2, 60, BLUE);
  expect_colour (image, edge + 1.5, 60, BLUE);
  cairo_surface_destroy (image);
}
END_TEST

/* Gaps are measured from the cut: bleeds of neighbours may meet. */
START_TEST (gaps_are_measured_from_the_cut)
{
  g_autoptr (SbState) state = sb_make_letter ();
  guint id = sb_make_add (&state, make_halves ("halves", BLEED_MM, SB_GUIDE_OFF));
  sb_make_place (&state, 0, id, 60, 60, 0);
  sb_make_place (&state, 0, id, 60 + SIDE_MM + 4.05, 60, 0);
  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *finding = findings->pdata[i];
    ck_assert_int_ne (finding->rule, SB_RULE_GAP);
    ck_assert_int_ne (finding->rule, SB_RULE_OVERLAP);
  }
  double width, height;
  sb_design_get_finished_size (sb_state_get_design (state, id), &width, &height);
  ck_assert_double_eq_tol (width, SIDE_MM, 0.05);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("bleed");
  TCase *tcase = tcase_create ("bleed");
  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, the_edge_is_repeated_as_far_as_asked);
  tcase_add_test (tcase, without_a_bleed_nothing_is_repeated);
  tcase_add_test (tcase, a_bleed_turns_with_its_piece);
  tcase_add_test (tcase, a_bleed_never_shows_on_a_neighbour);
  tcase_add_test (tcase, the_guide_shows_on_the_bleed);
  tcase_add_test (tcase, gaps_are_measured_from_the_cut);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
