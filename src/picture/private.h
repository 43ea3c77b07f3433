/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of this room share: the header of a picture and one reader a format. */
#pragma once

#include "picture/picture.h"

G_BEGIN_DECLS

/* What a reader finds out before any pixel is decoded. */
typedef struct {
  const char *extension; /* static or interned */
  int width, height;     /* px, upright */
  gboolean alpha;
  gboolean has_size; /* then width_mm and height_mm are set */
  double width_mm, height_mm;
  /* Vectors: the part of the drawing's plane that is the picture, in CSS px. */
  double box_x, box_y, box_width, box_height;
  gboolean layered; /* vectors: see svg-markup.h */
} SbHeader;

/* "NAME is cut short or damaged: DETAIL", CORRUPT. */
void sb_picture_set_corrupt (GError **error, const char *name, const char *detail);

/* FALSE and an error (EMPTY, TOO_LARGE) unless the size is within the limits of picture.h. */
gboolean sb_picture_check_size (gint64 width, gint64 height, const char *name, GError **error);

/* A transparent ARGB32 surface, or NULL and an error when there is no memory for it. */
cairo_surface_t *sb_picture_new_surface (int width, int height, const char *name, GError **error);

/* Sets the physical size from a density in pixels per inch on both axes; `step` is the density that
 * the file's rounding cannot tell apart (0.0254 for whole pixels per metre). A density that leads
 * to less than 0.01 mm or more than 10 m is taken for none. */
void sb_header_set_density (SbHeader *header, double x_dpi, double y_dpi, double step);

/* Whether the bytes begin as a PNG's do. */
gboolean sb_png_sniff (const guint8 *data, gsize size);
gboolean sb_png_read_header (GBytes *bytes, const char *name, SbHeader *header, GError **error);
cairo_surface_t *sb_png_decode (GBytes *bytes, const char *name, GCancellable *cancellable,
                                GError **error);

/* Whether the bytes begin as an SVG's do, packed by gzip or not. */
gboolean sb_svg_sniff (const guint8 *data, gsize size);
gboolean sb_svg_read_header (GBytes *bytes, const char *name, SbHeader *header, GError **error);
/* Draws the header's box into 0,0,width,height of `cr`. */
gboolean sb_svg_draw (GBytes *bytes, const char *name, const SbHeader *header, cairo_t *cr,
                      double width, double height, GError **error);
/* Draws only how much of each pixel is covered, on the whole of a CAIRO_FORMAT_A8 surface. */
gboolean sb_svg_draw_coverage (GBytes *bytes, const char *name, const SbHeader *header,
                               cairo_surface_t *surface, GError **error);

/* What `picture` was made of (or it itself) at a scale. */
cairo_surface_t *sb_picture_render_origin (const SbPicture *picture, double scale,
                                           GCancellable *cancellable, GError **error);

/* JPEG, TIFF and whatever gdk-pixbuf has a loader for; the last to be asked. */
gboolean sb_photo_read_header (GBytes *bytes, const char *name, SbHeader *header, GError **error);
cairo_surface_t *sb_photo_decode (GBytes *bytes, const char *name, const SbHeader *header,
                                  GCancellable *cancellable, GError **error);

G_END_DECLS
