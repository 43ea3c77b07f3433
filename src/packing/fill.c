/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Filling gaps: freebies are laid in turn, one of each design a round and the largest first, so
 * that the mix stays even while the gaps get smaller; each goes to the free place nearest to the
 * page's top. What lies does not move. */
#include "packing/arrange.h"

#include "job/edit.h"
#include "packing/free-map.h"
#include "packing/layout.h"

#define STEP_UM 254  /* 100 places an inch */
#define MOST_TURNS 8 /* of those a design allows */

/* A freebie in one turn on one page. */
typedef struct {
  guint page, shape, pose;
  SbFreeMap *map;
} Place;

typedef struct {
  const SbDesign *design;
  guint shape;
  double area;
  int left; /* copies that may still be laid */
  guint first_place, n_places;
} Freebie;

typedef struct {
  const SbState *state;
  SbTask *task;
  SbKeepOuts *keep_outs;
  GPtrArray *pages; /* GArray of SbPlacing: what lies there */
  GArray *freebies; /* Freebie, largest first */
  GArray *places;   /* Place */
  GPtrArray *added; /* GArray of SbPiece for each page */
} Filling;

static int
compare_freebies (gconstpointer a, gconstpointer b)
{
  const Freebie *p = a, *q = b;
  if (p->area != q->area)
    return p->area > q->area ? -1 : 1;
  return p->design->id < q->design->id ? -1 : p->design->id > q->design->id;
}

static void
take_freebies (Filling *filling)
{
  for (guint i = 0; i < filling->state->designs->len; i++) {
    const SbDesign *design = filling->state->designs->pdata[i];
    if (!design->freebie)
      continue;
    int left = design->wanted == 0
                   ? G_MAXINT
                   : design->wanted - sb_state_count_placed (filling->state, design->id);
    if (left <= 0)
      continue;
    Freebie freebie = {.design = design, .left = left};
    freebie.shape = sb_task_add_shape (filling->task, sb_design_get_shape (filling->state, design));
    freebie.area = ((const SbShape *)filling->task->shapes->pdata[freebie.shape])->area;
    g_array_append_val (filling->freebies, freebie);
  }
  g_array_sort (filling->freebies, compare_freebies);
}

static void
take_pages (Filling *filling)
{
  for (guint k = 0; k < filling->state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (filling->state, k);
    GArray *placings = sb_page_get_placings (filling->state, page, filling->task, NULL, 0);
    g_ptr_array_add (filling->pages, placings);
    g_ptr_array_add (filling->added, g_array_new (FALSE, FALSE, sizeof (SbPiece)));
  }
}

static void
forbid (Filling *filling, const Place *place, const SbPlacing *placing)
{
  sb_free_map_forbid (place->map,
                      sb_keep_outs_get (filling->keep_outs, placing->shape, placing->pose,
                                        place->shape, place->pose),
                      placing->x, placing->y);
}

/* Pages without ordered pieces are left alone: freebies never open a page. */
static void
map_places (Filling *filling)
{
  SbIBox box = sb_state_get_printable_box (filling->state);
  for (guint f = 0; f < filling->freebies->len; f++) {
    Freebie *freebie = &g_array_index (filling->freebies, Freebie, f);
    const SbShape *shape = filling->task->shapes->pdata[freebie->shape];
    guint n_turns = MIN (shape->n_poses, MOST_TURNS);
    freebie->first_place = filling->places->len;
    for (guint k = 0; k < filling->pages->len; k++) {
      const GArray *page = filling->pages->pdata[k];
      for (guint t = 0; t < n_turns && page->len > 0; t++) {
        Place place = {k, freebie->shape, t * shape->n_poses / n_turns, NULL};
        place.map = sb_free_map_new (sb_pose_get_room (&shape->poses[place.pose], box), STEP_UM);
        for (guint i = 0; i < page->len; i++)
          forbid (filling, &place, &g_array_index (page, SbPlacing, i));
        g_array_append_val (filling->places, place);
        sb_keep_outs_tidy (filling->keep_outs);
      }
    }
    freebie->n_places = filling->places->len - freebie->first_place;
  }
}

