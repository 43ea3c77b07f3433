/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "make-job.h"

static guint
design_id (const SbState *state, guint i)
{
  return ((SbDesign *)state->designs->pdata[i])->id;
}

static void
expect_order (const SbState *state, guint page_index, guint n, ...)
{
  const SbPage *page = sb_state_get_page (state, page_index);
  ck_assert_uint_eq (page->n_pieces, n);
  va_list ids;
  va_start (ids, n);
  for (guint i = 0; i < n; i++)
    ck_assert_uint_eq (page->pieces[i].id, va_arg (ids, guint));
  va_end (ids);
}

START_TEST (test_names_become_unique)
{
  g_autoptr (SbState) state = sb_make_job (0);
  for (int i = 0; i < 3; i++)
    sb_take (&state, sb_edit_add_design (state, sb_make_design ("radish", i, 20, 15), NULL));
  ck_assert_ptr_nonnull (sb_state_find_design (state, "radish"));
  ck_assert_ptr_nonnull (sb_state_find_design (state, "radish 2"));
  ck_assert_ptr_nonnull (sb_state_find_design (state, "radish 3"));

  SbDesign *renamed = sb_design_copy (state->designs->pdata[2]);
  sb_design_set_name (renamed, "radish");
  g_autoptr (SbState) next = sb_edit_replace_design (state, renamed);
  ck_assert_msg (next == state, "the name it would get is the one it has");
}
END_TEST

START_TEST (test_long_names_stay_within_their_length)
{
  g_autoptr (SbState) state = sb_make_job (0);
  g_autofree char *name = g_strnfill (SB_NAME_MOST, 'b');
  for (guint i = 0; i < 3; i++) {
    sb_take (&state, sb_edit_add_design (state, sb_make_design (name, i, 20, 15), NULL));
    const SbDesign *design = state->designs->pdata[i];
    ck_assert_uint_eq (strlen (design->name), SB_NAME_MOST);
  }
  ck_assert_str_ne (((SbDesign *)state->designs->pdata[1])->name,
                    ((SbDesign *)state->designs->pdata[2])->name);
}
END_TEST

START_TEST (test_equal_artwork_is_held_once)
{
  g_autoptr (SbState) state = sb_make_job (0);
  sb_take (&state, sb_edit_add_design (state, sb_make_design ("rue", 7, 20, 15), NULL));
  sb_take (&state, sb_edit_add_design (state, sb_make_design ("rue", 7, 20, 15), NULL));
  const SbDesign *a = state->designs->pdata[0];
  const SbDesign *b = state->designs->pdata[1];
  ck_assert_ptr_eq (a->picture, b->picture);
}
END_TEST

START_TEST (test_an_edit_shares_what_it_leaves)
{
  g_autoptr (SbState) state = sb_make_job (2);
  sb_take (&state, sb_edit_add_page (state, 1));
  g_autoptr (SbState) next =
      sb_edit_add_piece (state, 1, (SbPiece){.design_id = design_id (state, 0)}, NULL);
  ck_assert_ptr_eq (next->pages->pdata[0], state->pages->pdata[0]);
  ck_assert_ptr_ne (next->pages->pdata[1], state->pages->pdata[1]);
  ck_assert_ptr_eq (next->designs->pdata[0], state->designs->pdata[0]);
  ck_assert_uint_eq (sb_state_get_page (state, 1)->n_pieces, 0);
}
END_TEST

START_TEST (test_removing_a_design_takes_its_pieces)
{
  g_autoptr (SbState) state = sb_make_job (2);
  guint gone = design_id (state, 0), kept = design_id (state, 1);
  sb_make_piece (&state, gone, 50, 50);
  guint piece = sb_make_piece (&state, kept, 100, 50);
  sb_make_piece (&state, gone, 150, 50);
  g_autoptr (SbState) next = sb_edit_remove_design (state, gone);
  expect_order (next, 0, 1, piece);
  ck_assert_uint_eq (next->designs->len, 1);
  ck_assert_uint_eq (sb_state_get_page (state, 0)->n_pieces, 3);
}
END_TEST

