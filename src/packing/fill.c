/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Filling gaps: freebies are laid in turn, each as often a round as its share says and the largest
 * first, so that the mix stays as wanted while the gaps get smaller; each in the greatest of its
 * sizes that still fits, at the free place nearest to the page's top. What lies does not move. */
#include "packing/arrange.h"

#include "geometry/relation.h"
#include "job/edit.h"
#include "packing/fill-sizes.h"
#include "packing/layout.h"
#include "packing/raster.h"

#define STEP_UM 254  /* 100 places an inch */
#define MOST_TURNS 8 /* of those a design allows */

/* A freebie in one size and turn on one page. */
typedef struct {
  guint page, shape, pose;
  SbCover *cover;
  guint row; /* above it there is no room any more */
} Place;

/* One size of a freebie. */
typedef struct {
  SbDesign *design; /* owned by the freebie; id 0 while it is not in the state */
  guint id;         /* in the state */
  guint shape;
  guint first_place, n_places;
  gboolean full; /* no room is left for it: gaps only get smaller */
} Size;

typedef struct {
  const SbDesign *design;
  GPtrArray *designs; /* its sizes */
  Size *sizes;
  guint n_sizes;
  double area; /* of the greatest */
  int left;    /* copies that may still be laid */
} Freebie;

typedef struct {
  SbState *state; /* grows by the sizes that are laid */
  SbTask *task;
  GPtrArray *pages;    /* GArray of SbPlacing: what lies there */
  GPtrArray *rasters;  /* SbRaster of each page */
  GPtrArray *outlines; /* GPtrArray of SbPolygon for each page: what lies there, exactly */
  GArray *freebies;    /* Freebie, largest first */
  GArray *places;      /* Place */
  GPtrArray *added;    /* GArray of SbPiece for each page */
  gint64 deadline;
  GCancellable *cancellable;
} Filling;

static gboolean
is_over (const Filling *filling)
{
  return g_get_monotonic_time () >= filling->deadline ||
         g_cancellable_is_cancelled (filling->cancellable);
}

static int
compare_freebies (gconstpointer a, gconstpointer b)
{
  const Freebie *p = a, *q = b;
  if (p->area != q->area)
    return p->area > q->area ? -1 : 1;
  return p->design->id < q->design->id ? -1 : p->design->id > q->design->id;
}

static void
freebie_clear (gpointer data)
{
  Freebie *freebie = data;
  g_ptr_array_unref (freebie->designs);
  g_free (freebie->sizes);
}

/* How many more copies, in all sizes, may be laid. */
static int
count_left (const SbState *state, const SbDesign *design)
{
  if (design->wanted == 0)
    return G_MAXINT;
  int left = design->wanted - sb_state_count_placed (state, design->id);
  for (guint i = 0; i < state->designs->len; i++) {
    const SbDesign *other = state->designs->pdata[i];
    if (sb_filling_get_parent (state, other) == design)
      left -= sb_state_count_placed (state, other->id);
  }
  return left;
}

static void
take_freebie (Filling *filling, SbDesign *design)
{
  Freebie freebie = {.design = design, .left = count_left (filling->state, design)};
  if (freebie.left <= 0)
    return;
  freebie.designs = sb_filling_get_sizes (filling->state, design, filling->cancellable);
  freebie.n_sizes = freebie.designs->len;
  freebie.sizes = g_new0 (Size, freebie.n_sizes);
  for (guint k = 0; k < freebie.n_sizes; k++) {
    Size *size = &freebie.sizes[k];
    size->design = freebie.designs->pdata[k];
    size->id = size->design->id;
    size->shape =
        sb_task_add_shape (filling->task, sb_design_get_shape (filling->state, size->design));
  }
  freebie.area = ((const SbShape *)filling->task->shapes->pdata[freebie.sizes[0].shape])->area;
  g_array_append_val (filling->freebies, freebie);
}

