/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The free space knows the centres at which the piece may lie; a maker wants to see the paper it
 * may cover. So the mask of centres is spread by the outline, row by row: each run of free centres
 * covers, on each row of the outline, the run widened by that row's span. Runs are counted by their
 * ends and summed up once. */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "packing/free-room.h"
#include "packing/free-space.h"
#include "window/canvas/fit-area.h"

/* Turns that are looked at for a design from the drawer. */
#define MOST_TURNS 8

/* Sizes that are told, as parts of the present one. */
#define LEAST_SCALE 0.1
#define MOST_SCALE 4.0

/* What takes a thread some tens of milliseconds: the other turns, and the freebies. */
typedef struct {
  SbState *state;
  SbDesign *design;
  guint page;
  GArray *except; /* guint */
  GdkRGBA colour;
  gint32 turn;
  guint n_turns; /* to be looked at, the present one counted */

  SbFreeSpace *others[MOST_TURNS];
  gint32 turns[MOST_TURNS];
  guint n_others;
  cairo_surface_t *tint; /* of all turns; NULL for one */
  SbBox box_um;
  SbFreeRoom *room;
} Look;

struct _SbFitArea {
  SbFreeSpace *space;
  SbDesign *design;
  guint page;
  SbPixels *tint;
  SbBox box_um;
  Look *look; /* once it is there */
  GCancellable *looking;
  GFunc changed_cb;
  gpointer data;
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

static cairo_surface_t *
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
  return surface;
}

/* The paper that the outline may cover; NULL where it fits nowhere. */
static cairo_surface_t *
make_tint (const SbFreeSpace *space, const SbDesign *design, gint32 turn, const GdkRGBA *colour,
           SbBox *box_um)
{
  const SbFreeMask *mask = sb_free_space_get_mask (space);
  SbPiece piece = {.design_id = design->id, .turn = turn};
  g_autoptr (SbPolygon) outline = sb_piece_get_outline (design, &piece);

  if (mask->columns == 0 || mask->rows == 0)
    return NULL;
  SbIBox box = sb_polygon_get_box (outline);
  int pad_x = (int)ceil (MAX (-(double)box.x0, (double)box.x1) / mask->step) + 1;
  int pad_y = (int)ceil (MAX (-(double)box.y0, (double)box.y1) / mask->step) + 1;
  int columns = (int)mask->columns + 2 * pad_x, rows = (int)mask->rows + 2 * pad_y;
  Shape shape = measure_shape (outline, mask->step);
  g_autofree gint16 *ends = g_new0 (gint16, (gsize)(columns + 1) * (gsize)rows);

  spread_mask (mask, &shape, ends, columns, rows, pad_x, pad_y);
  double x0 = mask->origin.x - (pad_x + 0.5) * mask->step;
  double y0 = mask->origin.y - (pad_y + 0.5) * mask->step;
  *box_um = (SbBox){x0, y0, x0 + (double)columns * mask->step, y0 + (double)rows * mask->step};
  g_free (shape.spans);
  return paint_tint (ends, columns, rows, colour);
}

/* For the turn that the space has now. */
static void
update_tint (SbFitArea *area, gint32 turn, const SbPalette *palette)
{
  cairo_surface_t *tint = make_tint (area->space, area->design, turn, &palette->fit, &area->box_um);

  g_clear_pointer (&area->tint, sb_pixels_unref);
  if (tint)
    area->tint = sb_pixels_new (tint);
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

static void
look_free (Look *look)
{
  for (guint i = 0; i < look->n_others; i++)
    sb_free_space_free (look->others[i]);
  g_clear_pointer (&look->tint, cairo_surface_destroy);
  g_clear_pointer (&look->room, sb_free_room_free);
  g_array_unref (look->except);
  sb_design_unref (look->design);
  sb_state_unref (look->state);
  g_free (look);
}

static const guint *
get_except (const Look *look)
{
  return (const guint *)(const void *)look->except->data;
}

/* All turns in one tint: opaque on top of each other, then made as thin as one. */
static void
add_tint (Look *look, cairo_t *cr, const SbFreeSpace *space, gint32 turn)
{
  double step = sb_free_space_get_mask (space)->step;
  GdkRGBA opaque = look->colour;
  SbBox box_um;

  opaque.alpha = 1;
  cairo_surface_t *tint = make_tint (space, look->design, turn, &opaque, &box_um);
  if (!tint)
    return;
  cairo_set_source_surface (cr, tint, round (box_um.x0 / step), round (box_um.y0 / step));
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_NEAREST);
  cairo_paint (cr);
  cairo_surface_destroy (tint);
}

static void
look_at_turns (Look *look, GCancellable *cancellable)
{
  SbFreeSpace *first = sb_free_space_new (look->state, look->page, look->design, look->turn,
                                          get_except (look), look->except->len);
  double step = sb_free_space_get_mask (first)->step;
  int columns = (int)ceil (look->state->page_width / step),
      rows = (int)ceil (look->state->page_height / step);
  cairo_surface_t *opaque = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, columns, rows);
  cairo_t *cr = cairo_create (opaque);

  add_tint (look, cr, first, look->turn);
  sb_free_space_free (first);
  for (guint i = 1; i < look->n_turns && !g_cancellable_is_cancelled (cancellable); i++) {
    gint32 turn = (look->turn + (gint32)(i * 360000 / look->n_turns)) % 360000;
    SbFreeSpace *space = sb_free_space_new (look->state, look->page, look->design, turn,
                                            get_except (look), look->except->len);
    add_tint (look, cr, space, turn);
    look->turns[look->n_others] = turn;
    look->others[look->n_others++] = space;
  }
  cairo_destroy (cr);
  look->tint = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, columns, rows);
  look->box_um = (SbBox){0, 0, columns * step, rows * step};
  cr = cairo_create (look->tint);
  cairo_set_source_surface (cr, opaque, 0, 0);
  cairo_paint_with_alpha (cr, look->colour.alpha);
  cairo_destroy (cr);
  cairo_surface_destroy (opaque);
}

