/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The bytes, little-endian: MAGIC, the key, softness, bridge and islands, the grown outline, the
 * artwork's, SHA-256 of all before. An outline is its number of rings; a ring its number of curves
 * and its start; a curve a byte that tells whether it is straight, its control points unless it is,
 * and its end. */
#include "config.h"

#include "job/known-growth.h"

#include <math.h>
#include <string.h>

#define MAGIC "SBGROWN1"
#define MAGIC_BYTES 8
#define SUM_BYTES 32

void
sb_known_growth_clear (SbKnownGrowth *known)
{
  g_clear_pointer (&known->grown, sb_outline_unref);
  g_clear_pointer (&known->artwork, sb_outline_unref);
}

SbKnownGrowth
sb_known_growth_of (const SbDesign *design)
{
  return (SbKnownGrowth){
      .grown = sb_outline_ref (sb_growth_get_grown (design->growth)),
      .artwork = sb_outline_ref (sb_growth_get_artwork (design->growth)),
      .n_islands = sb_growth_get_n_islands (design->growth),
      .bridge_mm = sb_growth_get_bridge_mm (design->growth),
      .softness = sb_silhouette_get_softness (design->silhouette),
  };
}

static void
sum_of (const guint8 *bytes, gsize length, guint8 sum[SUM_BYTES])
{
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  gsize n = SUM_BYTES;

  g_checksum_update (checksum, bytes, (gssize)length);
  g_checksum_get_digest (checksum, sum, &n);
}

/* Writing */

static void
add_count (GByteArray *bytes, guint32 count)
{
  guint32 little = GUINT32_TO_LE (count);
  g_byte_array_append (bytes, (const guint8 *)&little, sizeof little);
}

static void
add_number (GByteArray *bytes, double number)
{
  guint64 little;
  memcpy (&little, &number, sizeof little);
  little = GUINT64_TO_LE (little);
  g_byte_array_append (bytes, (const guint8 *)&little, sizeof little);
}

static void
add_point (GByteArray *bytes, SbPoint p)
{
  add_number (bytes, p.x);
  add_number (bytes, p.y);
}

static void
add_curve (GByteArray *bytes, const SbCurve *curve)
{
  guint8 straight = curve->straight ? 1 : 0;

  g_byte_array_append (bytes, &straight, 1);
  if (!straight) {
    add_point (bytes, curve->c1);
    add_point (bytes, curve->c2);
  }
  add_point (bytes, curve->end);
}

static void
add_outline (GByteArray *bytes, const SbOutline *outline)
{
  guint n_rings = sb_outline_get_n_rings (outline);

  add_count (bytes, n_rings);
  for (guint i = 0; i < n_rings; i++) {
    const SbRing *ring = sb_outline_get_ring (outline, i);
    add_count (bytes, ring->n_curves);
    add_point (bytes, ring->start);
    for (guint k = 0; k < ring->n_curves; k++)
      add_curve (bytes, &ring->curves[k]);
  }
}

GBytes *
sb_known_growth_write (const SbKnownGrowth *known, const guint8 key[SB_GROWTH_KEY_BYTES])
{
  GByteArray *bytes = g_byte_array_new ();
  guint8 sum[SUM_BYTES];

  g_byte_array_append (bytes, (const guint8 *)MAGIC, MAGIC_BYTES);
  g_byte_array_append (bytes, key, SB_GROWTH_KEY_BYTES);
  add_number (bytes, known->softness);
  add_number (bytes, known->bridge_mm);
  add_count (bytes, known->n_islands);
  add_outline (bytes, known->grown);
  add_outline (bytes, known->artwork);
  sum_of (bytes->data, bytes->len, sum);
  g_byte_array_append (bytes, sum, SUM_BYTES);
  return g_byte_array_free_to_bytes (bytes);
}

/* Reading */

typedef struct {
  const guint8 *at, *end;
  gboolean bad; /* stays; everything read from then on is nought */
} Reader;

