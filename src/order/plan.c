/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each way gives drafts: pages (a list of pieces) and how often each is printed. The arranger is
 * asked with an effort, not a time, so that an order is laid alike on every machine that is fast
 * enough for `seconds`. */
#include "config.h"

#include "order/plan.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/edit.h"
#include "order/counts.h"
#include "order/copies.h"
#include "packing/arrange.h"
#include "packing/impose.h"
#include "packing/layout.h"

#define MIXED_MOST 200 /* copies arranged at once */
#define DENSEST 0.99

G_DEFINE_QUARK (sb - order - error - quark, sb_order_error)

typedef struct {
  GPtrArray *pages; /* SbPage */
  GArray *times;    /* int */
} Draft;

typedef struct {
  const SbState *state; /* without pieces; designs want nothing */
  GArray *counts;       /* SbCount: those that are to be printed and fit a page */
  const SbPlanParams *params;
  gint64 deadline;
  GCancellable *cancellable;
  guint n_low; /* sheets that are needed at least, by area */
} Planning;

SbPlanParams
sb_plan_params_default (void)
{
  return (SbPlanParams){.seed = 1, .seconds = 30};
}

static Draft *
draft_new (void)
{
  Draft *draft = g_new0 (Draft, 1);
  draft->pages = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_page_unref);
  draft->times = g_array_new (FALSE, FALSE, sizeof (int));
  return draft;
}

static void
draft_free (Draft *draft)
{
  if (draft == NULL)
    return;
  g_ptr_array_unref (draft->pages);
  g_array_unref (draft->times);
  g_free (draft);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Draft, draft_free)

static gboolean
pages_look_alike (const SbPage *a, const SbPage *b)
{
  if (a->n_pieces != b->n_pieces)
    return FALSE;
  for (guint i = 0; i < a->n_pieces; i++) {
    SbPiece piece = a->pieces[i];
    piece.id = b->pieces[i].id;
    if (!sb_piece_equal (&piece, &b->pieces[i]))
      return FALSE;
  }
  return TRUE;
}

/* A page that looks like one there is printed more often instead. */
static void
draft_add (Draft *draft, const SbPage *page, int times)
{
  for (guint i = 0; i < draft->pages->len; i++)
    if (pages_look_alike (draft->pages->pdata[i], page)) {
      g_array_index (draft->times, int, i) += times;
      return;
    }
  g_ptr_array_add (draft->pages, sb_copies_take_page (page, page->n_pieces));
  g_array_append_val (draft->times, times);
}

static guint
draft_count_sheets (const Draft *draft)
{
  guint sheets = 0;
  for (guint i = 0; draft != NULL && i < draft->times->len; i++)
    sheets += (guint)g_array_index (draft->times, int, i);
  return sheets;
}

/* `a` is not NULL. */
static gboolean
draft_is_better (const Draft *a, const Draft *b)
{
  if (b == NULL)
    return TRUE;
  guint sheets_a = draft_count_sheets (a), sheets_b = draft_count_sheets (b);
  return sheets_a != sheets_b ? sheets_a < sheets_b : a->pages->len < b->pages->len;
}

static const SbCount *
count_at (const Planning *planning, guint i)
{
  return &g_array_index (planning->counts, SbCount, i);
}

static SbCopies *
list_layings (const Planning *planning, const int *copies)
{
  SbCopies *layings = g_new (SbCopies, planning->counts->len);
  for (guint i = 0; i < planning->counts->len; i++)
    layings[i] = (SbCopies){count_at (planning, i)->item_id, copies[i]};
  return layings;
}

/* NULL when cancelled. */
static SbState *
arrange (const Planning *planning, const int *copies)
{
  g_autofree SbCopies *layings = list_layings (planning, copies);
  return sb_copies_arrange (planning->state, layings, planning->counts->len, planning->params->seed,
                            planning->deadline, planning->cancellable);
}

/* The fullest page of these copies; NULL when cancelled. */
static SbPage *
fill_page (const Planning *planning, const int *copies)
{
  g_autofree SbCopies *layings = list_layings (planning, copies);
  return sb_copies_fill_page (planning->state, layings, planning->counts->len,
                              planning->params->seed, planning->deadline, planning->cancellable);
}

