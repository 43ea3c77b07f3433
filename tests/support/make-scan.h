/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Scans whose truth is known: drawings laid on paper of a tone, dusty, hairy, under uneven light,
 * with grain; all from a seed. */
#pragma once

#include <math.h>
#include <string.h>

#include "picture/cleanup.h"
#include "picture/picture.h"
#include "picture/srgb.h"

typedef struct {
  int x0, y0, x1, y1; /* px */
  gboolean hair;
} SbScanSpeck;

typedef struct {
  double px_per_mm;
  double paper[3]; /* 0..1 sRGB */
  double light;    /* how much darker the darkest corner is, 0..1, in light */
  double grain;    /* standard deviation, 8-bit steps */
  int dust, hairs; /* how many */
  int dots;        /* of the artwork's own, apart from it */
  guint64 seed;
} SbScanParams;

typedef struct {
  cairo_surface_t *truth; /* ARGB32, clear where there is paper */
  cairo_surface_t *scan;  /* opaque */
  GArray *dust;           /* of SbScanSpeck; none closer than 0.4 mm to artwork */
  GArray *dots;           /* of SbScanSpeck */
} SbScan;

static inline double
sb_scan_random (guint64 *state)
{
  *state = *state * 6364136223846793005ull + 1442695040888963407ull;
  return (double)(*state >> 11) / 9007199254740992.0;
}

/* Box-Muller. */
static inline double
sb_scan_normal (guint64 *state)
{
  double r = sqrt (-2 * log (1 - sb_scan_random (state)));
  return r * cos (2 * G_PI * sb_scan_random (state));
}

static inline guint32 *
sb_scan_row (cairo_surface_t *surface, int y)
{
  return (guint32 *)(void *)(cairo_image_surface_get_data (surface) +
                             (gsize)y * (gsize)cairo_image_surface_get_stride (surface));
}

/* TRUE when truth is clear all around a box. */
static inline gboolean
sb_scan_is_clear (cairo_surface_t *truth, SbScanSpeck box, int margin)
{
  int w = cairo_image_surface_get_width (truth), h = cairo_image_surface_get_height (truth);

  cairo_surface_flush (truth);
  if (box.x0 < margin || box.y0 < margin || box.x1 > w - margin || box.y1 > h - margin)
    return FALSE;
  for (int y = box.y0 - margin; y < box.y1 + margin; y++)
    for (int x = box.x0 - margin; x < box.x1 + margin; x++)
      if (sb_scan_row (truth, y)[x] != 0)
        return FALSE;
  return TRUE;
}

static inline SbScanSpeck
sb_scan_place (cairo_surface_t *truth, double side, guint64 *state)
{
  for (;;) {
    double x = sb_scan_random (state) * cairo_image_surface_get_width (truth);
    double y = sb_scan_random (state) * cairo_image_surface_get_height (truth);
    SbScanSpeck box = {(int)(x - side / 2), (int)(y - side / 2), (int)(x + side / 2) + 1,
                       (int)(y + side / 2) + 1, FALSE};
    if (sb_scan_is_clear (truth, box, 1))
      return box;
  }
}

/* Round dots of 0.7 to 1.5 mm in the drawing's manner. */
static inline void
sb_scan_add_dots (SbScan *scan, const SbScanParams *params, guint64 *state)
{
  static const double colours[][3] = {
      {0.27, 0.16, 0.2}, {0.86, 0.3, 0.2}, {0.95, 0.75, 0.2}, {0.35, 0.6, 0.3}};
  cairo_t *cr = cairo_create (scan->truth);

  for (int i = 0; i < params->dots; i++) {
    double side = (0.7 + 0.8 * sb_scan_random (state)) * params->px_per_mm;
    SbScanSpeck box = sb_scan_place (scan->truth, side + 1.0 * params->px_per_mm, state);
    const double *c = colours[i % 4];
    cairo_set_source_rgb (cr, c[0], c[1], c[2]);
    cairo_arc (cr, (box.x0 + box.x1) / 2.0, (box.y0 + box.y1) / 2.0, side / 2, 0, 2 * G_PI);
    cairo_fill (cr);
    g_array_append_val (scan->dots, box);
  }
  cairo_destroy (cr);
}

/* Grey and brown, 0.06 to 0.4 mm. */
static inline void
sb_scan_add_dust (SbScan *scan, cairo_t *cr, const SbScanParams *params, guint64 *state)
{
  for (int i = 0; i < params->dust; i++) {
    double side = (0.06 + 0.34 * pow (sb_scan_random (state), 2)) * params->px_per_mm;
    double x = sb_scan_random (state) * cairo_image_surface_get_width (scan->truth);
    double y = sb_scan_random (state) * cairo_image_surface_get_height (scan->truth);
    double grey = 0.2 + 0.4 * sb_scan_random (state);
    SbScanSpeck box = {(int)(x - side / 2), (int)(y - side / 2), (int)(x + side / 2) + 1,
                       (int)(y + side / 2) + 1, FALSE};
    cairo_set_source_rgb (cr, grey, grey * 0.95, grey * 0.9);
    cairo_save (cr);
    cairo_translate (cr, x, y);
    cairo_rotate (cr, sb_scan_random (state) * 3);
    cairo_scale (cr, side / 2, side / 2 * (0.5 + 0.5 * sb_scan_random (state)));
    cairo_arc (cr, 0, 0, 1, 0, 2 * G_PI);
    cairo_restore (cr);
    cairo_fill (cr);
    if (sb_scan_is_clear (scan->truth, box, (int)(0.4 * params->px_per_mm)))
      g_array_append_val (scan->dust, box);
  }
}

