/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "packing/separate-private.h"

#define GLOBAL_SAMPLES 40 /* over the whole room of a copy */
#define NEAR_SAMPLES 20   /* around where it lies */
#define STARTS 2          /* best samples that are slid to contact */
#define MOST_SLIDES 8
#define MOST_LINES 5

/* A line that the moving copy may be slid to: n . v = c on the page. */
typedef struct {
  double nx, ny, c, depth;
} Line;

/* Lists the other copies as copy i sees them in a pose. Their regions are found when they are first
 * needed: a free turn meets few of the others before the next turn is tried. */
static void
look_around (SbSeparator *separator, guint i, guint pose_index)
{
  const SbPlacing *mine = &separator->placings[i];
  const double *weights = separator->weights + (gsize)i * separator->n;
  const SbPose *moving = sb_task_get_pose (separator->task, mine->shape, pose_index);
  double gap = separator->task->gap;
  separator->moving_shape = mine->shape;
  separator->moving_pose = pose_index;
  guint k = 0;
  for (guint j = 0; j < separator->n; j++) {
    if (j == i)
      continue;
    const SbPlacing *placing = &separator->placings[j];
    const SbPose *still = sb_separator_get_pose (separator, placing);
    separator->others[k++] = (SbOther){
        .x0 = (double)placing->x + still->box.x0 - moving->box.x1 - gap,
        .y0 = (double)placing->y + still->box.y0 - moving->box.y1 - gap,
        .x1 = (double)placing->x + still->box.x1 - moving->box.x0 + gap,
        .y1 = (double)placing->y + still->box.y1 - moving->box.y0 + gap,
        .x = placing->x,
        .y = placing->y,
        .weight = weights[j],
        .shape = placing->shape,
        .pose = placing->pose,
    };
  }
  separator->n_others = k;
}

static inline const SbKeepOutView *
view_of (SbSeparator *separator, SbOther *other)
{
  if (other->view.region == NULL)
    other->view = sb_keep_outs_view (separator->keep_outs, other->shape, other->pose,
                                     separator->moving_shape, separator->moving_pose);
  return &other->view;
}

/* The weighted depth at (x, y); stops early, at some value of `limit` or more, once it is that
 * much. */
static inline double
cost_at (SbSeparator *separator, SbOther *others, guint n, double x, double y, double limit)
{
  double cost = 0;
  separator->evaluations++;
  for (guint k = 0; k < n; k++) {
    SbOther *other = &others[k];
    if (x <= other->x0 || x >= other->x1 || y <= other->y0 || y >= other->y1)
      continue;
    double depth = sb_keep_out_view_depth (view_of (separator, other), x - other->x, y - other->y);
    if (depth > 0) {
      cost += other->weight * depth;
      if (cost >= limit)
        return cost;
    }
  }
  return cost;
}

static int
compare_lines (gconstpointer a, gconstpointer b)
{
  const Line *p = a, *q = b;
  return p->depth > q->depth ? -1 : p->depth < q->depth;
}

/* The edges near (x, y): those that lead out of an overlap first. */
static guint
find_lines (SbSeparator *separator, SbOther *near, guint n, double x, double y, double reach,
            Line *lines)
{
  Line all[64];
  guint n_all = 0;
  for (guint k = 0; k < n && n_all < G_N_ELEMENTS (all); k++) {
    SbKeepOutEdge way = {0, 0, 0};
    if (x <= near[k].x0 - reach || x >= near[k].x1 + reach || y <= near[k].y0 - reach ||
        y >= near[k].y1 + reach)
      continue;
    double depth = sb_keep_out_view_signed_depth (view_of (separator, &near[k]), x - near[k].x,
                                                  y - near[k].y, &way);
    if (depth > -reach)
      all[n_all++] = (Line){way.nx, way.ny, way.c + way.nx * near[k].x + way.ny * near[k].y, depth};
  }
  qsort (all, n_all, sizeof *all, compare_lines);
  n_all = MIN (n_all, MOST_LINES);
  memcpy (lines, all, n_all * sizeof *all);
  return n_all;
}

/* Rounds away from the edges it lies on (the way (dx, dy) points), unless it is whole already. */
static sb_um
round_towards (double value, double direction)
{
  double whole = round (value);
  if (fabs (value - whole) < 1e-5 || direction == 0)
    return (sb_um)whole;
  return (sb_um)(direction > 0 ? ceil (value) : floor (value));
}

