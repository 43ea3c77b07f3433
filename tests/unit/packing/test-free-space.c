/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Live free space and What if, against the exact check and sums by hand. */
#include <math.h>

#include "box-job.h"
#include "geometry/relation.h"
#include "packing/arrange.h"
#include "packing/free-room.h"
#include "packing/free-space.h"
#include "packing/random.h"
#include "packing/layout.h"
#include "packing/what-if.h"
#include "suite.h"

static SbDesign *
design_of (const SbState *state, guint index)
{
  return state->designs->pdata[index];
}

/* Whether a piece may lie there, the slow way. */
static gboolean
is_valid_at (const SbState *state, const SbDesign *design, gint32 turn, SbIPoint at, guint except)
{
  SbPiece piece = {.at = at, .turn = turn};
  g_autoptr (SbPolygon) outline = sb_piece_get_outline (design, &piece);
  if (!sb_polygon_inside_box (outline, sb_state_get_printable_box (state)))
    return FALSE;
  const SbPage *page = sb_state_get_page (state, 0);
  for (guint i = 0; i < page->n_pieces; i++) {
    const SbPiece *other = &page->pieces[i];
    g_autoptr (SbPolygon) there =
        sb_piece_get_outline (sb_state_get_design (state, other->design_id), other);
    if (other->id != except && sb_polygons_closer_than (outline, there, state->gap))
      return FALSE;
  }
  return TRUE;
}

static SbState *
make_job (void)
{
  SbState *state = sb_make_letter (6350, 3000);
  guint id;
  sb_take (&state, sb_edit_add_design (state, sb_make_design ("marrow", 0x336633, 60, 30), &id));
  for (guint i = 0; i < 9; i++) {
    SbPiece piece = {.design_id = id,
                     .at = {45000 + (sb_um)(i % 3) * 65000, 40000 + (sb_um)(i / 3) * 80000},
                     .turn = (gint32)(i * 37000)};
    sb_take (&state, sb_edit_add_piece (state, 0, piece, NULL));
  }
  sb_take (&state, sb_edit_add_design (state, sb_make_design ("pea", 0x55aa55, 14, 9), NULL));
  return state;
}

START_TEST (free_is_never_false)
{
  g_autoptr (SbState) state = make_job ();
  guint dragged = sb_state_get_page (state, 0)->pieces[4].id, free_places = 0;
  for (guint seed = 0; seed < 6; seed++) {
    SbRandom random = sb_random_stream (seed, 0);
    SbDesign *design = design_of (state, seed % 2);
    gint32 turn = sb_random_between (&random, 0, 359999);
    g_autoptr (SbFreeSpace) space = sb_free_space_new (state, 0, design, turn, &dragged, 1);
    for (guint k = 0; k < 400; k++) {
      SbIPoint at = {sb_random_between (&random, 0, state->page_width),
                     sb_random_between (&random, 0, state->page_height)};
      gboolean free = sb_free_space_is_free (space, at),
               valid = is_valid_at (state, design, turn, at, dragged);
      ck_assert_msg (valid || !free, "seed %u: (%d, %d) is called free", seed, at.x, at.y);
      free_places += free;
      SbIPoint nearest;
      ck_assert (sb_free_space_get_nearest (space, at, &nearest));
      ck_assert (is_valid_at (state, design, turn, nearest, dragged));
      if (free)
        ck_assert (nearest.x == at.x && nearest.y == at.y);
    }
  }
  ck_assert_uint_gt (free_places, 100);
}
END_TEST

START_TEST (the_mask_tells_free_places)
{
  g_autoptr (SbState) state = make_job ();
  SbDesign *design = design_of (state, 1);
  g_autoptr (SbFreeSpace) space = sb_free_space_new (state, 0, design, 30000, NULL, 0);
  const SbFreeMask *mask = sb_free_space_get_mask (space);
  ck_assert_uint_gt (mask->columns, 700);
  guint n_free = 0;
  for (guint row = 0; row < mask->rows; row += 13)
    for (guint column = 0; column < mask->columns; column += 17) {
      SbIPoint at = {mask->origin.x + (sb_um)column * mask->step,
                     mask->origin.y + (sb_um)row * mask->step};
      gboolean free = mask->data[(gsize)row * mask->stride + column] != 0;
      n_free += free;
      ck_assert_int_eq (free, sb_free_space_is_free (space, at));
    }
  ck_assert_uint_gt (n_free, 100);
}
END_TEST

