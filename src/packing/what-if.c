/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/what-if.h"

#include <math.h>

#include "job/edit.h"
#include "packing/arrange.h"
#include "packing/fit.h"
#include "packing/greedy.h"
#include "packing/layout.h"

#define STEP_MM 0.1 /* sizes tried are this far apart */
#define GREEDY_STEP 254
#define EFFORT 3000       /* evaluations for each copy to fit one more by search */
#define MOST_COPIES 10000 /* on a page */

typedef struct {
  const SbState *state;
  SbState *bare; /* without the freebies that may lie elsewhere; owned */
  const SbDesign *design;
  SbBudget budget;
  double visible; /* the longer side of the visible artwork, mm: what shrinks */
  double longer;  /* of the finished size, mm */
  guint lying;
  GError *error;
} Question;

static gboolean
is_mine (const Question *question, const SbPiece *piece)
{
  return piece->design_id == question->design->id && !piece->pinned;
}

/* Layouts are what they are: only loose pieces are laid anew. */
static guint
count_on_page (const Question *question, const SbPage *page)
{
  guint n = 0;
  for (guint i = 0; page->layout_id == 0 && i < page->n_pieces; i++)
    n += is_mine (question, &page->pieces[i]);
  return n;
}

/* The pieces of a page that stay, as they lie; pinned ones of the design in the new size. */
static GArray *
take_others (const Question *question, const SbState *state, SbTask *task, const SbPage *page)
{
  g_autoptr (GArray) mine = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < page->n_pieces; i++)
    if (is_mine (question, &page->pieces[i]))
      g_array_append_val (mine, page->pieces[i].id);
  return sb_page_get_placings (state, page, task, (const guint *)(gpointer)mine->data, mine->len);
}

/* As many copies of the design as fit on a page of `state`, where it has its new size, among what
 * stays there: laid greedily, then one more at a time by search. The copies come after the others;
 * new array of SbPlacing. */
static GArray *
lay_on_page (Question *question, const SbState *state, SbTask *task, const SbPage *page,
             guint *n_others)
{
  const SbDesign *design = sb_state_get_design (state, question->design->id);
  GArray *placings = take_others (question, state, task, page);
  guint shape = sb_task_add_shape (task, sb_design_get_shape (state, design));
  SbIBox box = sb_state_get_printable_box (state);
  *n_others = placings->len;
  if (!sb_shape_fits (task->shapes->pdata[shape], box))
    return placings;
  double room = (double)(box.x1 - box.x0) * (box.y1 - box.y0) /
                ((const SbShape *)task->shapes->pdata[shape])->area;
  guint most = (guint)MIN (room, MOST_COPIES);
  g_autofree guint *shapes = g_new (guint, most + 1);
  for (guint i = 0; i < most; i++)
    shapes[i] = shape;
  sb_greedy_lay (task, box, SB_TOWARDS_TOP, GREEDY_STEP, placings, shapes, most);
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
  return placings;
}

/* The page with its copies where they were laid; those that lay there keep their ids. */
static SbPage *
make_page (const Question *question, const SbTask *task, const SbPage *page, const GArray *placings,
           guint n_others)
{
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (SbPiece));
  guint next = 0;
  for (guint i = n_others; i < placings->len; i++) {
    const SbPlacing *placing = &g_array_index (placings, SbPlacing, i);
    SbPiece piece = {.design_id = question->design->id};
    while (next < page->n_pieces && !is_mine (question, &page->pieces[next]))
      g_array_append_val (pieces, page->pieces[next++]);
    if (next < page->n_pieces)
      piece = page->pieces[next++];
    piece.at = (SbIPoint){placing->x, placing->y};
    piece.turn = sb_task_get_pose (task, placing->shape, placing->pose)->turn;
    g_array_append_val (pieces, piece);
  }
  if (next < page->n_pieces)
    g_array_append_vals (pieces, &page->pieces[next], page->n_pieces - next);
  return sb_page_with_pieces (page, (const SbPiece *)(gpointer)pieces->data, pieces->len);
}

