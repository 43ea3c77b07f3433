/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A sheet of paper in a photo. It is brighter than what it lies on, in the darkest of its channels
 * too (wood and cloth are coloured). The photo is looked at small: bright and dark are told apart
 * by Otsu's threshold (N. Otsu: A threshold selection method from gray-level histograms, 1979), the
 * largest bright patch gets its hull, the hull its largest quadrilateral, and each side of that the
 * straight line which fits the patch's edge best. */
#include <math.h>
#include <string.h>

#include "picture/quad.h"

#define PLAN_SIDE 800 /* px */
/* Of the picture: a smaller sheet is none. */
#define LEAST_AREA 0.1
/* How much of the quadrilateral the patch must fill, and it of the patch. */
#define LEAST_FILL 0.93
/* Of the quadrilateral's sides: which of the patch's edge is fitted. */
#define BESIDE 0.03
#define HULL_MOST 64
/* Between the means of bright and dark, 0..255. */
#define LEAST_CONTRAST 30

typedef struct {
  int width, height;
  double scale; /* px of the picture to one of the plan */
  guint8 *values;
  int *patch; /* number of each pixel's patch; 0 is dark */
  int best;
  gint64 area; /* of the best one, its holes filled */
  SbPoint *edge;
  int n_edge;
} Plan;

static void
plan_clear (Plan *plan)
{
  g_free (plan->values);
  g_free (plan->patch);
  g_free (plan->edge);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Plan, plan_clear)

/* The mean of each square's darkest channels. */
static guint8
darkest_mean (cairo_surface_t *surface, int x0, int y0, int x1, int y1)
{
  const guint8 *data = cairo_image_surface_get_data (surface);
  gsize stride = (gsize)cairo_image_surface_get_stride (surface);
  guint32 sum = 0;

  for (int y = y0; y < y1; y++) {
    const guint32 *row = (const guint32 *)(const void *)(data + (gsize)y * stride);
    for (int x = x0; x < x1; x++) {
      guint32 p = row[x], least = MIN (MIN (p & 0xff, p >> 8 & 0xff), p >> 16 & 0xff);
      sum += least + 255 - (p >> 24);
    }
  }
  return (guint8)(sum / (guint32)((x1 - x0) * (y1 - y0)));
}

static Plan
plan_new (cairo_surface_t *surface)
{
  int w = cairo_image_surface_get_width (surface), h = cairo_image_surface_get_height (surface);
  int step = MAX ((MAX (w, h) + PLAN_SIDE - 1) / PLAN_SIDE, 1);
  Plan plan = {.width = MAX (w / step, 1), .height = MAX (h / step, 1), .scale = step};
  gsize n = (gsize)plan.width * (gsize)plan.height;

  plan.values = g_malloc (n);
  plan.patch = g_new0 (int, n);
  plan.edge = g_new (SbPoint, 2 * (plan.width + plan.height));
  for (int y = 0; y < plan.height; y++)
    for (int x = 0; x < plan.width; x++)
      plan.values[y * plan.width + x] = darkest_mean (
          surface, x * step, y * step, MIN ((x + 1) * step, w), MIN ((y + 1) * step, h));
  return plan;
}

/* FALSE when bright and dark are not apart. */
static gboolean
find_threshold (const Plan *plan, int *threshold)
{
  double bins[256] = {0}, all = (double)plan->width * plan->height, sum = 0;
  double below = 0, sum_below = 0, best = -1, contrast = 0;

  for (int i = 0; i < plan->width * plan->height; i++)
    bins[plan->values[i]]++;
  for (int v = 0; v < 256; v++)
    sum += v * bins[v];
  for (int v = 0; v < 255; v++) {
    below += bins[v];
    sum_below += v * bins[v];
    if (below == 0 || below == all)
      continue;
    double apart = (sum - sum_below) / (all - below) - sum_below / below;
    double between = below * (all - below) * apart * apart;
    if (between > best) {
      best = between;
      contrast = apart;
      *threshold = v;
    }
  }
  return contrast >= LEAST_CONTRAST;
}

static int
fill_patch (Plan *plan, int from, int number, int threshold)
{
  g_autoptr (GArray) todo = g_array_new (FALSE, FALSE, sizeof (int));
  int n = 0;

  plan->patch[from] = number;
  g_array_append_val (todo, from);
  while (todo->len > 0) {
    int at = g_array_index (todo, int, todo->len - 1), x = at % plan->width, y = at / plan->width;
    const int next[4] = {x > 0 ? at - 1 : -1, x < plan->width - 1 ? at + 1 : -1,
                         y > 0 ? at - plan->width : -1,
                         y < plan->height - 1 ? at + plan->width : -1};
    g_array_set_size (todo, todo->len - 1);
    n++;
    for (int k = 0; k < 4; k++)
      if (next[k] >= 0 && plan->patch[next[k]] == 0 && plan->values[next[k]] > threshold) {
        plan->patch[next[k]] = number;
        g_array_append_val (todo, next[k]);
      }
  }
  return n;
}

