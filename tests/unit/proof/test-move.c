/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof/proof.h"

#include "box-job.h"
#include "suite.h"

#include <math.h>

#define MARGIN 3050
#define GUIDE_UM (100 + 176) /* clearance and 0.5 pt */

static guint
count_findings (const SbState *state)
{
  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  return findings->len;
}

static double
total_move_mm (const SbState *a, const SbState *b)
{
  double sum = 0;
  for (guint i = 0; i < a->pages->len; i++) {
    const SbPage *page = sb_state_get_page (a, i);
    for (guint k = 0; k < page->n_pieces; k++) {
      const SbPiece *p = &page->pieces[k];
      const SbPiece *q = sb_state_get_piece (b, p->id, NULL);
      ck_assert_int_eq (p->turn, q->turn);
      ck_assert_int_eq (p->pinned, q->pinned);
      if (p->pinned)
        ck_assert (p->at.x == q->at.x && p->at.y == q->at.y);
      sum += hypot (p->at.x - q->at.x, p->at.y - q->at.y) / 1000;
    }
  }
  return sum;
}

START_TEST (the_shortest_way_inside)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  guint piece = sb_make_piece (&state, id, 10, 278); /* over the left and the bottom edge */
  SbPiece moved;
  ck_assert (sb_proof_move_inside (state, piece, &moved));
  ck_assert_int_le (ABS (moved.at.x - (MARGIN + GUIDE_UM + 13000)), 15);
  ck_assert_int_le (ABS (moved.at.y - (279400 - MARGIN - GUIDE_UM - 13000)), 15);
  sb_take (&state, sb_edit_set_pieces (state, &moved, 1));
  ck_assert_uint_eq (count_findings (state), 0);
  SbPiece again;
  ck_assert (sb_proof_move_inside (state, piece, &again));
  ck_assert (again.at.x == moved.at.x && again.at.y == moved.at.y);
}
END_TEST

START_TEST (what_loses_nothing_stays)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  guint piece = sb_make_piece (&state, id, 3.2 + 13, 100); /* its guide is thinned, no finding */
  SbPiece moved;
  ck_assert (sb_proof_move_inside (state, piece, &moved));
  ck_assert_int_eq (moved.at.x, 16200);
  g_autoptr (SbState) all = sb_proof_move_all_inside (state);
  ck_assert_ptr_eq (all, state);
}
END_TEST

START_TEST (too_large_a_piece_saves_what_it_can)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  /* 207 + 6 mm of 209.8: the outline does not fit, the artwork does */
  guint wide = sb_add_box (&state, "Banner", 207, 20, 3);
  guint piece = sb_make_piece (&state, wide, 50, 100);
  SbPiece moved;
  ck_assert (!sb_proof_move_inside (state, piece, &moved));
  ck_assert_int_eq (moved.at.y, 100000);
  sb_take (&state, sb_edit_set_pieces (state, &moved, 1));
  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  for (guint i = 0; i < findings->len; i++)
    ck_assert_int_eq (((SbFinding *)findings->pdata[i])->severity, SB_SEVERITY_CAUTION);
}
END_TEST

/* ---- All at once ---- */

START_TEST (edges_alone_take_the_shortest_ways)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  sb_make_piece (&state, id, 14, 60);   /* 2.326 mm to the right */
  sb_make_piece (&state, id, 100, 14);  /* 2.326 mm down */
  sb_make_piece (&state, id, 100, 140); /* stays */
  g_autoptr (SbState) all = sb_proof_move_all_inside (state);
  ck_assert_uint_eq (count_findings (all), 0);
  ck_assert_double_eq_tol (total_move_mm (state, all), 2 * 2.326, 0.04);
}
END_TEST

START_TEST (neighbours_give_way)
{
  /* A row at the very gap, its first piece over the left edge: all of the row must move. */
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  for (int i = 0; i < 6; i++)
    sb_make_piece (&state, id, 14 + 30.02 * i, 100);
  g_autoptr (SbState) all = sb_proof_move_all_inside (state);
  ck_assert_uint_eq (count_findings (all), 0);
  ck_assert_double_le (total_move_mm (state, all), 6 * 2.326 + 0.3);
}
END_TEST

START_TEST (a_pair_parts_by_the_least_move)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  sb_make_piece (&state, id, 60, 100);
  sb_make_piece (&state, id, 60 + 28.5, 100 + 5); /* 2.5 mm apart: 1.5 mm are missing */
  g_autoptr (SbState) all = sb_proof_move_all_inside (state);
  ck_assert_uint_eq (count_findings (all), 0);
  ck_assert_double_le (total_move_mm (state, all), 1.55);
}
END_TEST

START_TEST (pinned_pieces_stay)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  SbPiece pinned = {.design_id = id, .at = {10000, 100000}, .pinned = TRUE};
  SbPiece beside = {.design_id = id, .at = {33000, 100000}};
  sb_take (&state, sb_edit_add_piece (state, 0, pinned, NULL));
  sb_take (&state, sb_edit_add_piece (state, 0, beside, NULL));
  g_autoptr (SbState) all = sb_proof_move_all_inside (state);
  ck_assert_double_eq_tol (total_move_mm (state, all), 7, 0.05); /* 26 + 4 from the pinned one */
  ck_assert_uint_eq (count_findings (all), 1);                   /* the pinned one's edge */
}
END_TEST

START_TEST (a_heap_is_spread)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  for (int i = 0; i < 8; i++)
    sb_make_piece (&state, id, 100 + i, 100 - 2 * i);
  g_autoptr (SbState) all = sb_proof_move_all_inside (state);
  ck_assert_uint_eq (count_findings (all), 0);
}
END_TEST

