/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The segments of a JPEG file (ITU-T T.81, annex B): each begins with FF and a marker; all but a
 * few are followed by a big-endian length that counts itself. After the start of scan comes coded
 * data, in which FF is followed by 00 or a restart marker until the next segment. */
#include "config.h"

#include "output/jpeg.h"

#include <string.h>

enum {
  MARK_SOI = 0xd8,
  MARK_EOI = 0xd9,
  MARK_SOS = 0xda,
  MARK_SOF0 = 0xc0, /* baseline */
  MARK_SOF1 = 0xc1, /* extended sequential */
  MARK_SOF2 = 0xc2, /* progressive */
  MARK_APP0 = 0xe0,
  MARK_APP1 = 0xe1,
  MARK_APP2 = 0xe2,
  MARK_APP14 = 0xee,
  MARK_APP15 = 0xef,
  MARK_COM = 0xfe,
};

static guint
read_16 (const guint8 *p)
{
  return (guint)p[0] << 8 | p[1];
}

/* Whether decoders agree on this frame: 8 bits, of the wanted size, grey or three components. */
static gboolean
frame_is_plain (const guint8 *body, gsize length, int width, int height)
{
  if (length < 6)
    return FALSE;
  return body[0] == 8 && read_16 (body + 1) == (guint)height &&
         read_16 (body + 3) == (guint)width && (body[5] == 1 || body[5] == 3);
}

/* Whether EXIF asks for a turned picture: the TIFF tag 0x0112 of its first directory with another
 * value than 1, upright (Exif 2.3, 4.6.4). A reader of the document would not turn it. */
static gboolean
exif_turns (const guint8 *body, gsize length)
{
  if (length < 14 || memcmp (body, "Exif\0\0", 6) != 0)
    return FALSE;
  const guint8 *tiff = body + 6;
  gsize size = length - 6;
  gboolean little = tiff[0] == 'I';
#define GET16(o) (little ? (guint)tiff[(o) + 1] << 8 | tiff[o] : read_16 (tiff + (o)))
  guint64 at = little ? (guint64)GET16 (6) << 16 | GET16 (4) : (guint64)GET16 (4) << 16 | GET16 (6);
  if (at + 2 > size)
    return TRUE; /* damaged: who knows what a reader makes of it */
  guint n = GET16 (at);
  for (at += 2; n > 0 && at + 12 <= size; n--, at += 12)
    if (GET16 (at) == 0x0112)
      return GET16 (at + 8) != 1;
  return n > 0;
#undef GET16
}

/* Copies one segment or leaves it out; FALSE when the file must not be passed on. */
static gboolean
take_segment (GByteArray *out, guint marker, const guint8 *segment, gsize length, int width,
              int height)
{
  const guint8 *body = segment + 4;
  gsize body_length = length - 4;
  if (marker == MARK_APP1 && exif_turns (body, body_length))
    return FALSE;
  if (marker == MARK_APP2 && body_length >= 12 && memcmp (body, "ICC_PROFILE", 12) == 0)
    return FALSE;
  if (marker == MARK_SOF0 || marker == MARK_SOF1 || marker == MARK_SOF2) {
    if (!frame_is_plain (body, body_length, width, height))
      return FALSE;
  } else if (marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8) {
    return FALSE; /* lossless, hierarchical, arithmetic: 0xc4 are the Huffman tables */
  }
  /* APP14 tells whether three components are YCbCr or RGB, so it has to stay. */
  gboolean private_data =
      (marker >= MARK_APP0 && marker <= MARK_APP15 && marker != MARK_APP14) || marker == MARK_COM;
  if (!private_data)
    g_byte_array_append (out, segment, (guint)length);
  return TRUE;
}

GBytes *
sb_jpeg_strip (GBytes *jpeg, int width, int height)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (jpeg, &size);
  if (size < 4 || data[0] != 0xff || data[1] != MARK_SOI)
    return NULL;

  g_autoptr (GByteArray) out = g_byte_array_sized_new ((guint)size);
  g_byte_array_append (out, data, 2);
  gsize at = 2;
  gboolean framed = FALSE;
  while (at + 4 <= size) {
    guint marker = data[at + 1];
    if (data[at] != 0xff)
      return NULL;
    if (marker == 0xff) { /* fill byte */
      at++;
      continue;
    }
    if (marker == MARK_SOS) {
      if (!framed)
        return NULL;
      /* The rest, later scans and their tables included, up to the end mark. */
      gsize end = size;
      while (end > at + 2 && !(data[end - 2] == 0xff && data[end - 1] == MARK_EOI))
        end--;
      if (end <= at + 2)
        return NULL;
      g_byte_array_append (out, data + at, (guint)(end - at));
      return g_byte_array_free_to_bytes (g_steal_pointer (&out));
    }
    gsize length = 2 + (gsize)read_16 (data + at + 2);
    if (length < 4 || length > size - at ||
        !take_segment (out, marker, data + at, length, width, height))
      return NULL;
    framed |= marker >= MARK_SOF0 && marker <= MARK_SOF2;
    at += length;
  }
  return NULL;
}
