/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/pages.h"

#include <string.h>

#include "packing/greedy.h"

#define GREEDY_STEP 254 /* um: 100 places an inch */

/* Past this many copies on a page the search costs more than it can gain: lattices and the greedy
 * answer stand. */
#define MOST_SEARCHED 400

/* No mix of true shapes is packed denser than this: an attempt that would have to be is skipped. */
#define DENSEST 0.97

/* Evaluations of the first attempt to fit one more copy on a page, for each copy there; later
 * rounds take twice as many each. */
#define FIRST_EFFORT 3000

SbPages *
sb_pages_new (const SbTask *task, SbIBox box)
{
  SbPages *pages = g_new0 (SbPages, 1);
  pages->task = task;
  pages->box = box;
  pages->pages = g_ptr_array_new_with_free_func ((GDestroyNotify)g_array_unref);
  return pages;
}

SbPages *
sb_pages_copy (const SbPages *pages)
{
  SbPages *copy = sb_pages_new (pages->task, pages->box);
  for (guint i = 0; i < pages->pages->len; i++)
    g_ptr_array_add (copy->pages, g_array_copy (pages->pages->pdata[i]));
  return copy;
}

void
sb_pages_free (SbPages *pages)
{
  g_ptr_array_unref (pages->pages);
  g_free (pages);
}

GArray *
sb_pages_add (SbPages *pages)
{
  GArray *page = g_array_new (FALSE, FALSE, sizeof (SbPlacing));
  g_ptr_array_add (pages->pages, page);
  return page;
}

typedef struct {
  const SbTask *task;
  const SbPlacing *copies;
} Sorting;

static int
compare_copies (gconstpointer a, gconstpointer b, gpointer data)
{
  const Sorting *sorting = data;
  guint i = *(const guint *)a, j = *(const guint *)b;
  const SbPlacing *p = &sorting->copies[i], *q = &sorting->copies[j];
  double p_area = ((const SbShape *)sorting->task->shapes->pdata[p->shape])->area,
         q_area = ((const SbShape *)sorting->task->shapes->pdata[q->shape])->area;
  if (p_area != q_area)
    return p_area > q_area ? -1 : 1;
  if (p->shape != q->shape)
    return p->shape < q->shape ? -1 : 1;
  return i < j ? -1 : i > j;
}

void
sb_pages_lay (SbPages *pages, const SbPlacing *copies, guint n, SbBudget *budget)
{
  g_autoptr (GArray) left = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < n; i++)
    if (sb_shape_fits (pages->task->shapes->pdata[copies[i].shape], pages->box))
      g_array_append_val (left, i);
  Sorting sorting = {pages->task, copies};
  g_array_sort_with_data (left, compare_copies, &sorting);
  for (guint k = 0; left->len > 0 && !g_cancellable_is_cancelled (budget->cancellable); k++) {
    GArray *page = k < pages->pages->len ? pages->pages->pdata[k] : sb_pages_add (pages);
    g_autofree guint *shapes = g_new (guint, left->len);
    for (guint i = 0; i < left->len; i++)
      shapes[i] = copies[g_array_index (left, guint, i)].shape;
    guint before = page->len;
    sb_greedy_lay (pages->task, pages->box, SB_TOWARDS_TOP, GREEDY_STEP, page, shapes, left->len);
    g_autofree gboolean *laid = g_new0 (gboolean, left->len);
    for (guint i = before; i < page->len; i++) {
      SbPlacing *placing = &g_array_index (page, SbPlacing, i);
      laid[placing->tag] = TRUE;
      placing->tag = copies[g_array_index (left, guint, placing->tag)].tag;
    }
    guint kept = 0;
    for (guint i = 0; i < left->len; i++)
      if (!laid[i])
        g_array_index (left, guint, kept++) = g_array_index (left, guint, i);
    g_array_set_size (left, kept);
  }
}

static double
area_of (const SbTask *task, const GArray *page)
{
  double area = 0;
  for (guint i = 0; i < page->len; i++)
    area += ((const SbShape *)task->shapes->pdata[g_array_index (page, SbPlacing, i).shape])->area;
  return area;
}

/* How far down the page is used, um from the top of the box. */
static sb_um
depth_of (const SbPages *pages, const GArray *page)
{
  sb_um depth = 0;
  for (guint i = 0; i < page->len; i++) {
    const SbPlacing *placing = &g_array_index (page, SbPlacing, i);
    const SbPose *pose = sb_task_get_pose (pages->task, placing->shape, placing->pose);
    depth = MAX (depth, placing->y + pose->box.y1 - pages->box.y0);
  }
  return depth;
}

static gboolean
has_fixed (const GArray *page)
{
  for (guint i = 0; i < page->len; i++)
    if (g_array_index (page, SbPlacing, i).fixed)
      return TRUE;
  return FALSE;
}

/* The page to be emptied: the last one that nothing is pinned to; -1 when there is none, or only
 * one page. */
