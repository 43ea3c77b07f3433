/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Clean-up against a truth made beforehand: all demo drawings on cream paper, under light that
 * falls off by 30 %, with grain, dust and hairs, cleaned with the settings that a picture starts
 * with. Beside it run a plain white key and, where it is installed, ImageMagick's flood fill: both
 * see the same scan. Paper that artwork encloses stays by rule until it is clicked away, so it
 * counts for nobody, nor against. */
#include "suite.h"

#include <glib/gstdio.h>
#include <lcms2.h>

#include "make-scan.h"
#include "picture/cleanup.h"
#include "picture/lab.h"
#include "picture/mask.h"
#include "picture/split.h"

#define SIDE 560 /* px: 23.7 mm at 600 dpi */
#define PX_PER_MM (600 / 25.4)

static const char *const drawings[] = {
    "aubergine", "basil",  "bean",     "beetroot",    "bumblebee", "carrot",      "clover",
    "daisy",     "garlic", "ladybird", "mushroom",    "pea-pod",   "pumpkin",     "radish",
    "raindrop",  "rue",    "seedling", "seed-packet", "sweetcorn", "swallowtail", "tomato"};
/* A run in a hurry looks at every so manieth of them; SB_TEST_ALL_DRAWINGS at all. */
#define HURRY 3

/* Standard deviation in 8-bit steps. */
#define GRAIN 2.0

typedef struct {
  double overlap;              /* intersection over union at half coverage */
  double coverage;             /* mean absolute error in the edge band */
  double colour;               /* median CIEDE2000 inside */
  double rim_black, rim_white; /* mean CIEDE2000 in the edge band, laid on both */
  double dust;                 /* part of dust and hairs that is gone */
  double dots;                 /* part of the artwork's own dots that is lost */
} Score;

static void
straight (guint32 p, double rgb[3])
{
  guint32 a = p >> 24;
  for (int c = 0; c < 3; c++)
    rgb[c] = a == 0 ? 0 : MIN ((p >> (16 - 8 * c) & 255) * 255.0 / a, 255);
}

static double
difference (const double one[3], const double other[3])
{
  SbLab a =
      sb_lab_from_rgb ((guint8)(one[0] + 0.5), (guint8)(one[1] + 0.5), (guint8)(one[2] + 0.5));
  SbLab b = sb_lab_from_rgb ((guint8)(other[0] + 0.5), (guint8)(other[1] + 0.5),
                             (guint8)(other[2] + 0.5));
  cmsCIELab x = {a.l, a.a, a.b}, y = {b.l, b.a, b.b};
  return cmsCIE2000DeltaE (&x, &y, 1, 1, 1);
}

