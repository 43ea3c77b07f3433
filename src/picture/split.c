/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Paintings are found on a coarse plan of the scan whose cells are small beside the gap: occupied
 * cells that lie within the gap of each other are one painting. Boxes are made of the pixels again,
 * so they are as sharp as the scan. */
#include "picture/split.h"

#include <math.h>
#include <string.h>

#include "picture/split-plan.h"

/* Cells to a gap. */
#define CELLS 8

SbSplitParams
sb_split_params_default (void)
{
  return (SbSplitParams){.gap_mm = 2.5, .least_mm = 5};
}

static const guint32 *
pixel_row (const SbSplit *split, int y)
{
  return (const guint32 *)(const void *)(cairo_image_surface_get_data (split->surface) +
                                         (gsize)y * (gsize)cairo_image_surface_get_stride (
                                                        split->surface));
}

/* Half covered and more is artwork, as the border has it. */
static gboolean
is_solid (guint32 p)
{
  return p >> 24 >= 128;
}

static void
painting_free (SbSplitPainting *painting)
{
  if (painting == NULL)
    return;
  g_array_unref (painting->ends);
  g_free (painting);
}

/* Without cells or parts. */
static SbSplit *
split_new (cairo_surface_t *surface, double least, int cell)
{
  SbSplit *split = g_new0 (SbSplit, 1);

  g_atomic_ref_count_init (&split->refs);
  split->surface = cairo_surface_reference (surface);
  split->least = least;
  split->cell = cell;
  split->columns = (cairo_image_surface_get_width (surface) - 1) / cell + 1;
  split->rows = (cairo_image_surface_get_height (surface) - 1) / cell + 1;
  split->owner = g_new (int, (gsize)split->columns *(gsize)split->rows);
  split->parts = g_ptr_array_new_with_free_func ((GDestroyNotify)painting_free);
  return split;
}

SbSplit *
sb_split_ref (SbSplit *split)
{
  g_atomic_ref_count_inc (&split->refs);
  return split;
}

void
sb_split_unref (SbSplit *split)
{
  if (split == NULL || !g_atomic_ref_count_dec (&split->refs))
    return;
  cairo_surface_destroy (split->surface);
  g_free (split->owner);
  g_ptr_array_unref (split->parts);
  g_free (split);
}

/* For cells while paintings are looked for. */
#define OCCUPIED -3