START_TEST (nearest_is_near)
{
  /* A box in the middle; a box dragged from its centre goes out by half of both and the gap. */
  g_autoptr (SbState) state = sb_make_letter (6350, 3000);
  guint id = sb_add_box (&state, "label", 44, 24, 3); /* 50 x 30 with its border */
  sb_make_piece (&state, id, 108, 140);
  g_autoptr (SbFreeSpace) space = sb_free_space_new (state, 0, design_of (state, 0), 0, NULL, 0);
  SbIPoint nearest;
  ck_assert (sb_free_space_get_nearest (space, (SbIPoint){108000, 141000}, &nearest));
  ck_assert_int_le (abs (nearest.x - 108000), 300);
  ck_assert_int_ge (nearest.y, 173000);
  ck_assert_int_le (nearest.y, 173060);
}
END_TEST

START_TEST (the_largest_size_fits_and_a_larger_one_does_not)
{
  g_autoptr (SbState) state = sb_make_letter (6350, 3000);
  guint id = sb_add_box (&state, "label", 44, 24, 3); /* 50 x 30 */
  sb_make_piece (&state, id, 60, 100);                /* reaches x = 85, y = 85..115 */
  g_autoptr (SbFreeSpace) space = sb_free_space_new (state, 0, design_of (state, 0), 0, NULL, 0);
  /* 85 + 3 um of gap to x = 88; centre 138: half a width of 50 fits, 25 now: factor 2. */
  double factor = sb_free_space_get_largest_scale (space, (SbIPoint){138000, 100000}, 10);
  ck_assert_double_ge (factor, 1.98);
  ck_assert_double_le (factor, 2.0);
  /* On top of the other one nothing fits. */
  ck_assert_double_eq (sb_free_space_get_largest_scale (space, (SbIPoint){60000, 100000}, 10), 0);
  ck_assert_double_eq (sb_free_space_get_largest_scale (space, (SbIPoint){138000, 200000}, 1.2),
                       1.2);
}
END_TEST

/* A flower of round lobes with nooks between them, cut into many parts, some of them slivers. */
static SbDesign *
make_flower (double size_mm)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_string_append_printf (text,
                          "<svg xmlns='http://www.w3.org/2000/svg' width='%.1fmm' height='%.1fmm' "
                          "viewBox='-1 -1 2 2'>",
                          size_mm, size_mm);
  for (int i = 0; i < 7; i++)
    g_string_append_printf (text, "<circle cx='%.4f' cy='%.4f' r='0.38'/>",
                            0.6 * cos (i * G_PI / 3.5), 0.6 * sin (i * G_PI / 3.5));
  g_string_append (text, "</svg>");
  g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "flower.svg", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  SbDesign *design = sb_design_new (picture, "flower");
  SbBorderParams border = sb_border_params_default ();
  border.nook_mm = border.width_mm = 0.5;
  sb_design_set_border (design, &border);
  ck_assert_msg (sb_design_prepare (design, NULL, &error), "%s", error ? error->message : "");
  return design;
}

START_TEST (small_sizes_stay_convex)
{
  /* Corners that are shrunk to a hundredth lie a few um apart, and rounding dents what they are the
   * corners of: a region of keep-out made of that would have more edges than it has room for. */
  g_autoptr (SbState) state = sb_make_letter (6350, 1000);
  guint id;
  sb_take (&state, sb_edit_add_design (state, make_flower (8), &id));
  for (int i = 0; i < 4; i++)
    sb_make_piece (&state, id, 100 + 11 * (i % 2), 100 + 11 * (i / 2));
  for (gint32 turn = 0; turn < 180000; turn += 7000) {
    g_autoptr (SbFreeSpace) space =
        sb_free_space_new (state, 0, design_of (state, 0), turn, NULL, 0);
    for (sb_um x = 90000; x < 130000; x += 1500) {
      SbIPoint at = {x, 105500};
      double factor = sb_free_space_get_largest_scale (space, at, 4);
      if (factor > 1.01)
        ck_assert (sb_free_space_is_free (space, at));
    }
  }
}
END_TEST

