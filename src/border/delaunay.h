/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The Delaunay triangulation of points with whole coordinates, exactly decided. Private to the
 * room. */
#pragma once

#include "geometry/point.h"

G_BEGIN_DECLS

/* Directed edges; e ^ 1 is edge e the other way round. "Left" is the side to which the cross
 * product with the edge's direction is positive. */
typedef struct {
  guint origin; /* G_MAXUINT: the edge is not part of the triangulation */
  guint next;   /* the next edge round the origin, turning left */
  guint back;   /* the one before */
} SbMeshEdge;

typedef struct {
  guint n_edges;
  SbMeshEdge *edges;
} SbMesh;

/* Whole coordinates of at most this size are decided exactly. */
#define SB_MESH_MOST 2e8

/* Triangulates `n` points, no two of them the same, all whole numbers up to SB_MESH_MOST. Large
 * sets take a second thread. */
SbMesh *sb_mesh_new (const SbPoint *points, guint n) G_GNUC_WARN_UNUSED_RESULT;
void sb_mesh_free (SbMesh *mesh);

/* The edge that follows `e` round the face on its left. */
static inline guint
sb_mesh_round_left (const SbMesh *mesh, guint e)
{
  return mesh->edges[e ^ 1].back;
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbMesh, sb_mesh_free)

G_END_DECLS
