/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Exact drawings for tests of the border: polygons in pixels and the exact area they cover of each
 * pixel, so that what a test measures is the border's error and not the drawing's. */
#pragma once

#include <glib.h>
#include <math.h>
#include <string.h>

#include "border/coverage.h"

typedef struct {
  int width, height;
  float *cover; /* signed area sums, see sb_drawing_add */
} SbDrawing;

static inline SbDrawing *
sb_drawing_new (int width, int height)
{
  SbDrawing *drawing = g_new (SbDrawing, 1);
  drawing->width = width;
  drawing->height = height;
  drawing->cover = g_new0 (float, (gsize)(width + 2) * height);
  return drawing;
}

/* One leg's part in the row y: each pixel gets the area to the right of the leg, as a difference to
 * its left neighbour. */
static inline void
sb_drawing_row (SbDrawing *drawing, int y, double x0, double x1, double dy)
{
  float *row = drawing->cover + (gsize)y * (drawing->width + 2);
  double left = MIN (x0, x1), right = MAX (x0, x1);
  int first = (int)floor (left), last = (int)floor (right);
  double before = 0;
  for (int x = first; x <= last; x++) {
    double a = MAX (left, x), b = MIN (right, x + 1), part, area;
    if (right - left < 1e-12) {
      area = dy * (x + 1 - left);
      part = dy;
    } else {
      part = dy * (b - a) / (right - left);
      area = before + part * (x + 1 - (a + b) / 2);
    }
    /* area of pixel x; the next pixel starts from the whole part. */
    row[CLAMP (x, 0, drawing->width)] += (float)(area - before);
    row[CLAMP (x + 1, 0, drawing->width)] += (float)(before + part - area);
    before += part;
  }
}

/* Adds a polygon (px), clockwise on the screen; the other way round it takes away. */
static inline void
sb_drawing_add (SbDrawing *drawing, const SbPoint *p, guint n)
{
  for (guint i = 0; i < n; i++) {
    SbPoint a = p[i], b = p[i + 1 < n ? i + 1 : 0];
    double sign = b.y < a.y ? 1 : -1;
    if (a.y == b.y)
      continue;
    if (sign > 0) {
      SbPoint c = a;
      a = b;
      b = c;
    }
    for (int y = MAX (0, (int)floor (a.y)); y < MIN (drawing->height, ceil (b.y)); y++) {
      double y0 = MAX (a.y, y), y1 = MIN (b.y, y + 1);
      double x0 = a.x + (y0 - a.y) * (b.x - a.x) / (b.y - a.y);
      double x1 = a.x + (y1 - a.y) * (b.x - a.x) / (b.y - a.y);
      sb_drawing_row (drawing, y, x0, x1, sign * (y1 - y0));
    }
  }
}

/* Consumes the drawing. */
static inline SbCoverage *
sb_drawing_end (SbDrawing *drawing)
{
  SbCoverage *coverage = sb_coverage_new (drawing->width, drawing->height);
  for (int y = 0; y < drawing->height; y++) {
    double sum = 0;
    const float *row = drawing->cover + (gsize)y * (drawing->width + 2);
    guint8 *to = sb_coverage_row (coverage, y);
    for (int x = 0; x < drawing->width; x++) {
      sum += row[x];
      to[x] = (guint8)lround (255 * CLAMP (sum, 0, 1));
    }
  }
  g_free (drawing->cover);
  g_free (drawing);
  return coverage;
}

/* Growing uses a coverage up; this is another one of the same. */
static inline SbCoverage *
sb_drawing_copy (const SbCoverage *from)
{
  SbCoverage *coverage = sb_coverage_new (from->width, from->height);
  memcpy (coverage->pixels, from->pixels,
          from->stride * ((gsize)from->height + 2 * SB_COVERAGE_FRAME));
  return coverage;
}

/* A regular polygon, or a disc with many corners. Returns n. */
static inline guint
sb_drawing_regular (SbPoint *p, guint n, SbPoint centre, double radius, double turn)
{
  for (guint i = 0; i < n; i++) {
    double a = turn + 2 * G_PI * i / n;
    p[i] = (SbPoint){centre.x + radius * cos (a), centre.y + radius * sin (a)};
  }
  return n;
}

static inline guint
sb_drawing_star (SbPoint *p, guint spikes, SbPoint centre, double outer, double inner, double turn)
{
  for (guint i = 0; i < 2 * spikes; i++) {
    double a = turn + G_PI * i / spikes, r = i % 2 ? inner : outer;
    p[i] = (SbPoint){centre.x + r * cos (a), centre.y + r * sin (a)};
  }
  return 2 * spikes;
}
