/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The seeds are the points where the edge crosses the lattice's rows and columns, plus the tips
 * that stick out between them. For the seeds on rows the distance along each row is known at once;
 * the lower envelope of the parabolas that rise from there, column by column, is the squared
 * distance (P. Felzenszwalb, D. Huttenlocher, "Distance Transforms of Sampled Functions", 2012).
 * The same for columns, and the smaller of the two. A straight edge crosses a row or a column every
 * step at least, so a node at a distance of D steps is wrong by at most 1 / (8 D) steps. */
#include "border/field.h"

#include <math.h>
#include <string.h>

#define FAR 1e30f
#define BLOCK 16        /* columns that are gathered at once: one cache line */
#define TIP_STEPS 0.12  /* a tip that sticks out this far between crossings is a seed */
#define MOST_NODES 16e6 /* 64 MB of field */

/* One crossing of a line of the lattice. */
typedef struct {
  float at;    /* along the line, in steps */
  gint16 turn; /* +1 into the artwork, -1 out of it, 0 a tip */
} Crossing;

/* Crossings sorted by line and place. Lines may lie between the lattice's, for tips. */
typedef struct {
  guint n_lines;
  float *line;  /* where each line lies, in steps, rising */
  guint *start; /* n_lines + 1 */
  Crossing *crossings;
} Lines;

typedef struct {
  float line, at;
  gint16 turn;
} Hit;

typedef struct {
  const SbField *field;
  GArray *rows, *columns; /* Hit */
} Seeds;

void
sb_field_free (SbField *field)
{
  if (field == NULL)
    return;
  g_free (field->squared);
  g_free (field);
}

static void
add_hit (GArray *hits, double line, double at, int turn)
{
  Hit hit = {(float)line, (float)at, (gint16)turn};
  g_array_append_val (hits, hit);
}

/* The crossings of the leg p-q (in steps), with `turn` for a leg that runs down. Returns how many,
 * and the first and last one along the leg. */
static guint
cross_leg (Seeds *seeds, SbPoint p, SbPoint q, double *first, double *last)
{
  guint n = 0;
  *first = 2;
  *last = -1;
  double y0 = MIN (p.y, q.y), y1 = MAX (p.y, q.y), x0 = MIN (p.x, q.x), x1 = MAX (p.x, q.x);
  for (double y = ceil (y0); y < y1; y++) {
    double t = (y - p.y) / (q.y - p.y);
    add_hit (seeds->rows, y, p.x + t * (q.x - p.x), q.y < p.y ? 1 : -1);
    *first = MIN (*first, t);
    *last = MAX (*last, t);
    n++;
  }
  for (double x = ceil (x0); x < x1; x++) {
    double t = (x - p.x) / (q.x - p.x);
    add_hit (seeds->columns, x, p.y + t * (q.y - p.y), 0);
    *first = MIN (*first, t);
    *last = MAX (*last, t);
    n++;
  }
  return n;
}

static SbPoint
between (SbPoint p, SbPoint q, double t)
{
  return (SbPoint){p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)};
}

/* The vertex that sticks out farthest to the left of the chord a-b, if far enough. */
static void
add_tip (Seeds *seeds, SbPoint a, SbPoint b, const SbPoint *vertices, guint n)
{
  double dx = b.x - a.x, dy = b.y - a.y, length = sqrt (dx * dx + dy * dy), most = TIP_STEPS;
  const SbPoint *tip = NULL;
  for (guint i = 0; i < n; i++) {
    double vx = vertices[i].x - a.x, vy = vertices[i].y - a.y;
    double out = length > 1e-9 ? (dy * vx - dx * vy) / length : sqrt (vx * vx + vy * vy);
    if (out > most) {
      most = out;
      tip = &vertices[i];
    }
  }
  if (tip != NULL)
    add_hit (seeds->rows, tip->y, tip->x, 0);
}

static void
seed_ring (Seeds *seeds, const SbChain *chain, const SbChainRing *ring, GArray *vertices)
{
  const SbField *field = seeds->field;
  SbPoint chord_from = {0, 0};
  gboolean started = FALSE;
  guint n = ring->n, start = 0;
  g_array_set_size (vertices, 0);
  /* Once round from the first leg that crosses a line, to close the last chord. */
  for (guint k = 0; k < n + start + 1 && k < 2 * n; k++) {
    SbPoint p = chain->points[ring->first + k % n], q = chain->points[ring->first + (k + 1) % n];
    p = (SbPoint){(p.x - field->x0) / field->step, (p.y - field->y0) / field->step};
    q = (SbPoint){(q.x - field->x0) / field->step, (q.y - field->y0) / field->step};
    guint rows = seeds->rows->len, columns = seeds->columns->len;
    double first, last;
    if (cross_leg (seeds, p, q, &first, &last) > 0) {
      if (k >= n) { /* been here: only the chord was open */
        g_array_set_size (seeds->rows, rows);
        g_array_set_size (seeds->columns, columns);
      }
      if (started)
        add_tip (seeds, chord_from, between (p, q, first), (SbPoint *)vertices->data,
                 vertices->len);
      else
        start = k;
      started = TRUE;
      chord_from = between (p, q, last);
      g_array_set_size (vertices, 0);
    }
    g_array_append_val (vertices, q);
  }
  if (!started) /* a speck between the lines */
    for (guint i = 0; i < n; i++) {
      SbPoint p = chain->points[ring->first + i];
      add_hit (seeds->rows, (p.y - field->y0) / field->step, (p.x - field->x0) / field->step, 0);
    }
}

