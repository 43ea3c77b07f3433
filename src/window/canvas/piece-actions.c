/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "proof/proof.h"
#include "window/canvas/canvas-work.h"
#include "window/canvas/repeat-dialog.h"
#include "window/desk/piece-edits.h"

static void
delete_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  sb_canvas_work_edit (&work, sb_edit_remove_pieces (work.state, work.ids, work.n), _ ("Delete %s"),
                       ngettext ("Delete %u piece", "Delete %u pieces", work.n), NULL);
  gtk_widget_grab_focus (widget);
}

/* A copy beside the pieces: their common width and the gap to the right, or below where the page
 * ends. */
static SbIPoint
step_aside (SbCanvasWork *work)
{
  SbIBox all = sb_pieces_get_box (work->state, work->ids, work->n);
  SbIBox area = sb_state_get_printable_box (work->state);

  sb_um width = all.x1 - all.x0 + work->state->gap, height = all.y1 - all.y0 + work->state->gap;
  if (all.x1 + width <= area.x1)
    return (SbIPoint){width, 0};
  if (all.y1 + height <= area.y1)
    return (SbIPoint){0, height};
  return (SbIPoint){work->state->gap, work->state->gap};
}

/* A single copy lies as near to that as it has room. */
static SbIPoint
step_to_room (SbCanvasWork *work)
{
  SbIPoint by = step_aside (work);
  guint page;
  const SbPiece *piece = sb_state_get_piece (work->state, work->ids[0], &page);
  SbPiece copy = *piece;

  copy.at = (SbIPoint){piece->at.x + by.x, piece->at.y + by.y};
  if (work->n > 1 || !sb_piece_find_room (work->state, page, &copy))
    return by;
  return (SbIPoint){copy.at.x - piece->at.x, copy.at.y - piece->at.y};
}

static void
duplicate_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_autoptr (GArray) copies = g_array_new (FALSE, FALSE, sizeof (guint));
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  SbIPoint by = step_to_room (&work);
  sb_canvas_work_edit (
      &work, sb_pieces_duplicate (work.state, work.ids, work.n, by.x, by.y, copies),
      _ ("Duplicate %s"), ngettext ("Duplicate %u piece", "Duplicate %u pieces", work.n), NULL);
  sb_canvas_work_select (&work, copies);
}

static void
repeat_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_autoptr (GArray) copies = g_array_new (FALSE, FALSE, sizeof (guint));
  guint columns, rows;
  int step_x, step_y;
  SbCanvasWork work;

  g_variant_get (parameter, "(uuii)", &columns, &rows, &step_x, &step_y);
  if (!sb_canvas_work_begin_with_pieces (widget, &work) || columns == 0 || rows == 0 ||
      columns > 100 || rows > 100)
    return;
  sb_canvas_work_edit (
      &work, sb_pieces_repeat (work.state, work.ids, work.n, columns, rows, step_x, step_y, copies),
      _ ("Repeat %s"), ngettext ("Repeat %u piece", "Repeat %u pieces", work.n), NULL);
}

static void
repeat_dialog_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbCanvasWork work;

  if (sb_canvas_work_begin_with_pieces (widget, &work))
    sb_repeat_dialog_open (work.canvas);
}

static void
pin_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gboolean pinned = TRUE;
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  for (guint i = 0; i < work.n; i++)
    pinned = pinned && sb_state_get_piece (work.state, work.ids[i], NULL)->pinned;
  sb_canvas_work_edit (&work, sb_pieces_set_pinned (work.state, work.ids, work.n, !pinned),
                       pinned ? _ ("Unpin %s") : _ ("Pin %s"),
                       pinned ? ngettext ("Unpin %u piece", "Unpin %u pieces", work.n)
                              : ngettext ("Pin %u piece", "Pin %u pieces", work.n),
                       NULL);
}

static void
turn_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  sb_canvas_work_edit (
      &work, sb_pieces_turn (work.state, work.ids, work.n, g_variant_get_int32 (parameter)),
      _ ("Turn %s"), ngettext ("Turn %u piece", "Turn %u pieces", work.n), "turn");
}

