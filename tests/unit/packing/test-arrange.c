/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Arranging and filling whole jobs, judged by the exact check that is also the proof's. The random
 * jobs are numbered: `test-arrange FIRST N` runs N of them from number FIRST. */
#include <stdio.h>

#include "box-job.h"
#include "geometry/relation.h"
#include "packing/arrange.h"
#include "packing/pages.h"
#include "packing/random.h"
#include "suite.h"

#define RANDOM_JOBS 60

/* A drawn crescent: an outline with a bay. */
static SbDesign *
make_crescent (const char *name, double size_mm)
{
  g_autofree char *text = g_strdup_printf (
      "<svg xmlns='http://www.w3.org/2000/svg' width='%.3fmm' height='%.3fmm' viewBox='0 0 10 10'>"
      "<path d='M8 1 A5 5 0 1 0 8 9 A6 6 0 0 1 8 1 Z'/></svg>",
      size_mm, size_mm);
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "crescent.svg", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  SbDesign *design = sb_design_new (picture, name);
  ck_assert_msg (sb_design_prepare (design, NULL, &error), "%s", error ? error->message : "");
  return design;
}

static guint
add (SbState **state, SbDesign *design, int wanted, gboolean freebie, SbTurning turning)
{
  guint id;
  design->wanted = wanted;
  design->freebie = freebie;
  design->turning = turning;
  sb_take (state, sb_edit_add_design (*state, design, &id));
  return id;
}

static SbPolygon *
outline_of (const SbState *state, const SbPiece *piece)
{
  return sb_piece_get_outline (sb_state_get_design (state, piece->design_id), piece);
}

/* Everything that must hold of an arranged state but what was wrong among pinned pieces before. */
static void
assert_valid (const SbState *state, const char *what)
{
  SbIBox box = sb_state_get_printable_box (state);
  for (guint k = 0; k < state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (state, k);
    for (guint i = 0; i < page->n_pieces; i++) {
      g_autoptr (SbPolygon) a = outline_of (state, &page->pieces[i]);
      if (!page->pieces[i].pinned)
        ck_assert_msg (sb_polygon_inside_box (a, box), "%s: page %u, piece %u is outside", what, k,
                       i);
      for (guint j = 0; j < i; j++) {
        if (page->pieces[i].pinned && page->pieces[j].pinned)
          continue;
        g_autoptr (SbPolygon) b = outline_of (state, &page->pieces[j]);
        ck_assert_msg (!sb_polygons_closer_than (a, b, state->gap),
                       "%s: page %u, pieces %u and %u are too close", what, k, j, i);
      }
    }
  }
}

static void
assert_pins_stay (const SbState *before, const SbState *after, const char *what)
{
  for (guint k = 0; k < before->pages->len; k++) {
    const SbPage *page = sb_state_get_page (before, k);
    for (guint i = 0; i < page->n_pieces; i++) {
      if (!page->pieces[i].pinned)
        continue;
      guint at;
      const SbPiece *piece = sb_state_get_piece (after, page->pieces[i].id, &at);
      ck_assert_msg (piece != NULL && piece->at.x == page->pieces[i].at.x &&
                         piece->at.y == page->pieces[i].at.y &&
                         piece->turn == page->pieces[i].turn && piece->pinned &&
                         sb_state_get_page (after, at)->id == page->id,
                     "%s: pinned piece %u has moved", what, page->pieces[i].id);
    }
  }
}

static SbState *
arrange (const SbState *state, guint64 effort, gboolean fill, SbArrangeReport *report)
{
  SbArrangeParams params = sb_arrange_params_default ();
  params.effort = effort;
  params.seconds = 60;
  params.fill = fill;
  g_autoptr (GError) error = NULL;
  SbState *arranged = sb_arrange (state, &params, NULL, NULL, NULL, report, &error);
  ck_assert_msg (arranged != NULL, "%s", error ? error->message : "");
  return arranged;
}

