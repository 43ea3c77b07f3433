/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/relation.h"
#include "proof/proof.h"
#include "proof/rules.h"

#include "box-job.h"
#include "make-picture.h"
#include "suite.h"

#include <math.h>

#define MARGIN 3050 /* um */

/* Artwork 20 x 20 mm, border 3 mm: a sticker of 26 x 26 mm whose outline lies `inset_mm` from the
 * paper's edge. */
static SbState *
sticker_at_edge (SbEdge edge, double inset_mm)
{
  SbState *state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  const SbPoint places[] = {
      [SB_EDGE_TOP] = {100, inset_mm + 13},
      [SB_EDGE_RIGHT] = {215.9 - inset_mm - 13, 100},
      [SB_EDGE_BOTTOM] = {100, 279.4 - inset_mm - 13},
      [SB_EDGE_LEFT] = {inset_mm + 13, 100},
  };
  sb_make_piece (&state, id, places[edge].x, places[edge].y);
  return state;
}

static const SbFinding *
finding (GPtrArray *findings, guint i)
{
  return g_ptr_array_index (findings, i);
}

#define NONE ((SbSeverity)99)
#define STROKE_MM (0.5 * 25.4 / 72) /* the guide for scissors is 0.5 pt wide */

static const struct {
  double inset_mm;
  SbSeverity severity;
  double lost_mm;
} edge_cases[] = {
    {3.2, NONE, 0},
    {3.16, NONE, 0}, /* the guide's inner edge, 0.1 mm out, is still on the paper */
    {3.1, SB_SEVERITY_NOTE, 3.05 - 3.1 + 0.1 + STROKE_MM},
    {3.06, SB_SEVERITY_NOTE, 3.05 - 3.06 + 0.1 + STROKE_MM},
    {3.0, SB_SEVERITY_CAUTION, 0.05},
    {2.0, SB_SEVERITY_CAUTION, 1.05},
    {0.1, SB_SEVERITY_CAUTION, 2.95},
    {0.0, SB_SEVERITY_STOP, 0.05}, /* the artwork begins 3 mm in */
    {-1.0, SB_SEVERITY_STOP, 1.05},
    {-10, SB_SEVERITY_STOP, 10.05},
    {-100, SB_SEVERITY_STOP, 20}, /* all of it and not more */
};

START_TEST (what_is_lost_at_an_edge)
{
  for (SbEdge edge = SB_EDGE_TOP; edge <= SB_EDGE_LEFT; edge++) {
    double inset_mm = edge_cases[_i].inset_mm;
    g_autoptr (SbState) state = sticker_at_edge (edge, inset_mm);
    g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
    if (edge_cases[_i].severity == NONE) {
      ck_assert_msg (findings->len == 0, "%g mm at the %s edge: %s", inset_mm,
                     sb_edge_get_key (edge), findings->len ? finding (findings, 0)->message : "");
      continue;
    }
    ck_assert_uint_eq (findings->len, 1);
    const SbFinding *f = finding (findings, 0);
    ck_assert_int_eq (f->severity, edge_cases[_i].severity);
    ck_assert_int_eq (f->rule, SB_RULE_EDGE);
    ck_assert_int_eq (f->edge, edge);
    ck_assert_uint_eq (f->page_index, 0);
    ck_assert_uint_ne (f->piece_id, 0);
    ck_assert_msg (fabs (f->lost_mm - edge_cases[_i].lost_mm) < 0.02, "%g mm at the %s edge: %g",
                   inset_mm, sb_edge_get_key (edge), f->lost_mm);
    ck_assert_ptr_nonnull (strstr (f->message, "Radish, piece 1"));
    ck_assert_ptr_nonnull (strstr (f->message, sb_edge_get_key (edge)));
  }
}
END_TEST

START_TEST (without_a_guide_none_is_lost)
{
  g_autoptr (SbState) state = sticker_at_edge (SB_EDGE_LEFT, 3.1);
  SbDesign *design = sb_design_copy (state->designs->pdata[0]);
  design->guide = sb_guide_for_style (SB_GUIDE_OFF);
  sb_take (&state, sb_edit_replace_design (state, design));
  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  ck_assert_uint_eq (findings->len, 0);
}
END_TEST

