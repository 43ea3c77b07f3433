/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What selects, looks and opens tools, and the list of all actions. */
#include "config.h"

#include "window/canvas/canvas-drag.h"
#include "window/canvas/canvas-private.h"
#include "window/canvas/canvas-work.h"

static void
select_all_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  SbCanvasWork work;

  if (!sb_canvas_work_begin (widget, &work))
    return;
  for (guint i = 0; i < work.state->pages->len; i++) {
    const SbPage *page = work.state->pages->pdata[i];
    for (guint j = 0; j < page->n_pieces; j++)
      g_array_append_val (ids, page->pieces[j].id);
  }
  sb_canvas_work_select (&work, ids);
}

static void
select_same_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GHashTable) designs = g_hash_table_new (NULL, NULL);
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
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
  sb_canvas_work_select (&work, ids);
}

/* Escape: gives up a drag, else the selection. */
static void
select_none_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbPagesView *pages = sb_canvas_get_pages_view (SB_CANVAS (widget));

  if (!sb_canvas_drag_cancel (pages))
    sb_selection_clear (sb_pages_view_get_selection (pages));
}

static void
edit_outline_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbHandEdit *hand = sb_pages_view_get_hand_edit (sb_canvas_get_pages_view (SB_CANVAS (widget)));
  SbCanvasWork work;

  if (sb_hand_edit_get_piece (hand))
    sb_hand_edit_end (hand);
  else if (sb_canvas_work_begin_with_pieces (widget, &work))
    sb_hand_edit_begin (hand, work.ids[work.n - 1]);
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

static const SbCanvasAction actions[] = {
    {"pieces.select-all", NULL, select_all_cb, FALSE},
    {"pieces.select-same", NULL, select_same_cb, TRUE},
    {"pieces.select-none", NULL, select_none_cb, FALSE},
    {"pieces.edit-outline", NULL, edit_outline_cb, TRUE},
    {"pieces.zoom-to", NULL, zoom_to_cb, TRUE},
    {"pieces.menu", NULL, menu_cb, FALSE},
    {"canvas.measure", NULL, measure_cb, FALSE},
    {"canvas.zoom-in", NULL, zoom_in_cb, FALSE},
    {"canvas.zoom-out", NULL, zoom_out_cb, FALSE},
    {"canvas.fit", NULL, fit_cb, FALSE},
    {"canvas.true-size", NULL, true_size_cb, FALSE},
    {NULL, NULL, NULL, FALSE},
};

static const SbCanvasAction *const tables[] = {sb_piece_actions, sb_clip_actions, actions};

void
sb_canvas_update_actions (SbCanvas *self)
{
  SbPagesView *pages = sb_canvas_get_pages_view (self);
  gboolean some = sb_selection_get_n_pieces (sb_pages_view_get_selection (pages)) > 0;

  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    for (const SbCanvasAction *action = tables[i]; action->name; action++)
      if (action->needs_pieces)
        gtk_widget_action_set_enabled (GTK_WIDGET (self), action->name, some);
}

void
sb_canvas_class_install_actions (GtkWidgetClass *klass)
{
  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    for (const SbCanvasAction *action = tables[i]; action->name; action++)
      gtk_widget_class_install_action (klass, action->name, action->type, action->run);
  sb_canvas_class_bind_keys (klass);
}