static void
nudge_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  int dx, dy;
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  g_variant_get (parameter, "(ii)", &dx, &dy);
  sb_canvas_work_edit (&work, sb_pieces_move (work.state, work.ids, work.n, dx, dy), _ ("Move %s"),
                       ngettext ("Move %u piece", "Move %u pieces", work.n), "nudge");
  SbPieceView *view = sb_pages_view_find (work.pages, work.ids[work.n - 1]);
  if (view) {
    SbIBox box = sb_polygon_get_box (sb_piece_view_get_outline (view));
    sb_pages_view_scroll_to (work.pages, sb_piece_view_get_page (view),
                             (SbBox){box.x0, box.y0, box.x1, box.y1});
  }
}

static void
raise_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  sb_canvas_work_edit (&work, sb_edit_raise_pieces (work.state, work.ids, work.n), _ ("Raise %s"),
                       ngettext ("Raise %u piece", "Raise %u pieces", work.n), NULL);
}

static void
to_page_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  guint page = g_variant_get_uint32 (parameter);
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work) || page > work.state->pages->len)
    return;
  g_autoptr (SbState) with = page == work.state->pages->len ? sb_edit_add_page (work.state, page)
                                                            : sb_state_ref (work.state);
  sb_canvas_work_edit (
      &work, sb_edit_move_pieces_to_page (with, work.ids, work.n, page),
      _ ("Move %s to another page"),
      ngettext ("Move %u piece to another page", "Move %u pieces to another page", work.n), NULL);
  sb_canvas_show_piece (work.canvas, work.ids[work.n - 1]);
}

static void
align_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  static const char *const names[] = {"left", "centre", "right", "top", "middle", "bottom", NULL};
  const char *which = g_variant_get_string (parameter, NULL);
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  for (int i = 0; names[i]; i++)
    if (g_str_equal (names[i], which))
      sb_canvas_work_edit (&work, sb_pieces_align (work.state, work.ids, work.n, (SbAlign)i),
                           _ ("Align %s"), ngettext ("Align %u piece", "Align %u pieces", work.n),
                           NULL);
}

static void
distribute_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gboolean down = g_str_equal (g_variant_get_string (parameter, NULL), "down");
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  sb_canvas_work_edit (&work, sb_pieces_distribute (work.state, work.ids, work.n, down),
                       _ ("Space out %s"),
                       ngettext ("Space out %u piece", "Space out %u pieces", work.n), NULL);
}

static void
centre_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  sb_canvas_work_edit (&work, sb_pieces_centre (work.state, work.ids, work.n), _ ("Centre %s"),
                       ngettext ("Centre %u piece", "Centre %u pieces", work.n), NULL);
}

static void
move_inside_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  g_autoptr (GArray) moved = g_array_new (FALSE, FALSE, sizeof (SbPiece));
  for (guint i = 0; i < work.n; i++) {
    SbPiece piece;
    if (sb_proof_move_inside (work.state, work.ids[i], &piece))
      g_array_append_val (moved, piece);
  }
  sb_canvas_work_edit (
      &work, sb_edit_set_pieces (work.state, (const SbPiece *)(void *)moved->data, moved->len),
      _ ("Move %s inside"), ngettext ("Move %u piece inside", "Move %u pieces inside", work.n),
      NULL);
}

static void
undo_outline_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  const SbPiece *piece = sb_state_get_piece (work.state, work.ids[work.n - 1], NULL);
  sb_canvas_work_edit (
      &work, sb_edit_set_hand (work.state, piece->design_id, NULL), _ ("Undo Outline of %s"),
      ngettext ("Undo Outline of %u piece", "Undo Outline of %u pieces", work.n), NULL);
}

const SbCanvasAction sb_piece_actions[] = {
    {"pieces.delete", NULL, delete_cb, TRUE},
    {"pieces.duplicate", NULL, duplicate_cb, TRUE},
    {"pieces.repeat", "(uuii)", repeat_cb, TRUE},
    {"pieces.repeat-dialog", NULL, repeat_dialog_cb, TRUE},
    {"pieces.pin", NULL, pin_cb, TRUE},
    {"pieces.turn", "i", turn_cb, TRUE},
    {"pieces.nudge", "(ii)", nudge_cb, TRUE},
    {"pieces.raise", NULL, raise_cb, TRUE},
    {"pieces.to-page", "u", to_page_cb, TRUE},
    {"pieces.align", "s", align_cb, TRUE},
    {"pieces.distribute", "s", distribute_cb, TRUE},
    {"pieces.centre-on-page", NULL, centre_cb, TRUE},
    {"pieces.move-inside", NULL, move_inside_cb, TRUE},
    {"pieces.undo-outline", NULL, undo_outline_cb, TRUE},
    {NULL, NULL, NULL, FALSE},
};
