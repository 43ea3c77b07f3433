/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pieces moved or copied by the pointer, with snapping and the places where they fit. */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/edit.h"
#include "window/canvas/drag-private.h"

#define SNAP_PX 8

/* Outline of the one moving piece, or the box of all, in the stack of pages. */
static SbPolygon *
make_shape (SbDrag *drag)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);
  SbIBox all = {0};

  for (guint i = 0; i < drag->starts->len; i++) {
    const SbDragStart *start = &g_array_index (drag->starts, SbDragStart, i);
    SbPieceView *view = sb_pages_view_find (drag->view, start->piece.id);
    g_autoptr (SbPolygon) outline = sb_polygon_move (
        sb_piece_view_get_outline (view), 0, sb_pages_layout_stack_y (layout, start->page, 0));
    SbIBox box = sb_polygon_get_box (outline);

    if (drag->starts->len == 1)
      return g_steal_pointer (&outline);
    if (i == 0)
      all = box;
    all = (SbIBox){MIN (all.x0, box.x0), MIN (all.y0, box.y0), MAX (all.x1, box.x1),
                   MAX (all.y1, box.y1)};
  }
  return sb_polygon_new_box (all);
}

void
sb_drag_begin_move (SbDrag *drag)
{
  SbSelection *selection = sb_pages_view_get_selection (drag->view);

  /* A press with Ctrl has left the selection alone until now. */
  if (!sb_selection_contains (selection, drag->grabbed))
    sb_selection_set_piece (selection, drag->grabbed);
  sb_drag_collect_starts (drag);
  drag->shape = make_shape (drag);
  drag->whole = drag->starts->len == 1;
  drag->cache = sb_snap_cache_new ();
  sb_marks_set_dragging (sb_pages_view_get_marks (drag->view), TRUE);
  sb_pages_view_set_lifted (drag->view, TRUE);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (drag->view), "grabbing");
}

/* How far the pointer has come over the pages, um, scrolling included. */
static void
get_way (SbDrag *drag, double *dx, double *dy)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);
  double k = SB_UM_PER_MM / layout->scale;

  *dx = (drag->offset.x + layout->scroll_x - drag->scroll.x) * k;
  *dy = (drag->offset.y + layout->scroll_y - drag->scroll.y) * k;
  if (drag->modifiers & GDK_SHIFT_MASK) {
    if (fabs (*dx) >= fabs (*dy))
      *dy = 0;
    else
      *dx = 0;
  }
}

/* The page under the middle of what moves. */
static guint
find_target_page (SbDrag *drag, sb_um dx, sb_um dy)
{
  SbIBox box = sb_polygon_get_box (drag->shape);
  sb_um ignored;

  return sb_pages_layout_stack_page (sb_pages_view_get_layout (drag->view),
                                     (sb_um)(((gint64)box.y0 + box.y1) / 2 + dy), &ignored);
}

static void
fit_changed_cb (gpointer fit, gpointer view)
{
  sb_pages_view_set_fit (view, fit);
}

/* Only of one piece: several together have no one outline. */
static void
update_fit (SbDrag *drag, guint page)
{
  const SbPalette *palette = sb_palette_get (GTK_WIDGET (drag->view));
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (drag->view));
  gboolean copies = (drag->modifiers & GDK_CONTROL_MASK) != 0;

  if (!drag->whole ||
      (drag->fit && sb_fit_area_get_page (drag->fit) == page && drag->fit_copies == copies))
    return;
  const SbPiece *piece = &g_array_index (drag->starts, SbDragStart, 0).piece;
  g_clear_pointer (&drag->fit, sb_fit_area_free);
  drag->fit = sb_fit_area_new (state, page, sb_state_get_design (state, piece->design_id),
                               piece->turn, &piece->id, copies ? 0 : 1, palette);
  sb_fit_area_look_further (drag->fit, state, piece->turn, FALSE, &piece->id, copies ? 0 : 1,
                            palette, fit_changed_cb, drag->view);
  drag->fit_copies = copies;
  sb_pages_view_set_fit (drag->view, drag->fit);
}

/* A piece that lies wrong by a hair is drawn to where it lies right. */
static void
snap_to_free (SbDrag *drag, SbIPoint centre, double reach_um, SbIPoint *by)
{
  SbIPoint at = {centre.x + by->x, centre.y + by->y}, nearest;

  if (drag->fit && sb_fit_area_find_near (drag->fit, at, reach_um, &nearest))
    *by = (SbIPoint){nearest.x - centre.x, nearest.y - centre.y};
}

/* Where a piece that lay at `start` has its centre on `page` after a move. */
static SbIPoint
get_centre (SbDrag *drag, const SbDragStart *start, guint page, sb_um dx, sb_um dy)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);

  return (SbIPoint){
      start->piece.at.x + dx,
      sb_pages_layout_stack_y (layout, start->page, start->piece.at.y) + dy -
          sb_pages_layout_stack_y (layout, page, 0),
  };
}

static void
tell (SbDrag *drag, const SbDragStart *start, guint page, sb_um dx, sb_um dy)
{
  g_autofree char *told = NULL;

  if (drag->fit)
    told = sb_fit_area_tell (drag->fit, get_centre (drag, start, page, dx, dy),
                             sb_pages_view_get_unit (drag->view));
  sb_marks_set_told (sb_pages_view_get_marks (drag->view), told);
}

