/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How two polygons lie to each other.
 *
 * Both edge trees are descended together, and pairs of boxes that are too far apart are dropped, so
 * that mostly only the few edges that face each other are compared.
 *
 * Overlap. Where an edge of one crosses an edge of the other, both insides are there. Where none
 * does, the polygons can only touch in corners of one or the other, which are integers. Each loop
 * is then cut at these corners into legs, and every leg lies wholly inside, wholly outside or
 * wholly along the edge of the other polygon; its middle (exact in halves of a micrometre) tells
 * which. The insides share a point just when some leg of one lies inside the other, or runs along
 * an edge of it in the same direction: the inside is on the same hand of every edge.
 *
 * Sizes: corners stay within 1e7, differences within 2e7, so an orientation stays below 8e14 (in
 * halves below 4e15) and its square below 2^100. */
#include "geometry/relation.h"

#include <math.h>

#include "geometry/polygon-private.h"

G_GNUC_EXTENSION typedef __int128 int128;

static gint64
orient (SbIPoint o, SbIPoint a, SbIPoint b)
{
  return (gint64)(a.x - o.x) * (b.y - o.y) - (gint64)(a.y - o.y) * (b.x - o.x);
}

static gint64
square_length (SbIPoint a, SbIPoint b)
{
  gint64 dx = b.x - a.x;
  gint64 dy = b.y - a.y;
  return dx * dx + dy * dy;
}

static gint64
along (SbIPoint o, SbIPoint a, SbIPoint b)
{
  return (gint64)(a.x - o.x) * (b.x - o.x) + (gint64)(a.y - o.y) * (b.y - o.y);
}

/* The square of the least distance between points of two boxes. */
static gint64
box_distance2 (const SbIBox *a, const SbIBox *b)
{
  gint64 dx = MAX (0, MAX (b->x0 - a->x1, a->x0 - b->x1));
  gint64 dy = MAX (0, MAX (b->y0 - a->y1, a->y0 - b->y1));
  return dx * dx + dy * dy;
}

static gboolean
is_empty (const SbIBox *box)
{
  return box->x1 < box->x0;
}

/* ---- Pairs of edges that are close ---- */

typedef struct _Walk Walk;

/* Looks at edge `i` of a and `j` of b; TRUE ends the walk. */
typedef gboolean (*VisitPair) (Walk *walk, guint i, guint j);

struct _Walk {
  const SbPolygon *a, *b;
  SbIPoint shift; /* of a */
  double reach2;  /* boxes farther apart than its root are passed over */
  VisitPair visit;
  SbPoint near_a, near_b;          /* for distances: the nearest points so far */
  GArray *contacts_a, *contacts_b; /* Contact */
  sb_um gap;
};

static SbIBox
shift_box (const SbIBox *box, SbIPoint by)
{
  return (SbIBox){box->x0 + by.x, box->y0 + by.y, box->x1 + by.x, box->y1 + by.y};
}

static SbIPoint
shift_point (SbIPoint p, SbIPoint by)
{
  return (SbIPoint){p.x + by.x, p.y + by.y};
}

/* Edge `i` of a, where it lies in this walk. */
static SbEdgeLine
edge_of_a (const Walk *walk, guint i)
{
  const SbEdgeLine *e = &walk->a->edges[i];
  return (SbEdgeLine){shift_point (e->a, walk->shift), shift_point (e->b, walk->shift)};
}

static gboolean
visit_leaves (Walk *walk, guint leaf_a, guint leaf_b)
{
  guint first_a = leaf_a * SB_EDGES_PER_LEAF;
  guint first_b = leaf_b * SB_EDGES_PER_LEAF;
  guint end_a = MIN (first_a + SB_EDGES_PER_LEAF, walk->a->n_edges);
  guint end_b = MIN (first_b + SB_EDGES_PER_LEAF, walk->b->n_edges);
  const SbIBox *box_b = &walk->b->nodes[walk->b->n_leaves + leaf_b];
  for (guint i = first_a; i < end_a; i++) {
    SbEdgeLine e = edge_of_a (walk, i);
    SbIBox box = {MIN (e.a.x, e.b.x), MIN (e.a.y, e.b.y), MAX (e.a.x, e.b.x), MAX (e.a.y, e.b.y)};
    if ((double)box_distance2 (&box, box_b) > walk->reach2)
      continue;
    for (guint j = first_b; j < end_b; j++) {
      SbEdgeLine f = walk->b->edges[j];
      SbIBox other = {MIN (f.a.x, f.b.x), MIN (f.a.y, f.b.y), MAX (f.a.x, f.b.x),
                      MAX (f.a.y, f.b.y)};
      if ((double)box_distance2 (&box, &other) <= walk->reach2 && walk->visit (walk, i, j))
        return TRUE;
    }
  }
  return FALSE;
}