START_TEST (test_reordering_designs)
{
  g_autoptr (SbState) state = sb_make_job (3);
  guint a = design_id (state, 0), b = design_id (state, 1), c = design_id (state, 2);
  g_autoptr (SbState) last = sb_edit_reorder_design (state, a, 99);
  ck_assert_uint_eq (design_id (last, 0), b);
  ck_assert_uint_eq (design_id (last, 2), a);
  g_autoptr (SbState) first = sb_edit_reorder_design (state, c, 0);
  ck_assert_uint_eq (design_id (first, 0), c);
  ck_assert_uint_eq (design_id (first, 1), a);
  g_autoptr (SbState) same = sb_edit_reorder_design (state, b, 1);
  ck_assert_ptr_eq (same, state);
}
END_TEST

START_TEST (test_pieces_are_tidied)
{
  g_autoptr (SbState) state = sb_make_job (1);
  guint id = sb_make_piece (&state, design_id (state, 0), 50, 50);
  SbPiece wild = {id, 4242, {G_MAXINT32, G_MININT32}, -90000, 7};
  g_autoptr (SbState) next = sb_edit_set_pieces (state, &wild, 1);
  const SbPiece *piece = sb_state_get_piece (next, id, NULL);
  ck_assert_int_eq (piece->at.x, SB_PIECE_FARTHEST);
  ck_assert_int_eq (piece->at.y, -SB_PIECE_FARTHEST);
  ck_assert_int_eq (piece->turn, 270000);
  ck_assert_int_eq (piece->pinned, TRUE);
  ck_assert_msg (piece->design_id == design_id (state, 0), "a piece stays of its design");
}
END_TEST

START_TEST (test_raising_and_moving_keep_the_order)
{
  g_autoptr (SbState) state = sb_make_job (1);
  guint d = design_id (state, 0);
  guint p[4];
  for (int i = 0; i < 4; i++)
    p[i] = sb_make_piece (&state, d, 30 + 30 * i, 50);
  guint chosen[2] = {p[2], p[0]};

  g_autoptr (SbState) raised = sb_edit_raise_pieces (state, chosen, 2);
  expect_order (raised, 0, 4, p[1], p[3], p[0], p[2]);
  g_autoptr (SbState) again = sb_edit_raise_pieces (raised, chosen, 2);
  ck_assert_ptr_eq (again, raised);

  g_autoptr (SbState) two = sb_edit_add_page (state, 1);
  g_autoptr (SbState) moved = sb_edit_move_pieces_to_page (two, chosen, 2, 1);
  expect_order (moved, 0, 2, p[1], p[3]);
  expect_order (moved, 1, 2, p[0], p[2]);
  g_autoptr (SbState) stays = sb_edit_move_pieces_to_page (moved, chosen, 2, 1);
  ck_assert_ptr_eq (stays, moved);
}
END_TEST

START_TEST (test_the_last_page_is_emptied)
{
  g_autoptr (SbState) state = sb_make_job (1);
  sb_make_piece (&state, design_id (state, 0), 50, 50);
  g_autoptr (SbState) empty = sb_edit_remove_page (state, 0);
  ck_assert_uint_eq (empty->pages->len, 1);
  ck_assert_uint_eq (sb_state_get_page (empty, 0)->n_pieces, 0);
  g_autoptr (SbState) same = sb_edit_remove_page (empty, 0);
  ck_assert_ptr_eq (same, empty);
}
END_TEST

