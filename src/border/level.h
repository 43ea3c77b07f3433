/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Level lines of the distance field, to the accuracy of the lattice. Private to the room. */
#pragma once

#include "border/field.h"

G_BEGIN_DECLS

/* Where the field passes the radius, between two nodes. */
typedef struct {
  SbPoint at;
  SbPoint node;    /* the node inside, next to it */
  double distance; /* the node's (mm) */
  SbPoint uphill;  /* the field's gradient there, about unit length */
} SbLevelPoint;

/* Appends the rings where the field passes `radius` (mm) to `points` (SbLevelPoint) and their ends
 * to `ends` (guint). Without holes only the outer rings come, and those inside another ring not at
 * all. */
void sb_level_rings (const SbField *field, double radius, gboolean holes, GArray *points,
                     GArray *ends);

G_END_DECLS