static void
find_patch (Plan *plan, int threshold)
{
  int number = 0, most = 0;

  for (int i = 0; i < plan->width * plan->height; i++) {
    if (plan->patch[i] != 0 || plan->values[i] <= threshold)
      continue;
    int n = fill_patch (plan, i, ++number, threshold);
    if (n > most) {
      most = n;
      plan->best = number;
    }
  }
}

static void
add_edge (Plan *plan, double x, double y)
{
  plan->edge[plan->n_edge++] = (SbPoint){x, y};
}

/* The patch's first and last pixels of each row and column, at their outer sides. */
static void
find_edge (Plan *plan)
{
  for (int y = 0; y < plan->height; y++) {
    const int *row = plan->patch + y * plan->width;
    int x0 = 0, x1 = plan->width;
    while (x0 < x1 && row[x0] != plan->best)
      x0++;
    while (x1 > x0 && row[x1 - 1] != plan->best)
      x1--;
    if (x0 == x1)
      continue;
    add_edge (plan, x0, y + 0.5);
    add_edge (plan, x1, y + 0.5);
    plan->area += x1 - x0;
  }
  for (int x = 0; x < plan->width; x++) {
    int y0 = 0, y1 = plan->height;
    while (y0 < y1 && plan->patch[y0 * plan->width + x] != plan->best)
      y0++;
    while (y1 > y0 && plan->patch[(y1 - 1) * plan->width + x] != plan->best)
      y1--;
    if (y0 == y1)
      continue;
    add_edge (plan, x + 0.5, y0);
    add_edge (plan, x + 0.5, y1);
  }
}

