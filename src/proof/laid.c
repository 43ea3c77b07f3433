/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How layouts lie on pages: apart and on the paper. Each is then checked inside, once, against the
 * least that the printer reaches of any of its copies. */
#include "config.h"

#include <glib/gi18n.h>

#include "job/layout-view.h"
#include "packing/impose.h"
#include "proof/rules.h"

static gboolean
boxes_overlap (SbIBox a, SbIBox b)
{
  return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
}

static gboolean
lies_well (const SbState *state, const SbLayout *layout, const SbPage *page)
{
  for (guint i = 0; i < page->n_placements; i++) {
    SbIBox box = sb_placement_get_box (layout, &page->placements[i]);
    if (box.x0 < 0 || box.y0 < 0 || box.x1 > state->page_width || box.y1 > state->page_height)
      return FALSE;
    for (guint k = 0; k < i; k++)
      if (boxes_overlap (box, sb_placement_get_box (layout, &page->placements[k])))
        return FALSE;
  }
  return TRUE;
}

static void
check_lying (SbProofPage *proof, const SbLayout *layout, const SbPage *page)
{
  if (lies_well (proof->state, layout, page))
    return;
  SbFinding *finding = sb_proof_add (
      proof, SB_SEVERITY_STOP, SB_RULE_LAID, NULL,
      g_strdup_printf (_ ("Copies of %s overlap or hang over the paper; lay it on its pages anew"),
                       layout->name));
  finding->layout_id = layout->id;
}

static void
check_test_corner (SbProofPage *proof, const SbLayout *layout)
{
  SbIBox corner;
  if (layout->kind != SB_LAYOUT_SHEET ||
      sb_impose_find_test_corner (proof->state, proof->page_index, &corner))
    return;
  SbFinding *finding = sb_proof_add (
      proof, SB_SEVERITY_NOTE, SB_RULE_TEST_CORNER, NULL,
      g_strdup_printf (_ ("No room for a test cut beside the sheets of %s: find the knife's "
                          "pressure on a scrap of the same paper"),
                       layout->name));
  finding->layout_id = layout->id;
}

/* A box of the page as the layout lying there has it. */
static SbIBox
box_in_layout (const SbLayout *layout, const SbPlacement *placement, SbIBox box)
{
  SbIBox moved = {box.x0 - placement->at.x, box.y0 - placement->at.y, box.x1 - placement->at.x,
                  box.y1 - placement->at.y};
  if (!placement->turned)
    return moved;
  return (SbIBox){moved.y0, layout->height - moved.x1, moved.y1, layout->height - moved.x0};
}

static SbIBox
cut_box (SbIBox a, SbIBox b)
{
  SbIBox cut = {MAX (a.x0, b.x0), MAX (a.y0, b.y0), MIN (a.x1, b.x1), MIN (a.y1, b.y1)};
  cut.x1 = MAX (cut.x1, cut.x0);
  cut.y1 = MAX (cut.y1, cut.y0);
  return cut;
}

/* What of the layout is printed in all of its copies and lies within its finished size. */
static SbIBox
find_reach (const SbState *state, const SbLayout *layout)
{
  SbIBox printable = sb_state_get_printable_box (state);
  SbIBox reach = {0, 0, layout->width, layout->height};
  for (guint i = 0; i < state->pages->len; i++) {
    const SbPage *page = state->pages->pdata[i];
    for (guint k = 0; k < page->n_placements && page->layout_id == layout->id; k++)
      reach = cut_box (reach, box_in_layout (layout, &page->placements[k], printable));
  }
  return reach;
}

/* The first page that carries it, or the number of pages. */
static guint
find_first_page (const SbState *state, const SbLayout *layout)
{
  guint i = 0;
  while (i < state->pages->len && sb_state_get_page (state, i)->layout_id != layout->id)
    i++;
  return i;
}

/* The first page stands for all: the others carry as many copies in the same places, or fewer. */
void
sb_proof_check_layouts (SbProofPage *proof, GHashTable *seen)
{
  for (guint i = 0; i < proof->state->layouts->len; i++) {
    const SbLayout *layout = proof->state->layouts->pdata[i];
    proof->page_index = find_first_page (proof->state, layout);
    if (proof->page_index < proof->state->pages->len) {
      check_lying (proof, layout, sb_state_get_page (proof->state, proof->page_index));
      check_test_corner (proof, layout);
    } else {
      proof->page_index = 0;
    }
    g_autoptr (SbState) view = sb_layout_to_state (proof->state, layout->id);
    sb_proof_check_layout (proof, view, find_reach (proof->state, layout), seen);
  }
}
