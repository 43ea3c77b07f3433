/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A copy's tag is its place in `pieces`: what lies already keeps its id there, so that undo and the
 * selection stay sensible; copies still wanted have id 0 until the new pages are set. */
#include "packing/arrange.h"

#include "job/edit.h"
#include "packing/lattice.h"
#include "packing/layout.h"
#include "packing/rows.h"

typedef struct {
  const SbState *state;
  const SbArrangeParams *params;
  gint64 begun;
  SbTask *task;
  GHashTable *shape_of; /* design id -> shape index */
  GArray *pieces;       /* SbPiece: every copy there is to be */
  GArray *copies;       /* SbPlacing: those that are free to lie anywhere; those that lie first */
  guint n_designs;      /* how many different ones those are */
  guint n_lying;        /* how many of `copies` lie on a page already */
  guint unplaced;
  SbArrangeProgress progress;
  gpointer data;
  SbBudget budget;
} Arranging;

SbArrangeParams
sb_arrange_params_default (void)
{
  return (SbArrangeParams){.seed = 1, .seconds = 5};
}

static guint
shape_of (Arranging *arranging, const SbDesign *design)
{
  gpointer found;
  if (g_hash_table_lookup_extended (arranging->shape_of, GUINT_TO_POINTER (design->id), NULL,
                                    &found))
    return GPOINTER_TO_UINT (found);
  guint index = sb_task_add_shape (arranging->task, sb_design_get_shape (arranging->state, design));
  g_hash_table_insert (arranging->shape_of, GUINT_TO_POINTER (design->id),
                       GUINT_TO_POINTER (index));
  return index;
}

/* The pose a piece lies in; FALSE with pose 0 when its design may not lie so. */
static gboolean
find_pose (SbShape *shape, gint32 turn, guint *found)
{
  *found = 0;
  if (shape->cyclic)
    *found = sb_shape_take_pose (shape, turn);
  else
    while (*found + 1 < shape->n_poses && shape->poses[*found].turn != turn)
      (*found)++;
  if (sb_shape_get_pose (shape, *found)->turn == turn)
    return TRUE;
  *found = 0;
  return FALSE;
}

/* What lies on the pages: the pinned pieces alone, and all of it. */
typedef struct {
  SbPages *pinned, *in_hand;
  gboolean keep; /* all that lies is valid and in a turn the search knows */
} Laid;

/* Adds a piece that lies to what is arranged. */
static void
take_piece (Arranging *arranging, const SbPiece *piece, GArray *pinned, GArray *in_hand, Laid *laid)
{
  const SbDesign *design = sb_state_get_design (arranging->state, piece->design_id);
  if (!piece->pinned && design->freebie && arranging->params->fill)
    return; /* lifted; the gaps are filled afresh */
  gboolean fixed = sb_piece_is_fixed (design, piece);
  SbPlacing placing = {.x = piece->at.x, .y = piece->at.y, .tag = arranging->pieces->len};
  g_array_append_val (arranging->pieces, *piece);
  if (fixed) {
    placing.fixed = TRUE;
    placing.shape = sb_task_add_shape (
        arranging->task, sb_design_get_turned_shape (arranging->state, design, piece->turn));
    g_array_append_val (pinned, placing);
  } else {
    placing.shape = shape_of (arranging, design);
    laid->keep &=
        find_pose (arranging->task->shapes->pdata[placing.shape], piece->turn, &placing.pose);
    g_array_append_val (arranging->copies, placing);
  }
  g_array_append_val (in_hand, placing);
}

/* Adds the copies that are wanted and do not lie anywhere yet. Of a layout, what lies on it is what
 * is wanted there. */
static void
take_missing (Arranging *arranging)
{
  if (arranging->state->view != NULL)
    return;
  for (guint i = 0; i < arranging->state->designs->len; i++) {
    const SbDesign *design = arranging->state->designs->pdata[i];
    int missing = design->wanted - sb_state_count_placed (arranging->state, design->id);
    for (int k = 0; k < missing && !design->freebie; k++) {
      SbPlacing placing = {.shape = shape_of (arranging, design), .tag = arranging->pieces->len};
      SbPiece piece = {.design_id = design->id};
      g_array_append_val (arranging->pieces, piece);
      g_array_append_val (arranging->copies, placing);
    }
  }
}

