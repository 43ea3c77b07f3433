/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The borders of real drawings: every demo design and, where it is installed, drawings of the
 * Debian package openclipart-svg (public domain), taken at random: SB_DRAWINGS of them, and from
 * SB_DRAWINGS_FOLDER instead of the package's own. Of each, by code that shares nothing with the
 * border's:
 *
 *   - every ring is closed, and no two curves meet (decided on the cubics themselves);
 *   - every opaque pixel grown by the border lies inside, but for 10 um; islands below the speck
 *     size may be missing (handbook 6.7). A pixel that is empty when the drawing is drawn smaller
 * is not counted: some strokes with cusps come out of cairo with parts that are there at some sizes
 *     only;
 *   - no inward bend is tighter than 0.95 of the nook radius (handbook 4.1 and 4.2). */
#include "suite.h"

#include <string.h>

#include "job/design.h"
#include "outline-check.h"
#include "simple-check.h"

#define USUAL_DRAWINGS 20
#define SIZE_MM 25.4
#define PIXELS 1500 /* of the longest side, in which opaque pixels are looked for */
#define LESS_MM 0.010
#define SAMPLES                                                                                    \
  15 /* rows of samples by which cairo finds a pixel covered: it may be off by one                 \
      */
#define CELL_MM 1.0

/* --- Opaque pixels --- */

typedef struct {
  int width, height;
  double mm_x, mm_y; /* of a pixel, which need not be square */
  guint8 *opaque;
  int *island; /* number, 0 for none */
  guint n_islands;
  gboolean *large; /* by island */
  int *first;      /* a pixel of each */
} Pixels;

static void
pixels_clear (Pixels *pixels)
{
  g_free (pixels->opaque);
  g_free (pixels->island);
  g_free (pixels->large);
  g_free (pixels->first);
}

/* Numbers an island of pixels that touch, corners too, and measures it. */
static void
number_island (Pixels *px, int start, GArray *stack)
{
  int number = (int)++px->n_islands, x0 = G_MAXINT, x1 = 0, y0 = G_MAXINT, y1 = 0;
  g_array_set_size (stack, 0);
  g_array_append_val (stack, start);
  px->island[start] = number;
  while (stack->len > 0) {
    int at = g_array_index (stack, int, stack->len - 1), x = at % px->width, y = at / px->width;
    g_array_set_size (stack, stack->len - 1);
    x0 = MIN (x0, x), x1 = MAX (x1, x), y0 = MIN (y0, y), y1 = MAX (y1, y);
    for (int dy = -1; dy <= 1; dy++)
      for (int dx = -1; dx <= 1; dx++) {
        int nx = x + dx, ny = y + dy, next = ny * px->width + nx;
        if (nx < 0 || ny < 0 || nx >= px->width || ny >= px->height || !px->opaque[next] ||
            px->island[next])
          continue;
        px->island[next] = number;
        g_array_append_val (stack, next);
      }
  }
  /* A speck may look smaller in opaque pixels than it is by one on each side. */
  double across = MAX ((x1 - x0 + 1) * px->mm_x, (y1 - y0 + 1) * px->mm_y);
  px->large = g_realloc_n (px->large, px->n_islands + 1, sizeof *px->large);
  px->first = g_realloc_n (px->first, px->n_islands + 1, sizeof *px->first);
  px->large[number] = across > sb_silhouette_params_default ().speck_mm;
  px->first[number] = start;
}

/* The drawing's alpha at a size, row by row. */
static guint8 *
draw_alpha (const SbPicture *picture, int width, int height)
{
  cairo_surface_t *surface = sb_picture_render (picture, width, height, NULL, NULL);
  ck_assert_ptr_nonnull (surface);
  cairo_surface_flush (surface);
  guint8 *alpha = g_malloc ((gsize)width * (gsize)height);
  for (int y = 0; y < height; y++) {
    const guint8 *row = cairo_image_surface_get_data (surface) +
                        (gsize)y * (gsize)cairo_image_surface_get_stride (surface);
    for (int x = 0; x < width; x++)
      alpha[y * width + x] = (guint8)(((const guint32 *)(const void *)row)[x] >> 24);
  }
  cairo_surface_destroy (surface);
  return alpha;
}

static Pixels
read_pixels (const SbPicture *picture, double width_mm, double height_mm)
{
  double k = PIXELS / MAX (width_mm, height_mm);
  int width = MAX (1, (int)(width_mm * k)), height = MAX (1, (int)(height_mm * k));
  int fewer_x = (width * 4 + 4) / 5, fewer_y = (height * 4 + 4) / 5;
  g_autofree guint8 *alpha = draw_alpha (picture, width, height);
  g_autofree guint8 *smaller = draw_alpha (picture, fewer_x, fewer_y);
  Pixels px = {.width = width,
               .height = height,
               .mm_x = width_mm / width,
               .mm_y = height_mm / height,
               .opaque = g_malloc ((gsize)width * (gsize)height),
               .island = g_new0 (int, (gsize)width *(gsize)height)};
  for (int i = 0; i < width * height; i++)
    px.opaque[i] =
        alpha[i] == 255 && smaller[(i / width * fewer_y + fewer_y / 2) / height * fewer_x +
                                   (i % width * fewer_x + fewer_x / 2) / width] > 0;
  g_autoptr (GArray) stack = g_array_new (FALSE, FALSE, sizeof (int));
  for (int i = 0; i < width * height; i++)
    if (px.opaque[i] && !px.island[i])
      number_island (&px, i, stack);
  return px;
}

