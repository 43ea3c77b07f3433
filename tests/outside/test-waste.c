/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The waste of pages against GEOS: all outlines, flattened five times finer than the proof does,
 * united and cut to the printable area. */
#include "geos-polygon.h"
#include "make-job.h"
#include "proof/proof.h"
#include "suite.h"

#include <math.h>

static GEOSContextHandle_t geos;

/* The area of the union of `parts` (consumed) inside `box`. */
static double
united_area_mm2 (GPtrArray *parts, SbIBox box)
{
  g_autoptr (SbPolygon) frame = sb_polygon_new_box (box);
  GEOSGeometry *inside = geos_from_polygon (geos, frame);
  GEOSGeometry *all = GEOSGeom_createCollection_r (geos, GEOS_GEOMETRYCOLLECTION,
                                                   (GEOSGeometry **)parts->pdata, parts->len);
  GEOSGeometry *united = GEOSUnaryUnion_r (geos, all);
  GEOSGeometry *cut = GEOSIntersection_r (geos, united, inside);
  double area = geos_area_mm2 (geos, cut);
  GEOSGeom_destroy_r (geos, inside);
  GEOSGeom_destroy_r (geos, all);
  GEOSGeom_destroy_r (geos, united);
  GEOSGeom_destroy_r (geos, cut);
  g_ptr_array_unref (parts);
  return area;
}

static GPtrArray *
parts_of_page (const SbState *state, gboolean artwork)
{
  const SbPage *page = sb_state_get_page (state, 0);
  GPtrArray *parts = g_ptr_array_new ();
  for (guint i = 0; i < page->n_pieces; i++) {
    const SbDesign *design = sb_state_get_design (state, page->pieces[i].design_id);
    const SbOutline *outline =
        artwork ? sb_design_get_artwork (design) : sb_design_get_outline (design);
    g_autoptr (SbPolygon) fine =
        sb_outline_flatten (outline, sb_piece_get_transform (design, &page->pieces[i]), 2);
    g_ptr_array_add (parts, geos_from_polygon (geos, fine));
  }
  return parts;
}

/* A drawn shape with corners, waists and islands of colour, its border as `border` says. */
static void
add_shape (SbState **state, const char *path, double size_mm, double border_mm)
{
  g_autofree char *svg = g_strdup_printf ("<svg xmlns='http://www.w3.org/2000/svg' width='%.2fmm' "
                                          "height='%.2fmm' viewBox='0 0 100 100'>"
                                          "<path d='%s'/></svg>",
                                          size_mm, size_mm, path);
  g_autoptr (GBytes) bytes = g_bytes_new (svg, strlen (svg));
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "shape.svg", NULL);
  SbDesign *design = sb_design_new (picture, "Shape");
  SbBorderParams border = design->border;
  border.width_mm = border_mm;
  sb_design_set_border (design, &border);
  ck_assert (sb_design_prepare (design, NULL, NULL));
  sb_take (state, sb_edit_add_design (*state, design, NULL));
}

START_TEST (waste_agrees)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i);
  g_autoptr (SbState) state = sb_state_new ("na_letter_8.5x11in", 215900, 279400);
  add_shape (&state, "M50 2C80 2 98 30 80 50C98 80 70 98 50 80C20 98 2 70 20 50C2 20 20 2 50 2Z",
             30, g_rand_double_range (rand, 0, 4));
  add_shape (&state, "M10 10H90V40H60V90H40V40H10Z", 28, 2);
  add_shape (&state, "M50 5L95 95H5Z", 25, 3);
  /* a lattice wide enough that nothing overlaps, hanging over every edge of the page */
  for (int y = 0; y < 7; y++)
    for (int x = 0; x < 6; x++) {
      const SbDesign *design = state->designs->pdata[g_rand_int_range (rand, 0, 3)];
      SbPiece piece = {.design_id = design->id,
                       .at = {x * 50000 - 12000, y * 50000 - 7000},
                       .turn = g_rand_int_range (rand, 0, 360000)};
      sb_take (&state, sb_edit_add_piece (state, 0, piece, NULL));
    }
  SbPageFigures figures = sb_figures_page (state, 0);
  SbIBox printable = sb_state_get_printable_box (state);
  double outline = united_area_mm2 (parts_of_page (state, FALSE), printable);
  double artwork = united_area_mm2 (parts_of_page (state, TRUE), printable);
  ck_assert_double_eq_tol (figures.outline_mm2, outline, 0.0003 * outline);
  ck_assert_double_eq_tol (figures.artwork_mm2, artwork, 0.0003 * artwork);
  ck_assert_double_eq_tol (figures.waste_mm2, figures.printable_mm2 - outline, 0.0003 * outline);
}
END_TEST

int
main (void)
{
  geos = geos_begin ();
  Suite *suite = suite_create ("waste");
  TCase *tcase = tcase_create ("geos");
  tcase_set_timeout (tcase, 100);
  tcase_add_loop_test (tcase, waste_agrees, 0, 4);
  suite_add_tcase (suite, tcase);
  int status = sb_run_suite (suite);
  GEOS_finish_r (geos);
  return status;
}
