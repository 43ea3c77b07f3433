/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/raster.h"

#include <math.h>
#include <string.h>

#define MOST_LEVELS 16

#define SPARE_WORDS 3

/* Squares beside the box: a pose that lies inside it may touch them. */
#define BESIDE 2

struct _SbRaster {
  SbIBox box; /* x and y changed where `across` is */
  gboolean across;
  SbFreeMap *squares; /* free ones, by their least corner */
  SbPose square;
  guint n_levels;
  guint64 *levels[MOST_LEVELS]; /* bit c: the 2^level squares from c on are free. Rows end with
                                   spare words of none */
};

static SbIBox
swap_box (SbIBox box)
{
  return (SbIBox){box.y0, box.x0, box.y1, box.x1};
}

static void
swap_pose (const SbPose *pose, SbPose *swapped)
{
  *swapped = (SbPose){.box = swap_box (pose->box), .margin = pose->margin};
  swapped->n_parts = pose->n_parts;
  swapped->parts = g_new (SbPart, pose->n_parts);
  for (guint i = 0; i < pose->n_parts; i++) {
    const SbPart *part = &pose->parts[i];
    SbIPoint *points = g_new (SbIPoint, part->n);
    for (guint k = 0; k < part->n; k++) /* the other way round, so that it turns the same way */
      points[k] = (SbIPoint){part->points[part->n - 1 - k].y, part->points[part->n - 1 - k].x};
    swapped->parts[i] = sb_part_new (points, part->n);
  }
}

static void
drop_parts (SbPose *pose)
{
  for (guint i = 0; i < pose->n_parts; i++)
    sb_part_clear (&pose->parts[i]);
  g_free (pose->parts);
}

/* Keeps of `bits` what is also in a row moved down by `by` bits: bit c of it is bit c + by. The
 * row's spare words are read too. */
static inline guint64
keep_shifted (guint64 *bits, guint n, const guint64 *row, guint by)
{
  const guint64 *from = row + by / 64;
  guint down = by % 64;
  guint64 any = 0;
  if (down == 0)
    for (guint k = 0; k < n; k++)
      any |= bits[k] &= from[k];
  else
    for (guint k = 0; k < n; k++)
      any |= bits[k] &= from[k] >> down | from[k + 1] << (64 - down);
  return any;
}

static guint64 *
level_row (const SbRaster *raster, guint level, guint row)
{
  return raster->levels[level] + (gsize)row * (raster->squares->words + SPARE_WORDS);
}

static void
raise_levels (SbRaster *raster, guint first, guint last)
{
  guint words = raster->squares->words;
  for (guint row = first; row <= last; row++) {
    memcpy (level_row (raster, 0, row), raster->squares->bits + (gsize)row * words,
            words * sizeof (guint64));
    for (guint level = 1; level < raster->n_levels; level++) {
      const guint64 *from = level_row (raster, level - 1, row);
      guint64 *to = level_row (raster, level, row);
      guint by = 1u << (level - 1), n = words - MIN (words, by / 64);
      memcpy (to, from, n * sizeof *to);
      memset (to + n, 0, (words - n) * sizeof *to); /* they would reach past the row's end */
      keep_shifted (to, n, from, by);
    }
  }
}

SbRaster *
sb_raster_new (SbIBox box, sb_um step, gboolean across)
{
  SbRaster *raster = g_new0 (SbRaster, 1);
  raster->across = across;
  raster->box = across ? swap_box (box) : box;
  box = raster->box;
  raster->squares =
      sb_free_map_new ((SbIBox){box.x0 - BESIDE * step, box.y0 - BESIDE * step,
                                box.x1 + (BESIDE - 1) * step, box.y1 + (BESIDE - 1) * step},
                       step);
  SbIPoint *corners = g_new (SbIPoint, 4);
  corners[0] = (SbIPoint){0, 0};
  corners[1] = (SbIPoint){step, 0};
  corners[2] = (SbIPoint){step, step};
  corners[3] = (SbIPoint){0, step};
  raster->square = (SbPose){.box = {0, 0, step, step}, .n_parts = 1, .parts = g_new (SbPart, 1)};
  raster->square.parts[0] = sb_part_new (corners, 4);
  gsize size = (gsize)(raster->squares->words + SPARE_WORDS) * raster->squares->rows;
  do
    raster->levels[raster->n_levels++] = g_new0 (guint64, size);
  while (raster->n_levels < MOST_LEVELS && 1u << raster->n_levels <= raster->squares->columns);
  raise_levels (raster, 0, raster->squares->rows - 1);
  return raster;
}