static SbIPoint
snap (SbDrag *drag, sb_um dx, sb_um dy)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (drag->view));
  SbMarks *marks = sb_pages_view_get_marks (drag->view);
  guint page = find_target_page (drag, dx, dy);
  g_autoptr (GArray) guides = g_array_new (FALSE, FALSE, sizeof (SbSnapGuide));
  g_autoptr (SbPolygon) shape =
      sb_polygon_move (drag->shape, dx, dy - sb_pages_layout_stack_y (layout, page, 0));
  /* Copies may lie by their originals, which then are neighbours like any other. */
  g_autoptr (GHashTable) none = g_hash_table_new (NULL, NULL);
  SbSnapQuery query = {
      .state = state,
      .page = page,
      .moving = drag->modifiers & GDK_CONTROL_MASK ? none : drag->moving,
      .shape = shape,
      .whole = drag->whole,
      .reach_um = SNAP_PX * SB_UM_PER_MM / layout->scale,
  };
  const SbDragStart *start = &g_array_index (drag->starts, SbDragStart, 0);
  SbIPoint by = {0, 0};

  update_fit (drag, page);
  if (!(drag->modifiers & GDK_ALT_MASK)) {
    by = sb_snap_find (&query, drag->cache, guides);
    if (!sb_snap_is_clear (&query, drag->cache, by))
      snap_to_free (drag, get_centre (drag, start, page, dx, dy), query.reach_um, &by);
  }
  sb_marks_set_guides (marks, page, (const SbSnapGuide *)(void *)guides->data, guides->len);
  tell (drag, start, page, dx + by.x, dy + by.y);
  return by;
}

/* The pieces where they come to lie, each on the page under its middle. */
static SbState *
place_originals (SbDrag *drag, SbState *state, sb_um dx, sb_um dy)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);
  g_autofree SbPiece *pieces = g_new (SbPiece, MAX (drag->starts->len, 1));
  SbState *next;

  for (guint i = 0; i < drag->starts->len; i++) {
    const SbDragStart *start = &g_array_index (drag->starts, SbDragStart, i);
    sb_um y = sb_pages_layout_stack_y (layout, start->page, start->piece.at.y) + dy;

    pieces[i] = start->piece;
    pieces[i].at.x += dx;
    sb_pages_layout_stack_page (layout, y, &pieces[i].at.y);
  }
  next = sb_edit_set_pieces (state, pieces, drag->starts->len);
  for (guint i = 0; i < drag->starts->len; i++) {
    const SbDragStart *start = &g_array_index (drag->starts, SbDragStart, i);
    sb_um ignored, y = sb_pages_layout_stack_y (layout, start->page, start->piece.at.y) + dy;
    guint page = sb_pages_layout_stack_page (layout, y, &ignored);

    if (page == start->page)
      continue;
    SbState *moved = sb_edit_move_pieces_to_page (next, &start->piece.id, 1, page);
    sb_state_unref (next);
    next = moved;
  }
  return next;
}

static SbState *
place_copies (SbDrag *drag, SbState *state, sb_um dx, sb_um dy, GArray *copies)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);
  SbState *next = sb_state_ref (state);

  for (guint i = 0; i < drag->starts->len; i++) {
    const SbDragStart *start = &g_array_index (drag->starts, SbDragStart, i);
    SbPiece copy = start->piece;
    sb_um y = sb_pages_layout_stack_y (layout, start->page, start->piece.at.y) + dy;
    guint id, page = sb_pages_layout_stack_page (layout, y, &copy.at.y);

    copy.at.x += dx;
    copy.pinned = FALSE;
    SbState *with = sb_edit_add_piece (next, page, copy, &id);
    sb_state_unref (next);
    next = with;
    g_array_append_val (copies, id);
  }
  return next;
}

void
sb_drag_update_move (SbDrag *drag)
{
  SbJob *job = sb_pages_view_get_job (drag->view);
  SbState *settled = sb_job_get_settled_state (job);
  SbSelection *selection = sb_pages_view_get_selection (drag->view);
  g_autoptr (GArray) copies = g_array_new (FALSE, FALSE, sizeof (guint));
  double way_x, way_y;

  get_way (drag, &way_x, &way_y);
  /* Places stay within what the predicates can hold. */
  sb_um dx = (sb_um)CLAMP (lround (way_x), -SB_UM_MOST / 4, SB_UM_MOST / 4);
  sb_um dy = (sb_um)CLAMP (lround (way_y), -SB_UM_MOST / 4, SB_UM_MOST / 4);
  SbIPoint by = snap (drag, dx, dy);
  dx += by.x;
  dy += by.y;
  if (drag->modifiers & GDK_CONTROL_MASK) {
    sb_job_preview (job, place_copies (drag, settled, dx, dy, copies));
    sb_selection_set_pieces (selection, (const guint *)(void *)copies->data, copies->len);
  } else {
    sb_job_preview (job, place_originals (drag, settled, dx, dy));
    sb_selection_set_pieces (selection, (const guint *)(void *)drag->ids->data, drag->ids->len);
  }
}

void
sb_drag_end_move (SbDrag *drag)
{
  SbJob *job = sb_pages_view_get_job (drag->view);
  SbState *settled = sb_job_get_settled_state (job);
  const guint *ids = (const guint *)(void *)drag->ids->data;
  gboolean copied = (drag->modifiers & GDK_CONTROL_MASK) != 0;
  guint n = drag->ids->len;
  g_autofree char *name =
      copied ? sb_canvas_drag_name_edit (settled, ids, n, _ ("Duplicate %s"),
                                         ngettext ("Duplicate %u piece", "Duplicate %u pieces", n))
             : sb_canvas_drag_name_edit (settled, ids, n, _ ("Move %s"),
                                         ngettext ("Move %u piece", "Move %u pieces", n));

  sb_job_edit (job, sb_state_ref (sb_job_get_state (job)), name, NULL);
}
