/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/what-if.h"

#include <math.h>

#include "packing/fit.h"
#include "packing/greedy.h"
#include "packing/layout.h"

#define STEP_MM 0.1 /* sizes tried are this far apart */
#define GREEDY_STEP 508
#define EFFORT 3000 /* evaluations for each copy to fit one more by search */

typedef struct {
  const SbState *state;
  const SbDesign *design;
  SbBudget budget;
  double longer; /* side of the finished size, mm */
} Question;

static SbPolygon *
scaled_outline (const SbDesign *design, double factor)
{
  SbOutline *outline = sb_design_get_outline (design);
  SbPoint centre = sb_box_centre (sb_outline_get_box (outline));
  return sb_outline_flatten (
      outline, (SbTransform){factor, 0, 0, factor, -centre.x * factor, -centre.y * factor}, 5);
}

/* The pieces of other designs on a page, as they lie. */
static GArray *
take_others (const Question *question, SbTask *task, const SbPage *page)
{
  g_autoptr (GArray) mine = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < page->n_pieces; i++)
    if (page->pieces[i].design_id == question->design->id && !page->pieces[i].pinned)
      g_array_append_val (mine, page->pieces[i].id);
  return sb_page_get_placings (question->state, page, task, (const guint *)(gpointer)mine->data,
                               mine->len);
}

/* How many copies scaled by `factor` fit on one page among what stays there: laid greedily, then
 * one more at a time by search. */
static guint
count_on_page (Question *question, const SbPage *page, double factor)
{
  g_autoptr (SbTask) task =
      sb_task_new (question->state->gap + SB_PACKING_AIM_UM, question->state->gap);
  g_autoptr (SbPolygon) outline = scaled_outline (question->design, factor);
  g_autoptr (GArray) placings = take_others (question, task, page);
  guint shape =
      sb_task_add_shape (task, sb_design_get_shape_of (question->state, question->design, outline));
  SbIBox box = sb_state_get_printable_box (question->state);
  if (!sb_shape_fits (task->shapes->pdata[shape], box))
    return 0;
  double room = (double)(box.x1 - box.x0) * (box.y1 - box.y0) /
                ((const SbShape *)task->shapes->pdata[shape])->area;
  guint most = (guint)MIN (room, 10000), others = placings->len;
  g_autofree guint *shapes = g_new (guint, most + 1);
  for (guint i = 0; i < most; i++)
    shapes[i] = shape;
  g_autoptr (SbKeepOuts) keep_outs = sb_keep_outs_new (task);
  sb_greedy_lay (keep_outs, task, box, SB_TOWARDS_TOP, GREEDY_STEP, placings, shapes, most);
  g_autoptr (SbFitter) fitter = sb_fitter_new (task);
  SbRandom random = sb_random_stream (1, 0);
  while (!sb_budget_is_spent (&question->budget)) {
    SbPlacing next = {.shape = shape, .x = (box.x0 + box.x1) / 2, .y = (box.y0 + box.y1) / 2};
    g_array_append_val (placings, next);
    if (!sb_fit (fitter, box, (SbPlacing *)(gpointer)placings->data, placings->len, &random,
                 (guint64)placings->len * EFFORT, &question->budget)) {
      g_array_set_size (placings, placings->len - 1);
      break;
    }
  }
  return placings->len - others;
}

/* Copies on all pages that carry this design. */
static guint
count (Question *question, double factor)
{
  guint n = 0;
  for (guint k = 0; k < question->state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (question->state, k);
    gboolean carries = FALSE;
    for (guint i = 0; i < page->n_pieces; i++)
      carries |= page->pieces[i].design_id == question->design->id && !page->pieces[i].pinned;
    if (carries)
      n += count_on_page (question, page, factor);
  }
  return n;
}

static guint
count_lying (const Question *question)
{
  guint n = 0;
  for (guint k = 0; k < question->state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (question->state, k);
    for (guint i = 0; i < page->n_pieces; i++)
      n += page->pieces[i].design_id == question->design->id && !page->pieces[i].pinned;
  }
  return n;
}

static guint
count_at (Question *question, double less, guint lying)
{
  return MAX (count (question, 1 - less / question->longer), lying);
}

/* The least reduction past `from` at which more than `n` copies fit, to STEP_MM, halving the way to
 * `to`; FALSE when `to` fits no more either. */
static gboolean
next_answer (Question *question, double from, double to, guint n, guint lying, double *less,
             guint *fit)
{
  *fit = count_at (question, to, lying);
  *less = to;
  if (*fit <= n)
    return FALSE;
  while (*less - from > STEP_MM * 1.001 && !sb_budget_is_spent (&question->budget)) {
    double middle = from + STEP_MM * ceil ((*less - from) / (2 * STEP_MM));
    guint there = count_at (question, middle, lying);
    if (there > n) {
      *less = middle;
      *fit = there;
    } else {
      from = middle;
    }
  }
  return TRUE;
}

GArray *
sb_what_if (const SbState *state, guint design_id, double least_factor, double seconds,
            GCancellable *cancellable, GError **error)
{
  Question question = {state,
                       sb_state_get_design (state, design_id),
                       {.deadline = g_get_monotonic_time () + (gint64)(seconds * G_USEC_PER_SEC),
                        .cancellable = cancellable}};
  g_autoptr (GArray) answers = g_array_new (FALSE, FALSE, sizeof (SbWhatIf));
  g_return_val_if_fail (question.design != NULL, g_steal_pointer (&answers));
  double width, height;
  sb_design_get_finished_size (question.design, &width, &height);
  question.longer = MAX (width, height);
  guint lying = count_lying (&question);
  double less = 0, most = STEP_MM * floor (question.longer * (1 - least_factor) / STEP_MM);
  guint n = lying > 0 ? count_at (&question, 0, lying) : 0;
  gboolean found = lying > 0;
  while (found) {
    double factor = 1 - less / question.longer;
    SbWhatIf answer = {less, width * factor, height * factor, n - lying};
    g_array_append_val (answers, answer);
    found = !sb_budget_is_spent (&question.budget) && less < most &&
            next_answer (&question, less, most, n, lying, &less, &n);
  }
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  return g_steal_pointer (&answers);
}
