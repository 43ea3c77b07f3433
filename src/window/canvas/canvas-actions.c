/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "proof/proof.h"
#include "window/canvas/canvas-drag.h"
#include "window/canvas/canvas-private.h"
#include "window/canvas/piece-clip.h"
#include "window/canvas/repeat-dialog.h"
#include "window/desk/piece-edits.h"
#include "window/pictures/sticker-provider.h"

/* What an action works on. */
typedef struct {
  SbCanvas *canvas;
  SbPagesView *pages;
  SbJob *job;
  SbState *state; /* settled */
  SbSelection *selection;
  const guint *ids;
  guint n;
} Work;

/* FALSE when there is no job, or a drag is under way. */
static gboolean
begin (GtkWidget *widget, Work *work)
{
  work->canvas = SB_CANVAS (widget);
  work->pages = sb_canvas_get_pages_view (work->canvas);
  work->job = sb_pages_view_get_job (work->pages);
  if (!work->job || sb_job_get_state (work->job) != sb_job_get_settled_state (work->job))
    return FALSE;
  work->state = sb_job_get_settled_state (work->job);
  work->selection = sb_pages_view_get_selection (work->pages);
  work->ids = sb_selection_get_pieces (work->selection, &work->n);
  return TRUE;
}

static gboolean
begin_with_pieces (GtkWidget *widget, Work *work)
{
  return begin (widget, work) && work->n > 0;
}

/* One step of history, named after the one piece or their number. */
static void
edit (Work *work, SbState *next, const char *one, const char *many, const char *merge_key)
{
  g_autofree char *name = sb_canvas_drag_name_edit (work->state, work->ids, work->n, one, many);

  sb_job_edit (work->job, next, name, merge_key);
}

static guint
get_page (SbCanvas *canvas)
{
  guint page;

  g_object_get (canvas, "page", &page, NULL);
  return page;
}

/* Selects pieces and gives one the focus, so that the keyboard goes on from there. */
static void
select_ids (Work *work, GArray *ids)
{
  sb_selection_set_pieces (work->selection, (const guint *)(void *)ids->data, ids->len);
  gtk_widget_grab_focus (GTK_WIDGET (work->canvas));
}

static void
delete_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  edit (&work, sb_edit_remove_pieces (work.state, work.ids, work.n), _ ("Delete %s"),
        ngettext ("Delete %u piece", "Delete %u pieces", work.n), NULL);
  gtk_widget_grab_focus (widget);
}

/* A copy beside the pieces: their common width and the gap to the right, or below where the page
 * ends. */
static SbIPoint
step_aside (Work *work)
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

static void
duplicate_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_autoptr (GArray) copies = g_array_new (FALSE, FALSE, sizeof (guint));
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  SbIPoint by = step_aside (&work);
  edit (&work, sb_pieces_duplicate (work.state, work.ids, work.n, by.x, by.y, copies),
        _ ("Duplicate %s"), ngettext ("Duplicate %u piece", "Duplicate %u pieces", work.n), NULL);
  select_ids (&work, copies);
}

static void
repeat_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_autoptr (GArray) copies = g_array_new (FALSE, FALSE, sizeof (guint));
  guint columns, rows;
  int step_x, step_y;
  Work work;

  g_variant_get (parameter, "(uuii)", &columns, &rows, &step_x, &step_y);
  if (!begin_with_pieces (widget, &work) || columns == 0 || rows == 0 || columns > 100 ||
      rows > 100)
    return;
  edit (&work,
        sb_pieces_repeat (work.state, work.ids, work.n, columns, rows, step_x, step_y, copies),
        _ ("Repeat %s"), ngettext ("Repeat %u piece", "Repeat %u pieces", work.n), NULL);
}

static void
repeat_dialog_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  Work work;

  if (begin_with_pieces (widget, &work))
    sb_repeat_dialog_open (work.canvas);
}

static void
pin_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gboolean pinned = TRUE;
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  for (guint i = 0; i < work.n; i++)
    pinned = pinned && sb_state_get_piece (work.state, work.ids[i], NULL)->pinned;
  edit (&work, sb_pieces_set_pinned (work.state, work.ids, work.n, !pinned),
        pinned ? _ ("Unpin %s") : _ ("Pin %s"),
        pinned ? ngettext ("Unpin %u piece", "Unpin %u pieces", work.n)
               : ngettext ("Pin %u piece", "Pin %u pieces", work.n),
        NULL);
}

