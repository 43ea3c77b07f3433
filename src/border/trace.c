/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The edge is followed along the cracks between pixels at or above the threshold and pixels below
 * it, with the inside on the right hand. A crack gives one vertex between the two pixels' centres.
 *
 * Where it lies: a pixel row cut by a straight edge holds, in the sum of its coverage, exactly the
 * edge's position at the row's middle, whatever its slope and whatever symmetric blur the picture
 * has gone through. So where the edge is steep and the row is flat on both sides of it, the sum is
 * the position; shallow edges are read from the columns in the same way. Elsewhere (hair-lines,
 * soft shadows) the position is interpolated between the two centres.
 *
 * Of a pixel that a straight edge leaves covered by c >= 1/2, the places sqrt (1 - c) from its
 * corners towards its centre are covered, however the edge runs. Where such a place lies outside of
 * the ring, the edge is not straight there, and the place is kept as an outpost. */
#include "border/trace.h"

#include <math.h>
#include <string.h>

#include "border/block.h"

/* Headings: 0 right, 1 down, 2 left, 3 up. */
static const int step_x[4] = {1, 0, -1, 0};
static const int step_y[4] = {0, 1, 0, -1};
/* From the corner that a heading starts at to the pixel on its right hand. */
static const int right_x[4] = {0, -1, -1, 0};
static const int right_y[4] = {0, 0, -1, -1};

typedef struct {
  const SbCoverage *coverage;
  int threshold;
  guint8 *seen; /* one bit a pixel: its left crack has been walked */
  GArray *points, *ends, *outposts;
  GArray *ring; /* Crack */
  guint first;  /* its first vertex in points */
  guint64 n_cracks, n_partial;
} Trace;

typedef struct {
  SbPoint p;
  int x, y;       /* the inside pixel */
  guint8 in, out; /* coverage on both sides */
  guint8 heading;
  gboolean keep; /* read along the steep direction, or the only reading there is */
} Crack;

static inline int
pixel (const SbCoverage *coverage, int x, int y)
{
  return sb_coverage_row (coverage, y)[x];
}

static inline gboolean
inside (const Trace *trace, int x, int y)
{
  return pixel (trace->coverage, x, y) >= trace->threshold;
}

static inline gboolean
flat (int a, int b)
{
  return a - b < 6 && b - a < 6;
}

/* The edge's distance (px) from the inside pixel's centre towards the outside one. `along` is the
 * step in memory from inside to outside. FALSE when the row is not flat on both sides. */
static gboolean
sum_position (const guint8 *in, gssize along, double *t)
{
  for (int reach = 2; reach >= 1; reach--) {
    int high = in[-reach * along], low = in[(reach + 1) * along];
    int beyond_high = in[-(reach - 1) * along], beyond_low = in[reach * along];
    if (high - low < 64 || beyond_high > high + 2 || beyond_low < low - 2)
      continue;
    if (!flat (high, in[-(reach + 1) * along]) || !flat (low, in[(reach + 2) * along]))
      continue;
    int sum = 0;
    for (int k = -reach; k <= reach + 1; k++) {
      int value = in[k * along];
      if (value > high + 2 || value < low - 2)
        return FALSE;
      sum += value - low;
    }
    *t = (double)sum / (high - low) - reach - 0.5;
    return *t > -1 && *t < 2;
  }
  return FALSE;
}

static void
add_crack (Trace *trace, int x, int y, int heading)
{
  /* x, y: the inside pixel; the outside one lies to the left of the heading. */
  int out = (heading + 3) & 3;
  gssize stride = (gssize)trace->coverage->stride;
  gssize along = step_x[out] + step_y[out] * stride;
  gssize across = step_x[heading] + step_y[heading] * stride;
  const guint8 *in = sb_coverage_row (trace->coverage, y) + x;
  int a = in[0], b = in[along];
  /* How far the edge moves from the row before to the row after, by their sums. Up to a little past
   * 45 degrees it is steep, so that no stretch is left without good readings. */
  int moved = 0;
  for (int k = -2; k <= 3; k++)
    moved += in[across + k * along] - in[-across + k * along];
  double t = 0;
  gboolean steep = 10 * ABS (moved) <= 23 * ABS (in[-2 * along] - in[3 * along]);
  if (!steep || !sum_position (in, along, &t))
    t = (a - (trace->threshold - 0.5)) / (double)(a - b);
  Crack crack = {{x + 0.5 + t * step_x[out], y + 0.5 + t * step_y[out]},
                 x,
                 y,
                 (guint8)a,
                 (guint8)b,
                 (guint8)heading,
                 steep};
  g_array_append_val (trace->ring, crack);
  trace->n_cracks++;
  for (int k = -3; k <= 4; k++)
    if (in[k * along] > 8 && in[k * along] < 247)
      trace->n_partial++;
}

#define CRISP 128 /* a smaller step between two pixels may be a shadow's, and tells of no edge */

/* Where two layers' edges lie over each other, a pixel is covered by more than the area that shows;
 * a place as far out as that makes it is no outpost. */
#define LAYERED_PX 0.15

/* Keeps the covered place by the crack's end (side 1) or beginning (-1), when it lies outside of
 * the line from `a` to `b`. */
