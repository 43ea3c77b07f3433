/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/layout.h"

#define MM 1000

const char *
sb_layout_kind_get_key (SbLayoutKind kind)
{
  static const char *const keys[] = {"sheet", "header", "backing"};
  return keys[kind];
}

/* Kiss cut: 5 mm to the edge, 3 mm between pieces, corners of 3 to 5 mm (handbook 4.3, 4.4). Cards:
 * text 4 to 5 mm from fold, edges and staples; two staples need 12 mm; holes of 6 mm at least 1/4
 * in below the top (3.4). */
static void
set_usual_measures (SbLayout *layout)
{
  layout->background = -1;
  layout->wanted = 1;
  switch (layout->kind) {
  case SB_LAYOUT_SHEET:
    layout->edge = 5 * MM;
    layout->gap = 3 * MM;
    break;
  case SB_LAYOUT_HEADER:
    layout->edge = 4 * MM;
    layout->zone = 12 * MM;
    layout->hole = 6 * MM;
    layout->hole_at = 10 * MM;
    layout->weight = 200;
    break;
  case SB_LAYOUT_BACKING:
    layout->edge = 4 * MM;
    layout->weight = 300;
    break;
  }
}

SbLayout *
sb_layout_new (SbLayoutKind kind, const char *name, sb_um width, sb_um height)
{
  SbLayout *layout = g_new0 (SbLayout, 1);
  g_atomic_ref_count_init (&layout->refs);
  layout->kind = kind;
  layout->name = sb_name_clean (name);
  layout->width = width;
  layout->height = height;
  set_usual_measures (layout);
  sb_layout_tidy (layout);
  return layout;
}

SbLayout *
sb_layout_new_header (const char *name, sb_um bag_width, sb_um folded)
{
  folded = CLAMP (folded, SB_LAYOUT_LEAST / 2, SB_LAYOUT_MOST / 2);
  return sb_layout_new (SB_LAYOUT_HEADER, name, bag_width, 2 * folded);
}

SbLayout *
sb_layout_new_backing (const char *name, sb_um inner_width, sb_um inner_height, sb_um less_wide,
                       sb_um less_high)
{
  return sb_layout_new (SB_LAYOUT_BACKING, name, inner_width - less_wide, inner_height - less_high);
}

SbLayout *
sb_layout_copy (const SbLayout *layout)
{
  SbLayout *copy = g_memdup2 (layout, sizeof *layout);
  g_atomic_ref_count_init (&copy->refs);
  copy->name = g_strdup (layout->name);
  copy->pieces = g_memdup2 (layout->pieces, layout->n_pieces * sizeof *layout->pieces);
  if (copy->extra != NULL)
    json_object_ref (copy->extra);
  return copy;
}

SbLayout *
sb_layout_ref (SbLayout *layout)
{
  g_atomic_ref_count_inc (&layout->refs);
  return layout;
}

void
sb_layout_unref (SbLayout *layout)
{
  if (!g_atomic_ref_count_dec (&layout->refs))
    return;
  g_free (layout->name);
  g_free (layout->pieces);
  g_clear_pointer (&layout->extra, json_object_unref);
  g_free (layout);
}

static gboolean
pieces_equal (const SbLayout *a, const SbLayout *b)
{
  if (a->n_pieces != b->n_pieces)
    return FALSE;
  for (guint i = 0; i < a->n_pieces; i++)
    if (!sb_piece_equal (&a->pieces[i], &b->pieces[i]))
      return FALSE;
  return TRUE;
}

gboolean
sb_layout_equal (const SbLayout *a, const SbLayout *b)
{
  return a == b ||
         (a->id == b->id && a->kind == b->kind && g_str_equal (a->name, b->name) &&
          a->width == b->width && a->height == b->height && a->edge == b->edge &&
          a->gap == b->gap && a->corner == b->corner && a->lane == b->lane && a->zone == b->zone &&
          a->hole == b->hole && a->hole_at == b->hole_at && a->background == b->background &&
          a->weight == b->weight && a->wanted == b->wanted && pieces_equal (a, b) &&
          sb_extra_equal (a->extra, b->extra));
}

void
sb_layout_set_name (SbLayout *layout, const char *name)
{
  char *clean = sb_name_clean (name);
  g_free (layout->name);
  layout->name = clean;
}

void
sb_layout_set_pieces (SbLayout *layout, const SbPiece *pieces, guint n)
{
  SbPiece *before = layout->pieces;
  layout->pieces = g_memdup2 (pieces, n * sizeof *pieces);
  layout->n_pieces = n;
  g_free (before);
}

void
sb_layout_tidy (SbLayout *layout)
{
  layout->width = CLAMP (layout->width, SB_LAYOUT_LEAST, SB_LAYOUT_MOST);
  layout->height = CLAMP (layout->height, SB_LAYOUT_LEAST, SB_LAYOUT_MOST);
  layout->edge = CLAMP (layout->edge, 0, SB_LAYOUT_EDGE_MOST);
  layout->gap = CLAMP (layout->gap, 0, SB_LAYOUT_GAP_MOST);
  layout->corner = CLAMP (layout->corner, 0, SB_LAYOUT_CORNER_MOST);
  layout->lane =
      layout->lane <= 0 ? 0 : CLAMP (layout->lane, SB_LAYOUT_LANE_LEAST, SB_LAYOUT_LANE_MOST);
  layout->zone = CLAMP (layout->zone, 0, SB_LAYOUT_ZONE_MOST);
  layout->hole = CLAMP (layout->hole, 0, SB_LAYOUT_HOLE_MOST);
  layout->hole_at = CLAMP (layout->hole_at, 0, SB_LAYOUT_MOST / 2);
  layout->background = CLAMP (layout->background, -1, 0xffffff);
  layout->weight = CLAMP (layout->weight, 0, SB_LAYOUT_WEIGHT_MOST);
  layout->wanted = CLAMP (layout->wanted, 0, SB_WANTED_MOST);
  for (guint i = 0; i < layout->n_pieces; i++)
    layout->pieces[i] = sb_piece_tidy (layout->pieces[i]);
}

SbGuide
sb_layout_get_guide (const SbLayout *layout, const SbDesign *design)
{
  if (layout == NULL || design->guide.style == SB_GUIDE_OFF)
    return design->guide;
  return sb_guide_for_style (sb_layout_is_card (layout) ? SB_GUIDE_OFF : SB_GUIDE_KNIFE);
}

SbIBox
sb_placement_get_box (const SbLayout *layout, const SbPlacement *placement)
{
  sb_um width = placement->turned ? layout->height : layout->width;
  sb_um height = placement->turned ? layout->width : layout->height;
  SbIPoint at = placement->at;
  return (SbIBox){at.x, at.y, at.x + width, at.y + height};
}

SbPiece
sb_placement_lay_piece (const SbLayout *layout, const SbPlacement *placement, SbPiece piece)
{
  SbIPoint in = piece.at;
  if (placement->turned) {
    piece.at = (SbIPoint){layout->height - in.y, in.x};
    piece.turn += 90000;
  }
  piece.at.x += placement->at.x;
  piece.at.y += placement->at.y;
  return sb_piece_tidy (piece);
}

SbTransform
sb_placement_get_transform (const SbLayout *layout, const SbPlacement *placement)
{
  double x = sb_um_to_mm (placement->at.x), y = sb_um_to_mm (placement->at.y);
  if (!placement->turned)
    return (SbTransform){1, 0, 0, 1, x, y};
  return (SbTransform){0, 1, -1, 0, x + sb_um_to_mm (layout->height), y};
}