static int
find_last (const SbPages *pages)
{
  int last = -1;
  double least = G_MAXDOUBLE;
  for (guint i = 0; i < pages->pages->len; i++) {
    double area = area_of (pages->task, pages->pages->pdata[i]);
    if (!has_fixed (pages->pages->pdata[i]) && area <= least) {
      least = area;
      last = (int)i;
    }
  }
  return last;
}

gboolean
sb_pages_better (const SbPages *a, const SbPages *b)
{
  if (a->pages->len != b->pages->len)
    return a->pages->len < b->pages->len;
  int last_a = find_last (a), last_b = find_last (b);
  if (last_a < 0 || last_b < 0)
    return FALSE;
  const GArray *page_a = a->pages->pdata[last_a], *page_b = b->pages->pdata[last_b];
  double area_a = area_of (a->task, page_a), area_b = area_of (b->task, page_b);
  if (area_a != area_b)
    return area_a < area_b;
  return depth_of (a, page_a) < depth_of (b, page_b);
}

typedef struct {
  SbPages *pages;
  SbFitter *fitter;
  SbRandom random;
  SbBudget *budget;
  SbPagesProgress progress;
  gpointer data;
  gboolean stopped;
} Search;

static void
tell (Search *search)
{
  if (search->progress != NULL && !search->progress (search->pages, search->data))
    search->stopped = TRUE;
}

static gboolean
is_over (const Search *search)
{
  return search->stopped || sb_budget_is_spent (search->budget);
}

static guint64
effort_for (guint n, guint level)
{
  return (guint64)n * FIRST_EFFORT << MIN (level, 16);
}

/* Moves copy `index` of page `from` to page `to` if room can be made there. */
static gboolean
move_over (Search *search, GArray *from, guint index, GArray *to, guint level)
{
  const SbPages *pages = search->pages;
  SbPlacing copy = g_array_index (from, SbPlacing, index);
  double page_area = (double)(pages->box.x1 - pages->box.x0) * (pages->box.y1 - pages->box.y0),
         area = area_of (pages->task, to) +
                ((const SbShape *)pages->task->shapes->pdata[copy.shape])->area;
  if (area > DENSEST * page_area || to->len >= MOST_SEARCHED)
    return FALSE;
  copy.x = (pages->box.x0 + pages->box.x1) / 2;
  copy.y = (pages->box.y0 + pages->box.y1) / 2;
  g_array_append_val (to, copy);
  if (sb_fit (search->fitter, pages->box, (SbPlacing *)(gpointer)to->data, to->len, &search->random,
              effort_for (to->len, level), search->budget)) {
    g_array_remove_index (from, index);
    return TRUE;
  }
  g_array_set_size (to, to->len - 1);
  return FALSE;
}

/* Tries to move each copy of the last page to some other page; TRUE when one went. */
static gboolean
empty_last (Search *search, guint level)
{
  int last = find_last (search->pages);
  if (last < 0 || search->pages->pages->len < 2)
    return FALSE;
  GArray *from = search->pages->pages->pdata[last];
  gboolean moved = FALSE;
  for (guint i = from->len; i > 0 && !is_over (search); i--)
    for (guint k = 0; k < search->pages->pages->len && !is_over (search); k++) {
      if ((int)k == last || !move_over (search, from, i - 1, search->pages->pages->pdata[k], level))
        continue;
      moved = TRUE;
      if (from->len == 0) {
        g_ptr_array_remove_index (search->pages->pages, (guint)last);
        tell (search);
        return TRUE;
      }
      tell (search);
      break;
    }
  return moved;
}

/* Draws the last page's copies up as far as they go; TRUE when it got shorter. */
static gboolean
draw_up_last (Search *search, guint level)
{
  int last = find_last (search->pages);
  if (last < 0)
    return FALSE;
  GArray *page = search->pages->pages->pdata[last];
  if (page->len == 0 || page->len > MOST_SEARCHED)
    return FALSE;
  gboolean shorter = FALSE;
  for (double step = 0.06; step > 0.002 && !is_over (search);) {
    sb_um depth = depth_of (search->pages, page);
    SbIBox box = search->pages->box;
    box.y1 = box.y0 + (sb_um)(depth * (1 - step));
    if (sb_fit (search->fitter, box, (SbPlacing *)(gpointer)page->data, page->len, &search->random,
                effort_for (page->len, level) / 2, search->budget)) {
      shorter = TRUE;
      tell (search);
    } else {
      step /= 2;
    }
  }
  return shorter;
}

void
sb_pages_improve (SbPages *pages, guint64 seed, SbBudget *budget, SbPagesProgress progress,
                  gpointer data)
{
  g_autoptr (SbFitter) fitter = sb_fitter_new (pages->task);
  Search search = {pages, fitter, sb_random_stream (seed, 0), budget, progress, data, FALSE};
  guint idle = 0;
  for (guint level = 0; !is_over (&search) && idle < 12; level++) {
    gboolean better = empty_last (&search, level);
    better |= draw_up_last (&search, level);
    if (better) {
      idle = 0;
      level = 0;
    } else {
      idle++;
    }
  }
}