START_TEST (a_corner_is_lost_at_two_edges)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  sb_make_piece (&state, id, 15, 5); /* outline from 2, -8; artwork from 5, -5 */
  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  ck_assert_uint_eq (findings->len, 2);
  ck_assert_int_eq (finding (findings, 0)->severity, SB_SEVERITY_STOP);
  ck_assert_int_eq (finding (findings, 0)->edge, SB_EDGE_TOP);
  ck_assert_double_eq_tol (finding (findings, 0)->lost_mm, 8.05, 0.02);
  ck_assert_int_eq (finding (findings, 1)->severity, SB_SEVERITY_CAUTION);
  ck_assert_int_eq (finding (findings, 1)->edge, SB_EDGE_LEFT);
  ck_assert_double_eq_tol (finding (findings, 1)->lost_mm, 1.05, 0.02);
}
END_TEST

static const struct {
  double step_mm; /* from centre to centre of two stickers 26 mm wide */
  sb_um gap;
  SbSeverity severity;
  double lost_mm;
} pair_cases[] = {
    {30.05, 4000, NONE, 0},
    {29, 4000, SB_SEVERITY_CAUTION, 1},
    {26.05, 4000, SB_SEVERITY_CAUTION, 3.95},
    {25.9, 4000, SB_SEVERITY_STOP, 0},
    {26.05, 0, NONE, 0}, /* a shared cut */
    {25.9, 0, SB_SEVERITY_STOP, 0},
    {0, 4000, SB_SEVERITY_STOP, 0},
};

START_TEST (neighbours_keep_their_gap)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, pair_cases[_i].gap);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  guint a = sb_make_piece (&state, id, 60, 100);
  guint b = sb_make_piece (&state, id, 60 + pair_cases[_i].step_mm, 100);
  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  ck_assert_uint_eq (findings->len, pair_cases[_i].severity != NONE);
  if (pair_cases[_i].severity == NONE)
    return;
  const SbFinding *f = finding (findings, 0);
  ck_assert_int_eq (f->severity, pair_cases[_i].severity);
  ck_assert_int_eq (f->rule, f->severity == SB_SEVERITY_STOP ? SB_RULE_OVERLAP : SB_RULE_GAP);
  ck_assert_uint_eq (f->piece_id, a);
  ck_assert_uint_eq (f->other_id, b);
  ck_assert_double_eq_tol (f->lost_mm, pair_cases[_i].lost_mm, 0.02);
  ck_assert_ptr_nonnull (strstr (f->message, "Radish, piece 1"));
  ck_assert_ptr_nonnull (strstr (f->message, "Radish, piece 2"));
}
END_TEST

START_TEST (pages_do_not_see_each_other)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  sb_make_piece (&state, id, 60, 100);
  sb_take (&state, sb_edit_add_page (state, 1));
  SbPiece piece = {.design_id = id, .at = {60000, 100000}};
  sb_take (&state, sb_edit_add_piece (state, 1, piece, NULL));
  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  ck_assert_uint_eq (findings->len, 0);
}
END_TEST

static guint
add_bitmap (SbState **state, const char *name, double dpi)
{
  /* 600 px of red at a size that gives `dpi` */
  SbMakePng make = {.width = 600, .height = 600, .depth = 8, .colour = PNG_COLOR_TYPE_RGB};
  g_autoptr (GBytes) bytes = sb_make_png (&make);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "red.png", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  SbDesign *design = sb_design_new (picture, name);
  SbBorderParams border = sb_border_params_default ();
  border.shape = SB_BORDER_BOX;
  sb_design_set_border (design, &border);
  sb_design_set_size (design, 600 / dpi * 25.4, 600 / dpi * 25.4);
  ck_assert_msg (sb_design_prepare (design, NULL, &error), "%s", error ? error->message : "");
  guint id;
  sb_take (state, sb_edit_add_design (*state, design, &id));
  return id;
}

