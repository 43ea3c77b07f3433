/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * SVG through librsvg. A handle is made for each call: librsvg's are for one thread, and reading is
 * quick beside drawing.
 *
 * Size: `width` and `height` of the root in absolute units (SVG 2 section 7.2, CSS Values 4 section
 * 6.2: 1in = 2.54cm = 96px). One of them absolute and a viewBox: the other follows from its aspect
 * (CSS 2.2 section 10.3.2). Else the drawing states no size, and its box is the viewBox, or what
 * it inks when there is none.
 *
 * Nothing outside the file is read: without a base address librsvg takes data: addresses only. */
#include "config.h"

#include "picture/private.h"
#include "picture/svg-markup.h"

#include <glib/gi18n.h>
#include <librsvg/rsvg.h>
#include <math.h>
#include <string.h>

#define CSS_DPI 96.0
/* What a compressed drawing may grow to. */
#define MOST_MARKUP (256 * 1024 * 1024)
/* libxml2 takes no text longer than this unless asked. */
#define LIBXML_TEXT_LIMIT 10000000
/* A drawing without a size has so many px on its longer side: enough for its aspect, few enough to
 * be drawn at them. */
#define UNSIZED_LEAST 1024
#define UNSIZED_MOST 4096

static gboolean
is_gzip (const guint8 *data, gsize size)
{
  return size >= 3 && data[0] == 0x1f && data[1] == 0x8b && data[2] == 8;
}

/* Markup begins with `<` in every encoding XML takes, after an optional byte order mark. */
static gboolean
is_markup (const guint8 *data, gsize size)
{
  gsize i = 0;

  if (size >= 3 && memcmp (data, "\xef\xbb\xbf", 3) == 0)
    i = 3;
  else if (size >= 4 &&
           (memcmp (data, "\xff\xfe<\0", 4) == 0 || memcmp (data, "\xfe\xff\0<", 4) == 0))
    return TRUE;
  while (i < size && g_ascii_isspace (data[i]))
    i++;
  return i < size && data[i] == '<';
}

gboolean
sb_svg_sniff (const guint8 *data, gsize size)
{
  return is_gzip (data, size) || is_markup (data, size);
}

static GBytes *
unzip (GBytes *bytes, const char *name, GError **error)
{
  g_autoptr (GInputStream) raw = g_memory_input_stream_new_from_bytes (bytes);
  g_autoptr (GConverter) gzip =
      G_CONVERTER (g_zlib_decompressor_new (G_ZLIB_COMPRESSOR_FORMAT_GZIP));
  g_autoptr (GInputStream) stream = g_converter_input_stream_new (raw, gzip);
  g_autoptr (GByteArray) markup = g_byte_array_new ();
  g_autoptr (GError) local = NULL;
  guint8 buffer[65536];
  gssize n;

  while ((n = g_input_stream_read (stream, buffer, sizeof buffer, NULL, &local)) > 0) {
    g_byte_array_append (markup, buffer, (guint)n);
    if (markup->len > MOST_MARKUP) {
      g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_TOO_LARGE,
                   _ ("%s unpacks to more than %d MB, which is the most that can be opened."), name,
                   MOST_MARKUP / 1024 / 1024);
      return NULL;
    }
  }
  if (n < 0) {
    sb_picture_set_corrupt (error, name, local->message);
    return NULL;
  }
  return g_byte_array_free_to_bytes (g_steal_pointer (&markup));
}

static GBytes *
get_markup (GBytes *bytes, const char *name, GError **error)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);

  return is_gzip (data, size) ? unzip (bytes, name, error) : g_bytes_ref (bytes);
}

/* Long texts are embedded pictures. libxml2's limits also keep entities from growing without end,
 * so they are only lifted for markup that declares none, in the one encoding we can tell that of.
 */
static RsvgHandleFlags
flags_for (GBytes *markup)
{
  gsize size;
  const char *text = g_bytes_get_data (markup, &size);

  if (size > LIBXML_TEXT_LIMIT && sb_svg_is_plain_utf8 (text, size) &&
      memmem (text, size, "<!ENTITY", 8) == NULL)
    return RSVG_HANDLE_FLAG_UNLIMITED;
  return RSVG_HANDLE_FLAGS_NONE;
}

