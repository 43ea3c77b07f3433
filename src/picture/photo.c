/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * JPEG, TIFF and the rest through gdk-pixbuf. For JPEG and TIFF the header is read here, from the
 * file's own tags. Of the other formats gdk-pixbuf tells nothing before it has decoded them, least
 * of all whether anything is transparent, so they are decoded once when they are opened. */
#include "config.h"

#include "picture/private.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gi18n.h>
#include <string.h>

#include "picture/colour.h"
#include "picture/jpeg-header.h"
#include "picture/tiff-tags.h"

#define WRITE_CHUNK (64 * 1024)

typedef struct {
  const char *name;
  GError *too_large;
  int top, bottom; /* rows of the picture that were filled */
} Loading;

static void
on_size_prepared (GdkPixbufLoader *loader, int width, int height, gpointer user_data)
{
  Loading *loading = user_data;

  if (loading->too_large != NULL ||
      sb_picture_check_size (width, height, loading->name, &loading->too_large))
    return;
  /* How a loader is told to take no memory for pixels. */
  gdk_pixbuf_loader_set_size (loader, 0, 0);
}

static void
on_area_updated (GdkPixbufLoader *loader, int x, int y, int width, int height, gpointer user_data)
{
  Loading *loading = user_data;
  loading->top = MIN (loading->top, y);
  loading->bottom = MAX (loading->bottom, y + height);
}

/* Some loaders close a file that is cut short without a word. GIF's does not, and its first frame
 * need not fill the picture. */
static gboolean
is_filled (const Loading *loading, GdkPixbuf *pixbuf, GdkPixbufFormat *format)
{
  g_autofree char *format_name = format != NULL ? gdk_pixbuf_format_get_name (format) : NULL;

  if (g_strcmp0 (format_name, "gif") == 0)
    return TRUE;
  return loading->top == 0 && loading->bottom >= gdk_pixbuf_get_height (pixbuf);
}

static gboolean
write_all (GdkPixbufLoader *loader, const Loading *loading, GBytes *bytes,
           GCancellable *cancellable, GError **error)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);

  for (gsize at = 0; at < size && loading->too_large == NULL; at += WRITE_CHUNK) {
    if (g_cancellable_set_error_if_cancelled (cancellable, error) ||
        !gdk_pixbuf_loader_write (loader, data + at, MIN (WRITE_CHUNK, size - at), error))
      return FALSE;
  }
  return TRUE;
}

/* Says in our words what a loader said in its own. */
static void
take_loader_error (GError *from, const char *name, GError **error)
{
  if (g_error_matches (from, GDK_PIXBUF_ERROR, GDK_PIXBUF_ERROR_UNKNOWN_TYPE))
    g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_UNKNOWN,
                 _ ("%s is not a picture in a format that can be opened."), name);
  else if (from->domain == G_IO_ERROR)
    g_propagate_error (error, g_error_copy (from));
  else
    sb_picture_set_corrupt (error, name, from->message);
}

/* The whole picture, as stored. `extension` may be NULL. */
static GdkPixbuf *
load_pixbuf (GBytes *bytes, const char *name, const char **extension, GCancellable *cancellable,
             GError **error)
{
  g_autoptr (GdkPixbufLoader) loader = gdk_pixbuf_loader_new ();
  Loading loading = {.name = name, .top = G_MAXINT};
  g_autoptr (GError) local = NULL;

  g_signal_connect (loader, "size-prepared", G_CALLBACK (on_size_prepared), &loading);
  g_signal_connect (loader, "area-updated", G_CALLBACK (on_area_updated), &loading);
  gboolean whole = write_all (loader, &loading, bytes, cancellable, &local);
  /* A loader must be closed in any case; only the first error counts. */
  whole = gdk_pixbuf_loader_close (loader, local == NULL ? &local : NULL) && whole;
  if (loading.too_large != NULL) {
    g_propagate_error (error, loading.too_large);
    return NULL;
  }
  if (!whole) {
    take_loader_error (local, name, error);
    return NULL;
  }

  GdkPixbuf *pixbuf = gdk_pixbuf_loader_get_pixbuf (loader);
  GdkPixbufFormat *format = gdk_pixbuf_loader_get_format (loader);
  if (pixbuf == NULL || !is_filled (&loading, pixbuf, format)) {
    sb_picture_set_corrupt (error, name, _ ("the file ends too early"));
    return NULL;
  }
  if (extension != NULL && format != NULL) {
    g_auto (GStrv) endings = gdk_pixbuf_format_get_extensions (format);
    *extension = g_intern_string (endings[0] != NULL ? endings[0] : "img");
  }
  return g_object_ref (pixbuf);
}

