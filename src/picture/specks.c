/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Islands are found by runs: the stretches of each row, joined to those of the row above that they
 * touch. */
#include "picture/specks.h"

#include <math.h>
#include <string.h>

typedef struct {
  int y, x0, x1;
  int island; /* while runs are joined: the run that stands for this one */
} Run;

typedef struct {
  SbSpeck box;
  gint64 area;
  gboolean kept, removed;
} Island;

typedef struct {
  GArray *runs, *islands;
} Islands;

static void
islands_clear (Islands *islands)
{
  g_array_unref (islands->runs);
  g_array_unref (islands->islands);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Islands, islands_clear)

static int
leader (GArray *runs, int i)
{
  Run *all = (Run *)(void *)runs->data;

  while (all[i].island != i) {
    all[i].island = all[all[i].island].island;
    i = all[i].island;
  }
  return i;
}

static void
join (GArray *runs, int a, int b)
{
  a = leader (runs, a);
  b = leader (runs, b);
  if (a != b)
    g_array_index (runs, Run, MAX (a, b)).island = MIN (a, b);
}

static void
append_runs (const SbMask *mask, int y, guint8 least, guint8 most, GArray *runs)
{
  const guint8 *row = mask->plane + (gsize)y * (gsize)mask->width;

  for (int x = 0; x < mask->width; x++) {
    if (row[x] < least || row[x] > most)
      continue;
    Run run = {y, x, x + 1, (int)runs->len};
    while (run.x1 < mask->width && row[run.x1] >= least && row[run.x1] <= most)
      run.x1++;
    x = run.x1;
    g_array_append_val (runs, run);
  }
}

/* Joins two rows' runs, by sides and corners: those in above..below-1 and from below on. */
static void
join_rows (GArray *runs, int above, int below)
{
  int a = above, b = below;

  while (a < below && b < (int)runs->len) {
    const Run *up = &g_array_index (runs, Run, a), *down = &g_array_index (runs, Run, b);
    if (up->x0 <= down->x1 && down->x0 <= up->x1)
      join (runs, a, b);
    if (up->x1 < down->x1)
      a++;
    else
      b++;
  }
}

static void
add_to_island (Island *island, const Run *run)
{
  SbSpeck *box = &island->box;

  box->x0 = MIN (box->x0, run->x0);
  box->x1 = MAX (box->x1, run->x1);
  box->y1 = run->y + 1;
  island->area += run->x1 - run->x0;
}

/* All islands of values least..most, numbered in the order of their first pixels. */
static Islands
find_islands (const SbMask *mask, guint8 least, guint8 most)
{
  Islands found = {g_array_new (FALSE, FALSE, sizeof (Run)),
                   g_array_new (FALSE, TRUE, sizeof (Island))};
  int above = 0, below = 0;

  for (int y = 0; y < mask->height; y++) {
    above = below;
    below = (int)found.runs->len;
    append_runs (mask, y, least, most, found.runs);
    join_rows (found.runs, above, below);
  }
  /* A leader comes before its followers, so it has its number when they ask for it. */
  for (int i = 0; i < (int)found.runs->len; i++) {
    Run *run = &g_array_index (found.runs, Run, i);
    if (run->island == i) {
      Island island = {.box = {.x0 = run->x0,
                               .y0 = run->y,
                               .x1 = run->x1,
                               .y1 = run->y + 1,
                               .x = (run->x0 + run->x1) / 2,
                               .y = run->y}};
      run->island = (int)found.islands->len;
      g_array_append_val (found.islands, island);
    } else {
      run->island = g_array_index (found.runs, Run, run->island).island;
    }
    add_to_island (&g_array_index (found.islands, Island, run->island), run);
  }
  return found;
}

static void
mark_kept (const SbMask *mask, const Islands *islands, const guint8 *kept)
{
  for (guint i = 0; kept != NULL && i < islands->runs->len; i++) {
    const Run *run = &g_array_index (islands->runs, Run, i);
    const guint8 *row = kept + (gsize)run->y * (gsize)mask->width;
    for (int x = run->x0; x < run->x1; x++)
      if (row[x] != 0)
        g_array_index (islands->islands, Island, run->island).kept = TRUE;
  }
}

static void
fill_removed (const SbMask *mask, const Islands *islands, guint8 removed, int others)
{
  for (guint i = 0; i < islands->runs->len; i++) {
    const Run *run = &g_array_index (islands->runs, Run, i);
    gboolean gone = g_array_index (islands->islands, Island, run->island).removed;
    if (gone || others >= 0)
      memset (mask->plane + (gsize)run->y * (gsize)mask->width + run->x0, gone ? removed : others,
              (gsize)(run->x1 - run->x0));
  }
}

/* What kind of speck an island is; FALSE when it is none. */
static gboolean
judge_island (const Island *island, const SbSpeckSizes *sizes, SbSpeckKind *kind)
{
  double width = island->box.x1 - island->box.x0 - 2 * sizes->margin;
  double height = island->box.y1 - island->box.y0 - 2 * sizes->margin;
  double length = hypot (width, height);

  *kind = SB_SPECK_DUST;
  if (MAX (width, height) <= sizes->dust)
    return TRUE;
  *kind = SB_SPECK_HAIR;
  /* A bent hair is longer than its box's diagonal, which makes it look wider here, not thinner. */
  return length <= sizes->hair_length &&
         (double)island->area / length - 2 * sizes->margin <= sizes->hair_width;
}

static int
largest (const GArray *islands)
{
  guint best = 0;

  for (guint i = 1; i < islands->len; i++)
    if (g_array_index (islands, Island, i).area > g_array_index (islands, Island, best).area)
      best = i;
  return islands->len > 0 ? (int)best : -1;
}

void
sb_specks_remove (const SbMask *mask, const SbSpeckSizes *sizes, const guint8 *kept, GArray *specks)
{
  g_auto (Islands) found = find_islands (mask, SB_MASK_PAPER + 1, SB_MASK_ARTWORK);
  int main_island = largest (found.islands);

  mark_kept (mask, &found, kept);
  for (int i = 0; i < (int)found.islands->len; i++) {
    Island *island = &g_array_index (found.islands, Island, i);
    if (i == main_island || !judge_island (island, sizes, &island->box.kind))
      continue;
    island->box.put_back = island->kept;
    island->removed = !island->kept;
    g_array_append_val (specks, island->box);
  }
  fill_removed (mask, &found, SB_MASK_PAPER, -1);
}

void
sb_pinholes_fill (const SbMask *mask, double size, const guint8 *kept, GArray *specks)
{
  g_auto (Islands) found = find_islands (mask, SB_MASK_LIKE_PAPER, SB_MASK_LIKE_PAPER);

  mark_kept (mask, &found, kept);
  for (guint i = 0; i < found.islands->len; i++) {
    Island *island = &g_array_index (found.islands, Island, i);
    if (MAX (island->box.x1 - island->box.x0, island->box.y1 - island->box.y0) > size)
      continue;
    island->removed = !island->kept;
    island->box.put_back = island->kept;
    island->box.kind = SB_SPECK_PINHOLE;
    g_array_append_val (specks, island->box);
  }
  fill_removed (mask, &found, SB_MASK_ARTWORK, SB_MASK_PAPER);
}
