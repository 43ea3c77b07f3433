/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "output/check-bar.h"
#include "output/laid.h"
#include "window/canvas/page-paint.h"
#include "window/canvas/plate.h"
#include "window/parts/palette.h"
#include "window/pictures/pixels.h"

/* Logical px. A tile holds several marks each way: few large tiles are drawn faster. */
#define WASTE_STEP 14
#define WASTE_TILE (WASTE_STEP * 8)
#define STRIP_STEP 5
#define STRIP_TILE (STRIP_STEP * 20)

/* Patterns */

/* A tile with the same marks at each step, drawn at device px without smoothing, so that their
 * colour is exact. */
static SbPixels *
make_tile (int size, int step, int scale, const GdkRGBA *colour, const GdkRectangle *marks, guint n)
{
  cairo_surface_t *surface =
      cairo_image_surface_create (CAIRO_FORMAT_ARGB32, size * scale, size * scale);
  cairo_t *cr = cairo_create (surface);

  cairo_scale (cr, scale, scale);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  gdk_cairo_set_source_rgba (cr, colour);
  for (int y = 0; y < size; y += step)
    for (int x = 0; x < size; x += step)
      for (guint i = 0; i < n; i++)
        cairo_rectangle (cr, x + marks[i].x, y + marks[i].y, marks[i].width, marks[i].height);
  cairo_fill (cr);
  cairo_destroy (cr);
  return sb_pixels_new (surface);
}

static SbPixels *
make_waste_tile (GtkWidget *widget)
{
  static const GdkRectangle plus[] = {{7, 5, 1, 5}, {5, 7, 5, 1}};

  return make_tile (WASTE_TILE, WASTE_STEP, gtk_widget_get_scale_factor (widget),
                    &sb_palette_get (widget)->waste, plus, G_N_ELEMENTS (plus));
}

static SbPixels *
make_strip_tile (GtkWidget *widget)
{
  static const GdkRectangle dot[] = {{1, 1, 2, 2}};

  return make_tile (STRIP_TILE, STRIP_STEP, gtk_widget_get_scale_factor (widget),
                    &sb_palette_get (widget)->strip, dot, G_N_ELEMENTS (dot));
}

/* Pages */

typedef struct {
  SbPoint origin;
  graphene_rect_t paper;
  graphene_rect_t printable;
} Page;

static gboolean
find_page (const SbPagePaint *paint, guint index, Page *page)
{
  const SbPagesLayout *layout = paint->layout;
  double k = layout->scale / SB_UM_PER_MM;
  SbIBox box = sb_state_get_printable_box (paint->state);
  SbPoint origin = sb_pages_layout_get_origin (layout, index);

  page->origin = origin;
  page->paper =
      GRAPHENE_RECT_INIT ((float)origin.x, (float)origin.y, (float)(layout->page_width * k),
                          (float)(layout->page_height * k));
  page->printable =
      GRAPHENE_RECT_INIT ((float)(origin.x + box.x0 * k), (float)(origin.y + box.y0 * k),
                          (float)((box.x1 - box.x0) * k), (float)((box.y1 - box.y0) * k));
  return page->paper.origin.y < (float)layout->view_height &&
         page->paper.origin.y + page->paper.size.height > 0;
}

/* The part of a rectangle that the view shows, on whole px: patterns beyond it cost time and are
 * not seen. */
static graphene_rect_t
clip_to_view (const SbPagePaint *paint, const graphene_rect_t *rect)
{
  graphene_rect_t view = GRAPHENE_RECT_INIT (0, 0, (float)paint->layout->view_width,
                                             (float)paint->layout->view_height);
  graphene_rect_t shown;

  if (!graphene_rect_intersection (rect, &view, &shown))
    return GRAPHENE_RECT_INIT (0, 0, 0, 0);
  float x = floorf (shown.origin.x + 0.5f), y = floorf (shown.origin.y + 0.5f);
  return GRAPHENE_RECT_INIT (x, y, floorf (shown.origin.x + shown.size.width + 0.5f) - x,
                             floorf (shown.origin.y + shown.size.height + 0.5f) - y);
}