/* Handbook section 2: 300 and more is good, 200-299 a warning, less is worse. */
START_TEST (pixels_are_counted_once_a_design)
{
  static const struct {
    double dpi;
    const char *word;
  } cases[] = {{300, NULL}, {299, "little soft"}, {199, "soft"}, {149, "blurred"}};
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (SbState) state = sb_make_letter (MARGIN, 0);
    guint id = add_bitmap (&state, "Photo", cases[i].dpi);
    guint first = sb_make_piece (&state, id, 105, 60);
    sb_make_piece (&state, id, 105, 200);
    g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
    ck_assert_uint_eq (findings->len, cases[i].word != NULL);
    if (cases[i].word == NULL)
      continue;
    ck_assert_int_eq (finding (findings, 0)->severity, SB_SEVERITY_CAUTION);
    ck_assert_int_eq (finding (findings, 0)->rule, SB_RULE_RESOLUTION);
    ck_assert_uint_eq (finding (findings, 0)->piece_id, first);
    ck_assert_ptr_nonnull (strstr (finding (findings, 0)->message, cases[i].word));
  }
}
END_TEST

START_TEST (small_stickers_and_islands_are_noted)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 0);
  guint small = sb_add_box (&state, "Seed", 20, 7, 2);
  guint right = sb_add_box (&state, "Bean", 20, 8.1, 2);
  sb_make_piece (&state, small, 60, 60);
  sb_make_piece (&state, small, 60, 100);
  sb_make_piece (&state, right, 60, 140);

  const char *svg = "<svg xmlns='http://www.w3.org/2000/svg' width='60mm' height='20mm' "
                    "viewBox='0 0 60 20'><circle cx='10' cy='10' r='9'/>"
                    "<circle cx='50' cy='10' r='9'/></svg>";
  g_autoptr (GBytes) bytes = g_bytes_new_static (svg, strlen (svg));
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "two.svg", NULL);
  SbDesign *design = sb_design_new (picture, "Pair");
  ck_assert (sb_design_prepare (design, NULL, NULL));
  guint pair;
  sb_take (&state, sb_edit_add_design (state, design, &pair));
  sb_make_piece (&state, pair, 60, 200);

  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  ck_assert_uint_eq (findings->len, 2);
  ck_assert_int_eq (finding (findings, 0)->rule, SB_RULE_SMALL);
  ck_assert_int_eq (finding (findings, 0)->severity, SB_SEVERITY_NOTE);
  ck_assert_int_eq (finding (findings, 1)->rule, SB_RULE_ISLANDS);
  ck_assert_ptr_nonnull (strstr (finding (findings, 1)->message, "2 parts"));
}
END_TEST

/* Two boxes of 20 mm joined by a bar: with 1 mm of border a bar of 1.5 mm is 3.5 mm wide, one of 3
 * mm is 5 mm wide. */
START_TEST (thin_parts_are_noted)
{
  for (int wide = 0; wide < 2; wide++) {
    double half = wide ? 1.5 : 0.75;
    g_autofree char *svg = g_strdup_printf (
        "<svg xmlns='http://www.w3.org/2000/svg' width='70mm' height='20mm' viewBox='0 0 70 20'>"
        "<path d='M0 0H20V%gH50V0H70V20H50V%gH20V20H0Z'/></svg>",
        10 - half, 10 + half);
    g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
    g_autoptr (GBytes) bytes = g_bytes_new (svg, strlen (svg));
    g_autoptr (SbPicture) picture = sb_picture_new (bytes, "bar.svg", NULL);
    SbDesign *design = sb_design_new (picture, "Bar");
    SbBorderParams border = design->border;
    border.width_mm = 1;
    border.nook_mm = 1;
    sb_design_set_border (design, &border);
    ck_assert (sb_design_prepare (design, NULL, NULL));
    guint id;
    sb_take (&state, sb_edit_add_design (state, design, &id));
    sb_make_piece (&state, id, 100, 100);
    g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
    ck_assert_uint_eq (findings->len, !wide);
    if (wide)
      continue;
    ck_assert_int_eq (finding (findings, 0)->rule, SB_RULE_NECK);
    ck_assert_int_eq (finding (findings, 0)->severity, SB_SEVERITY_NOTE);
    ck_assert_ptr_nonnull (strstr (finding (findings, 0)->message, "3.5"));
  }
}
END_TEST

