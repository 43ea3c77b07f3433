/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The field's level line gives the order in which the artwork's edge shows on the front, a place
 * every lattice step or so. Between two such places the front is worked out exactly: the circles
 * around their roots meet in one point; if a third point of the edge lies nearer to it than R, that
 * one shows in between, and both halves are treated in the same way; if none does, the front has a
 * corner there. */
#include "border/front.h"

#include <math.h>

#include "border/level.h"

#define SAME_MM (1.5 * SB_CHAIN_SPACING_MM) /* roots so close are neighbours on a smooth edge */
#define SHIFT_MM (0.6 * SB_CHAIN_SPACING_MM)
#define COVERED_MM 0.0005 /* a point covered by less than this is on the front */
#define WINDOW 12         /* points of the edge searched to each side of a root */
#define MOST_BETWEEN 512  /* points searched between two roots */
#define MOST_BEHIND 24    /* a root so few points back is a wavering */
#define NODE_MM 1e-3      /* the field's own rounding */
#define MOST_DEPTH 40
#define ARC_STEP 0.06 /* radians between stations on the arc around one root */
#define BEND 0.03     /* sine of a turn between neighbours that wants the exact corner */

typedef struct {
  const SbChain *chain;
  const SbField *field;
  const SbRoots *roots;
  double radius;
  SbFront *front;
  guint first_of_ring; /* the ring's first stretch */
  guint open;          /* the open stretch's first station */
} Builder;

void
sb_front_free (SbFront *front)
{
  if (front == NULL)
    return;
  g_array_unref (front->stations);
  g_array_unref (front->stretches);
  g_free (front);
}

static inline double
dot (SbPoint a, SbPoint b)
{
  return a.x * b.x + a.y * b.y;
}

static inline double
cross (SbPoint a, SbPoint b)
{
  return a.x * b.y - a.y * b.x;
}

static inline SbPoint
minus (SbPoint a, SbPoint b)
{
  return (SbPoint){a.x - b.x, a.y - b.y};
}

static inline SbPoint
along (SbPoint p, SbPoint direction, double distance)
{
  return (SbPoint){p.x + distance * direction.x, p.y + distance * direction.y};
}

static inline double
length (SbPoint v)
{
  return sqrt (dot (v, v));
}

static inline SbPoint
root_point (const Builder *b, guint root)
{
  return b->chain->points[root];
}

/* The station of `root` at a place `radius` from it. The edge runs smoothly through the root, so
 * the way from the place to the edge does not end at the root itself but beside it, where it is
 * square to the edge. */
static SbStation
look_from (const Builder *b, guint root, SbPoint p, double radius)
{
  SbPoint foot = root_point (b, root), tangent = b->chain->tangents[root], v = minus (p, foot);
  double bend = MAX (1 + b->chain->bends[root] * radius, 0.5);
  double shift = dot (v, tangent) / bend;
  v = minus (p, along (foot, tangent, CLAMP (shift, -SHIFT_MM, SHIFT_MM)));
  double l = length (v);
  SbPoint direction = l > 0 ? (SbPoint){v.x / l, v.y / l} : (SbPoint){1, 0};
  return (SbStation){root, along (p, direction, -radius), direction};
}

/* The same for a place near the front: the one on it in the same direction. */
static SbStation
look_at (const Builder *b, guint root, SbPoint p)
{
  SbPoint from = root_point (b, root), v = minus (p, from);
  double l = length (v);
  return look_from (b, root, l > 0 ? along (from, v, b->radius / l) : p, b->radius);
}

static SbPoint
place (const Builder *b, const SbStation *station)
{
  return along (station->foot, station->direction, b->radius);
}

/* Does `p` lie ahead of the station, along the front? */
static gboolean
is_ahead (const Builder *b, const SbStation *station, SbPoint p)
{
  SbPoint tangent = {-station->direction.y, station->direction.x};
  return dot (minus (p, place (b, station)), tangent) > 1e-9;
}

static SbStation *
last_station (const Builder *b)
{
  GArray *stations = b->front->stations;
  return stations->len > b->open ? &g_array_index (stations, SbStation, stations->len - 1) : NULL;
}

/* Adds a station unless it lies behind the last one; on a turn around one root, those between. */
static void
add_station (Builder *b, SbStation station)
{
  const SbStation *last = last_station (b);
  if (last != NULL) {
    if (!is_ahead (b, last, place (b, &station)))
      return;
    if (last->root == station.root) {
      SbPoint from = last->direction;
      double turn = atan2 (cross (from, station.direction), dot (from, station.direction));
      int parts = (int)ceil (turn / ARC_STEP);
      for (int k = 1; k < parts; k++) {
        double c = cos (turn * k / parts), s = sin (turn * k / parts);
        SbStation between = station;
        between.direction = (SbPoint){c * from.x - s * from.y, s * from.x + c * from.y};
        g_array_append_val (b->front->stations, between);
      }
    }
  }
  g_array_append_val (b->front->stations, station);
}

