/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/edit.h"
#include "window/canvas/canvas-drop.h"
#include "window/desk/design-drag.h"

#define SNAP_PX 8

typedef void (*FilesFunc) (gpointer data, GdkFileList *files, guint page, int x_um, int y_um);

typedef struct {
  SbPagesView *view; /* owns this */
  FilesFunc files_cb;
  gpointer data;
  SbFitArea *fit;       /* of the design that hovers */
  SbDesign *fit_design; /* what it was made for; only compared */
  SbState *fit_state;
} Drop;

/* Where on which page a point of the view lies. */
static SbIPoint
find_place (SbPagesView *view, double x, double y, guint *page)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (view);
  double x_um, y_um;

  *page = sb_pages_layout_find_page (layout, y);
  sb_pages_layout_to_page (layout, *page, (SbPoint){x, y}, &x_um, &y_um);
  return (SbIPoint){(sb_um)lround (CLAMP (x_um, -SB_UM_MOST / 2, SB_UM_MOST / 2)),
                    (sb_um)lround (CLAMP (y_um, -SB_UM_MOST / 2, SB_UM_MOST / 2))};
}

static void
forget_fit (Drop *drop)
{
  sb_pages_view_set_fit (drop->view, NULL);
  g_clear_pointer (&drop->fit, sb_fit_area_free);
  g_clear_pointer (&drop->fit_state, sb_state_unref);
  drop->fit_design = NULL;
}

static void
fit_changed_cb (gpointer fit, gpointer view)
{
  sb_pages_view_set_fit (view, fit);
}

static void
update_fit (Drop *drop, SbDesign *design, guint page)
{
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (drop->view));
  const SbPalette *palette = sb_palette_get (GTK_WIDGET (drop->view));

  if (drop->fit && drop->fit_design == design && drop->fit_state == state &&
      sb_fit_area_get_page (drop->fit) == page)
    return;
  forget_fit (drop);
  drop->fit = sb_fit_area_new (state, page, design, 0, NULL, 0, palette);
  sb_fit_area_look_further (drop->fit, state, 0, TRUE, NULL, 0, palette, fit_changed_cb,
                            drop->view);
  drop->fit_design = design;
  drop->fit_state = sb_state_ref (state);
  sb_pages_view_set_fit (drop->view, drop->fit);
}

/* Where a design that is held at `at` comes to lie: upright where it can, else in another turn that
 * has room near there. */
static SbPiece
snap (Drop *drop, SbDesign *design, guint page, SbIPoint at)
{
  SbPagesView *view = drop->view;
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (view));
  g_autoptr (SbSnapCache) cache = sb_snap_cache_new ();
  g_autoptr (GHashTable) none = g_hash_table_new (NULL, NULL);
  g_autoptr (GArray) guides = g_array_new (FALSE, FALSE, sizeof (SbSnapGuide));
  SbPiece piece = {.design_id = design->id, .at = at};
  g_autoptr (SbPolygon) shape = sb_piece_get_outline (design, &piece);
  SbSnapQuery query = {
      .state = state,
      .page = page,
      .moving = none,
      .shape = shape,
      .whole = TRUE,
      .reach_um = SNAP_PX * SB_UM_PER_MM / sb_pages_view_get_layout (view)->scale,
  };
  SbIPoint by = sb_snap_find (&query, cache, guides);

  sb_marks_set_guides (sb_pages_view_get_marks (view), page,
                       (const SbSnapGuide *)(void *)guides->data, guides->len);
  piece.at = (SbIPoint){at.x + by.x, at.y + by.y};
  update_fit (drop, design, page);
  SbIPoint nearest;
  if (sb_snap_is_clear (&query, cache, by))
    return piece;
  if (sb_fit_area_find_near (drop->fit, piece.at, query.reach_um, &nearest) ||
      sb_fit_area_find_turn (drop->fit, piece.at, query.reach_um, &nearest, &piece.turn))
    piece.at = nearest;
  return piece;
}

static char *
tell (Drop *drop, const SbPiece *piece)
{
  if (piece->turn == 0)
    return sb_fit_area_tell (drop->fit, piece->at, sb_pages_view_get_unit (drop->view));
  /* Translators: of a sticker dragged to where it has room in another turn only */
  return g_strdup_printf (_ ("fits here turned by %d°"), piece->turn / 1000);
}

