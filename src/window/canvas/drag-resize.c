/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Designs resized by the corners of a piece's frame, or of the frame about several pieces, which
 * then keep their places to one another. Borders keep their width. */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/edit.h"
#include "window/canvas/drag-private.h"
#include "window/desk/piece-edits.h"

static SbState *
get_settled (SbDrag *drag)
{
  return sb_job_get_settled_state (sb_pages_view_get_job (drag->view));
}

static gboolean
has_design (GArray *stretches, const SbDesign *design)
{
  for (guint i = 0; i < stretches->len; i++)
    if (g_array_index (stretches, SbDesignStretch, i).design == design)
      return TRUE;
  return FALSE;
}

void
sb_drag_begin_resize (SbDrag *drag)
{
  sb_drag_collect_starts (drag);
  drag->stretches = g_array_new (FALSE, FALSE, sizeof (SbDesignStretch));
  drag->places = g_array_new (FALSE, FALSE, sizeof (SbPiece));
  for (guint i = 0; i < drag->starts->len; i++) {
    const SbDragStart *start = &g_array_index (drag->starts, SbDragStart, i);
    SbDesignStretch stretch = {sb_state_get_design (get_settled (drag), start->piece.design_id), 1};
    if (!has_design (drag->stretches, stretch.design))
      g_array_append_val (drag->stretches, stretch);
  }
}

/* As far as every one of the designs can go. */
static double
clamp_pull (GArray *stretches, double pull)
{
  for (guint i = 0; i < stretches->len; i++) {
    const SbDesign *design = g_array_index (stretches, SbDesignStretch, i).design;
    double stretch = sb_bake_get_stretch_for (design, pull);
    double clamped = sb_design_resize_clamp (design, stretch);
    if (clamped != stretch)
      pull = sb_bake_get_pull_for (design, clamped);
  }
  return pull;
}

static void
stretch_designs (SbDrag *drag, double pull)
{
  for (guint i = 0; i < drag->stretches->len; i++) {
    SbDesignStretch *stretch = &g_array_index (drag->stretches, SbDesignStretch, i);
    stretch->stretch =
        sb_design_resize_clamp (stretch->design, sb_bake_get_stretch_for (stretch->design, pull));
    sb_pages_view_set_stretch (drag->view, stretch->design->id, stretch->stretch);
  }
}

static SbPoint
find_middle (SbDrag *drag)
{
  SbIBox all = {0};

  for (guint i = 0; i < drag->starts->len; i++) {
    const SbDragStart *start = &g_array_index (drag->starts, SbDragStart, i);
    SbIBox box = sb_piece_get_box (get_settled (drag), &start->piece);
    if (i == 0)
      all = box;
    all = (SbIBox){MIN (all.x0, box.x0), MIN (all.y0, box.y0), MAX (all.x1, box.x1),
                   MAX (all.y1, box.y1)};
  }
  return (SbPoint){(all.x0 + all.x1) / 2.0, (all.y0 + all.y1) / 2.0};
}

/* Middles move away from that of the whole as far as it grows. */
static void
spread_pieces (SbDrag *drag, double pull)
{
  SbPoint middle = find_middle (drag);

  g_array_set_size (drag->places, 0);
  for (guint i = 0; i < drag->starts->len; i++) {
    SbPiece piece = g_array_index (drag->starts, SbDragStart, i).piece;
    double x = middle.x + (piece.at.x - middle.x) * pull;
    double y = middle.y + (piece.at.y - middle.y) * pull;
    piece.at.x = (sb_um)CLAMP (lround (x), -SB_UM_MOST / 2, SB_UM_MOST / 2);
    piece.at.y = (sb_um)CLAMP (lround (y), -SB_UM_MOST / 2, SB_UM_MOST / 2);
    g_array_append_val (drag->places, piece);
  }
  sb_job_preview (sb_pages_view_get_job (drag->view),
                  sb_edit_set_pieces (get_settled (drag),
                                      (const SbPiece *)(void *)drag->places->data,
                                      drag->places->len));
}

static char *
tell_one (SbDrag *drag)
{
  const SbDesignStretch *stretch = &g_array_index (drag->stretches, SbDesignStretch, 0);
  SbUnit unit = sb_pages_view_get_unit (drag->view);
  double width, height;

  sb_bake_get_finished_size (stretch->design, stretch->stretch, &width, &height);
  g_autofree char *size = sb_length_format_size (width, height, unit);
  g_autofree char *border = sb_length_format (stretch->design->border.width_mm, unit);
  /* Translators: the finished size of a sticker while it is resized, and its border's width */
  return g_strdup_printf (_ ("%s\nborder %s"), size, border);
}

/* The frame about several pieces. */
static char *
tell_frame (SbDrag *drag, const SbFrame *frame)
{
  double scale = sb_pages_view_get_layout (drag->view)->scale;
  const SbPoint *corners = frame->corners;

  return sb_length_format_size (
      hypot (corners[1].x - corners[0].x, corners[1].y - corners[0].y) / scale,
      hypot (corners[2].x - corners[1].x, corners[2].y - corners[1].y) / scale,
      sb_pages_view_get_unit (drag->view));
}

void
sb_drag_update_resize (SbDrag *drag)
{
  SbMarks *marks = sb_pages_view_get_marks (drag->view);
  double x = drag->press.x + drag->offset.x, y = drag->press.y + drag->offset.y;
  double pull = clamp_pull (drag->stretches,
                            sb_frame_get_pull (&drag->frame, drag->press.x, drag->press.y, x, y));
  gboolean several = drag->starts->len > 1;
  g_autofree char *told = NULL;

  stretch_designs (drag, pull);
  if (several) {
    SbFrame frame = sb_frame_follow (&drag->frame, 0, pull);
    spread_pieces (drag, pull);
    sb_marks_set_group_frame (marks, &frame);
    told = tell_frame (drag, &frame);
  } else {
    told = tell_one (drag);
  }
  sb_pages_view_bake_stretched (drag->view);
  sb_marks_set_told (marks, told);
}

void
sb_drag_give_up_resize (SbDrag *drag)
{
  for (guint i = 0; i < drag->stretches->len; i++)
    sb_pages_view_set_stretch (drag->view,
                               g_array_index (drag->stretches, SbDesignStretch, i).design->id, 1);
}

void
sb_drag_end_resize (SbDrag *drag)
{
  const SbDesignStretch *first = &g_array_index (drag->stretches, SbDesignStretch, 0);
  guint n = drag->ids->len;
  g_autofree char *name = sb_canvas_drag_name_edit (
      get_settled (drag), (guint *)(void *)drag->ids->data, n, _ ("Resize %s"),
      ngettext ("Resize %u piece", "Resize %u pieces", n));

  if (first->stretch != 1)
    sb_design_resize (drag->view, first, drag->stretches->len,
                      (const SbPiece *)(void *)drag->places->data, drag->places->len, name);
}