/* Descends the larger box first, so that both stay of a size; nearer children first, so that a
 * reach that shrinks does so early. */
static gboolean
walk_nodes (Walk *walk, guint node_a, guint node_b)
{
  const SbIBox *box_a = &walk->a->nodes[node_a];
  const SbIBox *b = &walk->b->nodes[node_b];
  if (is_empty (box_a) || is_empty (b))
    return FALSE;
  SbIBox a = shift_box (box_a, walk->shift);
  if ((double)box_distance2 (&a, b) > walk->reach2)
    return FALSE;
  gboolean leaf_a = node_a >= walk->a->n_leaves;
  gboolean leaf_b = node_b >= walk->b->n_leaves;
  if (leaf_a && leaf_b)
    return visit_leaves (walk, node_a - walk->a->n_leaves, node_b - walk->b->n_leaves);

  gint64 size_a = MAX (a.x1 - a.x0, a.y1 - a.y0);
  gint64 size_b = MAX (b->x1 - b->x0, b->y1 - b->y0);
  if (leaf_b || (!leaf_a && size_a >= size_b)) {
    SbIBox first = shift_box (&walk->a->nodes[2 * node_a], walk->shift);
    SbIBox second = shift_box (&walk->a->nodes[2 * node_a + 1], walk->shift);
    guint swap = !is_empty (&second) && box_distance2 (&second, b) < box_distance2 (&first, b);
    return walk_nodes (walk, 2 * node_a + swap, node_b) ||
           walk_nodes (walk, 2 * node_a + 1 - swap, node_b);
  }
  const SbIBox *child = &walk->b->nodes[2 * node_b];
  guint swap = !is_empty (child + 1) && box_distance2 (&a, child + 1) < box_distance2 (&a, child);
  return walk_nodes (walk, node_a, 2 * node_b + swap) ||
         walk_nodes (walk, node_a, 2 * node_b + 1 - swap);
}

static gboolean
walk_pairs (Walk *walk)
{
  return walk->a->n_leaves > 0 && walk->b->n_leaves > 0 && walk_nodes (walk, 1, 1);
}

/* ---- Where a point lies ---- */

typedef enum {
  SIDE_OUT,
  SIDE_IN,
  SIDE_ALONG_SAME,  /* on an edge that runs the same way */
  SIDE_ALONG_OTHER, /* on an edge that does not */
} Side;

/* A point in halves of a micrometre, with the direction of the leg it is the middle of. */
typedef struct {
  gint64 x2, y2;
  gint64 dx, dy;
  int winding;
  gboolean on_edge, same_way;
} Probe;

static void
probe_edge (Probe *probe, const SbEdgeLine *e)
{
  gint64 ax = 2 * (gint64)e->a.x - probe->x2, ay = 2 * (gint64)e->a.y - probe->y2;
  gint64 bx = 2 * (gint64)e->b.x - probe->x2, by = 2 * (gint64)e->b.y - probe->y2;
  gint64 turn = ax * by - ay * bx;
  if (turn == 0 && MIN (ax, bx) <= 0 && MAX (ax, bx) >= 0 && MIN (ay, by) <= 0 &&
      MAX (ay, by) >= 0) {
    probe->on_edge = TRUE;
    if (probe->dx * (bx - ax) + probe->dy * (by - ay) > 0)
      probe->same_way = TRUE;
  }
  /* A ray to the right; an edge owns its upper end and not its lower one. */
  if (ay <= 0 && by > 0 && turn > 0)
    probe->winding++;
  else if (ay > 0 && by <= 0 && turn < 0)
    probe->winding--;
}

static void
probe_node (Probe *probe, const SbPolygon *polygon, guint node)
{
  const SbIBox *box = &polygon->nodes[node];
  if (is_empty (box) || 2 * (gint64)box->y1 < probe->y2 || 2 * (gint64)box->y0 > probe->y2 ||
      2 * (gint64)box->x1 < probe->x2)
    return;
  if (node < polygon->n_leaves) {
    probe_node (probe, polygon, 2 * node);
    probe_node (probe, polygon, 2 * node + 1);
    return;
  }
  guint first = (node - polygon->n_leaves) * SB_EDGES_PER_LEAF;
  guint end = MIN (first + SB_EDGES_PER_LEAF, polygon->n_edges);
  for (guint i = first; i < end; i++)
    probe_edge (probe, &polygon->edges[i]);
}