/* Where the circles around two roots meet on the outside, going from `from` to `to`; the middle
 * when they are too far apart. */
static void
meet (const Builder *b, guint from, guint to, SbPoint *p)
{
  SbPoint a = root_point (b, from), d = minus (root_point (b, to), a);
  double l = length (d), rest = b->radius * b->radius - l * l / 4;
  *p = along (a, d, 0.5);
  if (l > 0 && rest > 0)
    *p = along (*p, (SbPoint){d.y / l, -d.x / l}, sqrt (rest));
}

static void
close_stretch (Builder *b, SbStretch stretch)
{
  stretch.first = b->open;
  stretch.n = b->front->stations->len - b->open;
  stretch.next = b->front->stretches->len + 1;
  g_array_append_val (b->front->stretches, stretch);
  b->open = b->front->stations->len;
}

/* Ends the open stretch with the kink between two roots and begins the next. Stations beyond the
 * kink are taken back; when a whole stretch goes, its root was hidden all along. */
static void
add_kink (Builder *b, guint from, guint to)
{
  GArray *stations = b->front->stations, *stretches = b->front->stretches;
  SbPoint p;
  for (;;) {
    meet (b, from, to, &p);
    while (last_station (b) != NULL && !is_ahead (b, last_station (b), p))
      g_array_set_size (stations, stations->len - 1);
    if (last_station (b) != NULL || stretches->len == b->first_of_ring)
      break;
    const SbStretch *before = &g_array_index (stretches, SbStretch, stretches->len - 1);
    b->open = before->first;
    from = g_array_index (stations, SbStation, stations->len - 1).root;
    g_array_set_size (stretches, stretches->len - 1);
    g_array_set_size (stations, stations->len - 1);
    if (from == to)
      return;
  }
  double radius = MAX (b->radius, length (minus (p, root_point (b, from))));
  SbStation end = look_from (b, from, p, radius), begin = look_from (b, to, p, radius);
  g_array_append_val (stations, end);
  close_stretch (b, (SbStretch){.kinked = TRUE, .kink = p, .radius = radius});
  g_array_append_val (stations, begin);
}

static void
nearest_in (const Builder *b, guint centre, int from, int to, SbPoint p, guint *best, double *least)
{
  int n = (int)b->chain->rings[b->chain->ring_of[centre]].n;
  from = MAX (from, -n + 1);
  to = MIN (to, n - 1);
  for (int k = from; k <= to; k++) {
    guint i = sb_chain_step (b->chain, centre, k);
    SbPoint v = minus (root_point (b, i), p);
    double d = dot (v, v);
    if (d < *least) {
      *least = d;
      *best = i;
    }
  }
}

/* How many points forward along the ring; -1 on another ring. */
static int
steps_ahead (const Builder *b, guint from, guint to)
{
  guint ring = b->chain->ring_of[from];
  if (ring != b->chain->ring_of[to])
    return -1;
  return (int)(to >= from ? to - from : to + b->chain->rings[ring].n - from);
}

/* Does the field say that `p` is covered, or do the circles that should meet there not reach it? */
static gboolean
is_doubtful (const Builder *b, guint from, SbPoint p)
{
  const SbField *f = b->field;
  SbPoint v = minus (p, root_point (b, from));
  if (length (v) > b->radius + COVERED_MM)
    return TRUE;
  double x = (p.x - f->x0) / f->step, y = (p.y - f->y0) / f->step;
  guint i = (guint)CLAMP (floor (x + 0.5), 0, f->nx - 1);
  guint k = (guint)CLAMP (floor (y + 0.5), 0, f->ny - 1);
  double far = sqrt ((double)f->squared[(gsize)k * f->nx + i]) + hypot (x - i, y - k);
  return far < b->radius / f->step;
}

/* The point of the edge that shows at `p` between two roots, if any lies nearer than R. */
static gboolean
find_between (const Builder *b, guint from, guint to, SbPoint p, guint *between)
{
  double nearer = b->radius - COVERED_MM, least = nearer * nearer;
  guint best = G_MAXUINT;
  int ahead = steps_ahead (b, from, to);
  if (ahead >= 0 && ahead <= MOST_BETWEEN)
    nearest_in (b, from, 1, ahead - 1, p, &best, &least);
  else
    nearest_in (b, from, 1, WINDOW, p, &best, &least);
  nearest_in (b, from, -WINDOW, -1, p, &best, &least);
  if (ahead < 0 || ahead > MOST_BETWEEN)
    nearest_in (b, to, -WINDOW, -1, p, &best, &least);
  nearest_in (b, to, 1, WINDOW, p, &best, &least);
  if (best == G_MAXUINT && is_doubtful (b, from, p))
    best = sb_roots_nearest (b->roots, p, nearer);
  *between = best;
  return best != G_MAXUINT && best != from && best != to;
}