static Laid
take_state (Arranging *arranging)
{
  SbIBox box = sb_state_get_printable_box (arranging->state);
  Laid laid = {sb_pages_new (arranging->task, box), sb_pages_new (arranging->task, box), TRUE};
  for (guint k = 0; k < arranging->state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (arranging->state, k);
    if (page->layout_id != 0)
      continue;
    g_autoptr (GArray) pinned = g_array_new (FALSE, FALSE, sizeof (SbPlacing));
    g_autoptr (GArray) in_hand = g_array_new (FALSE, FALSE, sizeof (SbPlacing));
    for (guint i = 0; i < page->n_pieces; i++)
      take_piece (arranging, &page->pieces[i], pinned, in_hand, &laid);
    laid.keep &= sb_page_is_valid (arranging->state, page);
    if (pinned->len > 0)
      g_ptr_array_add (laid.pinned->pages, g_array_ref (pinned));
    if (in_hand->len > 0)
      g_ptr_array_add (laid.in_hand->pages, g_array_ref (in_hand));
  }
  arranging->n_lying = arranging->copies->len;
  take_missing (arranging);
  arranging->n_designs = g_hash_table_size (arranging->shape_of);
  return laid;
}

/* The id of the page that a piece on `page` is pinned to; 0 when none is. */
static guint
page_id_of (const Arranging *arranging, const GArray *page)
{
  for (guint i = 0; i < page->len; i++) {
    const SbPlacing *placing = &g_array_index (page, SbPlacing, i);
    guint index;
    if (placing->fixed &&
        sb_state_get_piece (arranging->state,
                            g_array_index (arranging->pieces, SbPiece, placing->tag).id, &index))
      return sb_state_get_page (arranging->state, index)->id;
  }
  return 0;
}

static SbPage *
make_page (const Arranging *arranging, const GArray *page, guint id)
{
  g_autofree SbPiece *pieces = g_new (SbPiece, page->len);
  for (guint i = 0; i < page->len; i++) {
    const SbPlacing *placing = &g_array_index (page, SbPlacing, i);
    pieces[i] = g_array_index (arranging->pieces, SbPiece, placing->tag);
    if (placing->fixed)
      continue;
    pieces[i].at = (SbIPoint){placing->x, placing->y};
    pieces[i].turn = sb_task_get_pose (arranging->task, placing->shape, placing->pose)->turn;
  }
  return sb_page_new (id, pieces, page->len);
}

/* Ids of pages nothing is pinned to, for the new pages in order. */
static GArray *
spare_page_ids (const Arranging *arranging, const SbPages *pages)
{
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint k = 0; k < arranging->state->pages->len; k++) {
    guint id = sb_state_get_page (arranging->state, k)->id;
    gboolean taken = sb_state_get_page (arranging->state, k)->layout_id != 0;
    for (guint i = 0; i < pages->pages->len; i++)
      taken |= page_id_of (arranging, pages->pages->pdata[i]) == id;
    if (!taken)
      g_array_append_val (ids, id);
  }
  return ids;
}

/* Pages that carry a layout stay as they are, behind the others. */
static void
keep_laid_pages (const SbState *state, GPtrArray *made)
{
  for (guint k = 0; k < state->pages->len; k++)
    if (sb_state_get_page (state, k)->layout_id != 0)
      g_ptr_array_add (made, sb_page_ref (sb_state_get_page (state, k)));
}

/* The state with these pages; NULL when the exact check finds fault with one. */
static SbState *
make_state (const Arranging *arranging, const SbPages *pages)
{
  g_autoptr (GPtrArray) made = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_page_unref);
  g_autoptr (GArray) spare = spare_page_ids (arranging, pages);
  guint next = 0;
  for (guint i = 0; i < pages->pages->len; i++) {
    const GArray *page = pages->pages->pdata[i];
    guint id = page_id_of (arranging, page);
    if (id == 0 && next < spare->len)
      id = g_array_index (spare, guint, next++);
    SbPage *new_page = make_page (arranging, page, id);
    g_ptr_array_add (made, new_page);
    if (!sb_page_is_valid (arranging->state, new_page))
      return NULL;
  }
  keep_laid_pages (arranging->state, made);
  if (made->len == 0)
    g_ptr_array_add (made,
                     sb_page_new (spare->len > 0 ? g_array_index (spare, guint, 0) : 0, NULL, 0));
  return sb_edit_set_pages (arranging->state, (SbPage *const *)made->pdata, made->len);
}