/* The four sides of a frame of whole px about a rectangle. */
static void
append_sides (GtkSnapshot *snapshot, const graphene_rect_t *inner, float width,
              const GdkRGBA *colour)
{
  float x0 = inner->origin.x, y0 = inner->origin.y;
  float w = inner->size.width, h = inner->size.height;
  const graphene_rect_t sides[] = {
      GRAPHENE_RECT_INIT (x0 - width, y0 - width, w + 2 * width, width),
      GRAPHENE_RECT_INIT (x0 - width, y0 + h, w + 2 * width, width),
      GRAPHENE_RECT_INIT (x0 - width, y0, width, h),
      GRAPHENE_RECT_INIT (x0 + w, y0, width, h),
  };

  for (guint i = 0; i < G_N_ELEMENTS (sides); i++)
    gtk_snapshot_append_color (snapshot, colour, &sides[i]);
}

/* Three soft steps: a blurred shadow has to be blurred anew in each frame of a scroll, and one that
 * goes on below the paper is painted for nothing. */
static void
append_shadow (GtkSnapshot *snapshot, const graphene_rect_t *paper)
{
  static const GdkRGBA steps[] = {
      {0.17f, 0.16f, 0.15f, 0.24f}, {0.17f, 0.16f, 0.15f, 0.17f}, {0.17f, 0.16f, 0.15f, 0.09f}};

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++) {
    graphene_rect_t inner = *paper;
    graphene_rect_inset (&inner, -(float)i, -(float)i);
    inner.origin.y += 1;
    append_sides (snapshot, &inner, 1, &steps[i]);
  }
}

static void
append_check_bar (const SbPagePaint *paint, guint index, SbPoint origin, GtkSnapshot *snapshot)
{
  double k = paint->layout->scale / SB_UM_PER_MM;
  SbIBox room;
  gboolean upright;

  if (!paint->state->check_bar || !sb_check_bar_find_room (paint->state, index, &room, &upright))
    return;
  cairo_t *cr = gtk_snapshot_append_cairo (
      snapshot,
      &GRAPHENE_RECT_INIT ((float)(origin.x + room.x0 * k), (float)(origin.y + room.y0 * k),
                           (float)((room.x1 - room.x0) * k), (float)((room.y1 - room.y0) * k)));
  cairo_translate (cr, origin.x, origin.y);
  cairo_scale (cr, paint->layout->scale, paint->layout->scale);
  sb_check_bar_draw (cr, &room, upright);
  cairo_destroy (cr);
}

/* Of a card: its colour, the fold, the zone at its open ends, and where it is punched. */
static void
append_card (GtkSnapshot *snapshot, const SbPagePaint *paint, const Page *page)
{
  const SbLayout *layout = paint->state->view;
  double scale = page->paper.size.width / sb_um_to_mm (paint->state->page_width);
  graphene_rect_t shown = clip_to_view (paint, &page->paper);

  if (shown.size.width <= 0)
    return;
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &shown);
  cairo_translate (cr, page->paper.origin.x, page->paper.origin.y);
  cairo_scale (cr, scale, scale);
  sb_laid_paint_ground (cr, layout);
  sb_laid_paint_inner_marks (cr, layout);
  if (layout->kind == SB_LAYOUT_HEADER)
    sb_laid_paint_plan (cr, layout);
  cairo_destroy (cr);
}

GskRenderNode *
sb_page_paint_ground (const SbPagePaint *paint)
{
  g_autoptr (SbPixels) waste = make_waste_tile (paint->widget);
  GtkSnapshot *snapshot = gtk_snapshot_new ();

  for (guint i = 0; i < paint->layout->n_pages; i++) {
    Page page;

    if (!find_page (paint, i, &page))
      continue;
    append_shadow (snapshot, &page.paper);
    gtk_snapshot_append_color (snapshot, &(GdkRGBA){1, 1, 1, 1}, &page.paper);
    if (paint->state->view != NULL)
      append_card (snapshot, paint, &page);
    if (paint->overlay & SB_OVERLAY_WASTE) {
      graphene_rect_t shown = clip_to_view (paint, &page.printable);
      sb_pixels_append_tiled (waste, paint->widget, snapshot, WASTE_TILE, page.origin.x,
                              page.origin.y, &shown);
    }
    append_check_bar (paint, i, page.origin, snapshot);
  }
  return gtk_snapshot_free_to_node (snapshot);
}