void
sb_raster_free (SbRaster *raster)
{
  for (guint level = 0; level < raster->n_levels; level++)
    g_free (raster->levels[level]);
  drop_parts (&raster->square);
  sb_free_map_free (raster->squares);
  g_free (raster);
}

void
sb_raster_block (SbRaster *raster, const SbPose *pose, sb_um x, sb_um y, double gap)
{
  SbPose swapped;
  if (raster->across) {
    sb_um swap = x;
    x = y;
    y = swap;
    swap_pose (pose, &swapped);
    pose = &swapped;
  }
  g_autofree SbKeepOut *region = sb_keep_out_new (pose, &raster->square, gap);
  sb_free_map_forbid (raster->squares, region, x, y);
  const SbFreeMap *squares = raster->squares;
  double first = floor ((y + region->y0 - squares->room.y0) / squares->step),
         last = ceil ((y + region->y1 - squares->room.y0) / squares->step);
  first = MAX (first, 0);
  last = MIN (last, (double)squares->rows - 1);
  if (first <= last)
    raise_levels (raster, (guint)first, (guint)last);
  if (raster->across)
    drop_parts (&swapped);
}

/* How far a convex part reaches between two heights; FALSE where it does not. */
static gboolean
part_span (const SbPart *part, double y0, double y1, double *from, double *to)
{
  *from = G_MAXDOUBLE;
  *to = -G_MAXDOUBLE;
  for (guint k = 0; k < part->n; k++) {
    SbIPoint p = part->points[k], q = part->points[k + 1 == part->n ? 0 : k + 1];
    if (MAX (p.y, q.y) < y0 || MIN (p.y, q.y) > y1)
      continue;
    double ends[2] = {p.x, q.x};
    if (p.y != q.y) {
      double slope = ((double)q.x - p.x) / ((double)q.y - p.y), top = CLAMP ((double)p.y, y0, y1),
             bottom = CLAMP ((double)q.y, y0, y1);
      ends[0] = p.x + slope * (top - p.y);
      ends[1] = p.x + slope * (bottom - p.y);
    }
    *from = MIN (*from, MIN (ends[0], ends[1]));
    *to = MAX (*to, MAX (ends[0], ends[1]));
  }
  return *from <= *to;
}

static int
compare_by_place (gconstpointer a, gconstpointer b)
{
  const SbCoverRun *p = a, *q = b;
  if (p->row != q->row)
    return p->row < q->row ? -1 : 1;
  return p->from < q->from ? -1 : p->from > q->from;
}

static int
compare_by_width (gconstpointer a, gconstpointer b)
{
  const SbCoverRun *p = a, *q = b;
  if (p->width != q->width)
    return p->width > q->width ? -1 : 1;
  return compare_by_place (a, b);
}

/* The squares a part touches whose pose's origin lies at (x, y) from the corner of square 0, 0. */
static void
add_runs (GArray *runs, const SbPart *part, double x, double y, double step)
{
  const double spare = 0.5; /* of what is rounded on the way */
  gint first = (gint)floor ((part->points[part->lowest].y + y - spare) / step),
       last = (gint)floor ((part->points[part->highest].y + y + spare) / step);
  for (gint row = first; row <= last; row++) {
    double from, to;
    if (!part_span (part, row * step - y - spare, (row + 1) * step - y + spare, &from, &to))
      continue;
    gint begin = (gint)floor ((from + x - spare) / step),
         end = (gint)floor ((to + x + spare) / step);
    SbCoverRun run = {(guint)row, (guint)begin, (guint)(end - begin + 1)};
    g_array_append_val (runs, run);
  }
}

