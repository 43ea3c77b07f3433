/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The edges of the printable area come first, an axis at a time. Then the true outlines of the
 * neighbours: the nearest two points tell which way and how far, a few steps settle between two
 * neighbours, and an axis that an edge holds stays held. Only then equal gaps and the middle, for
 * axes that are still free. Steps are in doubles; the end is checked with the exact predicate that
 * the proof uses, so a snapped piece never gets a finding for its gap. */
#include "config.h"

#include <math.h>

#include "geometry/relation.h"
#include "window/canvas/snap.h"

#define MOST_NEIGHBOURS 6
#define STEPS 8
#define MARGIN_UM 2.0 /* aimed past the gap, for the rounding to whole micrometres */

struct _SbSnapCache {
  GHashTable *outlines; /* SbPolygon by piece id */
};

typedef struct {
  double x, y;
  gboolean hold_x, hold_y;
} Offset;

/* The nearest points of the moving outline and a neighbour. */
typedef struct {
  SbPoint own, other;
  double distance; /* negative where they overlap */
} Nearest;

SbSnapCache *
sb_snap_cache_new (void)
{
  SbSnapCache *cache = g_new0 (SbSnapCache, 1);

  cache->outlines = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify)sb_polygon_unref);
  return cache;
}

void
sb_snap_cache_free (SbSnapCache *cache)
{
  g_hash_table_unref (cache->outlines);
  g_free (cache);
}

static SbPolygon *
get_outline (SbSnapCache *cache, const SbState *state, const SbPiece *piece)
{
  SbPolygon *outline = g_hash_table_lookup (cache->outlines, GUINT_TO_POINTER (piece->id));

  if (!outline) {
    outline = sb_piece_get_outline (sb_state_get_design (state, piece->design_id), piece);
    g_hash_table_insert (cache->outlines, GUINT_TO_POINTER (piece->id), outline);
  }
  return outline;
}

static double
box_distance (SbIBox a, SbIBox b)
{
  double dx = MAX (MAX ((double)a.x0 - b.x1, (double)b.x0 - a.x1), 0);
  double dy = MAX (MAX ((double)a.y0 - b.y1, (double)b.y0 - a.y1), 0);

  return hypot (dx, dy);
}

/* Outlines on the page that do not move, within `reach` of the shape's box. Borrowed items. */
static GPtrArray *
list_neighbours (const SbSnapQuery *query, SbSnapCache *cache, double reach)
{
  GPtrArray *list = g_ptr_array_new ();
  const SbPage *page = sb_state_get_page (query->state, query->page);
  SbIBox box = sb_polygon_get_box (query->shape);

  for (guint i = 0; page && i < page->n_pieces; i++) {
    const SbPiece *piece = &page->pieces[i];
    if (g_hash_table_contains (query->moving, GUINT_TO_POINTER (piece->id)))
      continue;
    SbPolygon *outline = get_outline (cache, query->state, piece);
    if (box_distance (box, sb_polygon_get_box (outline)) <= reach)
      g_ptr_array_add (list, outline);
  }
  return list;
}

/* Nearest points */

static SbPoint
nearest_on_leg (SbPoint p, SbPoint a, SbPoint b)
{
  double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
  double t = length2 > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / length2 : 0;

  t = CLAMP (t, 0, 1);
  return (SbPoint){a.x + t * dx, a.y + t * dy};
}

/* From the corners of `from`, moved by `offset`, to the legs of `to`, with those corners that lie
 * within `reach` of the best so far of `to`'s box. */
static void
search_corners (const SbPolygon *from, SbPoint offset, const SbPolygon *to, gboolean from_is_own,
                Nearest *best)
{
  SbIBox box = sb_polygon_get_box (to);

  for (guint i = 0; i < sb_polygon_get_n_loops (from); i++) {
    const SbLoop *loop = sb_polygon_get_loop (from, i);
    for (guint j = 0; j < loop->n_points; j++) {
      SbPoint p = {loop->points[j].x + offset.x, loop->points[j].y + offset.y};
      if (p.x < box.x0 - best->distance || p.x > box.x1 + best->distance ||
          p.y < box.y0 - best->distance || p.y > box.y1 + best->distance)
        continue;
      for (guint k = 0; k < sb_polygon_get_n_loops (to); k++) {
        const SbLoop *other = sb_polygon_get_loop (to, k);
        SbPoint a = {other->points[other->n_points - 1].x, other->points[other->n_points - 1].y};
        for (guint l = 0; l < other->n_points; l++) {
          SbPoint b = {other->points[l].x, other->points[l].y};
          SbPoint q = nearest_on_leg (p, a, b);
          double distance = hypot (p.x - q.x, p.y - q.y);
          if (distance < best->distance) {
            best->distance = distance;
            best->own = from_is_own ? p : q;
            best->other = from_is_own ? q : p;
          }
          a = b;
        }
      }
    }
  }
}

