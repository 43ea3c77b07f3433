/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "proof/rules.h"

void
sb_finding_free (SbFinding *finding)
{
  g_free (finding->message);
  g_free (finding);
}

const char *
sb_severity_get_key (SbSeverity severity)
{
  static const char *const keys[] = {"stop", "caution", "note"};
  return keys[severity];
}

const char *
sb_rule_get_key (SbRule rule)
{
  static const char *const keys[] = {
      "edge",        "overlap", "gap",     "resolution", "islands", "small",
      "neck",        "through", "borderless", "margins", "laid",    "rim",
      "fold",        "zone",    "hole",    "upside-down", "weight", "test-corner",
  };
  return keys[rule];
}

const char *
sb_edge_get_key (SbEdge edge)
{
  static const char *const keys[] = {"none", "top", "right", "bottom", "left"};
  return keys[edge];
}

SbFinding *
sb_proof_add (SbProofPage *proof, SbSeverity severity, SbRule rule, const SbPiece *piece,
              char *message)
{
  SbFinding *finding = g_new0 (SbFinding, 1);
  finding->severity = severity;
  finding->rule = rule;
  finding->page_index = proof->page_index;
  finding->layout_id = proof->layout_id;
  finding->piece_id = piece != NULL ? piece->id : 0;
  finding->message = message;
  g_ptr_array_add (proof->findings, finding);
  return finding;
}

char *
sb_proof_format_lost (double mm, SbUnit unit)
{
  g_autofree char *text = sb_length_format_fine (mm, unit);
  g_autofree char *nought = sb_length_format_fine (0, unit);
  if (!g_str_equal (text, nought))
    return g_steal_pointer (&text);
  /* The least length that shows. */
  double least_mm = unit == SB_UNIT_INCH ? 0.001 * SB_MM_PER_INCH
                    : unit == SB_UNIT_PT ? 0.001 * SB_MM_PER_PT
                                         : 0.01;
  g_autofree char *least = sb_length_format_fine (least_mm, unit);
  /* Translators: a length */
  return g_strdup_printf (_ ("less than %s"), least);
}

static void
check_borderless (SbProofPage *proof)
{
  const SbState *state = proof->state;
  if (state->overshoot == 0)
    return;
  SbOvershoot overshoot = sb_overshoot (state->page_width, state->page_height, state->overshoot);
  double two_inches = 2 * SB_MM_PER_INCH;
  double ends_mm = sb_um_to_mm (overshoot.lost.top);
  double sides_mm = sb_um_to_mm (overshoot.lost.left);
  g_autofree char *size = sb_length_format (two_inches, proof->unit);
  g_autofree char *least =
      sb_length_format_number (two_inches * overshoot.least_scale, proof->unit);
  g_autofree char *most = sb_length_format (two_inches * overshoot.most_scale, proof->unit);
  g_autofree char *sides = sb_length_format (sides_mm, proof->unit);
  g_autofree char *ends = sb_length_format (ends_mm, proof->unit);
  SbFinding *finding = sb_proof_add (
      proof, SB_SEVERITY_CAUTION, SB_RULE_BORDERLESS, NULL,
      /* Translators: lengths; the second and third are a range, as in "51.8 to 52.3 mm" */
      g_strdup_printf (_ ("This paper prints without margins, so the printer enlarges the page: a "
                          "sticker of %1$s becomes %2$s to %3$s, and up to %4$s are lost at the "
                          "sides and %5$s at top and bottom"),
                       size, least, most, sides, ends));
  finding->lost_mm = MAX (sides_mm, ends_mm);
}

static void
check_margins_known (SbProofPage *proof)
{
  const SbState *state = proof->state;
  if (state->printer == NULL || state->margins_source != SB_MARGINS_FALLBACK)
    return;
  g_autofree char *assumed = sb_length_format (sb_um_to_mm (state->margins.top), proof->unit);
  sb_proof_add (proof, SB_SEVERITY_NOTE, SB_RULE_MARGINS, NULL,
                /* Translators: a printer's name and a length */
                g_strdup_printf (_ ("%1$s does not say what it leaves white on this paper, so %2$s "
                                    "is assumed on each side; measure the first page"),
                                 state->printer, assumed));
}

static int
compare_numbers (guint a, guint b)
{
  return (a > b) - (a < b);
}

static int
compare_findings (gconstpointer a, gconstpointer b)
{
  const SbFinding *x = *(const SbFinding *const *)a;
  const SbFinding *y = *(const SbFinding *const *)b;
  const int order[] = {
      compare_numbers (x->severity, y->severity),   compare_numbers (x->page_index, y->page_index),
      compare_numbers (x->layout_id, y->layout_id), compare_numbers (x->piece_id, y->piece_id),
      compare_numbers (x->rule, y->rule),           compare_numbers (x->edge, y->edge),
      compare_numbers (x->other_id, y->other_id),
  };
  for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
    if (order[i] != 0)
      return order[i];
  return 0;
}

static void
check_page (SbProofPage *proof, GHashTable *kinds, GHashTable *seen)
{
  g_autoptr (GArray) shapes = sb_shapes_of_page (proof->state, proof->page_index, kinds);
  for (guint i = 0; i < shapes->len; i++) {
    const SbShape *shape = &g_array_index (shapes, SbShape, i);
    sb_proof_check_edges (proof, shape);
    if (g_hash_table_add (seen, GUINT_TO_POINTER (shape->design->id)))
      sb_proof_check_sticker (proof, shape);
  }
  sb_proof_check_neighbours (proof, shapes);
}

static void
check_job (SbProofPage *proof, GHashTable *seen)
{
  g_autoptr (GHashTable) kinds = sb_shape_kinds_new ();
  check_borderless (proof);
  check_margins_known (proof);
  for (; proof->page_index < proof->state->pages->len; proof->page_index++)
    check_page (proof, kinds, seen);
  sb_proof_check_layouts (proof, seen);
}

GPtrArray *
sb_proof_run (const SbState *state, SbUnit unit)
{
  SbProofPage proof = {
      .state = state,
      .unit = unit,
      .findings = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_finding_free),
  };
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  if (state->view != NULL)
    sb_proof_check_layout (&proof, state, (SbIBox){0, 0, state->page_width, state->page_height},
                           seen);
  else
    check_job (&proof, seen);
  g_ptr_array_sort (proof.findings, compare_findings);
  return proof.findings;
}