static double
fraction_done (const Arranging *arranging)
{
  double by_time = (double)(g_get_monotonic_time () - arranging->begun) /
                   MAX (1, (double)(arranging->budget.deadline - arranging->begun));
  double by_effort = arranging->budget.effort > 0
                         ? (double)arranging->budget.evaluations / (double)arranging->budget.effort
                         : 0;
  return CLAMP (MAX (by_time, by_effort), 0, 1);
}

/* The best layout so far that passed the exact check. */
typedef struct {
  Arranging *arranging;
  SbState *best;
  guint most_pages; /* layouts of more pages are not published: equal pages come before those of a
                       like number */
} Publishing;

static gboolean
publish (const SbPages *better, gpointer data)
{
  Publishing *publishing = data;
  if (better->pages->len > publishing->most_pages)
    return TRUE;
  SbState *state = make_state (publishing->arranging, better);
  if (state == NULL)
    return TRUE;
  g_clear_pointer (&publishing->best, sb_state_unref);
  publishing->best = state;
  const Arranging *arranging = publishing->arranging;
  return arranging->progress == NULL ||
         arranging->progress (state, fraction_done (arranging), arranging->data);
}

/* Whole pages of one design in the tightest lattice, as far as there are copies for them; the rest
 * is laid as usual. NULL when no design has enough copies to fill a page. */
static SbPages *
lay_lattices (Arranging *arranging, const SbPages *pinned)
{
  const SbPlacing *copies = (const SbPlacing *)(gpointer)arranging->copies->data;
  guint n = arranging->copies->len, n_shapes = arranging->task->shapes->len;
  g_autofree guint *counts = g_new0 (guint, n_shapes);
  for (guint i = 0; i < n; i++)
    counts[copies[i].shape]++;
  g_autoptr (SbPages) pages = sb_pages_copy (pinned);
  g_autoptr (SbKeepOuts) keep_outs = sb_keep_outs_new (arranging->task);
  g_autoptr (GArray) rest = g_array_new (FALSE, FALSE, sizeof (SbPlacing));
  gboolean any = FALSE;
  for (guint shape = 0; shape < n_shapes; shape++) {
    g_autoptr (GArray) pattern = NULL;
    double page = (double)(pages->box.x1 - pages->box.x0) * (pages->box.y1 - pages->box.y0);
    if (counts[shape] * ((const SbShape *)arranging->task->shapes->pdata[shape])->area > page / 3)
      pattern = sb_lattice_lay (arranging->task, keep_outs, pages->box, shape);
    guint laid = 0, most = pattern == NULL || pattern->len == 0 ? 0 : counts[shape];
    if (arranging->n_designs > 1 && most > 0) /* what fills no page may mix with the others */
      most -= counts[shape] % pattern->len;
    any |= most > 0;
    for (guint i = 0; i < n; i++) {
      if (copies[i].shape != shape)
        continue;
      if (laid == most) {
        g_array_append_val (rest, copies[i]);
        continue;
      }
      if (laid % pattern->len == 0)
        sb_pages_add (pages);
      SbPlacing placing = g_array_index (pattern, SbPlacing, laid % pattern->len);
      placing.tag = copies[i].tag;
      g_array_append_val ((GArray *)pages->pages->pdata[pages->pages->len - 1], placing);
      laid++;
    }
  }
  if (!any)
    return NULL;
  sb_pages_lay (pages, (const SbPlacing *)(gpointer)rest->data, rest->len, &arranging->budget);
  return g_steal_pointer (&pages);
}

/* Consumes both; the better one, `a` when neither is. */
static SbPages *
better_of (SbPages *a, SbPages *b)
{
  if (b != NULL && sb_pages_better (b, a)) {
    sb_pages_free (a);
    return b;
  }
  if (b != NULL)
    sb_pages_free (b);
  return a;
}

/* What lies, with what is missing added; NULL where it cannot stay. */
static SbPages *
lay_missing (Arranging *arranging, const Laid *laid)
{
  const SbPlacing *copies = (const SbPlacing *)(gpointer)arranging->copies->data;
  guint n_lying = arranging->n_lying;
  if (!laid->keep || arranging->params->rows)
    return NULL;
  SbPages *kept = sb_pages_copy (laid->in_hand);
  sb_pages_lay (kept, copies + n_lying, arranging->copies->len - n_lying, &arranging->budget);
  return kept;
}

