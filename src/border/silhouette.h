/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is kept of a picture between growths. Private to the room. */
#pragma once

#include "border/cells.h"
#include "border/path.h"

G_BEGIN_DECLS

struct _SbSilhouette {
  gatomicrefcount refs;
  double width_mm, height_mm;
  double softness;
  SbSilhouetteParams params;

  GMutex chain_lock;  /* of the two below */
  SbChain *chain;     /* NULL until sb_silhouette_measure where the outlines were known before */
  SbPicture *picture; /* to measure; NULL once the chain is there */

  GMutex lock; /* of what follows: made when first wanted */
  SbOutline *artwork;
  SbCells *cells[2]; /* without and with holes */
};

/* Takes over `coverage`. */
SbSilhouette *sb_silhouette_from_coverage (SbCoverage *coverage, double width_mm, double height_mm,
                                           const SbSilhouetteParams *params,
                                           GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Sees to it that the chain is there. From any thread. */
gboolean sb_silhouette_measure (SbSilhouette *silhouette, GCancellable *cancellable,
                                GError **error);

/* The artwork's own edge as curves, borrowed. */
SbOutline *sb_silhouette_get_artwork (SbSilhouette *silhouette);

/* Borrowed; good for growths of any size. May be called from any thread. */
const SbCells *sb_silhouette_get_cells (SbSilhouette *silhouette, gboolean holes);

/* The edge of the artwork itself. */
SbPath *sb_chain_to_path (const SbChain *chain, gboolean holes) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