static SbState *
make_mixed_job (void)
{
  SbState *state = sb_make_letter (6350, 2000);
  add (&state, sb_make_design ("marrow", 0x336633, 60, 30), 5, FALSE, SB_TURNING_ANY);
  add (&state, make_crescent ("bean", 40), 6, FALSE, SB_TURNING_ANY);
  add (&state, sb_make_box ("label", 50, 25, 3), 4, FALSE, SB_TURNING_QUARTERS);
  add (&state, sb_make_design ("beet", 0x992244, 35, 35), 5, FALSE, SB_TURNING_UPRIGHT);
  add (&state, sb_make_design ("pea", 0x55aa55, 8, 8), 0, TRUE, SB_TURNING_ANY);
  return state;
}

START_TEST (all_wanted_copies_are_placed)
{
  g_autoptr (SbState) state = make_mixed_job ();
  SbArrangeReport report;
  g_autoptr (SbState) arranged = arrange (state, 200000, FALSE, &report);
  assert_valid (arranged, "mixed");
  ck_assert_uint_eq (report.placed, 20);
  ck_assert_uint_eq (report.unplaced, 0);
  ck_assert_uint_eq (report.freebies, 0);
  ck_assert_uint_eq (report.pages, arranged->pages->len);
  for (guint i = 0; i < arranged->designs->len; i++) {
    const SbDesign *design = arranged->designs->pdata[i];
    ck_assert_int_eq (sb_state_count_placed (arranged, design->id), design->wanted);
  }
}
END_TEST

START_TEST (same_seed_and_effort_give_the_same_layout)
{
  g_autoptr (SbState) state = make_mixed_job ();
  g_autoptr (SbState) first = arrange (state, 300000, TRUE, NULL);
  g_autoptr (SbState) second = arrange (state, 300000, TRUE, NULL);
  ck_assert (sb_state_equal (first, second));
}
END_TEST

START_TEST (fill_moves_nothing_and_is_valid)
{
  g_autoptr (SbState) state = make_mixed_job ();
  g_autoptr (SbState) arranged = arrange (state, 1, FALSE, NULL);
  SbArrangeParams params = sb_arrange_params_default ();
  SbArrangeReport report;
  g_autoptr (SbState) filled = sb_fill_gaps (arranged, &params, NULL, &report, NULL);
  assert_valid (filled, "filled");
  ck_assert_uint_gt (report.freebies, 5);
  ck_assert_double_lt (report.waste_after_percent, report.waste_before_percent);
  for (guint k = 0; k < arranged->pages->len; k++) {
    const SbPage *before = sb_state_get_page (arranged, k), *after = sb_state_get_page (filled, k);
    for (guint i = 0; i < before->n_pieces; i++)
      ck_assert_mem_eq (&before->pieces[i], &after->pieces[i], sizeof (SbPiece));
  }
  /* What lies as a freebie is lifted and laid afresh when arranging fills. */
  g_autoptr (SbState) again = arrange (filled, 1, TRUE, NULL);
  assert_valid (again, "filled again");
}
END_TEST

static double
longer_side (const SbDesign *design)
{
  double width, height;
  sb_design_get_finished_size (design, &width, &height);
  return MAX (width, height);
}

