/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Room found among squares against the exact check of geometry/relation.h. */
#include "geometry/relation.h"
#include "packing/raster.h"
#include "random-shape.h"
#include "suite.h"

#define N_LYING 8
#define STEP 150
#define GAP 1500

static const SbIBox box = {3000, -2000, 103000, 90000};

typedef struct {
  SbTask *task;
  SbRaster *raster;
  SbPlacing placings[N_LYING + 1];
} Table;

/* Random shapes lying about, in one another's way or not, and another one last. */
static Table
table_new (SbRandom *random, gboolean across)
{
  Table table = {sb_task_new (GAP, GAP), sb_raster_new (box, STEP, across), {{0}}};
  for (guint i = 0; i <= N_LYING; i++) {
    gint32 turn = sb_random_between (random, 0, 359999);
    g_autoptr (SbPolygon) outline = random_outline (random, 12000);
    SbPlacing *placing = &table.placings[i];
    *placing =
        (SbPlacing){.shape = sb_task_add_shape (table.task, sb_shape_new (outline, &turn, 1, 0)),
                    .x = sb_random_between (random, box.x0, box.x1),
                    .y = sb_random_between (random, box.y0, box.y1),
                    .fixed = i < N_LYING};
    if (i < N_LYING)
      sb_raster_block (table.raster, sb_task_get_pose (table.task, placing->shape, 0), placing->x,
                       placing->y, GAP);
  }
  return table;
}

static void
table_clear (Table *table)
{
  sb_raster_free (table->raster);
  sb_task_free (table->task);
}

static gboolean
is_clear (Table *table, sb_um x, sb_um y, sb_um gap)
{
  SbPlacing *last = &table->placings[N_LYING];
  last->x = x;
  last->y = y;
  table->task->exact_gap = gap;
  return sb_task_check (table->task, box, table->placings, N_LYING + 1);
}

/* A place with room keeps the gap; one that keeps the gap and what two squares take has room. */
START_TEST (room_is_never_false_and_seldom_missed)
{
  for (guint seed = 0; seed < 60; seed++) {
    SbRandom random = sb_random_stream (seed, 0);
    Table table = table_new (&random, FALSE);
    const SbPose *pose = sb_task_get_pose (table.task, table.placings[N_LYING].shape, 0);
    g_autoptr (SbCover) cover = sb_cover_new (table.raster, pose);
    g_autofree guint64 *bits = g_new (guint64, cover->words + 1);
    for (guint k = 0; k < 60 && cover->rows > 0; k++) {
      guint row = sb_random_below (&random, cover->rows),
            column = sb_random_below (&random, cover->columns);
      sb_um x = cover->room.x0 + (sb_um)column * STEP, y = cover->room.y0 + (sb_um)row * STEP;
      gboolean has_room = sb_raster_get_row (table.raster, cover, row, bits) &&
                          (bits[column / 64] >> (column % 64) & 1);
      if (has_room)
        ck_assert_msg (is_clear (&table, x, y, GAP), "seed %u: %d, %d", seed, x, y);
      else
        ck_assert_msg (!is_clear (&table, x, y, GAP + 3 * STEP), "seed %u: %d, %d", seed, x, y);
    }
    table_clear (&table);
  }
}
END_TEST

static void
find_first (gboolean across)
{
  for (guint seed = 0; seed < 60; seed++) {
    SbRandom random = sb_random_stream (seed, 1);
    Table table = table_new (&random, across);
    const SbPose *pose = sb_task_get_pose (table.task, table.placings[N_LYING].shape, 0);
    SbIBox room = sb_pose_get_room (pose, box);
    g_autoptr (SbCover) cover = sb_cover_new (table.raster, pose);
    guint row = 0;
    SbIPoint place = {room.x1, room.y1};
    gboolean found = sb_raster_find_topmost (table.raster, cover, &row, &place);
    if (found)
      ck_assert_msg (is_clear (&table, place.x, place.y, GAP), "seed %u", seed);
    sb_um most_x = across ? place.x - STEP : room.x1, most_y = across ? room.y1 : place.y - STEP;
    for (guint k = 0; k < 200 && most_x >= room.x0 && most_y >= room.y0; k++) {
      sb_um x = sb_random_between (&random, room.x0, most_x),
            y = sb_random_between (&random, room.y0, most_y);
      ck_assert_msg (!is_clear (&table, x, y, GAP + 5 * STEP), "seed %u: %d, %d is passed over",
                     seed, x, y);
    }
    table_clear (&table);
  }
}

START_TEST (the_topmost_place_is_found)
{
  find_first (FALSE);
}
END_TEST

START_TEST (the_leftmost_place_is_found)
{
  find_first (TRUE);
}
END_TEST

/* What just fits has room, wherever the squares lie. */
START_TEST (what_is_as_large_as_the_box_has_room)
{
  for (guint k = 0; k < 40; k++) {
    gint32 upright = 0;
    sb_um w = (box.x1 - box.x0) / 2 - (sb_um)k, h = (box.y1 - box.y0) / 2;
    g_autoptr (SbPolygon) outline = sb_polygon_new_box ((SbIBox){-w, -h, w, h});
    g_autoptr (SbShape) shape = sb_shape_new (outline, &upright, 1, 0);
    g_autoptr (SbRaster) raster = sb_raster_new (box, STEP, k % 2 == 1);
    g_autoptr (SbCover) cover = sb_cover_new (raster, &shape->poses[0]);
    SbIPoint place;
    guint row = 0;
    ck_assert (sb_raster_find_topmost (raster, cover, &row, &place));
    ck_assert_int_eq (place.x, box.x0 + w);
    ck_assert_int_eq (place.y, box.y0 + h);
    sb_raster_block (raster, &shape->poses[0], place.x, place.y, 0);
    ck_assert (!sb_raster_find_topmost (raster, cover, &row, &place));
  }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("raster");
  TCase *tcase = tcase_create ("raster");
  tcase_set_timeout (tcase, 100);
  tcase_add_test (tcase, room_is_never_false_and_seldom_missed);
  tcase_add_test (tcase, the_topmost_place_is_found);
  tcase_add_test (tcase, the_leftmost_place_is_found);
  tcase_add_test (tcase, what_is_as_large_as_the_box_has_room);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
