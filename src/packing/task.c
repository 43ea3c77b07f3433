/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/task.h"

#include <string.h>

#include "geometry/relation.h"

SbTask *
sb_task_new (double gap, sb_um exact_gap)
{
  SbTask *task = g_new0 (SbTask, 1);
  task->shapes = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_shape_free);
  task->gap = gap;
  task->exact_gap = exact_gap;
  return task;
}

void
sb_task_free (SbTask *task)
{
  g_ptr_array_unref (task->shapes);
  g_free (task);
}

guint
sb_task_add_shape (SbTask *task, SbShape *shape)
{
  g_ptr_array_add (task->shapes, shape);
  return task->shapes->len - 1;
}

SbIBox
sb_pose_get_room (const SbPose *pose, SbIBox box)
{
  SbIBox room = {box.x0 - pose->box.x0 + pose->margin, box.y0 - pose->box.y0 + pose->margin,
                 box.x1 - pose->box.x1 - pose->margin, box.y1 - pose->box.y1 - pose->margin};
  if (room.y1 < room.y0)
    room.x1 = room.x0 - 1;
  return room;
}

gboolean
sb_shape_fits (const SbShape *shape, SbIBox box)
{
  for (guint i = 0; i < shape->n_poses; i++) {
    SbIBox room = sb_pose_get_room (&shape->poses[i], box);
    if (room.x1 >= room.x0)
      return TRUE;
  }
  return FALSE;
}

static gboolean
boxes_apart (SbIBox a, SbIBox b, sb_um gap)
{
  return a.x1 + gap <= b.x0 || b.x1 + gap <= a.x0 || a.y1 + gap <= b.y0 || b.y1 + gap <= a.y0;
}

gboolean
sb_task_check (const SbTask *task, SbIBox box, const SbPlacing *placings, guint n)
{
  g_autoptr (GPtrArray) outlines =
      g_ptr_array_new_with_free_func ((GDestroyNotify)sb_polygon_unref);
  gboolean valid = TRUE;
  for (guint i = 0; i < n && valid; i++) {
    const SbPlacing *p = &placings[i];
    const SbPose *pose = sb_task_get_pose (task, p->shape, p->pose);
    SbPolygon *outline = sb_polygon_move (pose->outline, p->x, p->y);
    g_ptr_array_add (outlines, outline);
    valid = p->fixed || sb_polygon_inside_box (outline, box);
    SbIBox mine = sb_polygon_get_box (outline);
    for (guint j = 0; j < i && valid; j++)
      if (!(p->fixed && placings[j].fixed) &&
          !boxes_apart (mine, sb_polygon_get_box (outlines->pdata[j]), task->exact_gap))
        valid = !sb_polygons_closer_than (outline, outlines->pdata[j], task->exact_gap);
  }
  return valid;
}

/* Below this many poses every pair has its own slot. Above, and for poses added since, pairs share
 * slots. */
#define MOST_DIRECT_POSES 1024
#define SHARED_SLOTS 131072

/* Regions lie one after the other in blocks: there are tens of thousands of them. */
#define BLOCK_SIZE ((gsize)1 << 20)
#define MOST_BLOCKS 128

typedef struct {
  guint64 still, moving; /* shape and pose */
  const SbKeepOut *region;
} Slot;

typedef struct {
  gsize size, used;
  char *bytes;
} Block;

static Block *
block_new (gsize size)
{
  Block *block = g_new (Block, 1);
  *block = (Block){size, 0, g_malloc (size)};
  return block;
}

static void
block_free (Block *block)
{
  g_free (block->bytes);
  g_free (block);
}

struct _SbKeepOuts {
  const SbTask *task;
  guint n_poses;
  guint *first_pose;         /* of each shape, counted over all; and past the last one's */
  guint64 n_direct, n_slots; /* the direct slots come first */
  Slot *slots;
  GPtrArray *blocks; /* Block */
  guint block;       /* the one that is filled now */
};

