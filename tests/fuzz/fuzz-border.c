/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Random pictures through the border: noise, specks, lines, full and empty ones, at random
 * settings. Numbered by seed; "fuzz-border SEED" runs one again. Checked for each: the border is
 * nowhere thinner than asked by more than 5 um, the outline does not cross itself, no inward bend
 * is tighter than the nook, more border holds all of less, and the same picture gives the same
 * outline bit for bit, from two threads at once as well. */
#include "border/silhouette.h"
#include "drawing.h"
#include "outline-check.h"

#define SEEDS 1500
#define SECONDS 60
#define MOST_THIN_MM 0.005

static guint64 state;

static double
any (double least, double most)
{
  state ^= state << 13;
  state ^= state >> 7;
  state ^= state << 17;
  return least + (most - least) * (double)(state >> 11) / 9007199254740992.0;
}

static int
any_int (int n)
{
  return MIN (n - 1, (int)any (0, n));
}

static void
draw_line (SbDrawing *drawing, SbPoint a, SbPoint b, double width)
{
  double l = hypot (b.x - a.x, b.y - a.y);
  SbPoint n = {(b.y - a.y) / l * width / 2, (a.x - b.x) / l * width / 2};
  SbPoint p[4] = {{a.x + n.x, a.y + n.y},
                  {b.x + n.x, b.y + n.y},
                  {b.x - n.x, b.y - n.y},
                  {a.x - n.x, a.y - n.y}};
  sb_drawing_add (drawing, p, 4);
}

static SbCoverage *
draw_noise (int side)
{
  SbCoverage *coverage = sb_coverage_new (side, side);
  double dense = any (0, 1);
  for (int y = any_int (side); y < side; y++)
    for (int x = any_int (side / 2); x < side; x++)
      if (any (0, 1) < dense)
        sb_coverage_row (coverage, y)[x] = (guint8)any_int (256);
  return coverage;
}

static SbCoverage *
draw_any (int kind, int side)
{
  SbPoint p[128];
  if (kind == 0)
    return draw_noise (side);
  SbDrawing *drawing = sb_drawing_new (side, side);
  int n = any_int (12);
  for (int k = 0; k < n; k++) {
    SbPoint a = {any (0, side), any (0, side)}, b = {any (0, side), any (0, side)};
    if (kind == 1)
      draw_line (drawing, a, b, any (0.3, 10));
    else if (kind == 2)
      sb_drawing_add (
          drawing, p,
          sb_drawing_regular (p, (guint)(3 + any_int (60)), a, any (0.5, side * 0.2), any (0, 6)));
    else
      sb_drawing_add (drawing, p,
                      sb_drawing_star (p, (guint)(3 + any_int (9)), a, any (side * 0.1, side * 0.3),
                                       any (1, side * 0.1), any (0, 6)));
  }
  if (kind == 4)
    sb_drawing_add (drawing, (SbPoint[]){{0, 0}, {side, 0}, {side, side}, {0, side}}, 4);
  return sb_drawing_end (drawing);
}

/* The least depth of the artwork's edge in the outline. */
static double
least_depth (const SbChain *chain, const SbOutline *outline, gboolean holes)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  sb_check_flatten (outline, 8, 0.1, points, ends);
  double least = G_MAXDOUBLE;
  guint stride = MAX (1, chain->n_points / 120);
  for (guint i = 0; i < chain->n_points; i += stride)
    if (holes || !chain->rings[chain->ring_of[i]].hole)
      least = MIN (least, sb_check_depth (points, ends, chain->points[i]));
  return least;
}

typedef struct {
  SbSilhouette *silhouette;
  SbBorderParams params;
  SbGrowth *growth;
} Work;

static gpointer
grow_in_thread (gpointer data)
{
  Work *work = data;
  work->growth = sb_border_grow (work->silhouette, &work->params, NULL, NULL);
  return NULL;
}