START_TEST (test_setting_pages_gives_ids)
{
  g_autoptr (SbState) state = sb_make_job (1);
  guint d = design_id (state, 0);
  SbPiece pieces[2] = {{.design_id = d, .at = {1, 2}}, {.design_id = d, .at = {3, 4}}};
  g_autoptr (SbPage) page = sb_page_new (0, pieces, 2);
  SbPage *pages[2] = {state->pages->pdata[0], page};
  g_autoptr (SbState) next = sb_edit_set_pages (state, pages, 2);
  ck_assert_uint_eq (next->pages->len, 2);
  const SbPage *made = sb_state_get_page (next, 1);
  ck_assert_uint_ne (made->id, 0);
  ck_assert_uint_ne (made->pieces[0].id, 0);
  ck_assert_uint_ne (made->pieces[0].id, made->pieces[1].id);
  ck_assert_uint_eq (page->pieces[0].id, 0);

  g_autoptr (SbState) same = sb_edit_set_pages (next, (SbPage **)next->pages->pdata, 2);
  ck_assert_ptr_eq (same, next);
}
END_TEST

START_TEST (test_edits_that_change_nothing_give_the_same_state)
{
  g_autoptr (SbState) state = sb_make_job (2);
  guint id = sb_make_piece (&state, design_id (state, 0), 50, 50);
  const SbPiece *piece = sb_state_get_piece (state, id, NULL);
  SbState *same[] = {
      sb_edit_replace_design (state, sb_design_copy (state->designs->pdata[0])),
      sb_edit_reorder_design (state, design_id (state, 1), 1),
      sb_edit_set_pieces (state, piece, 1),
      sb_edit_set_pieces (state, NULL, 0),
      sb_edit_remove_pieces (state, NULL, 0),
      sb_edit_move_pieces_to_page (state, &id, 1, 0),
      sb_edit_raise_pieces (state, &id, 1),
      sb_edit_set_pages (state, (SbPage **)state->pages->pdata, state->pages->len),
      sb_edit_set_paper (state, state->paper_name, state->page_width, state->page_height),
      sb_edit_set_margins (state, state->margins, state->margins_source),
      sb_edit_set_printer (state, NULL),
      sb_edit_set_gap (state, state->gap),
      sb_edit_set_stock (state, &state->stock),
  };
  for (gsize i = 0; i < G_N_ELEMENTS (same); i++) {
    ck_assert_msg (same[i] == state, "edit %zu made another state", i);
    sb_state_unref (same[i]);
  }
}
END_TEST

START_TEST (test_the_sheet)
{
  g_autoptr (SbState) state = sb_make_job (0);
  sb_take (&state, sb_edit_set_paper (state, "na_letter_8.5x11in", 279400, 215900));
  sb_take (&state, sb_edit_set_margins (state, (SbMargins){1, -2, 3, 4}, SB_MARGINS_TYPED));
  sb_take (&state, sb_edit_set_printer (state, "shed"));
  sb_take (&state, sb_edit_set_gap (state, 3000));
  SbStock vinyl = {"Clear vinyl", FALSE, TRUE, TRUE, 24, 0xe8eef0};
  sb_take (&state, sb_edit_set_stock (state, &vinyl));
  ck_assert_int_eq (state->page_width, 279400);
  ck_assert_int_eq (state->margins.right, 0);
  ck_assert_str_eq (state->printer, "shed");
  ck_assert_int_eq (state->gap, 3000);
  ck_assert (sb_stock_equal (&state->stock, &vinyl));
  ck_assert_ptr_ne (state->stock.name, vinyl.name);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("edit");
  TCase *tcase = tcase_create ("edit");
  tcase_add_test (tcase, test_names_become_unique);
  tcase_add_test (tcase, test_long_names_stay_within_their_length);
  tcase_add_test (tcase, test_equal_artwork_is_held_once);
  tcase_add_test (tcase, test_an_edit_shares_what_it_leaves);
  tcase_add_test (tcase, test_removing_a_design_takes_its_pieces);
  tcase_add_test (tcase, test_reordering_designs);
  tcase_add_test (tcase, test_pieces_are_tidied);
  tcase_add_test (tcase, test_raising_and_moving_keep_the_order);
  tcase_add_test (tcase, test_the_last_page_is_emptied);
  tcase_add_test (tcase, test_setting_pages_gives_ids);
  tcase_add_test (tcase, test_edits_that_change_nothing_give_the_same_state);
  tcase_add_test (tcase, test_the_sheet);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