static SbIPoint
round_um (double x, double y)
{
  return (SbIPoint){(sb_um)lround (x), (sb_um)lround (y)};
}

/* FALSE when they are farther than `reach` apart. */
static gboolean
find_nearest (const SbPolygon *shape, Offset offset, const SbPolygon *neighbour, double reach,
              Nearest *nearest)
{
  nearest->distance = reach;
  nearest->own = nearest->other = (SbPoint){NAN, NAN};
  search_corners (shape, (SbPoint){offset.x, offset.y}, neighbour, TRUE, nearest);
  /* The other way round the shape stays and the neighbour moves back. */
  Nearest back = {.distance = nearest->distance, .own = {NAN, NAN}};
  search_corners (neighbour, (SbPoint){-offset.x, -offset.y}, shape, FALSE, &back);
  if (!isnan (back.own.x)) {
    *nearest = (Nearest){
        .own = {back.own.x + offset.x, back.own.y + offset.y},
        .other = {back.other.x + offset.x, back.other.y + offset.y},
        .distance = back.distance,
    };
  }
  if (isnan (nearest->own.x))
    return FALSE;
  SbIPoint own = round_um (nearest->own.x, nearest->own.y);
  SbIPoint other = round_um (nearest->other.x - offset.x, nearest->other.y - offset.y);
  if (nearest->distance > 1 &&
      (sb_polygon_contains (neighbour, own) || sb_polygon_contains (shape, other)))
    nearest->distance = -nearest->distance;
  return TRUE;
}

/* Along the outlines */

/* Moves `offset` so that the nearest points come to be `gap` apart; FALSE when a held axis leaves
 * no way. */
static gboolean
step_to_gap (Offset *offset, const Nearest *nearest, double gap)
{
  double length = fabs (nearest->distance);
  double sign = nearest->distance < 0 ? -1 : 1;

  if (length < 1e-6)
    return FALSE;
  double nx = sign * (nearest->other.x - nearest->own.x) / length;
  double ny = sign * (nearest->other.y - nearest->own.y) / length;
  double by = nearest->distance - gap;

  if (offset->hold_x && offset->hold_y)
    return FALSE;
  if (offset->hold_x || offset->hold_y) {
    double along = offset->hold_x ? ny : nx;
    if (fabs (along) < 0.3)
      return FALSE;
    if (offset->hold_x)
      offset->y += by / along;
    else
      offset->x += by / along;
    return TRUE;
  }
  offset->x += by * nx;
  offset->y += by * ny;
  return TRUE;
}

static gboolean
is_clear (const SbPolygon *shape, SbIPoint offset, GPtrArray *neighbours, sb_um gap)
{
  g_autoptr (SbPolygon) moved = sb_polygon_move (shape, offset.x, offset.y);

  for (guint i = 0; i < neighbours->len; i++)
    if (sb_polygons_closer_than (moved, neighbours->pdata[i], gap))
      return FALSE;
  return TRUE;
}

static void
add_guide (GArray *guides, SbPoint a, SbPoint b, double length_um)
{
  SbSnapGuide guide = {a, b, length_um};

  g_array_append_val (guides, guide);
}

static double
wanted_gap (const SbSnapQuery *query)
{
  return query->state->gap + MARGIN_UM;
}

/* Which neighbours are felt: those whose outline is within reach of the gap. */
static void
drop_far (const SbSnapQuery *query, Offset offset, GPtrArray *neighbours)
{
  double reach = query->state->gap + query->reach_um;

  for (guint i = neighbours->len; i-- > 0;) {
    Nearest nearest;
    if (!find_nearest (query->shape, offset, neighbours->pdata[i], reach, &nearest) ||
        fabs (nearest.distance - query->state->gap) > query->reach_um)
      g_ptr_array_remove_index (neighbours, i);
  }
  if (neighbours->len > MOST_NEIGHBOURS)
    g_ptr_array_set_size (neighbours, MOST_NEIGHBOURS);
}

