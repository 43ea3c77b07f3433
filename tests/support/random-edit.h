/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Random edits, biased to small jobs and to the ends of ranges. */
#pragma once

#include "job/layout-view.h"
#include "make-job.h"

static inline guint
sb_random_below (GRand *rand, guint n)
{
  return (guint)g_rand_int_range (rand, 0, (gint32)n);
}

static inline SbPage *
sb_random_page (const SbState *state, GRand *rand, guint *index)
{
  *index = sb_random_below (rand, state->pages->len);
  return sb_state_get_page (state, *index);
}

static inline SbPiece
sb_random_piece (const SbState *state, GRand *rand)
{
  const SbDesign *design = state->designs->pdata[sb_random_below (rand, state->designs->len)];
  return (SbPiece){
      .design_id = design->id,
      .at = {g_rand_int_range (rand, -20000, 240000), g_rand_int_range (rand, -20000, 320000)},
      .turn = g_rand_boolean (rand) ? 0 : g_rand_int_range (rand, 0, 360000),
      .pinned = sb_random_below (rand, 8) == 0,
  };
}

/* Some ids of the pieces of a page; `*n` may be 0. Free with g_free. */
static inline guint *
sb_random_ids (const SbPage *page, GRand *rand, guint *n)
{
  guint *ids = g_new (guint, page->n_pieces + 1);
  *n = 0;
  for (guint i = 0; i < page->n_pieces; i++)
    if (sb_random_below (rand, 4) == 0)
      ids[(*n)++] = page->pieces[i].id;
  return ids;
}

/* Pulls some point of the outline a little. */
static inline void
sb_random_hand (SbDesign *design, GRand *rand)
{
  SbOutline *grown = sb_growth_get_grown (design->growth);
  g_autoptr (GArray) points = sb_hand_get_points (design->hand, grown);
  guint i = sb_random_below (rand, points->len);
  SbPoint p = g_array_index (points, SbHandPoint, i).p;
  p.x += g_rand_double_range (rand, -1, 1);
  SbHand *hand;
  if (!sb_hand_move (design->hand, grown, i, p, &hand))
    return;
  sb_design_set_hand (design, hand);
  sb_hand_unref (hand);
}

static inline SbState *
sb_random_design_edit (const SbState *state, GRand *rand)
{
  const SbDesign *old = state->designs->pdata[sb_random_below (rand, state->designs->len)];
  SbDesign *design = sb_design_copy (old);
  SbBorderParams border = design->border;
  switch (sb_random_below (rand, 8)) {
  case 4:
    sb_random_hand (design, rand);
    break;
  case 5:
    design->bleed_mm = sb_random_below (rand, 7);
    break;
  case 0:
    design->wanted = g_rand_int_range (rand, -5, 40);
    break;
  case 1:
    design->freebie = !design->freebie;
    break;
  case 2:
    sb_design_set_name (design, g_rand_boolean (rand) ? "marrow" : "thyme");
    break;
  case 3:
    design->guide = sb_guide_for_style ((SbGuideStyle)sb_random_below (rand, 4));
    break;
  case 6:
    design->filling =
        (SbFilling){g_rand_double_range (rand, -5, 40), g_rand_double_range (rand, -5, 60),
                    g_rand_int_range (rand, -1, 30), sb_random_below (rand, 3)};
    break;
  default:
    border.width_mm = sb_random_below (rand, 5);
    sb_design_set_border (design, &border);
    ck_assert (sb_design_prepare (design, NULL, NULL));
  }
  return sb_edit_replace_design (state, design);
}

static inline SbState *
sb_random_sheet_edit (const SbState *state, GRand *rand)
{
  SbStock stock = {"Clear vinyl",
                   g_rand_boolean (rand),
                   g_rand_boolean (rand),
                   TRUE,
                   24,
                   (guint32)g_rand_int_range (rand, 0, 0x1000000)};
  gint32 margin = g_rand_int_range (rand, 0, 20000);
  switch (sb_random_below (rand, 7)) {
  case 0:
    return sb_edit_set_gap (state, g_rand_int_range (rand, 0, 8000));
  case 1:
    return sb_edit_set_margins (state, (SbMargins){margin, margin, margin, 3000}, SB_MARGINS_TYPED);
  case 2:
    return sb_edit_set_printer (state, g_rand_boolean (rand) ? "shed" : NULL);
  case 3:
    return sb_edit_set_stock (state, &stock);
  case 4:
    return sb_edit_set_borderless (state, margin);
  case 5:
    return sb_edit_set_check_bar (state, !state->check_bar);
  default:
    return sb_edit_set_paper (state, "iso_a5_148x210mm", 148000, 210000);
  }
}

static inline SbState *
sb_random_pieces_edit (const SbState *state, GRand *rand)
{
  guint index, n;
  const SbPage *page = sb_random_page (state, rand, &index);
  g_autofree guint *ids = sb_random_ids (page, rand, &n);
  g_autofree SbPiece *pieces = g_new (SbPiece, n + 1);
  switch (sb_random_below (rand, 6)) {
  case 0:
    return sb_edit_raise_pieces (state, ids, n);
  case 1:
    return sb_edit_remove_pieces (state, ids, n);
  case 2:
    return sb_edit_move_pieces_to_page (state, ids, n, sb_random_below (rand, state->pages->len));
  default:
    for (guint i = 0; i < n; i++) {
      pieces[i] = sb_random_piece (state, rand);
      pieces[i].id = ids[i];
    }
    return sb_edit_set_pieces (state, pieces, n);
  }
}

