/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Going back from the front by r, a smooth stretch comes to lie exactly w from its roots: these
 * places are within reach of no other kink, since everything outside the front is at least w + r
 * from every root. A kink becomes an arc of radius r around it. So the whole outline is known, but
 * for arcs that cut each other: where two kinks lie closer than 2 r, what is between them falls
 * away. Which part of an arc is left is a matter of angles.
 *
 * An opening by o after it is the same with arcs of r + o around the kinks, whose crossings are
 * then rounded by o: a neck thinner than about 2 o falls away as a whole. */
#include "border/even.h"

#include <math.h>
#include <stdlib.h>

#define GAP_MM 0.01   /* no cut leaves its two sides closer than this */
#define MOST_TRIES 12 /* cuts given up until the rest fits together */

typedef struct {
  SbPoint centre;
  SbPoint from;        /* unit, towards the root before */
  double turn;         /* how far it turns left, 0..pi */
  double radius, wide; /* of the outline's arc, and with the opening */
  guint stretch;       /* the one that leads to this arc */
  guint first_cut, n_cuts;
} Arc;

/* A part of an arc that lies within another's circle. */
typedef struct {
  guint arc, other;
  double from, to; /* turns along the arc */
} Cut;

typedef struct {
  guint a, b;
} Pair;

typedef struct {
  const SbFront *front;
  double width, opening;
  GArray *arcs;     /* Arc */
  GArray *cuts;     /* Cut, by arc and place, overlapping ones merged */
  GArray *refused;  /* Pair: cuts that do not fit together */
  guint *arc_after; /* for each stretch, G_MAXUINT without */
  SbPath *path;
} Even;

static inline double
cross (SbPoint a, SbPoint b)
{
  return a.x * b.y - a.y * b.x;
}

static inline double
dot (SbPoint a, SbPoint b)
{
  return a.x * b.x + a.y * b.y;
}

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
  double turn = -atan2 (cross (a, b), dot (a, b));
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
               .radius = s->radius - even->width,
               .wide = s->radius - even->width + even->opening,
               .stretch = i};
    even->arc_after[i] = even->arcs->len;
    g_array_append_val (even->arcs, arc);
  }
}

/* The part of arc `a` within the circle of arc `b`, `d` between their centres. FALSE for none. */
static gboolean
cut_of (const Even *even, guint ia, guint ib, SbPoint v, double d, Cut *cut)
{
  const Arc *a = arc_at (even, ia), *b = arc_at (even, ib);
  double x = (d * d + a->wide * a->wide - b->wide * b->wide) / (2 * d);
  double half = acos (CLAMP (x / a->wide, -1, 1));
  double middle = -atan2 (cross (a->from, v), dot (a->from, v));
  if (middle + half < 0)
    middle += 2 * G_PI;
  else if (middle - half > a->turn)
    middle -= 2 * G_PI;
  *cut = (Cut){ia, ib, middle - half, middle + half};
  /* The ends of an arc are on smooth stretches and are never within another circle. */
  return cut->from > 0 && cut->to < a->turn;
}

static gboolean
is_refused (const Even *even, guint a, guint b)
{
  for (guint i = 0; i < even->refused->len; i++) {
    Pair p = g_array_index (even->refused, Pair, i);
    if ((p.a == a && p.b == b) || (p.a == b && p.b == a))
      return TRUE;
  }
  return FALSE;
}

