/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Bitmaps become image surfaces of their own pixels (or fewer, where the page cannot use them);
 * a JPEG's bytes go along so that PDF and SVG hold them as they are. Vectors become a recording,
 * which PDF writes once as a form. */
#include "config.h"

#include "output/artwork.h"

#include <math.h>
#include <string.h>

#include "output/jpeg.h"

/* A recording has no resolution, but what librsvg cannot say in paths (filters) it draws as pixels
 * of the recording's unit; so a vector is recorded in 1/600 in. */
#define VECTOR_DPI 600
/* Finer than this no usual printer lays its dots. */
#define PRINTER_DPI 600

struct _SbArtworks {
  int most_dpi;
  GHashTable *surfaces; /* key text -> cairo_surface_t */
};

/* cairo's SVG leaves a snapshot of a recording that refers to itself; finishing parts them. */
static void
free_surface (gpointer surface)
{
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);
}

SbArtworks *
sb_artworks_new (int most_dpi)
{
  SbArtworks *artworks = g_new0 (SbArtworks, 1);
  artworks->most_dpi = most_dpi;
  artworks->surfaces = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, free_surface);
  return artworks;
}

void
sb_artworks_free (SbArtworks *artworks)
{
  if (artworks == NULL)
    return;
  g_hash_table_unref (artworks->surfaces);
  g_free (artworks);
}

static int
pixels_at (double mm, int dpi)
{
  return CLAMP ((int)ceil (mm / SB_MM_PER_INCH * dpi), 1, SB_PICTURE_MOST_SIDE);
}

static void
attach_jpeg (cairo_surface_t *surface, const SbPicture *picture, int width, int height)
{
  if (strcmp (sb_picture_get_extension (picture), "jpg") != 0)
    return;
  GBytes *jpeg = sb_jpeg_strip (sb_picture_get_bytes (picture), width, height);
  if (jpeg == NULL)
    return;
  gsize length;
  const guchar *data = g_bytes_get_data (jpeg, &length);
  cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_JPEG, data, length,
                               (cairo_destroy_func_t)g_bytes_unref, jpeg);
}

static cairo_surface_t *
record_vector (const SbPicture *picture, int width, int height, GError **error)
{
  cairo_rectangle_t extents = {0, 0, width, height};
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, &extents);
  cairo_t *cr = cairo_create (surface);
  gboolean drawn = sb_picture_draw_vector (picture, cr, width, height, error);
  cairo_destroy (cr);
  if (!drawn)
    g_clear_pointer (&surface, cairo_surface_destroy);
  return surface;
}

static cairo_surface_t *
make_surface (const SbPicture *picture, int width, int height, GCancellable *cancellable,
              GError **error)
{
  if (sb_picture_get_kind (picture) == SB_PICTURE_VECTOR)
    return record_vector (picture, width, height, error);
  if (width != sb_picture_get_width (picture) || height != sb_picture_get_height (picture))
    return sb_picture_render (picture, width, height, cancellable, error);
  cairo_surface_t *surface = sb_picture_decode (picture, cancellable, error);
  if (surface != NULL && !sb_picture_is_cleaned (picture))
    attach_jpeg (surface, picture, width, height);
  return surface;
}

/* How many times larger than its pixels a crisp picture is drawn: as often as whole squares fit
 * into what a printer resolves. */
static int
whole_steps (const SbDesign *design, int most_dpi)
{
  int own = sb_picture_get_width (design->picture);
  if (!sb_picture_is_crisp (design->picture))
    return 1;
  int wanted = pixels_at (design->width_mm, most_dpi > 0 ? most_dpi : PRINTER_DPI);
  return MAX (wanted / own, 1);
}

cairo_surface_t *
sb_artworks_get (SbArtworks *artworks, const SbDesign *design, double *width, double *height,
                 GCancellable *cancellable, GError **error)
{
  const SbPicture *picture = design->picture;
  int w, h;
  if (sb_picture_get_kind (picture) == SB_PICTURE_VECTOR) {
    w = pixels_at (design->width_mm, VECTOR_DPI);
    h = pixels_at (design->height_mm, VECTOR_DPI);
  } else {
    w = sb_picture_get_width (picture);
    h = sb_picture_get_height (picture);
    int steps = whole_steps (design, artworks->most_dpi);
    w *= steps;
    h *= steps;
    if (artworks->most_dpi > 0) {
      w = MIN (w, pixels_at (design->width_mm, artworks->most_dpi));
      h = MIN (h, pixels_at (design->height_mm, artworks->most_dpi));
    }
  }
  *width = w;
  *height = h;

  g_autofree char *key = g_strdup_printf ("%s %dx%d", sb_picture_get_key (picture), w, h);
  cairo_surface_t *surface = g_hash_table_lookup (artworks->surfaces, key);
  if (surface == NULL) {
    surface = make_surface (picture, w, h, cancellable, error);
    if (surface != NULL)
      g_hash_table_insert (artworks->surfaces, g_steal_pointer (&key), surface);
  }
  return surface;
}