/* Where the middle of the leg from `p` to `q` lies. */
static Side
side_of_leg (const SbPolygon *polygon, SbIPoint p, SbIPoint q)
{
  Probe probe = {(gint64)p.x + q.x, (gint64)p.y + q.y, (gint64)q.x - p.x, (gint64)q.y - p.y};
  if (polygon->n_leaves > 0)
    probe_node (&probe, polygon, 1);
  if (probe.on_edge)
    return probe.same_way ? SIDE_ALONG_SAME : SIDE_ALONG_OTHER;
  return probe.winding != 0 ? SIDE_IN : SIDE_OUT;
}

gboolean
sb_polygon_contains (const SbPolygon *polygon, SbIPoint p)
{
  return side_of_leg (polygon, p, p) != SIDE_OUT;
}

gboolean
sb_polygon_inside_box (const SbPolygon *polygon, SbIBox box)
{
  SbIBox own = polygon->box;
  return polygon->n_edges == 0 ||
         (own.x0 >= box.x0 && own.y0 >= box.y0 && own.x1 <= box.x1 && own.y1 <= box.y1);
}

/* ---- Overlap ---- */

/* A place where edge `edge` meets the other polygon. */
typedef struct {
  guint edge;
  gint64 along;
  SbIPoint at;
} Contact;

static void
add_contact (GArray **contacts, guint edge, const SbEdgeLine *e, SbIPoint at)
{
  Contact contact = {edge, along (e->a, e->b, at), at};
  if (*contacts == NULL)
    *contacts = g_array_new (FALSE, FALSE, sizeof contact);
  g_array_append_val (*contacts, contact);
}

/* TRUE when `p`, which lies on the line of `e`, lies on `e`. */
static gboolean
within (const SbEdgeLine *e, SbIPoint p)
{
  return MIN (e->a.x, e->b.x) <= p.x && p.x <= MAX (e->a.x, e->b.x) &&
         MIN (e->a.y, e->b.y) <= p.y && p.y <= MAX (e->a.y, e->b.y);
}

static gboolean
edges_cross (const SbEdgeLine *e, const SbEdgeLine *f)
{
  gint64 ea = orient (e->a, e->b, f->a);
  gint64 eb = orient (e->a, e->b, f->b);
  if (!((ea < 0 && eb > 0) || (ea > 0 && eb < 0)))
    return FALSE;
  gint64 fa = orient (f->a, f->b, e->a);
  gint64 fb = orient (f->a, f->b, e->b);
  return (fa < 0 && fb > 0) || (fa > 0 && fb < 0);
}

static gboolean
visit_for_overlap (Walk *walk, guint i, guint j)
{
  SbEdgeLine edge = edge_of_a (walk, i);
  const SbEdgeLine *e = &edge;
  const SbEdgeLine *f = &walk->b->edges[j];
  gint64 sides[] = {orient (e->a, e->b, f->a), orient (e->a, e->b, f->b), orient (f->a, f->b, e->a),
                    orient (f->a, f->b, e->b)};
  if (((sides[0] < 0 && sides[1] > 0) || (sides[0] > 0 && sides[1] < 0)) &&
      ((sides[2] < 0 && sides[3] > 0) || (sides[2] > 0 && sides[3] < 0)))
    return TRUE;
  const SbIPoint ends[] = {f->a, f->b, e->a, e->b};
  for (int k = 0; k < 4; k++) {
    if (sides[k] != 0 || !within (k < 2 ? e : f, ends[k]))
      continue;
    add_contact (&walk->contacts_a, i, e, ends[k]);
    add_contact (&walk->contacts_b, j, f, ends[k]);
  }
  return FALSE;
}

static int
compare_contacts (const void *a, const void *b)
{
  const Contact *p = a;
  const Contact *q = b;
  if (p->edge != q->edge)
    return p->edge < q->edge ? -1 : 1;
  return (p->along > q->along) - (p->along < q->along);
}

/* A polygon and where it lies. */
typedef struct {
  const SbPolygon *polygon;
  SbIPoint shift;
} Placed;

/* TRUE when the leg from `p` to `q` shows that the insides meet. */
static gboolean
leg_overlaps (Placed other, SbIPoint p, SbIPoint q)
{
  if (p.x == q.x && p.y == q.y)
    return FALSE;
  SbIPoint back = {-other.shift.x, -other.shift.y};
  Side side = side_of_leg (other.polygon, shift_point (p, back), shift_point (q, back));
  return side == SIDE_IN || side == SIDE_ALONG_SAME;
}

/* Cuts the loops of `placed` at `contacts` and asks for each leg after a contact; up to the next
 * contact the edges stay on the same side. The first leg of each loop is asked for those without
 * contacts. */