START_TEST (freebies_come_in_sizes_and_shares)
{
  g_autoptr (SbState) state = sb_make_letter (6350, 2000);
  add (&state, sb_make_box ("label", 90, 60, 3), 4, FALSE, SB_TURNING_UPRIGHT);
  SbDesign *pea = sb_make_design ("pea", 0x55aa55, 20, 20);
  pea->filling = (SbFilling){.least_mm = 12, .greatest_mm = 40, .share = 3};
  guint pea_id = add (&state, pea, 0, TRUE, SB_TURNING_ANY);
  guint bean_id = add (&state, sb_make_design ("bean", 0x992244, 18, 14), 5, TRUE, SB_TURNING_ANY);
  SbArrangeReport report;
  g_autoptr (SbState) filled = arrange (state, 1, TRUE, &report);
  assert_valid (filled, "sizes");
  /* 12, 21.9 and 40 mm, the pea's own size of 24 mm or so is none of them. */
  guint n_sizes = 0, of_pea = 0;
  for (guint i = 0; i < filled->designs->len; i++) {
    const SbDesign *design = filled->designs->pdata[i];
    int placed = sb_state_count_placed (filled, design->id);
    if (design->filling.size_of != pea_id)
      continue;
    ck_assert_int_gt (placed, 0);
    ck_assert (design->freebie);
    ck_assert_double_ge (longer_side (design), 12 - 0.1);
    ck_assert_double_le (longer_side (design), 40 + 0.1);
    ck_assert_double_eq (design->border.width_mm, pea->border.width_mm);
    of_pea += (guint)placed;
    n_sizes++;
  }
  ck_assert_uint_ge (n_sizes, 2);
  ck_assert_int_eq (sb_state_count_placed (filled, pea_id), 0);
  guint of_bean = (guint)sb_state_count_placed (filled, bean_id);
  ck_assert_uint_ge (of_bean, 1);
  ck_assert_uint_le (of_bean, 5);
  ck_assert_uint_ge (of_pea, 3 * of_bean);
  ck_assert_uint_eq (report.freebies, of_pea + of_bean);
  /* Again: the sizes are taken up again, and those not needed are gone. */
  g_autoptr (SbState) again = arrange (filled, 1, TRUE, NULL);
  assert_valid (again, "sizes again");
  ck_assert_uint_eq (again->designs->len, filled->designs->len);
  SbDesign *plain = sb_design_copy (sb_state_get_design (again, pea_id));
  plain->filling = (SbFilling){.share = 1};
  g_autoptr (SbState) back = sb_edit_replace_design (again, plain);
  g_autoptr (SbState) last = arrange (back, 1, TRUE, NULL);
  ck_assert_uint_eq (last->designs->len, state->designs->len);
  ck_assert_int_gt (sb_state_count_placed (last, pea_id), 0);
}
END_TEST

START_TEST (filling_ends_when_the_time_is_over)
{
  g_autoptr (SbState) state = make_mixed_job ();
  SbArrangeParams params = sb_arrange_params_default ();
  params.seconds = 0;
  SbArrangeReport report;
  g_autoptr (SbState) filled = sb_fill_gaps (state, &params, NULL, &report, NULL);
  ck_assert_uint_eq (report.freebies, 0);
  ck_assert (sb_state_equal (filled, state));
}
END_TEST

START_TEST (lying_copies_keep_their_ids)
{
  g_autoptr (SbState) state = make_mixed_job ();
  g_autoptr (SbState) once = arrange (state, 1, FALSE, NULL);
  g_autoptr (SbState) twice = arrange (once, 100000, FALSE, NULL);
  ck_assert_uint_eq (twice->next_id, once->next_id);
  for (guint k = 0; k < once->pages->len; k++) {
    const SbPage *page = sb_state_get_page (once, k);
    for (guint i = 0; i < page->n_pieces; i++) {
      const SbPiece *piece = sb_state_get_piece (twice, page->pieces[i].id, NULL);
      ck_assert_ptr_nonnull (piece);
      ck_assert_uint_eq (piece->design_id, page->pieces[i].design_id);
    }
  }
  ck_assert_uint_le (twice->pages->len, once->pages->len);
}
END_TEST

START_TEST (what_is_too_large_is_told)
{
  g_autoptr (SbState) state = sb_make_letter (6350, 2000);
  add (&state, sb_make_box ("poster", 230, 60, 3), 2, FALSE, SB_TURNING_UPRIGHT);
  add (&state, sb_make_box ("banner", 230, 60, 3), 1, FALSE, SB_TURNING_QUARTERS);
  SbArrangeReport report;
  g_autoptr (SbState) arranged = arrange (state, 1000, FALSE, &report);
  ck_assert_uint_eq (report.unplaced, 2);
  ck_assert_uint_eq (report.placed, 1);
  assert_valid (arranged, "large");
}
END_TEST

