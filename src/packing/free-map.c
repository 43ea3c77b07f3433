/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/free-map.h"

#include <math.h>
#include <string.h>

SbFreeMap *
sb_free_map_new (SbIBox room, sb_um step)
{
  SbFreeMap *map = g_new0 (SbFreeMap, 1);
  map->room = room;
  map->step = step;
  if (room.x1 < room.x0 || room.y1 < room.y0)
    return map;
  map->columns = (guint)((room.x1 - room.x0) / step) + 1;
  map->rows = (guint)((room.y1 - room.y0) / step) + 1;
  map->words = (map->columns + 63) / 64;
  map->bits = g_new (guint64, (gsize)map->words * map->rows);
  memset (map->bits, 0xff, (gsize)map->words * map->rows * sizeof *map->bits);
  if (map->columns % 64 != 0)
    for (guint row = 0; row < map->rows; row++)
      map->bits[(gsize)(row + 1) * map->words - 1] =
          (G_GUINT64_CONSTANT (1) << map->columns % 64) - 1;
  return map;
}

void
sb_free_map_free (SbFreeMap *map)
{
  g_free (map->bits);
  g_free (map);
}

static void
clear_span (guint64 *row, guint first, guint last)
{
  guint word = first / 64, last_word = last / 64;
  guint64 mask = ~G_GUINT64_CONSTANT (0) << first % 64,
          last_mask = ~G_GUINT64_CONSTANT (0) >> (63 - last % 64);
  if (word == last_word) {
    row[word] &= ~(mask & last_mask);
    return;
  }
  row[word++] &= ~mask;
  for (; word < last_word; word++)
    row[word] = 0;
  row[word] &= ~last_mask;
}

/* Rows worked on at a time: their spans stay in the first cache. */
#define BAND 64

static void
forbid_band (SbFreeMap *map, const SbKeepOutPart *part, double x, double y, guint first, guint n)
{
  double from[BAND], to[BAND];
  double y0 = map->room.y0 + (double)map->step * first - y;
  for (guint i = 0; i < n; i++) {
    from[i] = part->x0;
    to[i] = part->x1;
  }
  for (guint e = 0; e < part->n_edges; e++) {
    double nx = part->nx[e], ny = part->ny[e], c = part->c[e];
    if (fabs (nx) < 1e-12) {
      for (guint i = 0; i < n; i++)
        if (c - ny * (y0 + (double)map->step * i) <= SB_CONTACT_UM)
          to[i] = -G_MAXDOUBLE;
      continue;
    }
    double at = (c - SB_CONTACT_UM - ny * y0) / nx, slope = -ny * map->step / nx;
    if (nx > 0)
      for (guint i = 0; i < n; i++) {
        double limit = at + slope * i;
        to[i] = limit < to[i] ? limit : to[i];
      }
    else
      for (guint i = 0; i < n; i++) {
        double limit = at + slope * i;
        from[i] = limit > from[i] ? limit : from[i];
      }
  }
  double origin = (double)map->room.x0 - x;
  for (guint i = 0; i < n; i++) {
    if (!(from[i] < to[i]))
      continue;
    double first_column = floor ((from[i] - origin) / map->step) + 1,
           last_column = ceil ((to[i] - origin) / map->step) - 1;
    first_column = MAX (first_column, 0);
    last_column = MIN (last_column, (double)map->columns - 1);
    if (first_column <= last_column)
      clear_span (map->bits + (gsize)(first + i) * map->words, (guint)first_column,
                  (guint)last_column);
  }
}

void
sb_free_map_forbid (SbFreeMap *map, const SbKeepOut *region, sb_um x, sb_um y)
{
  if (map->bits == NULL || x + region->x1 <= map->room.x0 || x + region->x0 >= map->room.x1 + 1)
    return;
  for (guint i = 0; i < region->n_parts; i++) {
    const SbKeepOutPart *part = &region->parts[i];
    double first = ceil ((y + part->y0 - map->room.y0) / map->step),
           last = floor ((y + part->y1 - map->room.y0) / map->step);
    first = MAX (first, 0);
    last = MIN (last, (double)map->rows - 1);
    for (double row = first; row <= last; row += BAND)
      forbid_band (map, part, x, y, (guint)row, (guint)MIN (BAND, last - row + 1));
  }
}
