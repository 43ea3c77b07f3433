/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The rules of the proof, each in its own file. They add SbFinding to an array. Shared inside the
 * room. */
#pragma once

#include "proof/proof.h"
#include "proof/shapes.h"

G_BEGIN_DECLS

/* Where and for whom findings are made. */
typedef struct {
  const SbState *state;
  SbUnit unit;
  guint page_index;
  guint layout_id;     /* the layout that `state` shows, or 0 */
  GPtrArray *findings; /* SbFinding */
} SbProofPage;

/* Adds a finding about `piece` (NULL: about the page), taking `message`. */
SbFinding *sb_proof_add (SbProofPage *proof, SbSeverity severity, SbRule rule, const SbPiece *piece,
                         char *message);

/* A length that was lost, for a message: never "0.0 mm". */
char *sb_proof_format_lost (double mm, SbUnit unit) G_GNUC_WARN_UNUSED_RESULT;

/* laid.c: the layouts of the job, and how they lie on its pages. `seen` is the set of the designs
 * that were checked as such. */
void sb_proof_check_layouts (SbProofPage *proof, GHashTable *seen);

/* inside.c: one layout inside. `view` shows it; `reach` is what of it is printed and not cut off.
 */
void sb_proof_check_layout (SbProofPage *proof, const SbState *view, SbIBox reach,
                            GHashTable *seen);

/* edge.c */
void sb_proof_check_edges (SbProofPage *proof, const SbShape *shape);

/* neighbours.c */
void sb_proof_check_neighbours (SbProofPage *proof, const GArray *shapes);

/* sticker.c: what is wrong with a design wherever it lies */
void sb_proof_check_sticker (SbProofPage *proof, const SbShape *shape);

/* What happens at one edge of `reach` to a piece whose outline and artwork have these boxes. FALSE
 * when nothing is lost; else the severity and how much of artwork, border or guide. */
gboolean sb_edge_judge (const SbDesign *design, SbIBox outline, SbIBox artwork, SbIBox reach,
                        SbEdge edge, SbSeverity *severity, sb_um *lost);

/* Whether two outlines overlap (stop) or keep less than `gap` (caution), the first one moved by
 * `move`. FALSE when neither. */
gboolean sb_neighbours_judge (const SbPolygon *a, SbIPoint move, const SbPolygon *b, sb_um gap,
                              SbSeverity *severity);

/* Calls `pair` for each two shapes whose boxes are closer than `gap` or meet, a before b in
 * `shapes`; in an order that depends only on the shapes. */
void sb_shapes_each_near_pair (const GArray *shapes, sb_um gap,
                               void (*pair) (guint a, guint b, gpointer data), gpointer data);

G_END_DECLS
