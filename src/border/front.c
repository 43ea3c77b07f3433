/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The cells say which discs show and in which order. Where neighbouring discs belong to one smooth
 * edge, the front is followed square to that edge, for which the points are only a guide. */
#include "border/front.h"
#include "geometry/vector.h"

#include <math.h>

#define SAME_MM                                                                                    \
  (1.5 * SB_CHAIN_SPACING_MM) /* roots so close may be neighbours on a smooth edge                 \
                               */
#define SAME_STEPS 3          /* and so few points apart they are, if it is smooth */
#define DENT_MM 0.0005        /* no deeper dent between two discs is passed over */
#define SHIFT_MM (0.6 * SB_CHAIN_SPACING_MM)
#define ARC_STEP 0.1    /* radians between stations on the arc around one root */
#define BEND 0.03       /* sine of a turn between neighbours that wants the exact corner */
#define LEAST_BEND 0.01 /* likewise, by the roots alone */

/* One disc's part of a ring. */
typedef struct {
  guint root;
  SbPoint from; /* the kink where it begins; it ends where the next one begins */
} Piece;

typedef struct {
  guint first, n; /* pieces */
  double area;    /* mm2, negative round a hole */
  SbBox box;
} Loop;

typedef struct {
  const SbChain *chain;
  const SbCells *cells;
  double radius;
  gboolean plain;
  GArray *pieces, *loops;
  SbFront *front;
  guint open; /* the open stretch's first station */
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
length (SbPoint v)
{
  return sqrt (sb_dot (v, v));
}

static inline SbPoint
root_point (const Builder *b, guint root)
{
  return b->chain->points[root];
}

/* The turn from `a` to `b` along an arc that runs left. Rounding may make a tiny one negative. */
static double
left_turn (SbPoint a, SbPoint b)
{
  double c = sb_cross (a, b), d = sb_dot (a, b);
  if (fabs (c) < 0.03 * d) { /* most are small, and so their tangent's series is short */
    double t = MAX (c / d, 0);
    return t * (1 - t * t / 3 + t * t * t * t / 5);
  }
  double turn = atan2 (c, d);
  return turn < -G_PI / 2 ? turn + 2 * G_PI : MAX (turn, 0);
}

/* The kink between the discs of an edge, on its left. */
static SbPoint
kink_of (const Builder *b, guint e)
{
  SbPoint p = root_point (b, sb_cells_root (b->cells, e)),
          d = sb_minus (root_point (b, sb_cells_root (b->cells, e ^ 1)), p);
  double l = length (d), rest = b->radius * b->radius - l * l / 4;
  return sb_along (sb_along (p, d, 0.5), (SbPoint){-d.y / l, d.x / l}, rest > 0 ? sqrt (rest) : 0);
}

/* Follows the ring that begins at the kink of `start`. */
static void
collect_loop (Builder *b, guint start, float r2, guint8 *seen)
{
  Loop loop = {.first = b->pieces->len, .box = SB_BOX_EMPTY};
  guint e = start;
  do {
    seen[e >> 3] |= (guint8)(1u << (e & 7));
    Piece piece = {sb_cells_root (b->cells, e), kink_of (b, e)};
    g_array_append_val (b->pieces, piece);
    loop.box = sb_box_add (loop.box, piece.from);
    e = sb_cells_next (b->cells, e, r2);
  } while (e != start);
  loop.n = b->pieces->len - loop.first;
  const Piece *p = &g_array_index (b->pieces, Piece, loop.first);
  double twice = 0;
  for (guint i = 0; i < loop.n; i++) {
    SbPoint from = p[i].from, to = p[i + 1 < loop.n ? i + 1 : 0].from, o = p[0].from,
            centre = root_point (b, p[i].root);
    SbPoint u = sb_minus (from, centre), v = sb_minus (to, centre);
    twice += sb_cross (sb_minus (from, o), sb_minus (to, o));
    twice += b->radius * b->radius * left_turn (u, v) - sb_cross (u, v);
  }
  loop.area = twice / 2;
  g_array_append_val (b->loops, loop);
}

static void
collect_loops (Builder *b)
{
  const SbCells *cells = b->cells;
  guint n = cells->mesh->n_edges;
  float r2 = (float)(b->radius * b->radius);
  g_autofree guint8 *seen = g_malloc0 (n / 8 + 1);
  for (guint block = 0; block < n; block += SB_CELLS_BLOCK) {
    SbKinkRange all = cells->blocks[block / SB_CELLS_BLOCK];
    if (all.from > r2 || r2 >= all.to)
      continue;
    for (guint e = block; e < MIN (block + SB_CELLS_BLOCK, n); e++)
      if (sb_cells_has_kink (cells, e, r2) && !(seen[e >> 3] >> (e & 7) & 1))
        collect_loop (b, e, r2, seen);
  }
}

/* Are two neighbours on the front, `a` before `b`, part of one smooth edge? */
static gboolean
is_smooth (const Builder *b, guint from, guint to)
{
  if (b->plain)
    return FALSE;
  SbPoint d = sb_minus (root_point (b, to), root_point (b, from));
  double apart = sb_dot (d, d);
  if (apart > SAME_MM * SAME_MM)
    return FALSE;
  if (apart <= 8 * DENT_MM * b->radius)
    return TRUE;
  SbPoint s = b->chain->tangents[from], t = b->chain->tangents[to];
  guint k = from;
  for (int i = 0; i < SAME_STEPS && k != to; i++)
    k = sb_chain_next (b->chain, k);
  return k == to && sb_dot (s, t) > 0;
}

/* Is the place inside the artwork? */
static gboolean
is_artwork (const Builder *b, SbPoint p)
{
  const SbChain *chain = b->chain;
  gboolean in = FALSE;
  for (guint r = 0; r < chain->n_rings; r++) {
    const SbChainRing *ring = &chain->rings[r];
    if (p.x < ring->box.x0 || p.x > ring->box.x1 || p.y < ring->box.y0 || p.y > ring->box.y1)
      continue;
    for (guint i = ring->first, j = ring->first + ring->n - 1; i < ring->first + ring->n; j = i++) {
      SbPoint v = chain->points[i], w = chain->points[j];
      if ((v.y > p.y) != (w.y > p.y) && p.x < v.x + (p.y - v.y) * (w.x - v.x) / (w.y - v.y))
        in = !in;
    }
  }
  return in;
}

/* What lies between a ring's kinks and its arcs is within R of a root, and no other ring is there;
 * so the kinks alone will do. */
static gboolean
loop_contains (const Builder *b, const Loop *loop, SbPoint p)
{
  const Piece *pieces = &g_array_index (b->pieces, Piece, loop->first);
  gboolean in = FALSE;
  if (p.x < loop->box.x0 || p.x > loop->box.x1 || p.y < loop->box.y0 || p.y > loop->box.y1)
    return FALSE;
  for (guint i = 0, j = loop->n - 1; i < loop->n; j = i++) {
    SbPoint v = pieces[i].from, w = pieces[j].from;
    if ((v.y > p.y) != (w.y > p.y) && p.x < v.x + (p.y - v.y) * (w.x - v.x) / (w.y - v.y))
      in = !in;
  }
  return in;
}

/* Rings inside the artwork are no part of the front. Without holes neither are pockets, nor what
 * lies in them. */
static gboolean
is_wanted (const Builder *b, guint which, gboolean holes)
{
  const Loop *loop = &g_array_index (b->loops, Loop, which);
  SbPoint p = g_array_index (b->pieces, Piece, loop->first).from;
  if (holes)
    return !is_artwork (b, p);
  if (loop->area <= 0)
    return FALSE;
  for (guint i = 0; i < b->loops->len; i++) {
    const Loop *other = &g_array_index (b->loops, Loop, i);
    if (i != which && other->area > loop->area && loop_contains (b, other, p))
      return FALSE;
  }
  return TRUE;
}

/* The station of `root` at a place `R` from it. The edge runs smoothly through the root, so the way
 * from the place to the edge does not end at the root itself but beside it, where it is square to
 * the edge. */
static SbStation
look_from (const Builder *b, guint root, SbPoint p)
{
  SbPoint foot = root_point (b, root), v = sb_minus (p, foot);
  if (!b->plain) {
    SbPoint tangent = b->chain->tangents[root];
    double bend = MAX (1 + b->chain->bends[root] * b->radius, 0.5);
    double shift = sb_dot (v, tangent) / bend;
    v = sb_minus (p, sb_along (foot, tangent, CLAMP (shift, -SHIFT_MM, SHIFT_MM)));
  }
  double l = length (v);
  SbPoint direction = l > 0 ? (SbPoint){v.x / l, v.y / l} : (SbPoint){1, 0};
  return (SbStation){root, sb_along (p, direction, -b->radius), direction};
}

static SbPoint
place (const Builder *b, const SbStation *station)
{
  return sb_along (station->foot, station->direction, b->radius);
}

/* Does `p` lie ahead of the station, along the front? */
static gboolean
is_ahead (const Builder *b, const SbStation *station, SbPoint p)
{
  SbPoint tangent = {-station->direction.y, station->direction.x};
  return sb_dot (sb_minus (p, place (b, station)), tangent) > 1e-9;
}

static SbStation *
last_station (const Builder *b)
{
  GArray *stations = b->front->stations;
  return stations->len > b->open ? &g_array_index (stations, SbStation, stations->len - 1) : NULL;
}

/* Adds a station unless it lies behind the last one. */
static void
add_station (Builder *b, SbStation station)
{
  const SbStation *last = last_station (b);
  if (last == NULL || is_ahead (b, last, place (b, &station)))
    g_array_append_val (b->front->stations, station);
}

/* The stations on one disc's part of the front, without its ends. */
static void
add_piece (Builder *b, const Piece *piece, SbPoint to)
{
  SbPoint centre = root_point (b, piece->root), u = sb_minus (piece->from, centre),
          v = sb_minus (to, centre);
  if (fabs (sb_cross (u, v)) < ARC_STEP * sb_dot (u, v)) { /* by far the most */
    SbPoint middle = {u.x + v.x, u.y + v.y};
    add_station (
        b, look_from (b, piece->root, sb_along (centre, middle, b->radius / length (middle))));
    return;
  }
  double turn = left_turn (u, v);
  int parts = (int)ceil (turn / ARC_STEP);
  for (int k = 0; k < parts; k++) {
    double angle = turn * (k + 0.5) / parts, c = cos (angle), s = sin (angle);
    add_station (b,
                 look_from (b, piece->root,
                            (SbPoint){centre.x + c * u.x - s * u.y, centre.y + s * u.x + c * u.y}));
  }
}

/* Between two discs of a smooth edge: where it turns a good deal, the place itself. */
static void
add_joint (Builder *b, guint from, guint to, SbPoint p)
{
  SbPoint v = sb_minus (p, root_point (b, to));
  if (last_station (b) == NULL ||
      sb_cross (last_station (b)->direction, v) < LEAST_BEND * b->radius)
    return; /* by far the most */
  SbStation begin = look_from (b, to, p);
  if (sb_cross (last_station (b)->direction, begin.direction) > BEND) {
    add_station (b, look_from (b, from, p));
    add_station (b, begin);
  }
}

static void
close_stretch (Builder *b, gboolean kinked, SbPoint kink)
{
  SbStretch stretch = {.first = b->open,
                       .n = b->front->stations->len - b->open,
                       .next = b->front->stretches->len + 1,
                       .kinked = kinked,
                       .kink = kink};
  g_array_append_val (b->front->stretches, stretch);
  b->open = b->front->stations->len;
}

/* Ends the open stretch in a kink. Stations beyond it are taken back. */
static void
end_in_kink (Builder *b, guint root, SbPoint p)
{
  while (last_station (b) != NULL && !is_ahead (b, last_station (b), p))
    g_array_set_size (b->front->stations, b->front->stations->len - 1);
  SbStation end = look_from (b, root, p);
  g_array_append_val (b->front->stations, end);
  close_stretch (b, TRUE, p);
}

/* Takes stations at the beginning of a ring without kinks that lie behind its end. */
static void
close_smoothly (Builder *b)
{
  const SbStation *end = last_station (b);
  const SbStation *first = &g_array_index (b->front->stations, SbStation, b->open);
  while (first < end && !is_ahead (b, end, place (b, first))) {
    first++;
    b->open++;
  }
  close_stretch (b, FALSE, (SbPoint){0, 0});
}

/* A ring begins at the kink with the least root, or without kinks at the least root, so that it
 * does not depend on where it was found. */
static guint
find_start (const Builder *b, const Piece *pieces, guint n, gboolean *kinked)
{
  guint start = 0;
  *kinked = FALSE;
  for (guint i = 0; i < n; i++) {
    gboolean kink = !is_smooth (b, pieces[i ? i - 1 : n - 1].root, pieces[i].root);
    if (kink == *kinked ? pieces[i].root < pieces[start].root : kink)
      start = i;
    *kinked |= kink;
  }
  return start;
}

static void
build_loop (Builder *b, const Piece *pieces, guint n)
{
  gboolean kinked;
  guint start = find_start (b, pieces, n, &kinked), first = b->front->stretches->len;
  b->open = b->front->stations->len;
  for (guint k = 0; k < n; k++) {
    const Piece *piece = &pieces[(start + k) % n], *next = &pieces[(start + k + 1) % n];
    if (last_station (b) == NULL && kinked)
      add_station (b, look_from (b, piece->root, piece->from));
    add_piece (b, piece, next->from);
    if (is_smooth (b, piece->root, next->root))
      add_joint (b, piece->root, next->root, next->from);
    else
      end_in_kink (b, piece->root, next->from);
  }
  if (!kinked && last_station (b) != NULL)
    close_smoothly (b);
  GArray *stretches = b->front->stretches;
  if (stretches->len > first)
    g_array_index (stretches, SbStretch, stretches->len - 1).next = first;
}

static int
compare_loops (const void *a, const void *b)
{
  const Loop *p = a, *q = b;
  if (p->area != q->area)
    return p->area > q->area ? -1 : 1;
  return p->box.x0 < q->box.x0 ? -1 : p->box.x0 > q->box.x0;
}

SbFront *
sb_front_new (const SbChain *chain, const SbCells *cells, double radius, gboolean holes,
              gboolean plain)
{
  SbFront *front = g_new (SbFront, 1);
  front->radius = radius;
  front->stations = g_array_new (FALSE, FALSE, sizeof (SbStation));
  front->stretches = g_array_new (FALSE, FALSE, sizeof (SbStretch));
  Builder builder = {.chain = chain,
                     .cells = cells,
                     .radius = radius,
                     .plain = plain,
                     .pieces = g_array_new (FALSE, FALSE, sizeof (Piece)),
                     .loops = g_array_new (FALSE, FALSE, sizeof (Loop)),
                     .front = front};
  collect_loops (&builder);
  g_array_sort (builder.loops, compare_loops);
  for (guint i = 0; i < builder.loops->len; i++) {
    const Loop *loop = &g_array_index (builder.loops, Loop, i);
    if (is_wanted (&builder, i, holes))
      build_loop (&builder, &g_array_index (builder.pieces, Piece, loop->first), loop->n);
  }
  g_array_unref (builder.pieces);
  g_array_unref (builder.loops);
  return front;
}
