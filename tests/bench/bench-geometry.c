/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How long the exact predicates take: least of several runs, since a busy machine only adds. */
#include "geometry/outline.h"
#include "geometry/relation.h"

#include <math.h>
#include <stdio.h>

#define PIECES 60
#define RUNS 20

/* A flower: a wavy closed curve of `waves` cubic pairs. */
static SbOutline *
flower (int waves, double radius)
{
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  for (int i = 0; i <= waves; i++) {
    double a = 2 * G_PI * i / waves, step = 2 * G_PI / waves;
    SbPoint end = {radius * cos (a), radius * sin (a)};
    SbPoint c1 = {1.3 * radius * cos (a - 0.7 * step), 1.3 * radius * sin (a - 0.7 * step)};
    SbPoint c2 = {1.3 * radius * cos (a - 0.3 * step), 1.3 * radius * sin (a - 0.3 * step)};
    if (i == 0)
      sb_outline_builder_move_to (builder, end);
    else
      sb_outline_builder_curve_to (builder, c1, c2, end);
  }
  return sb_outline_builder_end (builder);
}

static double
least_ms (void (*run) (void *), void *data)
{
  double least = INFINITY;
  for (int i = 0; i < RUNS; i++) {
    gint64 start = g_get_monotonic_time ();
    run (data);
    least = MIN (least, (double)(g_get_monotonic_time () - start) / 1000);
  }
  return least;
}

typedef struct {
  SbOutline *outline;
  SbPolygon *pieces[PIECES];
  sb_um gap;
} Sheet;

static void
check_all_pairs (void *data)
{
  Sheet *sheet = data;
  for (int i = 0; i < PIECES; i++)
    for (int k = 0; k < i; k++)
      if (sb_polygons_closer_than (sheet->pieces[i], sheet->pieces[k], sheet->gap))
        g_error ("the pieces of the benchmark must keep their gap");
}

static void
flatten_all (void *data)
{
  Sheet *sheet = data;
  for (int i = 0; i < PIECES; i++)
    sb_polygon_unref (sb_outline_flatten (
        sheet->outline, sb_transform_turn ((SbPoint){0, 0}, i, (SbPoint){100, 100}), 10));
}

static void
measure_distance (void *data)
{
  SbPolygon **pair = data;
  sb_polygons_distance_um (pair[0], pair[1]);
}

static void
measure_overlap (void *data)
{
  SbPolygon **pair = data;
  sb_polygons_overlap (pair[0], pair[1]);
}

static void
bench_sheet (void)
{
  Sheet sheet = {.outline = flower (8, 10), .gap = 1000};
  double step = 2 * sb_outline_get_box (sheet.outline).x1 + 1.05;
  for (int i = 0; i < PIECES; i++)
    sheet.pieces[i] = sb_outline_flatten (
        sheet.outline, (SbTransform){1, 0, 0, 1, 20 + step * (i % 8), 20 + step * (i / 8)}, 10);
  printf ("corners_of_a_piece %u count\n", sb_polygon_get_loop (sheet.pieces[0], 0)->n_points);
  printf ("flatten_60_pieces %.3f ms\n", least_ms (flatten_all, &sheet));
  printf ("gap_of_60_pieces_all_pairs %.3f ms\n", least_ms (check_all_pairs, &sheet));
  for (int i = 0; i < PIECES; i++)
    sb_polygon_unref (sheet.pieces[i]);
  sb_outline_unref (sheet.outline);
}

static void
bench_large_loops (void)
{
  g_autoptr (SbOutline) outline = flower (700, 100);
  SbPolygon *pair[2] = {sb_outline_flatten (outline, SB_TRANSFORM_IDENTITY, 2)};
  SbIBox box = sb_polygon_get_box (pair[0]);
  pair[1] = sb_polygon_move (pair[0], box.x1 - box.x0 + 500, 0);
  printf ("corners_of_a_large_loop %u count\n", sb_polygon_get_loop (pair[0], 0)->n_points);
  printf ("distance_of_large_loops %.4f ms\n", least_ms (measure_distance, pair));
  printf ("overlap_of_large_loops_apart %.4f ms\n", least_ms (measure_overlap, pair));
  sb_polygon_unref (pair[1]);
  pair[1] = sb_polygon_move (pair[0], 0, 0);
  printf ("overlap_of_a_large_loop_with_itself %.4f ms\n", least_ms (measure_overlap, pair));
  sb_polygon_unref (pair[0]);
  sb_polygon_unref (pair[1]);
}

int
main (void)
{
  bench_sheet ();
  bench_large_loops ();
  return 0;
}
