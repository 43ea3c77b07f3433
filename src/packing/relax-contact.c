/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Two convex parts are as far apart as the best of their edges tells: the corner of the other part
 * that lies least far out from it. (For overlapping parts that is the way out; for parts that are
 * apart but for a pair of corners it is the distance.) What was found a step ago is walked on from;
 * a hill that is not the highest makes an overlap seem deeper, never shallower. */
#include <math.h>
#include <string.h>

#include "packing/convex.h"
#include "packing/relax-private.h"

static void
part_init (SbSoftPart *part, const SbIPoint *points, guint n)
{
  double *columns = g_new (double, 5 * (gsize)n);
  *part = (SbSoftPart){n,
                       columns,
                       columns + n,
                       columns + 2 * (gsize)n,
                       columns + 3 * (gsize)n,
                       columns + 4 * (gsize)n};
  double x0 = G_MAXDOUBLE, y0 = G_MAXDOUBLE, x1 = -G_MAXDOUBLE, y1 = -G_MAXDOUBLE;
  for (guint k = 0; k < n; k++) {
    SbIPoint p = points[k], q = points[(k + 1) % n];
    double dx = (double)q.x - p.x, dy = (double)q.y - p.y, length = sqrt (dx * dx + dy * dy);
    part->x[k] = p.x;
    part->y[k] = p.y;
    part->nx[k] = length > 0 ? dy / length : 0;
    part->ny[k] = length > 0 ? -dx / length : 0;
    part->c[k] = part->nx[k] * p.x + part->ny[k] * p.y;
    x0 = MIN (x0, p.x);
    y0 = MIN (y0, p.y);
    x1 = MAX (x1, p.x);
    y1 = MAX (y1, p.y);
  }
  part->centre_x = (x0 + x1) / 2;
  part->centre_y = (y0 + y1) / 2;
  for (guint k = 0; k < n; k++) {
    double dx = part->x[k] - part->centre_x, dy = part->y[k] - part->centre_y;
    part->radius = MAX (part->radius, sqrt (dx * dx + dy * dy));
  }
}

static void
hull_init (SbSoftPart *hull, const SbSoftForm *form)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (SbIPoint));
  for (guint i = 0; i < form->n_parts; i++)
    for (guint k = 0; k < form->parts[i].n; k++) {
      SbIPoint corner = {(sb_um)form->parts[i].x[k], (sb_um)form->parts[i].y[k]};
      g_array_append_val (all, corner);
    }
  g_autoptr (GArray) corners = sb_points_hull ((const SbIPoint *)(gpointer)all->data, all->len);
  part_init (hull, (const SbIPoint *)(gpointer)corners->data, corners->len);
}

/* More corners cost little here: an outline that is convex is taken as it is, nearly. */
#define CONVEX_SLACK 10 /* um */

static GArray *
get_convex (const SbPolygon *outline)
{
  if (sb_polygon_get_n_loops (outline) != 1)
    return NULL;
  g_autoptr (GArray) simple =
      sb_loop_simplify_outwards (sb_polygon_get_loop (outline, 0), CONVEX_SLACK);
  GArray *hull = sb_points_hull ((const SbIPoint *)(gpointer)simple->data, simple->len);
  if (hull->len == simple->len)
    return hull;
  g_array_unref (hull);
  return NULL;
}

SbSoftForm *
sb_soft_form_new (const SbPose *pose)
{
  SbSoftForm *form = g_new0 (SbSoftForm, 1);
  g_autoptr (GArray) convex = pose->n_parts == 1 ? get_convex (pose->outline) : NULL;
  form->n_parts = pose->n_parts;
  form->parts = g_new0 (SbSoftPart, pose->n_parts);
  if (convex != NULL)
    part_init (&form->parts[0], (const SbIPoint *)(gpointer)convex->data, convex->len);
  for (guint i = 0; convex == NULL && i < pose->n_parts; i++)
    part_init (&form->parts[i], pose->parts[i].points, pose->parts[i].n);
  hull_init (&form->hull, form);
  for (guint k = 0; k < form->hull.n; k++) {
    double x = form->hull.x[k], y = form->hull.y[k];
    form->radius = MAX (form->radius, sqrt (x * x + y * y));
  }
  return form;
}

void
sb_soft_form_free (SbSoftForm *form)
{
  for (guint i = 0; i < form->n_parts; i++)
    g_free (form->parts[i].x);
  g_free (form->parts);
  g_free (form->hull.x);
  g_free (form);
}

/* One part as the other sees it: its origin and turn there. */
typedef struct {
  double x, y, cos, sin;
} Seen;

static Seen
see (const SbSoftPlace *from, const SbSoftPlace *to)
{
  double dx = to->x - from->x, dy = to->y - from->y;
  return (Seen){from->cos * dx + from->sin * dy, from->cos * dy - from->sin * dx,
                from->cos * to->cos + from->sin * to->sin,
                from->cos * to->sin - from->sin * to->cos};
}

/* How far the other part lies out from an edge; its nearest corner is walked to. */
static inline double
distance_from (const SbSoftPart *part, guint edge, const SbSoftPart *other, const Seen *seen,
               guint *corner)
{
  double nx = part->nx[edge], ny = part->ny[edge];
  double mx = seen->cos * nx + seen->sin * ny, my = seen->cos * ny - seen->sin * nx;
  *corner = sb_soft_part_farthest (other, -mx, -my, *corner);
  return nx * seen->x + ny * seen->y + mx * other->x[*corner] + my * other->y[*corner] -
         part->c[edge];
}