static void
join_runs (GArray *runs)
{
  g_array_sort (runs, compare_by_place);
  guint n = 0;
  for (guint i = 0; i < runs->len; i++) {
    SbCoverRun run = g_array_index (runs, SbCoverRun, i),
               *last = &g_array_index (runs, SbCoverRun, n - MIN (n, 1));
    if (n > 0 && last->row == run.row && run.from <= last->from + last->width)
      last->width = MAX (last->width, run.from + run.width - last->from);
    else
      g_array_index (runs, SbCoverRun, n++) = run;
  }
  g_array_set_size (runs, n);
  g_array_sort (runs, compare_by_width);
}

SbCover *
sb_cover_new (const SbRaster *raster, const SbPose *pose)
{
  SbPose swapped;
  if (raster->across) {
    swap_pose (pose, &swapped);
    pose = &swapped;
  }
  SbCover *cover = g_new0 (SbCover, 1);
  const SbFreeMap *squares = raster->squares;
  cover->room = sb_pose_get_room (pose, raster->box);
  if (cover->room.x1 >= cover->room.x0) {
    cover->columns = (guint)((cover->room.x1 - cover->room.x0) / squares->step) + 1;
    cover->rows = (guint)((cover->room.y1 - cover->room.y0) / squares->step) + 1;
    cover->words = (cover->columns + 63) / 64;
    g_autoptr (GArray) runs = g_array_new (FALSE, FALSE, sizeof (SbCoverRun));
    for (guint i = 0; i < pose->n_parts; i++)
      add_runs (runs, &pose->parts[i], (double)cover->room.x0 - squares->room.x0,
                (double)cover->room.y0 - squares->room.y0, squares->step);
    join_runs (runs);
    cover->n_runs = runs->len;
    cover->runs = (SbCoverRun *)(gpointer)g_array_free (g_steal_pointer (&runs), FALSE);
  }
  if (raster->across)
    drop_parts (&swapped);
  return cover;
}

void
sb_cover_free (SbCover *cover)
{
  g_free (cover->runs);
  g_free (cover);
}

gboolean
sb_raster_get_row (const SbRaster *raster, const SbCover *cover, guint row, guint64 *bits)
{
  memset (bits, 0xff, cover->words * sizeof *bits);
  if (cover->columns % 64 != 0)
    bits[cover->words - 1] = (G_GUINT64_CONSTANT (1) << cover->columns % 64) - 1;
  for (guint i = 0; i < cover->n_runs; i++) {
    const SbCoverRun *run = &cover->runs[i];
    guint level = 31 - (guint)__builtin_clz (run->width);
    const guint64 *free = level_row (raster, level, row + run->row);
    if (keep_shifted (bits, cover->words, free, run->from) == 0 ||
        keep_shifted (bits, cover->words, free, run->from + run->width - (1u << level)) == 0)
      return FALSE;
  }
  return cover->words > 0;
}

gboolean
sb_raster_find_topmost (const SbRaster *raster, const SbCover *cover, guint *row, SbIPoint *place)
{
  g_autofree guint64 *bits = g_new (guint64, MAX (cover->words, 1));
  for (; *row < cover->rows; (*row)++) {
    if (!sb_raster_get_row (raster, cover, *row, bits))
      continue;
    guint word = 0;
    while (bits[word] == 0)
      word++;
    sb_um step = raster->squares->step;
    sb_um x = cover->room.x0 + (sb_um)(word * 64 + (guint)__builtin_ctzll (bits[word])) * step,
          y = cover->room.y0 + (sb_um)*row * step;
    *place = raster->across ? (SbIPoint){y, x} : (SbIPoint){x, y};
    return TRUE;
  }
  return FALSE;
}