static int
stored_orientation (GdkPixbuf *pixbuf)
{
  const char *option = gdk_pixbuf_get_option (pixbuf, "orientation");
  int orientation = option != NULL ? (int)g_ascii_strtoll (option, NULL, 10) : 1;

  return orientation >= 1 && orientation <= 8 ? orientation : 1;
}

static SbColour *
embedded_colour (GdkPixbuf *pixbuf)
{
  const char *option = gdk_pixbuf_get_option (pixbuf, "icc-profile");
  if (option == NULL)
    return NULL;
  gsize size;
  g_autofree guint8 *profile = g_base64_decode (option, &size);
  return sb_colour_new_icc (profile, size, 8);
}

/* Where the pixels of a stored row go: the first one's place and the step to the next, in pixels
 * (EXIF orientations, CIPA DC-008 section 4.6.5). */
static void
row_place (int orientation, int y, int width, int height, gint64 stride, gint64 *first,
           gint64 *step)
{
  gint64 right = width - 1, bottom = height - 1;

  switch (orientation) {
  case 2:
    *first = y * stride + right, *step = -1;
    break;
  case 3:
    *first = (bottom - y) * stride + right, *step = -1;
    break;
  case 4:
    *first = (bottom - y) * stride, *step = 1;
    break;
  case 5:
    *first = y, *step = stride;
    break;
  case 6:
    *first = bottom - y, *step = stride;
    break;
  case 7:
    *first = bottom - y + right * stride, *step = -stride;
    break;
  case 8:
    *first = y + right * stride, *step = -stride;
    break;
  default:
    *first = y * stride, *step = 1;
    break;
  }
}

/* libtiff hands out colour already multiplied by alpha, whatever the file has. */
static void
divide_by_alpha (guint8 *rgba, int n)
{
  for (int i = 0; i < n; i++, rgba += 4)
    for (int c = 0; c < 3 && rgba[3] > 0; c++)
      rgba[c] = (guint8)MIN ((rgba[c] * 255 + rgba[3] / 2) / rgba[3], 255);
}

static void
unpack_row (const guint8 *from, int channels, gboolean alpha, int n, guint8 *rgba)
{
  for (int i = 0; i < n; i++, from += channels, rgba += 4) {
    memcpy (rgba, from, 3);
    rgba[3] = alpha ? from[3] : 255;
  }
}

static gboolean
pack_pixels (GdkPixbuf *pixbuf, cairo_surface_t *surface, gboolean alpha, gboolean multiplied,
             GCancellable *cancellable, GError **error)
{
  int width = gdk_pixbuf_get_width (pixbuf), height = gdk_pixbuf_get_height (pixbuf);
  int channels = gdk_pixbuf_get_n_channels (pixbuf);
  int orientation = stored_orientation (pixbuf);
  g_autoptr (SbColour) colour = embedded_colour (pixbuf);
  g_autofree guint8 *row = g_malloc ((gsize)width * 4);

  cairo_surface_flush (surface);
  guint32 *into = (guint32 *)(void *)cairo_image_surface_get_data (surface);
  gint64 stride = cairo_image_surface_get_stride (surface) / 4;
  for (int y = 0; y < height; y++) {
    gint64 first, step;
    if (g_cancellable_set_error_if_cancelled (cancellable, error))
      return FALSE;
    unpack_row (gdk_pixbuf_read_pixels (pixbuf) +
                    (gsize)y * (gsize)gdk_pixbuf_get_rowstride (pixbuf),
                channels, alpha && channels == 4, width, row);
    if (alpha && multiplied)
      divide_by_alpha (row, width);
    if (colour != NULL)
      sb_colour_apply (colour, row, (gsize)width);
    row_place (orientation, y, width, height, stride, &first, &step);
    for (int x = 0; x < width; x++)
      into[first + x * step] = sb_argb_from_rgba8 (row + 4 * x);
  }
  cairo_surface_mark_dirty (surface);
  return TRUE;
}

