/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Random pictures through the border: noise, specks, lines, full and empty ones, at random
 * settings. Numbered by seed; "fuzz-border SEED N" runs N from that one. A build with the address
 * sanitizer runs every fifth. Checked for each: the border is nowhere thinner than asked by more
 * than 5 um, the outline does not cross itself, no inward bend is tighter than the nook, more
 * border holds all of less, the same picture gives the same outline bit for bit, from two threads
 * at once as well, and a turned picture the turned outline. Borders grown one after the other are
 * the border grown at once. */
#include "border/silhouette.h"
#include "drawing.h"
#include "outline-check.h"

#define SEEDS 1500
#ifdef __SANITIZE_ADDRESS__
#define EVERY 5 /* no divisor of what picks the checks by seed */
#else
#define EVERY 1
#endif
#define SECONDS 60
#define MOST_THIN_MM 0.005
#define MOST_TURNED_MM 0.009 /* one curve out by 5 um, the other one in by 4 */
#define FINE_UM 0.5          /* tolerance of the curves where two steps are held against one */
#define MOST_IN_TWO_MM                                                                             \
  0.004 /* three such curves, and a drawing in pixels of 21 um between them                        \
         */
#define DRAWN_MM (25.4 / 1200)

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

/* The least depth of the artwork's edge in the outline. No border at all is that edge itself, which
 * outposts lie outside of. */
static double
least_depth (const SbChain *chain, const SbOutline *outline, const SbBorderParams *params)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  sb_check_flatten (outline, 8, 0.1, points, ends);
  double least = G_MAXDOUBLE;
  guint stride = MAX (1, chain->n_points / 120);
  for (guint i = 0; i < chain->n_points; i += stride) {
    const SbChainRing *ring = &chain->rings[chain->ring_of[i]];
    gboolean is_edge = ring->n > 1 || params->width_mm + params->nook_mm > 0;
    if (is_edge && (params->keep_holes || !ring->hole))
      least = MIN (least, sb_check_depth (points, ends, chain->points[i]));
  }
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
  double depth = least_depth (silhouette->chain, outline, params);
  if (depth < params->width_mm - MOST_THIN_MM)
    g_error ("seed %u: the border is %.1f um too thin", seed, 1000 * (params->width_mm - depth));
  SbPoint where = {0, 0};
  if (sb_check_crossings (outline, &where) > 0)
    g_error ("seed %u: the outline crosses itself at %g, %g", seed, where.x, where.y);
  double nook = sb_check_tightest_nook (outline, &where);
  if (nook < 0.95 * params->nook_mm)
    g_error ("seed %u: a nook of %g mm at %g, %g", seed, nook, where.x, where.y);
}

/* The farthest that the edge of `inner` comes to lie outside `outer`, less `depth` of it, mm. */
static double
sticks_out (const SbOutline *inner, const SbOutline *outer, double depth)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) unused = g_array_new (FALSE, FALSE, sizeof (guint));
  sb_check_flatten (outer, 8, 0.1, points, ends);
  sb_check_flatten (inner, 2, 1, places, unused);
  double most = 0;
  guint stride = MAX (1, places->len / 150);
  for (guint i = 0; i < places->len; i += stride) {
    SbPoint p = g_array_index (places, SbPoint, i);
    most = MAX (most, depth - sb_check_depth (points, ends, p));
  }
  return most;
}

static SbSilhouette *
turned (const SbCoverage *from, double mm, const SbSilhouetteParams *how)
{
  SbCoverage *coverage = sb_coverage_new (from->height, from->width);
  for (int y = 0; y < from->height; y++)
    for (int x = 0; x < from->width; x++)
      sb_coverage_row (coverage, x)[from->height - 1 - y] = sb_coverage_row (from, y)[x];
  return sb_silhouette_from_coverage (coverage, from->height * mm, from->width * mm, how, NULL);
}

/* A quarter turn of the picture is one of the outline. */
static void
check_turned (guint seed, const SbCoverage *coverage, double mm, const SbSilhouetteParams *how,
              const SbBorderParams *params, const SbOutline *outline)
{
  g_autoptr (SbSilhouette) silhouette = turned (coverage, mm, how);
  g_autoptr (SbGrowth) growth = grow (silhouette, params);
  SbTransform back = {0, -1, 1, 0, 0, coverage->height * mm};
  g_autoptr (SbOutline) there = sb_outline_transform (sb_growth_get_outline (growth), back);
  double most = MAX (sticks_out (there, outline, 0), sticks_out (outline, there, 0));
  if (most > MOST_TURNED_MM)
    g_error ("seed %u: turned, the outline lies %.0f um elsewhere", seed, 1000 * most);
}