static void
take (Reader *reader, void *into, gsize n)
{
  if ((gsize)(reader->end - reader->at) < n)
    reader->bad = TRUE;
  if (reader->bad) {
    memset (into, 0, n);
    return;
  }
  memcpy (into, reader->at, n);
  reader->at += n;
}

static guint32
take_count (Reader *reader)
{
  guint32 little;
  take (reader, &little, sizeof little);
  return GUINT32_FROM_LE (little);
}

static double
take_number (Reader *reader)
{
  guint64 little;
  double number;
  take (reader, &little, sizeof little);
  little = GUINT64_FROM_LE (little);
  memcpy (&number, &little, sizeof number);
  reader->bad |= !isfinite (number);
  return number;
}

static SbPoint
take_point (Reader *reader)
{
  double x = take_number (reader);
  return (SbPoint){x, take_number (reader)};
}

static void
take_curve (Reader *reader, SbOutlineBuilder *builder)
{
  guint8 straight;

  take (reader, &straight, 1);
  reader->bad |= straight > 1;
  if (straight) {
    sb_outline_builder_line_to (builder, take_point (reader));
    return;
  }
  SbPoint c1 = take_point (reader), c2 = take_point (reader);
  sb_outline_builder_curve_to (builder, c1, c2, take_point (reader));
}

/* What the builder leaves out or adds shows in the counts. */
static gboolean
has_counts (const SbOutline *outline, const GArray *counts)
{
  if (sb_outline_get_n_rings (outline) != counts->len)
    return FALSE;
  for (guint i = 0; i < counts->len; i++)
    if (sb_outline_get_ring (outline, i)->n_curves != g_array_index (counts, guint32, i))
      return FALSE;
  return TRUE;
}

static SbOutline *
take_outline (Reader *reader)
{
  g_autoptr (GArray) counts = g_array_new (FALSE, FALSE, sizeof (guint32));
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  guint32 n_rings = take_count (reader);

  for (guint32 i = 0; i < n_rings && !reader->bad; i++) {
    guint32 n_curves = take_count (reader);
    g_array_append_val (counts, n_curves);
    sb_outline_builder_move_to (builder, take_point (reader));
    for (guint32 k = 0; k < n_curves && !reader->bad; k++)
      take_curve (reader, builder);
  }
  SbOutline *outline = sb_outline_builder_end (builder);
  reader->bad |= !has_counts (outline, counts);
  return outline;
}

static gboolean
is_whole (const guint8 *bytes, gsize length, const guint8 key[SB_GROWTH_KEY_BYTES])
{
  guint8 sum[SUM_BYTES];

  if (length < MAGIC_BYTES + SB_GROWTH_KEY_BYTES + SUM_BYTES || length > SB_GROWTH_MOST_BYTES ||
      memcmp (bytes, MAGIC, MAGIC_BYTES) != 0 ||
      memcmp (bytes + MAGIC_BYTES, key, SB_GROWTH_KEY_BYTES) != 0)
    return FALSE;
  sum_of (bytes, length - SUM_BYTES, sum);
  return memcmp (bytes + length - SUM_BYTES, sum, SUM_BYTES) == 0;
}

gboolean
sb_known_growth_read (SbKnownGrowth *known, const guint8 *bytes, gsize length,
                      const guint8 key[SB_GROWTH_KEY_BYTES])
{
  *known = (SbKnownGrowth){0};
  if (!is_whole (bytes, length, key))
    return FALSE;
  Reader reader = {bytes + MAGIC_BYTES + SB_GROWTH_KEY_BYTES, bytes + length - SUM_BYTES, FALSE};
  known->softness = take_number (&reader);
  known->bridge_mm = take_number (&reader);
  known->n_islands = take_count (&reader);
  known->grown = take_outline (&reader);
  known->artwork = take_outline (&reader);
  if (!reader.bad && reader.at == reader.end && known->softness >= 0 && known->bridge_mm >= 0 &&
      known->n_islands >= 1 && known->n_islands <= sb_outline_get_n_rings (known->grown))
    return TRUE;
  sb_known_growth_clear (known);
  return FALSE;
}
