/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Edits of designs and of the sheet. Those of pieces and pages are in edit-pieces.c. */
#include "config.h"

#include "job/edit.h"

#include <string.h>

static SbState *
unchanged (const SbState *state)
{
  return sb_state_ref ((SbState *)state);
}

/* Designs */

static gboolean
find_design (const SbState *state, guint design_id, guint *index)
{
  for (*index = 0; *index < state->designs->len; ++*index) {
    const SbDesign *design = state->designs->pdata[*index];
    if (design->id == design_id)
      return TRUE;
  }
  return FALSE;
}

static gboolean
name_is_taken (const SbState *state, const char *name, guint but_id)
{
  const SbDesign *design = sb_state_find_design (state, name);
  return design != NULL && design->id != but_id;
}

char *
sb_name_number (const char *name, guint number)
{
  g_autofree char *ending = g_strdup_printf (" %u", number);
  glong room = SB_NAME_MOST - (glong)strlen (ending);
  g_autofree char *stem = g_utf8_substring (name, 0, MIN (room, g_utf8_strlen (name, -1)));
  return g_strconcat (stem, ending, NULL);
}

/* "radish", "radish 2", "radish 3": the first that no other design bears. */
static void
make_name_unique (const SbState *state, SbDesign *design)
{
  g_autofree char *wanted = g_strdup (design->name);
  for (guint n = 2; name_is_taken (state, design->name, design->id); n++) {
    g_free (design->name);
    design->name = sb_name_number (wanted, n);
  }
}

/* Two designs of the same artwork share one copy of its bytes, and of what is made of it. */
static void
share_picture (const SbState *state, SbDesign *design)
{
  g_autoptr (SbPicture) own = sb_picture_ref (design->picture); /* whose hash is asked for below */
  const char *sha256 = sb_picture_get_sha256 (own);
  for (guint i = 0; i < state->designs->len; i++) {
    const SbDesign *other = state->designs->pdata[i];
    if (!g_str_equal (sb_picture_get_sha256 (other->picture), sha256))
      continue;
    sb_design_set_picture (design, other->picture);
    if (g_str_equal (sb_picture_get_key (other->picture), sb_picture_get_key (design->picture)))
      return;
  }
}

/* Fields that are set without a setter, taken to the ends of their ranges. */
static void
tidy (SbDesign *design)
{
  design->wanted = CLAMP (design->wanted, 0, SB_WANTED_MOST);
  design->freebie = design->freebie != FALSE;
  design->bleed_mm = CLAMP (design->bleed_mm, 0, SB_BLEED_MOST_MM);
  SbFilling *filling = &design->filling;
  filling->share = CLAMP (filling->share, 1, SB_SHARE_MOST);
  filling->greatest_mm = CLAMP (filling->greatest_mm, 0, SB_DESIGN_MOST_MM);
  filling->least_mm = CLAMP (filling->least_mm, 0, filling->greatest_mm);
  design->guide.line_pt = CLAMP (design->guide.line_pt, SB_GUIDE_LEAST_PT, SB_GUIDE_MOST_PT);
  design->guide.grey = CLAMP (design->guide.grey, 0, 1);
}

SbState *
sb_edit_add_design (const SbState *state, SbDesign *design, guint *design_id)
{
  SbState *next = sb_state_copy (state);
  tidy (design);
  share_picture (state, design);
  make_name_unique (state, design);
  design->id = next->next_id++;
  g_ptr_array_add (next->designs, design);
  if (design_id != NULL)
    *design_id = design->id;
  return next;
}

SbState *
sb_edit_replace_design (const SbState *state, SbDesign *design)
{
  g_autoptr (SbDesign) owned = design;
  guint index;
  g_return_val_if_fail (find_design (state, design->id, &index), unchanged (state));

  tidy (design);
  share_picture (state, design);
  make_name_unique (state, design);
  if (sb_design_equal (state->designs->pdata[index], design))
    return unchanged (state);
  SbState *next = sb_state_copy (state);
  sb_design_unref (next->designs->pdata[index]);
  next->designs->pdata[index] = g_steal_pointer (&owned);
  return next;
}

/* New; the number of them in `*n_kept`. */
static SbPiece *
pieces_without_design (const SbPiece *pieces, guint n, guint design_id, guint *n_kept)
{
  SbPiece *kept = g_new (SbPiece, n);
  *n_kept = 0;
  for (guint i = 0; i < n; i++)
    if (pieces[i].design_id != design_id)
      kept[(*n_kept)++] = pieces[i];
  return kept;
}

