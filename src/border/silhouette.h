/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is kept of a picture between growths. Private to the room. */
#pragma once

#include "border/chain.h"
#include "border/field.h"
#include "border/path.h"
#include "border/roots.h"

G_BEGIN_DECLS

struct _SbSilhouette {
  gatomicrefcount refs;
  double width_mm, height_mm;
  SbChain *chain;

  GMutex lock; /* of what follows: made when first wanted */
  SbOutline *artwork;
  SbField *fields[4]; /* those used last, for different reaches, steps and choices about holes */
  guint next_field;
  SbRoots *roots[2]; /* without and with holes */
};

/* Takes over `coverage`. */
SbSilhouette *sb_silhouette_from_coverage (SbCoverage *coverage, double width_mm, double height_mm,
                                           const SbSilhouetteParams *params,
                                           GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* The artwork's own edge as curves, borrowed. */
SbOutline *sb_silhouette_get_artwork (SbSilhouette *silhouette);

/* A field good for growths of `radius` mm, its lattice `halved` times finer than usual, and the
 * roots. The lock must be held. */
const SbField *sb_silhouette_get_field (SbSilhouette *silhouette, double radius, gboolean holes,
                                        int halved);
const SbRoots *sb_silhouette_get_roots (SbSilhouette *silhouette, gboolean holes);

/* The edge of the artwork itself. */
SbPath *sb_chain_to_path (const SbChain *chain, gboolean holes) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
