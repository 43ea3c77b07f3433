/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/state.h"

#include <glib/gi18n.h>

#define GAP_DEFAULT 4000 /* um, handbook 4.3: singles cut through with scissors */

const char *
sb_stock_get_label (const SbStock *stock)
{
  /* The translation of nothing is the catalogue's head. */
  return stock->name[0] ? _ (stock->name) : "";
}

SbState *
sb_state_new (const char *paper_name, sb_um width, sb_um height)
{
  SbState *state = g_new0 (SbState, 1);
  g_atomic_ref_count_init (&state->refs);
  state->paper_name = g_strdup (paper_name);
  state->page_width = width;
  state->page_height = height;
  state->margins = sb_margins_fallback ();
  state->margins_source = SB_MARGINS_FALLBACK;
  state->gap = GAP_DEFAULT;
  state->stock = (SbStock){
      .name = g_strdup (N_ ("Matte sticker paper")), .inkjet_ok = TRUE, .rgb = SB_STOCK_WHITE};
  state->designs = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_design_unref);
  state->pages = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_page_unref);
  g_ptr_array_add (state->pages, sb_page_new (1, NULL, 0));
  state->layouts = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_layout_unref);
  state->next_id = 2;
  state->order = sb_order_new ();
  return state;
}

static gpointer
ref_design (gconstpointer design, gpointer data)
{
  return sb_design_ref ((SbDesign *)design);
}

static gpointer
ref_page (gconstpointer page, gpointer data)
{
  return sb_page_ref ((SbPage *)page);
}

static gpointer
ref_layout (gconstpointer layout, gpointer data)
{
  return sb_layout_ref ((SbLayout *)layout);
}

SbState *
sb_state_copy (const SbState *state)
{
  SbState *copy = g_memdup2 (state, sizeof *state);
  g_atomic_ref_count_init (&copy->refs);
  copy->paper_name = g_strdup (state->paper_name);
  copy->printer = g_strdup (state->printer);
  copy->stock.name = g_strdup (state->stock.name);
  copy->designs = g_ptr_array_copy (state->designs, ref_design, NULL);
  copy->pages = g_ptr_array_copy (state->pages, ref_page, NULL);
  copy->layouts = g_ptr_array_copy (state->layouts, ref_layout, NULL);
  if (copy->view != NULL)
    sb_layout_ref (copy->view);
  sb_order_ref (copy->order);
  if (copy->piece_extra != NULL)
    g_hash_table_ref (copy->piece_extra);
  if (copy->extra != NULL)
    json_object_ref (copy->extra);
  return copy;
}

SbState *
sb_state_ref (SbState *state)
{
  g_atomic_ref_count_inc (&state->refs);
  return state;
}

void
sb_state_unref (SbState *state)
{
  if (!g_atomic_ref_count_dec (&state->refs))
    return;
  g_free (state->paper_name);
  g_free (state->printer);
  g_free (state->stock.name);
  g_ptr_array_unref (state->designs);
  g_ptr_array_unref (state->pages);
  g_ptr_array_unref (state->layouts);
  g_clear_pointer (&state->view, sb_layout_unref);
  sb_order_unref (state->order);
  g_clear_pointer (&state->piece_extra, g_hash_table_unref);
  g_clear_pointer (&state->extra, json_object_unref);
  g_free (state);
}

gboolean
sb_margins_equal (const SbMargins *a, const SbMargins *b)
{
  return a->top == b->top && a->right == b->right && a->bottom == b->bottom && a->left == b->left;
}

gboolean
sb_stock_equal (const SbStock *a, const SbStock *b)
{
  return g_str_equal (a->name, b->name) && !a->inkjet_ok == !b->inkjet_ok &&
         !a->laser_ok == !b->laser_ok && !a->film == !b->film &&
         a->drying_hours == b->drying_hours && a->rgb == b->rgb;
}

static gboolean
sheets_equal (const SbState *a, const SbState *b)
{
  return g_str_equal (a->paper_name, b->paper_name) && a->page_width == b->page_width &&
         a->page_height == b->page_height && sb_margins_equal (&a->margins, &b->margins) &&
         a->margins_source == b->margins_source && a->overshoot == b->overshoot &&
         !a->check_bar == !b->check_bar && g_strcmp0 (a->printer, b->printer) == 0 &&
         a->gap == b->gap && sb_stock_equal (&a->stock, &b->stock);
}

static JsonObject *
piece_extra (const SbState *state, guint piece_id)
{
  if (state->piece_extra == NULL)
    return NULL;
  return g_hash_table_lookup (state->piece_extra, GUINT_TO_POINTER (piece_id));
}

static gboolean
extras_of_equal (const SbState *a, const SbState *b, const SbPiece *pieces, guint n)
{
  for (guint i = 0; i < n; i++)
    if (!sb_extra_equal (piece_extra (a, pieces[i].id), piece_extra (b, pieces[i].id)))
      return FALSE;
  return TRUE;
}

static gboolean
piece_extras_equal (const SbState *a, const SbState *b)
{
  if (a->piece_extra == b->piece_extra)
    return TRUE;
  for (guint i = 0; i < a->pages->len; i++) {
    const SbPage *page = a->pages->pdata[i];
    if (!extras_of_equal (a, b, page->pieces, page->n_pieces))
      return FALSE;
  }
  for (guint i = 0; i < a->layouts->len; i++) {
    const SbLayout *layout = a->layouts->pdata[i];
    if (!extras_of_equal (a, b, layout->pieces, layout->n_pieces))
      return FALSE;
  }
  return TRUE;
}