/* How many freebies the exact map of free-space.h finds a place for in eight turns, one at a time,
 * when the gap is `more` um wider. */
static guint
count_with_room (const SbState *state, sb_um more)
{
  g_autoptr (SbState) wider = sb_edit_set_gap (state, state->gap + more);
  guint n = 0;
  for (guint i = 0; i < wider->designs->len; i++) {
    gboolean found = FALSE;
    SbIPoint ignored;
    for (gint32 turn = 0; turn < 360000 && design_of (wider, i)->freebie && !found; turn += 45000) {
      g_autoptr (SbFreeSpace) space =
          sb_free_space_new (wider, 0, design_of (wider, i), turn, NULL, 0);
      found = sb_free_space_get_nearest (space, (SbIPoint){100000, 100000}, &ignored);
    }
    n += found;
  }
  return n;
}

START_TEST (freebies_have_room_as_the_moved_piece_leaves_it)
{
  g_autoptr (SbState) state = make_job ();
  SbDesign *marrow = design_of (state, 0);
  for (guint i = 0; i < 6; i++) { /* from what goes anywhere to what goes nowhere */
    g_autofree char *name = g_strdup_printf ("bean %u", i);
    SbDesign *bean = sb_make_design (name, 0x663300, 36 + 12 * i, 24 + 12 * i);
    bean->freebie = TRUE;
    bean->turning = SB_TURNING_ANY;
    sb_take (&state, sb_edit_add_design (state, bean, NULL));
  }
  SbPiece moved = state->pages->len > 0 ? sb_state_get_page (state, 0)->pieces[4] : (SbPiece){0};
  g_autoptr (SbFreeRoom) room = sb_free_room_new (state, 0, marrow, moved.turn, &moved.id, 1);
  ck_assert_uint_eq (sb_free_room_get_n (room), 6);
  SbRandom random = sb_random_stream (5, 0);
  guint least = G_MAXUINT, most = 0;
  for (guint k = 0; k < 4; k++) {
    moved.at = (SbIPoint){sb_random_between (&random, 20000, 195000),
                          sb_random_between (&random, 20000, 260000)};
    if (k == 2) {
      moved.turn = 90000;
      sb_free_room_set_turn (room, moved.turn);
    }
    g_autoptr (SbState) there = sb_edit_set_pieces (state, &moved, 1);
    guint n = sb_free_room_count (room, moved.at);
    ck_assert_uint_le (n, count_with_room (there, 0));
    ck_assert_uint_ge (n, count_with_room (there, 1200));
    least = MIN (least, n);
    most = MAX (most, n);
  }
  ck_assert_uint_lt (least, most);
}
END_TEST

START_TEST (a_design_larger_than_the_page_has_no_place)
{
  g_autoptr (SbState) state = sb_make_letter (6350, 3000);
  sb_add_box (&state, "poster", 230, 60, 3);
  g_autoptr (SbFreeSpace) space = sb_free_space_new (state, 0, design_of (state, 0), 0, NULL, 0);
  SbIPoint nearest;
  ck_assert (!sb_free_space_get_nearest (space, (SbIPoint){108000, 140000}, &nearest));
  ck_assert_uint_eq (sb_free_space_get_mask (space)->columns, 0);
  sb_free_space_set_turn (space, 90000);
  ck_assert (sb_free_space_get_nearest (space, (SbIPoint){108000, 140000}, &nearest));
}
END_TEST

