/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/relation.h"
#include "proof/proof.h"

#include "box-job.h"
#include "suite.h"

#include <math.h>

#define MARGIN 6350

START_TEST (an_empty_page_is_all_waste)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  SbPageFigures f = sb_figures_page (state, 0);
  ck_assert_double_eq_tol (f.paper_mm2, 215.9 * 279.4, 1e-9);
  ck_assert_double_eq_tol (f.printable_mm2, 203.2 * 266.7, 1e-9);
  ck_assert_double_eq (f.outline_mm2, 0);
  ck_assert_double_eq (f.waste_mm2, f.printable_mm2);
  ck_assert_double_eq_tol (f.waste_percent, 100, 1e-9);
  ck_assert_uint_eq (f.pieces, 0);
  SbIBox all = sb_state_get_printable_box (state);
  ck_assert_int_eq (f.free_spot.x0, all.x0);
  ck_assert_int_eq (f.free_spot.y0, all.y0);
  ck_assert_int_eq (f.free_spot.x1, all.x1);
  ck_assert_int_eq (f.free_spot.y1, all.y1);
}
END_TEST

START_TEST (areas_are_those_of_the_curves)
{
  /* An ellipse of 20 x 15 mm grown by 3 mm: A + P w + pi w^2 (Steiner), P by Ramanujan. */
  g_autoptr (SbState) state = sb_make_job (1);
  for (int i = 0; i < 5; i++)
    sb_make_piece (&state, 2, 30 + 35 * i, 100);
  SbPageFigures f = sb_figures_page (state, 0);
  double a = 10, b = 7.5, h = (a - b) * (a - b) / ((a + b) * (a + b));
  double perimeter = G_PI * (a + b) * (1 + 3 * h / (10 + sqrt (4 - 3 * h)));
  double outline = G_PI * a * b + 3 * perimeter + 9 * G_PI;
  ck_assert_uint_eq (f.pieces, 5);
  ck_assert_double_eq_tol (f.artwork_mm2, 5 * G_PI * a * b, 0.002 * 5 * G_PI * a * b);
  ck_assert_double_eq_tol (f.outline_mm2, 5 * outline, 0.002 * 5 * outline);
  ck_assert_double_eq_tol (f.waste_mm2, f.printable_mm2 - f.outline_mm2, 1e-9);
  ck_assert_double_eq_tol (f.waste_percent, 100 * f.waste_mm2 / f.printable_mm2, 1e-9);
}
END_TEST

START_TEST (what_hangs_out_is_not_counted)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  sb_make_piece (&state, id, 6.35, 100);  /* half of it, 13 x 26 */
  sb_make_piece (&state, id, 6.35, 6.35); /* a quarter */
  sb_make_piece (&state, id, -50, 100);   /* none */
  SbPageFigures f = sb_figures_page (state, 0);
  ck_assert_double_eq_tol (f.outline_mm2, 26 * 26 * 0.75, 0.6);
  ck_assert_double_eq_tol (f.artwork_mm2, 20 * 20 * 0.75, 0.6);
}
END_TEST

START_TEST (a_full_page_has_no_spot_and_waste_is_never_negative)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Sheet", 210, 272, 2);
  sb_make_piece (&state, id, 107.95, 139.7);
  sb_make_piece (&state, id, 107.95, 139.7);
  SbPageFigures f = sb_figures_page (state, 0);
  ck_assert_double_eq (f.waste_mm2, 0);
  ck_assert_double_eq (f.waste_percent, 0);
  ck_assert_int_lt (f.free_spot.x1, f.free_spot.x0);
  SbIBox spot;
  ck_assert_uint_eq (sb_figures_free_spots (state, 0, &spot, 1), 0);
}
END_TEST

START_TEST (a_spot_beside_a_column_of_stickers)
{
  /* Stickers fill the left side up to x = 60 mm; with the gap the spot begins at 64. */
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Bean", 46, 256, 3); /* 52 x 262 */
  sb_make_piece (&state, id, 34, 139.7);
  SbPageFigures f = sb_figures_page (state, 0);
  ck_assert_int_le (ABS (f.free_spot.x0 - 64000), 30);
  ck_assert_int_eq (f.free_spot.y0, MARGIN);
  ck_assert_int_eq (f.free_spot.x1, 215900 - MARGIN);
  ck_assert_int_eq (f.free_spot.y1, 279400 - MARGIN);
}
END_TEST

START_TEST (a_hole_in_a_sticker_is_a_spot)
{
  const char *svg = "<svg xmlns='http://www.w3.org/2000/svg' width='180mm' height='180mm' "
                    "viewBox='0 0 180 180'><path fill-rule='evenodd' d='M0 0H180V180H0Z "
                    "M30 30V150H150V30Z'/></svg>";
  g_autoptr (SbState) state = sb_state_new ("custom_x_200x200mm", 200000, 200000);
  g_autoptr (GBytes) bytes = g_bytes_new_static (svg, strlen (svg));
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "frame.svg", NULL);
  SbDesign *design = sb_design_new (picture, "Frame");
  SbBorderParams border = sb_border_params_default ();
  border.keep_holes = TRUE;
  sb_design_set_border (design, &border);
  ck_assert (sb_design_prepare (design, NULL, NULL));
  guint id;
  sb_take (&state, sb_edit_add_design (state, design, &id));
  sb_make_piece (&state, id, 100, 100);
  SbPageFigures f = sb_figures_page (state, 0);
  /* 120 mm of hole less 3 mm border and 4 mm gap on each side */
  ck_assert_double_eq_tol (sb_um_to_mm (f.free_spot.x1 - f.free_spot.x0), 106, 0.1);
  ck_assert_double_eq_tol (sb_um_to_mm (f.free_spot.y1 - f.free_spot.y0), 106, 0.1);
}
END_TEST

