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
update_fit (Drop *drop, SbDesign *design, const SbPiece *held, guint page)
{
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (drop->view));
  const SbPalette *palette = sb_palette_get (GTK_WIDGET (drop->view));
  guint n_except = held->id ? 1 : 0;

  if (drop->fit && drop->fit_design == design && drop->fit_state == state &&
      sb_fit_area_get_page (drop->fit) == page)
    return;
  forget_fit (drop);
  drop->fit = sb_fit_area_new (state, page, design, held->turn, &held->id, n_except, palette);
  sb_fit_area_look_further (drop->fit, state, held->turn, !held->id, &held->id, n_except, palette,
                            fit_changed_cb, drop->view);
  drop->fit_design = design;
  drop->fit_state = sb_state_ref (state);
  sb_pages_view_set_fit (drop->view, drop->fit);
}

/* Where what is held comes to lie: as it is turned where it can; a design else in another turn that
 * has room near there. */
static void
snap (Drop *drop, SbDesign *design, guint page, SbPiece *held)
{
  SbPagesView *view = drop->view;
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (view));
  g_autoptr (SbSnapCache) cache = sb_snap_cache_new ();
  g_autoptr (GHashTable) moving = g_hash_table_new (NULL, NULL);
  g_autoptr (GArray) guides = g_array_new (FALSE, FALSE, sizeof (SbSnapGuide));
  g_autoptr (SbPolygon) shape = sb_piece_get_outline (design, held);
  SbSnapQuery query = {
      .state = state,
      .page = page,
      .moving = moving,
      .shape = shape,
      .whole = TRUE,
      .reach_um = SNAP_PX * SB_UM_PER_MM / sb_pages_view_get_layout (view)->scale,
  };
  if (held->id)
    g_hash_table_add (moving, GUINT_TO_POINTER (held->id));
  SbIPoint by = sb_snap_find (&query, cache, guides);

  sb_marks_set_guides (sb_pages_view_get_marks (view), page,
                       (const SbSnapGuide *)(void *)guides->data, guides->len);
  held->at = (SbIPoint){held->at.x + by.x, held->at.y + by.y};
  update_fit (drop, design, held, page);
  SbIPoint nearest;
  if (sb_snap_is_clear (&query, cache, by))
    return;
  if (sb_fit_area_find_near (drop->fit, held->at, query.reach_um, &nearest) ||
      (!held->id &&
       sb_fit_area_find_turn (drop->fit, held->at, query.reach_um, &nearest, &held->turn)))
    held->at = nearest;
}

static char *
tell (Drop *drop, const SbPiece *held)
{
  if (held->id || held->turn == 0)
    return sb_fit_area_tell (drop->fit, held->at, sb_pages_view_get_unit (drop->view));
  /* Translators: of a sticker dragged to where it has room in another turn only */
  return g_strdup_printf (_ ("fits here turned by %d°"), held->turn / 1000);
}

/* The design that is dragged, when it is of this window's job, and the piece that is held: a new
 * one, without id, or one that came back into the window. */
static SbDesign *
get_held (Drop *drop, const GValue *value, SbPiece *held)
{
  SbJob *job = sb_pages_view_get_job (drop->view);

  if (!value || !G_VALUE_HOLDS (value, SB_TYPE_DESIGN_DRAG))
    return NULL;
  const SbDesignDrag *drag = g_value_get_boxed (value);
  if (!drag || drag->job != job)
    return NULL;
  SbState *state = sb_job_get_settled_state (job);
  const SbPiece *piece = drag->piece_id ? sb_state_get_piece (state, drag->piece_id, NULL) : NULL;
  *held = piece ? *piece : (SbPiece){.design_id = drag->design_id};
  return sb_state_get_design (state, held->design_id);
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
  SbPiece held;
  SbDesign *design = get_held (drop, gtk_drop_target_get_value (target), &held);
  guint page;

  if (!sb_pages_view_get_job (drop->view))
    return 0;
  if (design) {
    held.at = find_place (drop->view, x, y, &page);
    snap (drop, design, page, &held);
    g_autofree char *told = tell (drop, &held);
    sb_marks_set_ghost (sb_pages_view_get_marks (drop->view), design, page, held.at, held.turn);
    sb_marks_set_told (sb_pages_view_get_marks (drop->view), told);
  }
  return GDK_ACTION_COPY;
}

/* A piece that came back lies where it was let go of. */
static SbState *
move (SbState *state, guint page, const SbPiece *piece)
{
  g_autoptr (SbState) moved = sb_edit_set_pieces (state, piece, 1);

  return sb_edit_move_pieces_to_page (moved, &piece->id, 1, page);
}

static void
place (Drop *drop, SbDesign *design, SbPiece held, double x, double y)
{
  SbJob *job = sb_pages_view_get_job (drop->view);
  SbState *state = sb_job_get_settled_state (job);
  guint page, id = held.id;

  held.at = find_place (drop->view, x, y, &page);
  snap (drop, design, page, &held);
  g_autofree char *name = g_strdup_printf (id ? _ ("Move %s") : _ ("Place %s"), design->name);
  sb_job_edit (job, id ? move (state, page, &held) : sb_edit_add_piece (state, page, held, &id),
               name, NULL);
  sb_selection_set_piece (sb_pages_view_get_selection (drop->view), id);
  SbPieceView *view = sb_pages_view_find (drop->view, id);
  if (view)
    gtk_widget_grab_focus (GTK_WIDGET (view));
}

static gboolean
drop_cb (Drop *drop, const GValue *value, double x, double y)
{
  SbPiece held;
  SbDesign *design = get_held (drop, value, &held);

  if (design)
    place (drop, design, held, x, y);
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
