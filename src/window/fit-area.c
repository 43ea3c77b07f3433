/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The free space knows the centres at which the piece may lie; a maker wants to see the paper it
 * may cover. So the mask of centres is spread by the outline, row by row: each run of free centres
 * covers, on each row of the outline, the run widened by that row's span. Runs are counted by their
 * ends and summed up once. */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "packing/free-space.h"
#include "window/fit-area.h"

/* Sizes that are told, as parts of the present one. */
#define LEAST_SCALE 0.1
#define MOST_SCALE 4.0

struct _SbFitArea {
  SbFreeSpace *space;
  SbDesign *design;
  guint page;
  SbPixels *tint;
  SbBox box_um;
};

/* What the outline covers of a row of steps about its centre. */
typedef struct {
  int from, to; /* none where to < from */
} Span;

typedef struct {
  int reach; /* rows above and below the centre */
  Span *spans;
} Shape;

static void
widen (Shape *shape, double x, double y, double step)
{
  int row = (int)lround (y / step), column = (int)lround (x / step);

  if (ABS (row) > shape->reach)
    return;
  Span *span = &shape->spans[row + shape->reach];
  if (span->to < span->from)
    *span = (Span){column, column};
  span->from = MIN (span->from, column);
  span->to = MAX (span->to, column);
}

/* The spans of the outline's box filled from side to side; nooks count as covered. */
static Shape
measure_shape (const SbPolygon *outline, double step)
{
  SbIBox box = sb_polygon_get_box (outline);
  Shape shape = {.reach = (int)ceil (MAX (-(double)box.y0, (double)box.y1) / step) + 1};

  shape.spans = g_new (Span, 2 * shape.reach + 1);
  for (int i = 0; i <= 2 * shape.reach; i++)
    shape.spans[i] = (Span){0, -1};
  for (guint i = 0; i < sb_polygon_get_n_loops (outline); i++) {
    const SbLoop *loop = sb_polygon_get_loop (outline, i);
    SbIPoint a = loop->points[loop->n_points - 1];
    for (guint j = 0; j < loop->n_points; j++) {
      SbIPoint b = loop->points[j];
      int parts = 1 + (int)(hypot ((double)b.x - a.x, (double)b.y - a.y) * 2 / step);
      for (int k = 0; k <= parts; k++)
        widen (&shape, a.x + ((double)b.x - a.x) * k / parts, a.y + ((double)b.y - a.y) * k / parts,
               step);
      a = b;
    }
  }
  return shape;
}

/* Adds one run of free centres, columns from..to of `row`. */
static void
spread_run (const Shape *shape, gint16 *ends, int columns, int rows, int row, int from, int to)
{
  for (int i = -shape->reach; i <= shape->reach; i++) {
    const Span *span = &shape->spans[i + shape->reach];
    int y = row + i;
    if (span->to < span->from || y < 0 || y >= rows)
      continue;
    int x0 = CLAMP (from + span->from, 0, columns), x1 = CLAMP (to + span->to + 1, 0, columns);
    ends[y * (columns + 1) + x0]++;
    ends[y * (columns + 1) + x1]--;
  }
}

static void
spread_mask (const SbFreeMask *mask, const Shape *shape, gint16 *ends, int columns, int rows,
             int pad_x, int pad_y)
{
  for (guint row = 0; row < mask->rows; row++) {
    const guint8 *line = mask->data + (gsize)row * mask->stride;
    for (guint at = 0; at < mask->columns;) {
      guint end = at;
      while (end < mask->columns && line[end])
        end++;
      if (end > at)
        spread_run (shape, ends, columns, rows, (int)row + pad_y, (int)at + pad_x,
                    (int)end - 1 + pad_x);
      at = end + 1;
    }
  }
}

static SbPixels *
paint_tint (const gint16 *ends, int columns, int rows, const GdkRGBA *colour)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, columns, rows);
  int stride = cairo_image_surface_get_stride (surface);
  guchar *data = cairo_image_surface_get_data (surface);
  guint32 tint = (guint32)lroundf (colour->alpha * 255) << 24 |
                 (guint32)lroundf (colour->red * colour->alpha * 255) << 16 |
                 (guint32)lroundf (colour->green * colour->alpha * 255) << 8 |
                 (guint32)lroundf (colour->blue * colour->alpha * 255);

  for (int y = 0; y < rows; y++) {
    guint32 *line = (guint32 *)(void *)(data + (gsize)y * (gsize)stride);
    int covered = 0;
    for (int x = 0; x < columns; x++) {
      covered += ends[y * (columns + 1) + x];
      line[x] = covered > 0 ? tint : 0;
    }
  }
  cairo_surface_mark_dirty (surface);
  return sb_pixels_new (surface);
}

