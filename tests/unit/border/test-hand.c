/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "border/silhouette.h"
#include "drawing.h"
#include "outline-check.h"

#define MM(px) ((px)*25.4 / 300)

/* A fish of a disc and a fin, so that the outline bends both ways. */
static SbSilhouette *
draw_fish (void)
{
  SbDrawing *drawing = sb_drawing_new (500, 300);
  SbPoint disc[512], fin[] = {{250, 150}, {440, 60}, {440, 240}};
  sb_drawing_add (drawing, disc, sb_drawing_regular (disc, 512, (SbPoint){170, 150}, 90, 0));
  sb_drawing_add (drawing, fin, 3);
  SbSilhouetteParams params = sb_silhouette_params_default ();
  return sb_silhouette_from_coverage (sb_drawing_end (drawing), MM (500), MM (300), &params, NULL);
}

static SbGrowth *
grow_fish (double width_mm)
{
  g_autoptr (SbSilhouette) silhouette = draw_fish ();
  SbBorderParams params = sb_border_params_default ();
  params.width_mm = width_mm;
  SbGrowth *growth = sb_border_grow (silhouette, &params, NULL, NULL);
  ck_assert_ptr_nonnull (growth);
  return growth;
}

static SbHandPoint
point_of (const SbHand *hand, const SbGrowth *growth, guint i)
{
  g_autoptr (GArray) points = sb_hand_get_points (hand, sb_growth_get_grown (growth));
  ck_assert_uint_lt (i, points->len);
  return g_array_index (points, SbHandPoint, i);
}

static guint
count_points (const SbHand *hand, const SbGrowth *growth)
{
  g_autoptr (GArray) points = sb_hand_get_points (hand, sb_growth_get_grown (growth));
  return points->len;
}

/* The least distance of `p` from the outline. */
static double
away (const SbOutline *outline, SbPoint p)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  sb_check_flatten (outline, 64, 0.02, points, ends);
  return fabs (sb_check_depth (points, ends, p));
}

/* The point farthest to the left: the middle of the fish's head. */
static guint
find_head (const SbHand *hand, const SbGrowth *growth)
{
  g_autoptr (GArray) points = sb_hand_get_points (hand, sb_growth_get_grown (growth));
  guint head = 0;
  for (guint i = 1; i < points->len; i++)
    if (g_array_index (points, SbHandPoint, i).p.x < g_array_index (points, SbHandPoint, head).p.x)
      head = i;
  return head;
}

static SbHand *
pull_head (const SbHand *hand, const SbGrowth *growth, double mm)
{
  guint head = find_head (hand, growth);
  SbPoint p = point_of (hand, growth, head).p;
  SbHand *changed;
  ck_assert (
      sb_hand_move (hand, sb_growth_get_grown (growth), head, (SbPoint){p.x - mm, p.y}, &changed));
  return changed;
}

START_TEST (no_change_is_the_grown_outline)
{
  g_autoptr (SbGrowth) growth = grow_fish (3);
  g_autoptr (SbGrowth) same = sb_growth_change (growth, NULL);
  ck_assert_ptr_eq (sb_growth_get_outline (same), sb_growth_get_outline (growth));
  ck_assert_ptr_eq (sb_growth_get_outline (same), sb_growth_get_grown (same));
}
END_TEST

START_TEST (a_moved_point_takes_the_outline_with_it)
{
  g_autoptr (SbGrowth) growth = grow_fish (3);
  g_autoptr (SbHand) hand = pull_head (NULL, growth, 2);
  g_autoptr (SbGrowth) changed = sb_growth_change (growth, hand);
  SbOutline *before = sb_growth_get_grown (growth), *after = sb_growth_get_outline (changed);
  SbHandPoint head = point_of (NULL, growth, find_head (NULL, growth));
  ck_assert_double_eq_tol (sb_outline_get_box (before).x0 - sb_outline_get_box (after).x0, 2, 0.3);
  ck_assert_double_lt (away (after, (SbPoint){head.p.x - 2, head.p.y}), 0.001);
  /* The tail is as it was, to the bit. */
  ck_assert_double_eq (sb_outline_get_box (before).x1, sb_outline_get_box (after).x1);
  ck_assert_double_gt (sb_outline_get_area_mm2 (after), sb_outline_get_area_mm2 (before) + 1);
  ck_assert_uint_eq (sb_growth_get_left_out (changed), 0);
  ck_assert_uint_eq (count_points (hand, growth), count_points (NULL, growth));

  /* Moved again it is still one change, and moved back it is none to be seen. */
  g_autoptr (SbHand) again = pull_head (hand, growth, -2);
  ck_assert_uint_eq (sb_hand_get_n (again), 1);
  g_autoptr (SbGrowth) back = sb_growth_change (growth, again);
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (sb_growth_get_outline (back)),
                           sb_outline_get_area_mm2 (before), 1e-6);
}
END_TEST