static SbState *
with_piece_at (const SbState *state, SbPiece piece, double angle, double mm)
{
  piece.at.x += (sb_um)lround (1000 * mm * cos (angle));
  piece.at.y += (sb_um)lround (1000 * mm * sin (angle));
  return sb_edit_set_pieces (state, &piece, 1);
}

/* The least move that clears the piece, found by trying 64 directions in steps of half a
 * millimetre; proved with the proof itself. */
static double
search_least_move (const SbState *state, guint piece_id, guint findings_of_others)
{
  SbPiece piece = *sb_state_get_piece (state, piece_id, NULL);
  for (double mm = 0.5; mm < 120; mm += 0.5)
    for (int k = 0; k < 64; k++) {
      g_autoptr (SbState) tried = with_piece_at (state, piece, G_PI * k / 32, mm);
      if (count_findings (tried) == findings_of_others)
        return mm;
    }
  return G_MAXDOUBLE;
}

START_TEST (among_pinned_ones_the_nearest_place_is_found)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed ((guint32)_i);
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  for (int i = 0; i < 7; i++) {
    SbPiece pinned = {
        .design_id = id,
        .at = {g_rand_int_range (rand, 10000, 120000), g_rand_int_range (rand, 10000, 120000)},
        .pinned = TRUE};
    sb_take (&state, sb_edit_add_piece (state, 0, pinned, NULL));
  }
  guint others = count_findings (state);
  guint loose = sb_make_piece (&state, id, g_rand_int_range (rand, 10, 120),
                               g_rand_int_range (rand, 10, 120));
  if (count_findings (state) == others)
    return;
  double least = search_least_move (state, loose, others);
  g_autoptr (SbState) all = sb_proof_move_all_inside (state);
  ck_assert_uint_eq (count_findings (all), others);
  if (g_getenv ("SB_TEST_VERBOSE") != NULL)
    g_print ("seed %d: %.2f mm, by searching %.2f\n", _i, total_move_mm (state, all), least);
  ck_assert_double_le (total_move_mm (state, all), 1.05 * least);
}
END_TEST

START_TEST (what_cannot_be_cleared_is_left)
{
  /* Two stickers of which only one fits. */
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Sheet", 180, 240, 3);
  sb_make_piece (&state, id, 107, 139);
  sb_make_piece (&state, id, 107, 139);
  g_autoptr (SbState) all = sb_proof_move_all_inside (state);
  ck_assert_ptr_eq (all, state);
}
END_TEST

static void
count_severities (const SbState *state, guint counts[3])
{
  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  counts[0] = counts[1] = counts[2] = 0;
  for (guint i = 0; i < findings->len; i++)
    counts[((SbFinding *)findings->pdata[i])->severity]++;
}

START_TEST (it_never_gets_worse_and_is_always_the_same)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i);
  g_autoptr (SbState) state = sb_make_job (2);
  int pieces = g_rand_int_range (rand, 2, 45);
  for (int i = 0; i < pieces; i++) {
    const SbDesign *design = state->designs->pdata[g_rand_int_range (rand, 0, 2)];
    SbPiece piece = {.design_id = design->id,
                     .at = {g_rand_int_range (rand, 0, 210000), g_rand_int_range (rand, 0, 297000)},
                     .turn = g_rand_int_range (rand, 0, 360000),
                     .pinned = g_rand_int_range (rand, 0, 10) == 0};
    sb_take (&state, sb_edit_add_piece (state, 0, piece, NULL));
  }
  gint64 start = g_get_monotonic_time ();
  g_autoptr (SbState) all = sb_proof_move_all_inside (state);
  gint64 spent = g_get_monotonic_time () - start;
  g_autoptr (SbState) again = sb_proof_move_all_inside (state);
  ck_assert (sb_state_equal (all, again));
  guint before[3], after[3];
  count_severities (state, before);
  count_severities (all, after);
  if (g_getenv ("SB_TEST_VERBOSE") != NULL)
    g_print ("%2d pieces: %u/%u/%u -> %u/%u/%u, %.0f mm, %.0f ms\n", pieces, before[0], before[1],
             before[2], after[0], after[1], after[2], total_move_mm (state, all),
             (double)spent / 1000);
  gboolean better = after[0] != before[0]   ? after[0] < before[0]
                    : after[1] != before[1] ? after[1] < before[1]
                                            : after[2] <= before[2];
  ck_assert_msg (better, "seed %d: %u/%u/%u became %u/%u/%u", _i, before[0], before[1], before[2],
                 after[0], after[1], after[2]);
  total_move_mm (state, all);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("move");
  TCase *one = tcase_create ("one");
  tcase_add_test (one, the_shortest_way_inside);
  tcase_add_test (one, what_loses_nothing_stays);
  tcase_add_test (one, too_large_a_piece_saves_what_it_can);
  suite_add_tcase (suite, one);
  TCase *all = tcase_create ("all");
  tcase_set_timeout (all, 100);
  tcase_add_test (all, edges_alone_take_the_shortest_ways);
  tcase_add_test (all, neighbours_give_way);
  tcase_add_test (all, a_pair_parts_by_the_least_move);
  tcase_add_test (all, pinned_pieces_stay);
  tcase_add_test (all, a_heap_is_spread);
  tcase_add_test (all, what_cannot_be_cleared_is_left);
  tcase_add_loop_test (all, among_pinned_ones_the_nearest_place_is_found, 0, 12);
  tcase_add_loop_test (all, it_never_gets_worse_and_is_always_the_same, 0, 12);
  suite_add_tcase (suite, all);
  return sb_run_suite (suite);
}
