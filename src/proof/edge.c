/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "proof/rules.h"

/* Translators: %1$s is a piece ("Radish, piece 2"), %2$s a length. The edges are those of the page
 * as it lies on the screen. */
static const char *const messages[][5] = {
    [SB_SEVERITY_STOP] = {[SB_EDGE_TOP] = N_ ("%1$s loses %2$s of its artwork at the top edge"),
                          [SB_EDGE_RIGHT] = N_ ("%1$s loses %2$s of its artwork at the right edge"),
                          [SB_EDGE_BOTTOM] =
                              N_ ("%1$s loses %2$s of its artwork at the bottom edge"),
                          [SB_EDGE_LEFT] = N_ ("%1$s loses %2$s of its artwork at the left edge")},
    [SB_SEVERITY_CAUTION] =
        {[SB_EDGE_TOP] = N_ ("%1$s loses %2$s of its border at the top edge"),
         [SB_EDGE_RIGHT] = N_ ("%1$s loses %2$s of its border at the right edge"),
         [SB_EDGE_BOTTOM] = N_ ("%1$s loses %2$s of its border at the bottom edge"),
         [SB_EDGE_LEFT] = N_ ("%1$s loses %2$s of its border at the left edge")},
    [SB_SEVERITY_NOTE] = {[SB_EDGE_TOP] = N_ ("%1$s loses its cut guide at the top edge"),
                          [SB_EDGE_RIGHT] = N_ ("%1$s loses its cut guide at the right edge"),
                          [SB_EDGE_BOTTOM] = N_ ("%1$s loses its cut guide at the bottom edge"),
                          [SB_EDGE_LEFT] = N_ ("%1$s loses its cut guide at the left edge")},
};

/* How far a box reaches past an edge of `reach`; negative inside. */
static sb_um
get_past (SbEdge edge, SbIBox box, SbIBox reach)
{
  switch (edge) {
  case SB_EDGE_TOP:
    return reach.y0 - box.y0;
  case SB_EDGE_RIGHT:
    return box.x1 - reach.x1;
  case SB_EDGE_BOTTOM:
    return box.y1 - reach.y1;
  case SB_EDGE_LEFT:
    return reach.x0 - box.x0;
  case SB_EDGE_NONE:
  default:
    g_return_val_if_reached (0);
  }
}

/* What lies past the edge is not more than there is: a piece beside the page has lost all. */
static sb_um
get_lost (SbEdge edge, SbIBox box, SbIBox reach)
{
  gboolean across = edge == SB_EDGE_LEFT || edge == SB_EDGE_RIGHT;
  sb_um all = across ? box.x1 - box.x0 : box.y1 - box.y0;
  return MIN (get_past (edge, box, reach), all);
}

gboolean
sb_edge_judge (const SbDesign *design, SbIBox outline, SbIBox artwork, SbIBox reach, SbEdge edge,
               SbSeverity *severity, sb_um *lost)
{
  sb_um past = get_past (edge, outline, reach);
  sb_um guide_from, guide_to;
  sb_shape_get_guide (design, &guide_from, &guide_to);
  if (get_past (edge, artwork, reach) > 0) {
    *severity = SB_SEVERITY_STOP;
    *lost = get_lost (edge, artwork, reach);
  } else if (past > 0) {
    *severity = SB_SEVERITY_CAUTION;
    *lost = get_lost (edge, outline, reach);
  } else if (past + guide_from > 0 && guide_to > 0) {
    *severity = SB_SEVERITY_NOTE;
    *lost = past + guide_to;
  } else {
    return FALSE;
  }
  return TRUE;
}

static void
add (SbProofPage *proof, const SbShape *shape, SbSeverity severity, SbEdge edge, double lost_mm)
{
  g_autofree char *label = sb_piece_get_label (proof->state, shape->piece->id);
  g_autofree char *text = sb_proof_format_lost (lost_mm, proof->unit);
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  char *message = g_strdup_printf (_ (messages[severity][edge]), label, text);
#pragma GCC diagnostic pop
  SbFinding *finding = sb_proof_add (proof, severity, SB_RULE_EDGE, shape->piece, message);
  finding->edge = edge;
  finding->lost_mm = lost_mm;
}

void
sb_proof_check_edges (SbProofPage *proof, const SbShape *shape)
{
  SbIBox reach = sb_state_get_printable_box (proof->state);
  SbIBox outline = sb_polygon_get_box (shape->outline);
  SbIBox artwork = sb_polygon_get_box (shape->artwork);
  for (SbEdge edge = SB_EDGE_TOP; edge <= SB_EDGE_LEFT; edge++) {
    SbSeverity severity;
    sb_um lost;
    if (sb_edge_judge (shape->design, outline, artwork, reach, edge, &severity, &lost))
      add (proof, shape, severity, edge, sb_um_to_mm (lost));
  }
}
