/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "order/print-at-home.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "job/job-json.h"
#include "order/plan.h"
#include "packing/arrange.h"

/* Ticks stay ticks; a line for the knife or none at all becomes one for scissors. */
static SbGuide
guide_at_home (const SbGuide *guide)
{
  SbGuideStyle style = guide->style == SB_GUIDE_TICKS ? SB_GUIDE_TICKS : SB_GUIDE_SCISSORS;
  return (SbGuide){style, SB_AT_HOME_GUIDE_PT, SB_AT_HOME_GUIDE_GREY};
}

static SbDesign *
design_at_home (const SbDesign *design, int copies)
{
  SbDesign *changed = sb_design_copy (design);
  SbBorderParams border = design->border;
  if (design->lettering != NULL)
    return changed; /* texts belong to sheets and cards */
  border.nook_mm = MAX (border.nook_mm, SB_AT_HOME_NOOK_MM);
  sb_design_set_border (changed, &border);
  changed->guide = guide_at_home (&design->guide);
  if (!changed->freebie)
    changed->wanted = copies;
  return changed;
}

/* Consumes `state`. NULL when cancelled or a design cannot be grown anew. */
static SbState *
change_designs (SbState *state, int copies, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) changed = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_design_unref);
  for (guint i = 0; i < state->designs->len; i++)
    g_ptr_array_add (changed, design_at_home (state->designs->pdata[i], copies));
  if (!sb_designs_prepare (changed, cancellable, error)) {
    sb_state_unref (state);
    return NULL;
  }
  for (guint i = 0; i < changed->len; i++) {
    SbState *next = sb_edit_replace_design (state, sb_design_ref (changed->pdata[i]));
    sb_state_unref (state);
    state = next;
  }
  return state;
}

/* Consumes `state`. */
static SbState *
change_sheet (SbState *state, const SbPaper *paper, sb_um foot)
{
  SbMargins margins = {SB_AT_HOME_MARGIN_UM, SB_AT_HOME_MARGIN_UM, foot, SB_AT_HOME_MARGIN_UM};
  SbState *resized = sb_edit_set_paper (state, paper->name, paper->width, paper->height);
  SbState *next = sb_edit_set_margins (resized, margins, SB_MARGINS_TYPED);
  sb_state_unref (resized);
  sb_state_unref (state);
  return next;
}

SbState *
sb_state_print_at_home (const SbState *state, const SbAtHomeParams *params, guint *too_large,
                        GCancellable *cancellable, GError **error)
{
  const SbPaper *paper = sb_paper_find (params->paper);
  g_return_val_if_fail (paper != NULL, NULL);
  g_autoptr (SbPage) page = sb_page_new (0, NULL, 0);
  SbState *empty = sb_edit_set_pages (state, (SbPage *const[]){page}, 1);
  SbState *sized = change_sheet (empty, paper, SB_AT_HOME_MARGIN_UM + SB_AT_HOME_BAR_UM);
  g_autoptr (SbState) changed = change_designs (sized, params->copies, cancellable, error);
  if (changed == NULL)
    return NULL;
  SbArrangeParams arrange = sb_arrange_params_default ();
  arrange.seconds = params->seconds;
  arrange.fill = params->fill;
  SbArrangeReport report;
  SbState *arranged = sb_arrange (changed, &arrange, NULL, NULL, cancellable, &report, error);
  if (arranged == NULL)
    return NULL;
  *too_large = report.unplaced;
  if (report.placed == 0) {
    sb_state_unref (arranged);
    g_set_error (error, SB_ORDER_ERROR, SB_ORDER_ERROR_EMPTY,
                 _ ("No sticker of the job fits on %s with margins of 12.7 mm"), _ (paper->label));
    return NULL;
  }
  return change_sheet (arranged, paper, SB_AT_HOME_MARGIN_UM);
}