static SbPage *
page_without_design (SbPage *page, guint design_id)
{
  guint n;
  g_autofree SbPiece *kept = pieces_without_design (page->pieces, page->n_pieces, design_id, &n);
  return n == page->n_pieces ? sb_page_ref (page) : sb_page_with_pieces (page, kept, n);
}

static SbLayout *
layout_without_design (SbLayout *layout, guint design_id)
{
  guint n;
  g_autofree SbPiece *kept =
      pieces_without_design (layout->pieces, layout->n_pieces, design_id, &n);
  if (n == layout->n_pieces)
    return sb_layout_ref (layout);
  SbLayout *changed = sb_layout_copy (layout);
  sb_layout_set_pieces (changed, kept, n);
  return changed;
}

SbState *
sb_edit_remove_design (const SbState *state, guint design_id)
{
  guint index;
  g_return_val_if_fail (find_design (state, design_id, &index), unchanged (state));

  SbState *next = sb_state_copy (state);
  g_ptr_array_remove_index (next->designs, index);
  for (guint i = 0; i < next->pages->len; i++) {
    SbPage *page = next->pages->pdata[i];
    next->pages->pdata[i] = page_without_design (page, design_id);
    sb_page_unref (page);
  }
  for (guint i = 0; i < next->layouts->len; i++) {
    SbLayout *layout = next->layouts->pdata[i];
    next->layouts->pdata[i] = layout_without_design (layout, design_id);
    sb_layout_unref (layout);
  }
  return next;
}

/* Moves the pieces of a design by as much as the middle of its outline has moved, so that their
 * artwork stays where it is. New. */
static SbPiece *
pieces_with_artwork_kept (const SbPiece *pieces, guint n, const SbDesign *before,
                          const SbDesign *after)
{
  SbPoint middle = sb_box_centre (sb_outline_get_box (sb_design_get_outline (after)));
  SbPiece *moved = g_memdup2 (pieces, n * sizeof *pieces);
  for (guint i = 0; i < n; i++) {
    if (moved[i].design_id != after->id)
      continue;
    SbTransform t = sb_piece_get_transform (before, &moved[i]);
    SbIPoint at = sb_point_round (sb_transform_point (t, middle));
    moved[i].at = (SbIPoint){CLAMP (at.x, -SB_PIECE_FARTHEST, SB_PIECE_FARTHEST),
                             CLAMP (at.y, -SB_PIECE_FARTHEST, SB_PIECE_FARTHEST)};
  }
  return moved;
}

static SbPage *
page_with_artwork_kept (const SbPage *page, const SbDesign *before, const SbDesign *after)
{
  g_autofree SbPiece *moved =
      pieces_with_artwork_kept (page->pieces, page->n_pieces, before, after);
  return sb_page_with_pieces (page, moved, page->n_pieces);
}

static SbLayout *
layout_with_artwork_kept (const SbLayout *layout, const SbDesign *before, const SbDesign *after)
{
  g_autofree SbPiece *moved =
      pieces_with_artwork_kept (layout->pieces, layout->n_pieces, before, after);
  SbLayout *changed = sb_layout_copy (layout);
  sb_layout_set_pieces (changed, moved, layout->n_pieces);
  return changed;
}

SbState *
sb_edit_set_hand (const SbState *state, guint design_id, SbHand *hand)
{
  guint index;
  g_return_val_if_fail (find_design (state, design_id, &index), unchanged (state));

  const SbDesign *before = state->designs->pdata[index];
  if (sb_hand_equal (before->hand, hand))
    return unchanged (state);
  SbDesign *after = sb_design_copy (before);
  sb_design_set_hand (after, hand);
  SbState *next = sb_state_copy (state);
  sb_design_unref (next->designs->pdata[index]);
  next->designs->pdata[index] = after;
  for (guint i = 0; i < next->pages->len; i++) {
    SbPage *page = next->pages->pdata[i];
    next->pages->pdata[i] = page_with_artwork_kept (page, before, after);
    sb_page_unref (page);
  }
  for (guint i = 0; i < next->layouts->len; i++) {
    SbLayout *layout = next->layouts->pdata[i];
    next->layouts->pdata[i] = layout_with_artwork_kept (layout, before, after);
    sb_layout_unref (layout);
  }
  return next;
}