/* A tail, thin to its end: handbook 4.2, common practice, "neck / thin part width: limit 4 mm". */
START_TEST (a_thin_tail_is_told)
{
  static const struct {
    double tail_mm;
    gboolean told;
  } cases[] = {{1, TRUE}, {1.9, TRUE}, {2.1, FALSE}, {4, FALSE}};
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    double half = cases[i].tail_mm / 2;
    g_autofree char *svg = g_strdup_printf (
        "<svg xmlns='http://www.w3.org/2000/svg' width='60mm' height='30mm' viewBox='0 0 60 30'>"
        "<circle cx='15' cy='15' r='14'/><path d='M20 %gH58V%gH20Z'/></svg>",
        15 - half, 15 + half);
    g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
    g_autoptr (GBytes) bytes = g_bytes_new (svg, strlen (svg));
    g_autoptr (SbPicture) picture = sb_picture_new (bytes, "tadpole.svg", NULL);
    SbDesign *design = sb_design_new (picture, "Tadpole");
    SbBorderParams border = design->border;
    border.width_mm = 1; /* the part is 2 mm wider than the tail */
    sb_design_set_border (design, &border);
    ck_assert (sb_design_prepare (design, NULL, NULL));
    guint id;
    sb_take (&state, sb_edit_add_design (state, design, &id));
    sb_make_piece (&state, id, 100, 100);
    g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
    ck_assert_msg (findings->len == (guint)cases[i].told, "a tail of %g mm: %u findings",
                   cases[i].tail_mm, findings->len);
    if (!cases[i].told)
      continue;
    ck_assert_int_eq (finding (findings, 0)->rule, SB_RULE_NECK);
    SbPoint where;
    double neck = sb_growth_get_neck_mm (sb_state_get_design (state, id)->growth, &where);
    ck_assert_double_eq_tol (neck, cases[i].tail_mm + 2, 0.05);
    ck_assert_double_eq_tol (where.y, 15, 0.1);
    ck_assert_double_gt (where.x, 29);
  }
}
END_TEST

/* The outline is pulled in by hand: 2 of 3 mm of border, then 2 mm of artwork more. */
START_TEST (an_outline_changed_by_hand_may_cut_artwork)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 30, 30, 3);
  sb_make_piece (&state, id, 100, 100);
  SbOutline *grown = sb_growth_get_grown (sb_state_get_design (state, id)->growth);
  g_autoptr (SbHand) added = NULL;
  guint point;
  ck_assert (sb_hand_add (NULL, grown, (SbPoint){15, -3}, &added, &point));
  for (int deep = 0; deep < 2; deep++) {
    g_autoptr (SbHand) pulled = NULL;
    ck_assert (sb_hand_move (added, grown, point, (SbPoint){15, deep ? 2 : -1}, &pulled));
    g_autoptr (SbState) changed = sb_edit_set_hand (state, id, pulled);
    g_autoptr (GPtrArray) findings = sb_proof_run (changed, SB_UNIT_MM);
    ck_assert_uint_eq (findings->len, (guint)deep);
    if (!deep)
      continue;
    ck_assert_int_eq (finding (findings, 0)->rule, SB_RULE_THROUGH);
    ck_assert_int_eq (finding (findings, 0)->severity, SB_SEVERITY_CAUTION);
    ck_assert_str_eq (sb_rule_get_key (SB_RULE_THROUGH), "through");
  }
}
END_TEST

START_TEST (the_worst_comes_first)
{
  g_autoptr (SbState) state = sb_make_letter (MARGIN, 4000);
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  guint small = sb_add_box (&state, "Seed", 5, 5, 1);
  sb_make_piece (&state, small, 150, 150); /* note */
  sb_make_piece (&state, id, 15, 60);      /* caution: border at the left edge */
  sb_make_piece (&state, id, 60, 5);       /* stop: artwork at the top edge */
  sb_make_piece (&state, id, 88, 60);      /* caution with the next one: gap */
  sb_make_piece (&state, id, 88, 88);
  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  ck_assert_uint_eq (findings->len, 4);
  for (guint i = 1; i < findings->len; i++) {
    const SbFinding *before = finding (findings, i - 1), *after = finding (findings, i);
    ck_assert_int_le (before->severity, after->severity);
    if (before->severity == after->severity)
      ck_assert_uint_le (before->piece_id, after->piece_id);
  }
}
END_TEST

