/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the proof says of sheets and cards. Measures of the rules: handbook sections 3.4 and 4.3. */
#include "suite.h"

#include "make-job.h"
#include "packing/impose.h"
#include "proof/proof.h"

static int
count (const SbState *state, SbRule rule)
{
  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  int n = 0;
  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *finding = findings->pdata[i];
    ck_assert (finding->layout_id != 0);
    n += finding->rule == rule;
  }
  return n;
}

/* Puts a seed of 20 x 15 mm with its 3 mm border (26 x 21) on the layout. */
static SbState *
make_laid (SbLayout *layout, SbIPoint at, gint32 turn, gboolean text)
{
  SbState *state = sb_make_job (1);
  SbPiece piece = {.design_id = ((SbDesign *)state->designs->pdata[0])->id, .at = at, .turn = turn};
  if (text) {
    g_autoptr (SbLettering) lettering = sb_lettering_new ("Seed");
    SbDesign *design = sb_design_new_text (lettering, NULL);
    ck_assert (sb_design_prepare (design, NULL, NULL));
    sb_take (&state, sb_edit_add_design (state, design, &piece.design_id));
  }
  sb_layout_set_pieces (layout, &piece, 1);
  guint id;
  sb_take (&state, sb_edit_add_layout (state, layout, &id));
  sb_take (&state, sb_impose_layout (state, id));
  return state;
}

static SbLayout *
make_sheet (void)
{
  SbLayout *sheet = sb_layout_new (SB_LAYOUT_SHEET, "Garden", 100000, 150000);
  sheet->edge = 5000;
  return sheet;
}

START_TEST (test_stickers_keep_from_the_edge_of_their_sheet)
{
  g_autoptr (SbState) well = make_laid (make_sheet (), (SbIPoint){18100, 50000}, 0, FALSE);
  ck_assert_int_eq (count (well, SB_RULE_RIM), 0);
  g_autoptr (SbState) near = make_laid (make_sheet (), (SbIPoint){17000, 50000}, 0, FALSE);
  ck_assert_int_eq (count (near, SB_RULE_RIM), 1);
  ck_assert_int_eq (count (near, SB_RULE_EDGE), 0);
  /* Over the edge its border is cut off. */
  g_autoptr (SbState) over = make_laid (make_sheet (), (SbIPoint){11000, 50000}, 0, FALSE);
  ck_assert_int_eq (count (over, SB_RULE_EDGE), 1);
}
END_TEST

/* The printer does not reach what lies in its margin, in whichever copy that is. */
START_TEST (test_what_no_copy_may_lose)
{
  SbLayout *sheet = sb_layout_new (SB_LAYOUT_SHEET, "A5", 148000, 210000);
  sheet->edge = 6350;
  sheet->wanted = 2;
  g_autoptr (SbState) state = make_laid (sheet, (SbIPoint){15000, 50000}, 0, FALSE);
  ck_assert_uint_eq (sb_state_get_page (state, 0)->n_placements, 2);
  ck_assert_msg (count (state, SB_RULE_EDGE) == 1,
                 "2 mm from the sheet's edge, which is the paper's");
}
END_TEST

static SbLayout *
make_header (void)
{
  return sb_layout_new_header ("Rue", 80000, 40000);
}

START_TEST (test_text_keeps_from_hole_fold_zone_and_edges)
{
  g_autoptr (SbState) well = make_laid (make_header (), (SbIPoint){40000, 61000}, 0, TRUE);
  ck_assert_int_eq (count (well, SB_RULE_HOLE) + count (well, SB_RULE_ZONE) +
                        count (well, SB_RULE_RIM) + count (well, SB_RULE_UPSIDE_DOWN),
                    0);
  g_autoptr (SbState) hole = make_laid (make_header (), (SbIPoint){40000, 50000}, 0, TRUE);
  ck_assert_int_eq (count (hole, SB_RULE_HOLE), 1);
  g_autoptr (SbState) zone = make_laid (make_header (), (SbIPoint){40000, 70000}, 0, TRUE);
  ck_assert_int_eq (count (zone, SB_RULE_ZONE), 1);
  g_autoptr (SbState) edge = make_laid (make_header (), (SbIPoint){8000, 61000}, 0, TRUE);
  ck_assert_int_eq (count (edge, SB_RULE_RIM), 1);
  g_autoptr (SbState) fold = make_laid (make_header (), (SbIPoint){15000, 40000}, 0, TRUE);
  ck_assert_int_eq (count (fold, SB_RULE_FOLD), 1);
}
END_TEST

