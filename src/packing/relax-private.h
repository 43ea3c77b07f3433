/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shared by relax.c, which moves the copies, relax-forces.c, which sums up what pushes them, and
 * relax-contact.c, which tells how two convex parts press on each other. Everything in doubles, um.
 */
#pragma once

#include "packing/relax.h"

G_BEGIN_DECLS

/* A convex part: corners and the unit outward normals of its edges (from corner i to the next),
 * with their distance from the origin; and the circle around it. */
typedef struct {
  guint n;
  double *x, *y, *nx, *ny, *c;
  double centre_x, centre_y, radius;
} SbSoftPart;

/* A shape as it is pushed about: its parts, and a part that is the hull of them all. */
typedef struct {
  guint n_parts;
  SbSoftPart *parts;
  SbSoftPart hull;
  double radius; /* about the origin */
} SbSoftForm;

/* The parts of a pose, copied. */
SbSoftForm *sb_soft_form_new (const SbPose *pose) G_GNUC_WARN_UNUSED_RESULT;
void sb_soft_form_free (SbSoftForm *form);

/* Where a form lies: its origin, and the turn its cosine and sine give. */
typedef struct {
  double x, y, cos, sin;
} SbSoftPlace;

/* The edge of one part and the corner of another that lies nearest to it, as met last. */
typedef struct {
  guint edge, corner;
} SbSoftFeature;

/* Two parts, of bodies i and j, that lie near each other. */
typedef struct {
  guint i, j;
  const SbSoftPart *a, *b;
  SbSoftFeature on_a, on_b; /* edge of a and corner of b; edge of b and corner of a */
  gboolean b_first;         /* the edge of b keeps them apart */
} SbSoftContact;

/* How two parts press: `depth` of what is missing to the gap, the direction from i to j, and the
 * point where they meet, from the page's corner. */
typedef struct {
  double depth, nx, ny, x, y;
} SbSoftPress;

/* Finds the features of a contact anew, over all edges. */
void sb_soft_contact_find (SbSoftContact *contact, const SbSoftPlace *i, const SbSoftPlace *j);

/* FALSE when the parts keep the gap. The features are followed from where they were. */
gboolean sb_soft_contact_press (SbSoftContact *contact, const SbSoftPlace *i, const SbSoftPlace *j,
                                double gap, SbSoftPress *press);

/* The corner of a part farthest in the direction (dx, dy), walked to from `corner`. */
static inline guint
sb_soft_part_farthest (const SbSoftPart *part, double dx, double dy, guint corner)
{
  double most = dx * part->x[corner] + dy * part->y[corner];
  guint start = corner;
  for (;;) {
    guint next = corner + 1 == part->n ? 0 : corner + 1;
    double there = dx * part->x[next] + dy * part->y[next];
    if (!(there > most))
      break;
    most = there;
    corner = next;
  }
  while (corner == start) {
    guint next = start == 0 ? part->n - 1 : start - 1;
    double there = dx * part->x[next] + dy * part->y[next];
    if (!(there > most))
      break;
    most = there;
    corner = start = next;
  }
  return corner;
}

/* The gap aimed for is this much wider than the task's. um */
#define SB_RELAX_AIM 6.0

typedef struct {
  const SbSoftForm *form;
  gboolean moves, turns;
  double arm;        /* a turn counts as much as a move of its point this far from the origin */
  guint farthest[4]; /* corners of the hull: left, top, right, bottom */
} SbSoftBody;

typedef struct {
  double x, y, turn;
} SbSoftMotion;

/* A layout: where each copy lies, and the pose of those that do not turn. */
typedef struct {
  SbSoftPlace *places;
  guint *poses;
} SbSoftLayout;

struct _SbRelaxer {
  const SbTask *task;
  SbIBox box;
  SbRandom random;
  guint n;
  SbPlacing *placings;
  GPtrArray *forms; /* SbSoftForm or NULL, of each pose of each shape */
  guint *first_form;
  SbSoftBody *bodies;
  SbSoftLayout now, held; /* `held`: what is gone back to when a hop fails */
  double energy, held_energy;
  SbSoftMotion *forces, *speeds;
  GArray *contacts; /* SbSoftContact */
  GArray *listed;   /* those of the list before */
  guint next_listed;
  double skin, moved, longest_step;
  gboolean begun;
  guint in_vain;
  guint64 evaluations;
};

/* Lists the contacts as the copies lie now. */
void sb_relaxer_list_contacts (SbRelaxer *relaxer);

/* Finds the forces of all that press on each other; returns the energy: the sum of the squares of
 * what is missing to the gap. */
double sb_relaxer_press (SbRelaxer *relaxer);

G_END_DECLS
