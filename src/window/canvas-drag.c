/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every update of a drag starts from the settled state and the places at its beginning, so nothing
 * adds up: pressing and letting go of Ctrl, Shift and Alt in the middle shows at once what it
 * means. */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/canvas-drag.h"
#include "window/design-resize.h"
#include "window/piece-edits.h"

#define THRESHOLD_PX 4
#define SNAP_PX 8
#define EDGE_PX 16 /* this near the view's edge a drag scrolls */
#define TURN_STEP 15000

typedef enum {
  MODE_NONE,
  MODE_MOVE,
  MODE_TURN,
  MODE_RESIZE,
  MODE_BAND,
  MODE_PAN,
} Mode;

/* A piece as it lay when the drag began. */
typedef struct {
  SbPiece piece;
  guint page;
} Start;

typedef struct {
  SbPagesView *view; /* owns this */
  GtkGesture *gesture;
  gboolean space;

  Mode mode;
  gboolean moved;   /* past the threshold */
  gboolean toggled; /* Shift has already changed the selection at the press */
  SbPoint press, offset;
  SbPoint scroll;
  GdkModifierType modifiers;
  guint tick;

  guint grabbed; /* piece id */
  GArray *starts;
  GArray *ids; /* guint, those of starts */
  GHashTable *moving;
  SbPolygon *shape; /* in the stack, where it was */
  gboolean whole;
  SbSnapCache *cache;
  SbFitArea *fit;      /* of a single piece on the page it is over */
  gboolean fit_copies; /* the original is in the way of a copy */
  SbFrame frame;
  gint32 turn;
  double stretch;
  GArray *band_before; /* guint: what was selected before the band */
} Drag;

static void update (Drag *drag);

static Drag *
get_drag (SbPagesView *view)
{
  return g_object_get_data (G_OBJECT (view), "sb-canvas-drag");
}

char *
sb_canvas_drag_name_edit (const SbState *state, const guint *ids, guint n, const char *one,
                          const char *many)
{
  const SbPiece *piece = n == 1 ? sb_state_get_piece (state, ids[0], NULL) : NULL;

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  if (piece)
    return g_strdup_printf (one, sb_state_get_design (state, piece->design_id)->name);
  return g_strdup_printf (many, n);
#pragma GCC diagnostic pop
}

/* Beginning */

static void
forget (Drag *drag)
{
  g_clear_pointer (&drag->starts, g_array_unref);
  g_clear_pointer (&drag->ids, g_array_unref);
  g_clear_pointer (&drag->moving, g_hash_table_unref);
  g_clear_pointer (&drag->shape, sb_polygon_unref);
  g_clear_pointer (&drag->cache, sb_snap_cache_free);
  g_clear_pointer (&drag->fit, sb_fit_area_free);
  g_clear_pointer (&drag->band_before, g_array_unref);
  if (drag->tick)
    gtk_widget_remove_tick_callback (GTK_WIDGET (drag->view), drag->tick);
  drag->tick = 0;
  drag->mode = MODE_NONE;
  drag->moved = FALSE;
}

static void
clear_marks (Drag *drag)
{
  SbMarks *marks = sb_pages_view_get_marks (drag->view);

  sb_marks_set_guides (marks, 0, NULL, 0);
  sb_marks_set_band (marks, NULL);
  sb_marks_set_told (marks, NULL);
  sb_marks_set_dragging (marks, FALSE);
  sb_pages_view_set_lifted (drag->view, FALSE);
  sb_pages_view_set_fit (drag->view, NULL);
  gtk_widget_set_cursor (GTK_WIDGET (drag->view), NULL);
}

/* Outline of the one moving piece, or the box of all, in the stack of pages. */
static SbPolygon *
make_shape (Drag *drag)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);
  SbIBox all = {0};

  for (guint i = 0; i < drag->starts->len; i++) {
    const Start *start = &g_array_index (drag->starts, Start, i);
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

static void
collect_starts (Drag *drag)
{
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (drag->view));
  guint n;
  const guint *ids = sb_selection_get_pieces (sb_pages_view_get_selection (drag->view), &n);

  drag->starts = g_array_new (FALSE, FALSE, sizeof (Start));
  drag->ids = g_array_new (FALSE, FALSE, sizeof (guint));
  drag->moving = g_hash_table_new (NULL, NULL);
  for (guint i = 0; i < n; i++) {
    Start start;
    const SbPiece *piece = sb_state_get_piece (state, ids[i], &start.page);
    if (!piece)
      continue;
    start.piece = *piece;
    g_array_append_val (drag->starts, start);
    g_array_append_val (drag->ids, ids[i]);
    g_hash_table_add (drag->moving, GUINT_TO_POINTER (ids[i]));
  }
}

