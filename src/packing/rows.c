/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/rows.h"

#include <math.h>

typedef struct {
  guint page;
  sb_um top, height; /* of the lane */
  sb_um next;        /* where the next copy's left side may be */
} Lane;

typedef struct {
  SbPages *pages;
  const SbPlacing *copies;
  sb_um gap;
  GArray *lanes;
  guint *poses; /* of each copy */
} Rows;

static const SbPose *
pose_for (const Rows *rows, guint i)
{
  return sb_task_get_pose (rows->pages->task, rows->copies[i].shape, rows->poses[i]);
}

static sb_um
height_of (const SbPose *pose)
{
  return pose->box.y1 - pose->box.y0;
}

static gboolean
is_straight (const SbPose *pose)
{
  return pose->turn % 90000 == 0;
}

/* Of the turns that fit the page the one with the lowest box; a straight one where one fits. */
static gboolean
choose_pose (const SbPages *pages, guint shape_index, guint *best)
{
  const SbShape *shape = pages->task->shapes->pdata[shape_index];
  gboolean found = FALSE;
  for (guint i = 0; i < shape->n_poses; i++) {
    const SbPose *pose = &shape->poses[i], *before = &shape->poses[*best];
    SbIBox room = sb_pose_get_room (pose, pages->box);
    if (room.x1 < room.x0)
      continue;
    if (!found || is_straight (pose) > is_straight (before) ||
        (is_straight (pose) == is_straight (before) && height_of (pose) < height_of (before)))
      *best = i;
    found = TRUE;
  }
  return found;
}

static int
compare_copies (gconstpointer a, gconstpointer b, gpointer data)
{
  const Rows *rows = data;
  guint i = *(const guint *)a, j = *(const guint *)b;
  sb_um p = height_of (pose_for (rows, i)), q = height_of (pose_for (rows, j));
  if (p != q)
    return p > q ? -1 : 1;
  if (rows->copies[i].shape != rows->copies[j].shape)
    return rows->copies[i].shape < rows->copies[j].shape ? -1 : 1;
  return i < j ? -1 : i > j;
}

/* The least y from `top` on where a lane of `height` is clear of all fixed copies. */
static sb_um
clear_of_fixed (const Rows *rows, const GArray *page, sb_um top, sb_um height)
{
  for (guint i = 0; i < page->len; i++) {
    const SbPlacing *placing = &g_array_index (page, SbPlacing, i);
    const SbPose *pose = sb_task_get_pose (rows->pages->task, placing->shape, placing->pose);
    if (placing->fixed && placing->y + pose->box.y0 - rows->gap < top + height &&
        placing->y + pose->box.y1 + rows->gap > top) {
      top = placing->y + pose->box.y1 + rows->gap;
      i = G_MAXUINT; /* look at all again from there */
    }
  }
  return top;
}

/* Opens a lane for a pose below those of `page`; FALSE when the page is full. */
static gboolean
open_lane (Rows *rows, guint page, const SbPose *pose)
{
  sb_um top = rows->pages->box.y0 + pose->margin, height = height_of (pose);
  for (guint i = 0; i < rows->lanes->len; i++) {
    const Lane *lane = &g_array_index (rows->lanes, Lane, i);
    if (lane->page == page)
      top = MAX (top, lane->top + lane->height + rows->gap);
  }
  top = clear_of_fixed (rows, rows->pages->pages->pdata[page], top, height);
  if (top + height + pose->margin > rows->pages->box.y1)
    return FALSE;
  Lane lane = {page, top, height, rows->pages->box.x0};
  g_array_append_val (rows->lanes, lane);
  return TRUE;
}

static gboolean
lay_in_lane (Rows *rows, Lane *lane, guint i)
{
  const SbPose *pose = pose_for (rows, i);
  SbIBox room = sb_pose_get_room (pose, rows->pages->box);
  SbPlacing placing = rows->copies[i];
  placing.pose = rows->poses[i];
  placing.x = MAX (lane->next - pose->box.x0, room.x0);
  placing.y = lane->top + (lane->height - height_of (pose)) / 2 - pose->box.y0;
  if (height_of (pose) > lane->height || placing.x > room.x1 || placing.y < room.y0 ||
      placing.y > room.y1)
    return FALSE;
  g_array_append_val ((GArray *)rows->pages->pages->pdata[lane->page], placing);
  lane->next = placing.x + pose->box.x1 + rows->gap;
  return TRUE;
}

static void
lay (Rows *rows, guint i)
{
  for (guint k = 0; k < rows->lanes->len; k++)
    if (lay_in_lane (rows, &g_array_index (rows->lanes, Lane, k), i))
      return;
  guint page = 0;
  for (;; page++) {
    if (page == rows->pages->pages->len)
      sb_pages_add (rows->pages);
    if (open_lane (rows, page, pose_for (rows, i)))
      break;
  }
  lay_in_lane (rows, &g_array_index (rows->lanes, Lane, rows->lanes->len - 1), i);
}

void
sb_rows_lay (SbPages *pages, const SbPlacing *copies, guint n)
{
  Rows rows = {pages, copies, (sb_um)ceil (pages->task->gap)};
  rows.lanes = g_array_new (FALSE, FALSE, sizeof (Lane));
  rows.poses = g_new0 (guint, n);
  g_autoptr (GArray) order = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < n; i++)
    if (choose_pose (pages, copies[i].shape, &rows.poses[i]))
      g_array_append_val (order, i);
  g_array_sort_with_data (order, compare_copies, &rows);
  for (guint k = 0; k < order->len; k++)
    lay (&rows, g_array_index (order, guint, k));
  g_array_unref (rows.lanes);
  g_free (rows.poses);
}