static double
difference_on (guint32 one, guint32 other, double ground)
{
  double a[3], b[3];
  for (int c = 0; c < 3; c++) {
    a[c] = (one >> (16 - 8 * c) & 255) + ground * (255 - (one >> 24)) / 255.0;
    b[c] = (other >> (16 - 8 * c) & 255) + ground * (255 - (other >> 24)) / 255.0;
  }
  return difference (a, b);
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

/* The least and most coverage around a pixel. */
static void
coverage_around (cairo_surface_t *surface, int x, int y, int reach, guint *least, guint *most)
{
  *least = 255;
  *most = 0;
  for (int j = MAX (y - reach, 0); j <= MIN (y + reach, SIDE - 1); j++)
    for (int i = MAX (x - reach, 0); i <= MIN (x + reach, SIDE - 1); i++) {
      guint a = sb_scan_row (surface, j)[i] >> 24;
      *least = MIN (*least, a);
      *most = MAX (*most, a);
    }
}

static double
mean_coverage (cairo_surface_t *surface, const SbScanSpeck *box)
{
  double sum = 0;
  for (int y = box->y0; y < box->y1; y++)
    for (int x = box->x0; x < box->x1; x++)
      sum += sb_scan_row (surface, y)[x] >> 24;
  return sum / 255 / (box->x1 - box->x0) / (box->y1 - box->y0);
}

static void
score_specks (const SbScan *scan, cairo_surface_t *result, Score *score)
{
  int gone = 0, lost = 0;
  for (guint i = 0; i < scan->dust->len; i++)
    gone += mean_coverage (result, &g_array_index (scan->dust, SbScanSpeck, i)) < 0.01;
  for (guint i = 0; i < scan->dots->len; i++) {
    const SbScanSpeck *box = &g_array_index (scan->dots, SbScanSpeck, i);
    lost += mean_coverage (result, box) < 0.9 * mean_coverage (scan->truth, box);
  }
  score->dust = scan->dust->len > 0 ? (double)gone / scan->dust->len : 1;
  score->dots = scan->dots->len > 0 ? (double)lost / scan->dots->len : 0;
}

/* TRUE when a pixel of the plane within `reach` has the value. */
static gboolean
has_around (const guint8 *plane, int x, int y, int reach, guint8 value)
{
  for (int j = MAX (y - reach, 0); j <= MIN (y + reach, SIDE - 1); j++)
    for (int i = MAX (x - reach, 0); i <= MIN (x + reach, SIDE - 1); i++)
      if (plane[j * SIDE + i] == value)
        return TRUE;
  return FALSE;
}

/* Marks what is clear in the truth, but hangs together with no side of it by more than 5 px (0.2
 * mm). */
static guint8 *
find_enclosed (cairo_surface_t *truth)
{
  g_autofree guint8 *clear = g_malloc (SIDE * SIDE), *open = g_malloc (SIDE * SIDE);
  guint8 *enclosed = g_malloc0 (SIDE * SIDE);
  const SbMask mask = {SIDE, SIDE, open};

  for (int i = 0; i < SIDE * SIDE; i++)
    clear[i] = sb_scan_row (truth, i / SIDE)[i % SIDE] == 0;
  for (int i = 0; i < SIDE * SIDE; i++)
    open[i] =
        has_around (clear, i % SIDE, i / SIDE, 2, FALSE) ? SB_MASK_ARTWORK : SB_MASK_LIKE_PAPER;
  ck_assert (sb_mask_flood (&mask, NULL, NULL));
  for (int i = 0; i < SIDE * SIDE; i++)
    enclosed[i] = clear[i] && !has_around (open, i % SIDE, i / SIDE, 3, SB_MASK_PAPER);
  return enclosed;
}

static Score
score_result (const SbScan *scan, const guint8 *enclosed, cairo_surface_t *result)
{
  Score score = {0};
  double both = 0, either = 0, band = 0;
  g_autoptr (GArray) inside = g_array_new (FALSE, FALSE, sizeof (double));

  cairo_surface_flush (result);
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++) {
      guint32 want = sb_scan_row (scan->truth, y)[x], got = sb_scan_row (result, y)[x];
      guint least, most;
      if (has_around (enclosed, x, y, 1, TRUE))
        continue;
      both += want >> 24 >= 128 && got >> 24 >= 128;
      either += want >> 24 >= 128 || got >> 24 >= 128;
      coverage_around (scan->truth, x, y, 1, &least, &most);
      if (least < 255 && most > 0) {
        band++;
        score.coverage += fabs ((double)(want >> 24) - (got >> 24)) / 255;
        score.rim_black += difference_on (want, got, 0);
        score.rim_white += difference_on (want, got, 255);
        continue;
      }
      if (least == 255 && (x + 3 * y) % 8 == 0) { /* a median needs no more */
        double a[3], b[3];
        straight (want, a);
        straight (got, b);
        double d = difference (a, b);
        g_array_append_val (inside, d);
      }
    }
  g_array_sort (inside, compare_doubles);
  score.overlap = both / either;
  score.coverage /= band;
  score.rim_black /= band;
  score.rim_white /= band;
  score.colour = g_array_index (inside, double, inside->len / 2);
  score_specks (scan, result, &score);
  return score;
}

static SbScan
make_scan (const char *drawing, guint64 seed)
{
  const SbScanParams params = {.px_per_mm = PX_PER_MM,
                               .paper = {0.965, 0.935, 0.865},
                               .light = 0.3,
                               .grain = GRAIN,
                               .dust = 35,
                               .hairs = 4,
                               .dots = 6,
                               .seed = seed};
  cairo_surface_t *truth = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, SIDE, SIDE);
  sb_scan_draw (truth, drawing, SIDE * 0.16, SIDE * 0.16, SIDE * 0.68);
  return sb_scan_new (truth, &params);
}

