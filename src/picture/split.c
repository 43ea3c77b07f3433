/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Paintings are found on a coarse plan of the scan whose cells are small beside the gap: occupied
 * cells that lie within the gap of each other are one painting. Boxes and cuts are made of the
 * pixels again, so they are as sharp as the scan. */
#include "config.h"

#include "picture/split.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "picture/private.h"

/* Cells to a gap. */
#define CELLS 8

struct _SbSplit {
  int cell; /* px */
  int columns, rows;
  int *owner;    /* of each cell: the painting's number, or -1 */
  GArray *parts; /* of SbSplitPart */
};

SbSplitParams
sb_split_params_default (void)
{
  return (SbSplitParams){.gap_mm = 2.5, .least_mm = 5};
}

static const guint32 *
pixel_row (cairo_surface_t *surface, int y)
{
  return (const guint32 *)(const void *)(cairo_image_surface_get_data (surface) +
                                         (gsize)y *
                                             (gsize)cairo_image_surface_get_stride (surface));
}

/* Half covered and more is artwork, as the border has it. */
static gboolean
is_solid (guint32 p)
{
  return p >> 24 >= 128;
}

enum { EMPTY = -1, OCCUPIED = -2 };

static void
fill_plan (SbSplit *split, cairo_surface_t *surface)
{
  int width = cairo_image_surface_get_width (surface);

  for (int i = 0; i < split->columns * split->rows; i++)
    split->owner[i] = EMPTY;
  for (int y = 0; y < cairo_image_surface_get_height (surface); y++) {
    const guint32 *row = pixel_row (surface, y);
    int *cells = split->owner + (y / split->cell) * split->columns;
    for (int x = 0; x < width; x++)
      if (is_solid (row[x]))
        cells[x / split->cell] = OCCUPIED;
  }
}

/* Gives the cell's painting to all occupied cells within `reach` cells, from one to the next. */
static void
spread_owner (SbSplit *split, int from, int number, int reach)
{
  g_autoptr (GArray) todo = g_array_new (FALSE, FALSE, sizeof (int));

  split->owner[from] = number;
  g_array_append_val (todo, from);
  while (todo->len > 0) {
    int at = g_array_index (todo, int, todo->len - 1);
    int column = at % split->columns, row = at / split->columns;
    g_array_set_size (todo, todo->len - 1);
    for (int r = MAX (row - reach, 0); r <= MIN (row + reach, split->rows - 1); r++)
      for (int c = MAX (column - reach, 0); c <= MIN (column + reach, split->columns - 1); c++) {
        int i = r * split->columns + c;
        if (split->owner[i] == OCCUPIED &&
            (c - column) * (c - column) + (r - row) * (r - row) <= reach * reach) {
          split->owner[i] = number;
          g_array_append_val (todo, i);
        }
      }
  }
}

static void
find_owners (SbSplit *split, int reach)
{
  for (int i = 0; i < split->columns * split->rows; i++)
    if (split->owner[i] == OCCUPIED) {
      SbSplitPart nothing = {G_MAXINT, G_MAXINT, 0, 0};
      spread_owner (split, i, (int)split->parts->len, reach);
      g_array_append_val (split->parts, nothing);
    }
}

/* Soft edges reach into cells without a solid pixel: those beside a painting's own. */
static void
add_rims (SbSplit *split)
{
  int n = split->columns * split->rows;
  g_autofree int *before = g_memdup2 (split->owner, (gsize)n * sizeof *before);

  for (int i = 0; i < n; i++) {
    int column = i % split->columns, row = i / split->columns;
    for (int r = MAX (row - 1, 0); r <= MIN (row + 1, split->rows - 1); r++)
      for (int c = MAX (column - 1, 0); c <= MIN (column + 1, split->columns - 1); c++)
        if (split->owner[i] < 0)
          split->owner[i] = before[r * split->columns + c];
  }
}

static void
measure_parts (const SbSplit *split, cairo_surface_t *surface)
{
  int width = cairo_image_surface_get_width (surface);

  for (int y = 0; y < cairo_image_surface_get_height (surface); y++) {
    const guint32 *row = pixel_row (surface, y);
    const int *owners = split->owner + (y / split->cell) * split->columns;
    for (int x = 0; x < width; x++) {
      if (row[x] >> 24 == 0 || owners[x / split->cell] < 0)
        continue;
      SbSplitPart *part = &g_array_index (split->parts, SbSplitPart, owners[x / split->cell]);
      part->x0 = MIN (part->x0, x);
      part->y0 = MIN (part->y0, y);
      part->x1 = MAX (part->x1, x + 1);
      part->y1 = MAX (part->y1, y + 1);
    }
  }
}

typedef struct {
  SbSplitPart box;
  int number; /* before sorting */
  int line;   /* the row of paintings it is in */
} Entry;