static gboolean
is_over (const Planning *planning)
{
  return g_cancellable_is_cancelled (planning->cancellable) ||
         g_get_monotonic_time () > planning->deadline;
}

/* What a copy takes of the page, with half the gap around it: mm2. A strip of half the gap along
 * the outline is no more than the strip's true area for convex outlines (Steiner's formula);
 * notches have less, hence the factor. */
#define STRIP_FACTOR 0.9

static double
area_with_gap (const SbState *state, guint design_id)
{
  const SbOutline *outline = sb_design_get_outline (sb_state_get_design (state, design_id));
  double half = sb_um_to_mm (state->gap) / 2;
  return sb_outline_get_area_mm2 (outline) +
         half * sb_outline_get_perimeter_mm (outline) * STRIP_FACTOR;
}

static double
page_with_gap (const SbState *state)
{
  SbIBox box = sb_state_get_printable_box (state);
  double gap = sb_um_to_mm (state->gap);
  return (sb_um_to_mm (box.x1 - box.x0) + gap) * (sb_um_to_mm (box.y1 - box.y0) + gap);
}

static double
share_of_page (const Planning *planning, const int *copies)
{
  double area = 0;
  for (guint i = 0; i < planning->counts->len; i++)
    area += copies[i] * area_with_gap (planning->state, count_at (planning, i)->item_id);
  return area / page_with_gap (planning->state);
}

static int
divide_up (int copies, int n)
{
  return (copies + n - 1) / n;
}

/* One page of ceil(copies / n) each for the least n below `most` that works. */
static Draft *
plan_equal (const Planning *planning, guint most)
{
  guint n_designs = planning->counts->len;
  g_autofree int *copies = g_new0 (int, n_designs);
  for (guint n = planning->n_low; n < most && !is_over (planning); n++) {
    gboolean same = TRUE;
    guint sum = 0;
    for (guint i = 0; i < n_designs; i++) {
      int share = divide_up (count_at (planning, i)->copies, (int)n);
      same &= share == copies[i];
      copies[i] = share;
      sum += (guint)share;
    }
    if (same || share_of_page (planning, copies) > DENSEST)
      continue;
    g_autoptr (SbPage) page = fill_page (planning, copies);
    if (page == NULL || page->n_pieces < sum)
      continue;
    Draft *draft = draft_new ();
    draft_add (draft, page, (int)n);
    return draft;
  }
  return NULL;
}

/* A page as full as it gets of one design, or of all its copies where those are fewer. */
static SbPage *
fill_with_one (const Planning *planning, guint i)
{
  g_autofree int *copies = g_new0 (int, planning->counts->len);
  double share = area_with_gap (planning->state, count_at (planning, i)->item_id) /
                 page_with_gap (planning->state);
  copies[i] = MIN (count_at (planning, i)->copies, (int)ceil (1 / share));
  return fill_page (planning, copies);
}

/* As many times as it takes, and no more copies on it than that takes. */
static void
add_one_design (Draft *draft, const SbPage *full, int copies)
{
  int times = divide_up (copies, (int)full->n_pieces);
  g_autoptr (SbPage) page = sb_copies_take_page (full, (guint)divide_up (copies, times));
  draft_add (draft, page, times);
}

static Draft *
plan_one_each (const Planning *planning, GPtrArray *full)
{
  Draft *draft = draft_new ();
  for (guint i = 0; i < planning->counts->len; i++)
    add_one_design (draft, full->pdata[i], count_at (planning, i)->copies);
  return draft;
}

static void
draft_add_state (Draft *draft, const SbState *arranged)
{
  for (guint k = 0; k < arranged->pages->len; k++)
    if (sb_state_get_page (arranged, k)->n_pieces > 0)
      draft_add (draft, sb_state_get_page (arranged, k), 1);
}