static cairo_surface_t *
white_key (cairo_surface_t *scan)
{
  cairo_surface_t *result = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, SIDE, SIDE);
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++) {
      guint32 p = sb_scan_row (scan, y)[x];
      gboolean white = (p & 255) > 200 && (p >> 8 & 255) > 200 && (p >> 16 & 255) > 200;
      sb_scan_row (result, y)[x] = white ? 0 : p;
    }
  cairo_surface_mark_dirty (result);
  return result;
}

/* NULL when it is not installed. */
static cairo_surface_t *
flood_by_imagemagick (cairo_surface_t *scan)
{
  g_autofree char *program = g_find_program_in_path ("convert");
  if (program == NULL)
    return NULL;
  g_autofree char *dir = g_dir_make_tmp ("sb-cleanup-XXXXXX", NULL);
  g_autofree char *in = g_build_filename (dir, "in.png", NULL);
  g_autofree char *out = g_build_filename (dir, "out.png", NULL);
  const char *argv[] = {program, in,      "-alpha", "set",   "-fuzz",
                        "12%",   "-fill", "none",   "-draw", "color 0,0 floodfill",
                        out,     NULL};
  cairo_surface_t *result = NULL;
  int status;

  cairo_surface_write_to_png (scan, in);
  if (g_spawn_sync (NULL, (char **)argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, &status,
                    NULL)) {
    g_autoptr (SbPicture) picture = sb_picture_load (out, NULL);
    if (picture != NULL)
      result = sb_picture_decode (picture, NULL, NULL);
  }
  g_unlink (in);
  g_unlink (out);
  g_rmdir (dir);
  return result;
}

static void
print_score (const char *drawing, const char *way, const Score *s)
{
  g_print ("%-10s %-12s overlap %.4f coverage %.3f colour %.2f rim %.2f/%.2f dust %.0f%% dots lost "
           "%.0f%%\n",
           drawing, way, s->overlap, s->coverage, s->colour, s->rim_black, s->rim_white,
           s->dust * 100, s->dots * 100);
}

static void
assert_not_behind (const Score *ours, const Score *theirs, const char *way)
{
  ck_assert_msg (ours->overlap >= theirs->overlap && ours->coverage <= theirs->coverage &&
                     ours->colour <= theirs->colour && ours->rim_black <= theirs->rim_black &&
                     ours->rim_white <= theirs->rim_white && ours->dust >= theirs->dust &&
                     ours->dots <= theirs->dots,
                 "%s is ahead somewhere", way);
}

static void
keep_pictures (const char *drawing, const SbScan *scan, cairo_surface_t *result)
{
  const char *folder = g_getenv ("SB_TEST_KEEP");
  if (folder == NULL)
    return;
  g_autofree char *a = g_strdup_printf ("%s/%s-scan.png", folder, drawing);
  g_autofree char *b = g_strdup_printf ("%s/%s-ours.png", folder, drawing);
  cairo_surface_write_to_png (scan->scan, a);
  cairo_surface_write_to_png (result, b);
}

static Score
judge (const char *drawing, guint64 seed)
{
  SbScan scan = make_scan (drawing, seed);
  g_autofree guint8 *enclosed = find_enclosed (scan.truth);
  const SbCleanup recipe = sb_cleanup_default ();
  g_autoptr (SbCleanResult) result = sb_scan_clean (&recipe, scan.scan, PX_PER_MM);
  cairo_surface_t *keyed = white_key (scan.scan);
  cairo_surface_t *flooded = flood_by_imagemagick (scan.scan);
  Score ours = score_result (&scan, enclosed, result->surface);
  Score key = score_result (&scan, enclosed, keyed);

  print_score (drawing, "ours", &ours);
  print_score (drawing, "white key", &key);
  keep_pictures (drawing, &scan, result->surface);
  ck_assert_double_ge (ours.overlap, 0.98);
  ck_assert_double_le (ours.coverage, 0.05);
  ck_assert_double_le (ours.colour, 1.5);
  ck_assert_double_le (ours.rim_black, 3);
  ck_assert_double_le (ours.rim_white, 3);
  assert_not_behind (&ours, &key, "a white key");
  if (flooded != NULL) {
    Score flood = score_result (&scan, enclosed, flooded);
    print_score (drawing, "flood fill", &flood);
    assert_not_behind (&ours, &flood, "a flood fill");
    cairo_surface_destroy (flooded);
  }
  cairo_surface_destroy (keyed);
  sb_scan_clear (&scan);
  return ours;
}

