/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/layout-view.h"

#include "job/edit.h"

void
sb_layout_guide_designs (SbState *state, const SbLayout *layout)
{
  for (guint i = 0; i < state->designs->len; i++) {
    SbDesign *design = state->designs->pdata[i];
    SbGuide guide = sb_layout_get_guide (layout, design);
    if (sb_guide_equal (&guide, &design->guide))
      continue;
    SbDesign *guided = sb_design_copy (design);
    guided->guide = guide;
    state->designs->pdata[i] = guided;
    sb_design_unref (design);
  }
}

/* A design as it came out of a view of `layout`, with its own guide again: what the view gave it is
 * not an edit. */
static SbDesign *
unguide_design (const SbState *state, const SbLayout *layout, SbDesign *viewed)
{
  SbDesign *before = sb_state_get_design (state, viewed->id);
  if (before == NULL)
    return sb_design_ref (viewed);
  SbGuide given = sb_layout_get_guide (layout, before);
  SbDesign *design = sb_design_copy (viewed);
  if (sb_guide_equal (&given, &viewed->guide))
    design->guide = before->guide;
  if (!sb_design_equal (design, before))
    return design;
  sb_design_unref (design);
  return sb_design_ref (before);
}

SbState *
sb_layout_to_state (const SbState *state, guint layout_id)
{
  SbLayout *layout = sb_state_get_layout (state, layout_id);
  if (layout == NULL)
    return NULL;
  SbState *view = sb_state_copy (state);
  g_clear_pointer (&view->view, sb_layout_unref);
  view->view = sb_layout_ref (layout);
  view->page_width = layout->width;
  view->page_height = layout->height;
  view->margins = (SbMargins){layout->edge, layout->edge, layout->edge, layout->edge};
  view->margins_source = SB_MARGINS_TYPED;
  view->gap = layout->gap;
  g_ptr_array_set_size (view->layouts, 0);
  g_ptr_array_set_size (view->pages, 0);
  g_ptr_array_add (view->pages, sb_page_new (layout->id, layout->pieces, layout->n_pieces));
  sb_layout_guide_designs (view, layout);
  return view;
}

/* What was edited of the layout itself. A view has one page: what lies on more of them, as when
 * arranging finds no room, comes back to it. */
static SbLayout *
read_layout (const SbLayout *layout, const SbState *view)
{
  SbLayout *changed = sb_layout_copy (layout);
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (SbPiece));
  for (guint i = 0; i < view->pages->len; i++) {
    const SbPage *page = sb_state_get_page (view, i);
    g_array_append_vals (pieces, page->pieces, page->n_pieces);
  }
  changed->width = view->page_width;
  changed->height = view->page_height;
  changed->gap = view->gap;
  changed->edge = view->margins.top;
  sb_layout_set_pieces (changed, (const SbPiece *)(gpointer)pieces->data, pieces->len);
  return changed;
}

/* The job with the designs of `view`; those that are no longer there take their pieces along. */
static SbState *
take_designs (const SbState *state, const SbLayout *layout, const SbState *view)
{
  SbState *next = sb_state_copy (state);
  for (guint i = next->designs->len; i-- > 0;) {
    guint id = ((SbDesign *)next->designs->pdata[i])->id;
    if (sb_state_get_design (view, id) != NULL)
      continue;
    SbState *without = sb_edit_remove_design (next, id);
    sb_state_unref (next);
    next = without;
  }
  g_ptr_array_set_size (next->designs, 0);
  for (guint i = 0; i < view->designs->len; i++)
    g_ptr_array_add (next->designs, unguide_design (state, layout, view->designs->pdata[i]));
  next->next_id = MAX (next->next_id, view->next_id);
  return next;
}

SbState *
sb_layout_from_state (const SbState *state, const SbState *view)
{
  g_return_val_if_fail (view->view != NULL, sb_state_ref ((SbState *)state));
  const SbLayout *layout = sb_state_get_layout (state, view->view->id);
  if (layout == NULL)
    return sb_state_ref ((SbState *)state);

  g_autoptr (SbState) designed = take_designs (state, layout, view);
  g_autoptr (SbState) next = sb_edit_replace_layout (designed, read_layout (layout, view));
  return sb_state_equal (state, next) ? sb_state_ref ((SbState *)state) : g_steal_pointer (&next);
}

static SbPage *
expand_page (SbState *next, const SbPage *page, const SbLayout *layout)
{
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (SbPiece));
  g_array_append_vals (pieces, page->pieces, page->n_pieces);
  for (guint i = 0; i < page->n_placements; i++) {
    for (guint k = 0; k < layout->n_pieces; k++) {
      SbPiece piece = sb_placement_lay_piece (layout, &page->placements[i], layout->pieces[k]);
      piece.id = next->next_id++;
      g_array_append_val (pieces, piece);
    }
  }
  return sb_page_new (page->id, (SbPiece *)(gpointer)pieces->data, pieces->len);
}

SbState *
sb_state_expand (const SbState *state)
{
  SbState *next = NULL;
  for (guint i = 0; i < state->pages->len; i++) {
    SbPage *page = state->pages->pdata[i];
    const SbLayout *layout = sb_state_get_layout (state, page->layout_id);
    if (layout == NULL)
      continue;
    if (next == NULL)
      next = sb_state_copy (state);
    next->pages->pdata[i] = expand_page (next, page, layout);
    sb_page_unref (page);
  }
  if (next == NULL)
    return sb_state_ref ((SbState *)state);
  g_ptr_array_set_size (next->layouts, 0);
  return next;
}

const SbPiece *
sb_page_get_source (const SbState *state, const SbPage *page, guint index)
{
  const SbLayout *layout = sb_state_get_layout (state, page->layout_id);
  if (layout == NULL || index < page->n_pieces || layout->n_pieces == 0)
    return NULL;
  return &layout->pieces[(index - page->n_pieces) % layout->n_pieces];
}
