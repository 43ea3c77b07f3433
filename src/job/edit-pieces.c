/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Edits of pieces and pages. */
#include "config.h"

#include "job/edit.h"

static SbState *
unchanged (const SbState *state)
{
  return sb_state_ref ((SbState *)state);
}

static void
put_page (SbState *state, guint index, SbPage *page)
{
  sb_page_unref (state->pages->pdata[index]);
  state->pages->pdata[index] = page;
}

/* A set of piece ids. NULL, and a g_critical, when one of them is not in the job. */
static GHashTable *
piece_set (const SbState *state, const guint *piece_ids, guint n)
{
  g_autoptr (GHashTable) wanted = g_hash_table_new (NULL, NULL);
  for (guint i = 0; i < n; i++)
    g_hash_table_add (wanted, GUINT_TO_POINTER (piece_ids[i]));
  guint found = 0;
  for (guint i = 0; i < state->pages->len; i++) {
    const SbPage *page = state->pages->pdata[i];
    for (guint k = 0; k < page->n_pieces; k++)
      found += g_hash_table_contains (wanted, GUINT_TO_POINTER (page->pieces[k].id));
  }
  g_return_val_if_fail (found == g_hash_table_size (wanted), NULL);
  return g_steal_pointer (&wanted);
}

/* Splits the pieces of `page` into those outside and those in `set`, each in drawing order. */
static void
split_page (const SbPage *page, GHashTable *set, GArray *outside, GArray *inside)
{
  for (guint i = 0; i < page->n_pieces; i++) {
    gboolean in = g_hash_table_contains (set, GUINT_TO_POINTER (page->pieces[i].id));
    g_array_append_vals (in ? inside : outside, &page->pieces[i], 1);
  }
}

static GArray *
new_pieces (void)
{
  return g_array_new (FALSE, FALSE, sizeof (SbPiece));
}

SbState *
sb_edit_add_piece (const SbState *state, guint page_index, SbPiece piece, guint *piece_id)
{
  g_return_val_if_fail (page_index < state->pages->len, unchanged (state));
  g_return_val_if_fail (sb_state_get_design (state, piece.design_id) != NULL, unchanged (state));

  SbState *next = sb_state_copy (state);
  piece = sb_piece_tidy (piece);
  piece.id = next->next_id++;
  const SbPage *page = state->pages->pdata[page_index];
  g_autoptr (GArray) pieces = new_pieces ();
  g_array_append_vals (pieces, page->pieces, page->n_pieces);
  g_array_append_val (pieces, piece);
  put_page (next, page_index, sb_page_with_pieces (page, (SbPiece *)pieces->data, pieces->len));
  if (piece_id != NULL)
    *piece_id = piece.id;
  return next;
}

/* `page` with the values of `by_id` (piece id -> const SbPiece), or the same page where they say
 * nothing new. */
static SbPage *
page_with_values (SbPage *page, GHashTable *by_id, guint *n_found)
{
  g_autoptr (SbPage) changed = sb_page_with_pieces (page, page->pieces, page->n_pieces);
  for (guint i = 0; i < page->n_pieces; i++) {
    SbPiece *piece = &changed->pieces[i];
    const SbPiece *values = g_hash_table_lookup (by_id, GUINT_TO_POINTER (piece->id));
    if (values == NULL)
      continue;
    guint design_id = piece->design_id;
    *piece = sb_piece_tidy (*values);
    piece->design_id = design_id;
    ++*n_found;
  }
  return sb_page_equal (page, changed) ? sb_page_ref (page) : g_steal_pointer (&changed);
}

SbState *
sb_edit_set_pieces (const SbState *state, const SbPiece *pieces, guint n)
{
  g_autoptr (GHashTable) by_id = g_hash_table_new (NULL, NULL);
  for (guint i = 0; i < n; i++)
    g_hash_table_insert (by_id, GUINT_TO_POINTER (pieces[i].id), (gpointer)&pieces[i]);

  g_autoptr (SbState) next = sb_state_copy (state);
  gboolean changed = FALSE;
  guint n_found = 0;
  for (guint i = 0; i < state->pages->len; i++) {
    SbPage *page = page_with_values (state->pages->pdata[i], by_id, &n_found);
    changed |= page != state->pages->pdata[i];
    put_page (next, i, page);
  }
  g_return_val_if_fail (n_found == g_hash_table_size (by_id), unchanged (state));
  return changed ? g_steal_pointer (&next) : unchanged (state);
}

SbState *
sb_edit_remove_pieces (const SbState *state, const guint *piece_ids, guint n)
{
  g_autoptr (GHashTable) set = piece_set (state, piece_ids, n);
  if (set == NULL || n == 0)
    return unchanged (state);

  SbState *next = sb_state_copy (state);
  for (guint i = 0; i < state->pages->len; i++) {
    g_autoptr (GArray) kept = new_pieces ();
    g_autoptr (GArray) gone = new_pieces ();
    split_page (state->pages->pdata[i], set, kept, gone);
    if (gone->len > 0)
      put_page (next, i,
                sb_page_with_pieces (state->pages->pdata[i], (SbPiece *)kept->data, kept->len));
  }
  return next;
}

