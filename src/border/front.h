/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The front: the edge of everything within a distance R of the artwork, as the union of the discs
 * around the chain's points. Each place on it is known by the point it grew from (its root), so
 * that any smaller growth along the same directions is exact. Where the root jumps, the front has
 * a re-entrant corner: a kink. Private to the room. */
#pragma once

#include "border/cells.h"

G_BEGIN_DECLS

/* A place on the front: the foot plus R times the direction. */
typedef struct {
  guint root;        /* the point of the chain nearest to it */
  SbPoint foot;      /* the place on the edge beside that point which is nearest */
  SbPoint direction; /* unit, away from the artwork */
} SbStation;

/* A smooth stretch of the front. */
typedef struct {
  guint first, n;  /* stations, at least one */
  guint next;      /* the stretch that follows on the same ring */
  gboolean kinked; /* a kink lies between this stretch and the next */
  SbPoint kink;    /* where; R from both roots */
} SbStretch;

typedef struct {
  double radius;
  GArray *stations;  /* SbStation */
  GArray *stretches; /* SbStretch */
} SbFront;

/* With `plain` the discs are taken as they are: each of them shows as an arc, and no smooth edge is
 * seen in them. Such a front bends where the points lie, but nothing in it crosses. */
SbFront *sb_front_new (const SbChain *chain, const SbCells *cells, double radius, gboolean holes,
                       gboolean plain) G_GNUC_WARN_UNUSED_RESULT;
void sb_front_free (SbFront *front);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbFront, sb_front_free)

G_END_DECLS
