/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "job/job-json.h"
#include "job/job.h"
#include "job/layout-view.h"
#include "make-job.h"

/* A job of two designs with a sheet of 100 x 150 mm that holds one piece of the first. */
static SbState *
make_sheet_job (guint *layout_id)
{
  SbState *state = sb_make_job (2);
  SbLayout *layout = sb_layout_new (SB_LAYOUT_SHEET, "Garden", 100000, 150000);
  SbPiece piece = {
      .design_id = ((SbDesign *)state->designs->pdata[0])->id, .at = {30000, 20000}, .turn = 10000};
  sb_layout_set_pieces (layout, &piece, 1);
  sb_take (&state, sb_edit_add_layout (state, layout, layout_id));
  return state;
}

static void
lay (SbState **state, guint layout_id, const SbPlacement *placements, guint n)
{
  g_autoptr (SbPage) page = sb_page_new_laid (0, layout_id, placements, n);
  SbPage *pages[2] = {(*state)->pages->pdata[0], page};
  sb_take (state, sb_edit_set_pages (*state, pages, 2));
}

/* Facts of the trade (common practice): a bag header 3.25 in wide that is folded to 1.5 in is a
 * flat card of 3.25 x 3 in. */
START_TEST (test_a_header_card_is_twice_its_folded_height)
{
  g_autoptr (SbLayout) header = sb_layout_new_header ("Rue", 82550, 38100);
  ck_assert_int_eq (header->width, 82550);
  ck_assert_int_eq (header->height, 76200);
  ck_assert_int_eq (sb_layout_get_fold (header), 38100);
}
END_TEST

/* Handbook 3.4: a backing card is 3 to 6 mm narrower than the inside of its bag. */
START_TEST (test_a_backing_card_is_smaller_than_its_bag)
{
  g_autoptr (SbLayout) backing =
      sb_layout_new_backing ("Rue", 76200, 101600, SB_BACKING_LESS_WIDE, SB_BACKING_LESS_HIGH);
  ck_assert_int_ge (76200 - backing->width, 3000);
  ck_assert_int_le (76200 - backing->width, 6000);
  ck_assert_int_eq (backing->height, 91600);
  ck_assert_int_eq (sb_layout_get_fold (backing), -1);
}
END_TEST

START_TEST (test_numbers_are_taken_to_their_range)
{
  g_autoptr (SbLayout) layout = sb_layout_new (SB_LAYOUT_SHEET, " a\n", 1, G_MAXINT32);
  layout->lane = 1000;
  layout->corner = -3;
  layout->background = 0x1000000;
  sb_layout_tidy (layout);
  ck_assert_int_eq (layout->width, SB_LAYOUT_LEAST);
  ck_assert_int_eq (layout->height, SB_LAYOUT_MOST);
  ck_assert_int_eq (layout->lane, SB_LAYOUT_LANE_LEAST);
  ck_assert_int_eq (layout->corner, 0);
  ck_assert_int_eq (layout->background, 0xffffff);
  ck_assert_str_eq (layout->name, "a");
}
END_TEST

START_TEST (test_names_and_ids_are_unique)
{
  guint id;
  g_autoptr (SbState) state = make_sheet_job (&id);
  guint second;
  sb_take (&state, sb_edit_add_layout (
                       state, sb_layout_new (SB_LAYOUT_SHEET, "Garden", 90000, 90000), &second));
  const SbLayout *layout = sb_state_get_layout (state, id);
  ck_assert_ptr_eq (sb_state_find_layout (state, "Garden"), layout);
  ck_assert_ptr_eq (sb_state_find_layout (state, "Garden 2"), sb_state_get_layout (state, second));
  ck_assert_uint_ne (layout->pieces[0].id, 0);
  ck_assert_uint_ne (layout->pieces[0].id, second);
}
END_TEST

/* A quarter turn clockwise takes the layout's top left corner to its box's top right one, and what
 * was right of it goes below. */
