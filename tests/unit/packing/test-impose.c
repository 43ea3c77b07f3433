/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "make-job.h"
#include "packing/impose.h"

/* Finished sizes of the handbook, um: sheets of 3.1; header cards flat and backing cards of 3.4. */
static const sb_um sizes[][2] = {
    {100000, 150000}, {101600, 152400}, {105000, 148000}, {127000, 177800}, {107950, 139700},
    {148000, 210000}, {139700, 215900}, {50800, 50800},   {76200, 63500},   {76200, 76200},
    {101600, 76200},  {101600, 101600}, {127000, 101600}, {82550, 76200},   {45720, 66040},
    {69850, 91440},   {95250, 139700},  {120650, 165100},
};

/* Every way to cut a room in two by a straight cut, and its parts again, with cuts only where
 * copies can end: a sum of their sides. */
typedef struct {
  gint64 a, b; /* sides of a copy, lane added */
  GHashTable *known;
} Exhaustive;

static GArray *
list_cuts (const Exhaustive *search, gint64 length)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  GArray *cuts = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (gint64 i = 0; i < length; i += search->a) {
    for (gint64 at = i; at < length; at += search->b) {
      if (at > 0 && g_hash_table_add (seen, g_memdup2 (&at, sizeof at)))
        g_array_append_val (cuts, at);
    }
  }
  return cuts;
}

static guint
count_exhaustively (Exhaustive *search, gint64 width, gint64 height)
{
  gboolean fits =
      (width >= search->a && height >= search->b) || (width >= search->b && height >= search->a);
  if (!fits)
    return 0;
  gint64 key = width << 32 | height;
  gpointer known = g_hash_table_lookup (search->known, &key);
  if (known != NULL)
    return GPOINTER_TO_UINT (known);
  guint best = 1, most = (guint)(width * height / (search->a * search->b));
  g_autoptr (GArray) across = list_cuts (search, width);
  for (guint i = 0; i < across->len && best < most; i++) {
    gint64 at = g_array_index (across, gint64, i);
    best = MAX (best, count_exhaustively (search, at, height) +
                          count_exhaustively (search, width - at, height));
  }
  g_autoptr (GArray) down = list_cuts (search, height);
  for (guint i = 0; i < down->len && best < most; i++) {
    gint64 at = g_array_index (down, gint64, i);
    best = MAX (best, count_exhaustively (search, width, at) +
                          count_exhaustively (search, width, height - at));
  }
  g_hash_table_insert (search->known, g_memdup2 (&key, sizeof key), GUINT_TO_POINTER (best));
  return best;
}

static void
check_pair (SbIBox room, sb_um width, sb_um height, sb_um lane)
{
  g_autoptr (GHashTable) known = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  Exhaustive search = {width + lane, height + lane, known};
  guint most = count_exhaustively (&search, room.x1 - room.x0 + lane, room.y1 - room.y0 + lane);
  g_autoptr (GArray) placements = sb_impose (room, width, height, lane);
  ck_assert_msg (placements->len == most, "%d x %d um, lane %d, in %d x %d um: %u and not %u",
                 width, height, lane, room.x1 - room.x0, room.y1 - room.y0, placements->len, most);
}

START_TEST (test_counts_of_every_sheet_on_every_paper)
{
  gsize n_papers;
  const SbPaper *papers = sb_papers (&n_papers);
  for (gsize p = 0; p < n_papers; p++) {
    for (gsize s = 0; s < G_N_ELEMENTS (sizes); s++) {
      static const sb_um margins[] = {0, 1350, 6350}, lanes[] = {0, SB_LAYOUT_LANE_LEAST};
      for (gsize k = 0; k < G_N_ELEMENTS (margins) * G_N_ELEMENTS (lanes); k++) {
        sb_um m = margins[k / 2];
        SbIBox room = {m, m, papers[p].width - m, papers[p].height - m};
        check_pair (room, sizes[s][0], sizes[s][1], lanes[k % 2]);
      }
    }
  }
}
END_TEST

/* Apart by the lane or more, and within the room, whatever the measures. */
START_TEST (test_copies_keep_their_lane)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  for (int round = 0; round < 300; round++) {
    SbIBox room = {g_rand_int_range (rand, -9, 9000), 77, g_rand_int_range (rand, 60000, 400000),
                   g_rand_int_range (rand, 60000, 400000)};
    g_autoptr (SbLayout) layout =
        sb_layout_new (SB_LAYOUT_SHEET, "a", g_rand_int_range (rand, 20000, 150000),
                       g_rand_int_range (rand, 20000, 150000));
    sb_um lane = g_rand_boolean (rand) ? 0 : g_rand_int_range (rand, 3200, 9000);
    g_autoptr (GArray) placements = sb_impose (room, layout->width, layout->height, lane);
    for (guint i = 0; i < placements->len; i++) {
      SbIBox a = sb_placement_get_box (layout, &g_array_index (placements, SbPlacement, i));
      ck_assert (a.x0 >= room.x0 && a.y0 >= room.y0 && a.x1 <= room.x1 && a.y1 <= room.y1);
      for (guint k = 0; k < i; k++) {
        SbIBox b = sb_placement_get_box (layout, &g_array_index (placements, SbPlacement, k));
        ck_assert (a.x0 >= b.x1 + lane || b.x0 >= a.x1 + lane || a.y0 >= b.y1 + lane ||
                   b.y0 >= a.y1 + lane);
      }
    }
  }
}
END_TEST

