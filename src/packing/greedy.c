/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/greedy.h"

#include "packing/raster.h"

/* Turns tried for a first answer, spread over those allowed. */
#define MOST_POSES 6

typedef struct {
  const SbTask *task;
  SbTowards towards;
  SbRaster *raster;
  guint shape; /* whose covers these are */
  guint n_covers;
  guint poses[MOST_POSES];
  SbCover *covers[MOST_POSES];
  guint rows[MOST_POSES]; /* above which there is no room */
} Greedy;

static void
block (Greedy *greedy, const SbPlacing *placing)
{
  sb_raster_block (greedy->raster, sb_task_get_pose (greedy->task, placing->shape, placing->pose),
                   placing->x, placing->y, greedy->task->gap);
}

static void
drop_covers (Greedy *greedy)
{
  for (guint i = 0; i < greedy->n_covers; i++)
    sb_cover_free (greedy->covers[i]);
  greedy->n_covers = 0;
}

static void
begin_shape (Greedy *greedy, guint index)
{
  const SbShape *shape = greedy->task->shapes->pdata[index];
  drop_covers (greedy);
  greedy->shape = index;
  greedy->n_covers = MIN (shape->n_poses, MOST_POSES);
  for (guint i = 0; i < greedy->n_covers; i++) {
    greedy->poses[i] = i * shape->n_poses / greedy->n_covers;
    greedy->covers[i] = sb_cover_new (greedy->raster, &shape->poses[greedy->poses[i]]);
    greedy->rows[i] = 0;
  }
}

/* The best place over all turns: the one whose far side reaches least from the side it is drawn
 * to. */
static gboolean
find_place (Greedy *greedy, SbPlacing *found)
{
  gint64 best = G_MAXINT64;
  for (guint i = 0; i < greedy->n_covers; i++) {
    const SbPose *pose = sb_task_get_pose (greedy->task, greedy->shape, greedy->poses[i]);
    SbIPoint place;
    if (!sb_raster_find_topmost (greedy->raster, greedy->covers[i], &greedy->rows[i], &place))
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
sb_greedy_lay (const SbTask *task, SbIBox box, SbTowards towards, sb_um step, GArray *placings,
               const guint *shapes, guint n)
{
  g_autoptr (SbRaster) raster = sb_raster_new (box, step, towards == SB_TOWARDS_LEFT);
  Greedy greedy = {task, towards, raster, G_MAXUINT};
  for (guint k = 0; k < placings->len; k++)
    block (&greedy, &g_array_index (placings, SbPlacing, k));
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
    block (&greedy, &placing);
  }
  drop_covers (&greedy);
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
