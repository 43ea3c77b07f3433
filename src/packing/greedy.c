/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/greedy.h"

/* Turns tried for a first answer, spread over those allowed. */
#define MOST_POSES 6

typedef struct {
  SbKeepOuts *keep_outs;
  const SbTask *task;
  SbIBox box;
  SbTowards towards;
  sb_um step;
  GArray *placings;
  guint shape; /* whose maps these are */
  guint n_maps;
  guint poses[MOST_POSES];
  SbFreeMap *maps[MOST_POSES];
} Greedy;

static void
forbid_placing (Greedy *greedy, guint map, const SbPlacing *placing)
{
  const SbKeepOut *region = sb_keep_outs_get (greedy->keep_outs, placing->shape, placing->pose,
                                              greedy->shape, greedy->poses[map]);
  sb_free_map_forbid (greedy->maps[map], region, placing->x, placing->y);
}

static void
drop_maps (Greedy *greedy)
{
  for (guint i = 0; i < greedy->n_maps; i++)
    sb_free_map_free (greedy->maps[i]);
  greedy->n_maps = 0;
}

static void
begin_shape (Greedy *greedy, guint index)
{
  const SbShape *shape = greedy->task->shapes->pdata[index];
  drop_maps (greedy);
  greedy->shape = index;
  greedy->n_maps = MIN (shape->n_poses, MOST_POSES);
  for (guint i = 0; i < greedy->n_maps; i++) {
    greedy->poses[i] = i * shape->n_poses / greedy->n_maps;
    greedy->maps[i] = sb_free_map_new (
        sb_pose_get_room (&shape->poses[greedy->poses[i]], greedy->box), greedy->step);
    for (guint k = 0; k < greedy->placings->len; k++)
      forbid_placing (greedy, i, &g_array_index (greedy->placings, SbPlacing, k));
    sb_keep_outs_tidy (greedy->keep_outs);
  }
}

/* The best place over all turns: the one whose far side reaches least from the side it is drawn
 * to. */
static gboolean
find_place (Greedy *greedy, SbPlacing *found)
{
  gint64 best = G_MAXINT64;
  for (guint i = 0; i < greedy->n_maps; i++) {
    const SbPose *pose = sb_task_get_pose (greedy->task, greedy->shape, greedy->poses[i]);
    SbIPoint place;
    gboolean free = greedy->towards == SB_TOWARDS_TOP
                        ? sb_free_map_topmost (greedy->maps[i], &place)
                        : sb_free_map_leftmost (greedy->maps[i], &place);
    if (!free)
      continue;
    gint64 reach = greedy->towards == SB_TOWARDS_TOP ? (gint64)place.y + pose->box.y1
                                                     : (gint64)place.x + pose->box.x1;
    if (reach < best) {
      best = reach;
      *found = (SbPlacing){greedy->shape, greedy->poses[i], place.x, place.y, FALSE, 0};
    }
  }
  return best != G_MAXINT64;
}

guint
sb_greedy_lay (SbKeepOuts *keep_outs, const SbTask *task, SbIBox box, SbTowards towards, sb_um step,
               GArray *placings, const guint *shapes, guint n)
{
  Greedy greedy = {keep_outs, task, box, towards, step, placings, G_MAXUINT};
  guint laid = 0;
  gboolean full = FALSE; /* for the shape at hand */
  for (guint i = 0; i < n; i++) {
    if (shapes[i] != greedy.shape) {
      begin_shape (&greedy, shapes[i]);
      full = FALSE;
    }
    SbPlacing placing;
    if (full || !find_place (&greedy, &placing)) {
      full = TRUE;
      continue;
    }
    placing.tag = i;
    g_array_append_val (placings, placing);
    laid++;
    for (guint k = 0; k < greedy.n_maps; k++)
      forbid_placing (&greedy, k, &placing);
  }
  drop_maps (&greedy);
  sb_keep_outs_tidy (keep_outs);
  return laid;
}

static int
compare_shapes (gconstpointer a, gconstpointer b, gpointer data)
{
  const SbTask *task = data;
  guint p = *(const guint *)a, q = *(const guint *)b;
  double p_area = ((const SbShape *)task->shapes->pdata[p])->area,
         q_area = ((const SbShape *)task->shapes->pdata[q])->area;
  if (p_area != q_area)
    return p_area > q_area ? -1 : 1;
  return p < q ? -1 : p > q;
}

void
sb_greedy_sort (const SbTask *task, guint *shapes, guint n)
{
  g_qsort_with_data (shapes, (int)n, sizeof *shapes, compare_shapes, (gpointer)task);
}