static double
climb (const SbSoftPart *part, const SbSoftPart *other, const Seen *seen, double enough,
       SbSoftFeature *feature)
{
  double most = distance_from (part, feature->edge, other, seen, &feature->corner);
  for (guint way = 1; way <= 2 && most < enough; way++) {
    gboolean moved = FALSE;
    for (;;) {
      guint edge = feature->edge + (way == 1 ? 1 : part->n - 1), corner = feature->corner;
      edge = edge >= part->n ? edge - part->n : edge;
      double there = distance_from (part, edge, other, seen, &corner);
      if (!(there > most))
        break;
      most = there;
      *feature = (SbSoftFeature){edge, corner};
      moved = TRUE;
    }
    if (moved)
      break;
  }
  return most;
}

static double
find (const SbSoftPart *part, const SbSoftPart *other, const Seen *seen, SbSoftFeature *feature)
{
  double most = -G_MAXDOUBLE;
  guint corner = 0;
  for (guint edge = 0; edge < part->n; edge++) {
    double there = distance_from (part, edge, other, seen, &corner);
    if (there > most) {
      most = there;
      *feature = (SbSoftFeature){edge, corner};
    }
  }
  return most;
}

void
sb_soft_contact_find (SbSoftContact *contact, const SbSoftPlace *i, const SbSoftPlace *j)
{
  Seen b = see (i, j), a = see (j, i);
  contact->b_first = find (contact->b, contact->a, &a, &contact->on_b) >
                     find (contact->a, contact->b, &b, &contact->on_a);
}

/* Whether a corner is what lies nearest of its part to a point in direction (dx, dy) from it. */
static gboolean
is_nearest (const SbSoftPart *part, guint corner, double dx, double dy)
{
  guint next = corner + 1 == part->n ? 0 : corner + 1,
        last = corner == 0 ? part->n - 1 : corner - 1;
  double x = part->x[corner], y = part->y[corner];
  return dx * (part->x[next] - x) + dy * (part->y[next] - y) <= 0 &&
         dx * (part->x[last] - x) + dy * (part->y[last] - y) <= 0;
}

/* Where two corners are nearest to each other it is not an edge that tells the distance. `x`, `y`:
 * the corner of the other part as the part sees it; `apart`: what the edge tells. */
static double
from_corner (const SbSoftPart *part, const SbSoftPart *other, const Seen *seen,
             SbSoftFeature feature, double x, double y, double apart, double *nx, double *ny)
{
  guint next = feature.edge + 1 == part->n ? 0 : feature.edge + 1;
  guint ends[2] = {feature.edge, next};
  for (guint k = 0; k < 2; k++) {
    double dx = x - part->x[ends[k]], dy = y - part->y[ends[k]];
    if (!is_nearest (part, ends[k], dx, dy) ||
        !is_nearest (other, feature.corner, -seen->cos * dx - seen->sin * dy,
                     seen->sin * dx - seen->cos * dy))
      continue;
    double distance = sqrt (dx * dx + dy * dy);
    if (!(distance > apart))
      continue;
    *nx = dx / distance;
    *ny = dy / distance;
    return distance;
  }
  return apart;
}

gboolean
sb_soft_contact_press (SbSoftContact *contact, const SbSoftPlace *i, const SbSoftPlace *j,
                       double gap, SbSoftPress *press)
{
  Seen b = see (i, j), a = see (j, i);
  double apart[2];
  for (guint k = 0; k < 2; k++) { /* what kept them apart last likely does so now */
    gboolean on_b = contact->b_first == (k == 0);
    apart[on_b] = on_b ? climb (contact->b, contact->a, &a, gap, &contact->on_b)
                       : climb (contact->a, contact->b, &b, gap, &contact->on_a);
    if (apart[on_b] >= gap) {
      contact->b_first = on_b;
      return FALSE;
    }
  }
  contact->b_first = apart[1] > apart[0];
  const SbSoftPart *part = contact->b_first ? contact->b : contact->a,
                   *other = contact->b_first ? contact->a : contact->b;
  SbSoftFeature feature = contact->b_first ? contact->on_b : contact->on_a;
  const SbSoftPlace *own = contact->b_first ? j : i;
  Seen seen = contact->b_first ? a : b;
  double qx = other->x[feature.corner], qy = other->y[feature.corner];
  double x = seen.x + seen.cos * qx - seen.sin * qy, y = seen.y + seen.sin * qx + seen.cos * qy;
  double nx = part->nx[feature.edge], ny = part->ny[feature.edge],
         distance = apart[contact->b_first];
  if (distance > 0)
    distance = from_corner (part, other, &seen, feature, x, y, distance, &nx, &ny);
  if (distance >= gap)
    return FALSE;
  double sign = contact->b_first ? -1 : 1;
  *press =
      (SbSoftPress){gap - distance, sign * (own->cos * nx - own->sin * ny),
                    sign * (own->sin * nx + own->cos * ny), own->x + own->cos * x - own->sin * y,
                    own->y + own->sin * x + own->cos * y};
  return TRUE;
}
