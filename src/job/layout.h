/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A layout: what is drawn once and laid on pages as many times as it fits. A sticker sheet, whose
 * stickers are cut through their face only; a header card, folded over the mouth of a bag; a
 * backing card, which stiffens it. Reference-counted, and immutable once it is in a state.
 *
 * A header card is drawn flat: its front is the lower half, its back the upper half. Folded along
 * the middle, the back goes behind and stands on its head; so what is to be read on the back is
 * drawn turned by 180 degrees, the top of both halves at the fold (handbook 3.4).
 *
 *      +-----------+ 0          zone: staples, tape or seal
 *      |   KƆⱯ𐐒    |            back, turned
 *      |     o     |            hole, a little larger
 *      + - - - - - + height/2   fold
 *      |     o     |            hole
 *      |   FRONT   |
 *      +-----------+ height     zone */
#pragma once

#include "job/piece.h"

G_BEGIN_DECLS

typedef enum {
  SB_LAYOUT_SHEET,
  SB_LAYOUT_HEADER,
  SB_LAYOUT_BACKING,
} SbLayoutKind;

/* Ranges, um unless told. */
#define SB_LAYOUT_LEAST 20000 /* a side */
#define SB_LAYOUT_MOST 1500000
#define SB_LAYOUT_EDGE_MOST 100000
#define SB_LAYOUT_GAP_MOST 100000
#define SB_LAYOUT_CORNER_MOST 100000
#define SB_LAYOUT_ZONE_MOST 100000
#define SB_LAYOUT_HOLE_MOST 50000
#define SB_LAYOUT_LANE_MOST 50000
#define SB_LAYOUT_WEIGHT_MOST 1000 /* g/m2 */

/* A strip between two straight cuts is hard to trim when it is narrower than 1/8 in; so a lane is 0
 * (one cut serves both) or at least this (handbook 4.3, S35). */
#define SB_LAYOUT_LANE_LEAST 3200

/* The hole in the back is this much larger than the front's, so that a fold a little askew does not
 * show (handbook 3.4, S72; the figure is our own). */
#define SB_LAYOUT_HOLE_MORE 1000

typedef struct _SbLayout SbLayout;
struct _SbLayout {
  /*< read only >*/
  guint id; /* unique in its job, never 0 */
  SbLayoutKind kind;
  char *name;
  sb_um width, height; /* finished size; a header card's is the flat card's */
  sb_um edge;          /* what is on it keeps this from its edges and its fold */
  sb_um gap;           /* least distance between its stickers' outlines */
  sb_um corner;        /* radius of its corners, 0 = square */
  sb_um lane;          /* between neighbours on a page: 0, or SB_LAYOUT_LANE_LEAST and more */
  sb_um zone;          /* header: depth of the staple or seal zone at the open end of each half */
  sb_um hole;          /* header: diameter of the front's hanging hole, 0 = none */
  sb_um hole_at;       /* header: from the fold to the middle of each hole */
  int background;      /* 0xRRGGBB, or -1 for the bare paper */
  int weight;          /* of its card, g/m2; 0 = not told */
  int wanted;          /* copies, 0..SB_WANTED_MOST */
  guint n_pieces;
  SbPiece *pieces; /* in the layout's own coordinates, in drawing order */
  JsonObject *extra;
  gatomicrefcount refs;
};

/* A layout of a finished size with the kind's usual measures (handbook 3.4 and 4.3), id 0. Sides
 * past their range are taken to its end, as all numbers are by the edits. */
SbLayout *sb_layout_new (SbLayoutKind kind, const char *name, sb_um width,
                         sb_um height) G_GNUC_WARN_UNUSED_RESULT;

/* The flat card for a bag of this measured width, `folded` high when it is folded: as wide as the
 * bag and twice as high. */
SbLayout *sb_layout_new_header (const char *name, sb_um bag_width,
                                sb_um folded) G_GNUC_WARN_UNUSED_RESULT;

/* What a backing card is smaller than the inside of its bag: 3 to 6 mm across, and short enough for
 * the flap or the header (handbook 3.4). */
#define SB_BACKING_LESS_WIDE 5000
#define SB_BACKING_LESS_HIGH 10000

/* The card for the inside of a bag, smaller by what is given. */
SbLayout *sb_layout_new_backing (const char *name, sb_um inner_width, sb_um inner_height,
                                 sb_um less_wide, sb_um less_high) G_GNUC_WARN_UNUSED_RESULT;

/* A copy to change before it is published. */
SbLayout *sb_layout_copy (const SbLayout *layout) G_GNUC_WARN_UNUSED_RESULT;
SbLayout *sb_layout_ref (SbLayout *layout);
void sb_layout_unref (SbLayout *layout);
gboolean sb_layout_equal (const SbLayout *a, const SbLayout *b);

/* For a copy. The other fields are set directly. */
void sb_layout_set_name (SbLayout *layout, const char *name);
void sb_layout_set_pieces (SbLayout *layout, const SbPiece *pieces, guint n);
/* Takes every number to its range. */
void sb_layout_tidy (SbLayout *layout);

/* Untranslated key words: "sheet", "header", "backing". */
const char *sb_layout_kind_get_key (SbLayoutKind kind);

static inline gboolean
sb_layout_is_card (const SbLayout *layout)
{
  return layout->kind != SB_LAYOUT_SHEET;
}

/* Where a header card is folded, from its top; -1 where there is no fold. */
static inline sb_um
sb_layout_get_fold (const SbLayout *layout)
{
  return layout->kind == SB_LAYOUT_HEADER ? layout->height / 2 : -1;
}

/* The guide that a design has in the layout (NULL: loose on a page): pale and thin in a sheet,
 * which is cut with a knife, unless it has none; none on a card, where only the card is cut. */
SbGuide sb_layout_get_guide (const SbLayout *layout, const SbDesign *design);

/* One copy of a layout on a page. */
typedef struct {
  SbIPoint at;     /* top left corner of the finished size as it lies */
  gboolean turned; /* a quarter clockwise */
} SbPlacement;

/* The finished size as it lies. */
SbIBox sb_placement_get_box (const SbLayout *layout, const SbPlacement *placement);

/* A piece of the layout as it lies on the page. */
SbPiece sb_placement_lay_piece (const SbLayout *layout, const SbPlacement *placement,
                                SbPiece piece);

/* From the layout's coordinates to the page's, mm. */
SbTransform sb_placement_get_transform (const SbLayout *layout, const SbPlacement *placement);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbLayout, sb_layout_unref)

G_END_DECLS