SbState *
sb_edit_reorder_design (const SbState *state, guint design_id, guint position)
{
  guint index;
  g_return_val_if_fail (find_design (state, design_id, &index), unchanged (state));

  position = MIN (position, state->designs->len - 1);
  if (position == index)
    return unchanged (state);
  SbState *next = sb_state_copy (state);
  gpointer design = g_ptr_array_steal_index (next->designs, index);
  g_ptr_array_insert (next->designs, (int)position, design);
  return next;
}

/* The sheet */

SbState *
sb_edit_set_paper (const SbState *state, const char *paper_name, sb_um width, sb_um height)
{
  g_return_val_if_fail (width >= SB_PAGE_LEAST && width <= SB_PAGE_MOST, unchanged (state));
  g_return_val_if_fail (height >= SB_PAGE_LEAST && height <= SB_PAGE_MOST, unchanged (state));
  if (g_str_equal (state->paper_name, paper_name) && state->page_width == width &&
      state->page_height == height)
    return unchanged (state);
  SbState *next = sb_state_copy (state);
  g_free (next->paper_name);
  next->paper_name = g_strdup (paper_name);
  next->page_width = width;
  next->page_height = height;
  if (next->overshoot > 0)
    next->margins = sb_overshoot (width, height, next->overshoot).lost;
  return next;
}

SbState *
sb_edit_set_margins (const SbState *state, SbMargins margins, SbMarginsSource source)
{
  margins.top = CLAMP (margins.top, 0, SB_PAGE_MOST);
  margins.right = CLAMP (margins.right, 0, SB_PAGE_MOST);
  margins.bottom = CLAMP (margins.bottom, 0, SB_PAGE_MOST);
  margins.left = CLAMP (margins.left, 0, SB_PAGE_MOST);
  if (sb_margins_equal (&state->margins, &margins) && state->margins_source == source &&
      state->overshoot == 0)
    return unchanged (state);
  SbState *next = sb_state_copy (state);
  next->margins = margins;
  next->margins_source = source;
  next->overshoot = 0;
  return next;
}

SbState *
sb_edit_set_borderless (const SbState *state, sb_um overshoot)
{
  overshoot = CLAMP (overshoot, 1, SB_OVERSHOOT_MOST);
  if (state->overshoot == overshoot)
    return unchanged (state);
  SbState *next = sb_state_copy (state);
  next->overshoot = overshoot;
  next->margins = sb_overshoot (state->page_width, state->page_height, overshoot).lost;
  next->margins_source = SB_MARGINS_PRINTER;
  return next;
}

SbState *
sb_edit_set_check_bar (const SbState *state, gboolean check_bar)
{
  if (!state->check_bar == !check_bar)
    return unchanged (state);
  SbState *next = sb_state_copy (state);
  next->check_bar = check_bar;
  return next;
}

SbState *
sb_edit_set_printer (const SbState *state, const char *printer)
{
  if (g_strcmp0 (state->printer, printer) == 0)
    return unchanged (state);
  SbState *next = sb_state_copy (state);
  g_free (next->printer);
  next->printer = g_strdup (printer);
  return next;
}

SbState *
sb_edit_set_gap (const SbState *state, sb_um gap)
{
  gap = CLAMP (gap, 0, SB_GAP_MOST);
  if (state->gap == gap)
    return unchanged (state);
  SbState *next = sb_state_copy (state);
  next->gap = gap;
  return next;
}

SbState *
sb_edit_set_stock (const SbState *state, const SbStock *stock)
{
  g_return_val_if_fail (stock->drying_hours >= 0 && stock->drying_hours <= SB_DRYING_MOST_HOURS,
                        unchanged (state));
  if (sb_stock_equal (&state->stock, stock))
    return unchanged (state);
  SbState *next = sb_state_copy (state);
  char *name = g_strdup (stock->name);
  g_free (next->stock.name);
  next->stock = *stock;
  next->stock.name = name;
  return next;
}

SbState *
sb_edit_set_order (const SbState *state, SbOrder *order)
{
  g_autoptr (SbOrder) owned = order;
  sb_order_tidy (order);
  if (sb_order_equal (state->order, order))
    return unchanged (state);
  SbState *next = sb_state_copy (state);
  sb_order_unref (next->order);
  next->order = g_steal_pointer (&owned);
  return next;
}
