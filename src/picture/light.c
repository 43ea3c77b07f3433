/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/light.h"

#include <math.h>
#include <string.h>

#include "picture/bands.h"
#include "picture/lab.h"
#include "picture/srgb.h"

#define CELLS_ACROSS 48 /* along the shorter side */
#define LEAST_CELL 8    /* px */
#define MOST_CELL 128
#define SAMPLES_ACROSS 16 /* of a cell, each way */
/* Neighbouring cells of one paper differ by less than this, in CIE Lab. */
#define CELL_STEP 4.0
/* The least part of the picture's edge that must be paper. */
#define LEAST_SHARE 0.1
/* What nobody picked is only taken for paper when it is as light and as pale as paper may be, kraft
 * and lamplight included: else it is the sky, a wall or a table behind whatever fills the photo. */
#define LEAST_LIGHTNESS 58
#define MOST_CHROMA 35
#define TERMS SB_LIGHT_TERMS
#define FIT_ROUNDS 4

typedef struct {
  guint8 median[3];
  SbLab lab;
  double spread; /* between the quartiles of green */
  int group;     /* 0: not paper-like; else the number of its connected group */
} Cell;

typedef struct {
  int columns, rows, side; /* side in px */
  int width, height;
  Cell *cells;
} Grid;

static void
grid_clear (Grid *grid)
{
  g_free (grid->cells);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Grid, grid_clear)

static int
percentile (const guint16 *bins, int n, double share)
{
  int want = (int)(n * share), sum = 0;

  for (int v = 0; v < 256; v++) {
    sum += bins[v];
    if (sum > want)
      return v;
  }
  return 255;
}

static void
measure_cell (cairo_surface_t *surface, const Grid *grid, int column, int row, Cell *cell)
{
  guint16 bins[3][256];
  int x0 = column * grid->side, x1 = MIN (x0 + grid->side, grid->width);
  int y0 = row * grid->side, y1 = MIN (y0 + grid->side, grid->height);
  int step = MAX (grid->side / SAMPLES_ACROSS, 1);
  int n = 0;
  const guint8 *data = cairo_image_surface_get_data (surface);
  gsize stride = (gsize)cairo_image_surface_get_stride (surface);

  memset (bins, 0, sizeof bins);
  for (int y = y0; y < y1; y += step)
    for (int x = x0; x < x1; x += step, n++) {
      guint32 p;
      memcpy (&p, data + (gsize)y * stride + 4 * (gsize)x, 4);
      guint32 white = 255 - (p >> 24);
      for (int k = 0; k < 3; k++)
        bins[k][MIN ((p >> (16 - 8 * k) & 0xff) + white, 255)]++;
    }
  for (int c = 0; c < 3; c++)
    cell->median[c] = (guint8)percentile (bins[c], n, 0.5);
  cell->lab = sb_lab_from_rgb (cell->median[0], cell->median[1], cell->median[2]);
  cell->spread = percentile (bins[1], n, 0.75) - percentile (bins[1], n, 0.25);
  cell->group = 0;
}

