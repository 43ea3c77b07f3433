/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "picture/jpeg-header.h"

#include <glib/gi18n.h>
#include <string.h>

#include "picture/tiff-tags.h"

enum {
  MARKER_SOF0 = 0xc0,
  MARKER_DHT = 0xc4,
  MARKER_JPG = 0xc8,
  MARKER_DAC = 0xcc,
  MARKER_SOF15 = 0xcf,
  MARKER_RST0 = 0xd0,
  MARKER_RST7 = 0xd7,
  MARKER_EOI = 0xd9,
  MARKER_SOS = 0xda,
  MARKER_APP0 = 0xe0,
  MARKER_APP1 = 0xe1,
};

typedef struct {
  const guint8 *data;
  gsize size, at;
  int width, height; /* as stored */
  gboolean scanned;  /* some scan was seen */
  double jfif_x_dpi, jfif_y_dpi;
  double dpi_step;
  SbTiffTags exif;
} Walk;

gboolean
sb_jpeg_sniff (const guint8 *data, gsize size)
{
  return size >= 3 && memcmp (data, "\xff\xd8\xff", 3) == 0;
}

static int
get16 (const guint8 *p)
{
  return p[0] << 8 | p[1];
}

static gboolean
is_frame (int marker)
{
  return marker >= MARKER_SOF0 && marker <= MARKER_SOF15 && marker != MARKER_DHT &&
         marker != MARKER_JPG && marker != MARKER_DAC;
}

/* The next marker, past coded data (where FF is followed by 00 or a restart marker); -1 at the end
 * of the file. */
static int
next_marker (Walk *walk)
{
  while (walk->at < walk->size) {
    const guint8 *ff = memchr (walk->data + walk->at, 0xff, walk->size - walk->at);
    if (ff == NULL)
      break;
    walk->at = (gsize)(ff - walk->data) + 1;
    while (walk->at < walk->size && walk->data[walk->at] == 0xff)
      walk->at++;
    if (walk->at == walk->size)
      break;
    int marker = walk->data[walk->at++];
    if (marker != 0 && marker != 1 && !(marker >= MARKER_RST0 && marker <= MARKER_RST7))
      return marker;
  }
  return -1;
}

static void
read_jfif (Walk *walk, const guint8 *body, gsize n)
{
  if (n < 12 || memcmp (body, "JFIF\0", 5) != 0)
    return;
  double per_inch = body[7] == 1 ? 1 : body[7] == 2 ? 2.54 : 0;
  walk->jfif_x_dpi = get16 (body + 8) * per_inch;
  walk->jfif_y_dpi = get16 (body + 10) * per_inch;
  walk->dpi_step = per_inch;
}

static void
read_segment (Walk *walk, int marker, const guint8 *body, gsize n)
{
  if (is_frame (marker) && n >= 6 && walk->width == 0) {
    walk->height = get16 (body + 1);
    walk->width = get16 (body + 3);
  } else if (marker == MARKER_APP0) {
    read_jfif (walk, body, n);
  } else if (marker == MARKER_APP1 && n > 6 && memcmp (body, "Exif\0\0", 6) == 0) {
    sb_tiff_tags_read (body + 6, n - 6, &walk->exif);
  } else if (marker == MARKER_SOS) {
    walk->scanned = TRUE;
  }
}

/* FALSE when the file ends before the image does. */
static gboolean
walk_markers (Walk *walk)
{
  for (int marker; (marker = next_marker (walk)) != MARKER_EOI;) {
    if (marker < 0 || walk->size - walk->at < 2)
      return FALSE;
    gsize length = (gsize)get16 (walk->data + walk->at);
    if (length < 2 || length > walk->size - walk->at)
      return FALSE;
    read_segment (walk, marker, walk->data + walk->at + 2, length - 2);
    walk->at += length;
  }
  return walk->scanned;
}

gboolean
sb_jpeg_read_header (const guint8 *data, gsize size, const char *name, SbHeader *header,
                     GError **error)
{
  Walk walk = {.data = data, .size = size, .at = 2, .exif = {.orientation = 1}};
  gboolean whole = walk_markers (&walk);

  if (walk.width > 0 && !sb_picture_check_size (walk.width, walk.height, name, error))
    return FALSE;
  if (!whole || walk.width == 0) {
    sb_picture_set_corrupt (error, name, _ ("the file ends too early"));
    return FALSE;
  }

  gboolean turned = walk.exif.orientation >= 5;
  gboolean jfif = walk.jfif_x_dpi > 0 && walk.jfif_y_dpi > 0;
  double x_dpi = jfif ? walk.jfif_x_dpi : walk.exif.x_dpi;
  double y_dpi = jfif ? walk.jfif_y_dpi : walk.exif.y_dpi;

  header->extension = "jpg";
  header->width = turned ? walk.height : walk.width;
  header->height = turned ? walk.width : walk.height;
  sb_header_set_density (header, turned ? y_dpi : x_dpi, turned ? x_dpi : y_dpi,
                         jfif ? walk.dpi_step : 0.02);
  return TRUE;
}
