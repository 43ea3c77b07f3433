/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "packing/free-space.h"
#include "window/desk/piece-edits.h"

/* A selected piece with what an edit needs to know of it. */
typedef struct {
  SbPiece piece;
  guint page;
  SbIBox box;
} Item;

SbIBox
sb_piece_get_box (const SbState *state, const SbPiece *piece)
{
  g_autoptr (SbPolygon) outline =
      sb_piece_get_outline (sb_state_get_design (state, piece->design_id), piece);

  return sb_polygon_get_box (outline);
}

SbIBox
sb_pieces_get_box (const SbState *state, const guint *ids, guint n)
{
  SbIBox all = sb_piece_get_box (state, sb_state_get_piece (state, ids[0], NULL));

  for (guint i = 1; i < n; i++) {
    SbIBox box = sb_piece_get_box (state, sb_state_get_piece (state, ids[i], NULL));
    all = (SbIBox){MIN (all.x0, box.x0), MIN (all.y0, box.y0), MAX (all.x1, box.x1),
                   MAX (all.y1, box.y1)};
  }
  return all;
}

static sb_um
clamp_um (gint64 value)
{
  return (sb_um)CLAMP (value, -SB_UM_MOST, SB_UM_MOST);
}

static GArray *
collect (const SbState *state, const guint *ids, guint n)
{
  GArray *items = g_array_sized_new (FALSE, FALSE, sizeof (Item), n);

  for (guint i = 0; i < n; i++) {
    Item item;
    const SbPiece *piece = sb_state_get_piece (state, ids[i], &item.page);
    if (!piece)
      continue;
    item.piece = *piece;
    item.box = sb_piece_get_box (state, piece);
    g_array_append_val (items, item);
  }
  return items;
}

static SbState *
put_back (const SbState *state, GArray *items)
{
  g_autofree SbPiece *pieces = g_new (SbPiece, MAX (items->len, 1));

  for (guint i = 0; i < items->len; i++)
    pieces[i] = g_array_index (items, Item, i).piece;
  return sb_edit_set_pieces (state, pieces, items->len);
}

static void
shift (Item *item, gint64 dx, gint64 dy)
{
  item->piece.at.x = clamp_um (item->piece.at.x + dx);
  item->piece.at.y = clamp_um (item->piece.at.y + dy);
}

/* The items of one page, in the order of the selection; NULL-free pointers into `items`. */
static GPtrArray *
items_of_page (GArray *items, guint page)
{
  GPtrArray *list = g_ptr_array_new ();

  for (guint i = 0; i < items->len; i++) {
    Item *item = &g_array_index (items, Item, i);
    if (item->page == page)
      g_ptr_array_add (list, item);
  }
  return list;
}

static SbIBox
common_box (GPtrArray *items)
{
  SbIBox box = ((Item *)items->pdata[0])->box;

  for (guint i = 1; i < items->len; i++) {
    const SbIBox *other = &((Item *)items->pdata[i])->box;
    box.x0 = MIN (box.x0, other->x0);
    box.y0 = MIN (box.y0, other->y0);
    box.x1 = MAX (box.x1, other->x1);
    box.y1 = MAX (box.y1, other->y1);
  }
  return box;
}

SbState *
sb_pieces_move (const SbState *state, const guint *ids, guint n, sb_um dx, sb_um dy)
{
  g_autoptr (GArray) items = collect (state, ids, n);

  for (guint i = 0; i < items->len; i++)
    shift (&g_array_index (items, Item, i), dx, dy);
  return put_back (state, items);
}

static void
turn_about (Item *item, double x, double y, gint32 by)
{
  SbTransform t = sb_transform_turn ((SbPoint){x, y}, by / 1000.0, (SbPoint){x, y});
  SbPoint at = sb_transform_point (t, (SbPoint){item->piece.at.x, item->piece.at.y});

  item->piece.at.x = clamp_um (llround (at.x));
  item->piece.at.y = clamp_um (llround (at.y));
  item->piece.turn = (gint32)(((gint64)item->piece.turn + by) % 360000 + 360000) % 360000;
}