SbKeepOuts *
sb_keep_outs_new (const SbTask *task)
{
  SbKeepOuts *keep_outs = g_new0 (SbKeepOuts, 1);
  keep_outs->task = task;
  keep_outs->first_pose = g_new (guint, task->shapes->len + 1);
  for (guint i = 0; i < task->shapes->len; i++) {
    keep_outs->first_pose[i] = keep_outs->n_poses;
    keep_outs->n_poses += ((const SbShape *)task->shapes->pdata[i])->n_poses;
  }
  keep_outs->first_pose[task->shapes->len] = keep_outs->n_poses;
  if (keep_outs->n_poses <= MOST_DIRECT_POSES)
    keep_outs->n_direct = (guint64)keep_outs->n_poses * keep_outs->n_poses;
  keep_outs->n_slots = keep_outs->n_direct + SHARED_SLOTS;
  keep_outs->slots = g_new0 (Slot, keep_outs->n_slots);
  keep_outs->blocks = g_ptr_array_new_with_free_func ((GDestroyNotify)block_free);
  return keep_outs;
}

void
sb_keep_outs_free (SbKeepOuts *keep_outs)
{
  g_free (keep_outs->slots);
  g_free (keep_outs->first_pose);
  g_ptr_array_unref (keep_outs->blocks);
  g_free (keep_outs);
}

static const SbKeepOut *
make_region (SbKeepOuts *keep_outs, const SbPose *still, const SbPose *moving)
{
  gsize most = sb_keep_out_get_most_size (still, moving, keep_outs->task->gap), used;
  Block *block = NULL;
  for (; keep_outs->block < keep_outs->blocks->len; keep_outs->block++) {
    block = keep_outs->blocks->pdata[keep_outs->block];
    if (most <= block->size - block->used)
      break;
  }
  if (keep_outs->block == keep_outs->blocks->len) {
    block = block_new (MAX (BLOCK_SIZE, most));
    g_ptr_array_add (keep_outs->blocks, block);
  }
  const SbKeepOut *region =
      sb_keep_out_put (block->bytes + block->used, still, moving, keep_outs->task->gap, &used);
  block->used += used;
  return region;
}

static guint64
scramble (guint64 value)
{
  return (value ^ value >> 29) * G_GUINT64_CONSTANT (0x9e3779b97f4a7c15);
}

const SbKeepOut *
sb_keep_outs_get (SbKeepOuts *keep_outs, guint still_shape, guint still_pose, guint moving_shape,
                  guint moving_pose)
{
  const guint *first = keep_outs->first_pose;
  guint64 still = (guint64)still_shape << 32 | still_pose,
          moving = (guint64)moving_shape << 32 | moving_pose, at;
  guint still_at = first[still_shape] + still_pose, moving_at = first[moving_shape] + moving_pose;
  if (keep_outs->n_direct > 0 && still_at < first[still_shape + 1] &&
      moving_at < first[moving_shape + 1])
    at = (guint64)still_at * keep_outs->n_poses + moving_at;
  else
    at = keep_outs->n_direct + (scramble (scramble (still) + moving) >> 47);
  Slot *slot = &keep_outs->slots[at];
  if (slot->region == NULL || slot->still != still || slot->moving != moving) {
    slot->still = still;
    slot->moving = moving;
    slot->region =
        make_region (keep_outs, sb_task_get_pose (keep_outs->task, still_shape, still_pose),
                     sb_task_get_pose (keep_outs->task, moving_shape, moving_pose));
  }
  return slot->region;
}

SbKeepOutView
sb_keep_outs_view (SbKeepOuts *keep_outs, guint still_shape, guint still_pose, guint moving_shape,
                   guint moving_pose)
{
  const SbShape *still = keep_outs->task->shapes->pdata[still_shape],
                *moving = keep_outs->task->shapes->pdata[moving_shape];
  if (!still->cyclic || !moving->cyclic || still->n_poses != moving->n_poses ||
      still->poses[1].turn != moving->poses[1].turn || still_pose >= still->n_poses ||
      moving_pose >= moving->n_poses)
    return (SbKeepOutView){
        sb_keep_outs_get (keep_outs, still_shape, still_pose, moving_shape, moving_pose), 1, 0};
  guint difference = moving_pose >= still_pose ? moving_pose - still_pose
                                               : moving_pose + moving->n_poses - still_pose;
  const SbPose *pose = &still->poses[still_pose];
  return (SbKeepOutView){sb_keep_outs_get (keep_outs, still_shape, 0, moving_shape, difference),
                         pose->cos, pose->sin};
}

void
sb_keep_outs_tidy (SbKeepOuts *keep_outs)
{
  if (keep_outs->block < MOST_BLOCKS)
    return;
  for (guint i = 0; i < keep_outs->blocks->len; i++)
    ((Block *)keep_outs->blocks->pdata[i])->used = 0;
  keep_outs->block = 0;
  memset (keep_outs->slots, 0, keep_outs->n_slots * sizeof (Slot));
}
