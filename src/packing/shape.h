/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A shape to be packed: one outline in each of the turns it may take, cut into convex parts. The
 * parts of a pose cover the outline (holes filled) and stick out of it by `slack` at most, so
 * parts that keep their distance prove that the outlines do. Any thread may look at it, as long as
 * none adds a pose. */
#pragma once

#include "geometry/polygon.h"

G_BEGIN_DECLS

/* A convex part: its corners, and of each leg (from corner i to the next) its step and outward
 * normal, which every keep-out region is made of. */
typedef struct {
  double nx, ny;
  gint64 dx, dy;
} SbLeg;

typedef struct {
  guint n;
  SbIPoint *points; /* positive area */
  SbLeg *legs;
  guint lowest, highest; /* corners: least y then x, greatest y then x */
} SbPart;

/* Finds the legs of `points` (taken over; three or more). */
SbPart sb_part_new (SbIPoint *points, guint n);
void sb_part_clear (SbPart *part);

/* One turn of a shape. Corners are in um about the shape's origin, the point that is placed. */
typedef struct {
  gint32 turn;  /* thousandths of a degree clockwise */
  guint beside; /* of a cyclic shape: the one nearest in turn of those not added */
  double cos, sin;
  SbIBox box;   /* of the parts */
  sb_um margin; /* that the box keeps from the edges of what it is packed into, for the search */
  guint n_parts;
  SbPart *parts;
  SbPolygon *outline; /* the exact one, corners rounded once after turning */
} SbPose;

typedef struct {
  guint n_poses;
  SbPose *poses;
  GPtrArray *added; /* SbPose: turns between those, numbered after them */
  /* The poses are even steps of a whole turn, or of the least turn that maps the outline onto
   * itself: two of them then lie to each other as pose 0 and the one their difference away. */
  gboolean cyclic;
  double area;        /* of the outline, um2 */
  SbPolygon *outline; /* at turn 0 */
  GPtrArray *cut;     /* its convex parts: GArray of SbIPoint */
} SbShape;

/* Into how many even turns the outline maps onto itself, to within SB_SYMMETRY_UM: 1 for none, 2
 * for an ellipse, 4 for a square; SB_ROUND for a circle. */
#define SB_SYMMETRY_UM 8.0
#define SB_ROUND 360
guint sb_polygon_get_symmetry (const SbPolygon *outline);

/* `outline` lies about its origin as it is at turn 0. `slack` (um, 0 or more) is how far the parts
 * may simplify it outwards. Returns a new shape with a pose for each of `turns` (at least one). */
SbShape *sb_shape_new (const SbPolygon *outline, const gint32 *turns, guint n_turns,
                       double slack) G_GNUC_WARN_UNUSED_RESULT;
void sb_shape_free (SbShape *shape);

static inline const SbPose *
sb_shape_get_pose (const SbShape *shape, guint pose)
{
  return pose < shape->n_poses ? &shape->poses[pose] : shape->added->pdata[pose - shape->n_poses];
}

/* The pose of a turn, added to those there are when it is none of them. */
guint sb_shape_take_pose (SbShape *shape, gint32 turn);

/* The margin of all its poses, um; 0 in a new shape. */
void sb_shape_set_margin (SbShape *shape, sb_um margin);

/* `outline` turned about the origin, each corner rounded once; quarter turns are exact. New. */
SbPolygon *sb_polygon_turn (const SbPolygon *outline, gint32 turn) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbShape, sb_shape_free)

G_END_DECLS
