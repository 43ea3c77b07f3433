/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/parts/renderer.h"
#include "window/pictures/pixels.h"

struct _SbPixels {
  cairo_surface_t *surface;
  GdkTexture *texture; /* NULL until asked for */
  gatomicrefcount refs;
};

SbPixels *
sb_pixels_new (cairo_surface_t *surface)
{
  SbPixels *pixels = g_new0 (SbPixels, 1);

  cairo_surface_flush (surface);
  pixels->surface = surface;
  g_atomic_ref_count_init (&pixels->refs);
  return pixels;
}

SbPixels *
sb_pixels_ref (SbPixels *pixels)
{
  g_atomic_ref_count_inc (&pixels->refs);
  return pixels;
}

void
sb_pixels_unref (SbPixels *pixels)
{
  if (!g_atomic_ref_count_dec (&pixels->refs))
    return;
  g_clear_object (&pixels->texture);
  cairo_surface_destroy (pixels->surface);
  g_free (pixels);
}

int
sb_pixels_get_width (const SbPixels *pixels)
{
  return cairo_image_surface_get_width (pixels->surface);
}

int
sb_pixels_get_height (const SbPixels *pixels)
{
  return cairo_image_surface_get_height (pixels->surface);
}

cairo_surface_t *
sb_pixels_get_surface (const SbPixels *pixels)
{
  return pixels->surface;
}

GdkTexture *
sb_pixels_get_texture (SbPixels *pixels)
{
  if (!pixels->texture) {
    gsize row = (gsize)cairo_image_surface_get_stride (pixels->surface);
    g_autoptr (GBytes) bytes = g_bytes_new_with_free_func (
        cairo_image_surface_get_data (pixels->surface), row * (gsize)sb_pixels_get_height (pixels),
        (GDestroyNotify)cairo_surface_destroy, cairo_surface_reference (pixels->surface));
    pixels->texture =
        gdk_memory_texture_new (sb_pixels_get_width (pixels), sb_pixels_get_height (pixels),
                                GDK_MEMORY_DEFAULT, bytes, row);
  }
  return pixels->texture;
}

/* Bounds on whole pixels: cairo then draws in place instead of by way of a surface of that size. */
static cairo_t *
append_cairo (GtkSnapshot *snapshot, const graphene_rect_t *rect)
{
  graphene_rect_t bounds;

  graphene_rect_round_extents (rect, &bounds);
  return gtk_snapshot_append_cairo (snapshot, &bounds);
}

void
sb_pixels_append (SbPixels *pixels, GtkWidget *widget, GtkSnapshot *snapshot,
                  const graphene_rect_t *rect)
{
  if (!sb_renderer_is_cairo (widget)) {
    gtk_snapshot_append_texture (snapshot, sb_pixels_get_texture (pixels), rect);
    return;
  }
  cairo_t *cr = append_cairo (snapshot, rect);
  cairo_translate (cr, rect->origin.x, rect->origin.y);
  cairo_scale (cr, rect->size.width / (float)sb_pixels_get_width (pixels),
               rect->size.height / (float)sb_pixels_get_height (pixels));
  cairo_set_source_surface (cr, pixels->surface, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_BILINEAR);
  cairo_paint (cr);
  cairo_destroy (cr);
}

static void
append_tiled_cairo (SbPixels *pixels, GtkSnapshot *snapshot, int size, double x, double y,
                    const graphene_rect_t *rect)
{
  cairo_t *cr = append_cairo (snapshot, rect);
  double scale = (double)size / sb_pixels_get_width (pixels);

  cairo_translate (cr, x, y);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, pixels->surface, 0, 0);
  cairo_pattern_set_extend (cairo_get_source (cr), CAIRO_EXTEND_REPEAT);
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_NEAREST);
  cairo_paint (cr);
  cairo_destroy (cr);
}

void
sb_pixels_append_tiled (SbPixels *pixels, GtkWidget *widget, GtkSnapshot *snapshot, int size,
                        double x, double y, const graphene_rect_t *rect)
{
  graphene_rect_t first = GRAPHENE_RECT_INIT ((float)x, (float)y, (float)size, (float)size);

  if (rect->size.width <= 0 || rect->size.height <= 0)
    return;
  if (sb_renderer_is_cairo (widget)) {
    append_tiled_cairo (pixels, snapshot, size, x, y, rect);
    return;
  }
  gtk_snapshot_push_repeat (snapshot, rect, &first);
  gtk_snapshot_append_texture (snapshot, sb_pixels_get_texture (pixels), &first);
  gtk_snapshot_pop (snapshot);
}