START_TEST (lengths_are_in_the_makers_unit)
{
  g_autoptr (SbState) state = sticker_at_edge (SB_EDGE_LEFT, -22.4); /* all of it */
  g_autoptr (GPtrArray) mm = sb_proof_run (state, SB_UNIT_MM);
  g_autoptr (GPtrArray) in = sb_proof_run (state, SB_UNIT_INCH);
  ck_assert_ptr_nonnull (strstr (finding (mm, 0)->message, "20.0\u2009mm"));
  ck_assert_ptr_nonnull (strstr (finding (in, 0)->message, "0.787\u2009in"));
  g_autoptr (SbState) hair = sticker_at_edge (SB_EDGE_LEFT, 3.03);
  g_autoptr (GPtrArray) little = sb_proof_run (hair, SB_UNIT_MM);
  ck_assert_ptr_nonnull (strstr (finding (little, 0)->message, "0.02\u2009mm"));
  g_autofree char *unseen = sb_proof_format_lost (0.004, SB_UNIT_MM);
  ck_assert_str_eq (unseen, "less than 0.01\u2009mm");
}
END_TEST

/* Handbook section 5.2: a usual overshoot is 3 mm each side, 102 % on A4's length, 102.9 % on its
 * width; a 50.8 mm sticker becomes 51.8 to 52.3 mm. */
START_TEST (borderless_paper_is_modelled)
{
  SbOvershoot a4 = sb_overshoot (210000, 297000, 3000);
  ck_assert_double_eq_tol (a4.least_scale, 1.0202, 5e-5);
  ck_assert_double_eq_tol (a4.most_scale, 1.0286, 5e-5);
  ck_assert_double_eq_tol (50.8 * a4.least_scale, 51.8, 0.05);
  ck_assert_double_eq_tol (50.8 * a4.most_scale, 52.3, 0.05);
  /* 216 of 210 mm are printed, so 210 / 216 of the picture's width is on the paper */
  ck_assert_int_eq (a4.lost.left, (sb_um)lround ((210000 - 210000 * 210.0 / 216) / 2));
  ck_assert_int_eq (a4.lost.top, (sb_um)lround ((297000 - 297000 * 210.0 / 216) / 2));

  g_autoptr (SbState) state = sb_state_new ("iso_a4_210x297mm", 210000, 297000);
  SbMargins none = {0, 0, 0, 0};
  sb_take (&state, sb_edit_set_borderless (state, 3000));
  guint id = sb_add_box (&state, "Radish", 20, 20, 3);
  guint at_edge =
      sb_make_piece (&state, id, 14, 100); /* outline 1 mm, artwork 4 mm from the edge */
  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  ck_assert_uint_eq (findings->len, 2);
  ck_assert_int_eq (finding (findings, 0)->rule, SB_RULE_BORDERLESS);
  ck_assert_int_eq (finding (findings, 0)->severity, SB_SEVERITY_CAUTION);
  ck_assert_uint_eq (finding (findings, 0)->piece_id, 0);
  ck_assert_ptr_nonnull (strstr (finding (findings, 0)->message, "51.8 to 52.3"));
  ck_assert_uint_eq (finding (findings, 1)->piece_id, at_edge);
  ck_assert_int_eq (finding (findings, 1)->severity, SB_SEVERITY_CAUTION);
  ck_assert_double_eq_tol (finding (findings, 1)->lost_mm, 2.917 - 1, 0.02);

  /* Typed margins win: the maker says that nothing is lost. */
  sb_take (&state, sb_edit_set_margins (state, none, SB_MARGINS_TYPED));
  g_autoptr (GPtrArray) typed = sb_proof_run (state, SB_UNIT_MM);
  ck_assert_uint_eq (typed->len, 0);
}
END_TEST

/* ---- Many pieces, against every pair and every edge ---- */

static gboolean
has (GPtrArray *findings, SbRule rule, guint a, guint b, SbEdge edge)
{
  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *f = finding (findings, i);
    if (f->rule == rule && f->edge == edge && MIN (a, b) == MIN (f->piece_id, f->other_id) &&
        MAX (a, b) == MAX (f->piece_id, f->other_id))
      return TRUE;
  }
  return FALSE;
}

