/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What lies still is looked at once. Then a freebie has room as long as one of its places is clear
 * of the moved piece: mostly the one that was so a frame ago. */
#include "packing/free-room.h"

#include <string.h>

#include "packing/layout.h"
#include "packing/raster.h"

#define STEP_UM 254 /* 100 places an inch */
#define MOST_TURNS 8

/* A freebie in one turn: its places among what lies still. */
typedef struct {
  guint freebie;
  const SbPose *pose;
  SbCover *cover;
  guint64 *bits;
  guint first_row, end_row;   /* between which it has places */
  gint last_row, last_column; /* the place found last; -1 at first */
  SbKeepOut *region;          /* about the moved piece; NULL until it is needed */
} Turned;

struct _SbFreeRoom {
  SbState *state;
  SbDesign *design;
  SbTask *task;
  GArray
      *turned; /* Turned, those of a freebie one after the other; ones without a place left out */
  guint n_freebies;
  SbShape *moved;
};

static void
turned_clear (gpointer data)
{
  Turned *turned = data;
  sb_cover_free (turned->cover);
  g_free (turned->bits);
  g_free (turned->region);
}

static void
add_turned (SbFreeRoom *room, const SbRaster *raster, const SbPose *pose)
{
  Turned turned = {.freebie = room->n_freebies, .pose = pose, .last_row = -1};
  turned.cover = sb_cover_new (raster, pose);
  guint words = turned.cover->words;
  turned.bits = g_new0 (guint64, MAX (1, (gsize)words * turned.cover->rows));
  for (guint row = 0; row < turned.cover->rows; row++) {
    guint64 *bits = turned.bits + (gsize)row * words;
    if (!sb_raster_get_row (raster, turned.cover, row, bits)) {
      memset (bits, 0, words * sizeof *bits);
      continue;
    }
    if (turned.end_row == 0)
      turned.first_row = row;
    turned.end_row = row + 1;
  }
  if (turned.end_row > 0)
    g_array_append_val (room->turned, turned);
  else
    turned_clear (&turned);
}

static void
add_freebies (SbFreeRoom *room, const SbRaster *raster)
{
  for (guint i = 0; i < room->state->designs->len; i++) {
    const SbDesign *design = room->state->designs->pdata[i];
    if (!design->freebie || design->filling.size_of != 0)
      continue;
    SbShape *shape = sb_design_get_shape (room->state, design);
    sb_task_add_shape (room->task, shape);
    guint n_turns = MIN (shape->n_poses, MOST_TURNS);
    for (guint t = 0; t < n_turns; t++)
      add_turned (room, raster, &shape->poses[t * shape->n_poses / n_turns]);
    room->n_freebies++;
  }
}

SbFreeRoom *
sb_free_room_new (const SbState *state, guint page_index, const SbDesign *design, gint32 turn,
                  const guint *except, guint n_except)
{
  SbFreeRoom *room = g_new0 (SbFreeRoom, 1);
  room->state = sb_state_ref ((SbState *)state);
  room->design = sb_design_ref ((SbDesign *)design);
  room->task = sb_task_new (state->gap + SB_PACKING_AIM_UM, state->gap);
  room->turned = g_array_new (FALSE, FALSE, sizeof (Turned));
  g_array_set_clear_func (room->turned, turned_clear);
  g_autoptr (SbRaster) raster = sb_raster_new (sb_state_get_printable_box (state), STEP_UM, FALSE);
  const SbPage *page = sb_state_get_page (state, page_index);
  g_autoptr (GArray) placings =
      page != NULL ? sb_page_get_placings (state, page, room->task, except, n_except) : NULL;
  for (guint i = 0; placings != NULL && i < placings->len; i++) {
    const SbPlacing *placing = &g_array_index (placings, SbPlacing, i);
    sb_raster_block (raster, sb_task_get_pose (room->task, placing->shape, placing->pose),
                     placing->x, placing->y, room->task->gap);
  }
  add_freebies (room, raster);
  sb_free_room_set_turn (room, turn);
  return room;
}

void
sb_free_room_free (SbFreeRoom *room)
{
  g_array_unref (room->turned);
  g_clear_pointer (&room->moved, sb_shape_free);
  sb_task_free (room->task);
  sb_design_unref (room->design);
  sb_state_unref (room->state);
  g_free (room);
}

void
sb_free_room_set_turn (SbFreeRoom *room, gint32 turn)
{
  g_clear_pointer (&room->moved, sb_shape_free);
  room->moved = sb_design_get_turned_shape (room->state, room->design, turn);
  for (guint i = 0; i < room->turned->len; i++)
    g_clear_pointer (&g_array_index (room->turned, Turned, i).region, g_free);
}

guint
sb_free_room_get_n (const SbFreeRoom *room)
{
  return room->n_freebies;
}

static gboolean
is_clear (SbFreeRoom *room, Turned *turned, guint row, guint column, SbIPoint centre)
{
  const SbIBox still = room->moved->poses[0].box, moving = turned->pose->box;
  double x = (double)turned->cover->room.x0 + (double)column * STEP_UM - centre.x,
         y = (double)turned->cover->room.y0 + (double)row * STEP_UM - centre.y,
         gap = room->task->gap;
  if (x + moving.x0 >= still.x1 + gap || x + moving.x1 <= still.x0 - gap ||
      y + moving.y0 >= still.y1 + gap || y + moving.y1 <= still.y0 - gap)
    return TRUE;
  if (turned->region == NULL)
    turned->region = sb_keep_out_new (&room->moved->poses[0], turned->pose, gap);
  return sb_keep_out_depth (turned->region, x, y) <= 0;
}

static gboolean
has_room (SbFreeRoom *room, Turned *turned, SbIPoint centre)
{
  if (turned->last_row >= 0 &&
      is_clear (room, turned, (guint)turned->last_row, (guint)turned->last_column, centre))
    return TRUE;
  guint words = turned->cover->words;
  for (guint row = turned->first_row; row < turned->end_row; row++)
    for (guint word = 0; word < words; word++)
      for (guint64 bits = turned->bits[(gsize)row * words + word]; bits != 0; bits &= bits - 1) {
        guint column = word * 64 + (guint)__builtin_ctzll (bits);
        if (!is_clear (room, turned, row, column, centre))
          continue;
        turned->last_row = (gint)row;
        turned->last_column = (gint)column;
        return TRUE;
      }
  return FALSE;
}

guint
sb_free_room_count (SbFreeRoom *room, SbIPoint centre)
{
  guint n = 0;
  for (guint i = 0; i < room->turned->len;) {
    Turned *turned = &g_array_index (room->turned, Turned, i);
    gboolean found = has_room (room, turned, centre);
    n += found;
    for (i++; found && i < room->turned->len &&
              g_array_index (room->turned, Turned, i).freebie == turned->freebie;)
      i++; /* one turn is enough */
  }
  return n;
}
