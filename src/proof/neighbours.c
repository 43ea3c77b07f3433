/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pieces that overlap or come too close. Their boxes are swept from left to right, so that only
 * neighbours are compared, however many pieces there are. */
#include "config.h"

#include <glib/gi18n.h>

#include "geometry/relation.h"
#include "proof/rules.h"

typedef struct {
  SbIBox box;
  guint index;
} Entry;

static int
compare_entries (const void *a, const void *b)
{
  const Entry *x = a;
  const Entry *y = b;
  if (x->box.x0 != y->box.x0)
    return x->box.x0 < y->box.x0 ? -1 : 1;
  return (x->index > y->index) - (x->index < y->index);
}

void
sb_shapes_each_near_pair (const GArray *shapes, sb_um gap,
                          void (*pair) (guint a, guint b, gpointer data), gpointer data)
{
  g_autofree Entry *entries = g_new (Entry, shapes->len);
  for (guint i = 0; i < shapes->len; i++)
    entries[i] = (Entry){sb_polygon_get_box (g_array_index (shapes, SbShape, i).outline), i};
  if (shapes->len > 0)
    qsort (entries, shapes->len, sizeof *entries, compare_entries);

  for (guint i = 0; i < shapes->len; i++) {
    SbIBox box = entries[i].box;
    for (guint k = i + 1; k < shapes->len && entries[k].box.x0 <= box.x1 + gap; k++) {
      SbIBox other = entries[k].box;
      if (other.y0 <= box.y1 + gap && box.y0 <= other.y1 + gap)
        pair (MIN (entries[i].index, entries[k].index), MAX (entries[i].index, entries[k].index),
              data);
    }
  }
}

typedef struct {
  SbProofPage *proof;
  const GArray *shapes;
} Check;

static void
add_overlap (SbProofPage *proof, const SbPiece *a, const SbPiece *b)
{
  g_autofree char *first = sb_piece_get_label (proof->state, a->id);
  g_autofree char *second = sb_piece_get_label (proof->state, b->id);
  /* Translators: two pieces, as in "Radish, piece 2 and Thyme, piece 1 overlap" */
  char *message = g_strdup_printf (_ ("%s and %s overlap"), first, second);
  SbFinding *finding = sb_proof_add (proof, SB_SEVERITY_STOP, SB_RULE_OVERLAP, a, message);
  finding->other_id = b->id;
}

static void
add_gap (SbProofPage *proof, const SbPiece *a, const SbPiece *b, double distance_um)
{
  sb_um gap = proof->state->gap;
  g_autofree char *first = sb_piece_get_label (proof->state, a->id);
  g_autofree char *second = sb_piece_get_label (proof->state, b->id);
  g_autofree char *wanted = sb_length_format (sb_um_to_mm (gap), proof->unit);
  double missing_mm = (gap - distance_um) / SB_UM_PER_MM;
  g_autofree char *missing = sb_proof_format_lost (missing_mm, proof->unit);
  /* Translators: two pieces and two lengths: what is missing, and the gap that the job asks for */
  char *message = g_strdup_printf (_ ("%1$s and %2$s are %3$s too close for a gap of %4$s"), first,
                                   second, missing, wanted);
  SbFinding *finding = sb_proof_add (proof, SB_SEVERITY_CAUTION, SB_RULE_GAP, a, message);
  finding->other_id = b->id;
  finding->lost_mm = missing_mm;
}

gboolean
sb_neighbours_judge (const SbPolygon *a, SbIPoint move, const SbPolygon *b, sb_um gap,
                     SbSeverity *severity)
{
  if (!sb_polygons_closer_than_moved (a, move.x, move.y, b, gap))
    return FALSE;
  gboolean overlap = sb_polygons_closer_than_moved (a, move.x, move.y, b, 0);
  *severity = overlap ? SB_SEVERITY_STOP : SB_SEVERITY_CAUTION;
  return TRUE;
}

/* Text is not cut: it may stand near other text, or on a sticker. */
static void
check_pair (guint a, guint b, gpointer data)
{
  Check *check = data;
  const SbShape *first = &g_array_index (check->shapes, SbShape, a);
  const SbShape *second = &g_array_index (check->shapes, SbShape, b);
  SbSeverity severity;
  if (first->design->lettering != NULL || second->design->lettering != NULL)
    return;
  if (!sb_neighbours_judge (first->outline, (SbIPoint){0, 0}, second->outline,
                            check->proof->state->gap, &severity))
    return;
  if (severity == SB_SEVERITY_STOP)
    add_overlap (check->proof, first->piece, second->piece);
  else
    add_gap (check->proof, first->piece, second->piece,
             sb_polygons_distance_um (first->outline, second->outline));
}

void
sb_proof_check_neighbours (SbProofPage *proof, const GArray *shapes)
{
  Check check = {proof, shapes};
  sb_shapes_each_near_pair (shapes, proof->state->gap, check_pair, &check);
}