START_TEST (test_measures_that_never_end_are_cut_short)
{
  SbIBox room = {0, 0, SB_PAGE_MOST, SB_PAGE_MOST};
  g_autoptr (GArray) placements = sb_impose (room, 20001, 33347, 0);
  gint64 grid = (SB_PAGE_MOST / 20001) * (SB_PAGE_MOST / 33347);
  ck_assert_int_ge (placements->len, grid);
}
END_TEST

static SbState *
make_letter (void)
{
  return sb_state_new ("na_letter_8.5x11in", 215900, 279400);
}

/* A fact of the trade (common practice): four quarter-letter sheets on a Letter page, by cuts that
 * are shared. What is on them keeps as far from their edges as the printer cannot reach. */
START_TEST (test_four_quarter_letter_sheets_on_a_letter_page)
{
  g_autoptr (SbState) state = make_letter ();
  SbLayout *sheet = sb_layout_new (SB_LAYOUT_SHEET, "Quarter", 107950, 139700);
  sheet->edge = 6350;
  sheet->wanted = 10;
  guint id;
  sb_take (&state, sb_edit_add_layout (state, sheet, &id));
  ck_assert_uint_eq (sb_impose_count (state, sb_state_get_layout (state, id)), 4);
  sb_take (&state, sb_impose_layout (state, id));
  ck_assert_uint_eq (state->pages->len, 3);
  ck_assert_uint_eq (sb_state_get_page (state, 0)->n_placements, 4);
  ck_assert_uint_eq (sb_state_get_page (state, 2)->n_placements, 2);
  ck_assert_int_eq (sb_state_count_laid (state, id), 10);

  g_autoptr (SbState) again = sb_impose_layout (state, id);
  ck_assert_ptr_eq (again, state);
  SbIBox corner;
  ck_assert_msg (!sb_impose_find_test_corner (state, 0, &corner), "the sheets take all the page");
  ck_assert (sb_impose_find_test_corner (state, 2, &corner));
}
END_TEST

START_TEST (test_other_pages_stay)
{
  g_autoptr (SbState) state = sb_make_job (1);
  guint piece = sb_make_piece (&state, ((SbDesign *)state->designs->pdata[0])->id, 50, 50);
  guint id;
  SbLayout *sheet = sb_layout_new (SB_LAYOUT_SHEET, "A6", 105000, 148000);
  sheet->wanted = 5;
  sb_take (&state, sb_edit_add_layout (state, sheet, &id));
  sb_take (&state, sb_impose_layout (state, id));
  ck_assert_uint_gt (state->pages->len, 2);
  ck_assert_uint_eq (sb_state_get_page (state, 0)->pieces[0].id, piece);

  SbLayout *fewer = sb_layout_copy (sb_state_get_layout (state, id));
  fewer->wanted = 0;
  sb_take (&state, sb_edit_replace_layout (state, fewer));
  sb_take (&state, sb_impose_layout (state, id));
  ck_assert_uint_eq (state->pages->len, 1);
  ck_assert_uint_eq (sb_state_get_page (state, 0)->pieces[0].id, piece);
}
END_TEST

/* Colour that reaches the edges of a card must be printed there. */
START_TEST (test_a_background_stays_in_the_printable_area)
{
  g_autoptr (SbState) state = make_letter ();
  g_autoptr (SbLayout) card = sb_layout_new_header ("Rue", 82550, 38100);
  SbIBox bare = sb_impose_get_room (state, card);
  ck_assert_int_eq (bare.x0, 6350 - card->edge);
  card->background = 0xffeedd;
  SbIBox full = sb_impose_get_room (state, card);
  SbIBox printable = sb_state_get_printable_box (state);
  ck_assert_int_eq (full.x0, printable.x0);
  ck_assert_int_eq (full.y1, printable.y1);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("impose");
  TCase *tcase = tcase_create ("impose");
  tcase_set_timeout (tcase, 120);
  tcase_add_test (tcase, test_counts_of_every_sheet_on_every_paper);
  tcase_add_test (tcase, test_copies_keep_their_lane);
  tcase_add_test (tcase, test_measures_that_never_end_are_cut_short);
  tcase_add_test (tcase, test_four_quarter_letter_sheets_on_a_letter_page);
  tcase_add_test (tcase, test_other_pages_stay);
  tcase_add_test (tcase, test_a_background_stays_in_the_printable_area);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
