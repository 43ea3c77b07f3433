/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "window/canvas/piece-clip.h"

#define ASIDE_UM 5000

struct _SbPieceClip {
  SbState *state;
  GArray *pieces; /* SbPiece */
};

G_DEFINE_BOXED_TYPE (SbPieceClip, sb_piece_clip, sb_piece_clip_copy, sb_piece_clip_free)

SbPieceClip *
sb_piece_clip_new (SbState *state, const guint *ids, guint n)
{
  SbPieceClip *clip = g_new (SbPieceClip, 1);

  clip->state = sb_state_ref (state);
  clip->pieces = g_array_new (FALSE, FALSE, sizeof (SbPiece));
  for (guint i = 0; i < n; i++) {
    const SbPiece *piece = sb_state_get_piece (state, ids[i], NULL);
    if (piece)
      g_array_append_val (clip->pieces, *piece);
  }
  return clip;
}

SbPieceClip *
sb_piece_clip_copy (const SbPieceClip *clip)
{
  SbPieceClip *copy = g_new (SbPieceClip, 1);

  copy->state = sb_state_ref (clip->state);
  copy->pieces = g_array_ref (clip->pieces);
  return copy;
}

void
sb_piece_clip_free (SbPieceClip *clip)
{
  sb_state_unref (clip->state);
  g_array_unref (clip->pieces);
  g_free (clip);
}

guint
sb_piece_clip_get_n (const SbPieceClip *clip)
{
  return clip->pieces->len;
}

static gboolean
is_same_artwork (const SbDesign *a, const SbDesign *b)
{
  return a && strcmp (a->name, b->name) == 0 &&
         strcmp (sb_picture_get_key (a->picture), sb_picture_get_key (b->picture)) == 0;
}

/* The id in `*state` of a design of the clip; added when it is not there. */
static guint
bring_design (const SbPieceClip *clip, guint design_id, SbState **state)
{
  const SbDesign *design = sb_state_get_design (clip->state, design_id);
  SbDesign *same = sb_state_get_design (*state, design_id);
  guint id;

  if (!is_same_artwork (same, design))
    same = sb_state_find_design (*state, design->name);
  if (is_same_artwork (same, design))
    return same->id;
  SbDesign *copy = sb_design_copy (design);
  copy->id = 0;
  SbState *next = sb_edit_add_design (*state, copy, &id);
  sb_state_unref (*state);
  *state = next;
  return id;
}

static gboolean
is_taken (const SbPage *page, guint design_id, SbIPoint at)
{
  for (guint i = 0; i < page->n_pieces; i++)
    if (page->pieces[i].design_id == design_id && page->pieces[i].at.x == at.x &&
        page->pieces[i].at.y == at.y)
      return TRUE;
  return FALSE;
}

/* Offset that puts no copy exactly over a piece of its own design. */
static sb_um
find_offset (const SbPieceClip *clip, const SbState *state, const SbPage *page)
{
  for (sb_um by = 0;; by += ASIDE_UM) {
    gboolean taken = FALSE;
    for (guint i = 0; i < clip->pieces->len && !taken; i++) {
      const SbPiece *piece = &g_array_index (clip->pieces, SbPiece, i);
      const SbDesign *design = sb_state_get_design (clip->state, piece->design_id);
      const SbDesign *own = sb_state_find_design (state, design->name);
      taken = own && is_taken (page, own->id, (SbIPoint){piece->at.x + by, piece->at.y + by});
    }
    if (!taken)
      return by;
  }
}

SbState *
sb_piece_clip_paste (const SbPieceClip *clip, const SbState *state, guint page, GArray *ids)
{
  SbState *next = sb_state_ref ((SbState *)state);
  sb_um by = find_offset (clip, state, sb_state_get_page (state, page));

  for (guint i = 0; i < clip->pieces->len; i++) {
    SbPiece piece = g_array_index (clip->pieces, SbPiece, i);
    guint id;

    piece.design_id = bring_design (clip, piece.design_id, &next);
    piece.at.x += by;
    piece.at.y += by;
    piece.pinned = FALSE;
    SbState *with = sb_edit_add_piece (next, page, piece, &id);
    sb_state_unref (next);
    next = with;
    g_array_append_val (ids, id);
  }
  return next;
}
