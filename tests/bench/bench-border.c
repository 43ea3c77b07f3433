/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Border growth on a spiky creature with whiskers, 1200 x 1200 px (2 in at 600 dpi), and on a
 * Letter page scanned at 600 dpi that holds twenty of them. w = 2.54 mm, r = 2.032 mm. The peer is
 * GEOS on the same ring simplified to 0.3 px, in the same run. Each figure is the least of several
 * runs, in processor time, which is what one core takes; "-elapsed" is by the clock, with two
 * threads where they help. */
#include <geos_c.h>

#include "border/silhouette.h"
#include "clock.h"
#include "drawing.h"

#define MM(px) ((px)*25.4 / 600)
#define WIDTH_MM 2.54
#define NOOK_MM 2.032

/* A wavy body with spikes, and whiskers 3 px wide. */
static void
draw_creature (SbDrawing *drawing, double cx, double cy, double size, guint seed)
{
  SbPoint p[1440];
  for (guint i = 0; i < G_N_ELEMENTS (p); i++) {
    double a = 2 * G_PI * i / G_N_ELEMENTS (p);
    double r = size * (0.30 + 0.03 * sin (5 * a + seed) + 0.02 * sin (17 * a + 2 * seed) +
                       0.06 * fabs (sin (11 * a)) + 0.004 * sin (90 * a));
    p[i] = (SbPoint){cx + r * cos (a), cy + r * sin (a)};
  }
  sb_drawing_add (drawing, p, G_N_ELEMENTS (p));
  for (int k = 0; k < 14; k++) {
    double a = 2 * G_PI * (k + 0.3) / 14, c = cos (a), s = sin (a), in = size * 0.25,
           out = size * 0.44;
    SbPoint w[4] = {{cx + in * c + 1.5 * s, cy + in * s - 1.5 * c},
                    {cx + out * c + 1.5 * s, cy + out * s - 1.5 * c},
                    {cx + out * c - 1.5 * s, cy + out * s + 1.5 * c},
                    {cx + in * c - 1.5 * s, cy + in * s + 1.5 * c}};
    sb_drawing_add (drawing, w, 4);
  }
}

static SbCoverage *
draw_scene (int width, int height, int columns, int rows)
{
  SbDrawing *drawing = sb_drawing_new (width, height);
  double size = MIN (width / columns, height / rows);
  for (int i = 0; i < columns * rows; i++)
    draw_creature (drawing, (i % columns + 0.5) * width / columns,
                   (i / columns + 0.5) * height / rows, size, (guint)i);
  return sb_drawing_end (drawing);
}

static double
grow_ms (SbSilhouette *silhouette, double width, double nook)
{
  SbBorderParams params = sb_border_params_default ();
  params.width_mm = width;
  params.nook_mm = nook;
  double start = read_cpu_ms ();
  g_autoptr (SbGrowth) growth = sb_border_grow (silhouette, &params, NULL, NULL);
  double took = read_cpu_ms () - start;
  g_assert_nonnull (growth);
  return took;
}

static void
quiet (const char *format, ...)
{
}

/* The outer rings simplified, then a slider's step: grown by w + r, shrunk by r. */
static double
geos_ms (const SbChain *chain, int runs, double *simplify_ms)
{
  initGEOS (quiet, quiet);
  double start = read_cpu_ms ();
  GArray *rings = g_array_new (FALSE, FALSE, sizeof (GEOSGeometry *));
  for (guint r = 0; r < chain->n_rings; r++) {
    const SbChainRing *ring = &chain->rings[r];
    if (ring->hole || ring->n == 1)
      continue;
    GEOSCoordSequence *points = GEOSCoordSeq_create (ring->n + 1, 2);
    for (guint i = 0; i <= ring->n; i++) {
      SbPoint p = chain->points[ring->first + i % ring->n];
      GEOSCoordSeq_setXY (points, i, p.x, p.y);
    }
    GEOSGeometry *polygon = GEOSGeom_createPolygon (GEOSGeom_createLinearRing (points), NULL, 0);
    GEOSGeometry *simple = GEOSTopologyPreserveSimplify (polygon, MM (0.3));
    GEOSGeom_destroy (polygon);
    g_array_append_val (rings, simple);
  }
  GEOSGeometry *all = GEOSGeom_createCollection (GEOS_MULTIPOLYGON,
                                                 (GEOSGeometry **)(void *)rings->data, rings->len);
  *simplify_ms = read_cpu_ms () - start;
  double least = G_MAXDOUBLE;
  for (int k = 0; k < runs; k++) {
    start = read_cpu_ms ();
    GEOSGeometry *grown = GEOSBuffer (all, WIDTH_MM + NOOK_MM, 16);
    GEOSGeometry *outline = GEOSBuffer (grown, -NOOK_MM, 16);
    least = MIN (least, read_cpu_ms () - start);
    GEOSGeom_destroy (grown);
    GEOSGeom_destroy (outline);
  }
  GEOSGeom_destroy (all);
  g_array_unref (rings);
  finishGEOS ();
  return least;
}