static gboolean
tick_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  Drag *drag = data;
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);
  SbPoint at = {drag->press.x + drag->offset.x, drag->press.y + drag->offset.y};
  double scroll_x = layout->scroll_x, scroll_y = layout->scroll_y, dx = 0, dy = 0;

  if (at.x < EDGE_PX)
    dx = at.x - EDGE_PX;
  else if (at.x > layout->view_width - EDGE_PX)
    dx = at.x - (layout->view_width - EDGE_PX);
  if (at.y < EDGE_PX)
    dy = at.y - EDGE_PX;
  else if (at.y > layout->view_height - EDGE_PX)
    dy = at.y - (layout->view_height - EDGE_PX);
  if (dx == 0 && dy == 0)
    return G_SOURCE_CONTINUE;
  sb_pages_view_scroll_by (drag->view, CLAMP (dx, -30, 30), CLAMP (dy, -30, 30));
  if (scroll_x != layout->scroll_x || scroll_y != layout->scroll_y)
    update (drag);
  return G_SOURCE_CONTINUE;
}

static void
begin_move (Drag *drag)
{
  SbSelection *selection = sb_pages_view_get_selection (drag->view);

  /* A press with Ctrl has left the selection alone until now. */
  if (!sb_selection_contains (selection, drag->grabbed))
    sb_selection_set_piece (selection, drag->grabbed);
  collect_starts (drag);
  drag->shape = make_shape (drag);
  drag->whole = drag->starts->len == 1;
  drag->cache = sb_snap_cache_new ();
  sb_marks_set_dragging (sb_pages_view_get_marks (drag->view), TRUE);
  sb_pages_view_set_lifted (drag->view, TRUE);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (drag->view), "grabbing");
}

static void
begin_band (Drag *drag)
{
  SbSelection *selection = sb_pages_view_get_selection (drag->view);
  guint n = 0;
  const guint *ids = NULL;

  drag->band_before = g_array_new (FALSE, FALSE, sizeof (guint));
  if (drag->modifiers & (GDK_SHIFT_MASK | GDK_CONTROL_MASK))
    ids = sb_selection_get_pieces (selection, &n);
  if (n > 0)
    g_array_append_vals (drag->band_before, ids, n);
}

/* What the pointer drags past the threshold. */
static void
begin_moving (Drag *drag)
{
  drag->moved = TRUE;
  switch (drag->mode) {
  case MODE_MOVE:
    begin_move (drag);
    break;
  case MODE_TURN:
  case MODE_RESIZE:
    collect_starts (drag);
    break;
  case MODE_BAND:
    begin_band (drag);
    break;
  case MODE_PAN:
    gtk_widget_set_cursor_from_name (GTK_WIDGET (drag->view), "grabbing");
    break;
  case MODE_NONE:
  default:
    break;
  }
  if (drag->mode == MODE_MOVE || drag->mode == MODE_BAND)
    drag->tick = gtk_widget_add_tick_callback (GTK_WIDGET (drag->view), tick_cb, drag, NULL);
}

/* Moving */

/* How far the pointer has come over the pages, um, scrolling included. */
static void
get_way (Drag *drag, double *dx, double *dy)
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
find_target_page (Drag *drag, sb_um dx, sb_um dy)
{
  SbIBox box = sb_polygon_get_box (drag->shape);
  sb_um ignored;

  return sb_pages_layout_stack_page (sb_pages_view_get_layout (drag->view),
                                     (sb_um)(((gint64)box.y0 + box.y1) / 2 + dy), &ignored);
}

/* Only of one piece: several together have no one outline. */
static void
update_fit (Drag *drag, guint page)
{
  const SbPalette *palette = sb_palette_get (GTK_WIDGET (drag->view));
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (drag->view));
  gboolean copies = (drag->modifiers & GDK_CONTROL_MASK) != 0;

  if (!drag->whole ||
      (drag->fit && sb_fit_area_get_page (drag->fit) == page && drag->fit_copies == copies))
    return;
  const SbPiece *piece = &g_array_index (drag->starts, Start, 0).piece;
  g_clear_pointer (&drag->fit, sb_fit_area_free);
  drag->fit = sb_fit_area_new (state, page, sb_state_get_design (state, piece->design_id),
                               piece->turn, &piece->id, copies ? 0 : 1, palette);
  drag->fit_copies = copies;
  sb_pages_view_set_fit (drag->view, drag->fit);
}