static gboolean
legs_overlap (Placed placed, Placed other, GArray *contacts)
{
  const SbPolygon *polygon = placed.polygon;
  const Contact *contact = NULL;
  const Contact *end = NULL;
  if (contacts != NULL) {
    g_array_sort (contacts, compare_contacts);
    contact = &g_array_index (contacts, Contact, 0);
    end = contact + contacts->len;
  }
  for (guint l = 0; l < polygon->n_loops; l++) {
    guint start = (guint)(polygon->loops[l].points - polygon->points);
    gboolean ask = TRUE;
    for (guint i = start; i < start + polygon->loops[l].n_points && (ask || contact < end); i++) {
      SbIPoint from = shift_point (polygon->edges[i].a, placed.shift);
      for (; contact < end && contact->edge == i; contact++) {
        if (ask && leg_overlaps (other, from, contact->at))
          return TRUE;
        ask = TRUE;
        from = contact->at;
      }
      SbIPoint to = shift_point (polygon->edges[i].b, placed.shift);
      if (ask && leg_overlaps (other, from, to))
        return TRUE;
      if (from.x != to.x || from.y != to.y)
        ask = FALSE;
    }
  }
  return FALSE;
}

/* A quick yes for polygons that lie well over each other: the middle of what their boxes share is
 * inside both. */
static gboolean
share_middle (Placed a, Placed b)
{
  SbIBox box_a = shift_box (&a.polygon->box, a.shift), box_b = shift_box (&b.polygon->box, b.shift);
  SbIPoint middle = {
      (MAX (box_a.x0, box_b.x0) + MIN (box_a.x1, box_b.x1)) / 2,
      (MAX (box_a.y0, box_b.y0) + MIN (box_a.y1, box_b.y1)) / 2,
  };
  SbIPoint in_a = {middle.x - a.shift.x, middle.y - a.shift.y};
  SbIPoint in_b = {middle.x - b.shift.x, middle.y - b.shift.y};
  return side_of_leg (a.polygon, in_a, in_a) == SIDE_IN &&
         side_of_leg (b.polygon, in_b, in_b) == SIDE_IN;
}

static gboolean
overlap (Placed a, Placed b)
{
  Walk walk = {a.polygon, b.polygon, a.shift, 0, visit_for_overlap};
  gboolean overlap = share_middle (a, b) || walk_pairs (&walk) ||
                     legs_overlap (a, b, walk.contacts_a) || legs_overlap (b, a, walk.contacts_b);
  g_clear_pointer (&walk.contacts_a, g_array_unref);
  g_clear_pointer (&walk.contacts_b, g_array_unref);
  return overlap;
}

gboolean
sb_polygons_overlap (const SbPolygon *a, const SbPolygon *b)
{
  return sb_polygons_closer_than_moved (a, 0, 0, b, 0);
}

/* ---- Distance ---- */

/* TRUE when the foot of `p` on the line of `e` lies on `e`. */
static gboolean
faces (const SbEdgeLine *e, SbIPoint p)
{
  gint64 foot = along (e->a, e->b, p);
  return foot > 0 && foot < square_length (e->a, e->b);
}

static gboolean
point_closer_than (const SbEdgeLine *e, SbIPoint p, gint64 gap)
{
  if (!faces (e, p))
    return MIN (square_length (e->a, p), square_length (e->b, p)) < gap * gap;
  int128 turn = orient (e->a, e->b, p);
  return turn * turn < (int128)(gap * gap) * square_length (e->a, e->b);
}

static gboolean
visit_for_gap (Walk *walk, guint i, guint j)
{
  SbEdgeLine edge = edge_of_a (walk, i);
  const SbEdgeLine *e = &edge;
  const SbEdgeLine *f = &walk->b->edges[j];
  return point_closer_than (e, f->a, walk->gap) || point_closer_than (e, f->b, walk->gap) ||
         point_closer_than (f, e->a, walk->gap) || point_closer_than (f, e->b, walk->gap) ||
         edges_cross (e, f);
}

/* For polygons whose edges do not meet: TRUE when one reaches into the other. */
static gboolean
one_holds_other (Placed a, Placed b)
{
  SbIPoint to_b = {a.shift.x - b.shift.x, a.shift.y - b.shift.y};
  SbIPoint to_a = {-to_b.x, -to_b.y};
  for (guint l = 0; l < a.polygon->n_loops; l++)
    if (sb_polygon_contains (b.polygon, shift_point (a.polygon->loops[l].points[0], to_b)))
      return TRUE;
  for (guint l = 0; l < b.polygon->n_loops; l++)
    if (sb_polygon_contains (a.polygon, shift_point (b.polygon->loops[l].points[0], to_a)))
      return TRUE;
  return FALSE;
}