static void
look_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Look *look = data;

  if (look->n_turns > 1)
    look_at_turns (look, cancellable);
  if (!g_cancellable_is_cancelled (cancellable))
    look->room = sb_free_room_new (look->state, look->page, look->design, look->turn,
                                   get_except (look), look->except->len);
  g_task_return_boolean (task, TRUE);
}

/* When it was cancelled the area may be gone. */
static void
looked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  GTask *task = G_TASK (result);
  Look *look = g_task_get_task_data (task);

  if (g_cancellable_is_cancelled (g_task_get_cancellable (task))) {
    look_free (look);
    return;
  }
  SbFitArea *area = data;
  area->look = look;
  if (look->tint) {
    g_clear_pointer (&area->tint, sb_pixels_unref);
    area->tint = sb_pixels_new (g_steal_pointer (&look->tint));
    area->box_um = look->box_um;
  }
  area->changed_cb (area, area->data);
}

void
sb_fit_area_look_further (SbFitArea *area, const SbState *state, gint32 turn, gboolean turns,
                          const guint *except, guint n_except, const SbPalette *palette,
                          GFunc changed_cb, gpointer data)
{
  Look *look = g_new0 (Look, 1);
  g_autoptr (GTask) task = NULL;

  look->state = sb_state_ref ((SbState *)state);
  look->design = sb_design_ref (area->design);
  look->page = area->page;
  look->turn = turn;
  look->n_turns = !turns || look->design->turning == SB_TURNING_UPRIGHT ? 1
                  : look->design->turning == SB_TURNING_QUARTERS        ? 4
                                                                        : MOST_TURNS;
  look->except = g_array_new (FALSE, FALSE, sizeof (guint));
  g_array_append_vals (look->except, except, n_except);
  look->colour = palette->fit;
  area->changed_cb = changed_cb;
  area->data = data;
  area->looking = g_cancellable_new ();
  task = g_task_new (NULL, area->looking, looked_cb, area);
  g_task_set_task_data (task, look, NULL);
  g_task_run_in_thread (task, look_thread);
}

/* What was found for one turn or place of the others no longer holds. */
static void
stop_looking (SbFitArea *area)
{
  if (area->looking && !area->look)
    g_cancellable_cancel (area->looking);
  g_clear_object (&area->looking);
  g_clear_pointer (&area->look, look_free);
}

void
sb_fit_area_set_turn (SbFitArea *area, gint32 turn, const SbPalette *palette)
{
  stop_looking (area);
  sb_free_space_set_turn (area->space, turn);
  update_tint (area, turn, palette);
}

void
sb_fit_area_free (SbFitArea *area)
{
  stop_looking (area);
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

static double
get_distance (SbIPoint a, SbIPoint b)
{
  return hypot ((double)a.x - b.x, (double)a.y - b.y);
}

gboolean
sb_fit_area_find_near (const SbFitArea *area, SbIPoint centre, double reach_um, SbIPoint *nearest)
{
  return !sb_free_space_is_free (area->space, centre) &&
         sb_free_space_get_nearest (area->space, centre, nearest) &&
         get_distance (*nearest, centre) <= reach_um;
}

gboolean
sb_fit_area_find_turn (const SbFitArea *area, SbIPoint centre, double reach_um, SbIPoint *nearest,
                       gint32 *turn)
{
  double least = reach_um;
  gboolean found = FALSE;

  if (!area->look || sb_free_space_is_free (area->space, centre))
    return FALSE;
  for (guint i = 0; i < area->look->n_others; i++) {
    const SbFreeSpace *space = area->look->others[i];
    SbIPoint at = centre;
    if (!sb_free_space_is_free (space, centre) && !sb_free_space_get_nearest (space, centre, &at))
      continue;
    double distance = get_distance (at, centre);
    if (distance > least || (found && distance == least))
      continue;
    least = distance;
    *nearest = at;
    *turn = area->look->turns[i];
    found = TRUE;
  }
  return found;
}

/* NULL while it is not known, or where there are none. */
static char *
tell_freebies (const SbFitArea *area, SbIPoint centre)
{
  SbFreeRoom *room = area->look ? area->look->room : NULL;
  guint n = room ? sb_free_room_get_n (room) : 0;

  if (n == 0)
    return NULL;
  guint has = sb_free_room_count (room, centre);
  /* Translators: of the job's freebies, those that still find room while a sticker is dragged */
  return g_strdup_printf (ngettext ("room for %u of %u freebie", "room for %u of %u freebies", n),
                          has, n);
}

static char *
tell_size (const SbFitArea *area, SbIPoint centre, SbUnit unit)
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

char *
sb_fit_area_tell (const SbFitArea *area, SbIPoint centre, SbUnit unit)
{
  g_autofree char *size = tell_size (area, centre, unit), *freebies = tell_freebies (area, centre);

  return size && freebies ? g_strdup_printf ("%s\n%s", size, freebies)
         : size           ? g_steal_pointer (&size)
                          : g_steal_pointer (&freebies);
}
