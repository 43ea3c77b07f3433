/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A small seeded generator, the same numbers on every machine: SplitMix64 (G. L. Steele, D. Lea,
 * C. H. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014). */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct {
  guint64 state;
} SbRandom;

static inline guint64
sb_random_next (SbRandom *random)
{
  guint64 z = (random->state += G_GUINT64_CONSTANT (0x9e3779b97f4a7c15));
  z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
  return z ^ (z >> 31);
}

/* A generator of its own for stream `stream` of `seed`. */
static inline SbRandom
sb_random_stream (guint64 seed, guint64 stream)
{
  SbRandom mixed = {seed};
  guint64 start = sb_random_next (&mixed);
  SbRandom random = {start ^ (stream + 1) * G_GUINT64_CONSTANT (0xd1342543de82ef95)};
  return random;
}

/* 0 <= result < n; n of at least 1. */
static inline guint
sb_random_below (SbRandom *random, guint n)
{
  return (guint)(((sb_random_next (random) >> 32) * n) >> 32);
}

/* 0 <= result < 1 */
static inline double
sb_random_unit (SbRandom *random)
{
  return (double)(sb_random_next (random) >> 11) * 0x1p-53;
}

/* least <= result <= most */
static inline gint32
sb_random_between (SbRandom *random, gint32 least, gint32 most)
{
  return least + (gint32)(sb_random_unit (random) * ((double)most - least + 1));
}

G_END_DECLS
