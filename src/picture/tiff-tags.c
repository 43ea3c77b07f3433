/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/tiff-tags.h"

#include <string.h>

/* TIFF 6.0, Appendix A. */
enum {
  TAG_WIDTH = 256,
  TAG_HEIGHT = 257,
  TAG_ORIENTATION = 274,
  TAG_X_RESOLUTION = 282,
  TAG_Y_RESOLUTION = 283,
  TAG_RESOLUTION_UNIT = 296,
  TAG_EXTRA_SAMPLES = 338,
};

enum { TYPE_SHORT = 3, TYPE_LONG = 4, TYPE_RATIONAL = 5 };
enum { UNIT_INCH = 2, UNIT_CM = 3 };

typedef struct {
  const guint8 *data;
  gsize size;
  gboolean little;
} Block;

static guint32
get16 (const Block *b, gsize at)
{
  const guint8 *p = b->data + at;
  return b->little ? (guint32)(p[0] | p[1] << 8) : (guint32)(p[0] << 8 | p[1]);
}

static guint32
get32 (const Block *b, gsize at)
{
  return b->little ? get16 (b, at) | get16 (b, at + 2) << 16
                   : get16 (b, at) << 16 | get16 (b, at + 2);
}

/* The first value of a SHORT or LONG entry; 0 for other types. */
static guint32
entry_number (const Block *b, gsize entry)
{
  guint32 type = get16 (b, entry + 2);

  if (type == TYPE_SHORT)
    return get16 (b, entry + 8);
  return type == TYPE_LONG ? get32 (b, entry + 8) : 0;
}

static double
entry_rational (const Block *b, gsize entry)
{
  gsize at = get32 (b, entry + 8);

  if (get16 (b, entry + 2) != TYPE_RATIONAL || b->size < 8 || at > b->size - 8)
    return 0;
  guint32 above = get32 (b, at), below = get32 (b, at + 4);
  return below != 0 ? (double)above / below : 0;
}

static void
read_entry (const Block *b, gsize entry, SbTiffTags *tags, guint32 *unit)
{
  switch (get16 (b, entry)) {
  case TAG_WIDTH:
    tags->width = entry_number (b, entry);
    break;
  case TAG_HEIGHT:
    tags->height = entry_number (b, entry);
    break;
  case TAG_ORIENTATION: {
    guint32 orientation = entry_number (b, entry);
    tags->orientation = orientation >= 1 && orientation <= 8 ? (int)orientation : 1;
    break;
  }
  case TAG_X_RESOLUTION:
    tags->x_dpi = entry_rational (b, entry);
    break;
  case TAG_Y_RESOLUTION:
    tags->y_dpi = entry_rational (b, entry);
    break;
  case TAG_RESOLUTION_UNIT:
    *unit = entry_number (b, entry);
    break;
  case TAG_EXTRA_SAMPLES: {
    guint32 kind = entry_number (b, entry);
    tags->alpha = kind == 1 || kind == 2;
    break;
  }
  default:
    break;
  }
}

gboolean
sb_tiff_tags_read (const guint8 *data, gsize size, SbTiffTags *tags)
{
  Block b = {data, size, FALSE};

  *tags = (SbTiffTags){.orientation = 1};
  if (size < 8)
    return FALSE;
  if (memcmp (data, "II*\0", 4) == 0)
    b.little = TRUE;
  else if (memcmp (data, "MM\0*", 4) != 0)
    return FALSE;

  gsize directory = get32 (&b, 4);
  if (directory > size - 2)
    return FALSE;
  guint32 n = get16 (&b, directory);
  if (n > (size - directory - 2) / 12)
    return FALSE;

  guint32 unit = UNIT_INCH;
  for (guint32 i = 0; i < n; i++)
    read_entry (&b, directory + 2 + 12 * (gsize)i, tags, &unit);

  double factor = unit == UNIT_INCH ? 1 : unit == UNIT_CM ? 2.54 : 0;
  tags->x_dpi *= factor;
  tags->y_dpi *= factor;
  return TRUE;
}