static inline SbState *
sb_random_add_design (const SbState *state, GRand *rand)
{
  guint colour = sb_random_below (rand, 4);
  return sb_edit_add_design (state, sb_make_design ("bean", colour, 20, 15), NULL);
}

static inline SbState *
sb_random_set_pages (const SbState *state, GRand *rand)
{
  SbPiece piece = sb_random_piece (state, rand);
  g_autoptr (SbPage) fresh = sb_page_new (0, &piece, 1);
  SbPage *pages[2] = {state->pages->pdata[0], fresh};
  return sb_edit_set_pages (state, pages, 2);
}

/* Adds a layout, changes one as such or in its view, lays it on a page, or removes it. */
static inline SbState *
sb_random_layout_edit (const SbState *state, GRand *rand)
{
  SbPiece piece = sb_random_piece (state, rand);
  if (state->layouts->len == 0 || (state->layouts->len < 3 && sb_random_below (rand, 4) == 0)) {
    SbLayout *fresh = sb_layout_new ((SbLayoutKind)sb_random_below (rand, 3), "Garden",
                                     g_rand_int_range (rand, 0, 160000), 100000);
    sb_layout_set_pieces (fresh, &piece, 1);
    return sb_edit_add_layout (state, fresh, NULL);
  }
  const SbLayout *old = state->layouts->pdata[sb_random_below (rand, state->layouts->len)];
  if (sb_random_below (rand, 8) == 0)
    return sb_edit_remove_layout (state, old->id);
  if (g_rand_boolean (rand)) {
    g_autoptr (SbState) view = sb_layout_to_state (state, old->id);
    g_autoptr (SbState) edited = sb_edit_add_piece (view, 0, piece, NULL);
    return sb_layout_from_state (state, edited);
  }
  if (g_rand_boolean (rand)) {
    SbPlacement placement = {piece.at, g_rand_boolean (rand)};
    g_autoptr (SbPage) page = sb_page_new_laid (0, old->id, &placement, 1);
    SbPage *pages[2] = {state->pages->pdata[0], page};
    return sb_edit_set_pages (state, pages, 2);
  }
  SbLayout *layout = sb_layout_copy (old);
  layout->lane = g_rand_int_range (rand, -100, 60000);
  layout->background = g_rand_int_range (rand, -9, 0x2000000);
  layout->wanted = g_rand_int_range (rand, -9, 20);
  return sb_edit_replace_layout (state, layout);
}

static inline SbState *
sb_random_order_edit (const SbState *state, GRand *rand)
{
  const SbDesign *design = state->designs->pdata[sb_random_below (rand, state->designs->len)];
  SbOrder *order = sb_order_copy (state->order);
  SbOrderItem item = {design->id, g_rand_int_range (rand, -5, 40), g_rand_int_range (rand, 0, 4),
                      1};
  switch (sb_random_below (rand, 5)) {
  case 0:
    sb_order_add_pack (order, "harvest")->wanted = g_rand_int_range (rand, -2, 20000);
    break;
  case 1:
    if (order->packs->len > 0)
      sb_pack_set_line (order->packs->pdata[0], design->id, (int)sb_random_below (rand, 3));
    break;
  case 2:
    sb_order_set_item (order, item);
    break;
  case 3:
    sb_order_set_times (order, sb_state_get_page (state, 0)->id, (int)sb_random_below (rand, 9));
    break;
  default:
    sb_order_set_rate (order, (SbRate)sb_random_below (rand, SB_N_RATES),
                       g_rand_double_range (rand, -1, 100));
  }
  return sb_edit_set_order (state, order);
}

/* The next state after some edit. */
static inline SbState *
sb_random_edit (const SbState *state, GRand *rand)
{
  guint index;
  sb_random_page (state, rand, &index);
  guint dice = sb_random_below (rand, 100);
  if (state->designs->len == 0 || (dice < 3 && state->designs->len < 8))
    return sb_random_add_design (state, rand);
  const SbDesign *design = state->designs->pdata[sb_random_below (rand, state->designs->len)];
  if (dice < 35)
    return sb_edit_add_piece (state, index, sb_random_piece (state, rand), NULL);
  if (dice < 75)
    return sb_random_pieces_edit (state, rand);
  if (dice < 85)
    return sb_random_design_edit (state, rand);
  if (dice < 88)
    return sb_random_sheet_edit (state, rand);
  if (dice < 90)
    return sb_random_order_edit (state, rand);
  if (dice < 92)
    return sb_edit_reorder_design (state, design->id, sb_random_below (rand, 9));
  if (dice < 94)
    return sb_edit_remove_design (state, design->id);
  if (dice < 96)
    return sb_edit_add_page (state, index);
  if (dice < 97)
    return sb_edit_remove_page (state, index);
  if (dice < 99)
    return sb_random_layout_edit (state, rand);
  return sb_random_set_pages (state, rand);
}
