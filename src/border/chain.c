/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/chain.h"

#include <math.h>
#include <string.h>

#include "border/corner.h"
#include "border/trace.h"

void
sb_chain_free (SbChain *chain)
{
  if (chain == NULL)
    return;
  g_free (chain->points);
  g_free (chain->ring_of);
  g_free (chain->is_corner);
  g_free (chain->tangents);
  g_free (chain->bends);
  g_free (chain->rings);
  g_free (chain);
}

typedef struct {
  GArray *points;  /* SbPoint, mm */
  GArray *corners; /* guint8 */
  GArray *rings;   /* SbChainRing */
} Draft;

static double
to_unit (double mm)
{
  return round (mm * SB_CHAIN_UNITS_PER_MM) / SB_CHAIN_UNITS_PER_MM;
}

/* Adds points between neighbours that lie too far apart. */
static void
append_leg (Draft *draft, SbPoint a, SbPoint b, guint8 is_corner)
{
  double length = sqrt ((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
  guint parts = (guint)MAX (1, ceil (length / SB_CHAIN_SPACING_MM));
  for (guint k = 0; k < parts; k++) {
    double t = (double)k / parts;
    SbPoint p = {to_unit (a.x + t * (b.x - a.x)), to_unit (a.y + t * (b.y - a.y))};
    guint8 corner = k == 0 ? is_corner : 0;
    g_array_append_val (draft->points, p);
    g_array_append_val (draft->corners, corner);
  }
}

static void
append_ring (Draft *draft, const SbPoint *points, const guint8 *corners, guint n)
{
  SbChainRing ring = {.first = draft->points->len, .box = SB_BOX_EMPTY};
  double twice = 0;
  for (guint i = 0; i < n; i++) {
    SbPoint a = points[i], b = points[i + 1 < n ? i + 1 : 0], o = points[0];
    twice += (a.x - o.x) * (b.y - o.y) - (b.x - o.x) * (a.y - o.y);
    ring.box = sb_box_add (ring.box, a);
    append_leg (draft, a, b, corners[i]);
  }
  ring.n = draft->points->len - ring.first;
  ring.area = twice / 2;
  ring.hole = twice < 0;
  if (twice == 0)
    g_array_set_size (draft->points, ring.first), g_array_set_size (draft->corners, ring.first);
  else
    g_array_append_val (draft->rings, ring);
}

/* Outposts of the last ring, which become rings of one point. */
static void
append_outposts (Draft *draft, const SbOutpost *outposts, guint n, double sx, double sy)
{
  guint parent = draft->rings->len - 1;
  SbChainRing *ring = &g_array_index (draft->rings, SbChainRing, parent);
  guint8 corner = 0;
  for (guint i = 0; i < n; i++) {
    SbPoint p = {to_unit (outposts[i].p.x * sx), to_unit (outposts[i].p.y * sy)};
    ring->box = sb_box_add (ring->box, p);
    g_array_append_val (draft->points, p);
    g_array_append_val (draft->corners, corner);
  }
  SbChainRing outpost = {
      .first = ring->first + ring->n, .n = 1, .hole = ring->hole, .box = ring->box};
  for (guint i = 0; i < n; i++, outpost.first++)
    g_array_append_val (draft->rings, outpost);
}

static double
across (const SbChainRing *ring)
{
  return MAX (ring->box.x1 - ring->box.x0, ring->box.y1 - ring->box.y0);
}

#define DUST 0.05 /* of the largest island: specks that small are dropped even among specks */

/* Drops the specks, unless there is nothing else. */
static void
drop_specks (Draft *draft, double speck_mm)
{
  SbChainRing *rings = (SbChainRing *)draft->rings->data;
  double largest = 0;
  for (guint i = 0; i < draft->rings->len; i++)
    if (!rings[i].hole)
      largest = MAX (largest, across (&rings[i]));
  if (largest < speck_mm)
    speck_mm = DUST * largest;
  guint n_points = 0, n_rings = 0;
  for (guint i = 0; i < draft->rings->len; i++) {
    SbChainRing ring = rings[i];
    if (across (&ring) < speck_mm)
      continue;
    memmove (&g_array_index (draft->points, SbPoint, n_points),
             &g_array_index (draft->points, SbPoint, ring.first), ring.n * sizeof (SbPoint));
    memmove (&g_array_index (draft->corners, guint8, n_points),
             &g_array_index (draft->corners, guint8, ring.first), ring.n);
    ring.first = n_points;
    n_points += ring.n;
    rings[n_rings++] = ring;
  }
  g_array_set_size (draft->points, n_points);
  g_array_set_size (draft->corners, n_points);
  g_array_set_size (draft->rings, n_rings);
}

#define SMOOTH_POINTS 5 /* each way */
#define SHARP_MM 0.012  /* points farther than this from their line are not smooth */

/* The direction of the line through a point's neighbours, up to a corner. */
static SbPoint
smooth_tangent (const SbChain *chain, guint i)
{
  SbPoint p[2 * SMOOTH_POINTS + 1];
  guint n = 0, first = i;
  if (chain->is_corner[i])
    return (SbPoint){0, 0};
  for (int k = 0; k < SMOOTH_POINTS && !chain->is_corner[first]; k++)
    first = sb_chain_previous (chain, first);
  p[n++] = chain->points[first];
  for (guint k = first, ahead = 0; ahead < SMOOTH_POINTS && n < G_N_ELEMENTS (p);) {
    gboolean at_end = k != first && chain->is_corner[k];
    if (at_end)
      break;
    ahead += k == i || ahead > 0;
    k = sb_chain_next (chain, k);
    p[n++] = chain->points[k];
  }
  double mx = 0, my = 0, xx = 0, xy = 0, yy = 0;
  for (guint k = 0; k < n; k++) {
    mx += p[k].x / n;
    my += p[k].y / n;
  }
  for (guint k = 0; k < n; k++) {
    double x = p[k].x - mx, y = p[k].y - my;
    xx += x * x;
    xy += x * y;
    yy += y * y;
  }
  double d = sqrt ((xx - yy) * (xx - yy) + 4 * xy * xy), across = (xx + yy - d) / 2;
  SbPoint t = xx >= yy ? (SbPoint){xx - yy + d, 2 * xy} : (SbPoint){2 * xy, yy - xx + d};
  double l = sqrt (t.x * t.x + t.y * t.y);
  if (l == 0 || across > n * SHARP_MM * SHARP_MM)
    return (SbPoint){0, 0};
  double sign = (p[n - 1].x - p[0].x) * t.x + (p[n - 1].y - p[0].y) * t.y < 0 ? -1 : 1;
  return (SbPoint){sign * t.x / l, sign * t.y / l};
}

static void
smooth (SbChain *chain)
{
  chain->tangents = g_new (SbPoint, chain->n_points);
  chain->bends = g_new (float, chain->n_points);
  for (guint i = 0; i < chain->n_points; i++)
    chain->tangents[i] = smooth_tangent (chain, i);
  for (guint i = 0; i < chain->n_points; i++) {
    guint a = i, b = i;
    double length = 0;
    for (int k = 0; k < 3; k++) {
      guint before = sb_chain_previous (chain, a), after = sb_chain_next (chain, b);
      length += hypot (chain->points[a].x - chain->points[before].x,
                       chain->points[a].y - chain->points[before].y);
      length += hypot (chain->points[b].x - chain->points[after].x,
                       chain->points[b].y - chain->points[after].y);
      a = before;
      b = after;
    }
    SbPoint s = chain->tangents[a], t = chain->tangents[b];
    chain->bends[i] = length > 0 ? (float)((s.x * t.y - s.y * t.x) / length) : 0;
  }
}

static SbChain *
chain_from_draft (Draft *draft)
{
  SbChain *chain = g_new0 (SbChain, 1);
  chain->n_points = draft->points->len;
  chain->n_rings = draft->rings->len;
  chain->points = (SbPoint *)g_array_free (draft->points, FALSE);
  chain->is_corner = (guint8 *)g_array_free (draft->corners, FALSE);
  chain->rings = (SbChainRing *)g_array_free (draft->rings, FALSE);
  chain->ring_of = g_new (guint32, chain->n_points);
  chain->box = SB_BOX_EMPTY;
  for (guint r = 0; r < chain->n_rings; r++) {
    const SbChainRing *ring = &chain->rings[r];
    for (guint i = 0; i < ring->n; i++)
      chain->ring_of[ring->first + i] = r;
    if (!ring->hole)
      chain->box = sb_box_union (chain->box, ring->box);
  }
  smooth (chain);
  return chain;
}

SbChain *
sb_chain_trace (const SbCoverage *coverage, double width_mm, double height_mm, double threshold,
                double speck_mm)
{
  g_autoptr (GArray) traced = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GArray) outposts = g_array_new (FALSE, FALSE, sizeof (SbOutpost));
  double softness;
  int level = CLAMP ((int)ceil (threshold * 255), 1, 255);
  sb_trace_rings (coverage, level, traced, ends, outposts, &softness);
  if (ends->len == 0)
    return NULL;

  Draft draft = {g_array_new (FALSE, FALSE, sizeof (SbPoint)), g_array_new (FALSE, FALSE, 1),
                 g_array_new (FALSE, FALSE, sizeof (SbChainRing))};
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbPoint));
  g_autoptr (GArray) corners = g_array_new (FALSE, FALSE, 1);
  double sx = width_mm / coverage->width, sy = height_mm / coverage->height;
  SbOutpost *outpost = (SbOutpost *)outposts->data, *last = outpost + outposts->len;
  SbBox picture = {0, 0, coverage->width, coverage->height};
  guint first = 0;
  for (guint r = 0; r < ends->len; r++) {
    guint end = g_array_index (ends, guint, r), n_rings = draft.rings->len, n_outposts = 0;
    g_array_set_size (points, 0);
    g_array_set_size (corners, 0);
    while (outpost + n_outposts < last && outpost[n_outposts].ring == r)
      n_outposts++;
    guint n_kept = sb_corner_rebuild (&g_array_index (traced, SbPoint, first), end - first, picture,
                                      outpost, n_outposts, points, corners);
    for (guint i = 0; i < points->len; i++) {
      SbPoint *p = &g_array_index (points, SbPoint, i);
      p->x *= sx;
      p->y *= sy;
    }
    append_ring (&draft, (SbPoint *)points->data, (guint8 *)corners->data, points->len);
    if (draft.rings->len > n_rings)
      append_outposts (&draft, outpost, n_kept, sx, sy);
    outpost += n_outposts;
    first = end;
  }
  drop_specks (&draft, speck_mm);
  if (draft.rings->len == 0) {
    g_array_unref (draft.points);
    g_array_unref (draft.corners);
    g_array_unref (draft.rings);
    return NULL;
  }
  SbChain *chain = chain_from_draft (&draft);
  chain->softness = softness;
  return chain;
}
