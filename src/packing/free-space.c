/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/free-space.h"

#include <math.h>

#include "packing/convex.h"
#include "packing/free-map.h"
#include "packing/layout.h"

#define STEP_UM 254 /* 100 places an inch */

/* Pushes out of other pieces that are tried to find a contact nearer than the grid's. */
#define MOST_PUSHES 12

#define SCALE_LEAST 0.01
#define SCALE_EXACT 1.005

/* A piece that lies there. */
typedef struct {
  const SbPose *pose;
  SbIPoint at;
  SbKeepOut *region; /* for the dragged pose */
} Neighbour;

struct _SbFreeSpace {
  SbState *state;
  SbDesign *design;
  SbIBox box;
  SbTask *others;     /* the shapes of what lies there */
  GArray *neighbours; /* Neighbour */
  SbShape *shape;     /* the dragged design in its turn alone */
  SbIBox room;
  SbFreeMap *map;
  SbFreeMask mask;
  guint8 *mask_data;
};

static void
neighbour_clear (gpointer data)
{
  g_free (((Neighbour *)data)->region);
}

static void
take_neighbours (SbFreeSpace *space, const SbPage *page, const guint *except, guint n_except)
{
  g_autoptr (GArray) placings =
      sb_page_get_placings (space->state, page, space->others, except, n_except);
  for (guint i = 0; i < placings->len; i++) {
    const SbPlacing *placing = &g_array_index (placings, SbPlacing, i);
    Neighbour neighbour = {sb_task_get_pose (space->others, placing->shape, placing->pose),
                           {placing->x, placing->y},
                           NULL};
    g_array_append_val (space->neighbours, neighbour);
  }
}

SbFreeSpace *
sb_free_space_new (const SbState *state, guint page_index, const SbDesign *design, gint32 turn,
                   const guint *except, guint n_except)
{
  SbFreeSpace *space = g_new0 (SbFreeSpace, 1);
  space->state = sb_state_ref ((SbState *)state);
  space->design = sb_design_ref ((SbDesign *)design);
  space->box = sb_state_get_printable_box (state);
  space->others = sb_task_new (state->gap + SB_PACKING_AIM_UM, state->gap);
  space->neighbours = g_array_new (FALSE, FALSE, sizeof (Neighbour));
  g_array_set_clear_func (space->neighbours, neighbour_clear);
  const SbPage *page = sb_state_get_page (state, page_index);
  if (page != NULL)
    take_neighbours (space, page, except, n_except);
  sb_free_space_set_turn (space, turn);
  return space;
}

static void
drop_turn (SbFreeSpace *space)
{
  g_clear_pointer (&space->shape, sb_shape_free);
  g_clear_pointer (&space->map, sb_free_map_free);
  g_clear_pointer (&space->mask_data, g_free);
}

void
sb_free_space_free (SbFreeSpace *space)
{
  drop_turn (space);
  g_array_unref (space->neighbours);
  sb_task_free (space->others);
  sb_design_unref (space->design);
  sb_state_unref (space->state);
  g_free (space);
}

static void
make_mask (SbFreeSpace *space)
{
  const SbFreeMap *map = space->map;
  guint stride = (map->columns + 3) & ~3u;
  space->mask_data = g_malloc0 (MAX (1, (gsize)stride * map->rows));
  for (guint row = 0; row < map->rows; row++) {
    const guint64 *bits = map->bits + (gsize)row * map->words;
    guint8 *bytes = space->mask_data + (gsize)row * stride;
    for (guint column = 0; column < map->columns; column++)
      bytes[column] = (guint8) - (gint)((bits[column / 64] >> (column % 64)) & 1);
  }
  space->mask =
      (SbFreeMask){map->columns, map->rows,       stride, {space->room.x0, space->room.y0},
                   map->step,    space->mask_data};
}

void
sb_free_space_set_turn (SbFreeSpace *space, gint32 turn)
{
  drop_turn (space);
  space->shape = sb_design_get_turned_shape (space->state, space->design, turn);
  const SbPose *pose = &space->shape->poses[0];
  space->room = sb_pose_get_room (pose, space->box);
  space->map = sb_free_map_new (space->room, STEP_UM);
  for (guint i = 0; i < space->neighbours->len; i++) {
    Neighbour *neighbour = &g_array_index (space->neighbours, Neighbour, i);
    g_free (neighbour->region);
    neighbour->region = sb_keep_out_new (neighbour->pose, pose, space->others->gap);
    sb_free_map_forbid (space->map, neighbour->region, neighbour->at.x, neighbour->at.y);
  }
  make_mask (space);
}

static gboolean
in_room (SbIBox room, double x, double y)
{
  return x >= room.x0 && x <= room.x1 && y >= room.y0 && y <= room.y1;
}