START_TEST (a_smooth_outline_stays_smooth)
{
  g_autoptr (SbGrowth) growth = grow_fish (3);
  g_autoptr (SbHand) hand = pull_head (NULL, growth, 1.5);
  g_autoptr (SbGrowth) changed = sb_growth_change (growth, hand);
  /* A corner would count as a bend of radius 0. */
  ck_assert_double_gt (sb_check_tightest_nook (sb_growth_get_outline (changed), NULL), 0.2);
}
END_TEST

START_TEST (changes_are_kept_when_the_border_changes)
{
  g_autoptr (SbGrowth) growth = grow_fish (3);
  g_autoptr (SbHand) hand = pull_head (NULL, growth, 2);
  double gained = 0;
  for (double width = 3; width <= 6; width += 0.5) {
    g_autoptr (SbGrowth) other = grow_fish (width);
    g_autoptr (SbGrowth) changed = sb_growth_change (other, hand);
    SbBox grown = sb_outline_get_box (sb_growth_get_grown (changed)),
          box = sb_outline_get_box (sb_growth_get_outline (changed));
    ck_assert_uint_eq (sb_growth_get_left_out (changed), 0);
    /* The head sticks out as far as it did, from a border that is wider. */
    ck_assert_double_eq_tol (grown.x0 - box.x0, 2, 0.6);
    ck_assert_double_eq_tol (box.x1, grown.x1, 1e-9);
    double gain = sb_outline_get_area_mm2 (sb_growth_get_outline (changed)) -
                  sb_outline_get_area_mm2 (sb_growth_get_grown (changed));
    if (gained > 0)
      ck_assert_double_eq_tol (gain, gained, 0.5 * gained);
    gained = gain;
  }
}
END_TEST

START_TEST (an_added_point_changes_nothing_until_it_is_moved)
{
  g_autoptr (SbGrowth) growth = grow_fish (3);
  SbOutline *grown = sb_growth_get_grown (growth);
  g_autoptr (SbHand) hand = NULL;
  guint point;
  SbHandPoint a = point_of (NULL, growth, 0), b = point_of (NULL, growth, 1);
  SbPoint near = {(a.p.x + b.p.x) / 2, (a.p.y + b.p.y) / 2};
  ck_assert (sb_hand_add (NULL, grown, near, &hand, &point));
  ck_assert_uint_eq (point, 1);
  ck_assert_uint_eq (count_points (hand, growth), count_points (NULL, growth) + 1);
  g_autoptr (SbGrowth) changed = sb_growth_change (growth, hand);
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (sb_growth_get_outline (changed)),
                           sb_outline_get_area_mm2 (grown), 1e-9);
  ck_assert_double_lt (away (grown, point_of (hand, growth, point).p), 0.001);

  SbHand *again;
  ck_assert_msg (!sb_hand_add (hand, grown, point_of (hand, growth, point).p, &again, &point),
                 "there is a point already");

  /* Taken out again, nothing is left of it. */
  g_autoptr (SbHand) none = NULL;
  ck_assert (sb_hand_remove (hand, grown, 1, &none));
  ck_assert_ptr_null (none);
}
END_TEST

START_TEST (a_removed_point_leaves_a_smooth_stretch)
{
  g_autoptr (SbGrowth) growth = grow_fish (3);
  SbOutline *grown = sb_growth_get_grown (growth);
  guint n = count_points (NULL, growth);
  g_autoptr (SbHand) hand = NULL;
  ck_assert (sb_hand_remove (NULL, grown, find_head (NULL, growth), &hand));
  ck_assert_uint_eq (count_points (hand, growth), n - 1);
  g_autoptr (SbGrowth) changed = sb_growth_change (growth, hand);
  /* On a round head the stretch is an arc again. */
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (sb_growth_get_outline (changed)),
                           sb_outline_get_area_mm2 (grown),
                           0.005 * sb_outline_get_area_mm2 (grown));

  while (TRUE) {
    SbHand *next;
    if (!sb_hand_remove (hand, grown, 0, &next))
      break;
    sb_hand_unref (hand);
    hand = next;
    ck_assert_uint_eq (count_points (hand, growth), --n - 1);
  }
  ck_assert_uint_ge (count_points (hand, growth), SB_HAND_LEAST_POINTS);
}
END_TEST

