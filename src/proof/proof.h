/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The checks before printing: a finding is one line of the proof. Pure functions on a state, usable
 * from any thread; decided on integer polygons. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

typedef enum {
  SB_SEVERITY_STOP,    /* artwork would be lost, or stickers overlap */
  SB_SEVERITY_CAUTION, /* border lost, gap too small, too few pixels */
  SB_SEVERITY_NOTE,    /* only a guide is lost */
} SbSeverity;

typedef enum {
  SB_RULE_EDGE,       /* crosses the non-printable strip or the paper's edge */
  SB_RULE_OVERLAP,    /* two pieces' outlines overlap */
  SB_RULE_GAP,        /* two pieces are closer than the job's gap */
  SB_RULE_RESOLUTION, /* fewer dpi than SB_DPI_GOOD */
  SB_RULE_ISLANDS,    /* the design falls into several outlines (note) */
  SB_RULE_SMALL,      /* the finished sticker is hard to cut: under 12 mm across (note) */
  SB_RULE_NECK,       /* the sticker has a part under 4 mm wide, which tears or curls (note) */
  SB_RULE_THROUGH,    /* the outline, changed by hand, cuts into the artwork (caution) */
  SB_RULE_BORDERLESS, /* the printer will enlarge the page (caution) */
  SB_RULE_MARGINS,    /* the job's printer does not say what it cannot reach (note) */
  /* Of layouts: */
  SB_RULE_LAID, /* copies on a page overlap or hang over its edge (stop) */
  SB_RULE_RIM,  /* too near the edge of a sheet, or text of a card's edge or fold (caution) */
  SB_RULE_FOLD, /* artwork runs over the fold (note) */
  SB_RULE_ZONE, /* text where staples or the seal go (caution), or little room there (note) */
  SB_RULE_HOLE, /* the hole goes through something, or lies too near the fold (caution) */
  SB_RULE_UPSIDE_DOWN, /* text that will stand on its head when folded (caution) */
  SB_RULE_WEIGHT,      /* card that many printers do not take (note) */
  SB_RULE_TEST_CORNER, /* no room for a test cut beside the sheets (note) */
} SbRule;

typedef enum {
  SB_EDGE_NONE,
  SB_EDGE_TOP,
  SB_EDGE_RIGHT,
  SB_EDGE_BOTTOM,
  SB_EDGE_LEFT,
} SbEdge;

typedef struct {
  SbSeverity severity;
  SbRule rule;
  guint page_index;
  guint piece_id;  /* of resolution, islands, small, neck and through: the design's first piece; of
                      borderless, margins, weight and test corner: 0 */
  guint layout_id; /* of findings inside a layout: piece and other are pieces of it, and
                      page_index is the first page it is laid on, or 0; else 0 */
  guint other_id;  /* the second piece of overlap and gap; else 0 */
  SbEdge edge;     /* of SB_RULE_EDGE */
  double lost_mm;  /* edge: how much of the artwork (stop), border (caution), guide (note) lies past
                      the printable edge; gap: what is missing to the gap; overlap: 0 */
  char *message;   /* one translated sentence, measures in `unit` */
} SbFinding;

void sb_finding_free (SbFinding *finding);

/* Untranslated key words for JSON: "stop", "edge", "left". */
const char *sb_severity_get_key (SbSeverity severity);
const char *sb_rule_get_key (SbRule rule);
const char *sb_edge_get_key (SbEdge edge);

/* All findings, worst first, then by page and piece. Array of SbFinding, frees its items. A layout
 * is checked once, inside, with the least that the printer reaches of any of its copies; what is
 * beyond its finished size is cut off.
 *
 * Edge rule, one finding a piece and edge, the worst that holds: visible artwork past the printable
 * area: stop; outline past it: caution; the guide's inner edge (outline + SB_GUIDE_CLEARANCE_MM),
 * along which the scissors go, past it: note. A guide that is only thinned on its outer side still
 * guides: no finding. */
GPtrArray *sb_proof_run (const SbState *state, SbUnit unit) G_GNUC_WARN_UNUSED_RESULT;

/* The shortest move of a piece that brings its outline and the whole stroke of its guide into the
 * printable area. FALSE when the piece is too large for it; `*moved` is then the move that saves
 * most: what fits of guide, outline and artwork, in this order. */
gboolean sb_proof_move_inside (const SbState *state, guint piece_id, SbPiece *moved);

/* All pages put right: every piece that is not pinned is moved as little as it takes to clear the
 * findings of edge, overlap and gap, neighbours giving way to each other; no piece is turned or
 * changes its page. What no move clears stays near where it was: prove the result to learn what
 * that is. Returns `state` itself (ref'd) where nothing can be bettered, never a state with worse
 * findings. The same state gives the same result. Takes up to a second for a crowded page. */
SbState *sb_proof_move_all_inside (const SbState *state) G_GNUC_WARN_UNUSED_RESULT;

typedef struct {
  double paper_mm2, printable_mm2;
  double outline_mm2;   /* sum of the outlines inside the printable area */
  double artwork_mm2;   /* the same of the visible artwork */
  double waste_mm2;     /* printable_mm2 - outline_mm2, 0 or more */
  double waste_percent; /* of printable_mm2 */
  guint pieces;
  SbIBox free_spot; /* the largest free rectangle that keeps the gap, in the printable area; empty
                       when none */
} SbPageFigures;

/* Of a page that carries a layout, `outline_mm2` is what of the finished sizes lies in the
 * printable area, `pieces` counts the layout's pieces in all its copies, artwork is not measured
 * and there is no free spot. */

/* Figures of one page, from the exact areas of the curves; where a piece hangs over the printable
 * area, from its polygon. */
SbPageFigures sb_figures_page (const SbState *state, guint page_index);

/* The largest free rectangles of a page, largest first, at most `most` of them and none over
 * another: `free_spot` is the first. Each keeps the gap from every outline, by the exact check;
 * there may be a slightly larger one that the search, on a grid of half a millimetre, has passed
 * over. Returns how many. */
guint sb_figures_free_spots (const SbState *state, guint page_index, SbIBox *spots, guint most);

G_END_DECLS
