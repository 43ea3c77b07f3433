/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each page is looked at as if it were printed once less, its other prints taking as much more as
 * the page has room for. */
#include "config.h"

#include "order/forced.h"

#include "job/edit.h"
#include "job/job-json.h"
#include "order/counts.h"
#include "order/copies.h"
#include "order/plan.h"
#include "packing/arrange.h"

#define MOST_PAGES 12 /* that are looked at */
#define SHRINK_STEP_PERCENT 1
#define SHRINK_TRIES 5 /* from 10 % down to steps of 1 % */

typedef struct {
  const SbState *state;
  SbState *cleared;
  GArray *counts; /* SbCount */
  gint64 deadline;
  GCancellable *cancellable;
} Looking;

/* One sheet less, by printing page `index` once less. */
typedef struct {
  guint index;
  SbPage *page; /* what is printed `times` then; without an id. NULL: the page goes */
  int times;
  guint pieces;
} Less;

void
sb_forced_free (SbForced *forced)
{
  if (forced == NULL)
    return;
  g_array_unref (forced->missing);
  g_clear_pointer (&forced->dropped, sb_state_unref);
  g_clear_pointer (&forced->filled, sb_state_unref);
  g_clear_pointer (&forced->shrunk, sb_state_unref);
  g_free (forced);
}

static int
count_on_page (const SbPage *page, guint design_id)
{
  int n = 0;
  for (guint i = 0; page != NULL && i < page->n_pieces; i++)
    n += page->pieces[i].design_id == design_id;
  return n;
}

static int
missing_of (const SbCount *count, const SbPage *before, int times, const SbPage *after)
{
  int others = count->printed - times * count_on_page (before, count->item_id);
  return MAX (0, count->copies - others - (times - 1) * count_on_page (after, count->item_id));
}

/* The page as full as it gets towards holding in `times` - 1 prints what it holds in `times`. New.
 */
static SbPage *
make_fuller (const Looking *looking, const SbPage *page, int times)
{
  g_autoptr (GArray) layings = g_array_new (FALSE, FALSE, sizeof (SbCopies));
  for (guint i = 0; i < looking->counts->len; i++) {
    const SbCount *count = &g_array_index (looking->counts, SbCount, i);
    int on_page = count_on_page (page, count->item_id);
    int missing = missing_of (count, page, times, page);
    SbCopies laying = {count->item_id, on_page + (missing + times - 2) / (times - 1)};
    if (laying.copies > 0)
      g_array_append_val (layings, laying);
  }
  SbPage *fuller = sb_copies_fill_page (looking->cleared, (const SbCopies *)(gpointer)layings->data,
                                        layings->len, 1, looking->deadline, looking->cancellable);
  if (fuller != NULL && fuller->n_pieces >= page->n_pieces)
    return fuller;
  g_clear_pointer (&fuller, sb_page_unref);
  return sb_copies_take_page (page, page->n_pieces);
}

static Less
look_at_page (const Looking *looking, guint index)
{
  const SbPage *page = sb_state_get_page (looking->state, index);
  int times = sb_order_get_times (looking->state->order, page->id);
  Less less = {.index = index, .times = times - 1};
  if (times > 1)
    less.page = make_fuller (looking, page, times);
  for (guint i = 0; i < looking->counts->len; i++)
    less.pieces +=
        (guint)missing_of (&g_array_index (looking->counts, SbCount, i), page, times, less.page);
  return less;
}

static gboolean
order_is_laid (GArray *counts)
{
  gboolean any = FALSE;
  for (guint i = 0; i < counts->len; i++) {
    const SbCount *count = &g_array_index (counts, SbCount, i);
    if (count->printed < count->copies)
      return FALSE;
    any |= count->copies > 0;
  }
  return any;
}

