/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every pixel takes the colour of the nearest one that is wholly artwork. Which is nearest is
 * handed from pixel to pixel in two passes over the rows (P.-E. Danielsson, "Euclidean Distance
 * Mapping", 1980); where that is off, it is by a fraction of a pixel. */
#include "output/bleed.h"

#include <math.h>

#include "output/guide.h"

#define MOST_PIXELS 12e6
#define SOLID 250      /* alpha of a pixel whose colour is the artwork's own */
#define HALF_SOLID 128 /* where nothing is solid */

typedef struct {
  int x, y; /* of the nearest solid pixel; x < 0: none is known */
} Site;

typedef struct {
  int width, height;
  double px_per_mm;
  SbPoint origin;
  cairo_surface_t *art, *inside, *reach; /* pixels; artwork and bleed as masks */
  Site *sites;
} Sheet;

static const guint8 *
row_of (cairo_surface_t *surface, int y)
{
  return cairo_image_surface_get_data (surface) +
         (gsize)y * (gsize)cairo_image_surface_get_stride (surface);
}

static guint32
pixel_of (cairo_surface_t *surface, int x, int y)
{
  return ((const guint32 *)(const void *)row_of (surface, y))[x];
}

static cairo_t *
begin (const Sheet *sheet, cairo_format_t format, cairo_surface_t **surface)
{
  *surface = cairo_image_surface_create (format, sheet->width, sheet->height);
  cairo_t *cr = cairo_create (*surface);
  cairo_scale (cr, sheet->px_per_mm, sheet->px_per_mm);
  cairo_translate (cr, -sheet->origin.x, -sheet->origin.y);
  return cr;
}

static void
draw_sheet (Sheet *sheet, const SbDesign *design, cairo_surface_t *art, double width, double height)
{
  cairo_t *cr = begin (sheet, CAIRO_FORMAT_ARGB32, &sheet->art);
  cairo_scale (cr, design->width_mm / width, design->height_mm / height);
  cairo_set_source_surface (cr, art, 0, 0);
  cairo_paint (cr);
  cairo_destroy (cr);

  cr = begin (sheet, CAIRO_FORMAT_A8, &sheet->inside);
  sb_guide_trace_outline (cr, sb_design_get_artwork (design));
  cairo_fill (cr);
  cairo_destroy (cr);

  cr = begin (sheet, CAIRO_FORMAT_A8, &sheet->reach);
  sb_guide_trace_outline (cr, sb_design_get_outline (design));
  cairo_fill_preserve (cr);
  cairo_set_line_width (cr, 2 * design->bleed_mm);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
  cairo_destroy (cr);

  cairo_surface_flush (sheet->art);
  cairo_surface_flush (sheet->inside);
  cairo_surface_flush (sheet->reach);
}

static gboolean
find_solid (Sheet *sheet, guint least)
{
  gboolean found = FALSE;
  for (int y = 0; y < sheet->height; y++)
    for (int x = 0; x < sheet->width; x++) {
      gboolean solid =
          row_of (sheet->inside, y)[x] >= least && pixel_of (sheet->art, x, y) >> 24 >= least;
      sheet->sites[(gsize)y * (gsize)sheet->width + (gsize)x] =
          solid ? (Site){x, y} : (Site){-1, 0};
      found |= solid;
    }
  return found;
}

static gint64
square (int x, int y, Site site)
{
  gint64 dx = site.x - x, dy = site.y - y;
  return dx * dx + dy * dy;
}

/* Takes the site that the neighbour at dx, dy knows where it is nearer. */
static void
hand_on (Sheet *sheet, int x, int y, int dx, int dy)
{
  int from_x = x + dx, from_y = y + dy;
  if (from_x < 0 || from_y < 0 || from_x >= sheet->width || from_y >= sheet->height)
    return;
  Site *mine = &sheet->sites[(gsize)y * (gsize)sheet->width + (gsize)x];
  Site other = sheet->sites[(gsize)from_y * (gsize)sheet->width + (gsize)from_x];
  if (other.x >= 0 && (mine->x < 0 || square (x, y, other) < square (x, y, *mine)))
    *mine = other;
}

/* One pass over the rows; `dy` says where they come from. */
static void
pass (Sheet *sheet, int dy)
{
  for (int k = 0; k < sheet->height; k++) {
    int y = dy < 0 ? k : sheet->height - 1 - k;
    for (int x = 0; x < sheet->width; x++) {
      for (int dx = -1; dx <= 1; dx++)
        hand_on (sheet, x, y, dx, dy);
      hand_on (sheet, x, y, -1, 0);
    }
    for (int x = sheet->width - 1; x >= 0; x--)
      hand_on (sheet, x, y, 1, 0);
  }
}

/* Wholly inside the artwork, its neighbours too: no bleed is wanted there. */
static gboolean
is_interior (const Sheet *sheet, int x, int y)
{
  for (int dy = -1; dy <= 1; dy++)
    for (int dx = -1; dx <= 1; dx++) {
      int nx = CLAMP (x + dx, 0, sheet->width - 1), ny = CLAMP (y + dy, 0, sheet->height - 1);
      if (row_of (sheet->inside, ny)[nx] < 255)
        return FALSE;
    }
  return TRUE;
}

/* The colour of a premultiplied pixel at full strength, then at `alpha`. */
static guint32
colour_at (guint32 pixel, guint alpha)
{
  guint own = pixel >> 24, result = alpha << 24;
  for (guint shift = 0; shift < 24; shift += 8) {
    guint channel = MIN (255, ((pixel >> shift & 0xff) * 255 + own / 2) / own);
    result |= (channel * alpha + 127) / 255 << shift;
  }
  return result;
}

static cairo_surface_t *
paint_sheet (const Sheet *sheet)
{
  cairo_surface_t *surface =
      cairo_image_surface_create (CAIRO_FORMAT_ARGB32, sheet->width, sheet->height);
  guint8 *data = cairo_image_surface_get_data (surface);
  gsize stride = (gsize)cairo_image_surface_get_stride (surface);
  for (int y = 0; y < sheet->height; y++) {
    guint32 *row = (guint32 *)(void *)(data + (gsize)y * stride);
    for (int x = 0; x < sheet->width; x++) {
      guint alpha = row_of (sheet->reach, y)[x];
      Site site = sheet->sites[(gsize)y * (gsize)sheet->width + (gsize)x];
      if (alpha > 0 && !is_interior (sheet, x, y))
        row[x] = colour_at (pixel_of (sheet->art, site.x, site.y), alpha);
    }
  }
  cairo_surface_mark_dirty (surface);
  return surface;
}

static void
measure_sheet (Sheet *sheet, const SbDesign *design, double px_per_mm)
{
  SbBox box = sb_outline_get_box (sb_design_get_outline (design));
  double rim = design->bleed_mm + 1 / px_per_mm;
  box = (SbBox){box.x0 - rim, box.y0 - rim, box.x1 + rim, box.y1 + rim};
  double width = box.x1 - box.x0, height = box.y1 - box.y0;
  double pixels = width * height * px_per_mm * px_per_mm;
  sheet->px_per_mm = pixels > MOST_PIXELS ? px_per_mm * sqrt (MOST_PIXELS / pixels) : px_per_mm;
  sheet->width = MAX (1, (int)ceil (width * sheet->px_per_mm));
  sheet->height = MAX (1, (int)ceil (height * sheet->px_per_mm));
  sheet->origin = (SbPoint){box.x0, box.y0};
}

SbBleed
sb_bleed_make (const SbDesign *design, cairo_surface_t *art, double width, double height,
               double px_per_mm)
{
  SbBleed bleed = {0};
  Sheet sheet = {0};
  if (!(design->bleed_mm > 0))
    return bleed;
  measure_sheet (&sheet, design, px_per_mm);
  draw_sheet (&sheet, design, art, width, height);
  sheet.sites = g_new (Site, (gsize)sheet.width * (gsize)sheet.height);
  if (find_solid (&sheet, SOLID) || find_solid (&sheet, HALF_SOLID)) {
    pass (&sheet, -1);
    pass (&sheet, 1);
    bleed = (SbBleed){paint_sheet (&sheet), sheet.origin, sheet.px_per_mm};
  }
  g_free (sheet.sites);
  cairo_surface_destroy (sheet.art);
  cairo_surface_destroy (sheet.inside);
  cairo_surface_destroy (sheet.reach);
  return bleed;
}

void
sb_bleed_clear (SbBleed *bleed)
{
  g_clear_pointer (&bleed->surface, cairo_surface_destroy);
}

void
sb_bleed_set_source (const SbBleed *bleed, cairo_t *cr)
{
  cairo_matrix_t matrix;
  cairo_set_source_surface (cr, bleed->surface, 0, 0);
  cairo_matrix_init_scale (&matrix, bleed->px_per_mm, bleed->px_per_mm);
  cairo_matrix_translate (&matrix, -bleed->origin.x, -bleed->origin.y);
  cairo_pattern_set_matrix (cairo_get_source (cr), &matrix);
}