/* All of it laid afresh. */
static SbPages *
lay_afresh (Arranging *arranging, const Laid *laid)
{
  const SbPlacing *copies = (const SbPlacing *)(gpointer)arranging->copies->data;
  guint n = arranging->copies->len;
  SbPages *pages = sb_pages_copy (laid->pinned);
  if (arranging->params->rows) {
    sb_rows_lay (pages, copies, n);
    return pages;
  }
  sb_pages_lay (pages, copies, n, &arranging->budget);
  return better_of (pages, lay_lattices (arranging, laid->pinned));
}

/* The copies of one of `n_pages` equal pages: those of every design divided by it. FALSE when they
 * do not divide. */
static gboolean
divide_copies (const Arranging *arranging, guint n_pages, GArray *share)
{
  g_autofree guint *counts = g_new0 (guint, arranging->task->shapes->len);
  g_autofree guint *taken = g_new0 (guint, arranging->task->shapes->len);
  for (guint i = 0; i < arranging->copies->len; i++)
    counts[g_array_index (arranging->copies, SbPlacing, i).shape]++;
  for (guint i = 0; i < arranging->copies->len; i++) {
    const SbPlacing *copy = &g_array_index (arranging->copies, SbPlacing, i);
    if (counts[copy->shape] % n_pages != 0)
      return FALSE;
    if (taken[copy->shape] < counts[copy->shape] / n_pages) {
      taken[copy->shape]++;
      g_array_append_val (share, *copy);
    }
  }
  return TRUE;
}

/* Lays every copy where one of `page` lies: page k takes the k-th copies of each design. */
static SbPages *
repeat_page (const Arranging *arranging, const GArray *page, guint n_pages)
{
  SbPages *pages = sb_pages_new (arranging->task, sb_state_get_printable_box (arranging->state));
  g_autofree gboolean *used = g_new0 (gboolean, arranging->copies->len);
  for (guint k = 0; k < n_pages; k++) {
    GArray *next = sb_pages_add (pages);
    for (guint i = 0; i < page->len; i++) {
      SbPlacing placing = g_array_index (page, SbPlacing, i);
      guint c = 0;
      while (used[c] || g_array_index (arranging->copies, SbPlacing, c).shape != placing.shape)
        c++;
      used[c] = TRUE;
      placing.tag = g_array_index (arranging->copies, SbPlacing, c).tag;
      g_array_append_val (next, placing);
    }
  }
  return pages;
}

#define EQUAL_EFFORT 4000 /* evaluations for each copy to make an equal page */

/* As many equal pages as `pages` has, or one fewer; NULL when that cannot be found. */
static SbPages *
lay_equal (Arranging *arranging, const Laid *laid, const SbPages *pages)
{
  if (laid->pinned->pages->len > 0 || arranging->unplaced > 0 || pages->pages->len < 2)
    return NULL;
  g_autoptr (SbFitter) fitter = sb_fitter_new (arranging->task);
  for (guint n_pages = MAX (2, pages->pages->len - 1); n_pages <= pages->pages->len; n_pages++) {
    g_autoptr (GArray) share = g_array_new (FALSE, FALSE, sizeof (SbPlacing));
    if (!divide_copies (arranging, n_pages, share))
      continue;
    g_autoptr (SbPages) one = sb_pages_new (arranging->task, pages->box);
    sb_pages_lay (one, (const SbPlacing *)(gpointer)share->data, share->len, &arranging->budget);
    if (one->pages->len == 0)
      continue;
    GArray *page = one->pages->pdata[0];
    for (guint k = 1; k < one->pages->len; k++) {
      const GArray *over = one->pages->pdata[k];
      g_array_append_vals (page, over->data, over->len);
    }
    SbRandom random = sb_random_stream (arranging->params->seed, n_pages);
    if (one->pages->len == 1 ||
        sb_fit (fitter, pages->box, (SbPlacing *)(gpointer)page->data, page->len, &random,
                (guint64)page->len * EQUAL_EFFORT, &arranging->budget))
      return repeat_page (arranging, page, n_pages);
  }
  return NULL;
}

/* Of the time there is, what is left to filling: it takes some tenths of a second. */
#define FILL_PART 0.4
#define FILL_MOST_SECONDS 2.0