static gboolean
settle (const SbSnapQuery *query, GPtrArray *neighbours, Offset *offset)
{
  Offset at = *offset;
  double reach = 2 * query->reach_um + query->state->gap;

  for (int step = 0; step < STEPS; step++) {
    double worst = 0;
    for (guint i = 0; i < neighbours->len; i++) {
      Nearest nearest;
      if (!find_nearest (query->shape, at, neighbours->pdata[i], reach, &nearest))
        continue;
      double off = nearest.distance - wanted_gap (query);
      /* Past the first step a neighbour that is farther than the gap has let go. */
      if (off > 0 && step > 0 && i > 0)
        continue;
      if (fabs (off) > 0.5 && !step_to_gap (&at, &nearest, wanted_gap (query)))
        return FALSE;
      worst = MAX (worst, fabs (off));
    }
    if (worst <= 0.5)
      break;
  }
  if (hypot (at.x - offset->x, at.y - offset->y) > 1.5 * query->reach_um ||
      !is_clear (query->shape, round_um (at.x, at.y), neighbours, query->state->gap))
    return FALSE;
  *offset = at;
  return TRUE;
}

/* Tries all that are near, then each alone. */
static gboolean
snap_to_outlines (const SbSnapQuery *query, SbSnapCache *cache, Offset *offset, GArray *guides)
{
  g_autoptr (GPtrArray) near =
      list_neighbours (query, cache, query->state->gap + 2 * query->reach_um);
  gboolean found;

  drop_far (query, *offset, near);
  if (near->len == 0)
    return FALSE;
  found = settle (query, near, offset);
  for (guint i = 0; !found && near->len > 1 && i < near->len; i++) {
    g_autoptr (GPtrArray) one = g_ptr_array_new ();
    g_ptr_array_add (one, near->pdata[i]);
    found = settle (query, one, offset);
  }
  for (guint i = 0; found && i < near->len; i++) {
    Nearest nearest;
    if (find_nearest (query->shape, *offset, near->pdata[i], query->state->gap + 20, &nearest))
      add_guide (guides, nearest.own, nearest.other, nearest.distance);
  }
  return found;
}

/* Edges, equal gaps, middle: an axis at a time. `axis` 0 is x, 1 is y. */

static double
lo (SbIBox box, int axis)
{
  return axis == 0 ? box.x0 : box.y0;
}

static double
hi (SbIBox box, int axis)
{
  return axis == 0 ? box.x1 : box.y1;
}

static SbPoint
at_axis (int axis, double along, double across)
{
  return axis == 0 ? (SbPoint){along, across} : (SbPoint){across, along};
}

static gboolean
better (double candidate, double reach, double *best)
{
  if (fabs (candidate) > reach || fabs (candidate) >= fabs (*best))
    return FALSE;
  *best = candidate;
  return TRUE;
}

static SbIBox
shift_box (SbIBox box, Offset offset)
{
  SbIPoint d = round_um (offset.x, offset.y);

  return (SbIBox){box.x0 + d.x, box.y0 + d.y, box.x1 + d.x, box.y1 + d.y};
}

static gboolean
snap_to_edge (const SbSnapQuery *query, int axis, Offset *offset, GArray *guides)
{
  /* The guide's inner edge, along which scissors go, has to be printed too. */
  const double inset = SB_GUIDE_CLEARANCE_MM * SB_UM_PER_MM;
  SbIBox area = sb_state_get_printable_box (query->state);
  SbIBox box = sb_polygon_get_box (query->shape);
  double best = HUGE_VAL, line = 0;

  if (better (lo (area, axis) + inset - lo (box, axis), query->reach_um, &best))
    line = lo (area, axis);
  if (better (hi (area, axis) - inset - hi (box, axis), query->reach_um, &best))
    line = hi (area, axis);
  if (isinf (best))
    return FALSE;
  *(axis == 0 ? &offset->x : &offset->y) = best;
  *(axis == 0 ? &offset->hold_x : &offset->hold_y) = TRUE;
  add_guide (guides, at_axis (axis, line, lo (box, !axis)), at_axis (axis, line, hi (box, !axis)),
             -1);
  return TRUE;
}

/* The nearest box before (`side` -1) or after (1) `box` in the same row; FALSE when none. */
static gboolean
find_beside (GPtrArray *outlines, SbIBox box, int axis, int side, SbIBox *found)
{
  double best = HUGE_VAL;

  for (guint i = 0; i < outlines->len; i++) {
    SbIBox other = sb_polygon_get_box (outlines->pdata[i]);
    double middle = (lo (other, !axis) + hi (other, !axis)) / 2;
    double gap = side < 0 ? lo (box, axis) - hi (other, axis) : lo (other, axis) - hi (box, axis);
    if (middle < lo (box, !axis) || middle > hi (box, !axis) || gap < 0 || gap >= best)
      continue;
    best = gap;
    *found = other;
  }
  return !isinf (best);
}

