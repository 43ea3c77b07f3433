/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A grid of places for one pose in a box, a bit each: set where it may lie. A place is exact, not a
 * pixel: its bit is the answer for that very point, so "free" is never false. */
#pragma once

#include "packing/task.h"

G_BEGIN_DECLS

typedef struct {
  SbIBox room; /* the grid's first place is its least corner */
  sb_um step;
  guint columns, rows; /* 0 when the pose is larger than the box */
  guint words;         /* 64-bit words a row */
  guint64 *bits;
} SbFreeMap;

/* All places of `room` free. */
SbFreeMap *sb_free_map_new (SbIBox room, sb_um step) G_GNUC_WARN_UNUSED_RESULT;
void sb_free_map_free (SbFreeMap *map);

/* Forbids the places inside `region` about (x, y). */
void sb_free_map_forbid (SbFreeMap *map, const SbKeepOut *region, sb_um x, sb_um y);

static inline gboolean
sb_free_map_get (const SbFreeMap *map, guint column, guint row)
{
  return (map->bits[(gsize)row * map->words + column / 64] >> (column % 64)) & 1;
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbFreeMap, sb_free_map_free)

G_END_DECLS
