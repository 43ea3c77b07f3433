/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What polygon.c and relation.c share: the edges of all loops in a row, and a tree of boxes over
 * them. Neighbouring edges of an outline lie close together, so boxes over runs of edges are tight
 * without any sorting. */
#pragma once

#include "geometry/polygon.h"

G_BEGIN_DECLS

/* How many neighbouring edges share a leaf of the tree. */
#define SB_EDGES_PER_LEAF 8

typedef struct {
  SbIPoint a, b;
} SbEdgeLine;

struct _SbPolygon {
  gatomicrefcount refs;
  SbIBox box;
  guint n_loops;
  SbLoop *loops;
  guint n_edges;
  SbIPoint *points;  /* of all loops */
  SbEdgeLine *edges; /* edge i begins at points[i] */
  /* A complete binary tree in an array: node k has the children 2k and 2k + 1, the root is 1, and
   * node n_leaves + i is the box of the i-th run of edges. */
  guint n_leaves; /* a power of two; 0 when the polygon is empty */
  SbIBox *nodes;
};

G_END_DECLS