/* The deepest overlap at a place and the way out of it. */
static double
deepest_at (const SbFreeSpace *space, double x, double y, SbKeepOutEdge *way)
{
  double most = 0;
  for (guint i = 0; i < space->neighbours->len; i++) {
    const Neighbour *neighbour = &g_array_index (space->neighbours, Neighbour, i);
    double px = x - neighbour->at.x, py = y - neighbour->at.y;
    if (sb_keep_out_depth (neighbour->region, px, py) > most)
      most = sb_keep_out_signed_depth (neighbour->region, px, py, way);
  }
  return most;
}

gboolean
sb_free_space_is_free (const SbFreeSpace *space, SbIPoint centre)
{
  SbKeepOutEdge way;
  return in_room (space->room, centre.x, centre.y) &&
         deepest_at (space, centre.x, centre.y, &way) <= 0;
}

/* The set bit of a row nearest to `column`, which may lie outside of it; -1 when none is. */
static gint64
nearest_in_row (const SbFreeMap *map, guint row, double column)
{
  const guint64 *bits = map->bits + (gsize)row * map->words;
  guint middle = (guint)CLAMP (column, 0, (double)map->columns - 1);
  gint64 left = -1, right = -1;
  for (guint word = middle / 64;; word--) {
    guint64 part = bits[word];
    if (word == middle / 64)
      part &= ~G_GUINT64_CONSTANT (0) >> (63 - middle % 64);
    if (part != 0) {
      left = (gint64)word * 64 + 63 - __builtin_clzll (part);
      break;
    }
    if (word == 0)
      break;
  }
  for (guint word = middle / 64; word < map->words; word++) {
    guint64 part = bits[word];
    if (word == middle / 64)
      part &= ~G_GUINT64_CONSTANT (0) << (middle % 64);
    if (part != 0) {
      right = (gint64)word * 64 + __builtin_ctzll (part);
      break;
    }
  }
  if (left < 0 || right < 0)
    return MAX (left, right);
  return column - (double)left <= (double)right - column ? left : right;
}

static gboolean
nearest_on_grid (const SbFreeMap *map, SbIPoint centre, SbIPoint *nearest)
{
  double column = ((double)centre.x - map->room.x0) / map->step,
         row = ((double)centre.y - map->room.y0) / map->step, best = G_MAXDOUBLE;
  gint64 middle = (gint64)CLAMP (row, 0, (double)map->rows - 1);
  /* Rows by their distance, until no row can be nearer than what is found. */
  for (gint64 k = 0; k < 2 * (gint64)map->rows; k++) {
    gint64 at = k % 2 == 0 ? middle + k / 2 : middle - (k + 1) / 2;
    double down = (double)at - row;
    if (down * down > best && k / 2 > 1)
      break;
    if (at < 0 || at >= map->rows)
      continue;
    gint64 found = nearest_in_row (map, (guint)at, column);
    if (found < 0)
      continue;
    double across = (double)found - column, apart = across * across + down * down;
    if (apart < best) {
      best = apart;
      *nearest =
          (SbIPoint){map->room.x0 + (sb_um)found * map->step, map->room.y0 + (sb_um)at * map->step};
    }
  }
  return best < G_MAXDOUBLE;
}

static double
distance (SbIPoint a, SbIPoint b)
{
  return hypot ((double)a.x - b.x, (double)a.y - b.y);
}

/* A contact near `from`, found by pushing out of whatever is deepest. */
static gboolean
push_out (const SbFreeSpace *space, SbIPoint from, SbIPoint *place)
{
  double x = from.x, y = from.y;
  for (guint k = 0; k < MOST_PUSHES; k++) {
    x = CLAMP (x, space->room.x0, space->room.x1);
    y = CLAMP (y, space->room.y0, space->room.y1);
    SbKeepOutEdge way = {0, 0, 0};
    double depth = deepest_at (space, x, y, &way);
    if (depth <= 0) {
      *place = (SbIPoint){(sb_um)lround (x), (sb_um)lround (y)};
      return sb_free_space_is_free (space, *place);
    }
    x += way.nx * (depth + 1); /* a micrometre more than contact, for rounding */
    y += way.ny * (depth + 1);
  }
  return FALSE;
}