START_TEST (test_truth)
{
  gsize every = g_getenv ("SB_TEST_ALL_DRAWINGS") != NULL ? 1 : HURRY;
  double dust = 0, dots = 0, n = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (drawings); i += every) {
    Score ours = judge (drawings[i], i + 1);
    dust += ours.dust;
    dots += ours.dots;
    n++;
  }
  g_print ("dust gone %.1f %%, dots lost %.1f %%\n", dust / n * 100, dots / n * 100);
  ck_assert_double_ge (dust / n, 0.95);
  ck_assert_double_le (dots / n, 0.01);
}
END_TEST

/* The box of what is half covered and more, as the border sees it. */
static SbSplitPart
solid_box (cairo_surface_t *surface, SbSplitPart part)
{
  SbSplitPart box = {part.x1, part.y1, part.x0, part.y0};
  for (int y = part.y0; y < part.y1; y++)
    for (int x = part.x0; x < part.x1; x++)
      if (sb_scan_row (surface, y)[x] >> 24 >= 128) {
        box = (SbSplitPart){MIN (box.x0, x), MIN (box.y0, y), MAX (box.x1, x + 1),
                            MAX (box.y1, y + 1)};
      }
  return box;
}

/* Twelve drawings on one sheet at 300 dpi: as many designs, each as large as the truth to 0.1 mm
 * (a pixel is 0.085). Without dust: a grain that touches a drawing would be measured with it. */
START_TEST (test_twelve_paintings)
{
  const double px_per_mm = 300 / 25.4;
  const SbScanParams scan_params = {.px_per_mm = px_per_mm,
                                    .paper = {0.965, 0.935, 0.865},
                                    .light = 0.3,
                                    .grain = GRAIN,
                                    .seed = 12};
  const SbSplitParams params = sb_split_params_default ();
  const SbCleanup recipe = sb_cleanup_default ();
  cairo_surface_t *truth = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 1500, 1900);
  for (int i = 0; i < 12; i++)
    sb_scan_draw (truth, drawings[i], 60 + i % 3 * 480, 60 + i / 3 * 460, 300 + i * 5);
  g_autoptr (SbSplit) want = sb_split_new (truth, px_per_mm, &params, NULL, NULL);
  SbScan scan = sb_scan_new (truth, &scan_params);
  g_autoptr (SbCleanResult) result = sb_scan_clean (&recipe, scan.scan, px_per_mm);
  g_autoptr (SbSplit) got = sb_split_new (result->surface, px_per_mm, &params, NULL, NULL);

  ck_assert_uint_eq (sb_split_get_n_parts (want), 12);
  ck_assert_uint_eq (sb_split_get_n_parts (got), 12);
  for (guint i = 0; i < 12; i++) {
    SbSplitPart a = solid_box (truth, sb_split_get_part (want, i));
    SbSplitPart b = solid_box (result->surface, sb_split_get_part (got, i));
    ck_assert_int_le (abs ((a.x1 - a.x0) - (b.x1 - b.x0)), 1);
    ck_assert_int_le (abs ((a.y1 - a.y0) - (b.y1 - b.y0)), 1);
    ck_assert_int_le (abs (a.x0 - b.x0), 1);
    ck_assert_int_le (abs (a.y0 - b.y0), 1);
  }
  sb_scan_clear (&scan);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("cleanup-truth");
  TCase *tcase = tcase_create ("cleanup-truth");

  tcase_set_timeout (tcase, 250);
  tcase_add_test (tcase, test_truth);
  tcase_add_test (tcase, test_twelve_paintings);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