START_TEST (test_text_on_the_back_is_turned)
{
  g_autoptr (SbState) wrong = make_laid (make_header (), (SbIPoint){40000, 19000}, 0, TRUE);
  ck_assert_int_eq (count (wrong, SB_RULE_UPSIDE_DOWN), 1);
  g_autoptr (SbState) right = make_laid (make_header (), (SbIPoint){40000, 19000}, 180000, TRUE);
  ck_assert_int_eq (count (right, SB_RULE_UPSIDE_DOWN), 0);
  g_autoptr (SbState) front = make_laid (make_header (), (SbIPoint){40000, 61000}, 180000, TRUE);
  ck_assert_int_eq (count (front, SB_RULE_UPSIDE_DOWN), 1);
}
END_TEST

START_TEST (test_measures_of_a_header_card)
{
  SbLayout *high = make_header ();
  high->hole_at = 8000;
  g_autoptr (SbState) hole = make_laid (high, (SbIPoint){40000, 61000}, 0, TRUE);
  ck_assert_int_eq (count (hole, SB_RULE_HOLE), 1);
  SbLayout *shallow = make_header ();
  shallow->zone = 8000;
  g_autoptr (SbState) zone = make_laid (shallow, (SbIPoint){40000, 61000}, 0, TRUE);
  ck_assert_int_eq (count (zone, SB_RULE_ZONE), 1);
}
END_TEST

START_TEST (test_heavy_card_is_noted)
{
  SbLayout *light = sb_layout_new (SB_LAYOUT_BACKING, "a", 60000, 80000);
  light->weight = 160;
  g_autoptr (SbState) easy = make_laid (light, (SbIPoint){30000, 40000}, 0, FALSE);
  ck_assert_int_eq (count (easy, SB_RULE_WEIGHT), 0);
  g_autoptr (SbState) heavy = make_laid (sb_layout_new (SB_LAYOUT_BACKING, "a", 60000, 80000),
                                         (SbIPoint){30000, 40000}, 0, FALSE);
  ck_assert_int_eq (count (heavy, SB_RULE_WEIGHT), 1);
}
END_TEST

START_TEST (test_copies_that_overlap_stop)
{
  g_autoptr (SbState) state = make_laid (make_sheet (), (SbIPoint){50000, 50000}, 0, FALSE);
  ck_assert_int_eq (count (state, SB_RULE_LAID), 0);
  SbPlacement twice[] = {{{10000, 10000}, FALSE}, {{60000, 10000}, FALSE}};
  g_autoptr (SbPage) page =
      sb_page_new_laid (sb_state_get_page (state, 0)->id, sb_state_get_page (state, 0)->layout_id,
                        twice, G_N_ELEMENTS (twice));
  sb_take (&state, sb_edit_set_pages (state, &page, 1));
  ck_assert_int_eq (count (state, SB_RULE_LAID), 1);
}
END_TEST

/* The finished sheets are what is used of a page. */
START_TEST (test_waste_of_a_page_of_sheets)
{
  SbLayout *sheet = make_sheet ();
  sheet->edge = 0; /* so that all of it is laid where the printer reaches */
  g_autoptr (SbState) state = make_laid (sheet, (SbIPoint){50000, 50000}, 0, FALSE);
  SbPageFigures figures = sb_figures_page (state, 0);
  ck_assert_double_eq_tol (figures.outline_mm2, 100 * 150, 1e-6);
  ck_assert_uint_eq (figures.pieces, 1);
  ck_assert_int_lt (figures.free_spot.x1, figures.free_spot.x0);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("layouts");
  TCase *tcase = tcase_create ("layouts");
  tcase_add_test (tcase, test_stickers_keep_from_the_edge_of_their_sheet);
  tcase_add_test (tcase, test_what_no_copy_may_lose);
  tcase_add_test (tcase, test_text_keeps_from_hole_fold_zone_and_edges);
  tcase_add_test (tcase, test_text_on_the_back_is_turned);
  tcase_add_test (tcase, test_measures_of_a_header_card);
  tcase_add_test (tcase, test_heavy_card_is_noted);
  tcase_add_test (tcase, test_copies_that_overlap_stop);
  tcase_add_test (tcase, test_waste_of_a_page_of_sheets);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