/* A piece that lies wrong by a hair is drawn to where it lies right. */
static void
snap_to_free (Drag *drag, SbIPoint centre, double reach_um, SbIPoint *by)
{
  SbIPoint at = {centre.x + by->x, centre.y + by->y}, nearest;

  if (drag->fit && sb_fit_area_find_near (drag->fit, at, reach_um, &nearest))
    *by = (SbIPoint){nearest.x - centre.x, nearest.y - centre.y};
}

static SbIPoint
snap (Drag *drag, sb_um dx, sb_um dy)
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
  SbIPoint by = {0, 0};

  update_fit (drag, page);
  if (!(drag->modifiers & GDK_ALT_MASK)) {
    const Start *start = &g_array_index (drag->starts, Start, 0);
    SbIPoint centre = {
        start->piece.at.x + dx,
        sb_pages_layout_stack_y (layout, start->page, start->piece.at.y) + dy -
            sb_pages_layout_stack_y (layout, page, 0),
    };
    by = sb_snap_find (&query, drag->cache, guides);
    if (!sb_snap_is_clear (&query, drag->cache, by))
      snap_to_free (drag, centre, query.reach_um, &by);
  }
  sb_marks_set_guides (marks, page, (const SbSnapGuide *)(void *)guides->data, guides->len);
  return by;
}