/* --- What is asked of an outline --- */

typedef struct {
  char *name;
  const char *fault; /* NULL: none */
  double amount;
  SbPoint where;
} Verdict;

/* The corners of all large islands' pixels that have a neighbour which is not opaque, in cells. */
typedef struct {
  int columns, rows;
  GArray **cells;
} Grid;

static GArray *
cell_of (const Grid *grid, SbPoint p)
{
  int x = (int)floor (p.x / CELL_MM), y = (int)floor (p.y / CELL_MM);
  return x < 0 || y < 0 || x >= grid->columns || y >= grid->rows
             ? NULL
             : grid->cells[y * grid->columns + x];
}

static gboolean
is_rim (const Pixels *px, int x, int y)
{
  if (x == 0 || y == 0 || x == px->width - 1 || y == px->height - 1)
    return TRUE;
  const guint8 *at = px->opaque + y * px->width + x;
  return !at[-1] || !at[1] || !at[-px->width] || !at[px->width];
}

static Grid
sort_corners (const Pixels *px)
{
  Grid grid = {(int)(px->width * px->mm_x / CELL_MM) + 2,
               (int)(px->height * px->mm_y / CELL_MM) + 2, NULL};
  grid.cells = g_new (GArray *, grid.columns * grid.rows);
  for (int i = 0; i < grid.columns * grid.rows; i++)
    grid.cells[i] = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  for (int i = 0; i < px->width * px->height; i++) {
    int x = i % px->width, y = i / px->width;
    if (!px->opaque[i] || !px->large[px->island[i]] || !is_rim (px, x, y))
      continue;
    for (int corner = 0; corner < 4; corner++) {
      SbPoint p = {(x + corner % 2) * px->mm_x, (y + corner / 2) * px->mm_y};
      GArray *cell = cell_of (&grid, p);
      if (cell != NULL)
        g_array_append_val (cell, p);
    }
  }
  return grid;
}

/* The square of the least distance of `p` to a corner, as far as it is below `most`. */
static double
nearest_corner (const Grid *grid, SbPoint p, double most)
{
  double least = most * most;
  for (double dy = -4; dy <= 4; dy++)
    for (double dx = -4; dx <= 4; dx++) {
      GArray *cell = cell_of (grid, (SbPoint){p.x + dx * CELL_MM, p.y + dy * CELL_MM});
      for (guint i = 0; cell != NULL && i < cell->len; i++) {
        SbPoint q = g_array_index (cell, SbPoint, i);
        least = MIN (least, (q.x - p.x) * (q.x - p.x) + (q.y - p.y) * (q.y - p.y));
      }
    }
  return sqrt (least);
}

static void
check_inside (const SbOutline *outline, const Pixels *px, double border_mm, Verdict *verdict)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  sb_check_flatten (outline, 4, 0.05, points, ends);
  for (guint i = 1; i <= px->n_islands && verdict->fault == NULL; i++) {
    SbPoint p = {(px->first[i] % px->width + 0.5) * px->mm_x,
                 (px->first[i] / px->width + 0.5) * px->mm_y};
    if (px->large[i] && sb_check_depth (points, ends, p) < 0)
      *verdict = (Verdict){verdict->name, "an island is outside", px->mm_x, p};
  }
  Grid grid = sort_corners (px);
  double limit = LESS_MM + MAX (px->mm_x, px->mm_y) / SAMPLES;
  for (guint i = 0; i < points->len; i++) {
    SbPoint p = g_array_index (points, SbPoint, i);
    double less = border_mm - nearest_corner (&grid, p, border_mm);
    if (less > limit && (verdict->fault == NULL || less > verdict->amount))
      *verdict = (Verdict){verdict->name, "the border is thin by", less, p};
  }
  for (int i = 0; i < grid.columns * grid.rows; i++)
    g_array_unref (grid.cells[i]);
  g_free (grid.cells);
}

static void
check_rings (const SbOutline *outline, Verdict *verdict)
{
  for (guint r = 0; r < sb_outline_get_n_rings (outline); r++) {
    const SbRing *ring = sb_outline_get_ring (outline, r);
    SbPoint end = ring->curves[ring->n_curves - 1].end;
    if (end.x != ring->start.x || end.y != ring->start.y)
      *verdict = (Verdict){verdict->name, "a ring is open", 0, end};
  }
  if (sb_outline_get_n_rings (outline) == 0)
    *verdict = (Verdict){verdict->name, "there is no ring", 0, {0, 0}};
}