static void
lay (Filling *filling, const Freebie *freebie, const Place *where, SbIPoint at)
{
  SbPlacing placing = {where->shape, where->pose, at.x, at.y, TRUE, 0};
  SbPiece piece = {.design_id = freebie->design->id,
                   .at = at,
                   .turn = sb_task_get_pose (filling->task, where->shape, where->pose)->turn};
  g_array_append_val ((GArray *)filling->added->pdata[where->page], piece);
  for (guint i = 0; i < filling->places->len; i++) {
    const Place *place = &g_array_index (filling->places, Place, i);
    if (place->page == where->page)
      forbid (filling, place, &placing);
  }
  sb_keep_outs_tidy (filling->keep_outs);
}

/* One more copy on the first page with room for it. */
static gboolean
lay_one (Filling *filling, const Freebie *freebie)
{
  const Place *best = NULL;
  SbIPoint best_at = {0, 0};
  for (guint i = 0; i < freebie->n_places; i++) {
    const Place *place = &g_array_index (filling->places, Place, freebie->first_place + i);
    if (best != NULL && best->page != place->page)
      break;
    SbIPoint at;
    if (sb_free_map_topmost (place->map, &at) &&
        (best == NULL || at.y < best_at.y || (at.y == best_at.y && at.x < best_at.x))) {
      best = place;
      best_at = at;
    }
  }
  if (best == NULL)
    return FALSE;
  lay (filling, freebie, best, best_at);
  return TRUE;
}

static void
fill (Filling *filling, GCancellable *cancellable)
{
  gboolean laid = TRUE;
  while (laid) {
    laid = FALSE;
    for (guint f = 0; f < filling->freebies->len; f++) {
      if (g_cancellable_is_cancelled (cancellable))
        return;
      Freebie *freebie = &g_array_index (filling->freebies, Freebie, f);
      if (freebie->left > 0 && lay_one (filling, freebie)) {
        freebie->left--;
        laid = TRUE;
      } else {
        freebie->left = 0; /* gaps only get smaller */
      }
    }
  }
}

/* What lies, with the new pieces on top. */
static SbState *
make_state (const Filling *filling)
{
  g_autoptr (GPtrArray) made = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_page_unref);
  for (guint k = 0; k < filling->state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (filling->state, k);
    const GArray *added = filling->added->pdata[k];
    if (added->len == 0) {
      g_ptr_array_add (made, sb_page_ref ((SbPage *)page));
      continue;
    }
    g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (SbPiece));
    g_array_append_vals (pieces, page->pieces, page->n_pieces);
    g_array_append_vals (pieces, added->data, added->len);
    g_ptr_array_add (made,
                     sb_page_new (page->id, (const SbPiece *)(gpointer)pieces->data, pieces->len));
  }
  return sb_edit_set_pages (filling->state, (SbPage *const *)made->pdata, made->len);
}

static void
place_clear (gpointer data)
{
  sb_free_map_free (((Place *)data)->map);
}

SbState *
sb_fill_gaps (const SbState *state, const SbArrangeParams *params, GCancellable *cancellable,
              SbArrangeReport *report, GError **error)
{
  gint64 begun = g_get_monotonic_time ();
  g_autoptr (SbTask) task = sb_task_new (state->gap + SB_PACKING_AIM_UM, state->gap);
  Filling filling = {.state = state, .task = task};
  filling.pages = g_ptr_array_new_with_free_func ((GDestroyNotify)g_array_unref);
  filling.added = g_ptr_array_new_with_free_func ((GDestroyNotify)g_array_unref);
  filling.freebies = g_array_new (FALSE, FALSE, sizeof (Freebie));
  filling.places = g_array_new (FALSE, FALSE, sizeof (Place));
  g_array_set_clear_func (filling.places, place_clear);
  take_freebies (&filling);
  take_pages (&filling);
  filling.keep_outs = sb_keep_outs_new (task);
  map_places (&filling);
  fill (&filling, cancellable);
  SbState *filled = make_state (&filling);
  sb_keep_outs_free (filling.keep_outs);
  g_ptr_array_unref (filling.pages);
  g_ptr_array_unref (filling.added);
  g_array_unref (filling.freebies);
  g_array_unref (filling.places);
  if (g_cancellable_set_error_if_cancelled (cancellable, error)) {
    sb_state_unref (filled);
    return NULL;
  }
  if (report != NULL) {
    *report = sb_arrange_report_for (filled);
    report->waste_before_percent = sb_state_get_waste_percent (state);
    report->seconds = (double)(g_get_monotonic_time () - begun) / G_USEC_PER_SEC;
  }
  return filled;
}
