/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "order/copies.h"

#include "job/edit.h"
#include "packing/arrange.h"

#define EFFORT_PER_COPY 12000 /* evaluations of the arranger */
#define EFFORT_LEAST 60000
#define SECONDS_LEAST 0.5

/* Puts a changed copy in. Consumes both. */
static SbState *
replace (SbState *state, SbDesign *design)
{
  SbState *next = sb_edit_replace_design (state, design);
  sb_state_unref (state);
  return next;
}

SbState *
sb_copies_clear (const SbState *state)
{
  g_autoptr (SbPage) page = sb_page_new (0, NULL, 0);
  SbState *cleared = sb_edit_set_pages (state, (SbPage *const[]){page}, 1);
  for (guint i = 0; i < state->designs->len; i++) {
    SbDesign *design = sb_design_copy (state->designs->pdata[i]);
    if (!design->freebie)
      design->wanted = 0;
    cleared = replace (cleared, design);
  }
  return cleared;
}

static guint64
count_copies (const SbCopies *layings, guint n)
{
  guint64 copies = 0;
  for (guint i = 0; i < n; i++)
    copies += (guint64)layings[i].copies;
  return copies;
}

static SbState *
arrange (const SbState *cleared, const SbCopies *layings, guint n, guint64 seed, gint64 deadline,
         SbArrangeProgress progress, gpointer data, GCancellable *cancellable)
{
  SbState *wanted = sb_state_ref ((SbState *)cleared);
  for (guint i = 0; i < n; i++) {
    SbDesign *design = sb_design_copy (sb_state_get_design (wanted, layings[i].design_id));
    design->wanted = layings[i].copies;
    design->freebie = FALSE;
    wanted = replace (wanted, design);
  }
  double left = (double)(deadline - g_get_monotonic_time ()) / G_USEC_PER_SEC;
  SbArrangeParams params = sb_arrange_params_default ();
  params.seed = seed;
  params.seconds = MAX (left, SECONDS_LEAST);
  params.effort = MAX (EFFORT_LEAST, count_copies (layings, n) * EFFORT_PER_COPY);
  SbState *arranged = sb_arrange (wanted, &params, progress, data, cancellable, NULL, NULL);
  sb_state_unref (wanted);
  return arranged;
}

SbState *
sb_copies_arrange (const SbState *cleared, const SbCopies *layings, guint n, guint64 seed,
                   gint64 deadline, GCancellable *cancellable)
{
  return arrange (cleared, layings, n, seed, deadline, NULL, NULL, cancellable);
}

typedef struct {
  SbPage *page;
  guint64 copies;
} Fullest;

/* Layouts of equal pages come after fuller ones, so each one told of is looked at. */
static gboolean
note_fullest (SbState *better, double fraction, gpointer data)
{
  Fullest *fullest = data;
  for (guint k = 0; k < better->pages->len; k++) {
    SbPage *page = sb_state_get_page (better, k);
    if (fullest->page != NULL && page->n_pieces <= fullest->page->n_pieces)
      continue;
    g_clear_pointer (&fullest->page, sb_page_unref);
    fullest->page = sb_copies_take_page (page, page->n_pieces);
  }
  return fullest->page->n_pieces < fullest->copies;
}

SbPage *
sb_copies_fill_page (const SbState *cleared, const SbCopies *layings, guint n, guint64 seed,
                     gint64 deadline, GCancellable *cancellable)
{
  Fullest fullest = {NULL, count_copies (layings, n)};
  g_autoptr (SbState) arranged =
      arrange (cleared, layings, n, seed, deadline, note_fullest, &fullest, cancellable);
  if (arranged != NULL)
    note_fullest (arranged, 1, &fullest);
  else
    g_clear_pointer (&fullest.page, sb_page_unref);
  return fullest.page;
}

SbPage *
sb_copies_take_page (const SbPage *page, guint n)
{
  SbPage *taken = sb_page_new (0, page->pieces, n);
  for (guint i = 0; i < n; i++)
    taken->pieces[i].id = 0;
  return taken;
}

SbState *
sb_copies_want_placed (SbState *state)
{
  for (guint i = 0; i < state->designs->len; i++) {
    SbDesign *design = sb_design_copy (state->designs->pdata[i]);
    if (!design->freebie)
      design->wanted = sb_state_count_placed (state, design->id);
    state = replace (state, design);
  }
  return state;
}
