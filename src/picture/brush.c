/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/brush.h"

#include <math.h>

/* A brush of this radius holds the middle of a pixel wherever it stands. */
#define LEAST_RADIUS 0.71

typedef struct {
  int width, height;
  SbBrushFunc visit;
  gpointer data;
} Canvas;

typedef struct {
  SbPoint at;
  double radius; /* px */
} Stop;

static Stop
stop_at (const SbStroke *stroke, const SbMap *map, guint i)
{
  SbPoint p = {stroke->points[2 * i], stroke->points[2 * i + 1]};
  double r = stroke->radius, step = 1e-4;
  SbPoint at = sb_map_point (map, p);
  SbPoint right = sb_map_point (map, (SbPoint){p.x + step, p.y});
  SbPoint below = sb_map_point (map, (SbPoint){p.x, p.y + step});
  double area = fabs ((right.x - at.x) * (below.y - at.y) - (right.y - at.y) * (below.x - at.x));
  return (Stop){at, MAX (r * sqrt (area) / step, LEAST_RADIUS)};
}

static void
widen (double range[2], double x)
{
  range[0] = MIN (range[0], x);
  range[1] = MAX (range[1], x);
}

/* Where the row `y` meets the disc. */
static void
cross_disc (const Stop *stop, double y, double range[2])
{
  double down = y - stop->at.y, half = stop->radius * stop->radius - down * down;

  if (half < 0)
    return;
  widen (range, stop->at.x - sqrt (half));
  widen (range, stop->at.x + sqrt (half));
}

static void
cross_edge (SbPoint a, SbPoint b, double y, double range[2])
{
  if ((a.y <= y) != (b.y <= y))
    widen (range, a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y));
}

/* The brush moved from one stop to the next: two discs and what lies between them is convex. */
static void
visit_stretch (const Canvas *canvas, const Stop *from, const Stop *to)
{
  double dx = to->at.x - from->at.x, dy = to->at.y - from->at.y, length = hypot (dx, dy);
  double nx = length > 0 ? -dy / length : 0, ny = length > 0 ? dx / length : 0;
  double top = MIN (from->at.y - from->radius, to->at.y - to->radius);
  double bottom = MAX (from->at.y + from->radius, to->at.y + to->radius);

  if (!isfinite (top) || !isfinite (bottom) || !isfinite (dx))
    return;
  int first = (int)ceil (CLAMP (top - 0.5, 0, canvas->height));
  int last = (int)floor (CLAMP (bottom - 0.5, -1, canvas->height - 1));
  for (int y = first; y <= last; y++) {
    double range[2] = {G_MAXDOUBLE, -G_MAXDOUBLE}, middle = y + 0.5;
    cross_disc (from, middle, range);
    cross_disc (to, middle, range);
    for (int side = -1; side <= 1; side += 2)
      cross_edge (
          (SbPoint){from->at.x + side * nx * from->radius, from->at.y + side * ny * from->radius},
          (SbPoint){to->at.x + side * nx * to->radius, to->at.y + side * ny * to->radius}, middle,
          range);
    int x0 = (int)ceil (CLAMP (range[0] - 0.5, 0, canvas->width));
    int x1 = (int)floor (CLAMP (range[1] - 0.5, -1, canvas->width - 1)) + 1;
    if (x0 < x1)
      canvas->visit (y, x0, x1, canvas->data);
  }
}

void
sb_brush_visit (const SbStroke *stroke, const SbMap *map, int width, int height, SbBrushFunc visit,
                gpointer data)
{
  const Canvas canvas = {width, height, visit, data};
  Stop before = stop_at (stroke, map, 0);

  if (stroke->n_points == 1)
    visit_stretch (&canvas, &before, &before);
  for (guint i = 1; i < stroke->n_points; i++) {
    Stop here = stop_at (stroke, map, i);
    visit_stretch (&canvas, &before, &here);
    before = here;
  }
}

cairo_surface_t *
sb_brush_fill_lasso (const SbStroke *stroke, const SbMap *map, int width, int height)
{
  cairo_surface_t *inside = cairo_image_surface_create (CAIRO_FORMAT_A8, width, height);
  cairo_t *cr = cairo_create (inside);

  for (guint i = 0; i < stroke->n_points; i++) {
    SbPoint p = sb_map_point (map, (SbPoint){stroke->points[2 * i], stroke->points[2 * i + 1]});
    cairo_line_to (cr, p.x, p.y);
  }
  cairo_close_path (cr);
  cairo_fill (cr);
  cairo_status_t status = cairo_status (cr);
  cairo_destroy (cr);
  if (status != CAIRO_STATUS_SUCCESS)
    g_clear_pointer (&inside, cairo_surface_destroy);
  else
    cairo_surface_flush (inside);
  return inside;
}
