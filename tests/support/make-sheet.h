/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Jobs for tests of what is written and printed: pictures drawn here, laid where the test says. */
#pragma once

#include <cairo.h>
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "job/edit.h"

static inline cairo_status_t
sb_make_sheet_append (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static inline GBytes *
sb_make_png_of (cairo_surface_t *surface)
{
  GByteArray *png = g_byte_array_new ();
  cairo_surface_write_to_png_stream (surface, sb_make_sheet_append, png);
  return g_byte_array_free_to_bytes (png);
}

/* A PNG of one colour. */
static inline GBytes *
sb_make_square (int side, double red, double green, double blue)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, side, side);
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, red, green, blue);
  cairo_paint (cr);
  cairo_destroy (cr);
  GBytes *png = sb_make_png_of (surface);
  cairo_surface_destroy (surface);
  return png;
}

/* Something like a painting: a round of soft washes with grain, clear around it. */
static inline cairo_surface_t *
sb_make_painting (int side, guint seed)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, side, side);
  guint8 *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  guint32 random = seed * 2654435761u + 1;
  for (int y = 0; y < side; y++)
    for (int x = 0; x < side; x++) {
      double u = 2.0 * x / side - 1, v = 2.0 * y / side - 1, r = sqrt (u * u + v * v);
      random = random * 1664525u + 1013904223u;
      int grain = (int)(random >> 29);
      int red = (int)(150 + 80 * sin (3 * u + seed) + grain);
      int green = (int)(150 + 80 * sin (4 * v + 2 * u + 2 * seed) + grain);
      int blue = (int)(120 + 80 * cos (5 * r + seed) + grain);
      guint32 pixel =
          r > 0.95 ? 0 : 0xff000000u | (guint32)red << 16 | (guint32)green << 8 | (guint32)blue;
      ((guint32 *)(void *)(data + (gsize)y * (gsize)stride))[x] = pixel;
    }
  cairo_surface_mark_dirty (surface);
  return surface;
}

static inline SbDesign *
sb_make_design (GBytes *bytes, const char *name, double width_mm, double height_mm,
                double border_mm, SbGuideStyle guide)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, name, &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  SbDesign *design = sb_design_new (picture, name);
  sb_design_set_size (design, width_mm, height_mm);
  SbBorderParams border = sb_border_params_default ();
  border.width_mm = border_mm;
  sb_design_set_border (design, &border);
  design->guide = sb_guide_for_style (guide);
  ck_assert_msg (sb_design_prepare (design, NULL, &error), "%s", error ? error->message : "");
  return design;
}

/* `state` becomes the one with the design (consumed) in it; returns its id. */
static inline guint
sb_make_add (SbState **state, SbDesign *design)
{
  guint id;
  SbState *next = sb_edit_add_design (*state, design, &id);
  sb_state_unref (*state);
  *state = next;
  return id;
}

/* Lays a copy with the middle of its outline's box at x,y (mm), turned by `degrees`. */
static inline guint
sb_make_place (SbState **state, guint page, guint design_id, double x_mm, double y_mm,
               double degrees)
{
  guint id;
  SbPiece piece = {.design_id = design_id,
                   .at = {sb_um_from_mm (x_mm), sb_um_from_mm (y_mm)},
                   .turn = (gint32)lround (degrees * 1000)};
  SbState *next = sb_edit_add_piece (*state, page, piece, &id);
  sb_state_unref (*state);
  *state = next;
  return id;
}

static inline SbState *
sb_make_letter (void)
{
  return sb_state_new ("na_letter_8.5x11in", 215900, 279400);
}

/* A 2.000 in black square of 1200 px, no border, no guide, its corner at x,y (mm). */
static inline SbState *
sb_make_two_inch_sheet (sb_um width, sb_um height, double x_mm, double y_mm)
{
  SbState *state = sb_state_new ("test", width, height);
  g_autoptr (GBytes) png = sb_make_square (1200, 0, 0, 0);
  guint id = sb_make_add (&state, sb_make_design (png, "square", 50.8, 50.8, 0, SB_GUIDE_OFF));
  sb_make_place (&state, 0, id, x_mm + 25.4, y_mm + 25.4, 0);
  return state;
}

/* The box of dark pixels (under 128 of 255 in green) of an image file that cairo reads. */
typedef struct {
  int width, height;  /* of the image */
  int x0, y0, x1, y1; /* the dark box; x1 and y1 just past it */
} SbDarkBox;

static inline SbDarkBox
sb_measure_dark (cairo_surface_t *image)
{
  cairo_surface_flush (image);
  int width = cairo_image_surface_get_width (image);
  int height = cairo_image_surface_get_height (image);
  const guint8 *data = cairo_image_surface_get_data (image);
  int stride = cairo_image_surface_get_stride (image);
  SbDarkBox box = {width, height, width, height, 0, 0};
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++) {
      guint32 pixel = ((const guint32 *)(const void *)(data + (gsize)y * (gsize)stride))[x];
      if ((pixel >> 8 & 0xff) < 128) {
        box.x0 = MIN (box.x0, x);
        box.y0 = MIN (box.y0, y);
        box.x1 = MAX (box.x1, x + 1);
        box.y1 = MAX (box.y1, y + 1);
      }
    }
  return box;
}
