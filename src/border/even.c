/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Going back from the front by r, a smooth stretch comes to lie exactly w from its roots: these
 * places are within reach of no kink, since everything outside the front is at least w + r from
 * every root. A kink becomes an arc of radius r around it. So the whole outline is known, but for
 * arcs that cut each other: where two kinks lie closer than 2 r, what is between them falls away.
 * Which part of an arc is left is a matter of angles.
 *
 * The rest of a kink's circle, which is not on its arc, lies within reach of the front beside the
 * kink. So a circle cuts from another's arc a part that lies wholly on it, and where that part is
 * not within a third circle, its ends are on both arcs.
 *
 * An opening by o after it is the same with arcs of r + o around the kinks, whose crossings are
 * then rounded by o: a neck thinner than about 2 o falls away as a whole. */
#include "border/even.h"
#include "geometry/vector.h"

#include <math.h>
#include <stdlib.h>

#define GAP_MM 0.01 /* no neck is cut that leaves its two sides closer than this */

typedef struct {
  SbPoint centre;
  SbPoint from;        /* unit, towards the root before */
  double turn;         /* how far it turns left, 0..pi */
  double radius, wide; /* of the outline's arc, and with the opening */
  guint stretch;       /* the one that leads to this arc */
  guint first_gap, n_gaps;
} Arc;

/* A part of an arc that lies within another's circle. */
typedef struct {
  guint arc, other;
  double from, to; /* turns along the arc */
} Cut;

/* One merged cut: entered within `enter`'s circle, left within `leave`'s. */
typedef struct {
  guint enter, leave;
  double from, to;
} Gap;

typedef struct {
  const SbFront *front;
  double width, opening;
  GArray *arcs;     /* Arc */
  GArray *cuts;     /* Cut, by arc and place */
  GArray *gaps;     /* Gap, by arc and place */
  guint *arc_after; /* for each stretch, G_MAXUINT without */
  SbPath *path;
} Even;

static inline SbPoint
turn_left (SbPoint v, double angle)
{
  double c = cos (angle), s = sin (angle);
  return (SbPoint){c * v.x + s * v.y, c * v.y - s * v.x};
}

static const SbStation *
station (const Even *even, guint i)
{
  return &g_array_index (even->front->stations, SbStation, i);
}

static const SbStretch *
stretch (const Even *even, guint i)
{
  return &g_array_index (even->front->stretches, SbStretch, i);
}

static Arc *
arc_at (const Even *even, guint i)
{
  return &g_array_index (even->arcs, Arc, i);
}

/* How far to the left from `a` to `b`, up to half a turn and a little more; 0 when it is right. */
static double
left_turn (SbPoint a, SbPoint b)
{
  double turn = -atan2 (sb_cross (a, b), sb_dot (a, b));
  return turn < -0.9 * G_PI ? turn + 2 * G_PI : MAX (turn, 0);
}

static void
collect_arcs (Even *even)
{
  for (guint i = 0; i < even->front->stretches->len; i++) {
    const SbStretch *s = stretch (even, i);
    even->arc_after[i] = G_MAXUINT;
    if (!s->kinked)
      continue;
    SbPoint a = station (even, s->first + s->n - 1)->direction;
    SbPoint b = station (even, stretch (even, s->next)->first)->direction;
    Arc arc = {.centre = s->kink,
               .from = {-a.x, -a.y},
               .turn = left_turn (a, b),
               .radius = even->front->radius - even->width,
               .wide = even->front->radius - even->width + even->opening,
               .stretch = i};
    even->arc_after[i] = even->arcs->len;
    g_array_append_val (even->arcs, arc);
  }
}

/* Adds the part of arc `ia` within the circle of arc `ib`, if there is one: `v` leads to the
 * other's centre, half the part is seen as `half` radians. */
static void
add_cut (Even *even, guint ia, guint ib, SbPoint v, double half)
{
  const Arc *a = arc_at (even, ia);
  double middle = -atan2 (sb_cross (a->from, v), sb_dot (a->from, v));
  if (middle < a->turn / 2 - G_PI)
    middle += 2 * G_PI;
  Cut cut = {ia, ib, middle - half, middle + half};
  if (middle > 0 && middle < a->turn)
    g_array_append_val (even->cuts, cut);
}