/* Closer to `wanted` from a free place on the straight line between them. */
static SbIPoint
approach (const SbFreeSpace *space, SbIPoint place, SbIPoint wanted)
{
  double near = 1, far = 0; /* parts of the way: 1 is `place` */
  for (guint k = 0; k < 12; k++) {
    double middle = (near + far) / 2;
    SbIPoint at = {(sb_um)lround (wanted.x + middle * ((double)place.x - wanted.x)),
                   (sb_um)lround (wanted.y + middle * ((double)place.y - wanted.y))};
    if (sb_free_space_is_free (space, at))
      near = middle;
    else
      far = middle;
  }
  SbIPoint at = {(sb_um)lround (wanted.x + near * ((double)place.x - wanted.x)),
                 (sb_um)lround (wanted.y + near * ((double)place.y - wanted.y))};
  return sb_free_space_is_free (space, at) ? at : place;
}

gboolean
sb_free_space_get_nearest (const SbFreeSpace *space, SbIPoint centre, SbIPoint *nearest)
{
  if (space->map->bits == NULL)
    return FALSE;
  if (sb_free_space_is_free (space, centre)) {
    *nearest = centre;
    return TRUE;
  }
  SbIPoint pushed;
  gboolean on_grid = nearest_on_grid (space->map, centre, nearest),
           by_push = push_out (space, centre, &pushed);
  if (on_grid)
    *nearest = approach (space, *nearest, centre);
  if (by_push && (!on_grid || distance (pushed, centre) < distance (*nearest, centre)))
    *nearest = pushed;
  return on_grid || by_push;
}

/* A pose scaled about its origin. Rounding dents small parts, and keep-out regions are of convex
 * ones only: their hulls mend that, and parts that have shrunk to a line are left out. */
static SbPose
scale_pose (const SbPose *pose, double scale)
{
  SbPose scaled = {.margin = pose->margin, .parts = g_new (SbPart, pose->n_parts)};
  for (guint i = 0; i < pose->n_parts; i++) {
    const SbPart *part = &pose->parts[i];
    g_autofree SbIPoint *points = g_new (SbIPoint, part->n);
    for (guint k = 0; k < part->n; k++)
      points[k] = (SbIPoint){(sb_um)lround (part->points[k].x * scale),
                             (sb_um)lround (part->points[k].y * scale)};
    GArray *hull = sb_points_hull (points, part->n);
    guint n = hull->len;
    if (n < 3)
      g_array_unref (hull);
    else
      scaled.parts[scaled.n_parts++] =
          sb_part_new ((SbIPoint *)(gpointer)g_array_free (hull, FALSE), n);
  }
  scaled.box = (SbIBox){(sb_um)floor (pose->box.x0 * scale), (sb_um)floor (pose->box.y0 * scale),
                        (sb_um)ceil (pose->box.x1 * scale), (sb_um)ceil (pose->box.y1 * scale)};
  return scaled;
}

static void
drop_pose (SbPose *pose)
{
  for (guint i = 0; i < pose->n_parts; i++)
    sb_part_clear (&pose->parts[i]);
  g_free (pose->parts);
}

static gboolean
scaled_is_free (const SbFreeSpace *space, const SbPose *pose, SbIPoint centre)
{
  SbIBox room = sb_pose_get_room (pose, space->box);
  if (!in_room (room, centre.x, centre.y))
    return FALSE;
  for (guint i = 0; i < space->neighbours->len; i++) {
    const Neighbour *neighbour = &g_array_index (space->neighbours, Neighbour, i);
    SbIBox still = neighbour->pose->box;
    double x = (double)centre.x - neighbour->at.x, y = (double)centre.y - neighbour->at.y;
    if (x + pose->box.x0 >= still.x1 + space->others->gap ||
        x + pose->box.x1 <= still.x0 - space->others->gap ||
        y + pose->box.y0 >= still.y1 + space->others->gap ||
        y + pose->box.y1 <= still.y0 - space->others->gap)
      continue;
    g_autofree SbKeepOut *region = sb_keep_out_new (neighbour->pose, pose, space->others->gap);
    if (sb_keep_out_depth (region, x, y) > 0)
      return FALSE;
  }
  return TRUE;
}

double
sb_free_space_get_largest_scale (const SbFreeSpace *space, SbIPoint centre, double most)
{
  const SbPose *pose = &space->shape->poses[0];
  /* Where the outline holds its own centre it fits at every size below one that fits; else the
   * answer is a size that fits, if not surely the largest. */
  double fits = 0, fails = most * SCALE_EXACT, scale = most;
  while (fits == 0 ? fails > SCALE_LEAST : fails / fits > SCALE_EXACT) {
    SbPose scaled = scale_pose (pose, scale);
    if (scaled_is_free (space, &scaled, centre))
      fits = scale;
    else
      fails = scale;
    drop_pose (&scaled);
    scale = fits == 0 ? fails / 2 : (fits + fails) / 2;
  }
  return MIN (fits, most);
}

const SbFreeMask *
sb_free_space_get_mask (const SbFreeSpace *space)
{
  return &space->mask;
}