static double
turn_at (SbPoint a, SbPoint b, SbPoint c)
{
  return (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
}

/* The edge's point that is farthest along each of some directions: a hull, coarse but enough. They
 * go round clockwise. */
static int
find_hull (const Plan *plan, SbPoint hull[HULL_MOST])
{
  int n = 0;

  for (int k = 0; k < HULL_MOST; k++) {
    double angle = 2 * G_PI * k / HULL_MOST, dx = cos (angle), dy = sin (angle);
    SbPoint far = plan->edge[0];
    for (int i = 1; i < plan->n_edge; i++)
      if (plan->edge[i].x * dx + plan->edge[i].y * dy > far.x * dx + far.y * dy)
        far = plan->edge[i];
    if (n == 0 || hull[n - 1].x != far.x || hull[n - 1].y != far.y)
      hull[n++] = far;
  }
  return n;
}

/* The largest quadrilateral with its corners on the hull, clockwise. Twice its area. */
static double
largest_quad (const SbPoint *hull, int n, SbPoint quad[4])
{
  double best = 0;

  for (int i = 0; i < n; i++)
    for (int k = i + 2; k < n; k++) {
      int one = i, other = i;
      double most = 0, most_other = 0;
      for (int j = i + 1; j < k; j++)
        if (turn_at (hull[i], hull[j], hull[k]) > most) {
          most = turn_at (hull[i], hull[j], hull[k]);
          one = j;
        }
      for (int j = k + 1; j < n + i; j++)
        if (turn_at (hull[k], hull[j % n], hull[i]) > most_other) {
          most_other = turn_at (hull[k], hull[j % n], hull[i]);
          other = j % n;
        }
      if (one != i && other != i && most + most_other > best) {
        best = most + most_other;
        quad[0] = hull[i];
        quad[1] = hull[one];
        quad[2] = hull[k];
        quad[3] = hull[other];
      }
    }
  return best;
}

typedef struct {
  SbPoint at;    /* on it */
  double dx, dy; /* along it, of length 1 */
} Line;

static double
far_from (const Line *line, SbPoint p)
{
  return fabs ((p.x - line->at.x) * line->dy - (p.y - line->at.y) * line->dx);
}

static Line
line_through (SbPoint a, SbPoint b)
{
  double length = hypot (b.x - a.x, b.y - a.y);
  return (Line){a, (b.x - a.x) / length, (b.y - a.y) / length};
}

/* Fits a line to the edge within `reach` of it, but for the ends by the corners. */
static Line
fit_line (const Plan *plan, Line line, double length, double reach)
{
  double n = 0, x = 0, y = 0, xx = 0, xy = 0, yy = 0;

  for (int i = 0; i < plan->n_edge; i++) {
    SbPoint p = plan->edge[i];
    double along = (p.x - line.at.x) * line.dx + (p.y - line.at.y) * line.dy;
    if (far_from (&line, p) > reach || along < 0.06 * length || along > 0.94 * length)
      continue;
    n++;
    x += p.x;
    y += p.y;
    xx += p.x * p.x;
    xy += p.x * p.y;
    yy += p.y * p.y;
  }
  if (n < 8)
    return line;
  double angle = atan2 (2 * (xy - x * y / n), xx - x * x / n - (yy - y * y / n)) / 2;
  Line fitted = {{x / n, y / n}, cos (angle), sin (angle)};
  /* From the same end as before, so that lengths along it stay. */
  if (fitted.dx * line.dx + fitted.dy * line.dy < 0)
    fitted = (Line){fitted.at, -fitted.dx, -fitted.dy};
  double back = (line.at.x - fitted.at.x) * fitted.dx + (line.at.y - fitted.at.y) * fitted.dy;
  fitted.at = (SbPoint){fitted.at.x + back * fitted.dx, fitted.at.y + back * fitted.dy};
  return fitted;
}

static gboolean
meet (const Line *a, const Line *b, SbPoint *at)
{
  double cross = a->dx * b->dy - a->dy * b->dx;
  if (fabs (cross) < 0.2)
    return FALSE;
  double t = ((b->at.x - a->at.x) * b->dy - (b->at.y - a->at.y) * b->dx) / cross;
  *at = (SbPoint){a->at.x + t * a->dx, a->at.y + t * a->dy};
  return TRUE;
}

static gboolean
fit_sides (const Plan *plan, SbPoint quad[4])
{
  Line sides[4];

  for (int i = 0; i < 4; i++) {
    SbPoint a = quad[i], b = quad[(i + 1) % 4];
    double length = hypot (b.x - a.x, b.y - a.y);
    sides[i] = line_through (a, b);
    for (double reach = BESIDE * length + 2; reach > 1; reach /= 2.5)
      sides[i] = fit_line (plan, sides[i], length, reach);
  }
  for (int i = 0; i < 4; i++)
    if (!meet (&sides[(i + 3) % 4], &sides[i], &quad[i]))
      return FALSE;
  return TRUE;
}

static double
quad_area (const SbPoint q[4])
{
  return (turn_at (q[0], q[1], q[2]) + turn_at (q[2], q[3], q[0])) / 2;
}

/* Seen whole: no corner outside, nor on the picture's edge. */
static gboolean
is_inside (const Plan *plan, const SbPoint quad[4])
{
  for (int i = 0; i < 4; i++)
    if (!(quad[i].x > 0.5 && quad[i].x < plan->width - 0.5 && quad[i].y > 0.5 &&
          quad[i].y < plan->height - 0.5))
      return FALSE;
  return TRUE;
}

/* Begins with the corner that is nearest to the picture's top left one. */
static void
number_corners (const Plan *plan, const SbPoint quad[4], SbPoint corners[4])
{
  int first = 0;

  for (int i = 1; i < 4; i++)
    if (quad[i].x + quad[i].y < quad[first].x + quad[first].y)
      first = i;
  for (int i = 0; i < 4; i++) {
    corners[i].x = quad[(first + i) % 4].x * plan->scale;
    corners[i].y = quad[(first + i) % 4].y * plan->scale;
  }
}

gboolean
sb_quad_find_sheet (cairo_surface_t *surface, SbPoint corners[4])
{
  SbPoint hull[HULL_MOST], quad[4];
  int threshold = 0;

  cairo_surface_flush (surface);
  g_auto (Plan) plan = plan_new (surface);
  double all = (double)plan.width * plan.height;
  if (!find_threshold (&plan, &threshold))
    return FALSE;
  find_patch (&plan, threshold);
  find_edge (&plan);
  if (plan.n_edge == 0 || (double)plan.area < LEAST_AREA * all)
    return FALSE;
  int n = find_hull (&plan, hull);
  if (n < 4 || largest_quad (hull, n, quad) <= 0 || !fit_sides (&plan, quad) ||
      !is_inside (&plan, quad))
    return FALSE;
  double area = quad_area (quad);
  if ((double)plan.area < LEAST_FILL * area || area < LEAST_FILL * (double)plan.area)
    return FALSE;
  number_corners (&plan, quad, corners);
  return TRUE;
}