static int
compare_hits (const void *a, const void *b)
{
  const Hit *p = a, *q = b;
  if (p->line != q->line)
    return p->line < q->line ? -1 : 1;
  if (p->at != q->at)
    return p->at < q->at ? -1 : 1;
  return p->turn - q->turn;
}

/* Hits in order. They are dealt out to their lattice lines first, which leaves little to sort. */
static Hit *
sort_hits (const GArray *hits, guint n_lattice)
{
  const Hit *in = (const Hit *)hits->data;
  guint *start = g_new0 (guint, n_lattice + 2);
  Hit *out = g_new (Hit, hits->len);
  for (guint i = 0; i < hits->len; i++)
    start[(guint)in[i].line + 1]++;
  for (guint i = 0; i < n_lattice; i++)
    start[i + 1] += start[i];
  for (guint i = 0; i < hits->len; i++)
    out[start[(guint)in[i].line]++] = in[i];
  guint first = 0;
  for (guint i = 0; i < n_lattice; i++) {
    guint n = start[i] - first;
    if (n > 24) {
      qsort (out + first, n, sizeof *out, compare_hits);
    } else {
      for (guint k = first + 1; k < start[i]; k++) {
        Hit hit = out[k];
        guint m = k;
        for (; m > first && compare_hits (&out[m - 1], &hit) > 0; m--)
          out[m] = out[m - 1];
        out[m] = hit;
      }
    }
    first = start[i];
  }
  g_free (start);
  return out;
}

static void
lines_from_hits (Lines *lines, const GArray *hits, guint n_lattice)
{
  g_autofree Hit *sorted = sort_hits (hits, n_lattice);
  guint n = hits->len;
  lines->crossings = g_new (Crossing, n);
  lines->line = g_new (float, n + 1);
  lines->start = g_new (guint, n + 2);
  lines->n_lines = 0;
  for (guint i = 0; i < n; i++) {
    if (i == 0 || sorted[i].line != sorted[i - 1].line) {
      lines->line[lines->n_lines] = sorted[i].line;
      lines->start[lines->n_lines++] = i;
    }
    lines->crossings[i] = (Crossing){sorted[i].at, sorted[i].turn};
  }
  lines->start[lines->n_lines] = n;
}

static void
lines_clear (Lines *lines)
{
  g_free (lines->line);
  g_free (lines->start);
  g_free (lines->crossings);
}

/* Squared distance along one line to its nearest crossing, at `n` nodes. */
static void
measure_line (const Crossing *crossings, guint n_crossings, float *out, guint n)
{
  guint i = 0;
  for (guint k = 0; k < n_crossings && i < n; k++) {
    float at = crossings[k].at;
    guint end = n;
    if (k + 1 < n_crossings) {
      float middle = 0.5f * (at + crossings[k + 1].at);
      end = middle < 0 ? 0 : MIN (n, (guint)middle + 1);
    }
    for (; i < end; i++) {
      float d = (float)(int)i - at;
      out[i] = d * d;
    }
  }
}

typedef struct {
  float at, height, from; /* apex, and where this parabola becomes the lowest */
} Parabola;

/* The lower envelope of parabolas over one column of heights, sampled at `n` nodes. */
static void
envelope (const float *heights, const float *line, guint n_lines, float cap, Parabola *stack,
          float *out, guint n)
{
  guint top = 0;
  for (guint k = 0; k < n_lines; k++) {
    float h = heights[k], at = line[k], from = -1;
    if (h > cap)
      continue;
    while (top > 0) {
      const Parabola *p = &stack[top - 1];
      from = 0.5f * (at + p->at) + 0.5f * (h - p->height) / (at - p->at);
      if (from > p->from)
        break;
      top--;
      from = -1;
    }
    if (from < (float)n)
      stack[top++] = (Parabola){at, h, from};
  }
  guint i = 0;
  if (top == 0)
    for (; i < n; i++)
      out[i] = FAR;
  for (guint k = 0; k < top; k++) {
    guint end = n;
    if (k + 1 < top)
      end = stack[k + 1].from < 0 ? 0 : MIN (n, (guint)stack[k + 1].from + 1);
    float at = stack[k].at, h = stack[k].height;
    for (; i < end; i++) {
      float d = (float)(int)i - at;
      out[i] = d * d + h;
    }
  }
}

