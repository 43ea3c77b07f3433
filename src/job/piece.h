/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One copy of a design, on a page or in a layout. */
#pragma once

#include "job/design.h"

G_BEGIN_DECLS

typedef struct {
  guint id;        /* unique in the job, never 0 */
  guint design_id; /* never dangling */
  SbIPoint at;     /* centre of the outline's box before turning, from the top left of the page or
                      of the layout */
  gint32 turn;     /* thousandths of a degree clockwise, 0..359999 */
  gboolean pinned; /* arranging leaves it where it is */
} SbPiece;

/* A piece's centre stays within this of the page's corner, so that every point of its outline stays
 * within SB_UM_MOST. */
#define SB_PIECE_FARTHEST (SB_UM_MOST / 2)

gboolean sb_piece_equal (const SbPiece *a, const SbPiece *b);

/* The piece with every field in its range. */
SbPiece sb_piece_tidy (SbPiece piece);

/* From the artwork's frame (mm) to the page (mm, from its top left corner). */
SbTransform sb_piece_get_transform (const SbDesign *design, const SbPiece *piece);

/* The flattening error that checks and figures allow, um. */
#define SB_FLATTEN_UM 10.0

/* The piece's outline and visible artwork on the page, in um. Copies of a design with the same turn
 * have the same corners, moved by `at`: so one of them may be kept for all. New. */
SbPolygon *sb_piece_get_outline (const SbDesign *design,
                                 const SbPiece *piece) G_GNUC_WARN_UNUSED_RESULT;
SbPolygon *sb_piece_get_artwork (const SbDesign *design,
                                 const SbPiece *piece) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