static SbGrowth *
grow (SbSilhouette *silhouette, const SbBorderParams *params)
{
  Work work = {silhouette, *params, NULL};
  grow_in_thread (&work);
  g_assert_nonnull (work.growth);
  return work.growth;
}

static void
check_same (SbSilhouette *silhouette, const SbBorderParams *params, const SbOutline *outline)
{
  Work work[2] = {{silhouette, *params, NULL}, {silhouette, *params, NULL}};
  GThread *threads[2];
  g_autofree char *here = sb_outline_to_svg (outline);
  for (int i = 0; i < 2; i++)
    threads[i] = g_thread_new ("grow", grow_in_thread, &work[i]);
  for (int i = 0; i < 2; i++) {
    g_thread_join (threads[i]);
    g_autofree char *there = sb_outline_to_svg (sb_growth_get_outline (work[i].growth));
    g_assert_cmpstr (here, ==, there);
    sb_growth_unref (work[i].growth);
  }
}

/* What every outline must be, whatever the picture. */
static void
check_outline (guint seed, const SbSilhouette *silhouette, const SbBorderParams *params,
               const SbOutline *outline)
{
  double depth = least_depth (silhouette->chain, outline, params->keep_holes);
  if (depth < params->width_mm - MOST_THIN_MM)
    g_error ("seed %u: the border is %.1f um too thin", seed, 1000 * (params->width_mm - depth));
  SbPoint where = {0, 0};
  if (sb_check_crossings (outline, &where) > 0)
    g_error ("seed %u: the outline crosses itself at %g, %g", seed, where.x, where.y);
  double nook = sb_check_tightest_nook (outline, &where);
  if (nook < 0.95 * params->nook_mm)
    g_error ("seed %u: a nook of %g mm at %g, %g", seed, nook, where.x, where.y);
}

static void
check_one (guint seed)
{
  state = 0x9e3779b97f4a7c15u * (seed + 1);
  any (0, 1);
  int side = 16 + any_int (150);
  double mm = 25.4 / (any_int (2) ? 300 : 150);
  SbCoverage *coverage = draw_any (any_int (5), side);
  SbSilhouetteParams how = sb_silhouette_params_default ();
  how.threshold = any (0.02, 0.98);
  g_autoptr (SbSilhouette) silhouette =
      sb_silhouette_from_coverage (coverage, side * mm, side * mm, &how, NULL);
  if (silhouette == NULL) /* nothing to see */
    return;
  SbBorderParams params = sb_border_params_default ();
  params.width_mm = any_int (4) ? any (0.5, 6) : any_int (2) ? any (0, 0.5) : 0;
  params.nook_mm = any_int (4) ? any (0, 6) : 0;
  params.spike_mm = any_int (2) ? any (0, 4) : 0;
  params.keep_holes = any_int (4) == 0;
  g_autoptr (SbGrowth) growth = grow (silhouette, &params);
  SbOutline *outline = sb_growth_get_outline (growth);
  check_outline (seed, silhouette, &params, outline);
  if (!params.keep_holes && sb_outline_get_n_rings (outline) != sb_growth_get_n_islands (growth))
    g_error ("seed %u: a hole is left", seed);
  if (seed % 4 == 0)
    check_same (silhouette, &params, outline);
  SbBorderParams more = params;
  more.width_mm += 0.5;
  g_autoptr (SbGrowth) larger = grow (silhouette, &more);
  if (sb_outline_get_area_mm2 (sb_growth_get_outline (larger)) <
      sb_outline_get_area_mm2 (outline) - 1e-3)
    g_error ("seed %u: more border has less area", seed);
}

int
main (int argc, char **argv)
{
  gint64 end = g_get_monotonic_time () + SECONDS * G_USEC_PER_SEC;
  guint seed = 0;
  if (argc > 1) {
    check_one ((guint)g_ascii_strtoull (argv[1], NULL, 10));
    return 0;
  }
  for (; seed < SEEDS && g_get_monotonic_time () < end; seed++)
    check_one (seed);
  g_print ("%u pictures\n", seed);
  return 0;
}