typedef struct {
  SbSeparator *separator;
  SbIBox room;
  SbOther *near;
  guint n_near;
  sb_um from_x, from_y;
  double reach;
  SbCandidate best;
} Slide;

static void
try_place (Slide *slide, double x, double y, double dx, double dy)
{
  if (!(fabs (x - slide->from_x) <= slide->reach && fabs (y - slide->from_y) <= slide->reach))
    return;
  sb_um px = CLAMP (round_towards (x, dx), slide->room.x0, slide->room.x1),
        py = CLAMP (round_towards (y, dy), slide->room.y0, slide->room.y1);
  double cost = cost_at (slide->separator, slide->near, slide->n_near, px, py, slide->best.cost);
  if (cost < slide->best.cost) {
    slide->best.x = px;
    slide->best.y = py;
    slide->best.cost = cost;
  }
}

/* Slides a candidate from contact to contact while that lowers its cost. The others must have been
 * listed for its pose. */
static void
slide_to_contact (SbSeparator *separator, guint i, SbCandidate *candidate)
{
  const SbPose *pose =
      sb_task_get_pose (separator->task, separator->placings[i].shape, candidate->pose);
  double reach = 0.5 * MIN (pose->box.x1 - pose->box.x0, pose->box.y1 - pose->box.y0);
  Slide slide = {separator,       sb_pose_get_room (pose, separator->box),
                 separator->near, 0,
                 candidate->x,    candidate->y,
                 reach,           *candidate};
  for (guint k = 0; k < separator->n_others; k++) {
    const SbOther *other = &separator->others[k];
    if (candidate->x + reach > other->x0 && candidate->x - reach < other->x1 &&
        candidate->y + reach > other->y0 && candidate->y - reach < other->y1)
      separator->near[slide.n_near++] = *other;
  }
  Line lines[MOST_LINES];
  for (guint round = 0; round < MOST_SLIDES && slide.best.cost > 0; round++) {
    double x = slide.best.x, y = slide.best.y, cost = slide.best.cost;
    guint n = find_lines (separator, slide.near, slide.n_near, x, y, reach, lines);
    for (guint a = 0; a < n && lines[a].depth > 0; a++) {
      const Line *p = &lines[a];
      try_place (&slide, x + p->nx * p->depth, y + p->ny * p->depth, p->nx, p->ny);
      /* Out of this one straight along an axis: along the wall of the box. */
      if (fabs (p->nx) > 0.05)
        try_place (&slide, x + p->depth / p->nx, y, p->nx, 0);
      if (fabs (p->ny) > 0.05)
        try_place (&slide, x, y + p->depth / p->ny, 0, p->ny);
      for (guint b = a + 1; b < n; b++) {
        const Line *q = &lines[b];
        double det = p->nx * q->ny - p->ny * q->nx;
        if (fabs (det) < 0.02)
          continue;
        try_place (&slide, (p->c * q->ny - q->c * p->ny) / det, (p->nx * q->c - q->nx * p->c) / det,
                   p->nx + q->nx, p->ny + q->ny);
      }
    }
    if (!(slide.best.cost < cost))
      break;
  }
  *candidate = slide.best;
}

static void
keep_if_good (SbCandidate *starts, guint *n, SbCandidate candidate)
{
  guint at = *n;
  while (at > 0 && candidate.cost < starts[at - 1].cost)
    at--;
  if (at >= STARTS)
    return;
  *n = MIN (*n + 1, STARTS);
  memmove (starts + at + 1, starts + at, (*n - at - 1) * sizeof *starts);
  starts[at] = candidate;
}

static void
sample (SbSeparator *separator, guint i, guint pose_index, guint n_global, guint n_near,
        SbCandidate *starts, guint *n_starts)
{
  const SbPlacing *placing = &separator->placings[i];
  const SbPose *pose = sb_task_get_pose (separator->task, placing->shape, pose_index);
  SbIBox room = sb_pose_get_room (pose, separator->box);
  if (room.x1 < room.x0)
    return;
  sb_um reach_x = (pose->box.x1 - pose->box.x0) / 2, reach_y = (pose->box.y1 - pose->box.y0) / 2;
  SbIBox close = {MAX (room.x0, MIN (room.x1, placing->x - reach_x)),
                  MAX (room.y0, MIN (room.y1, placing->y - reach_y)),
                  MIN (room.x1, MAX (room.x0, placing->x + reach_x)),
                  MIN (room.y1, MAX (room.y0, placing->y + reach_y))};
  for (guint k = 0; k < n_global + n_near; k++) {
    SbIBox from = k < n_global ? room : close;
    SbCandidate candidate = {pose_index, sb_random_between (&separator->random, from.x0, from.x1),
                             sb_random_between (&separator->random, from.y0, from.y1), 0};
    double limit = *n_starts < STARTS ? G_MAXDOUBLE : starts[STARTS - 1].cost;
    candidate.cost = cost_at (separator, separator->others, separator->n_others, candidate.x,
                              candidate.y, limit);
    if (candidate.cost < limit)
      keep_if_good (starts, n_starts, candidate);
  }
}

