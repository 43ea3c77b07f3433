/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The distance field: how far each node of a square lattice lies from the artwork. It finds which
 * stretches of the artwork's edge the growth sees and where they meet; the places themselves are
 * then computed from the edge, so the lattice may be coarse. Private to the room. */
#pragma once

#include "border/chain.h"

G_BEGIN_DECLS

typedef struct {
  double x0, y0, step; /* node i,j lies at x0 + i step, y0 + j step (mm) */
  double wanted_step;  /* what was asked for; `step` is more where memory would not allow it */
  double reach;        /* distances up to here (mm) are right; beyond they are large */
  guint nx, ny;
  gboolean with_holes; /* holes of the artwork are outside, else inside */
  float *squared;      /* squared distance in lattice steps, row after row; 0 inside */
} SbField;

/* The lattice reaches `reach` mm beyond the artwork on every side. */
SbField *sb_field_new (const SbChain *chain, double reach, double step,
                       gboolean with_holes) G_GNUC_WARN_UNUSED_RESULT;
void sb_field_free (SbField *field);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbField, sb_field_free)

G_END_DECLS
