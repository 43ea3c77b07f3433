/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Several threads grow borders of one silhouette at once. Built with the thread sanitizer, which
 * ends the program at the first race; the same growths one after the other must be the same. The
 * artwork has points enough for its triangulation to take two threads as well. */
#include "border/silhouette.h"

#define SIDE 480
#define THREADS 4
#define ROUNDS 2

typedef struct {
  SbSilhouette *silhouette;
  SbBorderParams params;
  char *outline;
} Work;

static SbSilhouette *
draw (void)
{
  guint64 state = 88172645463325252u;
  SbCoverage *coverage = sb_coverage_new (SIDE, SIDE);
  for (int y = 20; y < SIDE - 20; y++)
    for (int x = 20; x < SIDE - 20; x++) {
      state ^= state << 13;
      state ^= state >> 7;
      state ^= state << 17;
      gboolean wall = (x / 12) % 2 == 0 || (y / 12) % 2 == 0;
      sb_coverage_row (coverage, y)[x] = (guint8)(wall ? 128 + state % 128 : state % 100);
    }
  SbSilhouetteParams how = sb_silhouette_params_default ();
  return sb_silhouette_from_coverage (coverage, 60, 60, &how, NULL);
}

static gpointer
grow (gpointer data)
{
  Work *work = data;
  SbGrowth *growth = sb_border_grow (work->silhouette, &work->params, NULL, NULL);
  sb_growth_get_artwork (growth);
  g_free (work->outline);
  work->outline = sb_outline_to_svg (sb_growth_get_outline (growth));
  sb_growth_unref (growth);
  return NULL;
}

int
main (void)
{
  g_autofree char *outlines[THREADS] = {NULL};
  for (int round = 0; round < ROUNDS; round++) {
    SbSilhouette *silhouette = draw ();
    g_assert_nonnull (silhouette);
    g_assert_cmpuint (silhouette->chain->n_points, >, 30000);
    Work work[THREADS];
    GThread *threads[THREADS];
    for (int i = 0; i < THREADS; i++) {
      work[i] = (Work){silhouette, sb_border_params_default (), NULL};
      work[i].params.width_mm = 1 + i / 2;
      work[i].params.keep_holes = i % 2;
      threads[i] = g_thread_new ("grow", grow, &work[i]);
    }
    for (int i = 0; i < THREADS; i++)
      g_thread_join (threads[i]);
    for (int i = 0; i < THREADS; i++) {
      g_autofree char *together = g_steal_pointer (&work[i].outline);
      if (round == 0)
        grow (&work[i]);
      g_assert_cmpstr (together, ==, round == 0 ? work[i].outline : outlines[i]);
      if (round == 0)
        outlines[i] = g_steal_pointer (&work[i].outline);
    }
    sb_silhouette_unref (silhouette);
  }
  for (int i = 1; i < THREADS; i++)
    g_free (outlines[i]);
  return 0;
}