static Draft *
plan_full_rest (const Planning *planning, GPtrArray *full)
{
  guint n_designs = planning->counts->len;
  g_autofree int *rest = g_new0 (int, n_designs);
  g_autoptr (Draft) draft = draft_new ();
  int n_rest = 0;
  for (guint i = 0; i < n_designs; i++) {
    const SbPage *page = full->pdata[i];
    int copies = count_at (planning, i)->copies, times = copies / (int)page->n_pieces;
    if (times > 0)
      draft_add (draft, page, times);
    rest[i] = copies % (int)page->n_pieces;
    n_rest += rest[i];
  }
  if (draft->pages->len == 0)
    return NULL; /* the same as arranging all at once */
  if (n_rest > 0) {
    g_autoptr (SbState) arranged = arrange (planning, rest);
    if (arranged == NULL)
      return NULL;
    draft_add_state (draft, arranged);
  }
  return g_steal_pointer (&draft);
}

static Draft *
plan_mixed (const Planning *planning)
{
  guint n = planning->counts->len;
  g_autofree int *copies = g_new0 (int, n);
  int sum = 0;
  for (guint i = 0; i < n; i++)
    sum += copies[i] = count_at (planning, i)->copies;
  if (sum > MIXED_MOST)
    return NULL;
  g_autoptr (SbState) arranged = arrange (planning, copies);
  if (arranged == NULL)
    return NULL;
  Draft *draft = draft_new ();
  draft_add_state (draft, arranged);
  return draft;
}

static gboolean
fits_page (const SbState *state, guint design_id)
{
  SbShape *shape = sb_design_get_shape (state, sb_state_get_design (state, design_id));
  gboolean fits = sb_shape_fits (shape, sb_state_get_printable_box (state));
  sb_shape_free (shape);
  return fits;
}

/* Which designs have to be printed; tells how many of them no page has room for. */
static GArray *
list_wanted (const SbState *state, guint *too_large)
{
  GArray *counts = sb_order_count (state);
  *too_large = 0;
  for (guint i = counts->len; i > 0; i--) {
    const SbCount *count = &g_array_index (counts, SbCount, i - 1);
    gboolean wanted = count->copies > 0 && count->layout == NULL;
    gboolean fits = wanted && fits_page (state, count->item_id);
    *too_large += wanted && !fits;
    if (!fits)
      g_array_remove_index (counts, i - 1);
  }
  return counts;
}

static guint
least_sheets (const Planning *planning)
{
  g_autofree int *copies = g_new0 (int, planning->counts->len);
  for (guint i = 0; i < planning->counts->len; i++)
    copies[i] = count_at (planning, i)->copies;
  return MAX (1, (guint)ceil (share_of_page (planning, copies) - 1e-6));
}

/* Consumes `state`. */
static SbState *
set_times (SbState *state, guint page_id, int times)
{
  SbOrder *order = sb_order_copy (state->order);
  sb_order_set_times (order, page_id, times);
  SbState *next = sb_edit_set_order (state, order);
  sb_state_unref (state);
  return next;
}

/* The layout's copies on one page of their own, which is printed as often as it takes. Consumes
 * `state`. */
static SbState *
lay_layout (SbState *state, const SbCount *count, guint *too_large)
{
  int per_page = (int)sb_impose_count (state, count->layout);
  if (per_page == 0) {
    ++*too_large;
    return state;
  }
  int times = divide_up (count->copies, per_page);
  SbLayout *layout = sb_layout_copy (count->layout);
  layout->wanted = divide_up (count->copies, times);
  SbState *changed = sb_edit_replace_layout (state, layout);
  SbState *laid = sb_impose_layout (changed, count->item_id);
  sb_state_unref (changed);
  sb_state_unref (state);
  for (guint k = 0; k < laid->pages->len; k++)
    if (sb_state_get_page (laid, k)->layout_id == count->item_id)
      return set_times (laid, sb_state_get_page (laid, k)->id, times);
  return laid;
}

/* Consumes `state`; `order` is the state that the order is read from. */
static SbState *
lay_layouts (SbState *state, const SbState *order, guint *too_large)
{
  g_autoptr (GArray) counts = sb_order_count (order);
  for (guint i = 0; i < counts->len; i++) {
    const SbCount *count = &g_array_index (counts, SbCount, i);
    if (count->layout != NULL && count->copies > 0)
      state = lay_layout (state, count, too_large);
  }
  return state;
}

static gboolean
wants_layouts (const SbState *state)
{
  g_autoptr (GArray) counts = sb_order_count (state);
  for (guint i = 0; i < counts->len; i++)
    if (g_array_index (counts, SbCount, i).layout != NULL &&
        g_array_index (counts, SbCount, i).copies > 0)
      return TRUE;
  return FALSE;
}