static gboolean
layouts_equal (const SbState *a, const SbState *b)
{
  if (a->layouts->len != b->layouts->len)
    return FALSE;
  for (guint i = 0; i < a->layouts->len; i++)
    if (!sb_layout_equal (a->layouts->pdata[i], b->layouts->pdata[i]))
      return FALSE;
  return a->view == b->view ||
         (a->view != NULL && b->view != NULL && sb_layout_equal (a->view, b->view));
}

gboolean
sb_state_equal (const SbState *a, const SbState *b)
{
  if (a == b)
    return TRUE;
  if (!sheets_equal (a, b) || a->designs->len != b->designs->len ||
      a->pages->len != b->pages->len || a->next_id != b->next_id || !layouts_equal (a, b) ||
      !sb_order_equal (a->order, b->order) || !sb_extra_equal (a->extra, b->extra))
    return FALSE;
  for (guint i = 0; i < a->designs->len; i++)
    if (!sb_design_equal (a->designs->pdata[i], b->designs->pdata[i]))
      return FALSE;
  for (guint i = 0; i < a->pages->len; i++)
    if (!sb_page_equal (a->pages->pdata[i], b->pages->pdata[i]))
      return FALSE;
  return piece_extras_equal (a, b);
}

SbDesign *
sb_state_get_design (const SbState *state, guint design_id)
{
  for (guint i = 0; i < state->designs->len; i++) {
    SbDesign *design = state->designs->pdata[i];
    if (design->id == design_id)
      return design;
  }
  return NULL;
}

SbDesign *
sb_state_find_design (const SbState *state, const char *name)
{
  for (guint i = 0; i < state->designs->len; i++) {
    SbDesign *design = state->designs->pdata[i];
    if (g_str_equal (design->name, name))
      return design;
  }
  return NULL;
}

SbPage *
sb_state_get_page (const SbState *state, guint index)
{
  return index < state->pages->len ? state->pages->pdata[index] : NULL;
}

SbLayout *
sb_state_get_layout (const SbState *state, guint layout_id)
{
  for (guint i = 0; i < state->layouts->len; i++) {
    SbLayout *layout = state->layouts->pdata[i];
    if (layout->id == layout_id)
      return layout;
  }
  return NULL;
}

SbLayout *
sb_state_find_layout (const SbState *state, const char *name)
{
  for (guint i = 0; i < state->layouts->len; i++) {
    SbLayout *layout = state->layouts->pdata[i];
    if (g_str_equal (layout->name, name))
      return layout;
  }
  return NULL;
}

const SbPiece *
sb_state_get_piece (const SbState *state, guint piece_id, guint *page_index)
{
  for (guint i = 0; i < state->pages->len; i++) {
    const SbPage *page = state->pages->pdata[i];
    for (guint k = 0; k < page->n_pieces; k++) {
      if (page->pieces[k].id != piece_id)
        continue;
      if (page_index != NULL)
        *page_index = i;
      return &page->pieces[k];
    }
  }
  return NULL;
}

int
sb_state_count_placed (const SbState *state, guint design_id)
{
  int placed = 0;
  for (guint i = 0; i < state->pages->len; i++) {
    const SbPage *page = state->pages->pdata[i];
    for (guint k = 0; k < page->n_pieces; k++)
      placed += page->pieces[k].design_id == design_id;
  }
  return placed;
}

int
sb_state_count_laid (const SbState *state, guint layout_id)
{
  int laid = 0;
  for (guint i = 0; i < state->pages->len; i++) {
    const SbPage *page = state->pages->pdata[i];
    if (page->layout_id == layout_id)
      laid += (int)page->n_placements;
  }
  return laid;
}

/* Margins that meet leave 1 um where the first of them ends. */
static void
cut_margins (sb_um length, sb_um before, sb_um after, sb_um *from, sb_um *to)
{
  *from = CLAMP (before, 0, length - 1);
  *to = CLAMP (length - MIN (after, length), *from + 1, length);
}

SbIBox
sb_state_get_printable_box (const SbState *state)
{
  SbIBox box;
  cut_margins (state->page_width, state->margins.left, state->margins.right, &box.x0, &box.x1);
  cut_margins (state->page_height, state->margins.top, state->margins.bottom, &box.y0, &box.y1);
  return box;
}

/* Which copy of its design a piece is: counted by id, so that raising or moving a piece does not
 * rename it. */
static int
copy_number (const SbState *state, const SbPiece *piece)
{
  int number = 1;
  for (guint i = 0; i < state->pages->len; i++) {
    const SbPage *page = state->pages->pdata[i];
    for (guint k = 0; k < page->n_pieces; k++)
      number += page->pieces[k].design_id == piece->design_id && page->pieces[k].id < piece->id;
  }
  return number;
}

char *
sb_piece_get_label (const SbState *state, guint piece_id)
{
  const SbPiece *piece = sb_state_get_piece (state, piece_id, NULL);
  g_return_val_if_fail (piece != NULL, g_strdup (""));
  const SbDesign *design = sb_state_get_design (state, piece->design_id);
  /* Translators: the design's name and which of its copies, as in "Radish, piece 2" */
  return g_strdup_printf (_ ("%s, piece %d"), design->name, copy_number (state, piece));
}