/* Curved, 1 to 4 mm long, 0.04 to 0.08 mm wide. */
static inline void
sb_scan_add_hairs (SbScan *scan, cairo_t *cr, const SbScanParams *params, guint64 *state)
{
  for (int i = 0; i < params->hairs; i++) {
    double length = (1 + 3 * sb_scan_random (state)) * params->px_per_mm;
    double x = sb_scan_random (state) * cairo_image_surface_get_width (scan->truth);
    double y = sb_scan_random (state) * cairo_image_surface_get_height (scan->truth);
    double turn = sb_scan_random (state) * 2 * G_PI, bend = (sb_scan_random (state) - 0.5) * length;
    double x0, y0, x1, y1;
    cairo_save (cr);
    cairo_translate (cr, x, y);
    cairo_rotate (cr, turn);
    cairo_move_to (cr, 0, 0);
    cairo_curve_to (cr, length / 3, bend, length * 2 / 3, bend, length, 0);
    cairo_restore (cr);
    cairo_set_line_width (cr, (0.04 + 0.04 * sb_scan_random (state)) * params->px_per_mm);
    cairo_set_source_rgb (cr, 0.3, 0.27, 0.25);
    cairo_stroke_extents (cr, &x0, &y0, &x1, &y1);
    cairo_stroke (cr);
    SbScanSpeck box = {(int)x0, (int)y0, (int)x1 + 1, (int)y1 + 1, TRUE};
    if (sb_scan_is_clear (scan->truth, box, (int)(0.4 * params->px_per_mm)))
      g_array_append_val (scan->dust, box);
  }
}

/* Light falls off from one corner to the opposite one, along a slightly bent front. */
static inline void
sb_scan_add_light_and_grain (cairo_surface_t *scan, const SbScanParams *params, guint64 *state)
{
  const SbSrgb *srgb = sb_srgb_tables ();
  int w = cairo_image_surface_get_width (scan), h = cairo_image_surface_get_height (scan);

  cairo_surface_flush (scan);
  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++) {
      double u = (double)x / w, v = (double)y / h;
      double light = 1 - params->light * (0.45 * u + 0.45 * v + 0.1 * u * u);
      guint32 p = sb_scan_row (scan, y)[x], out = 0xff;
      double grain = sb_scan_normal (state) * params->grain;
      for (int shift = 16; shift >= 0; shift -= 8) {
        double value = sb_srgb_encode (srgb, (float)(srgb->linear[p >> shift & 255] * light)) +
                       grain * 0.7 + sb_scan_normal (state) * params->grain * 0.7;
        out = out << 8 | (guint32)CLAMP (lround (value), 0, 255);
      }
      sb_scan_row (scan, y)[x] = out;
    }
  cairo_surface_mark_dirty (scan);
}

/* Takes `truth`. */
static inline SbScan
sb_scan_new (cairo_surface_t *truth, const SbScanParams *params)
{
  guint64 state = params->seed * 7919 + 17;
  SbScan scan = {.truth = truth,
                 .dust = g_array_new (FALSE, FALSE, sizeof (SbScanSpeck)),
                 .dots = g_array_new (FALSE, FALSE, sizeof (SbScanSpeck))};
  int w = cairo_image_surface_get_width (truth), h = cairo_image_surface_get_height (truth);

  sb_scan_add_dots (&scan, params, &state);
  scan.scan = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, w, h);
  cairo_t *cr = cairo_create (scan.scan);
  cairo_set_source_rgb (cr, params->paper[0], params->paper[1], params->paper[2]);
  cairo_paint (cr);
  cairo_set_source_surface (cr, truth, 0, 0);
  cairo_paint (cr);
  sb_scan_add_dust (&scan, cr, params, &state);
  sb_scan_add_hairs (&scan, cr, params, &state);
  cairo_destroy (cr);
  sb_scan_add_light_and_grain (scan.scan, params, &state);
  return scan;
}

static inline void
sb_scan_clear (SbScan *scan)
{
  cairo_surface_destroy (scan->truth);
  cairo_surface_destroy (scan->scan);
  g_array_unref (scan->dust);
  g_array_unref (scan->dots);
}

/* Draws a demo drawing with its longer side `side` px, its corner at x,y. */
static inline void
sb_scan_draw (cairo_surface_t *truth, const char *name, double x, double y, double side)
{
  g_autofree char *file = g_strconcat (name, ".svg", NULL);
  g_autofree char *path =
      g_build_filename (g_getenv ("SB_TEST_SOURCE_DIR"), "data", "demo", "art", file, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_load (path, &error);
  if (picture == NULL)
    g_error ("%s", error->message);
  double w = sb_picture_get_width (picture), h = sb_picture_get_height (picture);
  cairo_t *cr = cairo_create (truth);
  cairo_translate (cr, x, y);
  if (!sb_picture_draw_vector (picture, cr, side * w / MAX (w, h), side * h / MAX (w, h), &error))
    g_error ("%s", error->message);
  cairo_destroy (cr);
}

/* Cleaned at its own size; NULL never. */
static inline SbCleanResult *
sb_scan_clean (const SbCleanup *recipe, cairo_surface_t *scan, double px_per_mm)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbCleaner) cleaner = sb_cleaner_new (scan, FALSE);
  SbCleanResult *result =
      sb_cleaner_run (cleaner, recipe, cairo_image_surface_get_width (scan),
                      cairo_image_surface_get_height (scan), px_per_mm, NULL, NULL, NULL, &error);
  if (result == NULL)
    g_error ("%s", error->message);
  cairo_surface_flush (result->surface);
  return result;
}
