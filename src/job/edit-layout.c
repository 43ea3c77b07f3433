/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Edits of layouts. */
#include "config.h"

#include "job/edit.h"

static SbState *
unchanged (const SbState *state)
{
  return sb_state_ref ((SbState *)state);
}

static gboolean
find_layout (const SbState *state, guint layout_id, guint *index)
{
  for (*index = 0; *index < state->layouts->len; ++*index) {
    const SbLayout *layout = state->layouts->pdata[*index];
    if (layout->id == layout_id)
      return TRUE;
  }
  return FALSE;
}

static gboolean
name_is_taken (const SbState *state, const char *name, guint but_id)
{
  const SbLayout *layout = sb_state_find_layout (state, name);
  return layout != NULL && layout->id != but_id;
}

/* Tidies, makes the name unique and gives ids to pieces without one. */
static void
adopt_layout (SbState *next, SbLayout *layout)
{
  g_autofree char *wanted = g_strdup (layout->name);
  sb_layout_tidy (layout);
  for (guint n = 2; name_is_taken (next, layout->name, layout->id); n++) {
    g_free (layout->name);
    layout->name = sb_name_number (wanted, n);
  }
  for (guint i = 0; i < layout->n_pieces; i++)
    if (layout->pieces[i].id == 0)
      layout->pieces[i].id = next->next_id++;
}

static gboolean
designs_are_there (const SbState *state, const SbLayout *layout)
{
  for (guint i = 0; i < layout->n_pieces; i++)
    if (sb_state_get_design (state, layout->pieces[i].design_id) == NULL)
      return FALSE;
  return TRUE;
}

SbState *
sb_edit_add_layout (const SbState *state, SbLayout *layout, guint *layout_id)
{
  g_autoptr (SbLayout) owned = layout;
  g_return_val_if_fail (designs_are_there (state, layout), unchanged (state));

  SbState *next = sb_state_copy (state);
  layout->id = next->next_id++;
  adopt_layout (next, layout);
  g_ptr_array_add (next->layouts, g_steal_pointer (&owned));
  if (layout_id != NULL)
    *layout_id = layout->id;
  return next;
}

SbState *
sb_edit_replace_layout (const SbState *state, SbLayout *layout)
{
  g_autoptr (SbLayout) owned = layout;
  guint index;
  g_return_val_if_fail (find_layout (state, layout->id, &index), unchanged (state));
  g_return_val_if_fail (designs_are_there (state, layout), unchanged (state));

  g_autoptr (SbState) next = sb_state_copy (state);
  adopt_layout (next, layout);
  if (sb_layout_equal (state->layouts->pdata[index], layout))
    return unchanged (state);
  sb_layout_unref (next->layouts->pdata[index]);
  next->layouts->pdata[index] = g_steal_pointer (&owned);
  return g_steal_pointer (&next);
}

SbState *
sb_edit_remove_layout (const SbState *state, guint layout_id)
{
  guint index;
  g_return_val_if_fail (find_layout (state, layout_id, &index), unchanged (state));

  SbState *next = sb_state_copy (state);
  for (guint i = next->pages->len; i-- > 0;)
    if (sb_state_get_page (next, i)->layout_id == layout_id)
      g_ptr_array_remove_index (next->pages, i);
  if (next->pages->len == 0)
    g_ptr_array_add (next->pages, sb_page_new (next->next_id++, NULL, 0));
  g_ptr_array_remove_index (next->layouts, index);
  return next;
}