SbState *
sb_edit_move_pieces_to_page (const SbState *state, const guint *piece_ids, guint n,
                             guint page_index)
{
  g_return_val_if_fail (page_index < state->pages->len, unchanged (state));
  g_autoptr (GHashTable) set = piece_set (state, piece_ids, n);
  if (set == NULL)
    return unchanged (state);

  g_autoptr (SbState) next = sb_state_copy (state);
  const SbPage *target = state->pages->pdata[page_index];
  g_autoptr (GArray) arrived = new_pieces ();
  g_array_append_vals (arrived, target->pieces, target->n_pieces);
  for (guint i = 0; i < state->pages->len; i++) {
    if (i == page_index)
      continue;
    g_autoptr (GArray) kept = new_pieces ();
    guint before = arrived->len;
    split_page (state->pages->pdata[i], set, kept, arrived);
    if (arrived->len > before)
      put_page (next, i,
                sb_page_with_pieces (state->pages->pdata[i], (SbPiece *)kept->data, kept->len));
  }
  if (arrived->len == target->n_pieces)
    return unchanged (state);
  put_page (next, page_index, sb_page_with_pieces (target, (SbPiece *)arrived->data, arrived->len));
  return g_steal_pointer (&next);
}

SbState *
sb_edit_raise_pieces (const SbState *state, const guint *piece_ids, guint n)
{
  g_autoptr (GHashTable) set = piece_set (state, piece_ids, n);
  if (set == NULL)
    return unchanged (state);

  g_autoptr (SbState) next = sb_state_copy (state);
  gboolean changed = FALSE;
  for (guint i = 0; i < state->pages->len; i++) {
    g_autoptr (GArray) order = new_pieces ();
    g_autoptr (GArray) raised = new_pieces ();
    split_page (state->pages->pdata[i], set, order, raised);
    g_array_append_vals (order, raised->data, raised->len);
    SbPage *page = sb_page_with_pieces (state->pages->pdata[i], (SbPiece *)order->data, order->len);
    changed |= !sb_page_equal (page, state->pages->pdata[i]);
    put_page (next, i, page);
  }
  return changed ? g_steal_pointer (&next) : unchanged (state);
}

/* Pages */

SbState *
sb_edit_add_page (const SbState *state, guint position)
{
  SbState *next = sb_state_copy (state);
  SbPage *page = sb_page_new (next->next_id++, NULL, 0);
  g_ptr_array_insert (next->pages, (int)MIN (position, state->pages->len), page);
  return next;
}

SbState *
sb_edit_remove_page (const SbState *state, guint page_index)
{
  g_return_val_if_fail (page_index < state->pages->len, unchanged (state));

  const SbPage *page = state->pages->pdata[page_index];
  if (state->pages->len == 1 && page->n_pieces == 0)
    return unchanged (state);
  SbState *next = sb_state_copy (state);
  if (state->pages->len == 1)
    put_page (next, 0, sb_page_with_pieces (page, NULL, 0));
  else
    g_ptr_array_remove_index (next->pages, page_index);
  return next;
}

/* `page` with ids given to whatever has none, and its pieces tidied. */
static SbPage *
adopt_page (SbState *next, const SbPage *page)
{
  SbPage *adopted = sb_page_with_pieces (page, page->pieces, page->n_pieces);
  if (adopted->id == 0)
    adopted->id = next->next_id++;
  for (guint i = 0; i < adopted->n_pieces; i++) {
    SbPiece *piece = &adopted->pieces[i];
    *piece = sb_piece_tidy (*piece);
    if (piece->id == 0)
      piece->id = next->next_id++;
  }
  return adopted;
}

typedef struct {
  const SbState *state;
  GHashTable *ids, *design_ids;
} Check;

static gboolean
is_new_id (Check *check, guint id)
{
  return id < check->state->next_id && g_hash_table_add (check->ids, GUINT_TO_POINTER (id));
}

static gboolean
pieces_are_sound (Check *check, const SbPiece *pieces, guint n)
{
  for (guint i = 0; i < n; i++)
    if (!is_new_id (check, pieces[i].id) ||
        !g_hash_table_contains (check->design_ids, GUINT_TO_POINTER (pieces[i].design_id)))
      return FALSE;
  return TRUE;
}

static gboolean
page_is_sound (Check *check, const SbPage *page)
{
  gboolean layout_is_there =
      page->layout_id == 0 || sb_state_get_layout (check->state, page->layout_id) != NULL;
  return layout_is_there && is_new_id (check, page->id) &&
         pieces_are_sound (check, page->pieces, page->n_pieces);
}

/* Every id once and below next_id, every piece of a design that is there, and every layout there.
 */
static gboolean
pages_are_sound (const SbState *state)
{
  g_autoptr (GHashTable) ids = g_hash_table_new (NULL, NULL);
  g_autoptr (GHashTable) design_ids = g_hash_table_new (NULL, NULL);
  Check check = {state, ids, design_ids};
  for (guint i = 0; i < state->designs->len; i++) {
    guint id = ((SbDesign *)state->designs->pdata[i])->id;
    g_hash_table_add (design_ids, GUINT_TO_POINTER (id));
    g_hash_table_add (ids, GUINT_TO_POINTER (id));
  }
  for (guint i = 0; i < state->layouts->len; i++) {
    const SbLayout *layout = state->layouts->pdata[i];
    if (!is_new_id (&check, layout->id) ||
        !pieces_are_sound (&check, layout->pieces, layout->n_pieces))
      return FALSE;
  }
  for (guint i = 0; i < state->pages->len; i++)
    if (!page_is_sound (&check, state->pages->pdata[i]))
      return FALSE;
  return TRUE;
}

SbState *
sb_edit_set_pages (const SbState *state, SbPage *const *pages, guint n)
{
  g_return_val_if_fail (n > 0, unchanged (state));

  g_autoptr (SbState) next = sb_state_copy (state);
  g_ptr_array_set_size (next->pages, 0);
  for (guint i = 0; i < n; i++)
    g_ptr_array_add (next->pages, adopt_page (next, pages[i]));
  g_return_val_if_fail (pages_are_sound (next), unchanged (state));
  return sb_state_equal (state, next) ? unchanged (state) : g_steal_pointer (&next);
}