SbState *
sb_pieces_turn (const SbState *state, const guint *ids, guint n, gint32 by)
{
  g_autoptr (GArray) items = collect (state, ids, n);

  for (guint page = 0; page < state->pages->len; page++) {
    g_autoptr (GPtrArray) list = items_of_page (items, page);
    if (list->len == 0)
      continue;
    SbIBox box = common_box (list);
    for (guint i = 0; i < list->len; i++) {
      Item *item = list->pdata[i];
      if (list->len == 1)
        turn_about (item, item->piece.at.x, item->piece.at.y, by);
      else
        turn_about (item, (box.x0 + box.x1) / 2.0, (box.y0 + box.y1) / 2.0, by);
    }
  }
  return put_back (state, items);
}

SbState *
sb_pieces_set_pinned (const SbState *state, const guint *ids, guint n, gboolean pinned)
{
  g_autoptr (GArray) items = collect (state, ids, n);

  for (guint i = 0; i < items->len; i++)
    g_array_index (items, Item, i).piece.pinned = pinned;
  return put_back (state, items);
}

static void
align_item (Item *item, SbIBox to, SbAlign align)
{
  const SbIBox *box = &item->box;

  switch (align) {
  case SB_ALIGN_LEFT:
    shift (item, to.x0 - box->x0, 0);
    break;
  case SB_ALIGN_CENTRE:
    shift (item, ((gint64)to.x0 + to.x1 - box->x0 - box->x1) / 2, 0);
    break;
  case SB_ALIGN_RIGHT:
    shift (item, to.x1 - box->x1, 0);
    break;
  case SB_ALIGN_TOP:
    shift (item, 0, to.y0 - box->y0);
    break;
  case SB_ALIGN_MIDDLE:
    shift (item, 0, ((gint64)to.y0 + to.y1 - box->y0 - box->y1) / 2);
    break;
  case SB_ALIGN_BOTTOM:
  default:
    shift (item, 0, to.y1 - box->y1);
  }
}

/* The printable area less what the guide needs, so that aligning to it gives no finding. */
static SbIBox
area_for_outlines (const SbState *state)
{
  const sb_um inset = sb_um_from_mm (SB_GUIDE_CLEARANCE_MM);
  SbIBox area = sb_state_get_printable_box (state);

  return (SbIBox){area.x0 + inset, area.y0 + inset, area.x1 - inset, area.y1 - inset};
}

SbState *
sb_pieces_align (const SbState *state, const guint *ids, guint n, SbAlign align)
{
  g_autoptr (GArray) items = collect (state, ids, n);

  for (guint page = 0; page < state->pages->len; page++) {
    g_autoptr (GPtrArray) list = items_of_page (items, page);
    if (list->len == 0)
      continue;
    SbIBox to = list->len == 1 ? area_for_outlines (state) : common_box (list);
    for (guint i = 0; i < list->len; i++)
      align_item (list->pdata[i], to, align);
  }
  return put_back (state, items);
}

static sb_um
start_of (const Item *item, gboolean down)
{
  return down ? item->box.y0 : item->box.x0;
}

static sb_um
length_of (const Item *item, gboolean down)
{
  return down ? item->box.y1 - item->box.y0 : item->box.x1 - item->box.x0;
}

static int
compare_starts (gconstpointer a, gconstpointer b, gpointer data)
{
  const Item *p = *(Item *const *)a, *q = *(Item *const *)b;
  gboolean down = GPOINTER_TO_INT (data);
  gint64 p_middle = 2 * (gint64)start_of (p, down) + length_of (p, down);
  gint64 q_middle = 2 * (gint64)start_of (q, down) + length_of (q, down);

  if (p_middle != q_middle)
    return p_middle < q_middle ? -1 : 1;
  return p->piece.id < q->piece.id ? -1 : p->piece.id > q->piece.id;
}