/* The outline as a picture, `pad` px larger on each side, the outer rings filled. */
static SbCoverage *
draw_outline (const SbOutline *outline, int side, int pad, double mm)
{
  SbDrawing *drawing = sb_drawing_new (side + 2 * pad, side + 2 * pad);
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  sb_check_flatten (outline, 24, 0.2, points, ends);
  for (guint i = 0; i < points->len; i++) {
    SbPoint *p = &g_array_index (points, SbPoint, i);
    *p = (SbPoint){p->x / mm + pad, p->y / mm + pad};
  }
  guint start = 0;
  for (guint r = 0; r < ends->len; r++) {
    guint end = g_array_index (ends, guint, r);
    sb_drawing_add (drawing, &g_array_index (points, SbPoint, start), end - start);
    start = end;
  }
  return sb_drawing_end (drawing);
}

/* Grown by half the border, drawn, and grown by the other half. */
static void
check_in_two (guint seed, SbSilhouette *silhouette, int side, double mm,
              const SbBorderParams *params)
{
  SbBorderParams half = *params, whole = *params;
  half.width_mm = params->width_mm / 2;
  half.nook_mm = whole.nook_mm = half.spike_mm = whole.spike_mm = 0;
  half.tolerance_um = whole.tolerance_um = FINE_UM;
  half.keep_holes = whole.keep_holes = FALSE;
  int pad = (int)(half.width_mm / DRAWN_MM) + 4, pixels = (int)(side * mm / DRAWN_MM) + 1;
  SbSilhouetteParams how = sb_silhouette_params_default ();
  g_autoptr (SbGrowth) first = grow (silhouette, &half), once = grow (silhouette, &whole);
  SbCoverage *drawn = draw_outline (sb_growth_get_outline (first), pixels, pad, DRAWN_MM);
  double mm_drawn = drawn->width * DRAWN_MM;
  g_autoptr (SbSilhouette) again =
      sb_silhouette_from_coverage (drawn, mm_drawn, mm_drawn, &how, NULL);
  g_autoptr (SbGrowth) second = grow (again, &half);
  SbTransform back = {1, 0, 0, 1, -pad * DRAWN_MM, -pad * DRAWN_MM};
  g_autoptr (SbOutline) twice = sb_outline_transform (sb_growth_get_outline (second), back);
  double more = sticks_out (twice, sb_growth_get_outline (once), 0),
         less = sticks_out (sb_growth_get_outline (once), twice, 0);
  if (MAX (more, less) > MOST_IN_TWO_MM)
    g_error ("seed %u: in two steps the border has %.1f um more, %.1f um less", seed, 1000 * more,
             1000 * less);
}

static void
check_one (guint seed)
{
  state = 0x9e3779b97f4a7c15u * (seed + 1);
  any (0, 1);
  int side = 16 + any_int (150);
  double mm = 25.4 / (any_int (2) ? 300 : 150);
  SbCoverage *coverage = draw_any (any_int (5), side);
  g_autoptr (SbCoverage) kept = sb_drawing_copy (coverage);
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
  if (seed % 8 == 1)
    check_turned (seed, kept, mm, &how, &params, outline);
  if (seed % 8 == 2 && params.width_mm > 1) /* or its round corners are too small to draw */
    check_in_two (seed, silhouette, side, mm, &params);
  if (seed % 4 == 0)
    check_same (silhouette, &params, outline);
  SbBorderParams more = params;
  more.width_mm += 0.5;
  g_autoptr (SbGrowth) larger = grow (silhouette, &more);
  double out = sticks_out (outline, sb_growth_get_outline (larger), 0);
  if (out > 0)
    g_error ("seed %u: %.1f um lie outside of more border", seed, 1000 * out);
}

int
main (int argc, char **argv)
{
  gint64 end = g_get_monotonic_time () + SECONDS * G_USEC_PER_SEC;
  guint n = 0;
  if (argc == 3) {
    guint seed = (guint)g_ascii_strtoull (argv[1], NULL, 10);
    for (; n < (guint)g_ascii_strtoull (argv[2], NULL, 10); n++)
      check_one (seed + n);
  } else {
    for (; n < SEEDS / EVERY && g_get_monotonic_time () < end; n++)
      check_one (n * EVERY);
  }
  g_print ("%u pictures\n", n);
  return 0;
}