static void
turn_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  edit (&work, sb_pieces_turn (work.state, work.ids, work.n, g_variant_get_int32 (parameter)),
        _ ("Turn %s"), ngettext ("Turn %u piece", "Turn %u pieces", work.n), "turn");
}

static void
nudge_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  int dx, dy;
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  g_variant_get (parameter, "(ii)", &dx, &dy);
  edit (&work, sb_pieces_move (work.state, work.ids, work.n, dx, dy), _ ("Move %s"),
        ngettext ("Move %u piece", "Move %u pieces", work.n), "nudge");
  SbPieceView *view = sb_pages_view_find (work.pages, work.ids[work.n - 1]);
  if (view) {
    SbIBox box = sb_polygon_get_box (sb_piece_view_get_outline (view));
    sb_pages_view_scroll_to (work.pages, sb_piece_view_get_page (view),
                             (SbBox){box.x0, box.y0, box.x1, box.y1});
  }
}

/* The page's pieces; all pieces when those are selected already. */
static void
select_all_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  Work work;

  if (!begin (widget, &work))
    return;
  for (guint i = 0; i < work.state->pages->len; i++) {
    const SbPage *page = work.state->pages->pdata[i];
    for (guint j = 0; j < page->n_pieces; j++)
      g_array_append_val (ids, page->pieces[j].id);
  }
  select_ids (&work, ids);
}

static void
select_same_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GHashTable) designs = g_hash_table_new (NULL, NULL);
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  for (guint i = 0; i < work.n; i++) {
    const SbPiece *piece = sb_state_get_piece (work.state, work.ids[i], NULL);
    g_hash_table_add (designs, GUINT_TO_POINTER (piece->design_id));
  }
  for (guint i = 0; i < work.state->pages->len; i++) {
    const SbPage *page = work.state->pages->pdata[i];
    for (guint j = 0; j < page->n_pieces; j++)
      if (g_hash_table_contains (designs, GUINT_TO_POINTER (page->pieces[j].design_id)))
        g_array_append_val (ids, page->pieces[j].id);
  }
  select_ids (&work, ids);
}

/* Escape: gives up a drag, else the selection. */
static void
select_none_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbPagesView *pages = sb_canvas_get_pages_view (SB_CANVAS (widget));

  if (!sb_canvas_drag_cancel (pages))
    sb_selection_clear (sb_pages_view_get_selection (pages));
}

/* The pieces for us, and the last one's picture for other programs. */
static void
copy_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  SbPieceClip *clip = sb_piece_clip_new (work.state, work.ids, work.n);
  const SbPiece *last = sb_state_get_piece (work.state, work.ids[work.n - 1], NULL);
  GdkContentProvider *both[] = {
      gdk_content_provider_new_typed (SB_TYPE_PIECE_CLIP, clip),
      sb_sticker_provider_new (sb_state_get_design (work.state, last->design_id))};
  g_autoptr (GdkContentProvider) provider = gdk_content_provider_new_union (both, 2);
  gdk_clipboard_set_content (gtk_widget_get_clipboard (widget), provider);
  sb_piece_clip_free (clip);
}

static void
cut_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  copy_cb (widget, name, NULL);
  edit (&work, sb_edit_remove_pieces (work.state, work.ids, work.n), _ ("Cut %s"),
        ngettext ("Cut %u piece", "Cut %u pieces", work.n), NULL);
  gtk_widget_grab_focus (widget);
}

static void
paste_pieces (SbCanvas *canvas, const SbPieceClip *clip)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  guint n = sb_piece_clip_get_n (clip);
  g_autofree char *name = g_strdup_printf (ngettext ("Paste %u piece", "Paste %u pieces", n), n);
  Work work;

  if (!begin (GTK_WIDGET (canvas), &work))
    return;
  sb_job_edit (work.job, sb_piece_clip_paste (clip, work.state, get_page (canvas), ids), name,
               NULL);
  select_ids (&work, ids);
}