static gboolean
read_tiff_header (const guint8 *data, gsize size, const char *name, SbHeader *header,
                  GError **error)
{
  SbTiffTags tags;
  if (!sb_tiff_tags_read (data, size, &tags)) {
    sb_picture_set_corrupt (error, name, _ ("the file ends too early"));
    return FALSE;
  }
  if (!sb_picture_check_size (tags.width, tags.height, name, error))
    return FALSE;

  gboolean turned = tags.orientation >= 5;
  header->extension = "tif";
  header->width = (int)(turned ? tags.height : tags.width);
  header->height = (int)(turned ? tags.width : tags.height);
  header->alpha = tags.alpha;
  sb_header_set_density (header, turned ? tags.y_dpi : tags.x_dpi, turned ? tags.x_dpi : tags.y_dpi,
                         0.02);
  return TRUE;
}

static gboolean
is_tiff (const guint8 *data, gsize size)
{
  return size >= 4 && (memcmp (data, "II*\0", 4) == 0 || memcmp (data, "MM\0*", 4) == 0);
}

static gboolean
has_clear_pixel (GdkPixbuf *pixbuf)
{
  if (!gdk_pixbuf_get_has_alpha (pixbuf))
    return FALSE;
  int width = gdk_pixbuf_get_width (pixbuf), height = gdk_pixbuf_get_height (pixbuf);
  const guint8 *pixels = gdk_pixbuf_read_pixels (pixbuf);
  gsize stride = (gsize)gdk_pixbuf_get_rowstride (pixbuf);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      if (pixels[(gsize)y * stride + 4 * (gsize)x + 3] < 255)
        return TRUE;
  return FALSE;
}

/* BITMAPINFOHEADER: pixels per metre at bytes 38 and 42 of the file, signed. */
static void
read_bmp_density (const guint8 *data, gsize size, SbHeader *header)
{
  gint32 density[2];

  if (size < 46 || memcmp (data, "BM", 2) != 0)
    return;
  memcpy (density, data + 38, sizeof density);
  sb_header_set_density (header, GINT32_FROM_LE (density[0]) * 0.0254,
                         GINT32_FROM_LE (density[1]) * 0.0254, 0.0254);
}

static gboolean
read_other_header (GBytes *bytes, const char *name, SbHeader *header, GError **error)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);
  g_autoptr (GdkPixbuf) pixbuf = load_pixbuf (bytes, name, &header->extension, NULL, error);
  if (pixbuf == NULL)
    return FALSE;

  gboolean turned = stored_orientation (pixbuf) >= 5;
  int width = gdk_pixbuf_get_width (pixbuf), height = gdk_pixbuf_get_height (pixbuf);
  header->width = turned ? height : width;
  header->height = turned ? width : height;
  header->alpha = has_clear_pixel (pixbuf);
  read_bmp_density (data, size, header);
  return TRUE;
}

gboolean
sb_photo_read_header (GBytes *bytes, const char *name, SbHeader *header, GError **error)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);

  if (sb_jpeg_sniff (data, size))
    return sb_jpeg_read_header (data, size, name, header, error);
  if (is_tiff (data, size))
    return read_tiff_header (data, size, name, header, error);
  return read_other_header (bytes, name, header, error);
}

cairo_surface_t *
sb_photo_decode (GBytes *bytes, const char *name, const SbHeader *header, GCancellable *cancellable,
                 GError **error)
{
  g_autoptr (GdkPixbuf) pixbuf = load_pixbuf (bytes, name, NULL, cancellable, error);
  if (pixbuf == NULL)
    return NULL;

  gboolean turned = stored_orientation (pixbuf) >= 5;
  int width = turned ? gdk_pixbuf_get_height (pixbuf) : gdk_pixbuf_get_width (pixbuf);
  int height = turned ? gdk_pixbuf_get_width (pixbuf) : gdk_pixbuf_get_height (pixbuf);
  if (width != header->width || height != header->height) {
    sb_picture_set_corrupt (error, name, _ ("its header and its pixels differ in size"));
    return NULL;
  }

  cairo_surface_t *surface = sb_picture_new_surface (width, height, name, error);
  if (surface != NULL && !pack_pixels (pixbuf, surface, header->alpha,
                                       strcmp (header->extension, "tif") == 0, cancellable, error))
    g_clear_pointer (&surface, cairo_surface_destroy);
  return surface;
}