START_TEST (no_pair_and_no_edge_is_missed)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (_i);
  g_autoptr (SbState) state = sb_make_job (3);
  sb_take (&state, sb_edit_set_gap (state, g_rand_int_range (rand, 0, 5000)));
  for (int i = 0; i < 40; i++) {
    const SbDesign *design = state->designs->pdata[g_rand_int_range (rand, 0, 3)];
    SbPiece piece = {
        .design_id = design->id,
        .at = {g_rand_int_range (rand, -10000, 220000), g_rand_int_range (rand, -10000, 310000)},
        .turn = g_rand_int_range (rand, 0, 360000)};
    sb_take (&state, sb_edit_add_piece (state, 0, piece, NULL));
  }
  g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
  const SbPage *page = sb_state_get_page (state, 0);
  SbIBox reach = sb_state_get_printable_box (state);
  guint expected = 0;
  for (guint i = 0; i < page->n_pieces; i++) {
    const SbPiece *p = &page->pieces[i];
    const SbDesign *dp = sb_state_get_design (state, p->design_id);
    g_autoptr (SbPolygon) a = sb_piece_get_outline (dp, p);
    for (guint k = 0; k < i; k++) {
      const SbPiece *q = &page->pieces[k];
      g_autoptr (SbPolygon) b = sb_piece_get_outline (sb_state_get_design (state, q->design_id), q);
      gboolean overlap = sb_polygons_overlap (a, b);
      gboolean close = !overlap && sb_polygons_distance_um (a, b) < state->gap;
      ck_assert_int_eq (has (findings, SB_RULE_OVERLAP, p->id, q->id, SB_EDGE_NONE), overlap);
      ck_assert_int_eq (has (findings, SB_RULE_GAP, p->id, q->id, SB_EDGE_NONE), close);
      expected += overlap || close;
    }
    /* the guide's inner edge is 0.1 mm outside the outline */
    SbIBox box = sb_polygon_get_box (a);
    const gboolean past[] = {[SB_EDGE_TOP] = box.y0 - 100 < reach.y0,
                             [SB_EDGE_RIGHT] = box.x1 + 100 > reach.x1,
                             [SB_EDGE_BOTTOM] = box.y1 + 100 > reach.y1,
                             [SB_EDGE_LEFT] = box.x0 - 100 < reach.x0};
    for (SbEdge edge = SB_EDGE_TOP; edge <= SB_EDGE_LEFT; edge++) {
      ck_assert_int_eq (has (findings, SB_RULE_EDGE, p->id, 0, edge), past[edge]);
      expected += past[edge];
    }
  }
  ck_assert_uint_eq (findings->len, expected);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("proof");
  TCase *tcase = tcase_create ("by hand");
  tcase_add_loop_test (tcase, what_is_lost_at_an_edge, 0, G_N_ELEMENTS (edge_cases));
  tcase_add_test (tcase, without_a_guide_none_is_lost);
  tcase_add_test (tcase, a_corner_is_lost_at_two_edges);
  tcase_add_loop_test (tcase, neighbours_keep_their_gap, 0, G_N_ELEMENTS (pair_cases));
  tcase_add_test (tcase, pages_do_not_see_each_other);
  tcase_add_test (tcase, pixels_are_counted_once_a_design);
  tcase_add_test (tcase, small_stickers_and_islands_are_noted);
  tcase_add_test (tcase, thin_parts_are_noted);
  tcase_add_test (tcase, a_thin_tail_is_told);
  tcase_add_test (tcase, an_outline_changed_by_hand_may_cut_artwork);
  tcase_add_test (tcase, the_worst_comes_first);
  tcase_add_test (tcase, lengths_are_in_the_makers_unit);
  tcase_add_test (tcase, borderless_paper_is_modelled);
  suite_add_tcase (suite, tcase);
  TCase *many = tcase_create ("many");
  tcase_add_loop_test (many, no_pair_and_no_edge_is_missed, 0, 10);
  suite_add_tcase (suite, many);
  return sb_run_suite (suite);
}