/* The level line wavers by a fraction of a step: is `to` only a little behind `from`? */
static gboolean
is_behind (const Builder *b, guint from, guint to)
{
  int ahead = steps_ahead (b, from, to), behind = steps_ahead (b, to, from);
  return ahead >= 0 && behind < ahead && behind <= MOST_BEHIND;
}

/* Adds everything between the last station and the next one, `to` itself included. */
static void
join (Builder *b, SbStation to, int depth)
{
  const SbStation *last = last_station (b);
  if (last == NULL || last->root == to.root) {
    add_station (b, to);
    return;
  }
  SbStation from = *last;
  if (is_behind (b, from.root, to.root))
    return;
  SbPoint p, d = minus (root_point (b, to.root), root_point (b, from.root));
  meet (b, from.root, to.root, &p);
  if (length (d) <= SAME_MM) {
    if (cross (from.direction, to.direction) > BEND) {
      add_station (b, look_from (b, from.root, p, b->radius));
      add_station (b, look_from (b, to.root, p, b->radius));
    }
    add_station (b, to);
    return;
  }
  guint between;
  if (depth < MOST_DEPTH && find_between (b, from.root, to.root, p, &between)) {
    join (b, look_at (b, between, p), depth + 1);
    join (b, to, depth + 1);
  } else {
    add_kink (b, from.root, to.root);
    add_station (b, to);
  }
}

/* The root of the node inside the level line; `last` is the root before, or none. The node's own
 * root is on this side of even the narrowest gap. */
static guint
find_root (const Builder *b, const SbLevelPoint *level, guint last)
{
  double near = level->distance + NODE_MM, least = G_MAXDOUBLE;
  guint best = last;
  if (last != G_MAXUINT) {
    /* Downhill along the edge from the last root. */
    guint centre;
    do {
      centre = best;
      nearest_in (b, centre, -WINDOW, WINDOW, level->node, &best, &least);
    } while (best != centre);
    if (least <= near * near)
      return best;
  }
  double steep = length (level->uphill);
  SbPoint guess = level->node;
  if (steep > 0)
    guess = along (guess, level->uphill, -level->distance / steep);
  guint found = sb_roots_near (b->roots, level->node, guess, near);
  return found == G_MAXUINT ? best : found;
}

/* Where to begin: in the middle of three stations whose roots are close together. */
static guint
calm_place (const SbStation *at, guint n, const Builder *b)
{
  for (guint i = 0; i < n; i++) {
    guint before = at[i ? i - 1 : n - 1].root, after = at[i + 1 < n ? i + 1 : 0].root;
    int in = steps_ahead (b, before, at[i].root), out = steps_ahead (b, at[i].root, after);
    if (in > 0 && in < WINDOW && out > 0 && out < WINDOW)
      return i;
  }
  return 0;
}

/* Ends the last stretch where the ring's first one begins. */
static void
close_ring (Builder *b)
{
  GArray *stretches = b->front->stretches;
  close_stretch (b, (SbStretch){.kinked = FALSE});
  SbStretch *last = &g_array_index (stretches, SbStretch, stretches->len - 1),
            *first = &g_array_index (stretches, SbStretch, b->first_of_ring);
  last->next = b->first_of_ring;
  if (first == last)
    return;
  const SbStation *end = &g_array_index (b->front->stations, SbStation, last->first + last->n - 1);
  while (
      first->n > 1 &&
      !is_ahead (b, end, place (b, &g_array_index (b->front->stations, SbStation, first->first)))) {
    first->first++;
    first->n--;
  }
}

static void
build_ring (Builder *b, const SbLevelPoint *level, guint n)
{
  SbStation *at = g_new (SbStation, n);
  guint root = G_MAXUINT, kept = 0;
  for (guint i = 0; i < n; i++) {
    root = find_root (b, &level[i], root);
    if (root == G_MAXUINT)
      continue;
    at[kept++] = look_at (b, root, level[i].at);
  }
  if (kept < 3) {
    g_free (at);
    return;
  }
  b->first_of_ring = b->front->stretches->len;
  b->open = b->front->stations->len;
  guint start = calm_place (at, kept, b);
  for (guint i = 0; i <= kept; i++)
    join (b, at[(start + i) % kept], 0);
  g_free (at);
  close_ring (b);
}

SbFront *
sb_front_new (const SbChain *chain, const SbField *field, const SbRoots *roots, double radius)
{
  SbFront *front = g_new (SbFront, 1);
  front->radius = radius;
  front->stations = g_array_new (FALSE, FALSE, sizeof (SbStation));
  front->stretches = g_array_new (FALSE, FALSE, sizeof (SbStretch));
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SbLevelPoint));
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (guint));
  sb_level_rings (field, radius, field->with_holes, points, ends);
  Builder builder = {chain, field, roots, radius, front, 0, 0};
  guint start = 0;
  for (guint r = 0; r < ends->len; r++) {
    guint end = g_array_index (ends, guint, r);
    build_ring (&builder, &g_array_index (points, SbLevelPoint, start), end - start);
    start = end;
  }
  return front;
}