/* The strip */

char *
sb_page_paint_describe_strip (const SbState *state, SbUnit unit)
{
  const SbMargins *m = &state->margins;
  g_autofree char *top = sb_length_format_fine (sb_um_to_mm (m->top), unit);
  g_autofree char *right = sb_length_format_fine (sb_um_to_mm (m->right), unit);
  g_autofree char *bottom = sb_length_format_fine (sb_um_to_mm (m->bottom), unit);
  g_autofree char *left = sb_length_format_fine (sb_um_to_mm (m->left), unit);

  if (state->view != NULL)
    /* Translators: the distance that what is on a sheet or card keeps from its edges */
    return g_strdup_printf (_ ("%s all round: keep clear"), top);
  if (m->top == m->right && m->top == m->bottom && m->top == m->left)
    /* Translators: label of the non-printable strip; %s is a length */
    return g_strdup_printf (_ ("%s all round: cannot print"), top);
  if (m->left == m->right)
    return g_strdup_printf (_ ("%s sides, %s top, %s foot: cannot print"), left, top, bottom);
  return g_strdup_printf (_ ("%s left, %s right, %s top, %s foot: cannot print"), left, right, top,
                          bottom);
}

/* A side of the dotted edge: a node of its own, since a node as large as the page is painted, and
 * with OpenGL kept, as large. */
static void
append_dotted_side (GtkSnapshot *snapshot, const SbPagePaint *paint, const graphene_rect_t *side)
{
  const GdkRGBA *colour = &sb_palette_get (paint->widget)->strip;
  graphene_rect_t shown = clip_to_view (paint, side);

  if (shown.size.width <= 0 || shown.size.height <= 0)
    return;
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &shown);
  gboolean lies = side->size.width > side->size.height;
  double x = side->origin.x + (lies ? 0 : 0.5), y = side->origin.y + (lies ? 0.5 : 0);

  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  gdk_cairo_set_source_rgba (cr, colour);
  cairo_set_line_width (cr, 1);
  cairo_set_dash (cr, (const double[]){2, 3}, 2, 0);
  cairo_move_to (cr, x, y);
  cairo_rel_line_to (cr, lies ? side->size.width : 0, lies ? 0 : side->size.height);
  cairo_stroke (cr);
  cairo_destroy (cr);
}

static void
append_dotted_edge (GtkSnapshot *snapshot, const SbPagePaint *paint, const graphene_rect_t *inner)
{
  float x = floorf (inner->origin.x), y = floorf (inner->origin.y);
  float width = floorf (inner->size.width), height = floorf (inner->size.height);
  const graphene_rect_t sides[] = {
      GRAPHENE_RECT_INIT (x, y, width + 1, 1),
      GRAPHENE_RECT_INIT (x, y + height, width + 1, 1),
      GRAPHENE_RECT_INIT (x, y, 1, height + 1),
      GRAPHENE_RECT_INIT (x + width, y, 1, height + 1),
  };

  for (guint i = 0; i < G_N_ELEMENTS (sides); i++)
    append_dotted_side (snapshot, paint, &sides[i]);
}