/* The page whose last print is needed by the fewest pieces; pieces 0 where there is none. */
static Less
find_least (const Looking *looking)
{
  Less least = {.pieces = 0};
  for (guint k = 0; k < MIN (looking->state->pages->len, MOST_PAGES); k++) {
    const SbPage *page = sb_state_get_page (looking->state, k);
    if (page->n_pieces == 0 || sb_order_get_times (looking->state->order, page->id) == 0)
      continue;
    Less less = look_at_page (looking, k);
    if (least.pieces > 0 && less.pieces >= least.pieces) {
      g_clear_pointer (&less.page, sb_page_unref);
      continue;
    }
    g_clear_pointer (&least.page, sb_page_unref);
    least = less;
  }
  return least;
}

/* The job with that page changed, or without it. */
static SbState *
drop (const SbState *state, const Less *less)
{
  guint id = sb_state_get_page (state, less->index)->id;
  g_autoptr (GPtrArray) pages = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_page_unref);
  for (guint k = 0; k < state->pages->len; k++)
    if (k != less->index)
      g_ptr_array_add (pages, sb_page_ref (sb_state_get_page (state, k)));
    else if (less->page != NULL)
      g_ptr_array_add (pages, sb_page_new (id, less->page->pieces, less->page->n_pieces));
  if (pages->len == 0)
    g_ptr_array_add (pages, sb_page_new (id, NULL, 0));
  SbState *laid = sb_edit_set_pages (state, (SbPage *const *)pages->pdata, pages->len);
  SbOrder *order = sb_order_copy (state->order);
  sb_order_set_times (order, id, MAX (1, less->times));
  SbState *next = sb_edit_set_order (laid, order);
  sb_state_unref (laid);
  return sb_copies_want_placed (next);
}

static void
list_missing (SbForced *forced, const Looking *looking)
{
  for (guint i = 0; i < looking->counts->len; i++) {
    const SbCount *count = &g_array_index (looking->counts, SbCount, i);
    int printed = sb_order_count_printed (forced->dropped, count->item_id);
    SbMissing missing = {count->item_id, count->name, count->copies - printed};
    if (missing.missing <= 0)
      continue;
    g_array_append_val (forced->missing, missing);
    forced->needed += (guint)MAX (0, count->to_print - printed);
  }
}

/* Consumes `state`. */
static SbState *
set_freebie (SbState *state, const SbDesign *old, gboolean freebie)
{
  SbDesign *design = sb_design_copy (old);
  design->freebie = freebie;
  design->wanted = 0; /* of freebies: as many as there is room for */
  SbState *next = sb_edit_replace_design (state, design);
  sb_state_unref (state);
  return next;
}

/* Every design on the pages becomes a freebie for a moment, and the gaps are filled with them. */
static void
fill (SbForced *forced, const Looking *looking)
{
  const GPtrArray *designs = looking->state->designs;
  SbState *state = sb_state_ref ((SbState *)looking->state);
  for (guint i = 0; i < designs->len; i++) {
    const SbDesign *design = designs->pdata[i];
    if (!design->freebie && design->wanted > 0)
      state = set_freebie (state, design, TRUE);
  }
  SbArrangeParams params = sb_arrange_params_default ();
  SbState *filled = sb_fill_gaps (state, &params, looking->cancellable, NULL, NULL);
  sb_state_unref (state);
  if (filled == NULL)
    return;
  for (guint i = 0; i < designs->len; i++) {
    const SbDesign *design = designs->pdata[i];
    if (!design->freebie && design->wanted > 0)
      filled = set_freebie (filled, design, FALSE);
  }
  forced->filled = sb_copies_want_placed (filled);
  for (guint i = 0; i < looking->counts->len; i++) {
    const SbCount *count = &g_array_index (looking->counts, SbCount, i);
    forced->extra +=
        (guint)(sb_order_count_printed (forced->filled, count->item_id) - count->printed);
  }
}

/* The job with every design that is to be printed smaller; the border keeps its width, as it would
 * if the maker did it. NULL when cancelled. */