/* A pose to try for a copy, and how much to sample it. */
typedef struct {
  guint pose, n_global, n_near;
  gboolean here; /* also where the copy lies */
} Try;

#define MOST_TRIES 4
#define COARSE_TURNS 12 /* of any turn, for places all over the box */

static gboolean
has_few_poses (const SbSeparator *separator, const SbPlacing *placing)
{
  return ((const SbShape *)separator->task->shapes->pdata[placing->shape])->n_poses <= MOST_TRIES;
}

/* All poses of a few; of many the present one, two close to it, and one of a coarse choice. */
static guint
choose_tries (SbSeparator *separator, const SbPlacing *placing, Try *tries)
{
  guint n = ((const SbShape *)separator->task->shapes->pdata[placing->shape])->n_poses;
  if (has_few_poses (separator, placing)) {
    for (guint k = 0; k < n; k++)
      tries[k] = (Try){(placing->pose + k) % n, GLOBAL_SAMPLES / n, NEAR_SAMPLES / n, k == 0};
    return n;
  }
  guint beside = sb_separator_get_pose (separator, placing)->beside,
        step = 1 + sb_random_below (&separator->random, 3),
        coarse = sb_random_below (&separator->random, MIN (n, COARSE_TURNS));
  tries[0] = (Try){placing->pose, GLOBAL_SAMPLES / 4, NEAR_SAMPLES / 4, TRUE};
  tries[1] = (Try){(beside + step) % n, 0, NEAR_SAMPLES / 4, TRUE};
  tries[2] = (Try){(beside + n - step) % n, 0, NEAR_SAMPLES / 4, TRUE};
  tries[3] = (Try){coarse * n / MIN (n, COARSE_TURNS), GLOBAL_SAMPLES / 2, NEAR_SAMPLES / 4, FALSE};
  return 4;
}

static gboolean
fits_box (const SbSeparator *separator, guint shape, guint pose)
{
  SbIBox room = sb_pose_get_room (sb_task_get_pose (separator->task, shape, pose), separator->box);
  return room.x1 >= room.x0;
}

/* Where the copy lies, in another pose that fits the box. */
static SbCandidate
stay (SbSeparator *separator, const SbPlacing *placing, guint pose_index)
{
  const SbPose *pose = sb_task_get_pose (separator->task, placing->shape, pose_index);
  SbIBox room = sb_pose_get_room (pose, separator->box);
  SbCandidate candidate = {pose_index, CLAMP (placing->x, room.x0, room.x1),
                           CLAMP (placing->y, room.y0, room.y1), 0};
  candidate.cost = cost_at (separator, separator->others, separator->n_others, candidate.x,
                            candidate.y, G_MAXDOUBLE);
  return candidate;
}

gboolean
sb_separator_find_move (SbSeparator *separator, guint i, double now, SbCandidate *best)
{
  const SbPlacing *placing = &separator->placings[i];
  *best = (SbCandidate){placing->pose, placing->x, placing->y, now};
  Try tries[MOST_TRIES];
  guint n_tries = choose_tries (separator, placing, tries);
  /* Many turns are many starts already. */
  guint most_starts = has_few_poses (separator, placing) ? STARTS : 1;
  for (guint t = 0; t < n_tries && best->cost > 0; t++) {
    SbCandidate starts[STARTS + 1];
    guint n_starts = 0;
    look_around (separator, i, tries[t].pose);
    if (tries[t].here && fits_box (separator, placing->shape, tries[t].pose))
      keep_if_good (starts, &n_starts, stay (separator, placing, tries[t].pose));
    sample (separator, i, tries[t].pose, tries[t].n_global, tries[t].n_near, starts, &n_starts);
    for (guint s = 0; s < MIN (n_starts, most_starts) && best->cost > 0; s++) {
      slide_to_contact (separator, i, &starts[s]);
      if (starts[s].cost < best->cost)
        *best = starts[s];
    }
  }
  return best->cost < now;
}