static void
add_gap_guide (GArray *guides, int axis, double from, double to, double across)
{
  if (to > from)
    add_guide (guides, at_axis (axis, from, across), at_axis (axis, to, across), to - from);
}

static gboolean
snap_to_equal_gap (const SbSnapQuery *query, SbSnapCache *cache, int axis, Offset *offset,
                   GArray *guides)
{
  g_autoptr (GPtrArray) all = list_neighbours (query, cache, 80000);
  SbIBox box = shift_box (sb_polygon_get_box (query->shape), *offset);
  SbIBox before, after, beyond;
  gboolean has_before = find_beside (all, box, axis, -1, &before);
  gboolean has_after = find_beside (all, box, axis, 1, &after);
  double across = (lo (box, !axis) + hi (box, !axis)) / 2;
  double best = HUGE_VAL, a0 = 0, a1 = 0, b0 = 0, b1 = 0;

  if (has_before && has_after) {
    double left = lo (box, axis) - hi (before, axis), right = lo (after, axis) - hi (box, axis);
    if (better ((right - left) / 2, query->reach_um, &best)) {
      a0 = hi (before, axis), a1 = lo (box, axis) + best;
      b0 = hi (box, axis) + best, b1 = lo (after, axis);
    }
  }
  if (has_before && find_beside (all, before, axis, -1, &beyond)) {
    double gap = lo (before, axis) - hi (beyond, axis);
    if (better (hi (before, axis) + gap - lo (box, axis), query->reach_um, &best)) {
      a0 = hi (beyond, axis), a1 = lo (before, axis);
      b0 = hi (before, axis), b1 = lo (box, axis) + best;
    }
  }
  if (has_after && find_beside (all, after, axis, 1, &beyond)) {
    double gap = lo (beyond, axis) - hi (after, axis);
    if (better (lo (after, axis) - gap - hi (box, axis), query->reach_um, &best)) {
      a0 = hi (box, axis) + best, a1 = lo (after, axis);
      b0 = hi (after, axis), b1 = lo (beyond, axis);
    }
  }
  if (isinf (best))
    return FALSE;
  *(axis == 0 ? &offset->x : &offset->y) += best;
  add_gap_guide (guides, axis, a0, a1, across);
  add_gap_guide (guides, axis, b0, b1, across);
  return TRUE;
}

static void
snap_to_middle (const SbSnapQuery *query, int axis, Offset *offset, GArray *guides)
{
  SbIBox area = sb_state_get_printable_box (query->state);
  SbIBox box = shift_box (sb_polygon_get_box (query->shape), *offset);
  double middle = (lo (area, axis) + hi (area, axis)) / 2;
  double best = HUGE_VAL;

  if (!better (middle - (lo (box, axis) + hi (box, axis)) / 2, query->reach_um, &best))
    return;
  *(axis == 0 ? &offset->x : &offset->y) += best;
  add_guide (guides, at_axis (axis, middle, lo (area, !axis)),
             at_axis (axis, middle, hi (area, !axis)), -1);
}

gboolean
sb_snap_is_clear (const SbSnapQuery *query, SbSnapCache *cache, SbIPoint offset)
{
  const sb_um inset = (sb_um)(SB_GUIDE_CLEARANCE_MM * SB_UM_PER_MM);
  SbIBox area = sb_state_get_printable_box (query->state);
  SbIBox box =
      shift_box (sb_polygon_get_box (query->shape), (Offset){.x = offset.x, .y = offset.y});
  double reach = query->state->gap + hypot (offset.x, offset.y);

  if (box.x0 < area.x0 + inset || box.y0 < area.y0 + inset || box.x1 > area.x1 - inset ||
      box.y1 > area.y1 - inset)
    return FALSE;
  g_autoptr (GPtrArray) neighbours = list_neighbours (query, cache, reach);
  return is_clear (query->shape, offset, neighbours, query->state->gap);
}

SbIPoint
sb_snap_find (const SbSnapQuery *query, SbSnapCache *cache, GArray *guides)
{
  Offset offset = {0, 0, FALSE, FALSE};

  for (int axis = 0; axis < 2; axis++)
    snap_to_edge (query, axis, &offset, guides);
  if (query->whole && snap_to_outlines (query, cache, &offset, guides))
    return round_um (offset.x, offset.y);
  for (int axis = 0; axis < 2; axis++)
    if (!(axis == 0 ? offset.hold_x : offset.hold_y) &&
        !snap_to_equal_gap (query, cache, axis, &offset, guides))
      snap_to_middle (query, axis, &offset, guides);
  return round_um (offset.x, offset.y);
}