static void
append_strip_label (GtkSnapshot *snapshot, const SbPagePaint *paint, const Page *page)
{
  g_autofree char *text = sb_page_paint_describe_strip (paint->state, paint->unit);
  const SbPalette *palette = sb_palette_get (paint->widget);
  SbPlate plate = {
      .text = text,
      .fill = &(GdkRGBA){1, 1, 1, 1},
      .colour = &palette->strip,
      .small = TRUE,
  };
  SbPlateSize size = sb_plate_measure (paint->widget, &plate);
  float foot = page->paper.origin.y + page->paper.size.height;
  float strip = foot - page->printable.origin.y - page->printable.size.height;
  float y = strip > (float)size.height ? foot - (strip + (float)size.height) / 2
                                       : foot - (float)size.height;

  if (size.width < (int)page->paper.size.width)
    sb_plate_append (paint->widget, snapshot, &plate, page->printable.origin.x + 6, y);
}

GskRenderNode *
sb_page_paint_strip (const SbPagePaint *paint)
{
  g_autoptr (SbPixels) dots = make_strip_tile (paint->widget);
  const SbPalette *palette = sb_palette_get (paint->widget);
  GtkSnapshot *snapshot = gtk_snapshot_new ();

  for (guint i = 0; i < paint->layout->n_pages; i++) {
    Page page;

    if (!find_page (paint, i, &page))
      continue;
    float x0 = page.paper.origin.x, y0 = page.paper.origin.y;
    float x1 = page.printable.origin.x, y1 = page.printable.origin.y;
    float x2 = x1 + page.printable.size.width, y2 = y1 + page.printable.size.height;
    float x3 = x0 + page.paper.size.width, y3 = y0 + page.paper.size.height;
    graphene_rect_t sides[] = {
        GRAPHENE_RECT_INIT (x0, y0, x3 - x0, y1 - y0),
        GRAPHENE_RECT_INIT (x0, y2, x3 - x0, y3 - y2),
        GRAPHENE_RECT_INIT (x0, y1, x1 - x0, y2 - y1),
        GRAPHENE_RECT_INIT (x2, y1, x3 - x2, y2 - y1),
    };
    for (guint j = 0; j < G_N_ELEMENTS (sides); j++) {
      graphene_rect_t shown = clip_to_view (paint, &sides[j]);
      if (shown.size.width <= 0 || shown.size.height <= 0)
        continue;
      gtk_snapshot_append_color (snapshot, &palette->strip_wash, &shown);
      sb_pixels_append_tiled (dots, paint->widget, snapshot, STRIP_TILE, page.origin.x,
                              page.origin.y, &shown);
    }
    append_dotted_edge (snapshot, paint, &page.printable);
    append_strip_label (snapshot, paint, &page);
  }
  return gtk_snapshot_free_to_node (snapshot);
}

/* The legend */

void
sb_page_paint_sample (GtkWidget *widget, GtkSnapshot *snapshot, SbOverlay which,
                      const graphene_rect_t *rect)
{
  const SbPalette *palette = sb_palette_get (widget);
  SbPoint origin = {rect->origin.x, rect->origin.y};

  gtk_snapshot_append_color (snapshot, &(GdkRGBA){1, 1, 1, 1}, rect);
  switch (which) {
  case SB_OVERLAY_STRIP: {
    g_autoptr (SbPixels) tile = make_strip_tile (widget);
    sb_pixels_append_tiled (tile, widget, snapshot, STRIP_TILE, origin.x, origin.y, rect);
    break;
  }
  case SB_OVERLAY_WASTE: {
    g_autoptr (SbPixels) tile = make_waste_tile (widget);
    sb_pixels_append_tiled (tile, widget, snapshot, WASTE_TILE, origin.x, origin.y, rect);
    break;
  }
  case SB_OVERLAY_BORDER:
  default: {
    cairo_t *cr = gtk_snapshot_append_cairo (snapshot, rect);
    gdk_cairo_set_source_rgba (cr, &palette->ring_tint);
    cairo_paint (cr);
    gdk_cairo_set_source_rgba (cr, &palette->ring_hatch);
    cairo_set_line_width (cr, 1);
    for (float i = -rect->size.height; i < rect->size.width; i += 6) {
      cairo_move_to (cr, origin.x + i, origin.y + rect->size.height);
      cairo_rel_line_to (cr, rect->size.height, -rect->size.height);
    }
    cairo_stroke (cr);
    cairo_destroy (cr);
  }
  }
}
