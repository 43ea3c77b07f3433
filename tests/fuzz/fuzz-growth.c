/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Entries of the cache of outlines, most of them with a checksum that is right: what is read must
 * be of sound numbers, and be written and read again as the same. */
#include "fuzz.h"

#include "job/known-growth.h"

#define SUM_BYTES 32

static const guint8 key[SB_GROWTH_KEY_BYTES] = {0};

static void
check_outline (const SbOutline *outline)
{
  SbBox box = sb_outline_get_box (outline);
  if (sb_outline_get_n_rings (outline) > 0 && !(box.x1 >= box.x0 && box.y1 >= box.y0))
    g_error ("an outline has no box");
}

int
LLVMFuzzerTestOneInput (const guint8 *data, size_t size)
{
  g_auto (SbKnownGrowth) known = {0}, again = {0};
  if (!sb_known_growth_read (&known, data, size, key))
    return 0;

  gsize length;
  g_autoptr (GBytes) first = sb_known_growth_write (&known, key);
  const guint8 *written = g_bytes_get_data (first, &length);
  if (!sb_known_growth_read (&again, written, length, key))
    g_error ("what was written cannot be read");
  g_autoptr (GBytes) second = sb_known_growth_write (&again, key);
  if (!g_bytes_equal (first, second))
    g_error ("it was written otherwise the second time");
  check_outline (known.grown);
  check_outline (known.artwork);
  return 0;
}

#ifndef SB_FUZZER
static SbOutline *
make_outline (int n_rings)
{
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  for (int i = 0; i < n_rings; i++) {
    double x = 10 * i;
    sb_outline_builder_move_to (builder, (SbPoint){x, 0});
    sb_outline_builder_line_to (builder, (SbPoint){x + 5, 0});
    sb_outline_builder_curve_to (builder, (SbPoint){x + 7, 2}, (SbPoint){x + 6, 4},
                                 (SbPoint){x + 5, 5});
    sb_outline_builder_close (builder);
  }
  return sb_outline_builder_end (builder);
}

static GBytes *
make_seed (int which)
{
  if (which == 3)
    return NULL;
  g_auto (SbKnownGrowth) known = {.grown = make_outline (which + 1),
                                  .artwork = make_outline (which),
                                  .n_islands = 1,
                                  .softness = 0.8};
  return sb_known_growth_write (&known, key);
}

static void
repair (GByteArray *bytes)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  gsize n = SUM_BYTES;

  if (bytes->len < 8 + SB_GROWTH_KEY_BYTES + SUM_BYTES)
    return;
  memcpy (bytes->data, "SBGROWN1", 8);
  memset (bytes->data + 8, 0, SB_GROWTH_KEY_BYTES);
  g_checksum_update (sum, bytes->data, (gssize)(bytes->len - SUM_BYTES));
  g_checksum_get_digest (sum, bytes->data + bytes->len - SUM_BYTES, &n);
}

int
main (int argc, char **argv)
{
  return sb_fuzz_main (argc, argv, make_seed, repair);
}
#endif
