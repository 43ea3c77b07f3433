/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A box as small squares, free or blocked, and where a pose finds room among the free ones: 64
 * places with one instruction. A square is blocked when any point of it is nearer than the gap to
 * something, and a pose takes up every square it touches; so what has room here keeps the gap, and
 * up to two squares' sides more.
 *
 * One thread at a time. */
#pragma once

#include "packing/free-map.h"

G_BEGIN_DECLS

/* Which squares a pose takes up, whose origin may lie in `room` at every whole step. */
typedef struct {
  guint row, from, width; /* at the first place */
} SbCoverRun;

typedef struct {
  SbIBox room;
  guint columns, rows; /* places; 0 when the pose is larger than the box */
  guint words;         /* of a row of places */
  guint n_runs;
  SbCoverRun *runs; /* widest first */
} SbCover;

typedef struct _SbRaster SbRaster;

/* All of `box` free. `across`: x and y change places, so that topmost is leftmost. */
SbRaster *sb_raster_new (SbIBox box, sb_um step, gboolean across) G_GNUC_WARN_UNUSED_RESULT;
void sb_raster_free (SbRaster *raster);

/* Blocks what is nearer than `gap` (um) to a pose that lies at (x, y). */
void sb_raster_block (SbRaster *raster, const SbPose *pose, sb_um x, sb_um y, double gap);

/* What a pose covers of the raster's squares, wherever it lies. */
SbCover *sb_cover_new (const SbRaster *raster, const SbPose *pose) G_GNUC_WARN_UNUSED_RESULT;
void sb_cover_free (SbCover *cover);

/* The places of one row that have room: `bits` has words for them. FALSE when none has. */
gboolean sb_raster_get_row (const SbRaster *raster, const SbCover *cover, guint row, guint64 *bits);

/* The place with the least y, then x, from row `*row` on, which is then its row: as squares are
 * only ever blocked the next search may begin there. FALSE when there is none. */
gboolean sb_raster_find_topmost (const SbRaster *raster, const SbCover *cover, guint *row,
                                 SbIPoint *place);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbRaster, sb_raster_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbCover, sb_cover_free)

G_END_DECLS