static void
take_freebies (Filling *filling)
{
  for (guint i = 0; i < filling->state->designs->len && !is_over (filling); i++) {
    SbDesign *design = filling->state->designs->pdata[i];
    if (design->freebie && sb_filling_get_parent (filling->state, design) == NULL)
      take_freebie (filling, design);
  }
  g_array_sort (filling->freebies, compare_freebies);
}

static void
take_pages (Filling *filling)
{
  for (guint k = 0; k < filling->state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (filling->state, k);
    GPtrArray *outlines = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_polygon_unref);
    for (guint i = 0; i < page->n_pieces; i++)
      g_ptr_array_add (
          outlines,
          sb_piece_get_outline (sb_state_get_design (filling->state, page->pieces[i].design_id),
                                &page->pieces[i]));
    g_ptr_array_add (filling->outlines, outlines);
    /* Between the copies of a layout nothing is filled: they are cut straight through. */
    GArray *placings = page->layout_id != 0
                           ? g_array_new (FALSE, FALSE, sizeof (SbPlacing))
                           : sb_page_get_placings (filling->state, page, filling->task, NULL, 0);
    g_ptr_array_add (filling->pages, placings);
    g_ptr_array_add (filling->added, g_array_new (FALSE, FALSE, sizeof (SbPiece)));
  }
}

static void
block (Filling *filling, guint page, const SbPlacing *placing)
{
  sb_raster_block (filling->rasters->pdata[page],
                   sb_task_get_pose (filling->task, placing->shape, placing->pose), placing->x,
                   placing->y, filling->task->gap);
}

static void
make_rasters (Filling *filling)
{
  SbIBox box = sb_state_get_printable_box (filling->state);
  for (guint k = 0; k < filling->pages->len && !is_over (filling); k++) {
    const GArray *page = filling->pages->pdata[k];
    g_ptr_array_add (filling->rasters, sb_raster_new (box, STEP_UM, FALSE));
    for (guint i = 0; i < page->len; i++)
      block (filling, k, &g_array_index (page, SbPlacing, i));
  }
}

static void
map_page (Filling *filling, guint k, guint shape_index)
{
  const SbShape *shape = filling->task->shapes->pdata[shape_index];
  guint n_turns = MIN (shape->n_poses, MOST_TURNS);
  for (guint t = 0; t < n_turns && !is_over (filling); t++) {
    Place place = {k, shape_index, t * shape->n_poses / n_turns, NULL, 0};
    place.cover = sb_cover_new (filling->rasters->pdata[k], &shape->poses[place.pose]);
    g_array_append_val (filling->places, place);
  }
}

/* Pages without ordered pieces are left alone: freebies never open a page. */
static void
map_size (Filling *filling, Size *size)
{
  size->first_place = filling->places->len;
  for (guint k = 0; k < filling->rasters->len; k++)
    if (((const GArray *)filling->pages->pdata[k])->len > 0)
      map_page (filling, k, size->shape);
  size->n_places = filling->places->len - size->first_place;
}

static void
map_places (Filling *filling)
{
  for (guint f = 0; f < filling->freebies->len; f++) {
    const Freebie *freebie = &g_array_index (filling->freebies, Freebie, f);
    for (guint s = 0; s < freebie->n_sizes; s++)
      map_size (filling, &freebie->sizes[s]);
  }
}

/* The exact check of what is about to be laid. */
static gboolean
lies_well (const Filling *filling, guint page, const SbPolygon *outline)
{
  const GPtrArray *others = filling->outlines->pdata[page];
  if (!sb_polygon_inside_box (outline, sb_state_get_printable_box (filling->state)))
    return FALSE;
  for (guint i = 0; i < others->len; i++)
    if (sb_polygons_closer_than (outline, others->pdata[i], filling->state->gap))
      return FALSE;
  return TRUE;
}

static void
lay (Filling *filling, Size *size, const Place *where, SbPiece piece, SbPolygon *outline)
{
  SbPlacing placing = {where->shape, where->pose, piece.at.x, piece.at.y, TRUE, 0};
  if (size->id == 0) {
    SbState *next = sb_edit_add_design (filling->state, sb_design_copy (size->design), &size->id);
    sb_state_unref (filling->state);
    filling->state = next;
  }
  piece.design_id = size->id;
  g_array_append_val ((GArray *)filling->added->pdata[where->page], piece);
  g_ptr_array_add (filling->outlines->pdata[where->page], outline);
  block (filling, where->page, &placing);
}