/* The pages of the draft (NULL: none) in the job: how often each is printed, and what its designs
 * then want. */
static SbState *
take_draft (const SbState *state, const Draft *draft)
{
  g_autoptr (SbPage) empty = sb_page_new (0, NULL, 0);
  SbState *laid = draft != NULL ? sb_edit_set_pages (state, (SbPage *const *)draft->pages->pdata,
                                                     draft->pages->len)
                                : sb_edit_set_pages (state, (SbPage *const[]){empty}, 1);
  SbOrder *order = sb_order_copy (state->order);
  g_array_set_size (order->runs, 0);
  for (guint k = 0; draft != NULL && k < laid->pages->len; k++)
    sb_order_set_times (order, sb_state_get_page (laid, k)->id,
                        g_array_index (draft->times, int, k));
  SbState *next = sb_edit_set_order (laid, order);
  sb_state_unref (laid);
  return sb_copies_want_placed (next);
}

static void
take_better (SbPlan *plan, SbPlanWay way, Draft **best, Draft *draft)
{
  plan->sheets_by[way] = draft_count_sheets (draft);
  if (draft == NULL || !draft_is_better (draft, *best)) {
    draft_free (draft);
    return;
  }
  draft_free (*best);
  *best = draft;
  plan->way = way;
}

static void
search (const Planning *planning, SbPlan *plan, Draft **best)
{
  g_autoptr (GPtrArray) full = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_page_unref);
  for (guint i = 0; i < planning->counts->len; i++) {
    SbPage *page = fill_with_one (planning, i);
    if (page == NULL)
      return; /* cancelled */
    g_ptr_array_add (full, page);
  }
  take_better (plan, SB_PLAN_ONE_EACH, best, plan_one_each (planning, full));
  if (planning->counts->len == 1)
    return;
  take_better (plan, SB_PLAN_EQUAL, best, plan_equal (planning, draft_count_sheets (*best) + 1));
  if (draft_count_sheets (*best) == planning->n_low || is_over (planning))
    return;
  take_better (plan, SB_PLAN_FULL_REST, best, plan_full_rest (planning, full));
  if (draft_count_sheets (*best) > planning->n_low && !is_over (planning))
    take_better (plan, SB_PLAN_MIXED, best, plan_mixed (planning));
}

void
sb_plan_free (SbPlan *plan)
{
  g_clear_pointer (&plan->state, sb_state_unref);
  g_free (plan);
}

SbPlan *
sb_order_plan (const SbState *state, const SbPlanParams *params, GCancellable *cancellable,
               GError **error)
{
  g_autoptr (SbPlan) plan = g_new0 (SbPlan, 1);
  g_autoptr (GArray) counts = list_wanted (state, &plan->too_large);
  if (counts->len == 0 && !wants_layouts (state)) {
    g_set_error (error, SB_ORDER_ERROR, SB_ORDER_ERROR_EMPTY, "%s",
                 plan->too_large > 0
                     ? _ ("What the order asks for is larger than the printable area")
                     : _ ("The order asks for nothing that has to be printed"));
    return NULL;
  }
  g_autoptr (SbState) empty = sb_copies_clear (state);
  Planning planning = {
      .state = empty,
      .counts = counts,
      .params = params,
      .deadline = g_get_monotonic_time () + (gint64)(params->seconds * G_USEC_PER_SEC),
      .cancellable = cancellable,
  };
  planning.n_low = least_sheets (&planning);
  g_autoptr (Draft) best = NULL;
  if (counts->len > 0)
    search (&planning, plan, &best);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  plan->state = lay_layouts (take_draft (state, best), state, &plan->too_large);
  if (params->fill) {
    SbArrangeParams fill = sb_arrange_params_default ();
    fill.seed = params->seed;
    SbState *filled = sb_fill_gaps (plan->state, &fill, cancellable, NULL, error);
    if (filled == NULL)
      return NULL;
    sb_state_unref (plan->state);
    plan->state = filled;
  }
  plan->sheets = sb_order_count_sheets (plan->state);
  plan->pages = plan->state->pages->len;
  return g_steal_pointer (&plan);
}