START_TEST (what_if_tells_when_one_more_fits)
{
  /* 2 x 3 boxes of 100 x 80 on 203.2 x 266.7 mm with 3 mm between: 203 x 246. A fourth row needs a
   * height of (266.7 - 3 x 3) / 4 = 64.4 at most, 64.2 with room for the guides. The border keeps
   * its 3 mm: 58.2 of 74 mm of artwork are 0.787, and 0.787 x 94 + 6 = 80 of 100 mm. */
  g_autoptr (SbState) state = sb_make_letter (6350, 3000);
  SbDesign *box = sb_make_box ("label", 94, 74, 3);
  box->turning = SB_TURNING_UPRIGHT; /* turned ones fit earlier */
  guint id;
  sb_take (&state, sb_edit_add_design (state, box, &id));
  for (guint i = 0; i < 6; i++)
    sb_make_piece (&state, id, 56.5 + (i % 2) * 103, 47 + (i / 2) * 83.0);
  g_autoptr (GArray) answers = sb_what_if (state, id, 0.77, 60, NULL, NULL);
  ck_assert_ptr_nonnull (answers);
  ck_assert_uint_ge (answers->len, 2);
  SbWhatIf first = g_array_index (answers, SbWhatIf, 0);
  ck_assert_double_eq (first.smaller_mm, 0);
  ck_assert_uint_eq (first.more, 0);
  SbWhatIf last = g_array_index (answers, SbWhatIf, answers->len - 1);
  ck_assert_uint_ge (last.more, 2);
  ck_assert_double_le (last.smaller_mm, 20.3);
  ck_assert_double_ge (last.smaller_mm, 19.6);
  ck_assert_double_eq_tol (last.width_mm, 100 - last.smaller_mm, 1e-9);
  /* What it promises lies there, and is valid. */
  ck_assert_int_eq (sb_state_count_placed (last.state, id), (int)(6 + last.more));
  ck_assert_int_eq (sb_state_get_design (last.state, id)->wanted, (int)(6 + last.more));
  ck_assert (sb_page_is_valid (last.state, sb_state_get_page (last.state, 0)));
  for (guint i = 0; i < 6; i++)
    ck_assert_ptr_nonnull (
        sb_state_get_piece (last.state, sb_state_get_page (state, 0)->pieces[i].id, NULL));
}
END_TEST

START_TEST (what_if_lets_freebies_make_room)
{
  g_autoptr (SbState) state = sb_make_letter (6350, 3000);
  guint id, dot;
  SbDesign *card = sb_make_box ("card", 90, 60, 3);
  card->wanted = 1;
  sb_take (&state, sb_edit_add_design (state, card, &id));
  SbDesign *dots = sb_make_box ("dot", 24, 24, 2);
  dots->freebie = TRUE;
  dots->wanted = 0;
  sb_take (&state, sb_edit_add_design (state, dots, &dot));
  sb_make_piece (&state, id, 56.5, 44);
  SbPiece pinned = {.design_id = dot, .at = {190000, 250000}, .pinned = TRUE};
  guint pin;
  sb_take (&state, sb_edit_add_piece (state, 0, pinned, &pin));
  SbArrangeParams params = sb_arrange_params_default ();
  sb_take (&state, sb_fill_gaps (state, &params, NULL, NULL, NULL));
  guint full = sb_state_get_page (state, 0)->n_pieces;
  ck_assert_uint_gt (full, 20);
  g_autoptr (GArray) answers = sb_what_if (state, id, 0.99, 5, NULL, NULL);
  ck_assert_ptr_nonnull (answers);
  /* By hand: 96 x 66 mm on 203 x 266 mm, two a row and three rows, one of the six lying there and
   * the pinned dot in the way of at most one. */
  SbWhatIf as_it_is = g_array_index (answers, SbWhatIf, 0);
  ck_assert_double_eq (as_it_is.smaller_mm, 0);
  ck_assert_uint_ge (as_it_is.more, 4);
  ck_assert_int_eq (sb_state_count_placed (as_it_is.state, id), (int)(1 + as_it_is.more));
  ck_assert (sb_page_is_valid (as_it_is.state, sb_state_get_page (as_it_is.state, 0)));
  ck_assert_int_eq (sb_state_get_piece (as_it_is.state, pin, NULL)->at.x, 190000);
  ck_assert_int_gt (sb_state_count_placed (as_it_is.state, dot), 1);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("free-space");
  TCase *tcase = tcase_create ("pages");
  tcase_set_timeout (tcase, 100);
  tcase_add_test (tcase, free_is_never_false);
  tcase_add_test (tcase, the_mask_tells_free_places);
  tcase_add_test (tcase, nearest_is_near);
  tcase_add_test (tcase, the_largest_size_fits_and_a_larger_one_does_not);
  tcase_add_test (tcase, small_sizes_stay_convex);
  tcase_add_test (tcase, freebies_have_room_as_the_moved_piece_leaves_it);
  tcase_add_test (tcase, a_design_larger_than_the_page_has_no_place);
  tcase_add_test (tcase, what_if_tells_when_one_more_fits);
  tcase_add_test (tcase, what_if_lets_freebies_make_room);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
