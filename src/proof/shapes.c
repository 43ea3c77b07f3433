/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof/shapes.h"

#include "proof/proof.h"

/* A design at one turn, lying at 0,0. */
typedef struct {
  guint design_id;
  gint32 turn;
  SbPolygon *outline, *artwork;
} Kind;

static guint
kind_hash (gconstpointer key)
{
  const Kind *kind = key;
  return kind->design_id * 2654435761u ^ (guint)kind->turn * 40503u;
}

static gboolean
kind_equal (gconstpointer a, gconstpointer b)
{
  const Kind *x = a;
  const Kind *y = b;
  return x->design_id == y->design_id && x->turn == y->turn;
}

static void
kind_free (gpointer data)
{
  Kind *kind = data;
  sb_polygon_unref (kind->outline);
  sb_polygon_unref (kind->artwork);
  g_free (kind);
}

GHashTable *
sb_shape_kinds_new (void)
{
  return g_hash_table_new_full (kind_hash, kind_equal, kind_free, NULL);
}

static const Kind *
find_kind (GHashTable *kinds, const SbDesign *design, const SbPiece *piece)
{
  Kind wanted = {.design_id = piece->design_id, .turn = piece->turn};
  Kind *kind = g_hash_table_lookup (kinds, &wanted);
  if (kind != NULL)
    return kind;
  SbPiece about_origin = *piece;
  about_origin.at = (SbIPoint){0, 0};
  kind = g_memdup2 (&wanted, sizeof wanted);
  kind->outline = sb_piece_get_outline (design, &about_origin);
  kind->artwork = sb_piece_get_artwork (design, &about_origin);
  g_hash_table_add (kinds, kind);
  return kind;
}

static void
shape_clear (gpointer data)
{
  SbShape *shape = data;
  sb_polygon_unref (shape->outline);
  sb_polygon_unref (shape->artwork);
}

GArray *
sb_shapes_of_page (const SbState *state, guint page_index, GHashTable *kinds)
{
  const SbPage *page = sb_state_get_page (state, page_index);
  GArray *shapes = g_array_sized_new (FALSE, FALSE, sizeof (SbShape), page->n_pieces);
  g_array_set_clear_func (shapes, shape_clear);
  for (guint i = 0; i < page->n_pieces; i++) {
    const SbPiece *piece = &page->pieces[i];
    const SbDesign *design = sb_state_get_design (state, piece->design_id);
    const Kind *kind = find_kind (kinds, design, piece);
    SbShape shape = {piece, design, sb_polygon_move (kind->outline, piece->at.x, piece->at.y),
                     sb_polygon_move (kind->artwork, piece->at.x, piece->at.y)};
    g_array_append_val (shapes, shape);
  }
  return shapes;
}

void
sb_shape_get_guide (const SbDesign *design, sb_um *from, sb_um *to)
{
  *from = *to = 0;
  if (design->guide.style == SB_GUIDE_OFF)
    return;
  *from = sb_um_from_mm (SB_GUIDE_CLEARANCE_MM);
  *to = *from + sb_um_from_mm (design->guide.line_pt * SB_MM_PER_PT);
}