static SbState *
make_smaller (const Looking *looking, double factor)
{
  g_autoptr (GPtrArray) smaller = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_design_unref);
  for (guint i = 0; i < looking->counts->len; i++) {
    const SbCount *count = &g_array_index (looking->counts, SbCount, i);
    if (count->copies == 0)
      continue;
    SbDesign *design = sb_design_copy (sb_state_get_design (looking->state, count->item_id));
    sb_design_set_size (design, design->width_mm * factor, design->height_mm * factor);
    g_ptr_array_add (smaller, design);
  }
  if (!sb_designs_prepare (smaller, looking->cancellable, NULL))
    return NULL;
  SbState *next = sb_state_ref ((SbState *)looking->state);
  for (guint i = 0; i < smaller->len; i++) {
    SbState *after = sb_edit_replace_design (next, sb_design_ref (smaller->pdata[i]));
    sb_state_unref (next);
    next = after;
  }
  return next;
}

/* The order laid with stickers smaller by `percent`, when that takes fewer sheets; else NULL. */
static SbState *
lay_smaller (const Looking *looking, int percent, guint sheets)
{
  g_autoptr (SbState) smaller = make_smaller (looking, 1 - percent / 100.0);
  if (smaller == NULL)
    return NULL;
  SbPlanParams params = sb_plan_params_default ();
  params.seconds =
      (double)(looking->deadline - g_get_monotonic_time ()) / G_USEC_PER_SEC / SHRINK_TRIES * 2;
  g_autoptr (SbPlan) plan = sb_order_plan (smaller, &params, looking->cancellable, NULL);
  gboolean enough = plan != NULL && plan->too_large == 0 && plan->sheets < sheets;
  return enough ? sb_state_ref (plan->state) : NULL;
}

static void
try_shrink (SbForced *forced, const Looking *looking)
{
  int good = SB_SHRINK_MOST_PERCENT, bad = 0;
  forced->shrunk = lay_smaller (looking, good, forced->sheet);
  if (forced->shrunk == NULL)
    return;
  while (good - bad > SHRINK_STEP_PERCENT && g_get_monotonic_time () < looking->deadline) {
    int middle = bad + (good - bad) / 2;
    SbState *laid = lay_smaller (looking, middle, forced->sheet);
    if (laid != NULL) {
      sb_state_unref (forced->shrunk);
      forced->shrunk = laid;
      good = middle;
    } else {
      bad = middle;
    }
  }
  forced->shrink_percent = good;
}

static SbForced *
answer (const Looking *looking, const Less *less, gboolean shrink)
{
  SbForced *forced = g_new0 (SbForced, 1);
  forced->sheet = sb_order_count_sheets (looking->state);
  forced->pieces = less->pieces;
  forced->missing = g_array_new (FALSE, FALSE, sizeof (SbMissing));
  forced->dropped = drop (looking->state, less);
  list_missing (forced, looking);
  fill (forced, looking);
  if (shrink)
    try_shrink (forced, looking);
  return forced;
}

SbForced *
sb_order_find_forced (const SbState *state, gboolean shrink, double seconds,
                      GCancellable *cancellable)
{
  g_autoptr (GArray) counts = sb_order_count (state);
  for (guint i = counts->len; i > 0; i--) /* layouts have pages of their own */
    if (g_array_index (counts, SbCount, i - 1).layout != NULL)
      g_array_remove_index (counts, i - 1);
  if (sb_order_count_sheets (state) < 2 || !order_is_laid (counts))
    return NULL;
  g_autoptr (SbState) cleared = sb_copies_clear (state);
  Looking looking = {state, cleared, counts,
                     g_get_monotonic_time () + (gint64)(seconds * G_USEC_PER_SEC), cancellable};
  Less least = find_least (&looking);
  const SbPage *holds = least.page != NULL ? least.page : sb_state_get_page (state, least.index);
  SbForced *forced = NULL;
  if (least.pieces > 0 && least.pieces <= MAX (1, SB_FORCED_SHARE * holds->n_pieces) &&
      !g_cancellable_is_cancelled (cancellable))
    forced = answer (&looking, &least, shrink);
  g_clear_pointer (&least.page, sb_page_unref);
  return forced;
}