/* ---- Random pages ---- */

static double
area_mm2 (SbIBox box)
{
  return box.x1 < box.x0 ? 0 : sb_um_to_mm (box.x1 - box.x0) * sb_um_to_mm (box.y1 - box.y0);
}

/* A spot keeps the gap from every piece, by the exact check, and from every other spot; the largest
 * comes first. */
START_TEST (spots_are_free)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i);
  g_autoptr (SbState) state = sb_make_job (3);
  sb_take (&state, sb_edit_set_gap (state, _i % 3 == 0 ? 0 : g_rand_int_range (rand, 0, 9000)));
  int pieces = g_rand_int_range (rand, 1, 80);
  for (int i = 0; i < pieces; i++) {
    const SbDesign *design = state->designs->pdata[g_rand_int_range (rand, 0, 3)];
    SbPiece piece = {
        .design_id = design->id,
        .at = {g_rand_int_range (rand, -10000, 220000), g_rand_int_range (rand, -10000, 310000)},
        .turn = g_rand_int_range (rand, 0, 360000)};
    sb_take (&state, sb_edit_add_piece (state, 0, piece, NULL));
  }
  SbIBox spots[8];
  guint n = sb_figures_free_spots (state, 0, spots, G_N_ELEMENTS (spots));
  SbIBox printable = sb_state_get_printable_box (state);
  ck_assert_uint_gt (n, 0);
  ck_assert_double_eq (area_mm2 (sb_figures_page (state, 0).free_spot) > 0, 1);
  for (guint s = 0; s < n; s++) {
    g_autoptr (SbPolygon) spot = sb_polygon_new_box (spots[s]);
    ck_assert (sb_polygon_inside_box (spot, printable));
    if (s > 0)
      ck_assert_double_ge (area_mm2 (spots[s - 1]), area_mm2 (spots[s]));
    for (guint k = 0; k < s; k++) {
      g_autoptr (SbPolygon) other = sb_polygon_new_box (spots[k]);
      ck_assert (!sb_polygons_overlap (spot, other));
    }
    const SbPage *page = sb_state_get_page (state, 0);
    for (guint i = 0; i < page->n_pieces; i++) {
      const SbDesign *design = sb_state_get_design (state, page->pieces[i].design_id);
      g_autoptr (SbPolygon) outline = sb_piece_get_outline (design, &page->pieces[i]);
      ck_assert_msg (!sb_polygons_closer_than (spot, outline, state->gap), "seed %d, spot %u", _i,
                     s);
    }
  }
}
END_TEST

/* The largest rectangle among upright boxes, by trying all: each side of it lies on a box or on the
 * page's edge. */
static double
slow_largest (const SbIBox *boxes, guint n, SbIBox page)
{
  double best = 0;
  for (guint i = 0; i <= n; i++)
    for (guint j = 0; j <= n; j++) {
      sb_um x0 = i < n ? boxes[i].x1 : page.x0, x1 = j < n ? boxes[j].x0 : page.x1;
      for (guint k = 0; k <= n && x0 < x1; k++) {
        sb_um y0 = k < n ? MAX (boxes[k].y1, page.y0) : page.y0, y1 = page.y1;
        for (guint m = 0; m < n; m++) {
          if (boxes[m].x0 >= x1 || boxes[m].x1 <= x0 || boxes[m].y1 <= y0)
            continue;
          y1 = MIN (y1, MAX (boxes[m].y0, y0));
        }
        if (x0 >= page.x0 && x1 <= page.x1 && y1 > y0)
          best = MAX (best, area_mm2 ((SbIBox){x0, y0, x1, y1}));
      }
    }
  return best;
}

START_TEST (the_spot_is_as_good_as_the_largest)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i + 100);
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 0);
  guint id = sb_add_box (&state, "Radish", 20, 14, 3);
  SbIBox boxes[24];
  guint n = (guint)g_rand_int_range (rand, 1, G_N_ELEMENTS (boxes));
  for (guint i = 0; i < n; i++)
    sb_make_piece (&state, id, g_rand_double_range (rand, 0, 216),
                   g_rand_double_range (rand, 0, 280));
  const SbPage *page = sb_state_get_page (state, 0);
  for (guint i = 0; i < n; i++) {
    g_autoptr (SbPolygon) outline =
        sb_piece_get_outline (sb_state_get_design (state, id), &page->pieces[i]);
    boxes[i] = sb_polygon_get_box (outline);
  }
  double best = slow_largest (boxes, n, sb_state_get_printable_box (state));
  double found = area_mm2 (sb_figures_page (state, 0).free_spot);
  ck_assert_double_le (found, best * (1 + 1e-9));
  ck_assert_msg (found >= 0.99 * best, "%g of %g mm2", found, best);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("figures");
  TCase *tcase = tcase_create ("by hand");
  tcase_add_test (tcase, an_empty_page_is_all_waste);
  tcase_add_test (tcase, areas_are_those_of_the_curves);
  tcase_add_test (tcase, what_hangs_out_is_not_counted);
  tcase_add_test (tcase, a_full_page_has_no_spot_and_waste_is_never_negative);
  tcase_add_test (tcase, a_spot_beside_a_column_of_stickers);
  tcase_add_test (tcase, a_hole_in_a_sticker_is_a_spot);
  suite_add_tcase (suite, tcase);
  TCase *random = tcase_create ("random");
  tcase_add_loop_test (random, spots_are_free, 0, 24);
  tcase_add_loop_test (random, the_spot_is_as_good_as_the_largest, 0, 30);
  suite_add_tcase (suite, random);
  return sb_run_suite (suite);
}