/* One page at the new size; as it is where no more copies are found than lie there. NULL when
 * that is not valid. */
static SbPage *
fill_page (Question *question, const SbState *state, SbPage *page)
{
  guint lying = count_on_page (question, page), n_others;
  if (lying == 0)
    return sb_page_ref (page);
  g_autoptr (SbTask) task = sb_task_new (state->gap + SB_PACKING_AIM_UM, state->gap);
  g_autoptr (GArray) placings = lay_on_page (question, state, task, page, &n_others);
  if (placings->len > n_others + lying) {
    g_autoptr (SbPage) filled = make_page (question, task, page, placings, n_others);
    if (sb_page_is_valid (state, filled))
      return g_steal_pointer (&filled);
  }
  return sb_page_is_valid (state, page) ? sb_page_ref (page) : NULL;
}

/* All pages at the new size; NULL when one cannot be. */
static SbState *
fill_pages (Question *question, const SbState *state)
{
  g_autoptr (GPtrArray) pages = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_page_unref);
  for (guint k = 0; k < state->pages->len; k++) {
    SbPage *page = fill_page (question, state, state->pages->pdata[k]);
    if (page == NULL)
      return NULL;
    g_ptr_array_add (pages, page);
  }
  return sb_edit_set_pages (state, (SbPage *const *)pages->pdata, pages->len);
}

/* Freebies make room for an ordered design: those that are not pinned go from the pages it lies on.
 * New. */
static SbState *
take_freebies_away (const Question *question)
{
  const SbState *state = question->state;
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint k = 0; k < state->pages->len && !question->design->freebie; k++) {
    const SbPage *page = sb_state_get_page (state, k);
    if (count_on_page (question, page) == 0)
      continue;
    for (guint i = 0; i < page->n_pieces; i++) {
      const SbPiece *piece = &page->pieces[i];
      const SbDesign *design = sb_state_get_design (state, piece->design_id);
      if (design->freebie && !sb_piece_is_fixed (design, piece))
        g_array_append_val (ids, piece->id);
    }
  }
  if (ids->len == 0)
    return sb_state_ref ((SbState *)state);
  return sb_edit_remove_pieces (state, (const guint *)(gpointer)ids->data, ids->len);
}

#define REFILL_SECONDS 2.0

/* The gaps filled again where freebies were taken away. Consumes `state`. */
static SbState *
fill_again (const Question *question, SbState *state)
{
  if (question->bare == question->state)
    return state;
  SbArrangeParams params = sb_arrange_params_default ();
  params.seconds = REFILL_SECONDS;
  SbState *filled = sb_fill_gaps (state, &params, question->budget.cancellable, NULL, NULL);
  if (filled == NULL) /* cancelled: nobody sees the answer */
    return state;
  sb_state_unref (state);
  return filled;
}

/* An ordered design is wanted as often as it lies. */
static SbState *
raise_wanted (SbState *state, const SbDesign *design)
{
  int placed = sb_state_count_placed (state, design->id);
  if (design->freebie || design->wanted >= placed)
    return state;
  SbDesign *raised = sb_design_copy (sb_state_get_design (state, design->id));
  raised->wanted = placed;
  SbState *next = sb_edit_replace_design (state, raised);
  sb_state_unref (state);
  return next;
}

/* The design `less` mm smaller, grown and packed; `more` is 0 where nothing is gained. FALSE with
 * the question's error set, or where the size is none. */
