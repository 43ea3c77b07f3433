/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Hairs and scratches: what a stroke covers is coloured from what is around it. From each pixel
 * eight rays go out; the colours where they leave the stroke count by the inverse square of how far
 * that is. A ray's colour is carried from pixel to pixel, so a stroke takes as long as its box is
 * large. */
#include <string.h>

#include "picture/brush.h"
#include "picture/cleaner.h"

typedef struct {
  int x0, y0, x1, y1; /* px; within the picture */
} Area;

typedef struct {
  cairo_surface_t *surface;
  Area area; /* the stroke's box and a pixel around it */
  guint8 *covered;
  float *sums; /* of blue, green, red and weight for each pixel of the area */
} Patch;

/* What comes along a ray. */
typedef struct {
  float colour[3];
  float steps; /* since it was outside the stroke; 0: it has met nothing yet */
} Ray;

static void
widen_area (int y, int x0, int x1, gpointer data)
{
  Area *area = data;
  area->x0 = MIN (area->x0, x0);
  area->y0 = MIN (area->y0, y);
  area->x1 = MAX (area->x1, x1);
  area->y1 = MAX (area->y1, y + 1);
}

static int
area_width (const Patch *patch)
{
  return patch->area.x1 - patch->area.x0;
}

static void
cover (int y, int x0, int x1, gpointer data)
{
  Patch *patch = data;
  memset (patch->covered + (gsize)(y - patch->area.y0) * (gsize)area_width (patch) +
              (x0 - patch->area.x0),
          1, (gsize)(x1 - x0));
}

static guint32 *
pixel_at (const Patch *patch, int x, int y)
{
  return (guint32 *)(void *)(cairo_image_surface_get_data (patch->surface) +
                             (gsize)y * (gsize)cairo_image_surface_get_stride (patch->surface)) +
         x;
}

static void
step_ray (const Patch *patch, gsize at, guint32 p, const Ray *before, float length, Ray *here)
{
  float *sum = patch->sums + 4 * at;

  if (!patch->covered[at]) {
    *here = (Ray){{(float)(p & 0xff), (float)(p >> 8 & 0xff), (float)(p >> 16 & 0xff)}, length};
    return;
  }
  *here = *before;
  if (before->steps == 0)
    return;
  float weight = 1 / (before->steps * before->steps);
  for (int c = 0; c < 3; c++)
    sum[c] += weight * before->colour[c];
  sum[3] += weight;
  here->steps += length;
}

/* Rays that go by `dx` columns and `dy` rows a step: each starts where the one before it was. */
static void
cast_rays (const Patch *patch, int dx, int dy)
{
  int width = area_width (patch), height = patch->area.y1 - patch->area.y0;
  float length = dx != 0 && dy != 0 ? 1.41421356f : 1;
  g_autofree Ray *rows = g_new0 (Ray, 2 * (width + 2));
  Ray *before = rows + 1, *here = rows + width + 3;
  const Ray nothing = {{0}, 0};

  for (int j = 0; j < height; j++) {
    int y = dy < 0 ? height - 1 - j : j;
    for (int i = 0; i < width; i++) {
      int x = dx < 0 ? width - 1 - i : i;
      gsize at = (gsize)y * (gsize)width + (gsize)x;
      const Ray *from = dy != 0 ? before + x - dx : i > 0 ? here + x - dx : &nothing;
      step_ray (patch, at, *pixel_at (patch, patch->area.x0 + x, patch->area.y0 + y), from, length,
                here + x);
    }
    Ray *swap = before;
    before = here;
    here = swap;
  }
}

static void
colour_patch (const Patch *patch)
{
  int width = area_width (patch);

  for (int y = patch->area.y0; y < patch->area.y1; y++)
    for (int x = patch->area.x0; x < patch->area.x1; x++) {
      gsize at = (gsize)(y - patch->area.y0) * (gsize)width + (gsize)(x - patch->area.x0);
      const float *sum = patch->sums + 4 * at;
      guint32 *p = pixel_at (patch, x, y), colour = 0;
      if (!patch->covered[at] || sum[3] == 0)
        continue;
      for (int c = 2; c >= 0; c--)
        colour = colour << 8 | MIN ((guint32)(sum[c] / sum[3] + 0.5f), *p >> 24);
      *p = (*p & 0xff000000u) | colour;
    }
}

static void
retouch (const SbStroke *stroke, const SbMap *from_picture, cairo_surface_t *surface)
{
  int width = cairo_image_surface_get_width (surface);
  int height = cairo_image_surface_get_height (surface);
  Area area = {G_MAXINT, G_MAXINT, 0, 0};

  sb_brush_visit (stroke, from_picture, width, height, widen_area, &area);
  if (area.x0 >= area.x1)
    return;
  area = (Area){MAX (area.x0 - 1, 0), MAX (area.y0 - 1, 0), MIN (area.x1 + 1, width),
                MIN (area.y1 + 1, height)};
  gsize n = (gsize)(area.x1 - area.x0) * (gsize)(area.y1 - area.y0);
  Patch patch = {surface, area, g_try_malloc0 (n), g_try_new0 (float, 4 * n)};
  if (patch.covered != NULL && patch.sums != NULL) {
    sb_brush_visit (stroke, from_picture, width, height, cover, &patch);
    for (int dy = -1; dy <= 1; dy++)
      for (int dx = -1; dx <= 1; dx++)
        if (dx != 0 || dy != 0)
          cast_rays (&patch, dx, dy);
    colour_patch (&patch);
  }
  g_free (patch.covered);
  g_free (patch.sums);
}

void
sb_clean_retouch (const SbStrokes *strokes, const SbMap *from_picture, cairo_surface_t *surface)
{
  cairo_surface_flush (surface);
  for (guint i = 0; i < sb_strokes_get_n (strokes); i++) {
    SbStroke stroke = sb_strokes_get (strokes, i);
    if (stroke.kind == SB_STROKE_RETOUCH)
      retouch (&stroke, from_picture, surface);
  }
  cairo_surface_mark_dirty (surface);
}