static void
clip_read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (SbCanvas) canvas = data;
  const GValue *value = gdk_clipboard_read_value_finish (GDK_CLIPBOARD (source), result, NULL);

  if (value && gtk_widget_get_native (GTK_WIDGET (canvas)))
    paste_pieces (canvas, g_value_get_boxed (value));
}

/* Copied pieces are ours; pictures are the window's business. */
static void
paste_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  GdkClipboard *clipboard = gtk_widget_get_clipboard (widget);

  if (gdk_content_formats_contain_gtype (gdk_clipboard_get_formats (clipboard), SB_TYPE_PIECE_CLIP))
    gdk_clipboard_read_value_async (clipboard, SB_TYPE_PIECE_CLIP, G_PRIORITY_DEFAULT, NULL,
                                    clip_read_cb, g_object_ref (widget));
  else
    gtk_widget_activate_action (widget, "win.paste-artwork", NULL);
}

static void
raise_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  edit (&work, sb_edit_raise_pieces (work.state, work.ids, work.n), _ ("Raise %s"),
        ngettext ("Raise %u piece", "Raise %u pieces", work.n), NULL);
}

static void
to_page_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  guint page = g_variant_get_uint32 (parameter);
  Work work;

  if (!begin_with_pieces (widget, &work) || page > work.state->pages->len)
    return;
  g_autoptr (SbState) with = page == work.state->pages->len ? sb_edit_add_page (work.state, page)
                                                            : sb_state_ref (work.state);
  edit (&work, sb_edit_move_pieces_to_page (with, work.ids, work.n, page),
        _ ("Move %s to another page"),
        ngettext ("Move %u piece to another page", "Move %u pieces to another page", work.n), NULL);
  sb_canvas_show_piece (work.canvas, work.ids[work.n - 1]);
}

static void
align_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  static const char *const names[] = {"left", "centre", "right", "top", "middle", "bottom", NULL};
  const char *which = g_variant_get_string (parameter, NULL);
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  for (int i = 0; names[i]; i++)
    if (g_str_equal (names[i], which))
      edit (&work, sb_pieces_align (work.state, work.ids, work.n, (SbAlign)i), _ ("Align %s"),
            ngettext ("Align %u piece", "Align %u pieces", work.n), NULL);
}

static void
distribute_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gboolean down = g_str_equal (g_variant_get_string (parameter, NULL), "down");
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  edit (&work, sb_pieces_distribute (work.state, work.ids, work.n, down), _ ("Space out %s"),
        ngettext ("Space out %u piece", "Space out %u pieces", work.n), NULL);
}

static void
centre_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  edit (&work, sb_pieces_centre (work.state, work.ids, work.n), _ ("Centre %s"),
        ngettext ("Centre %u piece", "Centre %u pieces", work.n), NULL);
}

static void
move_inside_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  g_autoptr (GArray) moved = g_array_new (FALSE, FALSE, sizeof (SbPiece));
  for (guint i = 0; i < work.n; i++) {
    SbPiece piece;
    if (sb_proof_move_inside (work.state, work.ids[i], &piece))
      g_array_append_val (moved, piece);
  }
  edit (&work, sb_edit_set_pieces (work.state, (const SbPiece *)(void *)moved->data, moved->len),
        _ ("Move %s inside"), ngettext ("Move %u piece inside", "Move %u pieces inside", work.n),
        NULL);
}

static void
edit_outline_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbHandEdit *hand = sb_pages_view_get_hand_edit (sb_canvas_get_pages_view (SB_CANVAS (widget)));
  Work work;

  if (sb_hand_edit_get_piece (hand))
    sb_hand_edit_end (hand);
  else if (begin_with_pieces (widget, &work))
    sb_hand_edit_begin (hand, work.ids[work.n - 1]);
}

static void
undo_outline_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  Work work;

  if (!begin_with_pieces (widget, &work))
    return;
  const SbPiece *piece = sb_state_get_piece (work.state, work.ids[work.n - 1], NULL);
  edit (&work, sb_edit_set_hand (work.state, piece->design_id, NULL), _ ("Undo Outline of %s"),
        ngettext ("Undo Outline of %u piece", "Undo Outline of %u pieces", work.n), NULL);
}

