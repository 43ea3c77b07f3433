/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * From a job's state to what is packed, and back. */
#pragma once

#include "packing/arrange.h"
#include "packing/pages.h"

G_BEGIN_DECLS

/* The search keeps this much more than the job's gap, and as much from the printable area's edge,
 * so that flattening a curve anew and rounding it in another turn never breaks the exact check. */
#define SB_PACKING_AIM_UM 25

/* How far the convex parts may simplify an outline: tightness lost against time gained. */
#define SB_PACKING_SLACK_UM 80

/* Turns of designs that may take any, to begin with: every 15 degrees. The search turns them
 * freely. */
#define SB_PACKING_TURNS 24

/* The outline about its own centre at turn 0, as pieces place it. New. */
SbPolygon *sb_design_get_centred_outline (const SbDesign *design) G_GNUC_WARN_UNUSED_RESULT;

/* A shape in all turns the design allows; pose 0 is upright. Its margin is the aim and what the
 * design's cut guide takes, so that it prints whole; a shape too large for the printable area with
 * that does without the guide's part, then without any. */
SbShape *sb_design_get_shape (const SbState *state,
                              const SbDesign *design) G_GNUC_WARN_UNUSED_RESULT;

/* The pieces of a page as they lie, in order, all fixed, tagged with their place on the page;
 * shapes of just their turns are added to the task, one for each design. Pieces whose ids are among
 * `except` are left out. New array of SbPlacing. */
GArray *sb_page_get_placings (const SbState *state, const SbPage *page, SbTask *task,
                              const guint *except, guint n_except) G_GNUC_WARN_UNUSED_RESULT;

/* A shape of one turn, with its margin. */
SbShape *sb_design_get_turned_shape (const SbState *state, const SbDesign *design,
                                     gint32 turn) G_GNUC_WARN_UNUSED_RESULT;

/* What arranging leaves where it is: pinned pieces, and text, which stands where it was put. */
gboolean sb_piece_is_fixed (const SbDesign *design, const SbPiece *piece);

/* TRUE when no two pieces of the page are nearer than the gap and all lie in the printable area, by
 * geometry/relation.h; what is wrong between fixed pieces, or between a fixed piece and the
 * printable area, is the maker's and does not count. */
gboolean sb_page_is_valid (const SbState *state, const SbPage *page);

/* Waste of the pages that carry pieces, percent of the printable area, their mean; 0 with none. */
double sb_state_get_waste_percent (const SbState *state);

/* What a state's pages hold: placed, freebies, pages, waste after. */
SbArrangeReport sb_arrange_report_for (const SbState *state);

G_END_DECLS
