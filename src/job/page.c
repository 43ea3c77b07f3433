/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/state.h"

SbPage *
sb_page_new (guint id, const SbPiece *pieces, guint n_pieces)
{
  SbPage *page = g_new0 (SbPage, 1);
  g_atomic_ref_count_init (&page->refs);
  page->id = id;
  page->n_pieces = n_pieces;
  page->pieces = g_memdup2 (pieces, n_pieces * sizeof *pieces);
  return page;
}

static void
set_placements (SbPage *page, guint layout_id, const SbPlacement *placements, guint n)
{
  page->layout_id = layout_id;
  page->n_placements = n;
  page->placements = g_memdup2 (placements, n * sizeof *placements);
}

SbPage *
sb_page_new_laid (guint id, guint layout_id, const SbPlacement *placements, guint n_placements)
{
  SbPage *page = sb_page_new (id, NULL, 0);
  set_placements (page, layout_id, placements, n_placements);
  return page;
}

SbPage *
sb_page_with_pieces (const SbPage *page, const SbPiece *pieces, guint n_pieces)
{
  SbPage *changed = sb_page_new (page->id, pieces, n_pieces);
  set_placements (changed, page->layout_id, page->placements, page->n_placements);
  if (page->extra != NULL)
    changed->extra = json_object_ref (page->extra);
  return changed;
}

SbPage *
sb_page_ref (SbPage *page)
{
  g_atomic_ref_count_inc (&page->refs);
  return page;
}

void
sb_page_unref (SbPage *page)
{
  if (!g_atomic_ref_count_dec (&page->refs))
    return;
  g_free (page->pieces);
  g_free (page->placements);
  g_clear_pointer (&page->extra, json_object_unref);
  g_free (page);
}

static gboolean
placements_equal (const SbPage *a, const SbPage *b)
{
  if (a->layout_id != b->layout_id || a->n_placements != b->n_placements)
    return FALSE;
  for (guint i = 0; i < a->n_placements; i++) {
    const SbPlacement *p = &a->placements[i], *q = &b->placements[i];
    if (p->at.x != q->at.x || p->at.y != q->at.y || !p->turned != !q->turned)
      return FALSE;
  }
  return TRUE;
}

gboolean
sb_page_equal (const SbPage *a, const SbPage *b)
{
  if (a == b)
    return TRUE;
  if (a->id != b->id || a->n_pieces != b->n_pieces || !placements_equal (a, b) ||
      !sb_extra_equal (a->extra, b->extra))
    return FALSE;
  for (guint i = 0; i < a->n_pieces; i++)
    if (!sb_piece_equal (&a->pieces[i], &b->pieces[i]))
      return FALSE;
  return TRUE;
}
