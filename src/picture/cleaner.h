/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the steps of a clean-up hand to each other. */
#pragma once

#include "picture/cleanup.h"
#include "picture/light.h"
#include "picture/mask.h"

G_BEGIN_DECLS

/* One run of a cleaner. */
typedef struct {
  const SbCleanup *recipe;
  double px_per_mm;         /* of the result */
  SbMap from_picture;       /* from parts of the picture's width to px of the result */
  cairo_surface_t *surface; /* evened, opaque where paper is removed; becomes the result */
  const SbLight *light;     /* NULL: nothing looks like paper, or nobody asked */
  int radius;               /* px of averaging */
  SbMask mask;              /* its plane holds distances to the paper, then coverage */
  GArray *specks;
  SbProgress progress;
  gpointer progress_data;
  GCancellable *cancellable;
} SbCleanWork;

/* Tells how far it is. FALSE when cancelled. */
gboolean sb_clean_work_step (const SbCleanWork *work, double done, GError **error);

/* Turns distances into coverage, gives the rim the artwork's colour, and whitens where that is
 * asked for. Where paper stays, it only whitens. FALSE when cancelled. */
gboolean sb_clean_make_mask (SbCleanWork *work, GError **error);

/* Moves white and black point outside the mask (less than half covered) and, less and less, near
 * it. */
void sb_clean_whiten (const SbCleanWork *work);

/* Leaves white paper where specks lay that are gone. */
void sb_clean_wipe_specks (const SbCleanWork *work);

/* Colours what retouching strokes cover by what is around it. */
void sb_clean_retouch (const SbStrokes *strokes, const SbMap *from_picture,
                       cairo_surface_t *surface);

/* Coverage of a picture whose paper stays: all but what was removed by hand. NULL when nothing
 * was. */
guint8 *sb_clean_cover_by_hand (const SbCleanWork *work);

/* Takes coverage in, levels, counts. `coverage` may be NULL. Takes the work's surface and specks.
 */
SbCleanResult *sb_clean_finish (SbCleanWork *work, const guint8 *coverage);

G_END_DECLS
