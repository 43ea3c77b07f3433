/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * While a design is resized its border keeps its width, but growing it anew takes too long for
 * every frame. The stand-in scales the artwork by the stretch and the outline to the box that the
 * true one will have: for shapes without deep nooks that is the same curve within a hair. */
#include "config.h"

#include <math.h>

#include "output/bleed.h"
#include "window/pictures/bake.h"

#define TILE 6           /* px of the hatch */
#define BLEED_ALPHA 0.5  /* past the cut, where it will be cut away */
#define BLEED_MOST_PX 12 /* a mm: more shows nothing */

/* What the stretch makes of a design: factors of artwork and outline about their own centres. */
typedef struct {
  SbPoint outline_centre, artwork_centre;
  double artwork, outline_x, outline_y;
} Stretch;

static Stretch
measure_stretch (const SbDesign *design, double factor)
{
  SbBox outer = sb_outline_get_box (sb_design_get_outline (design));
  SbBox inner = sb_outline_get_box (sb_design_get_artwork (design));
  double width = outer.x1 - outer.x0, height = outer.y1 - outer.y0;

  return (Stretch){
      .outline_centre = sb_box_centre (outer),
      .artwork_centre = sb_box_centre (inner),
      .artwork = factor,
      .outline_x = (width + (factor - 1) * (inner.x1 - inner.x0)) / width,
      .outline_y = (height + (factor - 1) * (inner.y1 - inner.y0)) / height,
  };
}

static double
guide_reach_mm (const SbGuide *guide)
{
  if (guide->style == SB_GUIDE_OFF)
    return 0;
  return SB_GUIDE_CLEARANCE_MM + guide->line_pt * SB_MM_PER_PT;
}

SbBox
sb_bake_get_box (const SbBakeKey *key)
{
  Stretch stretch = measure_stretch (key->design, key->stretch);
  SbBox box = sb_outline_get_box (sb_design_get_outline (key->design));
  double half_width = (box.x1 - box.x0) / 2 * stretch.outline_x;
  double half_height = (box.y1 - box.y0) / 2 * stretch.outline_y;
  double angle = key->turn / 1000.0 * G_PI / 180;
  double c = fabs (cos (angle)), s = fabs (sin (angle));
  /* The guide is at least a pixel wide on the screen, and lines of the overlay two. */
  double reach =
      MAX (guide_reach_mm (&key->design->guide), key->design->bleed_mm) + 2 / key->px_a_mm;
  double x = half_width * c + half_height * s + reach;
  double y = half_width * s + half_height * c + reach;

  return (SbBox){-x, -y, x, y};
}

void
sb_bake_get_finished_size (const SbDesign *design, double stretch, double *width_mm,
                           double *height_mm)
{
  Stretch factors = measure_stretch (design, stretch);
  SbBox box = sb_outline_get_box (sb_design_get_outline (design));

  *width_mm = (box.x1 - box.x0) * factors.outline_x;
  *height_mm = (box.y1 - box.y0) * factors.outline_y;
}

/* The border does not grow, so the artwork takes the whole of what the diagonal gains. */
static double
get_diagonals_ratio (const SbDesign *design)
{
  SbBox outer = sb_outline_get_box (sb_design_get_outline (design));
  SbBox inner = sb_outline_get_box (sb_design_get_artwork (design));

  return hypot (outer.x1 - outer.x0, outer.y1 - outer.y0) /
         hypot (inner.x1 - inner.x0, inner.y1 - inner.y0);
}

double
sb_bake_get_stretch_for (const SbDesign *design, double pull)
{
  return 1 + (pull - 1) * get_diagonals_ratio (design);
}

double
sb_bake_get_pull_for (const SbDesign *design, double stretch)
{
  return 1 + (stretch - 1) / get_diagonals_ratio (design);
}

int
sb_bake_get_art_px (const SbBakeKey *key)
{
  double longest = MAX (key->design->width_mm, key->design->height_mm);

  return (int)ceil (longest * key->stretch * key->px_a_mm);
}

void
sb_bake_trace (cairo_t *cr, const SbOutline *outline)
{
  for (guint i = 0; i < sb_outline_get_n_rings (outline); i++) {
    const SbRing *ring = sb_outline_get_ring (outline, i);

    cairo_move_to (cr, ring->start.x, ring->start.y);
    for (guint j = 0; j < ring->n_curves; j++) {
      const SbCurve *c = &ring->curves[j];
      if (c->straight)
        cairo_line_to (cr, c->end.x, c->end.y);
      else
        cairo_curve_to (cr, c->c1.x, c->c1.y, c->c2.x, c->c2.y, c->end.x, c->end.y);
    }
    cairo_close_path (cr);
  }
}