/* out[c * n + i]: squared distance of node i of cross line c to the seeds of `lines`. */
static void
sweep (const Lines *lines, guint n_across, guint n, float cap, float *out)
{
  guint n_lines = lines->n_lines;
  float *heights = g_new (float, (gsize)MAX (n_lines, 1) * n_across);
  for (guint k = 0; k < n_lines; k++)
    measure_line (lines->crossings + lines->start[k], lines->start[k + 1] - lines->start[k],
                  heights + (gsize)k * n_across, n_across);
  float *block = g_new (float, (gsize)BLOCK *MAX (n_lines, 1));
  Parabola *stack = g_new (Parabola, n_lines + 1);
  for (guint c = 0; c < n_across; c += BLOCK) {
    guint width = MIN (BLOCK, n_across - c);
    for (guint k = 0; k < n_lines; k++)
      for (guint b = 0; b < width; b++)
        block[(gsize)b * n_lines + k] = heights[(gsize)k * n_across + c + b];
    for (guint b = 0; b < width; b++)
      envelope (block + (gsize)b * n_lines, lines->line, n_lines, cap, stack,
                out + (gsize)(c + b) * n, n);
  }
  g_free (stack);
  g_free (block);
  g_free (heights);
}

/* squared = min (squared, the transpose of `columns`). */
static void
merge_transposed (float *squared, const float *columns, guint nx, guint ny)
{
  for (guint y0 = 0; y0 < ny; y0 += BLOCK)
    for (guint x0 = 0; x0 < nx; x0 += BLOCK)
      for (guint y = y0; y < MIN (ny, y0 + BLOCK); y++)
        for (guint x = x0; x < MIN (nx, x0 + BLOCK); x++) {
          float *to = &squared[(gsize)y * nx + x], from = columns[(gsize)x * ny + y];
          *to = from < *to ? from : *to;
        }
}

/* Nodes inside the artwork lie at no distance. */
static void
mark_inside (SbField *field, const Lines *rows)
{
  for (guint k = 0; k < rows->n_lines; k++) {
    if (rows->line[k] != floorf (rows->line[k]))
      continue;
    float *row = field->squared + (gsize)rows->line[k] * field->nx;
    int winding = 0;
    for (guint i = rows->start[k]; i + 1 < rows->start[k + 1]; i++) {
      winding += rows->crossings[i].turn;
      if (winding <= 0)
        continue;
      guint end = (guint)floorf (rows->crossings[i + 1].at);
      for (guint x = (guint)ceilf (rows->crossings[i].at); x <= end; x++)
        row[x] = 0;
    }
  }
}

SbField *
sb_field_new (const SbChain *chain, double reach, double step, gboolean with_holes)
{
  SbField *field = g_new0 (SbField, 1);
  double w = chain->box.x1 - chain->box.x0 + 2 * reach;
  double h = chain->box.y1 - chain->box.y0 + 2 * reach;
  field->wanted_step = step;
  step = MAX (step, sqrt (w * h / MOST_NODES));
  field->reach = reach;
  field->step = step;
  field->with_holes = with_holes;
  field->x0 = chain->box.x0 - reach - 2 * step;
  field->y0 = chain->box.y0 - reach - 2 * step;
  field->nx = (guint)ceil (w / step) + 5;
  field->ny = (guint)ceil (h / step) + 5;
  field->squared = g_new (float, (gsize)field->nx * field->ny);

  Seeds seeds = {field, g_array_new (FALSE, FALSE, sizeof (Hit)),
                 g_array_new (FALSE, FALSE, sizeof (Hit))};
  g_autoptr (GArray) vertices = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  for (guint r = 0; r < chain->n_rings; r++)
    if (with_holes || !chain->rings[r].hole)
      seed_ring (&seeds, chain, &chain->rings[r], vertices);
  Lines rows, columns;
  lines_from_hits (&rows, seeds.rows, field->ny);
  lines_from_hits (&columns, seeds.columns, field->nx);
  g_array_unref (seeds.rows);
  g_array_unref (seeds.columns);

  float cap = (float)((reach / step + 2) * (reach / step + 2));
  float *across = g_new (float, (gsize)field->nx * field->ny);
  sweep (&columns, field->ny, field->nx, cap, field->squared);
  sweep (&rows, field->nx, field->ny, cap, across);
  merge_transposed (field->squared, across, field->nx, field->ny);
  mark_inside (field, &rows);
  g_free (across);
  lines_clear (&rows);
  lines_clear (&columns);
  return field;
}