/* The pieces where they come to lie, each on the page under its middle. */
static SbState *
place_originals (Drag *drag, SbState *state, sb_um dx, sb_um dy)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);
  g_autofree SbPiece *pieces = g_new (SbPiece, MAX (drag->starts->len, 1));
  SbState *next;

  for (guint i = 0; i < drag->starts->len; i++) {
    const Start *start = &g_array_index (drag->starts, Start, i);
    sb_um y = sb_pages_layout_stack_y (layout, start->page, start->piece.at.y) + dy;

    pieces[i] = start->piece;
    pieces[i].at.x += dx;
    sb_pages_layout_stack_page (layout, y, &pieces[i].at.y);
  }
  next = sb_edit_set_pieces (state, pieces, drag->starts->len);
  for (guint i = 0; i < drag->starts->len; i++) {
    const Start *start = &g_array_index (drag->starts, Start, i);
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
place_copies (Drag *drag, SbState *state, sb_um dx, sb_um dy, GArray *copies)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);
  SbState *next = sb_state_ref (state);

  for (guint i = 0; i < drag->starts->len; i++) {
    const Start *start = &g_array_index (drag->starts, Start, i);
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

static void
update_move (Drag *drag)
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

static void
end_move (Drag *drag)
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

/* Turning and resizing */

static gint32
wrap_turn (double thousandths)
{
  double wrapped = fmod (thousandths, 360000);

  return (gint32)lround (wrapped < 0 ? wrapped + 360000 : wrapped) % 360000;
}

static void
update_turn (Drag *drag)
{
  SbJob *job = sb_pages_view_get_job (drag->view);
  const Start *start = &g_array_index (drag->starts, Start, 0);
  double x = drag->press.x + drag->offset.x, y = drag->press.y + drag->offset.y;
  double grip = sb_frame_get_angle (drag->frame.centre, drag->press.x, drag->press.y);
  double angle = sb_frame_get_angle (drag->frame.centre, x, y);
  double turn = start->piece.turn + (angle - grip) * 1000;
  SbPiece piece = start->piece;

  if (!(drag->modifiers & GDK_ALT_MASK))
    turn = round (turn / TURN_STEP) * TURN_STEP;
  else
    turn = round (turn / 100) * 100;
  piece.turn = drag->turn = wrap_turn (turn);
  sb_job_preview (job, sb_edit_set_pieces (sb_job_get_settled_state (job), &piece, 1));
  sb_pages_view_bake_now (drag->view, piece.id);
  /* Translators: the angle of a piece while it is turned */
  g_autofree char *told = piece.turn % 1000 == 0
                              ? g_strdup_printf (_ ("%d°"), piece.turn / 1000)
                              : g_strdup_printf (_ ("%.1f°"), piece.turn / 1000.0);
  sb_marks_set_told (sb_pages_view_get_marks (drag->view), told);
}

static void
end_turn (Drag *drag)
{
  SbJob *job = sb_pages_view_get_job (drag->view);
  g_autofree char *name = sb_canvas_drag_name_edit (
      sb_job_get_settled_state (job), (guint *)(void *)drag->ids->data, 1, _ ("Turn %s"), "");

  sb_job_edit (job, sb_state_ref (sb_job_get_state (job)), name, NULL);
}

static SbDesign *
get_resized_design (Drag *drag)
{
  const Start *start = &g_array_index (drag->starts, Start, 0);

  return sb_state_get_design (sb_job_get_settled_state (sb_pages_view_get_job (drag->view)),
                              start->piece.design_id);
}

static void
update_resize (Drag *drag)
{
  SbDesign *design = get_resized_design (drag);
  double x = drag->press.x + drag->offset.x, y = drag->press.y + drag->offset.y;
  double pull = sb_frame_get_pull (&drag->frame, drag->press.x, drag->press.y, x, y);
  double width, height;

  drag->stretch = sb_design_resize_clamp (design, sb_bake_get_stretch_for (design, pull));
  sb_pages_view_set_stretch (drag->view, design->id, drag->stretch);
  sb_pages_view_bake_stretched (drag->view);
  sb_bake_get_finished_size (design, drag->stretch, &width, &height);
  g_autofree char *size =
      sb_length_format_size (width, height, sb_pages_view_get_unit (drag->view));
  g_autofree char *border =
      sb_length_format (design->border.width_mm, sb_pages_view_get_unit (drag->view));
  /* Translators: the finished size of a sticker while it is resized, and its border's width */
  g_autofree char *told = g_strdup_printf (_ ("%s\nborder %s"), size, border);
  sb_marks_set_told (sb_pages_view_get_marks (drag->view), told);
}

static void
end_resize (Drag *drag)
{
  if (drag->stretch != 1)
    sb_design_resize (drag->view, get_resized_design (drag), drag->stretch);
}

/* The rubber band */

static void
update_band (Drag *drag)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);
  g_autoptr (GPtrArray) list = sb_pages_view_list (drag->view);
  g_autoptr (GArray) ids = g_array_copy (drag->band_before);
  double x = drag->press.x - (layout->scroll_x - drag->scroll.x);
  double y = drag->press.y - (layout->scroll_y - drag->scroll.y);
  graphene_rect_t band =
      GRAPHENE_RECT_INIT ((float)x, (float)y, (float)(drag->press.x + drag->offset.x - x),
                          (float)(drag->press.y + drag->offset.y - y));

  graphene_rect_normalize (&band);
  sb_marks_set_band (sb_pages_view_get_marks (drag->view), &band);
  for (guint i = 0; i < list->len; i++) {
    SbPieceView *view = list->pdata[i];
    const SbPiece *piece = sb_piece_view_get_piece (view);
    SbIBox box = sb_polygon_get_box (sb_piece_view_get_outline (view));
    guint page = sb_piece_view_get_page (view);
    SbPoint a = sb_pages_layout_to_view (layout, page, box.x0, box.y0);
    SbPoint b = sb_pages_layout_to_view (layout, page, box.x1, box.y1);
    graphene_rect_t rect =
        GRAPHENE_RECT_INIT ((float)a.x, (float)a.y, (float)(b.x - a.x), (float)(b.y - a.y));

    if (graphene_rect_intersection (&band, &rect, NULL))
      g_array_append_val (ids, piece->id);
  }
  sb_selection_set_pieces (sb_pages_view_get_selection (drag->view),
                           (const guint *)(void *)ids->data, ids->len);
}

/* The gesture */

static void
update (Drag *drag)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);

  switch (drag->mode) {
  case MODE_MOVE:
    update_move (drag);
    break;
  case MODE_TURN:
    update_turn (drag);
    break;
  case MODE_RESIZE:
    update_resize (drag);
    break;
  case MODE_BAND:
    update_band (drag);
    break;
  case MODE_PAN:
    sb_pages_view_scroll_by (drag->view, drag->scroll.x - drag->offset.x - layout->scroll_x,
                             drag->scroll.y - drag->offset.y - layout->scroll_y);
    break;
  case MODE_NONE:
  default:
    break;
  }
}

