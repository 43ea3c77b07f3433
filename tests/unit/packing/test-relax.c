/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Relaxation against the exact check of geometry/relation.h, which knows nothing of how it works.
 */
#include "geometry/relation.h"
#include "packing/relax.h"
#include "random-shape.h"
#include "suite.h"

#define N_COPIES 12
#define N_TURNS 72
#define GAP 1500

typedef struct {
  SbTask *task;
  SbIBox box;
  SbPlacing placings[N_COPIES];
} Heap;

/* Random shapes thrown on a heap in a box with room for them: most turn freely, some lie upright or
 * by quarters, and one is fixed. */
static Heap
heap_new (guint seed)
{
  SbRandom random = sb_random_stream (seed, 0);
  gint32 turns[N_TURNS], quarters[4] = {0, 90000, 180000, 270000};
  for (guint i = 0; i < N_TURNS; i++)
    turns[i] = (gint32)i * 360000 / N_TURNS;
  Heap heap = {sb_task_new (GAP, GAP), {0, 0, 170000, 170000}, {{0}}};
  for (guint i = 0; i < N_COPIES; i++) {
    g_autoptr (SbPolygon) outline = random_outline (&random, 20000);
    guint n_turns = i % 4 == 0 ? 1 + 3 * (i % 8 == 0) : N_TURNS;
    SbShape *shape = sb_shape_new (outline, n_turns == 4 ? quarters : turns, n_turns, 0);
    heap.placings[i] = (SbPlacing){.shape = sb_task_add_shape (heap.task, shape),
                                   .x = sb_random_between (&random, 20000, 150000),
                                   .y = sb_random_between (&random, 20000, 150000),
                                   .fixed = i == 5,
                                   .tag = i};
  }
  return heap;
}

/* Lets a heap come to rest; the layout, with the poses its turns have been given. */
static gboolean
relax_heap (Heap *heap, guint64 evaluations)
{
  g_autoptr (SbRelaxer) relaxer = sb_relaxer_new (heap->task, sb_random_stream (1, 0));
  sb_relaxer_set (relaxer, heap->box, heap->placings, N_COPIES);
  gboolean done = sb_relaxer_run (relaxer, evaluations);
  for (guint i = 0; i < N_COPIES; i++) {
    gint32 turn = -1;
    heap->placings[i] = sb_relaxer_get (relaxer, i, &turn);
    SbShape *shape = heap->task->shapes->pdata[heap->placings[i].shape];
    ck_assert_int_eq (turn >= 0, shape->cyclic && !heap->placings[i].fixed);
    if (turn >= 0)
      heap->placings[i].pose = sb_shape_take_pose (shape, turn);
  }
  return done;
}

START_TEST (what_is_at_rest_is_valid)
{
  guint n_done = 0;
  for (guint seed = 0; seed < 40; seed++) {
    Heap heap = heap_new (seed);
    SbPlacing fixed = heap.placings[5];
    if (relax_heap (&heap, 60000)) {
      ck_assert_msg (sb_task_check (heap.task, heap.box, heap.placings, N_COPIES), "seed %u", seed);
      n_done++;
    }
    ck_assert_int_eq (heap.placings[5].x, fixed.x);
    ck_assert_int_eq (heap.placings[5].y, fixed.y);
    ck_assert_uint_eq (heap.placings[5].pose, fixed.pose);
    sb_task_free (heap.task);
  }
  ck_assert_uint_ge (n_done, 30);
}
END_TEST

START_TEST (the_same_seed_gives_the_same_places)
{
  for (guint seed = 0; seed < 3; seed++) {
    Heap a = heap_new (seed), b = heap_new (seed);
    relax_heap (&a, 5000);
    relax_heap (&b, 5000);
    for (guint i = 0; i < N_COPIES; i++) {
      ck_assert_int_eq (a.placings[i].x, b.placings[i].x);
      ck_assert_int_eq (a.placings[i].y, b.placings[i].y);
      ck_assert_int_eq (sb_task_get_pose (a.task, a.placings[i].shape, a.placings[i].pose)->turn,
                        sb_task_get_pose (b.task, b.placings[i].shape, b.placings[i].pose)->turn);
    }
    sb_task_free (a.task);
    sb_task_free (b.task);
  }
}
END_TEST

/* Ten bars that fill nine tenths of a box: there is room for them side by side only. */
START_TEST (bars_find_together)
{
  gint32 turns[N_TURNS / 2];
  for (guint i = 0; i < N_TURNS / 2; i++)
    turns[i] = (gint32)i * 180000 / (N_TURNS / 2);
  g_autoptr (SbTask) task = sb_task_new (0, 0);
  g_autoptr (SbPolygon) bar = sb_polygon_new_box ((SbIBox){-25000, -5000, 25000, 5000});
  guint shape = sb_task_add_shape (task, sb_shape_new (bar, turns, N_TURNS / 2, 0));
  SbIBox box = {0, 0, 52000, 106000};
  SbPlacing placings[10];
  for (guint i = 0; i < 10; i++)
    placings[i] = (SbPlacing){.shape = shape, .pose = i, .x = 25000, .y = 5000 + (sb_um)i * 10000};
  g_autoptr (SbRelaxer) relaxer = sb_relaxer_new (task, sb_random_stream (1, 0));
  sb_relaxer_set (relaxer, box, placings, 10);
  ck_assert (sb_relaxer_run (relaxer, 100000));
  for (guint i = 0; i < 10; i++) {
    gint32 turn;
    placings[i] = sb_relaxer_get (relaxer, i, &turn);
    placings[i].pose = sb_shape_take_pose (task->shapes->pdata[shape], turn);
  }
  ck_assert (sb_task_check (task, box, placings, 10));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("relax");
  TCase *tcase = tcase_create ("relax");
  tcase_set_timeout (tcase, 100);
  tcase_add_test (tcase, what_is_at_rest_is_valid);
  tcase_add_test (tcase, the_same_seed_gives_the_same_places);
  tcase_add_test (tcase, bars_find_together);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