static void
look_for_outpost (Trace *trace, const Crack *c, int side, SbPoint a, SbPoint b)
{
  if (c->in < 255 && c->in - c->out < CRISP)
    return;
  int out = (c->heading + 3) & 3;
  double off = 0.5 - sqrt ((255 - c->in) / (2 * 255.0));
  SbPoint q = {c->x + 0.5 + off * (step_x[out] + side * step_x[c->heading]),
               c->y + 0.5 + off * (step_y[out] + side * step_y[c->heading])};
  double dx = b.x - a.x, dy = b.y - a.y, outside = dy * (q.x - a.x) - dx * (q.y - a.y);
  SbOutpost outpost = {q, trace->ends->len, trace->points->len - trace->first};
  double most = c->in == 255 ? SB_OUTPOST_PX : LAYERED_PX;
  if (outside > 0 && outside * outside > most * most * (dx * dx + dy * dy))
    g_array_append_val (trace->outposts, outpost);
}

/* A shallow reading is dropped where the cracks before and after it give a good one. */
static gboolean
is_kept (const Crack *before, const Crack *c, const Crack *after)
{
  gboolean between = before->keep && after->keep && before->heading == after->heading &&
                     before->heading != c->heading;
  return c->keep || !between;
}

static void
flush_ring (Trace *trace)
{
  const Crack *cracks = (const Crack *)trace->ring->data;
  guint n = trace->ring->len;
  for (guint i = 0; i < n; i++) {
    const Crack *before = &cracks[i ? i - 1 : n - 1], *c = &cracks[i],
                *after = &cracks[i + 1 < n ? i + 1 : 0];
    gboolean kept = is_kept (before, c, after);
    look_for_outpost (trace, c, -1, before->p, kept ? c->p : after->p);
    if (kept)
      g_array_append_val (trace->points, c->p);
    look_for_outpost (trace, c, 1, kept ? c->p : before->p, after->p);
  }
  trace->first = trace->points->len;
  g_array_append_val (trace->ends, trace->first);
}

static void
walk (Trace *trace, int x, int y)
{
  /* Starts along the left crack of x,y, upwards. cx, cy: the corner the next step leaves from. */
  int cx = x, cy = y + 1, heading = 3;
  g_array_set_size (trace->ring, 0);
  do {
    int px = cx + right_x[heading], py = cy + right_y[heading];
    add_crack (trace, px, py, heading);
    if (heading == 3) {
      gsize bit = (gsize)py * trace->coverage->width + px;
      trace->seen[bit >> 3] |= (guint8)(1u << (bit & 7));
    }
    cx += step_x[heading];
    cy += step_y[heading];
    /* Ahead on the left joins first: pixels that touch at a corner belong together. */
    int left = (heading + 3) & 3;
    if (inside (trace, cx + right_x[left], cy + right_y[left]))
      heading = left;
    else if (!inside (trace, cx + right_x[heading], cy + right_y[heading]))
      heading = (heading + 1) & 3;
  } while (cx != x || cy != y + 1 || heading != 3);
  flush_ring (trace);
}

/* The top bit of each byte of `v` that is at least `threshold`. */
static inline guint64
at_least (guint64 v, int threshold)
{
  const guint64 ones = 0x0101010101010101u, low = 0x7f7f7f7f7f7f7f7fu, high = 0x8080808080808080u;
  if (threshold <= 128)
    return (((v & low) + (guint64)(128 - threshold) * ones) | v) & high;
  return ((v & low) + (guint64)(256 - threshold) * ones) & v & high;
}

void
sb_trace_rings (const SbCoverage *coverage, int threshold, GArray *points, GArray *ends,
                GArray *outposts, double *softness)
{
  gsize n_bytes = (gsize)coverage->width * (gsize)coverage->height / 8 + 1;
  Trace trace = {.coverage = coverage,
                 .threshold = threshold,
                 .seen = sb_block_new (n_bytes),
                 .points = points,
                 .ends = ends,
                 .outposts = outposts,
                 .ring = g_array_new (FALSE, FALSE, sizeof (Crack))};
  for (int y = 0; y < coverage->height; y++) {
    const guint8 *row = sb_coverage_row (coverage, y);
    gboolean was_inside = FALSE;
    for (int x = 0; x < coverage->width; x += 8) {
      /* Eight pixels of one kind, the most usual case, need no look. The frame makes reading past
       * the row's end harmless. */
      guint64 v;
      memcpy (&v, row + x, 8);
      guint64 bits = at_least (v, threshold);
      if (bits == (was_inside ? 0x8080808080808080u : 0))
        continue;
      for (int k = x; k < MIN (x + 8, coverage->width); k++) {
        gboolean now = row[k] >= threshold;
        if (now && !was_inside) {
          gsize bit = (gsize)y * coverage->width + k;
          if (!(trace.seen[bit >> 3] >> (bit & 7) & 1))
            walk (&trace, k, y);
        }
        was_inside = now;
      }
    }
  }
  *softness = trace.n_cracks ? (double)trace.n_partial / (double)trace.n_cracks : 0;
  sb_block_free (trace.seen);
  g_array_unref (trace.ring);
}