static Mode
press_piece (Drag *drag, SbPieceView *view)
{
  SbSelection *selection = sb_pages_view_get_selection (drag->view);
  guint id = sb_piece_view_get_piece (view)->id;

  drag->grabbed = id;
  drag->toggled = FALSE;
  if (drag->modifiers & GDK_SHIFT_MASK && !sb_selection_contains (selection, id)) {
    sb_selection_toggle_piece (selection, id);
    drag->toggled = TRUE;
  } else if (!sb_selection_contains (selection, id) && !(drag->modifiers & GDK_CONTROL_MASK)) {
    sb_selection_set_piece (selection, id);
    drag->toggled = TRUE;
  }
  gtk_widget_grab_focus (GTK_WIDGET (view));
  return MODE_MOVE;
}

static Mode
choose_mode (Drag *drag, guint button)
{
  SbHandle handle = SB_HANDLE_NONE;

  if (button == GDK_BUTTON_MIDDLE || (button == GDK_BUTTON_PRIMARY && drag->space))
    return MODE_PAN;
  if (button != GDK_BUTTON_PRIMARY ||
      sb_pages_view_is_over_plate (drag->view, drag->press.x, drag->press.y))
    return MODE_NONE;
  if (sb_marks_get_frame (sb_pages_view_get_marks (drag->view), &drag->frame))
    handle = sb_frame_pick (&drag->frame, drag->press.x, drag->press.y);
  if (handle == SB_HANDLE_TURN)
    return MODE_TURN;
  if (handle == SB_HANDLE_CORNER)
    return MODE_RESIZE;
  SbPieceView *view = sb_pages_view_pick (drag->view, drag->press.x, drag->press.y);
  if (view)
    return press_piece (drag, view);
  gtk_widget_grab_focus (GTK_WIDGET (drag->view));
  return MODE_BAND;
}

static void
begin_cb (Drag *drag, double x, double y, GtkGestureDrag *gesture)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (drag->view);

  if (!sb_pages_view_get_job (drag->view)) {
    gtk_gesture_set_state (drag->gesture, GTK_EVENT_SEQUENCE_DENIED);
    return;
  }
  drag->modifiers = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));
  drag->press = (SbPoint){x, y};
  drag->offset = (SbPoint){0, 0};
  drag->scroll = (SbPoint){layout->scroll_x, layout->scroll_y};
  drag->stretch = 1;
  drag->moved = FALSE;
  drag->mode =
      choose_mode (drag, gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture)));
  gtk_gesture_set_state (drag->gesture, drag->mode == MODE_NONE ? GTK_EVENT_SEQUENCE_DENIED
                                                                : GTK_EVENT_SEQUENCE_CLAIMED);
}

static void
update_cb (Drag *drag, double dx, double dy, GtkGestureDrag *gesture)
{
  if (drag->mode == MODE_NONE)
    return;
  drag->modifiers = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));
  drag->offset = (SbPoint){dx, dy};
  if (!drag->moved && hypot (dx, dy) < THRESHOLD_PX)
    return;
  if (!drag->moved)
    begin_moving (drag);
  update (drag);
}

/* A press and a release in one place. */
static void
click (Drag *drag)
{
  SbSelection *selection = sb_pages_view_get_selection (drag->view);
  gboolean adds = (drag->modifiers & (GDK_SHIFT_MASK | GDK_CONTROL_MASK)) != 0;

  if (drag->mode == MODE_BAND && !adds)
    sb_selection_clear (selection);
  if (drag->mode == MODE_MOVE && !drag->toggled && adds)
    sb_selection_toggle_piece (selection, drag->grabbed);
  else if (drag->mode == MODE_MOVE && !adds)
    sb_selection_set_piece (selection, drag->grabbed);
}

static void
finish (Drag *drag)
{
  switch (drag->mode) {
  case MODE_MOVE:
    end_move (drag);
    break;
  case MODE_TURN:
    end_turn (drag);
    break;
  case MODE_RESIZE:
    end_resize (drag);
    break;
  case MODE_BAND:
  case MODE_PAN:
  case MODE_NONE:
  default:
    break;
  }
}