static RsvgHandle *
open_handle (GBytes *bytes, const char *name, SbSvgMarkup *found, GError **error)
{
  g_autoptr (GBytes) markup = get_markup (bytes, name, error);
  if (markup == NULL)
    return NULL;

  gsize size;
  const char *text = g_bytes_get_data (markup, &size);
  if (found != NULL && !sb_svg_scan_markup (text, size, name, found, error))
    return NULL;

  g_autoptr (GError) local = NULL;
  g_autoptr (GInputStream) stream = g_memory_input_stream_new_from_bytes (markup);
  RsvgHandle *handle =
      rsvg_handle_new_from_stream_sync (stream, NULL, flags_for (markup), NULL, &local);
  if (handle == NULL) {
    if (size == 0 || memmem (text, MIN (size, 65536), "svg", 3) != NULL)
      sb_picture_set_corrupt (error, name, local->message);
    else
      g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_UNKNOWN,
                   _ ("%s is not a picture in a format that can be opened."), name);
    return NULL;
  }
  rsvg_handle_set_dpi (handle, CSS_DPI);
  return handle;
}

/* CSS px of an absolute length; 0 for percentages, and for those relative to a font. */
static double
absolute_px (const RsvgLength *length)
{
  switch (length->unit) {
  case RSVG_UNIT_PX:
    return length->length;
  case RSVG_UNIT_IN:
    return length->length * CSS_DPI;
  case RSVG_UNIT_CM:
    return length->length * CSS_DPI / 2.54;
  case RSVG_UNIT_MM:
    return length->length * CSS_DPI / SB_MM_PER_INCH;
  case RSVG_UNIT_PT:
    return length->length * CSS_DPI / 72;
  case RSVG_UNIT_PC:
    return length->length * CSS_DPI / 6;
  case RSVG_UNIT_PERCENT:
  case RSVG_UNIT_EM:
  case RSVG_UNIT_EX:
  default:
    return 0;
  }
}

/* Fills the header's box and physical size. */
static void
measure (RsvgHandle *handle, const SbSvgMarkup *markup, SbHeader *header)
{
  gboolean has_width, has_height, has_view_box;
  RsvgLength width, height;
  RsvgRectangle view_box;
  rsvg_handle_get_intrinsic_dimensions (handle, &has_width, &width, &has_height, &height,
                                        &has_view_box, &view_box);
  if (has_view_box && (!(view_box.width > 0) || !(view_box.height > 0)))
    return;

  /* librsvg 2.54 does not know the quarter millimetre. */
  double w = markup->width_px > 0 ? markup->width_px : absolute_px (&width);
  double h = markup->height_px > 0 ? markup->height_px : absolute_px (&height);
  if (has_view_box && w > 0 && h <= 0)
    h = w * view_box.height / view_box.width;
  else if (has_view_box && h > 0 && w <= 0)
    w = h * view_box.width / view_box.height;

  if (w > 0 && h > 0) {
    header->box_width = w;
    header->box_height = h;
    header->has_size = TRUE;
    header->width_mm = w * SB_MM_PER_INCH / CSS_DPI;
    header->height_mm = h * SB_MM_PER_INCH / CSS_DPI;
    return;
  }
  if (has_view_box) {
    header->box_width = view_box.width;
    header->box_height = view_box.height;
    return;
  }

  const RsvgRectangle usual = {0, 0, 300, 150};
  RsvgRectangle ink;
  if (rsvg_handle_get_geometry_for_layer (handle, NULL, &usual, &ink, NULL, NULL)) {
    header->box_x = ink.x;
    header->box_y = ink.y;
    header->box_width = ink.width;
    header->box_height = ink.height;
  }
}

static gboolean
set_pixels (SbHeader *header, const char *name, GError **error)
{
  double w = header->box_width, h = header->box_height;
  if (!isfinite (w) || !isfinite (h) || !(w > 0) || !(h > 0)) {
    g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_EMPTY,
                 _ ("%s has no size and draws nothing."), name);
    return FALSE;
  }

  double scale = 1;
  if (!header->has_size)
    scale = CLAMP (1.0, UNSIZED_LEAST / MAX (w, h), UNSIZED_MOST / MAX (w, h));
  w = MAX (round (w * scale), 1);
  h = MAX (round (h * scale), 1);
  if (!sb_picture_check_size ((gint64)MIN (w, 1e9), (gint64)MIN (h, 1e9), name, error))
    return FALSE;
  header->width = (int)w;
  header->height = (int)h;
  return TRUE;
}

gboolean
sb_svg_read_header (GBytes *bytes, const char *name, SbHeader *header, GError **error)
{
  SbSvgMarkup markup = {0};
  RsvgHandle *handle = open_handle (bytes, name, &markup, error);
  if (handle == NULL)
    return FALSE;

  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);
  header->extension = is_gzip (data, size) ? "svgz" : "svg";
  header->alpha = TRUE;
  header->layered = markup.layered;
  measure (handle, &markup, header);
  g_object_unref (handle);
  return set_pixels (header, name, error);
}