static void
fill_plan (SbSplit *split)
{
  int width = cairo_image_surface_get_width (split->surface);

  for (int i = 0; i < split->columns * split->rows; i++)
    split->owner[i] = SB_SPLIT_EMPTY;
  for (int y = 0; y < cairo_image_surface_get_height (split->surface); y++) {
    const guint32 *row = pixel_row (split, y);
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

static int
find_owners (SbSplit *split, int reach)
{
  int n = 0;

  for (int i = 0; i < split->columns * split->rows; i++)
    if (split->owner[i] == OCCUPIED)
      spread_owner (split, i, n++, reach);
  return n;
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
add_pixel (SbSplitPainting *painting, int x, int y)
{
  SbSplitPart *box = &painting->box;

  box->x0 = MIN (box->x0, x);
  box->y0 = MIN (box->y0, y);
  box->x1 = MAX (box->x1, x + 1);
  box->y1 = MAX (box->y1, y + 1);
}

static void
add_ends (SbSplitPainting *painting, int y, int x0, int x1)
{
  for (int k = 0; k < 4; k++) {
    SbPoint corner = {k % 2 ? x1 : x0, y + k / 2};
    g_array_append_val (painting->ends, corner);
  }
}

typedef struct {
  int x0, x1;
} Stretch;

/* Boxes and ends of `n` paintings, by the cells' owners. */
static void
measure_parts (SbSplit *split, int n)
{
  int width = cairo_image_surface_get_width (split->surface);
  g_autofree Stretch *solid = g_new (Stretch, n);

  for (int i = 0; i < n; i++) {
    SbSplitPainting *painting = g_new0 (SbSplitPainting, 1);
    painting->box = (SbSplitPart){G_MAXINT, G_MAXINT, 0, 0};
    painting->ends = g_array_new (FALSE, FALSE, sizeof (SbPoint));
    g_ptr_array_add (split->parts, painting);
  }
  for (int y = 0; y < cairo_image_surface_get_height (split->surface); y++) {
    const guint32 *row = pixel_row (split, y);
    const int *owners = split->owner + (y / split->cell) * split->columns;
    for (int i = 0; i < n; i++)
      solid[i] = (Stretch){G_MAXINT, 0};
    for (int x = 0; x < width; x++) {
      int owner = owners[x / split->cell];
      if (row[x] >> 24 == 0 || owner < 0)
        continue;
      add_pixel (split->parts->pdata[owner], x, y);
      if (is_solid (row[x])) {
        solid[owner].x0 = MIN (solid[owner].x0, x);
        solid[owner].x1 = x + 1;
      }
    }
    for (int i = 0; i < n; i++)
      if (solid[i].x1 > 0)
        add_ends (split->parts->pdata[i], y, solid[i].x0, solid[i].x1);
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
sort_parts (SbSplit *split)
{
  g_autoptr (GArray) entries = g_array_new (FALSE, FALSE, sizeof (Entry));
  g_autoptr (GPtrArray) unsorted = g_steal_pointer (&split->parts);
  g_autofree int *renumbered = g_new (int, unsorted->len + 1);

  for (guint i = 0; i < unsorted->len; i++) {
    Entry entry = {((SbSplitPainting *)unsorted->pdata[i])->box, (int)i, 0};
    renumbered[i] = SB_SPLIT_LEFT_OUT;
    if (entry.box.x1 - entry.box.x0 >= split->least || entry.box.y1 - entry.box.y0 >= split->least)
      g_array_append_val (entries, entry);
  }
  number_lines (entries);
  g_array_sort (entries, compare_places);
  split->parts = g_ptr_array_new_with_free_func ((GDestroyNotify)painting_free);
  for (guint i = 0; i < entries->len; i++) {
    int number = g_array_index (entries, Entry, i).number;
    renumbered[number] = (int)i;
    g_ptr_array_add (split->parts, g_steal_pointer (&unsorted->pdata[number]));
  }
  for (int i = 0; i < split->columns * split->rows; i++)
    if (split->owner[i] >= 0)
      split->owner[i] = renumbered[split->owner[i]];
}

SbSplit *
sb_split_new (cairo_surface_t *surface, double px_per_mm, const SbSplitParams *params,
              GCancellable *cancellable, GError **error)
{
  double gap = params->gap_mm * px_per_mm;
  int cell = MAX ((int)(gap / CELLS), 1);
  g_autoptr (SbSplit) split = split_new (surface, params->least_mm * px_per_mm, cell);

  cairo_surface_flush (surface);
  fill_plan (split);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  int n = find_owners (split, MAX ((int)lround (gap / cell), 1));
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  add_rims (split);
  measure_parts (split, n);
  sort_parts (split);
  return g_steal_pointer (&split);
}

guint
sb_split_get_n_parts (const SbSplit *split)
{
  return split->parts->len;
}

static const SbSplitPainting *
get_painting (const SbSplit *split, guint i)
{
  return g_ptr_array_index (split->parts, i);
}

SbSplitPart
sb_split_get_part (const SbSplit *split, guint i)
{
  return get_painting (split, i)->box;
}

int
sb_split_find_part (const SbSplit *split, double x, double y)
{
  if (!(x >= 0 && y >= 0 && x < cairo_image_surface_get_width (split->surface) &&
        y < cairo_image_surface_get_height (split->surface)))
    return -1;
  int owner = split->owner[(int)y / split->cell * split->columns + (int)x / split->cell];
  return MAX (owner, -1);
}

/* The plan with other owners: their numbers are 0..n-1 in any order. */
static SbSplit *
renew (const SbSplit *split, const int *owner, int n)
{
  SbSplit *other = split_new (split->surface, split->least, split->cell);

  memcpy (other->owner, owner, (gsize)(split->columns * split->rows) * sizeof *owner);
  measure_parts (other, n);
  sort_parts (other);
  return other;
}

SbSplit *
sb_split_join (const SbSplit *split, const guint *parts, guint n)
{
  int cells = split->columns * split->rows, n_parts = (int)split->parts->len;
  g_autofree int *owner = g_memdup2 (split->owner, (gsize)cells * sizeof *owner);

  for (guint k = 1; k < n; k++)
    for (int i = 0; i < cells; i++)
      if (owner[i] == (int)parts[k])
        owner[i] = (int)parts[0];
  return renew (split, owner, n_parts);
}

static gboolean
is_in_lasso (SbPoint p, const SbPoint *lasso, guint n)
{
  gboolean in = FALSE;

  for (guint i = 0, j = n - 1; i < n; j = i++) {
    SbPoint a = lasso[i], b = lasso[j];
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) * (b.x - a.x) / (b.y - a.y))
      in = !in;
  }
  return in;
}

SbSplit *
sb_split_part_along (const SbSplit *split, guint part, const SbPoint *lasso, guint n)
{
  int cells = split->columns * split->rows, n_parts = (int)split->parts->len;
  g_autofree int *owner = g_memdup2 (split->owner, (gsize)cells * sizeof *owner);
  int inside = 0, outside = 0;

  for (int i = 0; i < cells; i++) {
    SbPoint middle = {(i % split->columns + 0.5) * split->cell,
                      (i / split->columns + 0.5) * split->cell};
    if (owner[i] != (int)part)
      continue;
    if (is_in_lasso (middle, lasso, n)) {
      owner[i] = n_parts;
      inside++;
    } else {
      outside++;
    }
  }
  if (inside == 0 || outside == 0)
    return sb_split_ref ((SbSplit *)split);
  return renew (split, owner, n_parts + 1);
}

SbSplit *
sb_split_drop (const SbSplit *split, guint part)
{
  int cells = split->columns * split->rows;
  g_autofree int *owner = g_memdup2 (split->owner, (gsize)cells * sizeof *owner);

  for (int i = 0; i < cells; i++)
    if (owner[i] == (int)part)
      owner[i] = SB_SPLIT_LEFT_OUT;
  return renew (split, owner, (int)split->parts->len);
}