static void
distribute_items (GPtrArray *list, gboolean down)
{
  gint64 taken = 0;

  g_ptr_array_sort_with_data (list, compare_starts, GINT_TO_POINTER (down));
  const Item *first = list->pdata[0], *last = list->pdata[list->len - 1];
  for (guint i = 0; i < list->len; i++)
    taken += length_of (list->pdata[i], down);
  gint64 span = (gint64)start_of (last, down) + length_of (last, down) - start_of (first, down);
  double gap = (double)(span - taken) / (list->len - 1);
  double at = start_of (first, down);
  for (guint i = 0; i < list->len; i++) {
    Item *item = list->pdata[i];
    gint64 by = llround (at) - start_of (item, down);
    at += length_of (item, down) + gap;
    shift (item, down ? 0 : by, down ? by : 0);
  }
}

SbState *
sb_pieces_distribute (const SbState *state, const guint *ids, guint n, gboolean down)
{
  g_autoptr (GArray) items = collect (state, ids, n);

  for (guint page = 0; page < state->pages->len; page++) {
    g_autoptr (GPtrArray) list = items_of_page (items, page);
    if (list->len >= 3)
      distribute_items (list, down);
  }
  return put_back (state, items);
}

SbState *
sb_pieces_centre (const SbState *state, const guint *ids, guint n)
{
  g_autoptr (GArray) items = collect (state, ids, n);
  SbIBox area = sb_state_get_printable_box (state);

  for (guint page = 0; page < state->pages->len; page++) {
    g_autoptr (GPtrArray) list = items_of_page (items, page);
    if (list->len == 0)
      continue;
    SbIBox box = common_box (list);
    gint64 dx = ((gint64)area.x0 + area.x1 - box.x0 - box.x1) / 2;
    gint64 dy = ((gint64)area.y0 + area.y1 - box.y0 - box.y1) / 2;
    for (guint i = 0; i < list->len; i++)
      shift (list->pdata[i], dx, dy);
  }
  return put_back (state, items);
}

static SbState *
add_copy (SbState *state, const Item *item, gint64 dx, gint64 dy, GArray *copies)
{
  SbPiece copy = item->piece;
  guint id;

  copy.pinned = FALSE;
  copy.at.x = clamp_um (copy.at.x + dx);
  copy.at.y = clamp_um (copy.at.y + dy);
  SbState *next = sb_edit_add_piece (state, item->page, copy, &id);
  sb_state_unref (state);
  g_array_append_val (copies, id);
  return next;
}

SbState *
sb_pieces_duplicate (const SbState *state, const guint *ids, guint n, sb_um dx, sb_um dy,
                     GArray *copies)
{
  g_autoptr (GArray) items = collect (state, ids, n);
  SbState *next = sb_state_ref ((SbState *)state);

  for (guint i = 0; i < items->len; i++)
    next = add_copy (next, &g_array_index (items, Item, i), dx, dy, copies);
  return next;
}

SbState *
sb_pieces_repeat (const SbState *state, const guint *ids, guint n, guint columns, guint rows,
                  sb_um step_x, sb_um step_y, GArray *copies)
{
  g_autoptr (GArray) items = collect (state, ids, n);
  SbState *next = sb_state_ref ((SbState *)state);

  for (guint cell = 1; cell < columns * rows; cell++)
    for (guint i = 0; i < items->len; i++)
      next = add_copy (next, &g_array_index (items, Item, i), (gint64)(cell % columns) * step_x,
                       (gint64)(cell / columns) * step_y, copies);
  return next;
}

gboolean
sb_piece_find_room (const SbState *state, guint page_index, SbPiece *piece)
{
  const SbDesign *design = sb_state_get_design (state, piece->design_id);
  g_autoptr (SbFreeSpace) space =
      sb_free_space_new (state, page_index, design, piece->turn, NULL, 0);

  return sb_free_space_get_nearest (space, piece->at, &piece->at);
}