static void
make_tint (SbFitArea *area, const SbPolygon *outline, const SbPalette *palette)
{
  const SbFreeMask *mask = sb_free_space_get_mask (area->space);

  if (mask->columns == 0 || mask->rows == 0)
    return;
  SbIBox box = sb_polygon_get_box (outline);
  int pad_x = (int)ceil (MAX (-(double)box.x0, (double)box.x1) / mask->step) + 1;
  int pad_y = (int)ceil (MAX (-(double)box.y0, (double)box.y1) / mask->step) + 1;
  int columns = (int)mask->columns + 2 * pad_x, rows = (int)mask->rows + 2 * pad_y;
  Shape shape = measure_shape (outline, mask->step);
  g_autofree gint16 *ends = g_new0 (gint16, (gsize)(columns + 1) * (gsize)rows);

  spread_mask (mask, &shape, ends, columns, rows, pad_x, pad_y);
  area->tint = paint_tint (ends, columns, rows, &palette->fit);
  double x0 = mask->origin.x - (pad_x + 0.5) * mask->step;
  double y0 = mask->origin.y - (pad_y + 0.5) * mask->step;
  area->box_um = (SbBox){x0, y0, x0 + (double)columns * mask->step, y0 + (double)rows * mask->step};
  g_free (shape.spans);
}

/* For the turn that the space has now. */
static void
update_tint (SbFitArea *area, gint32 turn, const SbPalette *palette)
{
  SbPiece piece = {.design_id = area->design->id, .turn = turn};
  g_autoptr (SbPolygon) outline = sb_piece_get_outline (area->design, &piece);

  g_clear_pointer (&area->tint, sb_pixels_unref);
  make_tint (area, outline, palette);
}

SbFitArea *
sb_fit_area_new (const SbState *state, guint page, const SbDesign *design, gint32 turn,
                 const guint *except, guint n_except, const SbPalette *palette)
{
  SbFitArea *area = g_new0 (SbFitArea, 1);

  area->page = page;
  area->design = sb_design_ref ((SbDesign *)design);
  area->space = sb_free_space_new (state, page, design, turn, except, n_except);
  update_tint (area, turn, palette);
  return area;
}

void
sb_fit_area_set_turn (SbFitArea *area, gint32 turn, const SbPalette *palette)
{
  sb_free_space_set_turn (area->space, turn);
  update_tint (area, turn, palette);
}

void
sb_fit_area_free (SbFitArea *area)
{
  sb_free_space_free (area->space);
  sb_design_unref (area->design);
  g_clear_pointer (&area->tint, sb_pixels_unref);
  g_free (area);
}

guint
sb_fit_area_get_page (const SbFitArea *area)
{
  return area->page;
}

SbPixels *
sb_fit_area_get_tint (const SbFitArea *area, SbBox *box_um)
{
  *box_um = area->box_um;
  return area->tint;
}

gboolean
sb_fit_area_find_near (const SbFitArea *area, SbIPoint centre, double reach_um, SbIPoint *nearest)
{
  if (sb_free_space_is_free (area->space, centre) ||
      !sb_free_space_get_nearest (area->space, centre, nearest))
    return FALSE;
  return hypot ((double)nearest->x - centre.x, (double)nearest->y - centre.y) <= reach_um;
}

char *
sb_fit_area_tell_largest (const SbFitArea *area, SbIPoint centre, SbUnit unit)
{
  double factor = sb_free_space_get_largest_scale (area->space, centre, MOST_SCALE), width, height;

  if (factor < LEAST_SCALE)
    return NULL;
  sb_design_get_finished_size (area->design, &width, &height);
  g_autofree char *size = sb_length_format_size (width * factor, height * factor, unit);
  return factor < 1
             /* Translators: told of a sticker that is dragged to where it has no room; %s is the
                largest finished size that has */
             ? g_strdup_printf (_ ("%s would fit here"), size)
             /* Translators: the largest finished size that has room where a sticker is dragged */
             : g_strdup_printf (_ ("room for up to %s"), size);
}