START_TEST (test_pieces_turn_with_their_layout)
{
  g_autoptr (SbLayout) layout = sb_layout_new (SB_LAYOUT_SHEET, "a", 100000, 150000);
  SbPlacement turned = {{1000, 2000}, TRUE};
  SbIBox box = sb_placement_get_box (layout, &turned);
  ck_assert_int_eq (box.x1, 151000);
  ck_assert_int_eq (box.y1, 102000);
  SbPiece piece =
      sb_placement_lay_piece (layout, &turned, (SbPiece){.at = {10, 20}, .turn = 300000});
  ck_assert_int_eq (piece.at.x, 151000 - 20);
  ck_assert_int_eq (piece.at.y, 2000 + 10);
  ck_assert_int_eq (piece.turn, 30000);
  SbPoint same =
      sb_transform_point (sb_placement_get_transform (layout, &turned), (SbPoint){0.01, 0.02});
  ck_assert_double_eq_tol (same.x, sb_um_to_mm (piece.at.x), 1e-9);
  ck_assert_double_eq_tol (same.y, sb_um_to_mm (piece.at.y), 1e-9);

  SbPlacement upright = {{1000, 2000}, FALSE};
  piece = sb_placement_lay_piece (layout, &upright, (SbPiece){.at = {10, 20}});
  ck_assert_int_eq (piece.at.x, 1010);
  ck_assert_int_eq (piece.at.y, 2020);
}
END_TEST

START_TEST (test_expanding_lays_every_copy)
{
  guint id;
  g_autoptr (SbState) state = make_sheet_job (&id);
  SbPlacement placements[] = {{{0, 0}, FALSE}, {{100000, 0}, FALSE}, {{5000, 160000}, TRUE}};
  lay (&state, id, placements, G_N_ELEMENTS (placements));
  ck_assert_int_eq (sb_state_count_laid (state, id), 3);

  g_autoptr (SbState) plain = sb_state_expand (state);
  const SbPage *page = sb_state_get_page (plain, 1);
  ck_assert_uint_eq (page->n_pieces, 3);
  ck_assert_uint_eq (page->layout_id, 0);
  ck_assert_int_eq (page->pieces[1].at.x, 130000);
  ck_assert_int_eq (page->pieces[2].turn, 100000);
  const SbLayout *layout = sb_state_get_layout (state, id);
  for (guint i = 0; i < 3; i++) {
    ck_assert_uint_ge (page->pieces[i].id, state->next_id);
    ck_assert_ptr_eq (sb_page_get_source (state, sb_state_get_page (state, 1), i), layout->pieces);
  }
  /* Laid out once, there is nothing more to lay out. */
  g_autoptr (SbState) again = sb_state_expand (plain);
  ck_assert_ptr_eq (again, plain);
  /* A job is edited as it was. */
  ck_assert_uint_eq (sb_state_get_page (state, 1)->n_pieces, 0);
}
END_TEST

START_TEST (test_a_view_is_edited_like_a_page)
{
  guint id;
  g_autoptr (SbState) state = make_sheet_job (&id);
  g_autoptr (SbState) view = sb_layout_to_state (state, id);
  ck_assert_uint_eq (view->pages->len, 1);
  ck_assert_int_eq (view->page_width, 100000);
  ck_assert_int_eq (view->margins.left, sb_state_get_layout (state, id)->edge);
  g_autoptr (SbState) same = sb_layout_from_state (state, view);
  ck_assert_ptr_eq (same, state);

  SbPiece piece = {.design_id = ((SbDesign *)state->designs->pdata[1])->id, .at = {50000, 90000}};
  guint piece_id;
  sb_take (&view, sb_edit_add_piece (view, 0, piece, &piece_id));
  sb_take (&view, sb_edit_set_gap (view, 2500));
  g_autoptr (SbState) next = sb_layout_from_state (state, view);
  const SbLayout *layout = sb_state_get_layout (next, id);
  ck_assert_uint_eq (layout->n_pieces, 2);
  ck_assert_uint_eq (layout->pieces[1].id, piece_id);
  ck_assert_int_eq (layout->gap, 2500);
  ck_assert_int_eq (next->gap, state->gap);
  ck_assert_uint_gt (next->next_id, piece_id);
  ck_assert_uint_eq (sb_state_get_page (next, 0)->n_pieces, 0);
}
END_TEST