/* The place nearest to the top of the first page with room for the size; NULL when none has. */
static Place *
find_place (const Filling *filling, const Size *size, SbIPoint *best_at)
{
  Place *best = NULL;
  for (guint i = 0; i < size->n_places; i++) {
    Place *place = &g_array_index (filling->places, Place, size->first_place + i);
    if (best != NULL && best->page != place->page)
      break;
    SbIPoint at;
    if (sb_raster_find_topmost (filling->rasters->pdata[place->page], place->cover, &place->row,
                                &at) &&
        (best == NULL || at.y < best_at->y || (at.y == best_at->y && at.x < best_at->x))) {
      best = place;
      *best_at = at;
    }
  }
  return best;
}

static gboolean
lay_size (Filling *filling, Size *size)
{
  SbIPoint at;
  Place *place;
  while (!size->full && (place = find_place (filling, size, &at)) != NULL) {
    SbPiece piece = {.at = at,
                     .turn = sb_task_get_pose (filling->task, place->shape, place->pose)->turn};
    SbPolygon *outline = sb_piece_get_outline (size->design, &piece);
    if (lies_well (filling, place->page, outline)) {
      lay (filling, size, place, piece, outline);
      return TRUE;
    }
    sb_polygon_unref (outline);
    place->row++;
  }
  size->full = TRUE;
  return FALSE;
}

/* One more copy, in the greatest size that has room. */
static gboolean
lay_one (Filling *filling, Freebie *freebie)
{
  for (guint s = 0; s < freebie->n_sizes && freebie->left > 0; s++)
    if (lay_size (filling, &freebie->sizes[s])) {
      freebie->left--;
      return TRUE;
    }
  freebie->left = 0;
  return FALSE;
}

static void
fill (Filling *filling)
{
  for (gboolean laid = TRUE; laid;) {
    laid = FALSE;
    for (guint f = 0; f < filling->freebies->len; f++) {
      Freebie *freebie = &g_array_index (filling->freebies, Freebie, f);
      for (int k = 0; k < freebie->design->filling.share; k++) {
        if (is_over (filling))
          return;
        laid |= lay_one (filling, freebie);
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
  sb_cover_free (((Place *)data)->cover);
}

SbState *
sb_fill_gaps (const SbState *state, const SbArrangeParams *params, GCancellable *cancellable,
              SbArrangeReport *report, GError **error)
{
  gint64 begun = g_get_monotonic_time ();
  g_autoptr (SbTask) task = sb_task_new (state->gap + SB_PACKING_AIM_UM, state->gap);
  Filling filling = {
      .state = sb_state_ref ((SbState *)state), .task = task, .cancellable = cancellable};
  filling.deadline = begun + (gint64)(params->seconds * G_USEC_PER_SEC);
  filling.outlines = g_ptr_array_new_with_free_func ((GDestroyNotify)g_ptr_array_unref);
  filling.rasters = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_raster_free);
  filling.pages = g_ptr_array_new_with_free_func ((GDestroyNotify)g_array_unref);
  filling.added = g_ptr_array_new_with_free_func ((GDestroyNotify)g_array_unref);
  filling.freebies = g_array_new (FALSE, FALSE, sizeof (Freebie));
  filling.places = g_array_new (FALSE, FALSE, sizeof (Place));
  g_array_set_clear_func (filling.freebies, freebie_clear);
  g_array_set_clear_func (filling.places, place_clear);
  take_freebies (&filling);
  take_pages (&filling);
  make_rasters (&filling);
  map_places (&filling);
  fill (&filling);
  SbState *filled = sb_filling_drop_unused (make_state (&filling));
  sb_state_unref (filling.state);
  g_ptr_array_unref (filling.rasters);
  g_ptr_array_unref (filling.pages);
  g_ptr_array_unref (filling.outlines);
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