START_TEST (a_piece_as_wide_as_the_printable_area_is_placed)
{
  /* 203.2 mm of printable width: with its border and guide, without room for the guide, and to the
   * micrometre. */
  double widths[] = {197.2 - 0.7, 197.2 - 0.2, 197.2};
  for (guint i = 0; i < G_N_ELEMENTS (widths); i++) {
    g_autoptr (SbState) state = sb_make_letter (6350, 2000);
    SbDesign *wide = sb_make_box ("banner", widths[i], 60, 3);
    ck_assert_int_ne (wide->guide.style, SB_GUIDE_OFF);
    guint id = add (&state, wide, 2, FALSE, SB_TURNING_UPRIGHT);
    add (&state, sb_make_box ("label", 50, 25, 3), 4, FALSE, SB_TURNING_ANY);
    SbArrangeReport report;
    g_autoptr (SbState) arranged = arrange (state, 1000, FALSE, &report);
    assert_valid (arranged, "wide");
    ck_assert_uint_eq (report.unplaced, 0);
    ck_assert_int_eq (sb_state_count_placed (arranged, id), 2);
    ck_assert_uint_eq (report.pages, 1);
  }
}
END_TEST

/* A box, or a wedge with a bay in it, in whole micrometres: no border is grown and no picture read,
 * which libraries of another version do a little otherwise. */
static SbPolygon *
make_outline (sb_um width, sb_um height, gboolean wedge)
{
  if (!wedge)
    return sb_polygon_new_box ((SbIBox){-width / 2, -height / 2, width / 2, height / 2});
  SbIPoint points[] = {{-width / 2, -height / 2},
                       {width / 2, -height / 2},
                       {width / 6, 0},
                       {width / 2, height / 2},
                       {-width / 3, height / 2}};
  SbLoop loop = {G_N_ELEMENTS (points), points};
  return sb_polygon_new (&loop, 1);
}

/* What lies where, as a check sum. */
static char *
get_layout_sum (const SbPages *pages)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint k = 0; k < pages->pages->len; k++) {
    const GArray *page = pages->pages->pdata[k];
    for (guint i = 0; i < page->len; i++) {
      const SbPlacing *placing = &g_array_index (page, SbPlacing, i);
      g_string_append_printf (text, "%u %u %d %d %d\n", k, placing->shape, placing->x, placing->y,
                              sb_task_get_pose (pages->task, placing->shape, placing->pose)->turn);
    }
  }
  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, text->str, -1);
}

/* The sum was written down when this test was: it holds on every machine, or the promise that a
 * seed and an effort name one layout is broken. A change of the search changes it too; then, and
 * only then, write down the new one. */
START_TEST (a_seed_and_an_effort_name_one_layout_on_every_machine)
{
  static const struct {
    sb_um width, height;
    gboolean wedge;
    guint n_turns, copies;
  } sorts[] = {{50000, 25000, FALSE, 36, 9},
               {170000, 6000, FALSE, 36, 3},
               {60000, 85000, FALSE, 2, 7},
               {40000, 52000, TRUE, 72, 8},
               {30000, 33000, TRUE, 1, 6}};
  g_autoptr (SbTask) task = sb_task_new (2025, 2000);
  g_autoptr (GArray) copies = g_array_new (FALSE, FALSE, sizeof (SbPlacing));
  for (guint i = 0; i < G_N_ELEMENTS (sorts); i++) {
    gint32 turns[72], step = sorts[i].n_turns == 2 ? 90000 : 5000;
    for (guint t = 0; t < sorts[i].n_turns; t++)
      turns[t] = (gint32)t * step;
    g_autoptr (SbPolygon) outline = make_outline (sorts[i].width, sorts[i].height, sorts[i].wedge);
    SbPlacing copy = {
        .shape = sb_task_add_shape (task, sb_shape_new (outline, turns, sorts[i].n_turns, 0))};
    for (guint k = 0; k < sorts[i].copies; k++, copy.tag++)
      g_array_append_val (copies, copy);
  }
  g_autoptr (SbPages) pages = sb_pages_new (task, (SbIBox){6350, 6350, 209550, 273050});
  SbBudget budget = {.deadline = G_MAXINT64, .effort = 150000};
  sb_pages_lay (pages, (const SbPlacing *)(gpointer)copies->data, copies->len, &budget);
  sb_pages_improve (pages, 1, &budget, NULL, NULL);
  g_autofree char *sum = get_layout_sum (pages);
  ck_assert_str_eq (sum, "9df50b6e016e88cc4125c4b115c4083dd57c693c6a45afbf52c7e6afcb0f4312");
}
END_TEST