START_TEST (test_a_design_removed_in_a_view_is_gone_everywhere)
{
  guint id;
  g_autoptr (SbState) state = make_sheet_job (&id);
  guint design = ((SbDesign *)state->designs->pdata[0])->id;
  sb_make_piece (&state, design, 50, 50);
  g_autoptr (SbState) view = sb_layout_to_state (state, id);
  sb_take (&view, sb_edit_remove_design (view, design));
  g_autoptr (SbState) next = sb_layout_from_state (state, view);
  ck_assert_uint_eq (next->designs->len, 1);
  ck_assert_uint_eq (sb_state_get_layout (next, id)->n_pieces, 0);
  ck_assert_uint_eq (sb_state_get_page (next, 0)->n_pieces, 0);
}
END_TEST

START_TEST (test_removing_a_layout_takes_its_pages)
{
  guint id;
  g_autoptr (SbState) state = make_sheet_job (&id);
  SbPlacement placement = {{0, 0}, FALSE};
  lay (&state, id, &placement, 1);
  sb_take (&state, sb_edit_remove_page (state, 0));
  sb_take (&state, sb_edit_remove_layout (state, id));
  ck_assert_uint_eq (state->layouts->len, 0);
  ck_assert_uint_eq (state->pages->len, 1);
  ck_assert_uint_eq (sb_state_get_page (state, 0)->layout_id, 0);
}
END_TEST

START_TEST (test_edits_that_change_nothing_give_the_same_state)
{
  guint id;
  g_autoptr (SbState) state = make_sheet_job (&id);
  g_autoptr (SbState) same =
      sb_edit_replace_layout (state, sb_layout_copy (sb_state_get_layout (state, id)));
  ck_assert_ptr_eq (same, state);
}
END_TEST

/* Guides in a sheet are pale and thin, for the knife; a card is cut, not what is printed on it. */
START_TEST (test_guides_follow_the_layout)
{
  g_autoptr (SbDesign) design = sb_make_design ("rue", 1, 20, 15);
  g_autoptr (SbLayout) sheet = sb_layout_new (SB_LAYOUT_SHEET, "a", 100000, 150000);
  g_autoptr (SbLayout) card = sb_layout_new (SB_LAYOUT_BACKING, "a", 100000, 150000);
  ck_assert_int_eq (sb_layout_get_guide (NULL, design).style, SB_GUIDE_SCISSORS);
  ck_assert_int_eq (sb_layout_get_guide (sheet, design).style, SB_GUIDE_KNIFE);
  ck_assert_int_eq (sb_layout_get_guide (card, design).style, SB_GUIDE_OFF);
  design->guide.style = SB_GUIDE_OFF;
  ck_assert_int_eq (sb_layout_get_guide (sheet, design).style, SB_GUIDE_OFF);
}
END_TEST