static void
trace_outline (cairo_t *cr, const SbDesign *design, const Stretch *stretch)
{
  cairo_save (cr);
  cairo_scale (cr, stretch->outline_x, stretch->outline_y);
  cairo_translate (cr, -stretch->outline_centre.x, -stretch->outline_centre.y);
  cairo_new_path (cr);
  sb_bake_trace (cr, sb_design_get_outline (design));
  cairo_restore (cr);
}

/* From the frame of the outline's centre to that of the artwork's pixels. */
static void
enter_artwork (cairo_t *cr, const Stretch *stretch)
{
  cairo_translate (cr, stretch->artwork_centre.x - stretch->outline_centre.x,
                   stretch->artwork_centre.y - stretch->outline_centre.y);
  cairo_scale (cr, stretch->artwork, stretch->artwork);
  cairo_translate (cr, -stretch->artwork_centre.x, -stretch->artwork_centre.y);
}

static void
trace_artwork (cairo_t *cr, const SbDesign *design, const Stretch *stretch)
{
  cairo_save (cr);
  enter_artwork (cr, stretch);
  cairo_new_path (cr);
  sb_bake_trace (cr, sb_design_get_artwork (design));
  cairo_restore (cr);
}

static void
set_rgba (cairo_t *cr, const GdkRGBA *c)
{
  cairo_set_source_rgba (cr, c->red, c->green, c->blue, c->alpha);
}

/* A line of whole device pixels whatever the transform. */
static void
stroke_px (cairo_t *cr, double width)
{
  cairo_save (cr);
  cairo_identity_matrix (cr);
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
  cairo_restore (cr);
}

/* The line lies outside the outline, past the clearance; what lands inside is covered later. */
static void
draw_guide (cairo_t *cr, const SbBakeKey *key, const Stretch *stretch, double px_a_mm)
{
  const SbGuide *guide = &key->design->guide;
  double clearance = SB_GUIDE_CLEARANCE_MM * px_a_mm;
  double line = MAX (guide->line_pt * SB_MM_PER_PT * px_a_mm, 1);
  double tone = 1 - guide->grey;

  if (guide->style == SB_GUIDE_OFF)
    return;
  trace_outline (cr, key->design, stretch);
  if (guide->style == SB_GUIDE_TICKS) {
    /* The printed ticks have their own length; on the screen the corners are hinted at. */
    double dash[] = {4, 1e9};
    cairo_set_dash (cr, dash, 2, 2);
  }
  cairo_set_source_rgb (cr, tone, tone, tone);
  cairo_path_t *path = cairo_copy_path (cr);
  stroke_px (cr, 2 * (clearance + line));
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_append_path (cr, path);
  cairo_set_operator (cr, CAIRO_OPERATOR_DEST_OUT);
  stroke_px (cr, 2 * clearance);
  cairo_set_operator (cr, CAIRO_OPERATOR_OVER);
  cairo_path_destroy (path);
}

/* Diagonal hairlines in device space: a pattern that is told from a tint without seeing colour. */
static cairo_pattern_t *
make_hatch (const GdkRGBA *colour)
{
  cairo_surface_t *tile = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, TILE, TILE);
  cairo_t *cr = cairo_create (tile);

  set_rgba (cr, colour);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  for (int i = 0; i < TILE; i++)
    cairo_rectangle (cr, i, TILE - 1 - i, 1, 1);
  cairo_fill (cr);
  cairo_destroy (cr);

  cairo_pattern_t *hatch = cairo_pattern_create_for_surface (tile);
  cairo_pattern_set_extend (hatch, CAIRO_EXTEND_REPEAT);
  cairo_pattern_set_filter (hatch, CAIRO_FILTER_NEAREST);
  cairo_surface_destroy (tile);
  return hatch;
}

static void
fill_hatch (cairo_t *cr, const GdkRGBA *colour)
{
  cairo_pattern_t *hatch = make_hatch (colour);

  cairo_save (cr);
  cairo_identity_matrix (cr);
  cairo_set_source (cr, hatch);
  cairo_fill (cr);
  cairo_restore (cr);
  cairo_pattern_destroy (hatch);
}

static void
draw_border (cairo_t *cr, const SbBakeKey *key, const Stretch *stretch, const SbPalette *palette)
{
  guint flags = key->flags;
  const GdkRGBA *warning = flags & SB_BAKE_STOP      ? &palette->stop
                           : flags & SB_BAKE_CAUTION ? &palette->caution
                                                     : NULL;
  GdkRGBA tint = warning ? *warning : palette->ring_tint;

  /* What is not cut has no paper of its own: a card's colour goes on below its text. */
  gboolean has_paper = key->design->guide.style != SB_GUIDE_OFF;

  trace_outline (cr, key->design, stretch);
  cairo_set_source_rgb (cr, 1, 1, 1);
  if (has_paper)
    cairo_fill_preserve (cr);
  if (warning)
    tint.alpha = 0.22f;
  if (warning || flags & (SB_BAKE_RING | SB_BAKE_SELECTED)) {
    set_rgba (cr, &tint);
    cairo_fill_preserve (cr);
  }
  if (flags & SB_BAKE_RING)
    fill_hatch (cr, &palette->ring_hatch);
  cairo_new_path (cr);
  if (warning || flags & (SB_BAKE_RING | SB_BAKE_SELECTED)) {
    trace_artwork (cr, key->design, stretch);
    cairo_set_source_rgb (cr, 1, 1, 1);
    if (has_paper)
      cairo_fill_preserve (cr);
    if (flags & SB_BAKE_RING) {
      set_rgba (cr, &palette->ring_hatch);
      stroke_px (cr, 2);
    }
    cairo_new_path (cr);
  }
}