START_TEST (an_outline_never_crosses_itself)
{
  g_autoptr (SbGrowth) growth = grow_fish (3);
  SbHandPoint head = point_of (NULL, growth, find_head (NULL, growth));
  SbHand *changed;
  ck_assert (!sb_hand_move (NULL, sb_growth_get_grown (growth), find_head (NULL, growth),
                            (SbPoint){head.p.x + 200, head.p.y}, &changed));
}
END_TEST

START_TEST (changes_go_with_the_size)
{
  g_autoptr (SbGrowth) growth = grow_fish (3);
  g_autoptr (SbHand) hand = pull_head (NULL, growth, 2);
  g_autoptr (SbHand) twice = sb_hand_scale (hand, 2, 2);
  ck_assert_double_eq (sb_hand_get (twice, 0)->by.x, 2 * sb_hand_get (hand, 0)->by.x);
  ck_assert_double_eq (sb_hand_get (twice, 0)->at.y, 2 * sb_hand_get (hand, 0)->at.y);
  ck_assert_double_eq_tol (sb_hand_get (twice, 0)->after, 2 * sb_hand_get (hand, 0)->after, 1e-9);
  ck_assert (!sb_hand_equal (hand, twice));
  g_autoptr (SbHand) back = sb_hand_scale (twice, 0.5, 0.5);
  ck_assert (sb_hand_equal (hand, back));
}
END_TEST

static void
random_change (GRand *random, const SbGrowth *growth, SbHand **hand)
{
  SbOutline *grown = sb_growth_get_grown (growth);
  guint i = (guint)g_rand_int_range (random, 0, (gint32)count_points (*hand, growth)), added;
  SbPoint p = point_of (*hand, growth, i).p;
  SbPoint near = {p.x + g_rand_double_range (random, -4, 4),
                  p.y + g_rand_double_range (random, -4, 4)};
  SbHand *changed = *hand;
  gboolean done;
  switch (g_rand_int_range (random, 0, 3)) {
  case 0:
    done = sb_hand_move (*hand, grown, i, near, &changed);
    break;
  case 1:
    done = sb_hand_add (*hand, grown, near, &changed, &added);
    break;
  default:
    done = sb_hand_remove (*hand, grown, i, &changed);
  }
  if (done) {
    sb_hand_unref (*hand);
    *hand = changed;
  }
}

/* Crossings are looked for by code that shares nothing with the outline's own. */
START_TEST (random_changes_leave_a_sound_outline_on_any_border)
{
  GRand *random = g_rand_new_with_seed (3);
  g_autoptr (SbGrowth) growth = grow_fish (3), wide = grow_fish (5), none = grow_fish (0);
  for (int run = 0; run < 30; run++) {
    g_autoptr (SbHand) hand = NULL;
    for (int k = 0; k < 12; k++)
      random_change (random, growth, &hand);
    const SbGrowth *on[] = {growth, wide, none};
    for (guint i = 0; i < G_N_ELEMENTS (on); i++) {
      g_autoptr (SbGrowth) changed = sb_growth_change (on[i], hand);
      SbOutline *outline = sb_growth_get_outline (changed);
      ck_assert_uint_eq (sb_outline_get_n_rings (outline), 1);
      ck_assert_double_gt (sb_outline_get_area_mm2 (outline), 0);
      ck_assert_uint_eq (sb_check_crossings (outline, NULL), 0);
      if (i == 0)
        ck_assert_uint_eq (sb_growth_get_left_out (changed), 0);
    }
  }
  g_rand_free (random);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("changes by hand");
  TCase *tcase = tcase_create ("hand");
  tcase_set_timeout (tcase, 120);
  tcase_add_test (tcase, no_change_is_the_grown_outline);
  tcase_add_test (tcase, a_moved_point_takes_the_outline_with_it);
  tcase_add_test (tcase, a_smooth_outline_stays_smooth);
  tcase_add_test (tcase, changes_are_kept_when_the_border_changes);
  tcase_add_test (tcase, an_added_point_changes_nothing_until_it_is_moved);
  tcase_add_test (tcase, a_removed_point_leaves_a_smooth_stretch);
  tcase_add_test (tcase, an_outline_never_crosses_itself);
  tcase_add_test (tcase, changes_go_with_the_size);
  tcase_add_test (tcase, random_changes_leave_a_sound_outline_on_any_border);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