START_TEST (test_history_knows_whole_jobs)
{
  guint id;
  g_autoptr (SbState) state = make_sheet_job (&id);
  g_autoptr (SbJob) job = sb_job_new (state);
  sb_job_set_view (job, id);
  ck_assert_ptr_nonnull (sb_job_get_state (job)->view);
  ck_assert_ptr_eq (sb_job_get_whole_state (job), state);
  ck_assert (!sb_job_is_modified (job));

  SbPiece piece = {.design_id = ((SbDesign *)state->designs->pdata[1])->id, .at = {50000, 90000}};
  SbState *view = sb_job_get_settled_state (job);
  sb_job_preview (job, sb_edit_add_piece (view, 0, piece, NULL));
  ck_assert_uint_eq (sb_state_get_page (sb_job_get_state (job), 0)->n_pieces, 2);
  ck_assert_ptr_eq (sb_job_get_whole_state (job), state);
  sb_job_edit (job, sb_edit_add_piece (view, 0, piece, NULL), "Place", NULL);
  ck_assert_uint_eq (sb_state_get_layout (sb_job_get_whole_state (job), id)->n_pieces, 2);
  ck_assert_ptr_null (sb_job_get_whole_state (job)->view);
  ck_assert (sb_job_is_modified (job));

  /* What changes nothing is no step. */
  sb_job_edit (job, sb_state_ref (sb_job_get_settled_state (job)), "Nothing", NULL);
  ck_assert_str_eq (sb_job_get_undo_name (job), "Place");
  sb_job_undo (job);
  ck_assert_uint_eq (sb_state_get_page (sb_job_get_state (job), 0)->n_pieces, 1);
  ck_assert_uint_eq (sb_job_get_view (job), id);

  /* The view goes with its layout. */
  sb_job_edit (job, sb_edit_remove_layout (sb_job_get_whole_state (job), id), "Remove", NULL);
  ck_assert_uint_eq (sb_job_get_view (job), 0);
  ck_assert_ptr_null (sb_job_get_state (job)->view);
}
END_TEST

/* Reading JSON */

static SbPicture *
find_seed (const char *name, gpointer data, GError **error)
{
  const SbState *state = data;
  for (guint i = 0; i < state->designs->len; i++) {
    const SbDesign *design = state->designs->pdata[i];
    g_autofree char *its_name = sb_artwork_get_name (design->picture);
    if (g_str_equal (its_name, name))
      return sb_picture_ref (design->picture);
  }
  g_set_error_literal (error, G_FILE_ERROR, G_FILE_ERROR_NOENT, "missing");
  return NULL;
}

static SbState *
read_changed (SbState *state, const char *from, const char *to, GError **error)
{
  gsize length;
  g_autofree char *json = sb_job_json_write (state, &length);
  g_autoptr (GString) text = g_string_new (json);
  ck_assert_msg (g_string_replace (text, from, to, 1) == 1, "%s is not in %s", from, json);
  return sb_job_json_read (text->str, text->len, find_seed, state, error);
}

static SbState *
make_laid_job (void)
{
  guint id;
  SbState *state = make_sheet_job (&id);
  SbPlacement placements[] = {{{0, 0}, FALSE}, {{-7, 160000}, TRUE}};
  lay (&state, id, placements, 2);
  return state;
}

START_TEST (test_layouts_round_trip)
{
  g_autoptr (SbState) state = make_laid_job ();
  g_autoptr (GError) error = NULL;
  g_autoptr (SbState) read =
      read_changed (state, "\"kind\":\"sheet\"", "\"kind\":\"sheet\"", &error);
  ck_assert_msg (read != NULL, "%s", error ? error->message : "");
  ck_assert (sb_state_equal (state, read));
}
END_TEST

START_TEST (test_unknown_fields_survive)
{
  g_autoptr (SbState) state = make_laid_job ();
  g_autoptr (SbState) read =
      read_changed (state, "\"kind\":\"sheet\"", "\"kind\":\"sheet\",\"new\":\"layout\"", NULL);
  ck_assert_ptr_nonnull (read);
  SbLayout *layout = sb_layout_copy (read->layouts->pdata[0]);
  layout->wanted = 7;
  sb_take (&read, sb_edit_replace_layout (read, layout));
  gsize length;
  g_autofree char *json = sb_job_json_write (read, &length);
  ck_assert_ptr_nonnull (strstr (json, "\"new\":\"layout\""));
  ck_assert_ptr_nonnull (strstr (json, "\"wanted\":7"));
}
END_TEST