static void
end_cb (Drag *drag, double dx, double dy, GtkGestureDrag *gesture)
{
  if (drag->mode == MODE_NONE)
    return;
  if (drag->moved)
    finish (drag);
  else
    click (drag);
  forget (drag);
  clear_marks (drag);
}

static void
give_up (Drag *drag)
{
  SbJob *job = sb_pages_view_get_job (drag->view);
  SbSelection *selection = sb_pages_view_get_selection (drag->view);

  if (drag->moved && job) {
    sb_job_drop_preview (job);
    if (drag->mode == MODE_RESIZE)
      sb_pages_view_set_stretch (drag->view, get_resized_design (drag)->id, 1);
    if (drag->ids)
      sb_selection_set_pieces (selection, (guint *)(void *)drag->ids->data, drag->ids->len);
    if (drag->band_before)
      sb_selection_set_pieces (selection, (guint *)(void *)drag->band_before->data,
                               drag->band_before->len);
  }
  forget (drag);
  clear_marks (drag);
}

static void
cancel_cb (Drag *drag, GdkEventSequence *sequence)
{
  if (drag->mode != MODE_NONE)
    give_up (drag);
}

gboolean
sb_canvas_drag_cancel (SbPagesView *view)
{
  Drag *drag = get_drag (view);

  if (drag->mode == MODE_NONE)
    return FALSE;
  give_up (drag);
  gtk_event_controller_reset (GTK_EVENT_CONTROLLER (drag->gesture));
  return TRUE;
}

void
sb_canvas_drag_set_space (SbPagesView *view, gboolean held)
{
  Drag *drag = get_drag (view);

  drag->space = held;
  if (drag->mode == MODE_NONE)
    gtk_widget_set_cursor_from_name (GTK_WIDGET (view), held ? "grab" : NULL);
}

/* Modifiers pressed and let go of while the pointer rests. */
static gboolean
modifiers_cb (Drag *drag, GdkModifierType modifiers)
{
  drag->modifiers = modifiers;
  if (drag->moved)
    update (drag);
  return GDK_EVENT_PROPAGATE;
}

static const char *
corner_cursor (const SbFrame *frame, double x, double y)
{
  return (x < frame->centre.x) == (y < frame->centre.y) ? "nwse-resize" : "nesw-resize";
}

static void
motion_cb (Drag *drag, double x, double y)
{
  SbFrame frame;
  const char *name = drag->space ? "grab" : NULL;

  if (drag->mode != MODE_NONE || !sb_pages_view_get_job (drag->view))
    return;
  if (!drag->space && sb_marks_get_frame (sb_pages_view_get_marks (drag->view), &frame)) {
    SbHandle handle = sb_frame_pick (&frame, x, y);
    if (handle == SB_HANDLE_TURN)
      name = "grab";
    else if (handle == SB_HANDLE_CORNER)
      name = corner_cursor (&frame, x, y);
  }
  gtk_widget_set_cursor_from_name (GTK_WIDGET (drag->view), name);
}

static void
drag_free (gpointer data)
{
  Drag *drag = data;

  drag->tick = 0; /* gone with its widget */
  forget (drag);
  g_free (drag);
}

void
sb_canvas_drag_attach (SbPagesView *view)
{
  Drag *drag = g_new0 (Drag, 1);
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *key = gtk_event_controller_key_new ();

  drag->view = view;
  drag->gesture = gtk_gesture_drag_new ();
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag->gesture), 0);
  g_signal_connect_swapped (drag->gesture, "drag-begin", G_CALLBACK (begin_cb), drag);
  g_signal_connect_swapped (drag->gesture, "drag-update", G_CALLBACK (update_cb), drag);
  g_signal_connect_swapped (drag->gesture, "drag-end", G_CALLBACK (end_cb), drag);
  g_signal_connect_swapped (drag->gesture, "cancel", G_CALLBACK (cancel_cb), drag);
  g_signal_connect_swapped (motion, "motion", G_CALLBACK (motion_cb), drag);
  g_signal_connect_swapped (key, "modifiers", G_CALLBACK (modifiers_cb), drag);
  gtk_widget_add_controller (GTK_WIDGET (view), GTK_EVENT_CONTROLLER (drag->gesture));
  gtk_widget_add_controller (GTK_WIDGET (view), motion);
  gtk_widget_add_controller (GTK_WIDGET (view), key);
  g_object_set_data_full (G_OBJECT (view), "sb-canvas-drag", drag, drag_free);
}
