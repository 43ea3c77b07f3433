/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "geometry/polygon-private.h"
#include "geometry/relation.h"

static int
compare_left (const void *a, const void *b)
{
  const SbEdgeLine *p = a, *q = b;
  sb_um u = MIN (p->a.x, p->b.x), v = MIN (q->a.x, q->b.x);
  return (u > v) - (u < v);
}

/* On which side of the edge `p` lies: coordinates are below 2^27, so products stay in 64 bits. */
static int
side (const SbEdgeLine *edge, SbIPoint p)
{
  gint64 d = (gint64)(edge->b.x - edge->a.x) * (p.y - edge->a.y) -
             (gint64)(edge->b.y - edge->a.y) * (p.x - edge->a.x);
  return (d > 0) - (d < 0);
}

static gboolean
cross (const SbEdgeLine *e, const SbEdgeLine *f)
{
  return side (e, f->a) * side (e, f->b) < 0 && side (f, e->a) * side (f, e->b) < 0;
}

gboolean
sb_polygon_is_simple (const SbPolygon *polygon)
{
  guint n = polygon->n_edges;
  g_autofree SbEdgeLine *edges = g_memdup2 (polygon->edges, n * sizeof *edges);
  if (n > 0)
    qsort (edges, n, sizeof *edges, compare_left);
  for (guint i = 0; i < n; i++) {
    sb_um right = MAX (edges[i].a.x, edges[i].b.x);
    sb_um top = MIN (edges[i].a.y, edges[i].b.y), bottom = MAX (edges[i].a.y, edges[i].b.y);
    for (guint k = i + 1; k < n && MIN (edges[k].a.x, edges[k].b.x) <= right; k++)
      if (MIN (edges[k].a.y, edges[k].b.y) <= bottom && MAX (edges[k].a.y, edges[k].b.y) >= top &&
          cross (&edges[i], &edges[k]))
        return FALSE;
  }
  return TRUE;
}