static void
draw_artwork (cairo_t *cr, const SbBakeKey *key, const Stretch *stretch, cairo_surface_t *art)
{
  if (!art) {
    trace_artwork (cr, key->design, stretch);
    cairo_set_source_rgb (cr, 0.91, 0.89, 0.86);
    cairo_fill (cr);
    return;
  }
  cairo_save (cr);
  trace_outline (cr, key->design, stretch);
  cairo_clip (cr);
  enter_artwork (cr, stretch);
  cairo_scale (cr, key->design->width_mm / cairo_image_surface_get_width (art),
               key->design->height_mm / cairo_image_surface_get_height (art));
  cairo_set_source_surface (cr, art, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_BILINEAR);
  cairo_paint (cr);
  cairo_restore (cr);
}

static void
paint_bleed (cairo_t *cr, const SbBleed *bleed, const Stretch *stretch, double alpha)
{
  cairo_save (cr);
  enter_artwork (cr, stretch);
  sb_bleed_set_source (bleed, cr);
  cairo_paint_with_alpha (cr, alpha);
  cairo_restore (cr);
}

/* The artwork and its bleed: whole up to the cut, pale past it and under all that is there. */
static void
draw_bled_artwork (cairo_t *cr, const SbBakeKey *key, const Stretch *stretch, cairo_surface_t *art)
{
  SbBleed bleed = {0};

  if (art)
    bleed = sb_bleed_make (key->design, art, cairo_image_surface_get_width (art),
                           cairo_image_surface_get_height (art), MIN (key->px_a_mm, BLEED_MOST_PX));
  if (bleed.surface) {
    cairo_save (cr);
    trace_outline (cr, key->design, stretch);
    cairo_clip (cr);
    paint_bleed (cr, &bleed, stretch, 1);
    cairo_restore (cr);
  }
  draw_artwork (cr, key, stretch, art);
  if (bleed.surface) {
    cairo_set_operator (cr, CAIRO_OPERATOR_DEST_OVER);
    paint_bleed (cr, &bleed, stretch, BLEED_ALPHA);
    cairo_set_operator (cr, CAIRO_OPERATOR_OVER);
  }
  sb_bleed_clear (&bleed);
}

static void
draw_edge (cairo_t *cr, const SbBakeKey *key, const Stretch *stretch, const SbPalette *palette)
{
  guint flags = key->flags;

  if (!(flags & (SB_BAKE_SELECTED | SB_BAKE_STOP | SB_BAKE_CAUTION)))
    return;
  trace_outline (cr, key->design, stretch);
  set_rgba (cr, flags & SB_BAKE_SELECTED ? &palette->accent
                : flags & SB_BAKE_STOP   ? &palette->stop
                                         : &palette->caution);
  stroke_px (cr, 2);
}

SbPixels *
sb_bake (const SbBakeKey *key, cairo_surface_t *art, const SbPalette *palette, int *left, int *top,
         double *px_a_mm)
{
  SbBox box = sb_bake_get_box (key);
  double area = (box.x1 - box.x0) * (box.y1 - box.y0) * key->px_a_mm * key->px_a_mm;
  double scale = key->px_a_mm * (area > SB_BAKE_MOST ? sqrt (SB_BAKE_MOST / area) : 1);
  Stretch stretch = measure_stretch (key->design, key->stretch);

  *left = (int)ceil (-box.x0 * scale) + 1;
  *top = (int)ceil (-box.y0 * scale) + 1;
  *px_a_mm = scale;
  int width = 2 * *left, height = 2 * *top;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);

  cairo_set_tolerance (cr, 0.3);
  cairo_translate (cr, *left, *top);
  cairo_rotate (cr, key->turn / 1000.0 * G_PI / 180);
  cairo_scale (cr, scale, scale);
  draw_guide (cr, key, &stretch, scale);
  draw_border (cr, key, &stretch, palette);
  draw_bled_artwork (cr, key, &stretch, art);
  draw_edge (cr, key, &stretch, palette);
  cairo_destroy (cr);
  return sb_pixels_new (surface);
}