static void
check_outline (const SbOutline *outline, const SbBorderParams *border, const Pixels *px,
               Verdict *verdict)
{
  SbPoint where = {0, 0};
  check_rings (outline, verdict);
  if (verdict->fault != NULL)
    return;
  guint meetings = sb_check_meetings (outline, &where);
  if (meetings > 0) {
    *verdict = (Verdict){verdict->name, "curves meet", meetings, where};
    return;
  }
  double nook = sb_check_tightest_nook (outline, &where);
  if (nook < 0.95 * border->nook_mm) {
    *verdict = (Verdict){verdict->name, "a bend has the radius", nook, where};
    return;
  }
  check_inside (outline, px, border->width_mm, verdict);
}

/* FALSE when the picture cannot be read or has nothing opaque in it: no border is asked for. */
static gboolean
check_picture (const char *path, Verdict *verdict)
{
  g_autoptr (SbPicture) picture = sb_picture_load (path, NULL);
  if (picture == NULL)
    return FALSE;
  g_autoptr (SbDesign) design = sb_design_new (picture, path);
  double scale = SIZE_MM / MAX (design->width_mm, design->height_mm);
  if (scale * MIN (design->width_mm, design->height_mm) < SB_DESIGN_LEAST_MM)
    return FALSE;
  sb_design_set_size (design, scale * design->width_mm, scale * design->height_mm);
  if (!sb_design_prepare (design, NULL, NULL))
    return FALSE;
  Pixels px = read_pixels (design->picture, design->width_mm, design->height_mm);
  check_outline (sb_design_get_outline (design), &design->border, &px, verdict);
  pixels_clear (&px);
  return TRUE;
}

/* --- Which drawings --- */

static void
list_drawings (const char *folder, GPtrArray *paths)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL) {
    g_autofree char *path = g_build_filename (folder, name, NULL);
    if (g_file_test (path, G_FILE_TEST_IS_DIR))
      list_drawings (path, paths);
    else if (g_str_has_suffix (name, ".svg") || g_str_has_suffix (name, ".png") ||
             g_str_has_suffix (name, ".jpg"))
      g_ptr_array_add (paths, g_steal_pointer (&path));
  }
}

static int
compare_paths (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *)a, *(const char *const *)b);
}

static GPtrArray *
find_drawings (const char *folder)
{
  GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);
  list_drawings (folder, paths);
  g_ptr_array_sort (paths, compare_paths);
  return paths;
}

static guint n_checked, n_faulty;

static void
check_path (const char *path)
{
  Verdict verdict = {.name = g_path_get_basename (path)};
  if (!check_picture (path, &verdict))
    goto out;
  n_checked++;
  if (verdict.fault != NULL) {
    n_faulty++;
    g_printerr ("%s: %s %g at %.3f, %.3f mm\n", path, verdict.fault, verdict.amount,
                verdict.where.x, verdict.where.y);
  }
out:
  g_free (verdict.name);
}

START_TEST (demo_designs)
{
  g_autofree char *folder =
      g_build_filename (g_getenv ("SB_TEST_SOURCE_DIR"), "data", "demo", "art", NULL);
  g_autoptr (GPtrArray) paths = find_drawings (folder);
  ck_assert_uint_ge (paths->len, 20);
  n_checked = n_faulty = 0;
  for (guint i = 0; i < paths->len; i++)
    check_path (paths->pdata[i]);
  ck_assert_uint_eq (n_checked, paths->len);
  ck_assert_uint_eq (n_faulty, 0);
}
END_TEST

START_TEST (drawings_taken_at_random)
{
  const char *folder = g_getenv ("SB_DRAWINGS_FOLDER"), *wanted = g_getenv ("SB_DRAWINGS");
  g_autoptr (GPtrArray) paths =
      find_drawings (folder != NULL ? folder : "/usr/share/openclipart/svg");
  if (paths->len == 0)
    return;
  guint n = wanted != NULL ? (guint)atoi (wanted) : USUAL_DRAWINGS, tried = 0;
  GRand *random = g_rand_new_with_seed (20261125);
  n_checked = n_faulty = 0;
  for (; tried < 2 * n && n_checked < n; tried++)
    check_path (paths->pdata[g_rand_int_range (random, 0, (gint32)paths->len)]);
  g_rand_free (random);
  g_printerr ("%u drawings, %u of them faulty, %u not read\n", n_checked, n_faulty,
              tried - n_checked);
  ck_assert_uint_ge (n_checked, MIN (n, 1));
  ck_assert_uint_eq (n_faulty, 0);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("borders of drawings");
  TCase *tcase = tcase_create ("drawings");
  tcase_set_timeout (tcase, 3600);
  tcase_add_test (tcase, demo_designs);
  tcase_add_test (tcase, drawings_taken_at_random);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