static gboolean
try_size (Question *question, double less, SbWhatIf *answer)
{
  const SbDesign *design = question->design;
  double factor = 1 - less / question->visible;
  g_autoptr (SbDesign) smaller = sb_design_copy (design);
  if (less > 0) {
    sb_design_set_size (smaller, design->width_mm * factor, design->height_mm * factor);
    if (!sb_design_prepare (smaller, question->budget.cancellable, &question->error))
      return FALSE;
  }
  *answer = (SbWhatIf){0};
  sb_design_get_finished_size (smaller, &answer->width_mm, &answer->height_mm);
  answer->smaller_mm = question->longer - MAX (answer->width_mm, answer->height_mm);
  g_autoptr (SbState) resized = sb_edit_replace_design (question->bare, g_steal_pointer (&smaller));
  SbState *filled = fill_pages (question, resized);
  guint n = 0;
  for (guint k = 0; filled != NULL && k < filled->pages->len; k++)
    n += count_on_page (question, filled->pages->pdata[k]);
  if (n <= question->lying) {
    g_clear_pointer (&filled, sb_state_unref);
    answer->state = sb_state_ref ((SbState *)question->state);
    return TRUE;
  }
  answer->more = n - question->lying;
  answer->state = fill_again (question, raise_wanted (filled, design));
  return TRUE;
}

static void
what_if_clear (gpointer data)
{
  g_clear_pointer (&((SbWhatIf *)data)->state, sb_state_unref);
}

/* The least reduction past `from` at which more copies fit than `more`, to STEP_MM, halving the way
 * to `to`; FALSE when `to` fits no more either. */
static gboolean
next_answer (Question *question, double from, double to, guint more, double *less, SbWhatIf *answer)
{
  if (!try_size (question, to, answer))
    return FALSE;
  *less = to;
  if (answer->more <= more) {
    what_if_clear (answer);
    return FALSE;
  }
  while (*less - from > STEP_MM * 1.001 && !sb_budget_is_spent (&question->budget)) {
    double middle = from + STEP_MM * ceil ((*less - from) / (2 * STEP_MM));
    SbWhatIf there;
    if (!try_size (question, middle, &there))
      break;
    if (there.more > more) {
      what_if_clear (answer);
      *answer = there;
      *less = middle;
    } else {
      what_if_clear (&there);
      from = middle;
    }
  }
  return TRUE;
}

GArray *
sb_what_if (const SbState *state, guint design_id, double least_factor, double seconds,
            GCancellable *cancellable, GError **error)
{
  Question question = {.state = state, .design = sb_state_get_design (state, design_id)};
  question.budget.deadline = g_get_monotonic_time () + (gint64)(seconds * G_USEC_PER_SEC);
  question.budget.cancellable = cancellable;
  g_autoptr (GArray) answers = g_array_new (FALSE, FALSE, sizeof (SbWhatIf));
  g_array_set_clear_func (answers, what_if_clear);
  g_return_val_if_fail (question.design != NULL, g_steal_pointer (&answers));
  for (guint k = 0; k < state->pages->len; k++)
    question.lying += count_on_page (&question, state->pages->pdata[k]);
  g_autoptr (SbState) bare = take_freebies_away (&question);
  question.bare = bare;
  SbBox visible = sb_outline_get_box (sb_design_get_artwork (question.design));
  question.visible = MAX (visible.x1 - visible.x0, visible.y1 - visible.y0);
  double width, height, less = 0;
  sb_design_get_finished_size (question.design, &width, &height);
  question.longer = MAX (width, height);
  double most = STEP_MM * floor (question.visible * (1 - least_factor) / STEP_MM);
  SbWhatIf answer;
  gboolean found = question.lying > 0 && try_size (&question, 0, &answer);
  while (found) {
    g_array_append_val (answers, answer);
    found = !sb_budget_is_spent (&question.budget) && less < most &&
            next_answer (&question, less, most, answer.more, &less, &answer);
  }
  if (g_cancellable_is_cancelled (cancellable))
    g_clear_error (&question.error);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  if (question.error != NULL) {
    g_propagate_error (error, question.error);
    return NULL;
  }
  return g_steal_pointer (&answers);
}