START_TEST (what_does_not_divide_leaves_one_nearly_empty_page)
{
  /* 3 x 4 squares of 62 mm fill 203.2 x 266.7 mm at a gap of 2 mm: 4 x 62 + 3 x 2 = 254, a fourth
   * column or a fifth row would need 254 and 318 mm. */
  static const struct {
    int wanted;
    guint pages, last;
  } cases[] = {{12, 1, 12}, {24, 2, 12}, {25, 3, 1}, {38, 4, 2}};
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (SbState) state = sb_make_letter (6350, 2000);
    add (&state, sb_make_box ("square", 58, 58, 2), cases[i].wanted, FALSE, SB_TURNING_UPRIGHT);
    g_autoptr (SbState) arranged = arrange (state, 20000, FALSE, NULL);
    assert_valid (arranged, "pages");
    ck_assert_uint_eq (arranged->pages->len, cases[i].pages);
    guint least = G_MAXUINT;
    for (guint k = 0; k < arranged->pages->len; k++)
      least = MIN (least, sb_state_get_page (arranged, k)->n_pieces);
    ck_assert_uint_eq (least, cases[i].last);
  }
}
END_TEST

START_TEST (cancelling_is_an_error_and_nothing_else)
{
  g_autoptr (SbState) state = make_mixed_job ();
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_cancellable_cancel (cancellable);
  SbArrangeParams params = sb_arrange_params_default ();
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (sb_arrange (state, &params, NULL, NULL, cancellable, NULL, &error));
  ck_assert (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}
END_TEST

START_TEST (equal_copies_take_the_tightest_lattice)
{
  /* Round 1.0 in stickers on 8.26 x 10.76 in: 77 at a gap of 0.08 in, in a hexagonal lattice. */
  g_autoptr (SbState) state = sb_make_letter (3048, 2032);
  SbDesign *round = sb_make_design ("radish", 0xcc2244, 20.3, 20.3);
  SbBorderParams border = sb_border_params_default ();
  border.shape = SB_BORDER_ROUND;
  border.width_mm = 2.5;
  sb_design_set_border (round, &border);
  ck_assert (sb_design_prepare (round, NULL, NULL));
  add (&state, round, 150, FALSE, SB_TURNING_UPRIGHT);
  SbArrangeReport report;
  g_autoptr (SbState) arranged = arrange (state, 1, FALSE, &report);
  assert_valid (arranged, "lattice");
  ck_assert_uint_eq (report.placed, 150);
  ck_assert_uint_eq (report.pages, 2);
  ck_assert_uint_ge (sb_state_get_page (arranged, 0)->n_pieces, 75);
}
END_TEST

START_TEST (equal_pages_are_found)
{
  g_autoptr (SbState) state = sb_make_letter (6350, 3000);
  add (&state, sb_make_box ("label", 90, 60, 3), 12, FALSE, SB_TURNING_UPRIGHT);
  add (&state, sb_make_design ("beet", 0x992244, 45, 45), 12, FALSE, SB_TURNING_ANY);
  g_autoptr (SbState) arranged = arrange (state, 60000, FALSE, NULL);
  assert_valid (arranged, "equal");
  ck_assert_uint_ge (arranged->pages->len, 2);
  const SbPage *first = sb_state_get_page (arranged, 0);
  for (guint k = 1; k < arranged->pages->len; k++) {
    const SbPage *page = sb_state_get_page (arranged, k);
    ck_assert_uint_eq (page->n_pieces, first->n_pieces);
    for (guint i = 0; i < page->n_pieces; i++) {
      ck_assert_uint_eq (page->pieces[i].design_id, first->pieces[i].design_id);
      ck_assert_int_eq (page->pieces[i].at.x, first->pieces[i].at.x);
      ck_assert_int_eq (page->pieces[i].at.y, first->pieces[i].at.y);
    }
  }
}
END_TEST

START_TEST (straight_rows_leave_lanes_for_the_ruler)
{
  g_autoptr (SbState) state = make_mixed_job ();
  SbArrangeParams params = sb_arrange_params_default ();
  params.rows = TRUE;
  g_autoptr (SbState) arranged = sb_arrange (state, &params, NULL, NULL, NULL, NULL, NULL);
  assert_valid (arranged, "rows");
  /* Any two pieces of a page lie in one lane or are a whole gap apart in height. */
  for (guint k = 0; k < arranged->pages->len; k++) {
    const SbPage *page = sb_state_get_page (arranged, k);
    g_autoptr (GArray) lanes = g_array_new (FALSE, FALSE, sizeof (SbIBox));
    for (guint i = 0; i < page->n_pieces; i++) {
      g_autoptr (SbPolygon) outline = outline_of (arranged, &page->pieces[i]);
      SbIBox box = sb_polygon_get_box (outline);
      for (guint l = 0; l < lanes->len; l++) {
        SbIBox lane = g_array_index (lanes, SbIBox, l);
        if (box.y0 < lane.y1 && box.y1 > lane.y0) { /* the same lane: join and look again */
          box.y0 = MIN (box.y0, lane.y0);
          box.y1 = MAX (box.y1, lane.y1);
          g_array_remove_index (lanes, l);
          l = G_MAXUINT;
        }
      }
      g_array_append_val (lanes, box);
    }
    ck_assert_uint_ge (lanes->len, 2);
    for (guint a = 0; a < lanes->len; a++)
      for (guint b = 0; b < a; b++) {
        SbIBox p = g_array_index (lanes, SbIBox, a), q = g_array_index (lanes, SbIBox, b);
        ck_assert (p.y0 - q.y1 >= arranged->gap || q.y0 - p.y1 >= arranged->gap);
      }
  }
}
END_TEST

static gboolean
enough_at_once (SbState *better, double fraction, gpointer data)
{
  guint *calls = data;
  assert_valid (better, "shown");
  ck_assert_double_ge (fraction, 0);
  ck_assert_double_le (fraction, 1);
  return ++*calls < 2;
}

START_TEST (enough_ends_with_the_best_so_far)
{
  g_autoptr (SbState) state = make_mixed_job ();
  SbArrangeParams params = sb_arrange_params_default ();
  params.seconds = 30;
  guint calls = 0;
  g_autoptr (SbState) arranged =
      sb_arrange (state, &params, enough_at_once, &calls, NULL, NULL, NULL);
  ck_assert_ptr_nonnull (arranged);
  ck_assert_uint_eq (calls, 2);
  assert_valid (arranged, "enough");
}
END_TEST

/* One of the designs, at random wanted, pinned and laid about. */
static void
scatter (SbState **state, SbRandom *random, guint design_id)
{
  guint n = sb_random_below (random, 3);
  for (guint i = 0; i < n; i++) {
    SbPiece piece = {.design_id = design_id,
                     .at = {sb_random_between (random, 0, (*state)->page_width),
                            sb_random_between (random, 0, (*state)->page_height)},
                     .turn = sb_random_between (random, 0, 359999),
                     .pinned = sb_random_below (random, 2)};
    guint id;
    sb_take (state, sb_edit_add_piece (*state, sb_random_below (random, (*state)->pages->len),
                                       piece, &id));
  }
}

static SbState *
make_random_job (SbRandom *random, GPtrArray *designs)
{
  sb_um gaps[] = {0, 1, 500, 2000, 4000, 12000};
  SbState *state = sb_make_letter (sb_random_between (random, 0, 20000),
                                   gaps[sb_random_below (random, G_N_ELEMENTS (gaps))]);
  if (sb_random_below (random, 2))
    sb_take (&state, sb_edit_set_paper (state, "om_small-photo_100x150mm", 150000, 100000));
  if (sb_random_below (random, 3) == 0)
    sb_take (&state, sb_edit_add_page (state, 1));
  guint n = 1 + sb_random_below (random, 4);
  for (guint i = 0; i < n; i++) {
    SbDesign *design = sb_design_copy (designs->pdata[sb_random_below (random, designs->len)]);
    guint id = add (&state, design, (int)sb_random_below (random, 7),
                    sb_random_below (random, 4) == 0, (SbTurning)sb_random_below (random, 3));
    scatter (&state, random, id);
  }
  return state;
}

static GPtrArray *
make_designs (void)
{
  GPtrArray *designs = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_design_unref);
  g_ptr_array_add (designs, sb_make_design ("marrow", 0x336633, 60, 30));
  g_ptr_array_add (designs, make_crescent ("bean", 40));
  g_ptr_array_add (designs, sb_make_box ("label", 50, 25, 3));
  g_ptr_array_add (designs, sb_make_design ("pea", 0x55aa55, 8, 8));
  g_ptr_array_add (designs, sb_make_box ("tape", 180, 6, 2));
  g_ptr_array_add (designs, sb_make_box ("poster", 190, 250, 2));
  return designs;
}