/* The design that is dragged, when it is of this window's job. */
static SbDesign *
get_design (Drop *drop, const GValue *value)
{
  SbJob *job = sb_pages_view_get_job (drop->view);

  if (!value || !G_VALUE_HOLDS (value, SB_TYPE_DESIGN_DRAG))
    return NULL;
  const SbDesignDrag *drag = g_value_get_boxed (value);
  if (!drag || drag->job != job)
    return NULL;
  return sb_state_get_design (sb_job_get_settled_state (job), drag->design_id);
}

static void
clear (Drop *drop)
{
  SbMarks *marks = sb_pages_view_get_marks (drop->view);

  sb_marks_set_ghost (marks, NULL, 0, (SbIPoint){0, 0}, 0);
  sb_marks_set_guides (marks, 0, NULL, 0);
  sb_marks_set_told (marks, NULL);
  forget_fit (drop);
}

static GdkDragAction
motion_cb (Drop *drop, double x, double y, GtkDropTarget *target)
{
  SbDesign *design = get_design (drop, gtk_drop_target_get_value (target));
  guint page;

  if (!sb_pages_view_get_job (drop->view))
    return 0;
  if (design) {
    SbIPoint at = find_place (drop->view, x, y, &page);
    SbPiece piece = snap (drop, design, page, at);
    g_autofree char *told = tell (drop, &piece);
    sb_marks_set_ghost (sb_pages_view_get_marks (drop->view), design, page, piece.at, piece.turn);
    sb_marks_set_told (sb_pages_view_get_marks (drop->view), told);
  }
  return GDK_ACTION_COPY;
}

static void
place (Drop *drop, SbDesign *design, double x, double y)
{
  SbJob *job = sb_pages_view_get_job (drop->view);
  SbState *state = sb_job_get_settled_state (job);
  guint page, id;
  SbIPoint at = find_place (drop->view, x, y, &page);
  SbPiece piece = snap (drop, design, page, at);
  g_autofree char *name = g_strdup_printf (_ ("Place %s"), design->name);

  sb_job_edit (job, sb_edit_add_piece (state, page, piece, &id), name, NULL);
  sb_selection_set_piece (sb_pages_view_get_selection (drop->view), id);
  SbPieceView *view = sb_pages_view_find (drop->view, id);
  if (view)
    gtk_widget_grab_focus (GTK_WIDGET (view));
}

static gboolean
drop_cb (Drop *drop, const GValue *value, double x, double y)
{
  SbDesign *design = get_design (drop, value);

  if (design)
    place (drop, design, x, y);
  clear (drop);
  if (design || !sb_pages_view_get_job (drop->view))
    return design != NULL;
  if (!G_VALUE_HOLDS (value, GDK_TYPE_FILE_LIST))
    return FALSE;
  guint page;
  SbIPoint at = find_place (drop->view, x, y, &page);
  drop->files_cb (drop->data, g_value_get_boxed (value), page, at.x, at.y);
  return TRUE;
}

static void
drop_free (gpointer data)
{
  Drop *drop = data;

  g_clear_pointer (&drop->fit, sb_fit_area_free);
  g_clear_pointer (&drop->fit_state, sb_state_unref);
  g_free (drop);
}

void
sb_canvas_drop_attach (SbPagesView *view, GCallback files_cb, gpointer data)
{
  Drop *drop = g_new0 (Drop, 1);
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_INVALID, GDK_ACTION_COPY | GDK_ACTION_MOVE);
  GType types[] = {SB_TYPE_DESIGN_DRAG, GDK_TYPE_FILE_LIST};

  drop->view = view;
  drop->files_cb = (FilesFunc)files_cb;
  drop->data = data;
  gtk_drop_target_set_gtypes (target, types, G_N_ELEMENTS (types));
  gtk_drop_target_set_preload (target, TRUE);
  g_signal_connect_swapped (target, "enter", G_CALLBACK (motion_cb), drop);
  g_signal_connect_swapped (target, "motion", G_CALLBACK (motion_cb), drop);
  g_signal_connect_swapped (target, "leave", G_CALLBACK (clear), drop);
  g_signal_connect_swapped (target, "drop", G_CALLBACK (drop_cb), drop);
  gtk_widget_add_controller (GTK_WIDGET (view), GTK_EVENT_CONTROLLER (target));
  g_object_set_data_full (G_OBJECT (view), "sb-canvas-drop", drop, drop_free);
}