static int
compare_tops (gconstpointer a, gconstpointer b)
{
  const Entry *x = a, *y = b;
  return x->box.y0 != y->box.y0 ? x->box.y0 - y->box.y0 : x->number - y->number;
}

static int
compare_places (gconstpointer a, gconstpointer b)
{
  const Entry *x = a, *y = b;
  if (x->line != y->line)
    return x->line - y->line;
  return x->box.x0 != y->box.x0 ? x->box.x0 - y->box.x0 : x->number - y->number;
}

/* From the top: what has its middle above the foot of a line's first painting is in that line. */
static void
number_lines (GArray *entries)
{
  int line = 0, foot = 0;

  g_array_sort (entries, compare_tops);
  for (guint i = 0; i < entries->len; i++) {
    Entry *entry = &g_array_index (entries, Entry, i);
    if (i == 0 || (entry->box.y0 + entry->box.y1) / 2 >= foot) {
      line++;
      foot = entry->box.y1;
    }
    entry->line = line;
  }
}

/* Leaves out what is too small, sorts the rest, and numbers the plan's cells anew. */
static void
sort_parts (SbSplit *split, double least)
{
  g_autoptr (GArray) entries = g_array_new (FALSE, FALSE, sizeof (Entry));
  g_autofree int *renumbered = g_new (int, split->parts->len + 1);

  for (guint i = 0; i < split->parts->len; i++) {
    Entry entry = {g_array_index (split->parts, SbSplitPart, i), (int)i, 0};
    renumbered[i] = EMPTY;
    if (entry.box.x1 - entry.box.x0 >= least || entry.box.y1 - entry.box.y0 >= least)
      g_array_append_val (entries, entry);
  }
  number_lines (entries);
  g_array_sort (entries, compare_places);
  g_array_set_size (split->parts, 0);
  for (guint i = 0; i < entries->len; i++) {
    const Entry *entry = &g_array_index (entries, Entry, i);
    renumbered[entry->number] = (int)i;
    g_array_append_val (split->parts, entry->box);
  }
  for (int i = 0; i < split->columns * split->rows; i++)
    if (split->owner[i] >= 0)
      split->owner[i] = renumbered[split->owner[i]];
}

SbSplit *
sb_split_new (cairo_surface_t *surface, double px_per_mm, const SbSplitParams *params,
              GCancellable *cancellable, GError **error)
{
  g_autoptr (SbSplit) split = g_new0 (SbSplit, 1);
  double gap = params->gap_mm * px_per_mm;

  cairo_surface_flush (surface);
  split->cell = MAX ((int)(gap / CELLS), 1);
  split->columns = (cairo_image_surface_get_width (surface) - 1) / split->cell + 1;
  split->rows = (cairo_image_surface_get_height (surface) - 1) / split->cell + 1;
  split->owner = g_new (int, (gsize)split->columns *(gsize)split->rows);
  split->parts = g_array_new (FALSE, FALSE, sizeof (SbSplitPart));

  fill_plan (split, surface);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  find_owners (split, MAX ((int)lround (gap / split->cell), 1));
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  add_rims (split);
  measure_parts (split, surface);
  sort_parts (split, params->least_mm * px_per_mm);
  return g_steal_pointer (&split);
}

void
sb_split_free (SbSplit *split)
{
  if (split == NULL)
    return;
  g_free (split->owner);
  g_array_unref (split->parts);
  g_free (split);
}

guint
sb_split_get_n_parts (const SbSplit *split)
{
  return split->parts->len;
}

SbSplitPart
sb_split_get_part (const SbSplit *split, guint i)
{
  return g_array_index (split->parts, SbSplitPart, i);
}

cairo_surface_t *
sb_split_cut (const SbSplit *split, guint i, cairo_surface_t *surface, GError **error)
{
  SbSplitPart part = sb_split_get_part (split, i);
  int width = part.x1 - part.x0;
  cairo_surface_t *cut =
      sb_picture_new_surface (width, part.y1 - part.y0, _ ("the picture"), error);
  if (cut == NULL)
    return NULL;

  cairo_surface_flush (surface);
  cairo_surface_flush (cut);
  guint8 *data = cairo_image_surface_get_data (cut);
  gsize stride = (gsize)cairo_image_surface_get_stride (cut);
  for (int y = part.y0; y < part.y1; y++) {
    const guint32 *row = pixel_row (surface, y) + part.x0;
    const int *owners = split->owner + (y / split->cell) * split->columns;
    guint32 *into = (guint32 *)(void *)(data + (gsize)(y - part.y0) * stride);
    for (int x = 0; x < width; x++)
      into[x] = owners[(part.x0 + x) / split->cell] == (int)i ? row[x] : 0;
  }
  cairo_surface_mark_dirty (cut);
  return cut;
}