START_TEST (test_hostile_layouts_are_refused)
{
  static const struct {
    const char *from, *to, *reason;
  } cases[] = {
      {"\"kind\":\"sheet\"", "\"kind\":\"tent\"", "tent"},
      {"\"width_um\":100000", "\"width_um\":0", "width_um"},
      {"\"lane_um\":0", "\"lane_um\":1", "lane_um"},
      {"\"background_rgb\":-1", "\"background_rgb\":16777216", "background_rgb"},
      {"\"wanted\":1,\"pieces\"", "\"wanted\":-1,\"pieces\"", "wanted"},
      {"\"layout\":4", "\"layout\":2", "not there"},
      {"\"layouts\":[", "\"layouts\":[],\"x\":[", "not there"},
      {"\"layouts\":[", "\"layouts\":[3,", "not an object"},
      {"\"placements\":[", "\"placements\":7,\"x\":[", "not a list"},
      {"\"x_um\":-7", "\"x_um\":-5000001", "x_um"},
      {"\"turned\":true", "\"turned\":1", "neither true nor false"},
      {"\"design\":2", "\"design\":77", "not there"},
  };
  g_autoptr (SbState) state = make_laid_job ();
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (GError) error = NULL;
    ck_assert_ptr_null (read_changed (state, cases[i].from, cases[i].to, &error));
    ck_assert_msg (strstr (error->message, cases[i].reason) != NULL, "case %zu: %s", i,
                   error->message);
  }
}
END_TEST

/* A small file must not become a job that no memory holds. */
START_TEST (test_a_job_that_grows_without_end_is_refused)
{
  guint id;
  g_autoptr (SbState) state = make_sheet_job (&id);
  const guint n_pieces = 2000, n_placements = SB_JOB_MOST_EXPANDED / n_pieces + 1;
  g_autofree SbPiece *pieces = g_new0 (SbPiece, n_pieces);
  for (guint i = 0; i < n_pieces; i++)
    pieces[i].design_id = ((SbDesign *)state->designs->pdata[0])->id;
  SbLayout *layout = sb_layout_copy (sb_state_get_layout (state, id));
  sb_layout_set_pieces (layout, pieces, n_pieces);
  sb_take (&state, sb_edit_replace_layout (state, layout));
  g_autofree SbPlacement *placements = g_new0 (SbPlacement, n_placements);
  lay (&state, id, placements, n_placements);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (read_changed (state, "\"kind\"", "\"kind\"", &error));
  ck_assert_ptr_nonnull (strstr (error->message, "placements"));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("layout");
  TCase *tcase = tcase_create ("layout");
  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, test_a_header_card_is_twice_its_folded_height);
  tcase_add_test (tcase, test_a_backing_card_is_smaller_than_its_bag);
  tcase_add_test (tcase, test_numbers_are_taken_to_their_range);
  tcase_add_test (tcase, test_names_and_ids_are_unique);
  tcase_add_test (tcase, test_pieces_turn_with_their_layout);
  tcase_add_test (tcase, test_expanding_lays_every_copy);
  tcase_add_test (tcase, test_a_view_is_edited_like_a_page);
  tcase_add_test (tcase, test_a_design_removed_in_a_view_is_gone_everywhere);
  tcase_add_test (tcase, test_removing_a_layout_takes_its_pages);
  tcase_add_test (tcase, test_edits_that_change_nothing_give_the_same_state);
  tcase_add_test (tcase, test_guides_follow_the_layout);
  tcase_add_test (tcase, test_history_knows_whole_jobs);
  tcase_add_test (tcase, test_layouts_round_trip);
  tcase_add_test (tcase, test_unknown_fields_survive);
  tcase_add_test (tcase, test_hostile_layouts_are_refused);
  tcase_add_test (tcase, test_a_job_that_grows_without_end_is_refused);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