static void
arranging_init (Arranging *arranging, const SbState *state, const SbArrangeParams *params,
                GCancellable *cancellable)
{
  double for_filling = params->fill ? MIN (FILL_PART * params->seconds, FILL_MOST_SECONDS) : 0;
  double search_seconds = params->seconds - for_filling;
  *arranging = (Arranging){.state = state, .params = params, .begun = g_get_monotonic_time ()};
  arranging->budget = (SbBudget){
      .deadline = arranging->begun + (gint64)(search_seconds * G_USEC_PER_SEC),
      .effort = params->effort,
      .cancellable = cancellable,
  };
  arranging->task = sb_task_new (state->gap + SB_PACKING_AIM_UM, state->gap);
  arranging->shape_of = g_hash_table_new (NULL, NULL);
  arranging->pieces = g_array_new (FALSE, FALSE, sizeof (SbPiece));
  arranging->copies = g_array_new (FALSE, FALSE, sizeof (SbPlacing));
}

static void
arranging_clear (Arranging *arranging)
{
  sb_task_free (arranging->task);
  g_hash_table_unref (arranging->shape_of);
  g_array_unref (arranging->pieces);
  g_array_unref (arranging->copies);
}

/* Ordered copies that no empty page has room for. */
static guint
count_too_large (const Arranging *arranging)
{
  SbIBox box = sb_state_get_printable_box (arranging->state);
  guint n = 0;
  for (guint i = 0; i < arranging->copies->len; i++) {
    const SbPlacing *copy = &g_array_index (arranging->copies, SbPlacing, i);
    guint design_id = g_array_index (arranging->pieces, SbPiece, copy->tag).design_id;
    n += !sb_state_get_design (arranging->state, design_id)->freebie &&
         !sb_shape_fits (arranging->task->shapes->pdata[copy->shape], box);
  }
  return n;
}

/* The first layouts: what lies is kept unless all of it laid afresh needs fewer pages. */
static SbPages *
lay_first (Arranging *arranging, const Laid *laid, Publishing *publishing, gboolean *go_on)
{
  SbPages *kept = lay_missing (arranging, laid);
  arranging->unplaced = count_too_large (arranging);
  if (kept != NULL && !(*go_on = publish (kept, publishing)))
    return kept;
  SbPages *afresh = lay_afresh (arranging, laid);
  if (publishing->best != NULL && kept->pages->len <= afresh->pages->len) {
    sb_pages_free (afresh);
    return kept;
  }
  if (kept != NULL)
    sb_pages_free (kept);
  *go_on = publish (afresh, publishing);
  return afresh;
}

/* The best state found; NULL when even the first layout fails the exact check. */
static SbState *
search (Arranging *arranging)
{
  Laid laid = take_state (arranging);
  Publishing publishing = {arranging, NULL, G_MAXUINT};
  gboolean go_on;
  g_autoptr (SbPages) pages = lay_first (arranging, &laid, &publishing, &go_on);
  go_on = go_on && !arranging->params->rows;
  g_autoptr (SbPages) equal = go_on ? lay_equal (arranging, &laid, pages) : NULL;
  if (equal != NULL) {
    go_on = publish (equal, &publishing);
    publishing.most_pages = equal->pages->len - 1;
  }
  if (go_on)
    sb_pages_improve (pages, arranging->params->seed, &arranging->budget, publish, &publishing);
  sb_pages_free (laid.pinned);
  sb_pages_free (laid.in_hand);
  return publishing.best;
}

SbState *
sb_arrange (const SbState *state, const SbArrangeParams *params, SbArrangeProgress progress,
            gpointer data, GCancellable *cancellable, SbArrangeReport *report, GError **error)
{
  Arranging arranging;
  arranging_init (&arranging, state, params, cancellable);
  arranging.progress = progress;
  arranging.data = data;
  g_autoptr (SbState) arranged = search (&arranging);
  guint unplaced = arranging.unplaced;
  guint64 evaluations = arranging.budget.evaluations;
  gint64 begun = arranging.begun;
  arranging_clear (&arranging);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  g_return_val_if_fail (arranged != NULL, sb_state_ref ((SbState *)state));
  if (params->fill) {
    SbArrangeParams rest = *params;
    rest.seconds -= (double)(g_get_monotonic_time () - begun) / G_USEC_PER_SEC;
    SbState *filled = sb_fill_gaps (arranged, &rest, cancellable, NULL, error);
    if (filled == NULL)
      return NULL;
    sb_state_unref (arranged);
    arranged = filled;
  }
  if (report != NULL) {
    *report = sb_arrange_report_for (arranged);
    report->unplaced = unplaced;
    report->evaluations = evaluations;
    report->waste_before_percent = sb_state_get_waste_percent (state);
    report->seconds = (double)(g_get_monotonic_time () - begun) / G_USEC_PER_SEC;
  }
  return g_steal_pointer (&arranged);
}