static void
cut_pair (Even *even, guint ia, guint ib)
{
  const Arc *a = arc_at (even, ia), *b = arc_at (even, ib);
  SbPoint v = {b->centre.x - a->centre.x, b->centre.y - a->centre.y};
  double d2 = dot (v, v), reach = a->wide + b->wide;
  if (d2 >= reach * reach || d2 == 0 || is_refused (even, ia, ib))
    return;
  double d = sqrt (d2), x = (d2 + a->wide * a->wide - b->wide * b->wide) / (2 * d);
  double apart = even->opening + GAP_MM;
  if (a->wide * a->wide - x * x < apart * apart)
    return; /* a neck that thick is left alone */
  Cut ca, cb;
  if (!cut_of (even, ia, ib, v, d, &ca) || !cut_of (even, ib, ia, (SbPoint){-v.x, -v.y}, d, &cb))
    return;
  g_array_append_val (even->cuts, ca);
  g_array_append_val (even->cuts, cb);
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

/* One merged cut: entered within `enter`'s circle, left within `leave`'s. */
typedef struct {
  guint enter, leave;
  double from, to;
} Gap;

static void
find_cuts (Even *even, GArray *gaps)
{
  guint n = even->arcs->len;
  g_array_set_size (even->cuts, 0);
  g_array_set_size (gaps, 0);
  g_autofree Place *places = g_new (Place, n + 1);
  double widest = 0;
  for (guint i = 0; i < n; i++) {
    places[i] = (Place){arc_at (even, i)->centre.x, i};
    widest = MAX (widest, arc_at (even, i)->wide);
    arc_at (even, i)->n_cuts = 0;
  }
  qsort (places, n, sizeof *places, compare_places);
  for (guint i = 0; i < n; i++)
    for (guint k = i + 1; k < n && places[k].x - places[i].x < 2 * widest; k++)
      cut_pair (even, places[i].arc, places[k].arc);
  if (even->cuts->len == 0)
    return;
  qsort (even->cuts->data, even->cuts->len, sizeof (Cut), compare_cuts);
  for (guint i = 0; i < even->cuts->len; i++) {
    Cut cut = g_array_index (even->cuts, Cut, i);
    Arc *arc = arc_at (even, cut.arc);
    Gap *last = arc->n_cuts ? &g_array_index (gaps, Gap, gaps->len - 1) : NULL;
    if (last != NULL && cut.from <= last->to) {
      if (cut.to > last->to) {
        last->to = cut.to;
        last->leave = cut.other;
      }
      continue;
    }
    if (arc->n_cuts++ == 0)
      arc->first_cut = gaps->len;
    Gap gap = {cut.other, cut.other, cut.from, cut.to};
    g_array_append_val (gaps, gap);
  }
}

/* The gap on `arc` that is left where `other`'s begins; G_MAXUINT when there is none. */
static guint
find_leaving (const Even *even, const GArray *gaps, guint arc, guint other)
{
  const Arc *a = arc_at (even, arc);
  for (guint g = a->first_cut; g < a->first_cut + a->n_cuts; g++)
    if (g_array_index (gaps, Gap, g).leave == other)
      return g;
  return G_MAXUINT;
}

/* Do all cuts fit together? If not, refuses one pair. */
static gboolean
cuts_fit (Even *even, const GArray *gaps)
{
  for (guint i = 0; i < even->arcs->len; i++) {
    const Arc *arc = arc_at (even, i);
    for (guint g = arc->first_cut; g < arc->first_cut + arc->n_cuts; g++) {
      const Gap *gap = &g_array_index (gaps, Gap, g);
      Pair pair = {i, gap->enter};
      guint match = find_leaving (even, gaps, gap->enter, i);
      if (match == G_MAXUINT) {
        g_array_append_val (even->refused, pair);
        return FALSE;
      }
    }
  }
  return TRUE;
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
  double turn = atan2 (cross (da, db), dot (da, db));
  sb_path_add_arc (even->path, tip, even->opening, (SbPoint){-da.x, -da.y},
                   turn < 0 ? turn + 2 * G_PI : turn);
}

/* Follows the arc after a stretch, over cuts, and returns the stretch it leads to. */
static guint
follow_arcs (Even *even, const GArray *gaps, guint i)
{
  guint gap = 0; /* how many gaps of the arc lie behind */
  double from = 0;
  for (guint guard = 0; guard <= gaps->len; guard++) {
    const Arc *arc = arc_at (even, i);
    if (gap == arc->n_cuts) {
      add_arc_part (even, arc, from, arc->turn);
      return stretch (even, arc->stretch)->next;
    }
    const Gap *cut = &g_array_index (gaps, Gap, arc->first_cut + gap);
    add_arc_part (even, arc, from, cut->from);
    guint match = find_leaving (even, gaps, cut->enter, i);
    const Arc *other = arc_at (even, cut->enter);
    const Gap *leave = &g_array_index (gaps, Gap, match);
    add_tip (even, arc, cut->from, other, leave->to);
    from = leave->to;
    gap = match - other->first_cut + 1;
    i = cut->enter;
  }
  return stretch (even, arc_at (even, i)->stretch)->next;
}

SbPath *
sb_even_front (const SbFront *front, double width, double opening)
{
  guint n = front->stretches->len;
  Even even = {.front = front,
               .width = width,
               .opening = opening,
               .arcs = g_array_new (FALSE, FALSE, sizeof (Arc)),
               .cuts = g_array_new (FALSE, FALSE, sizeof (Cut)),
               .refused = g_array_new (FALSE, FALSE, sizeof (Pair)),
               .arc_after = g_new (guint, n + 1),
               .path = sb_path_new ()};
  g_autoptr (GArray) gaps = g_array_new (FALSE, FALSE, sizeof (Gap));
  collect_arcs (&even);
  for (int tries = 0; tries < MOST_TRIES; tries++) {
    find_cuts (&even, gaps);
    if (cuts_fit (&even, gaps))
      break;
    if (tries + 1 == MOST_TRIES) /* no cuts at all is always whole */
      for (guint i = 0; i < even.arcs->len; i++)
        arc_at (&even, i)->n_cuts = 0;
  }
  g_autofree guint8 *done = g_malloc0 (n + 1);
  for (guint i = 0; i < n; i++) {
    if (done[i])
      continue;
    for (guint s = i; !done[s];) {
      done[s] = 1;
      add_stretch (&even, stretch (&even, s));
      s = even.arc_after[s] == G_MAXUINT ? stretch (&even, s)->next
                                         : follow_arcs (&even, gaps, even.arc_after[s]);
    }
    sb_path_close (even.path);
  }
  g_array_unref (even.arcs);
  g_array_unref (even.cuts);
  g_array_unref (even.refused);
  g_free (even.arc_after);
  return even.path;
}
