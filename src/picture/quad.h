/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which part of a picture is shown, and how it lies: four corners in the picture that came in. An
 * upright rectangle is a crop, a turned one straightens, any other convex one takes perspective out
 * of a photo. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "geometry/point.h"

G_BEGIN_DECLS

typedef struct {
  gboolean set;       /* else the whole picture as it is, and the rest does not count */
  SbPoint corners[4]; /* of the result, clockwise from its top left one, in parts of the picture's
                       * width: 0,0 is the picture's top left corner */
  int width, height;  /* px of the result */
} SbQuad;

/* The part x0..x1, y0..y1 of a picture `picture_width` px wide, in px; its own pixels. */
SbQuad sb_quad_crop (int picture_width, int x0, int y0, int x1, int y1);

/* A rectangle `width` x `height` px about `middle`, turned by `degrees` clockwise. */
SbQuad sb_quad_turned (int picture_width, SbPoint middle, double width, double height,
                       double degrees);

/* A rectangle that perspective has made the quadrilateral `corners` (px, clockwise from what shall
 * be the top left one). Its proportions follow from the corners where the view is slanted both
 * ways, for a picture whose middle is where the camera looked (Z. Zhang, L. He: Whiteboard scanning
 * and image enhancement, Digital Signal Processing 17, 2007, section 3); else from the sides. */
SbQuad sb_quad_straighten (int picture_width, int picture_height, const SbPoint corners[4]);

/* The part of a frame's result (px of it), as a frame of the picture. */
SbQuad sb_quad_inside (const SbQuad *frame, int picture_width, int x0, int y0, int x1, int y1);

/* Whether a frame can be used on a picture: convex, clockwise, not farther outside than the picture
 * is large, of a size that a picture may have. */
gboolean sb_quad_is_usable (const SbQuad *frame, int picture_width, int picture_height);

/* Whether lengths differ from one place of it to another, as perspective makes them. */
gboolean sb_quad_is_slanted (const SbQuad *frame);

gboolean sb_quad_equal (const SbQuad *a, const SbQuad *b);

/* A map of the plane that keeps lines straight: x' = (m0 x + m1 y + m2) / (m6 x + m7 y + m8). */
typedef struct {
  double m[9];
} SbMap;

/* From px of the frame's result at `width` px wide to px of the picture at `picture_width`. A frame
 * that is not set only scales. */
SbMap sb_quad_get_map (const SbQuad *frame, int width, int height, int picture_width);
SbMap sb_map_invert (const SbMap *map);
SbPoint sb_map_point (const SbMap *map, SbPoint p);

/* The largest sheet of paper that is seen whole in a photo: a bright quadrilateral on a darker
 * ground. `corners` are px of `surface`, clockwise from the top left one. FALSE when there is
 * none. */
gboolean sb_quad_find_sheet (cairo_surface_t *surface, SbPoint corners[4]);

/* Fills all of `into` with what the frame shows of `from` (the whole picture, at whatever scale).
 * Whole pixels are copied where they fall on pixels; else the result is resampled in linear light,
 * premultiplied, the picture's edge continued outwards. FALSE when cancelled. */
gboolean sb_quad_fill (const SbQuad *frame, cairo_surface_t *from, cairo_surface_t *into,
                       GCancellable *cancellable, GError **error);

G_END_DECLS