gboolean
sb_polygons_closer_than_moved (const SbPolygon *a, sb_um dx, sb_um dy, const SbPolygon *b,
                               sb_um gap)
{
  g_return_val_if_fail (gap >= 0 && gap <= SB_UM_MOST, FALSE);
  if (a->n_edges == 0 || b->n_edges == 0)
    return FALSE;
  g_return_val_if_fail (ABS (dx) <= 2 * SB_UM_MOST && ABS (dy) <= 2 * SB_UM_MOST, FALSE);
  Placed placed = {a, {dx, dy}}, other = {b};
  SbIBox box = shift_box (&a->box, placed.shift);
  double gap2 = (double)gap * gap;
  if (gap == 0)
    return box_distance2 (&box, &b->box) == 0 && overlap (placed, other);
  if ((double)box_distance2 (&box, &b->box) >= gap2)
    return FALSE;
  Walk walk = {a, b, placed.shift, gap2 - 1, visit_for_gap, .gap = gap};
  return walk_pairs (&walk) || one_holds_other (placed, other);
}

gboolean
sb_polygons_closer_than (const SbPolygon *a, const SbPolygon *b, sb_um gap)
{
  return sb_polygons_closer_than_moved (a, 0, 0, b, gap);
}

/* The point of an edge that is nearest to `p`, and the square of how far it is. */
static double
nearest_on_edge (const SbEdgeLine *e, SbIPoint p, SbPoint *nearest)
{
  gint64 to_a = square_length (e->a, p), to_b = square_length (e->b, p);

  if (!faces (e, p)) {
    SbIPoint end = to_a <= to_b ? e->a : e->b;
    *nearest = (SbPoint){end.x, end.y};
    return (double)MIN (to_a, to_b);
  }
  double turn = (double)orient (e->a, e->b, p), length2 = (double)square_length (e->a, e->b);
  *nearest = (SbPoint){p.x + turn / length2 * ((double)e->b.y - e->a.y),
                       p.y - turn / length2 * ((double)e->b.x - e->a.x)};
  return turn * turn / length2;
}

/* Takes `corner` of one polygon and the point of the other's edge when they are the nearest yet. */
static void
try_corner (Walk *walk, SbIPoint corner, const SbEdgeLine *edge, SbPoint *of_corner,
            SbPoint *of_edge)
{
  SbPoint foot;
  double distance2 = nearest_on_edge (edge, corner, &foot);

  if (distance2 >= walk->reach2)
    return;
  walk->reach2 = distance2;
  *of_corner = (SbPoint){corner.x, corner.y};
  *of_edge = foot;
}

static gboolean
visit_for_distance (Walk *walk, guint i, guint j)
{
  SbEdgeLine e = edge_of_a (walk, i);
  const SbEdgeLine *f = &walk->b->edges[j];

  if (edges_cross (&e, f))
    walk->reach2 = 0;
  try_corner (walk, e.a, f, &walk->near_a, &walk->near_b);
  try_corner (walk, e.b, f, &walk->near_a, &walk->near_b);
  try_corner (walk, f->a, &e, &walk->near_b, &walk->near_a);
  try_corner (walk, f->b, &e, &walk->near_b, &walk->near_a);
  return walk->reach2 == 0;
}

double
sb_polygons_find_nearest (const SbPolygon *a, const SbPolygon *b, SbPoint *on_a, SbPoint *on_b)
{
  if (a->n_edges == 0 || b->n_edges == 0)
    return G_MAXDOUBLE;
  Walk walk = {a, b, {0, 0}, G_MAXDOUBLE, visit_for_distance};
  if (walk_pairs (&walk) || one_holds_other ((Placed){a}, (Placed){b}))
    return 0;
  *on_a = walk.near_a;
  *on_b = walk.near_b;
  return sqrt (walk.reach2);
}

double
sb_polygons_distance_um (const SbPolygon *a, const SbPolygon *b)
{
  SbPoint on_a, on_b;

  return sb_polygons_find_nearest (a, b, &on_a, &on_b);
}

double
sb_polygon_find_nearest (const SbPolygon *polygon, SbIPoint p, SbPoint *nearest)
{
  double least2 = G_MAXDOUBLE;

  for (guint i = 0; i < polygon->n_edges; i++) {
    SbPoint foot;
    double distance2 = nearest_on_edge (&polygon->edges[i], p, &foot);
    if (distance2 < least2) {
      least2 = distance2;
      *nearest = foot;
    }
  }
  return sqrt (least2);
}