static Grid
grid_new (cairo_surface_t *surface)
{
  Grid grid = {.width = cairo_image_surface_get_width (surface),
               .height = cairo_image_surface_get_height (surface)};

  grid.side = CLAMP (MIN (grid.width, grid.height) / CELLS_ACROSS, LEAST_CELL, MOST_CELL);
  /* What is left over at the far edges belongs to the last cells. */
  grid.columns = MAX (grid.width / grid.side, 1);
  grid.rows = MAX (grid.height / grid.side, 1);
  grid.cells = g_new0 (Cell, (gsize)grid.columns * (gsize)grid.rows);
  for (int r = 0; r < grid.rows; r++)
    for (int c = 0; c < grid.columns; c++)
      measure_cell (surface, &grid, c, r, &grid.cells[r * grid.columns + c]);
  return grid;
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

/* The spread that flat paper with this picture's grain has: that of the quietest cells, doubled. */
static double
quiet_spread (const Grid *grid)
{
  int n = grid->columns * grid->rows;
  g_autofree double *spreads = g_new (double, n);

  for (int i = 0; i < n; i++)
    spreads[i] = grid->cells[i].spread;
  qsort (spreads, (gsize)n, sizeof *spreads, compare_doubles);
  return spreads[n / 10] * 2 + 2;
}

static void
spread_group (const Grid *grid, int from, int group, double quiet)
{
  g_autoptr (GArray) todo = g_array_new (FALSE, FALSE, sizeof (int));
  Cell *cells = grid->cells;

  cells[from].group = group;
  g_array_append_val (todo, from);
  while (todo->len > 0) {
    int at = g_array_index (todo, int, todo->len - 1);
    int c = at % grid->columns, r = at / grid->columns;
    const int next[4] = {c > 0 ? at - 1 : -1, c < grid->columns - 1 ? at + 1 : -1,
                         r > 0 ? at - grid->columns : -1,
                         r < grid->rows - 1 ? at + grid->columns : -1};
    g_array_set_size (todo, todo->len - 1);
    for (int k = 0; k < 4; k++) {
      int i = next[k];
      if (i >= 0 && cells[i].group == 0 && cells[i].spread <= quiet &&
          sb_lab_distance (cells[i].lab, cells[at].lab) <= CELL_STEP) {
        cells[i].group = group;
        g_array_append_val (todo, i);
      }
    }
  }
}

static int
number_groups (const Grid *grid)
{
  double quiet = quiet_spread (grid);
  int groups = 0;

  for (int i = 0; i < grid->columns * grid->rows; i++)
    if (grid->cells[i].group == 0 && grid->cells[i].spread <= quiet)
      spread_group (grid, i, ++groups, quiet);
  return groups;
}

static gboolean
at_edge (const Grid *grid, int i)
{
  int c = i % grid->columns, r = i / grid->columns;
  return c == 0 || r == 0 || c == grid->columns - 1 || r == grid->rows - 1;
}

/* The group with the most cells at the picture's edge; 0 when it is too little of it. */
static int
edge_group (const Grid *grid, int groups)
{
  g_autofree int *counts = g_new0 (int, groups + 1);
  int all = 0, best = 0;

  for (int i = 0; i < grid->columns * grid->rows; i++)
    if (at_edge (grid, i)) {
      all++;
      counts[grid->cells[i].group]++;
    }
  counts[0] = 0;
  for (int g = 1; g <= groups; g++)
    if (counts[g] > counts[best])
      best = g;
  return counts[best] >= all * LEAST_SHARE ? best : 0;
}

/* The group that holds the cell nearest to the picked colour. */
static int
picked_group (const Grid *grid, const guint8 picked[3])
{
  SbLab lab = sb_lab_from_rgb (picked[0], picked[1], picked[2]);
  double least = G_MAXDOUBLE;
  int group = 0;

  for (int i = 0; i < grid->columns * grid->rows; i++) {
    double far = sb_lab_distance (grid->cells[i].lab, lab);
    if (grid->cells[i].group != 0 && far < least) {
      least = far;
      group = grid->cells[i].group;
    }
  }
  return group;
}

static void
fill_terms (const Grid *grid, double column, double row, double terms[TERMS])
{
  sb_light_fill_terms (2 * column / MAX (grid->columns - 1, 1) - 1,
                       2 * row / MAX (grid->rows - 1, 1) - 1, terms);
}

/* Solves the normal equations by elimination; a little is added to the diagonal, so that a shape
 * the cells say nothing of stays flat. */
static void
solve (double m[TERMS][TERMS], double right[TERMS], int n, double solution[TERMS])
{
  for (int i = 0; i < n; i++)
    m[i][i] += 1e-6 + 1e-6 * m[0][0] * (i > 0);
  for (int i = 0; i < n; i++)
    for (int k = i + 1; k < n; k++) {
      double f = m[k][i] / m[i][i];
      for (int j = i; j < n; j++)
        m[k][j] -= f * m[i][j];
      right[k] -= f * right[i];
    }
  memset (solution, 0, TERMS * sizeof *solution);
  for (int i = n - 1; i >= 0; i--) {
    double sum = right[i];
    for (int j = i + 1; j < n; j++)
      sum -= m[i][j] * solution[j];
    solution[i] = sum / m[i][i];
  }
}

typedef struct {
  const Grid *grid;
  int *cells; /* of the paper */
  int n, terms;
} Fit;

static double
value_at (const Fit *fit, const double k[TERMS], double column, double row)
{
  double terms[TERMS], sum = 0;
  fill_terms (fit->grid, column, row, terms);
  for (int t = 0; t < fit->terms; t++)
    sum += k[t] * terms[t];
  return sum;
}

/* Tukey's weights: 0 from 4.7 times the usual error on. */
static void
reweigh (const Fit *fit, int channel, const double k[TERMS], double *weights)
{
  const float *linear = sb_srgb_tables ()->linear;
  g_autofree double *errors = g_new (double, fit->n);
  g_autofree double *sorted = g_new (double, fit->n);

  for (int i = 0; i < fit->n; i++) {
    int at = fit->cells[i];
    double light = log (MAX (linear[fit->grid->cells[at].median[channel]], 1e-4f));
    errors[i] = fabs (light - value_at (fit, k, at % fit->grid->columns, at / fit->grid->columns));
  }
  memcpy (sorted, errors, (gsize)fit->n * sizeof *errors);
  qsort (sorted, (gsize)fit->n, sizeof *sorted, compare_doubles);
  double cut = 4.685 * 1.4826 * MAX (sorted[fit->n / 2], 1e-3);
  for (int i = 0; i < fit->n; i++) {
    double u = errors[i] / cut;
    weights[i] = u < 1 ? (1 - u * u) * (1 - u * u) : 0;
  }
}

/* Fits the logarithm of one channel's light. */
static void
fit_channel (const Fit *fit, int channel, double k[TERMS])
{
  const float *linear = sb_srgb_tables ()->linear;
  g_autofree double *weights = g_new (double, fit->n);

  for (int i = 0; i < fit->n; i++)
    weights[i] = 1;
  for (int round = 0; round < FIT_ROUNDS; round++) {
    double m[TERMS][TERMS] = {0}, right[TERMS] = {0};
    if (round > 0)
      reweigh (fit, channel, k, weights);
    for (int i = 0; i < fit->n; i++) {
      int at = fit->cells[i];
      double light = log (MAX (linear[fit->grid->cells[at].median[channel]], 1e-4f));
      double terms[TERMS];
      fill_terms (fit->grid, at % fit->grid->columns, at / fit->grid->columns, terms);
      for (int a = 0; a < fit->terms; a++) {
        for (int b = 0; b < fit->terms; b++)
          m[a][b] += weights[i] * terms[a] * terms[b];
        right[a] += weights[i] * terms[a] * light;
      }
    }
    solve (m, right, fit->terms, k);
  }
}

/* Where the fitted paper is brightest: the 99th percentile of its cells, by green. */
static int
brightest_cell (const Fit *fit, const double green[TERMS])
{
  typedef struct {
    double light;
    int cell;
  } Bright;
  g_autofree Bright *bright = g_new (Bright, fit->n);

  for (int i = 0; i < fit->n; i++) {
    int at = fit->cells[i];
    bright[i] =
        (Bright){value_at (fit, green, at % fit->grid->columns, at / fit->grid->columns), at};
  }
  qsort (bright, (gsize)fit->n, sizeof *bright, compare_doubles);
  return bright[(fit->n - 1) * 99 / 100].cell;
}

static double
group_noise (const Fit *fit)
{
  g_autofree double *spreads = g_new (double, fit->n);

  for (int i = 0; i < fit->n; i++)
    spreads[i] = fit->grid->cells[fit->cells[i]].spread;
  qsort (spreads, (gsize)fit->n, sizeof *spreads, compare_doubles);
  return spreads[fit->n / 2] / 2;
}

static gboolean
may_be_paper (const guint8 rgb[3])
{
  SbLab lab = sb_lab_from_rgb (rgb[0], rgb[1], rgb[2]);
  return lab.l >= LEAST_LIGHTNESS && hypot (lab.a, lab.b) <= MOST_CHROMA;
}

SbLight *
sb_light_estimate (cairo_surface_t *surface, const guint8 picked[3], gboolean even)
{
  cairo_surface_flush (surface);
  g_auto (Grid) grid = grid_new (surface);
  int groups = number_groups (&grid);
  int group = picked != NULL ? picked_group (&grid, picked) : edge_group (&grid, groups);
  if (group == 0)
    return NULL;

  g_autofree int *cells = g_new (int, grid.columns *grid.rows);
  Fit fit = {.grid = &grid, .cells = cells};
  for (int i = 0; i < grid.columns * grid.rows; i++)
    if (grid.cells[i].group == group)
      cells[fit.n++] = i;
  fit.terms = !even || fit.n < 6 ? 1 : fit.n < 40 ? 3 : TERMS;

  SbLight *light = g_new0 (SbLight, 1);
  for (int c = 0; c < 3; c++)
    fit_channel (&fit, c, light->shape[c]);
  int brightest = brightest_cell (&fit, light->shape[1]);
  for (int c = 0; c < 3; c++) {
    light->top[c] =
        value_at (&fit, light->shape[c], brightest % grid.columns, brightest / grid.columns);
    light->paper[c] = sb_srgb_encode (sb_srgb_tables (), (float)exp (light->top[c]));
  }
  if (picked == NULL && !may_be_paper (light->paper)) {
    sb_light_free (light);
    return NULL;
  }
  light->noise = group_noise (&fit);
  light->flat = fit.terms == 1;
  light->cell = grid.side;
  light->columns = grid.columns;
  light->rows = grid.rows;
  return light;
}

void
sb_light_free (SbLight *light)
{
  g_free (light);
}