static void
cut_pair (Even *even, guint ia, guint ib)
{
  const Arc *a = arc_at (even, ia), *b = arc_at (even, ib);
  SbPoint v = {b->centre.x - a->centre.x, b->centre.y - a->centre.y};
  double d2 = sb_dot (v, v), reach = a->wide + b->wide;
  if (d2 >= reach * reach || d2 == 0)
    return;
  double half = acos (sqrt (d2) / reach);
  add_cut (even, ia, ib, v, half);
  add_cut (even, ib, ia, (SbPoint){-v.x, -v.y}, half);
}

typedef struct {
  double x;
  guint arc;
} Place;

static int
compare_places (const void *a, const void *b)
{
  const Place *p = a, *q = b;
  if (p->x != q->x)
    return p->x < q->x ? -1 : 1;
  return p->arc < q->arc ? -1 : p->arc > q->arc;
}

static int
compare_cuts (const void *a, const void *b)
{
  const Cut *p = a, *q = b;
  if (p->arc != q->arc)
    return p->arc < q->arc ? -1 : 1;
  if (p->from != q->from)
    return p->from < q->from ? -1 : 1;
  return p->other < q->other ? -1 : p->other > q->other;
}

static void
find_cuts (Even *even)
{
  guint n = even->arcs->len;
  g_autofree Place *places = g_new (Place, n + 1);
  for (guint i = 0; i < n; i++)
    places[i] = (Place){arc_at (even, i)->centre.x, i};
  qsort (places, n, sizeof *places, compare_places);
  double reach = 2 * (even->front->radius - even->width + even->opening);
  for (guint i = 0; i < n; i++)
    for (guint k = i + 1; k < n && places[k].x - places[i].x < reach; k++)
      cut_pair (even, places[i].arc, places[k].arc);
  g_array_sort (even->cuts, compare_cuts);
}

static void
merge_cuts (Even *even)
{
  for (guint i = 0; i < even->cuts->len; i++) {
    Cut cut = g_array_index (even->cuts, Cut, i);
    Arc *arc = arc_at (even, cut.arc);
    Gap *last = arc->n_gaps ? &g_array_index (even->gaps, Gap, even->gaps->len - 1) : NULL;
    if (last != NULL && cut.from <= last->to) {
      if (cut.to > last->to) {
        last->to = cut.to;
        last->leave = cut.other;
      }
      continue;
    }
    if (arc->n_gaps++ == 0)
      arc->first_gap = even->gaps->len;
    Gap gap = {cut.other, cut.other, cut.from, cut.to};
    g_array_append_val (even->gaps, gap);
  }
}

static Gap *
gap_at (const Even *even, guint i)
{
  return &g_array_index (even->gaps, Gap, i);
}

/* The gap on `arc` that is left where `other`'s begins; G_MAXUINT when there is none. */
static guint
find_leaving (const Even *even, guint arc, guint other)
{
  const Arc *a = arc_at (even, arc);
  for (guint g = a->first_gap; g < a->first_gap + a->n_gaps; g++)
    if (gap_at (even, g)->leave == other)
      return g;
  return G_MAXUINT;
}

static gboolean
gaps_fit (const Even *even)
{
  for (guint i = 0; i < even->arcs->len; i++) {
    const Arc *arc = arc_at (even, i);
    for (guint g = arc->first_gap; g < arc->first_gap + arc->n_gaps; g++)
      if (find_leaving (even, gap_at (even, g)->enter, i) == G_MAXUINT)
        return FALSE;
  }
  return TRUE;
}

static void
remove_gap (Even *even, guint arc, guint gap)
{
  Arc *a = arc_at (even, arc);
  for (guint g = gap; g + 1 < a->first_gap + a->n_gaps; g++)
    *gap_at (even, g) = *gap_at (even, g + 1);
  a->n_gaps--;
}

/* A neck only a little thinner than 2 o, which would be cut into two tips that overlap once they
 * are rounded, is left whole. */
static void
leave_thick_necks (Even *even)
{
  double apart = even->opening + GAP_MM;
  for (guint i = 0; i < even->arcs->len && even->opening > 0; i++)
    for (guint k = 0; k < arc_at (even, i)->n_gaps;) {
      const Arc *a = arc_at (even, i);
      guint mine = a->first_gap + k, other = gap_at (even, mine)->enter;
      const Gap *gap = gap_at (even, mine);
      const Arc *b = arc_at (even, other);
      guint theirs = find_leaving (even, other, i);
      double half = a->wide * sin ((gap->to - gap->from) / 2);
      double d = hypot (a->centre.x - b->centre.x, a->centre.y - b->centre.y);
      if (gap->leave == other && gap_at (even, theirs)->enter == i && half < apart &&
          d > a->radius + b->radius) {
        remove_gap (even, other, theirs);
        remove_gap (even, i, mine);
      } else {
        k++;
      }
    }
}

