/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A Letter scan at 600 dpi with twelve paintings: how long it takes to clean and to split, and a
 * preview of it at a screen's size. Wanted: 3 s on two threads, and 50 ms for a
 * change of the tolerance. Prints the least of some
 * runs, because other work on the machine only ever adds. */
#include "make-scan.h"
#include "picture/cleanup.h"
#include "picture/split.h"

#define WIDTH 5100
#define HEIGHT 6600
#define PX_PER_MM (600 / 25.4)
#define RUNS 3

static const char *const drawings[12] = {"aubergine", "basil",   "bumblebee", "carrot",
                                         "clover",    "daisy",   "garlic",    "ladybird",
                                         "mushroom",  "pumpkin", "radish",    "tomato"};

static cairo_surface_t *
make_sheet (double scale)
{
  const SbScanParams params = {.px_per_mm = PX_PER_MM * scale,
                               .paper = {0.965, 0.935, 0.865},
                               .light = 0.2,
                               .grain = 2.0,
                               .dust = 300,
                               .hairs = 20,
                               .seed = 12};
  cairo_surface_t *truth =
      cairo_image_surface_create (CAIRO_FORMAT_ARGB32, (int)(WIDTH * scale), (int)(HEIGHT * scale));
  for (int i = 0; i < 12; i++)
    sb_scan_draw (truth, drawings[i], (250 + i % 3 * 1600) * scale, (250 + i / 3 * 1580) * scale,
                  1200 * scale);
  SbScan scan = sb_scan_new (truth, &params);
  cairo_surface_t *sheet = cairo_surface_reference (scan.scan);
  sb_scan_clear (&scan);
  return sheet;
}

/* The least seconds of a clean-up; the last result is handed out. */
static double
time_cleanup (cairo_surface_t *sheet, double px_per_mm, cairo_surface_t **result)
{
  SbCleanup recipe = sb_cleanup_default ();
  double least = G_MAXDOUBLE;

  *result = NULL;
  for (int i = 0; i < RUNS; i++) {
    g_clear_pointer (result, cairo_surface_destroy);
    recipe.tolerance = 8 + i;
    gint64 start = g_get_monotonic_time ();
    g_autoptr (SbCleanResult) cleaned = sb_scan_clean (&recipe, sheet, px_per_mm);
    *result = cairo_surface_reference (cleaned->surface);
    least = MIN (least, (double)(g_get_monotonic_time () - start) / G_USEC_PER_SEC);
  }
  return least;
}

/* The least milliseconds that a change of the tolerance takes, once the first steps are kept. */
static double
time_change (cairo_surface_t *sheet, double px_per_mm)
{
  SbCleanup recipe = sb_cleanup_default ();
  g_autoptr (SbCleaner) cleaner = sb_cleaner_new (sheet, TRUE);
  double least = G_MAXDOUBLE;

  for (int i = 0; i < 12; i++) {
    recipe.tolerance = 6 + i;
    gint64 start = g_get_monotonic_time ();
    g_autoptr (SbCleanResult) result =
        sb_cleaner_run (cleaner, &recipe, cairo_image_surface_get_width (sheet),
                        cairo_image_surface_get_height (sheet), px_per_mm, NULL, NULL, NULL, NULL);
    if (i > 0)
      least = MIN (least, (double)(g_get_monotonic_time () - start) / 1000);
  }
  return least;
}

int
main (void)
{
  const SbSplitParams params = sb_split_params_default ();
  cairo_surface_t *sheet = make_sheet (1), *result;

  g_print ("cleanup-letter-600dpi %.3f s\n", time_cleanup (sheet, PX_PER_MM, &result));
  gint64 start = g_get_monotonic_time ();
  g_autoptr (SbSplit) split = sb_split_new (result, PX_PER_MM, &params, NULL, NULL);
  g_print ("split-letter-600dpi %.3f s\n",
           (double)(g_get_monotonic_time () - start) / G_USEC_PER_SEC);
  g_print ("split-parts %u count\n", sb_split_get_n_parts (split));
  cairo_surface_destroy (sheet);
  cairo_surface_destroy (result);

  sheet = make_sheet (0.15);
  g_print ("cleanup-preview-change %.1f ms\n", time_change (sheet, PX_PER_MM * 0.15));
  cairo_surface_destroy (sheet);
  return 0;
}
