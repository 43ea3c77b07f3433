/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A path: closed loops of dense samples, exact arcs and corners, before curves are fitted. Private
 * to the room. */
#pragma once

#include "geometry/outline.h"

G_BEGIN_DECLS

typedef enum {
  SB_LINK_CURVE,  /* a smooth curve leads through this sample to the next */
  SB_LINK_BIT,    /* a small part of a circular arc, which may become part of a curve */
  SB_LINK_ARC,    /* a circular arc leads from this sample to the next */
  SB_LINK_CORNER, /* the next sample lies in the same place and leaves in another direction */
} SbLink;

typedef struct {
  SbPoint p;
  SbPoint tangent; /* unit, in the direction of travel, inside on the right */
  SbLink link;
  SbPoint centre; /* of the arc */
  double turn;    /* of the arc, radians, positive to the right (convex) */
} SbSample;

typedef struct {
  GArray *samples; /* SbSample */
  GArray *ends;    /* guint: where each loop ends */
} SbPath;

SbPath *sb_path_new (void) G_GNUC_WARN_UNUSED_RESULT;
void sb_path_free (SbPath *path);

/* Samples of the loop at hand; a sample in the last one's place is a corner when it leaves in
 * another direction, else left out. */
void sb_path_add (SbPath *path, SbPoint p, SbPoint tangent);
/* An arc from the direction `from` (unit, centre to start) through `turn`. Short ones become
 * samples. */
void sb_path_add_arc (SbPath *path, SbPoint centre, double radius, SbPoint from, double turn);
/* Ends the loop; loops of fewer than three samples are dropped. */
void sb_path_close (SbPath *path);

/* Fits cubics that stay within tolerance_mm of the samples. Inward bends stay at or above
 * 0.96 nook_mm where the samples allow. */
SbOutline *sb_path_fit (const SbPath *path, double tolerance_mm,
                        double nook_mm) G_GNUC_WARN_UNUSED_RESULT;

/* The samples themselves as straight legs, for checks. */
SbOutline *sb_path_to_legs (const SbPath *path) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbPath, sb_path_free)

G_END_DECLS