static void
measure (const char *name, int width, int height, int columns, int rows, int runs)
{
  g_autoptr (SbCoverage) scene = draw_scene (width, height, columns, rows);
  SbSilhouetteParams params = sb_silhouette_params_default ();
  double cold = 0, trace = G_MAXDOUBLE, first = G_MAXDOUBLE, copy = G_MAXDOUBLE, step = G_MAXDOUBLE,
         width_only = G_MAXDOUBLE, elapsed = G_MAXDOUBLE;
  g_autoptr (SbCoverage) plane = sb_drawing_copy (scene);
  gsize plane_size = scene->stride * ((gsize)height + 2 * SB_COVERAGE_FRAME);
  SbSilhouette *silhouette = NULL;
  for (int k = 0; k < runs; k++) {
    SbCoverage *coverage = sb_drawing_copy (scene);
    double start = read_cpu_ms (), begin;
    memcpy (plane->pixels, scene->pixels, plane_size);
    copy = MIN (copy, read_cpu_ms () - start);
    sb_silhouette_unref (silhouette);
    begin = read_ms (CLOCK_MONOTONIC);
    start = read_cpu_ms ();
    silhouette = sb_silhouette_from_coverage (coverage, MM (width), MM (height), &params, NULL);
    double traced = read_cpu_ms () - start;
    trace = MIN (trace, traced);
    double whole = traced + grow_ms (silhouette, WIDTH_MM, NOOK_MM);
    cold = k == 0 ? whole : cold;
    first = MIN (first, whole);
    elapsed = MIN (elapsed, read_ms (CLOCK_MONOTONIC) - begin);
  }
  for (int k = 0; k < 3 * runs; k++) {
    step = MIN (step, grow_ms (silhouette, WIDTH_MM + 0.01 * k, NOOK_MM));
    width_only = MIN (width_only, grow_ms (silhouette, WIDTH_MM + 0.01 * k, 0));
  }
  double simplify, geos = geos_ms (silhouette->chain, MAX (1, runs / 2), &simplify);
  g_print ("border-%s-points %u points\n", name, silhouette->chain->n_points);
  g_print ("border-%s-trace %.2f ms\n", name, trace);
  g_print ("border-%s-first %.2f ms\n", name, first);
  g_print ("border-%s-cold %.2f ms\n", name, cold);
  g_print ("border-%s-first-elapsed %.2f ms\n", name, elapsed);
  g_print ("border-%s-first-per-copy %.0f ratio\n", name, first / copy);
  g_print ("border-%s-step %.2f ms\n", name, step);
  g_print ("border-%s-width-only %.2f ms\n", name, width_only);
  g_print ("border-%s-copy %.3f ms\n", name, copy);
  g_print ("border-%s-step-per-copy %.1f ratio\n", name, step / copy);
  g_print ("border-%s-geos-simplify %.2f ms\n", name, simplify);
  g_print ("border-%s-geos-step %.2f ms\n", name, geos);
  g_print ("border-%s-faster-than-geos %.1f ratio\n", name, geos / step);
  sb_silhouette_unref (silhouette);
}

int
main (void)
{
  measure ("sticker", 1200, 1200, 1, 1, 40);
  measure ("page", 5100, 6600, 4, 5, 4);
  return 0;
}