static void
measure_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbPagesView *pages = sb_canvas_get_pages_view (SB_CANVAS (widget));
  SbMeasureTool *tool = sb_pages_view_get_measure_tool (pages);

  sb_hand_edit_end (sb_pages_view_get_hand_edit (pages));
  if (gtk_widget_get_visible (GTK_WIDGET (tool)))
    sb_measure_tool_end (tool);
  else
    sb_measure_tool_begin (tool);
}

static void
zoom_to_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  sb_canvas_zoom_to_selection (SB_CANVAS (widget));
}

static void
zoom_in_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbPoint middle = sb_canvas_get_middle (SB_CANVAS (widget));

  sb_canvas_zoom_by (SB_CANVAS (widget), 1.25, middle.x, middle.y);
}

static void
zoom_out_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbPoint middle = sb_canvas_get_middle (SB_CANVAS (widget));

  sb_canvas_zoom_by (SB_CANVAS (widget), 1 / 1.25, middle.x, middle.y);
}

static void
fit_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  sb_canvas_zoom_fit (SB_CANVAS (widget));
}

static void
true_size_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  sb_canvas_zoom_true (SB_CANVAS (widget));
}

static void
menu_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbCanvas *canvas = SB_CANVAS (widget);
  SbPoint at = sb_canvas_get_middle (canvas);
  graphene_rect_t box;

  if (sb_marks_get_selection_box (sb_pages_view_get_marks (sb_canvas_get_pages_view (canvas)),
                                  &box))
    at = (SbPoint){box.origin.x + box.size.width / 2, box.origin.y + box.size.height / 2};
  sb_canvas_popup_menu (canvas, at.x, at.y);
}

/* Actions */

static const struct {
  const char *name;
  const char *type;
  GtkWidgetActionActivateFunc run;
  gboolean needs_pieces;
} actions[] = {
    {"pieces.delete", NULL, delete_cb, TRUE},
    {"pieces.duplicate", NULL, duplicate_cb, TRUE},
    {"pieces.repeat", "(uuii)", repeat_cb, TRUE},
    {"pieces.repeat-dialog", NULL, repeat_dialog_cb, TRUE},
    {"pieces.pin", NULL, pin_cb, TRUE},
    {"pieces.turn", "i", turn_cb, TRUE},
    {"pieces.nudge", "(ii)", nudge_cb, TRUE},
    {"pieces.select-all", NULL, select_all_cb, FALSE},
    {"pieces.select-same", NULL, select_same_cb, TRUE},
    {"pieces.select-none", NULL, select_none_cb, FALSE},
    {"pieces.copy", NULL, copy_cb, TRUE},
    {"pieces.cut", NULL, cut_cb, TRUE},
    {"pieces.paste", NULL, paste_cb, FALSE},
    {"pieces.raise", NULL, raise_cb, TRUE},
    {"pieces.to-page", "u", to_page_cb, TRUE},
    {"pieces.align", "s", align_cb, TRUE},
    {"pieces.distribute", "s", distribute_cb, TRUE},
    {"pieces.centre-on-page", NULL, centre_cb, TRUE},
    {"pieces.move-inside", NULL, move_inside_cb, TRUE},
    {"pieces.edit-outline", NULL, edit_outline_cb, TRUE},
    {"pieces.undo-outline", NULL, undo_outline_cb, TRUE},
    {"pieces.zoom-to", NULL, zoom_to_cb, TRUE},
    {"pieces.menu", NULL, menu_cb, FALSE},
    {"canvas.measure", NULL, measure_cb, FALSE},
    {"canvas.zoom-in", NULL, zoom_in_cb, FALSE},
    {"canvas.zoom-out", NULL, zoom_out_cb, FALSE},
    {"canvas.fit", NULL, fit_cb, FALSE},
    {"canvas.true-size", NULL, true_size_cb, FALSE},
};

void
sb_canvas_update_actions (SbCanvas *self)
{
  SbPagesView *pages = sb_canvas_get_pages_view (self);
  gboolean some = sb_selection_get_n_pieces (sb_pages_view_get_selection (pages)) > 0;

  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    if (actions[i].needs_pieces)
      gtk_widget_action_set_enabled (GTK_WIDGET (self), actions[i].name, some);
}

void
sb_canvas_class_install_actions (GtkWidgetClass *klass)
{
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    gtk_widget_class_install_action (klass, actions[i].name, actions[i].type, actions[i].run);
  sb_canvas_class_bind_keys (klass);
}