static void
try_random_jobs (guint first, guint n)
{
  g_autoptr (GPtrArray) designs = make_designs ();
  for (guint seed = first; seed < first + n; seed++) {
    SbRandom random = sb_random_stream (seed, 0);
    g_autoptr (SbState) state = make_random_job (&random, designs);
    g_autofree char *what = g_strdup_printf ("job %u", seed);
    gboolean fill = sb_random_below (&random, 2);
    SbArrangeParams params = sb_arrange_params_default ();
    params.effort = 1 + sb_random_below (&random, 4000);
    params.seconds = 60;
    params.fill = fill;
    params.rows = sb_random_below (&random, 4) == 0;
    SbArrangeReport report;
    g_autoptr (SbState) arranged = sb_arrange (state, &params, NULL, NULL, NULL, &report, NULL);
    assert_valid (arranged, what);
    assert_pins_stay (state, arranged, what);
    guint due = 0;
    for (guint i = 0; i < state->designs->len; i++) {
      const SbDesign *design = state->designs->pdata[i];
      if (!design->freebie)
        due += (guint)MAX (design->wanted, sb_state_count_placed (state, design->id));
    }
    ck_assert_msg (report.placed + report.unplaced == due, "%s: %u placed, %u too large, %u due",
                   what, report.placed, report.unplaced, due);
    for (guint k = 0; k < arranged->pages->len; k++)
      ck_assert_msg (sb_state_get_page (arranged, k)->n_pieces > 0 || arranged->pages->len == 1,
                     "%s: page %u is empty", what, k);
  }
}