static gboolean
draw_handle (RsvgHandle *handle, const char *name, const SbHeader *header, cairo_t *cr,
             double width, double height, GError **error)
{
  /* With a size or a viewBox the box is the viewport; without, it is the inked part of librsvg's
   * plane, in which the viewport plays no role but for percentages. */
  gboolean inked = header->box_x != 0 || header->box_y != 0;
  RsvgRectangle viewport = {0, 0, inked ? 300 : header->box_width,
                            inked ? 150 : header->box_height};
  g_autoptr (GError) local = NULL;
  gboolean drawn;

  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  cairo_scale (cr, width / header->box_width, height / header->box_height);
  cairo_translate (cr, -header->box_x, -header->box_y);
  drawn = rsvg_handle_render_document (handle, cr, &viewport, &local);
  cairo_restore (cr);
  if (!drawn)
    sb_picture_set_corrupt (error, name, local->message);
  return drawn;
}

gboolean
sb_svg_draw (GBytes *bytes, const char *name, const SbHeader *header, cairo_t *cr, double width,
             double height, GError **error)
{
  RsvgHandle *handle = open_handle (bytes, name, NULL, error);
  if (handle == NULL)
    return FALSE;

  gboolean drawn = draw_handle (handle, name, header, cr, width, height, error);
  g_object_unref (handle);
  return drawn;
}

/* What has an opacity, filter, mask or blend mode of its own costs librsvg a surface as large as
 * the whole drawing. Most of it lies where the artwork is opaque anyway, as a shine or a blush
 * does, and changes nothing of what is covered. */
#define PLAIN                                                                                      \
  "* { opacity: 1 !important; filter: none !important; mask: none !important; "                    \
  "mix-blend-mode: normal !important }"
#define GLANCE_STEP 8 /* px of a glance, of those of the drawing */

/* A drawing of the handle's coverage, a fraction as large; NULL when it cannot be drawn. */
static cairo_surface_t *
glance (RsvgHandle *handle, const SbHeader *header, cairo_surface_t *large)
{
  int width = (cairo_image_surface_get_width (large) + GLANCE_STEP - 1) / GLANCE_STEP;
  int height = (cairo_image_surface_get_height (large) + GLANCE_STEP - 1) / GLANCE_STEP;
  cairo_surface_t *small = cairo_image_surface_create (CAIRO_FORMAT_A8, width, height);
  cairo_t *cr = cairo_create (small);

  if (!draw_handle (handle, "", header, cr, width, height, NULL))
    g_clear_pointer (&small, cairo_surface_destroy);
  cairo_destroy (cr);
  return small;
}

static gboolean
surfaces_equal (cairo_surface_t *a, cairo_surface_t *b)
{
  cairo_surface_flush (a);
  cairo_surface_flush (b);
  const guint8 *p = cairo_image_surface_get_data (a), *q = cairo_image_surface_get_data (b);
  int stride = cairo_image_surface_get_stride (a), width = cairo_image_surface_get_width (a);

  for (int y = 0; y < cairo_image_surface_get_height (a); y++)
    if (memcmp (p + (gsize)y * (gsize)stride, q + (gsize)y * (gsize)stride, (gsize)width) != 0)
      return FALSE;
  return TRUE;
}

/* Leaves out what costs a surface. FALSE where a glance shows that it takes part in the coverage.
 */
static gboolean
simplify (RsvgHandle *handle, const SbHeader *header, cairo_surface_t *surface)
{
  cairo_surface_t *before = glance (handle, header, surface);
  rsvg_handle_set_stylesheet (handle, (const guint8 *)PLAIN, strlen (PLAIN), NULL);
  cairo_surface_t *after = glance (handle, header, surface);
  gboolean alike = before != NULL && after != NULL && surfaces_equal (before, after);

  g_clear_pointer (&before, cairo_surface_destroy);
  g_clear_pointer (&after, cairo_surface_destroy);
  return alike;
}

gboolean
sb_svg_draw_coverage (GBytes *bytes, const char *name, const SbHeader *header,
                      cairo_surface_t *surface, GError **error)
{
  RsvgHandle *handle = open_handle (bytes, name, NULL, error);
  if (handle != NULL && header->layered && !simplify (handle, header, surface)) {
    /* A stylesheet cannot be taken back. */
    g_object_unref (handle);
    handle = open_handle (bytes, name, NULL, error);
  }
  if (handle == NULL)
    return FALSE;

  cairo_t *cr = cairo_create (surface);
  gboolean drawn = draw_handle (handle, name, header, cr, cairo_image_surface_get_width (surface),
                                cairo_image_surface_get_height (surface), error);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  g_object_unref (handle);
  return drawn;
}