static void
add_stretch (Even *even, const SbStretch *s)
{
  for (guint i = s->first; i < s->first + s->n; i++) {
    const SbStation *at = station (even, i);
    SbPoint u = at->direction;
    sb_path_add (even->path,
                 (SbPoint){at->foot.x + even->width * u.x, at->foot.y + even->width * u.y},
                 (SbPoint){-u.y, u.x});
  }
}

static void
add_arc_part (Even *even, const Arc *arc, double from, double to)
{
  if (arc->radius > 1e-9)
    sb_path_add_arc (even->path, arc->centre, arc->radius, turn_left (arc->from, from), from - to);
}

/* The rounded end between two arcs that cut each other. */
static void
add_tip (Even *even, const Arc *a, double at_a, const Arc *b, double at_b)
{
  SbPoint da = turn_left (a->from, at_a), db = turn_left (b->from, at_b);
  if (even->opening < 1e-6) {
    sb_path_add (even->path,
                 (SbPoint){b->centre.x + b->radius * db.x, b->centre.y + b->radius * db.y},
                 (SbPoint){db.y, -db.x});
    return;
  }
  SbPoint tip = {a->centre.x + a->wide * da.x, a->centre.y + a->wide * da.y};
  double turn = atan2 (sb_cross (da, db), sb_dot (da, db));
  sb_path_add_arc (even->path, tip, even->opening, (SbPoint){-da.x, -da.y},
                   turn < 0 ? turn + 2 * G_PI : turn);
}

/* Follows the arc after a stretch, over gaps, and returns the stretch it leads to. */
static guint
follow_arcs (Even *even, guint i)
{
  guint behind = 0; /* gaps of the arc */
  double from = 0;
  for (guint guard = 0; guard <= even->gaps->len; guard++) {
    const Arc *arc = arc_at (even, i);
    if (behind == arc->n_gaps) {
      add_arc_part (even, arc, from, arc->turn);
      break;
    }
    const Gap *gap = gap_at (even, arc->first_gap + behind);
    add_arc_part (even, arc, from, gap->from);
    guint match = find_leaving (even, gap->enter, i);
    const Arc *other = arc_at (even, gap->enter);
    add_tip (even, arc, gap->from, other, gap_at (even, match)->to);
    from = gap_at (even, match)->to;
    behind = match - other->first_gap + 1;
    i = gap->enter;
  }
  return stretch (even, arc_at (even, i)->stretch)->next;
}

static void
build_path (Even *even)
{
  guint n = even->front->stretches->len;
  g_autofree guint8 *done = g_malloc0 (n + 1);
  for (guint i = 0; i < n; i++) {
    if (done[i])
      continue;
    for (guint s = i; !done[s];) {
      done[s] = 1;
      add_stretch (even, stretch (even, s));
      s = even->arc_after[s] == G_MAXUINT ? stretch (even, s)->next
                                          : follow_arcs (even, even->arc_after[s]);
    }
    sb_path_close (even->path);
  }
}

SbPath *
sb_even_front (const SbFront *front, double width, double opening)
{
  Even even = {.front = front,
               .width = width,
               .opening = opening,
               .arcs = g_array_new (FALSE, FALSE, sizeof (Arc)),
               .cuts = g_array_new (FALSE, FALSE, sizeof (Cut)),
               .gaps = g_array_new (FALSE, FALSE, sizeof (Gap)),
               .arc_after = g_new (guint, front->stretches->len + 1),
               .path = sb_path_new ()};
  collect_arcs (&even);
  find_cuts (&even);
  merge_cuts (&even);
  if (gaps_fit (&even)) {
    leave_thick_necks (&even);
    build_path (&even);
  } else {
    g_clear_pointer (&even.path, sb_path_free);
  }
  g_array_unref (even.arcs);
  g_array_unref (even.cuts);
  g_array_unref (even.gaps);
  g_free (even.arc_after);
  return even.path;
}