static guint first_job = 0, n_jobs = RANDOM_JOBS;

START_TEST (random_jobs_are_valid)
{
  gint64 begun = g_get_monotonic_time ();
  try_random_jobs (first_job, n_jobs);
  printf ("random-jobs %u, %.1f s\n", n_jobs,
          (double)(g_get_monotonic_time () - begun) / G_USEC_PER_SEC);
}
END_TEST

int
main (int argc, char **argv)
{
  Suite *suite = suite_create ("arrange");
  TCase *tcase = tcase_create ("jobs");
  suite_add_tcase (suite, tcase);
  tcase_add_test (tcase, random_jobs_are_valid);
  if (argc == 3) {
    first_job = (guint)g_ascii_strtoull (argv[1], NULL, 10);
    n_jobs = (guint)g_ascii_strtoull (argv[2], NULL, 10);
    return sb_run_suite (suite);
  }
  tcase_add_test (tcase, all_wanted_copies_are_placed);
  tcase_add_test (tcase, same_seed_and_effort_give_the_same_layout);
  tcase_add_test (tcase, fill_moves_nothing_and_is_valid);
  tcase_add_test (tcase, freebies_come_in_sizes_and_shares);
  tcase_add_test (tcase, filling_ends_when_the_time_is_over);
  tcase_add_test (tcase, lying_copies_keep_their_ids);
  tcase_add_test (tcase, equal_copies_take_the_tightest_lattice);
  tcase_add_test (tcase, equal_pages_are_found);
  tcase_add_test (tcase, straight_rows_leave_lanes_for_the_ruler);
  tcase_add_test (tcase, what_does_not_divide_leaves_one_nearly_empty_page);
  tcase_add_test (tcase, what_is_too_large_is_told);
  tcase_add_test (tcase, a_piece_as_wide_as_the_printable_area_is_placed);
  tcase_add_test (tcase, a_seed_and_an_effort_name_one_layout_on_every_machine);
  tcase_add_test (tcase, cancelling_is_an_error_and_nothing_else);
  tcase_add_test (tcase, enough_ends_with_the_best_so_far);
  return sb_run_suite (suite);
}
