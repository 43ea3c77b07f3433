/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lets a fuzz target run as an ordinary test: seeds made by the target are changed at random, from
 * a fixed start, for a bounded time. With files as arguments it runs these instead, which is how a
 * finding is looked at. Built with clang's -fsanitize=fuzzer and -DSB_FUZZER the target's main and
 * this one are left out. */
#pragma once

#include <glib.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput (const guint8 *data, size_t size);

/* Seed number `which`, from 0; NULL after the last one. */
typedef GBytes *(*SbFuzzSeed) (int which);
/* Makes changed bytes likelier to get past a format's checks; may be NULL. */
typedef void (*SbFuzzRepair) (GByteArray *bytes);

#define SB_FUZZ_ROUNDS 3000
#define SB_FUZZ_SECONDS 20

static inline guint32
sb_fuzz_random (guint64 *state)
{
  *state = *state * 6364136223846793005ull + 1442695040888963407ull;
  return (guint32)(*state >> 33);
}

static inline void
sb_fuzz_change (GByteArray *bytes, guint64 *state)
{
  static const guint8 edges[] = {0, 1, 0x7f, 0x80, 0xff, '<', '&', '-', '9'};
  guint at = bytes->len > 0 ? sb_fuzz_random (state) % bytes->len : 0;
  guint n = 1 + sb_fuzz_random (state) % 8;
  n = MIN (n, bytes->len - at);

  switch (bytes->len > 0 ? sb_fuzz_random (state) % 7 : 6) {
  case 0:
    bytes->data[at] ^= (guint8)(1 << sb_fuzz_random (state) % 8);
    break;
  case 1:
    bytes->data[at] = edges[sb_fuzz_random (state) % G_N_ELEMENTS (edges)];
    break;
  case 2:
    memset (bytes->data + at, edges[sb_fuzz_random (state) % G_N_ELEMENTS (edges)], n);
    break;
  case 3:
    g_byte_array_remove_range (bytes, at, n);
    break;
  case 4:
    if (sb_fuzz_random (state) % 8 == 0)
      g_byte_array_set_size (bytes, at);
    break;
  case 5: {
    guint from = sb_fuzz_random (state) % (bytes->len - n + 1);
    memmove (bytes->data + at, bytes->data + from, n);
    break;
  }
  default: {
    guint8 more = (guint8)sb_fuzz_random (state);
    g_byte_array_append (bytes, &more, 1);
    break;
  }
  }
}

static inline int
sb_fuzz_run_files (int argc, char **argv)
{
  for (int i = 1; i < argc; i++) {
    char *data;
    gsize size;
    g_autoptr (GError) error = NULL;
    if (!g_file_get_contents (argv[i], &data, &size, &error)) {
      g_printerr ("%s\n", error->message);
      return EXIT_FAILURE;
    }
    LLVMFuzzerTestOneInput ((const guint8 *)data, size);
    g_free (data);
  }
  return EXIT_SUCCESS;
}

/* Where SB_FUZZ_KEEP names a file, every input is written there before it runs, so that after a
 * crash it holds the guilty one. */
static inline void
sb_fuzz_run (GByteArray *bytes)
{
  const char *keep = g_getenv ("SB_FUZZ_KEEP");
  if (keep != NULL)
    g_file_set_contents (keep, (const char *)bytes->data, bytes->len, NULL);
  LLVMFuzzerTestOneInput (bytes->data, bytes->len);
}

static inline int
sb_fuzz_main (int argc, char **argv, SbFuzzSeed seed, SbFuzzRepair repair)
{
  if (argc > 1)
    return sb_fuzz_run_files (argc, argv);

  g_autoptr (GPtrArray) seeds = g_ptr_array_new_with_free_func ((GDestroyNotify)g_bytes_unref);
  for (GBytes *bytes; (bytes = seed ((int)seeds->len)) != NULL;)
    g_ptr_array_add (seeds, bytes);

  gint64 end = g_get_monotonic_time () + SB_FUZZ_SECONDS * G_USEC_PER_SEC;
  guint64 state = 20260101;
  int round = 0;
  for (; round < SB_FUZZ_ROUNDS && g_get_monotonic_time () < end; round++) {
    GBytes *start = g_ptr_array_index (seeds, (guint)round % seeds->len);
    g_autoptr (GByteArray) bytes = g_byte_array_new ();
    g_byte_array_append (bytes, g_bytes_get_data (start, NULL), (guint)g_bytes_get_size (start));
    for (guint n = sb_fuzz_random (&state) % 6; n > 0; n--)
      sb_fuzz_change (bytes, &state);
    if (repair != NULL)
      repair (bytes);
    sb_fuzz_run (bytes);
  }
  g_print ("%d inputs from %u seeds\n", round, seeds->len);
  return EXIT_SUCCESS;
}
