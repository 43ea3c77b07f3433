/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/separate.h"

#include <math.h>
#include <string.h>

#define GLOBAL_SAMPLES 40 /* over the whole room of a copy */
#define NEAR_SAMPLES 20   /* around where it lies */
#define STARTS 2          /* best samples that are slid to contact */
#define MOST_SLIDES 8
#define MOST_LINES 5
#define WEIGHT_LEAST_RISE 1.1
#define WEIGHT_MOST_RISE 1.5
#define WEIGHT_DECAY 0.95
#define PROGRESS 0.98 /* a total below this much of the last best is progress */

/* Another copy as the one being moved sees it. */
typedef struct {
  double x0, y0, x1, y1; /* box of its region on the page */
  double x, y, weight;
  SbKeepOutView view; /* its region NULL until a place inside the box is looked at */
  guint shape, pose;
} Other;

/* A line that the moving copy may be slid to: n . v = c on the page. */
typedef struct {
  double nx, ny, c, depth;
} Line;

typedef struct {
  guint pose;
  sb_um x, y;
  double cost;
} Candidate;

struct _SbSeparator {
  const SbTask *task;
  SbKeepOuts *keep_outs;
  SbRandom random;
  SbIBox box;
  guint n, size;
  SbPlacing *placings;
  double *weights, *overlaps; /* n x n, symmetric */
  double total;
  guint *order;
  Other *others, *near;
  guint n_others;
  guint moving_shape, moving_pose; /* what the others were listed for */
  guint64 evaluations;

  /* the attempt under way */
  SbPlacing *best;
  double best_total;  /* of this strike */
  double least_total; /* of the attempt; `best` is its layout */
  double strike_start;
  guint without_progress, failed_strikes;
};

SbSeparator *
sb_separator_new (const SbTask *task, SbKeepOuts *keep_outs, SbRandom random)
{
  SbSeparator *separator = g_new0 (SbSeparator, 1);
  separator->task = task;
  separator->keep_outs = keep_outs;
  separator->random = random;
  return separator;
}

static void
free_arrays (SbSeparator *separator)
{
  g_free (separator->placings);
  g_free (separator->weights);
  g_free (separator->overlaps);
  g_free (separator->order);
  g_free (separator->others);
  g_free (separator->near);
  g_free (separator->best);
}

void
sb_separator_free (SbSeparator *separator)
{
  free_arrays (separator);
  g_free (separator);
}

static void
make_room (SbSeparator *separator, guint n)
{
  if (n <= separator->size)
    return;
  free_arrays (separator);
  separator->size = n;
  separator->placings = g_new (SbPlacing, n);
  separator->weights = g_new (double, (gsize)n *n);
  separator->overlaps = g_new (double, (gsize)n *n);
  separator->order = g_new (guint, n);
  separator->others = g_new (Other, n);
  separator->near = g_new (Other, n);
  separator->best = g_new (SbPlacing, n);
}

static inline const SbPose *
pose_of (const SbSeparator *separator, const SbPlacing *placing)
{
  return sb_task_get_pose (separator->task, placing->shape, placing->pose);
}

static double
pair_depth (SbSeparator *separator, guint i, guint j)
{
  const SbPlacing *still = &separator->placings[i], *moving = &separator->placings[j];
  if (still->fixed && moving->fixed)
    return 0;
  SbKeepOutView view = sb_keep_outs_view (separator->keep_outs, still->shape, still->pose,
                                          moving->shape, moving->pose);
  return sb_keep_out_view_depth (&view, (double)moving->x - still->x, (double)moving->y - still->y);
}

static void
measure_all (SbSeparator *separator)
{
  guint n = separator->n;
  separator->total = 0;
  for (guint i = 0; i < n; i++) {
    separator->overlaps[i * n + i] = 0;
    for (guint j = 0; j < i; j++) {
      double depth = pair_depth (separator, j, i);
      separator->overlaps[i * n + j] = separator->overlaps[j * n + i] = depth;
      separator->total += depth;
    }
    sb_keep_outs_tidy (separator->keep_outs);
  }
}

static void
begin_attempt (SbSeparator *separator)
{
  measure_all (separator);
  separator->best_total = separator->least_total = separator->strike_start = separator->total;
  separator->without_progress = separator->failed_strikes = 0;
  memcpy (separator->best, separator->placings, separator->n * sizeof (SbPlacing));
}

/* Into the box, in another pose where the present one is larger than it. */
static void
move_in (const SbSeparator *separator, SbPlacing *placing)
{
  const SbShape *shape = separator->task->shapes->pdata[placing->shape];
  for (guint k = 0; k < shape->n_poses; k++) {
    guint pose = (placing->pose + k) % shape->n_poses;
    SbIBox room = sb_pose_get_room (&shape->poses[pose], separator->box);
    if (room.x1 < room.x0)
      continue;
    placing->pose = pose;
    placing->x = CLAMP (placing->x, room.x0, room.x1);
    placing->y = CLAMP (placing->y, room.y0, room.y1);
    return;
  }
}

void
sb_separator_set (SbSeparator *separator, SbIBox box, const SbPlacing *placings, guint n)
{
  make_room (separator, n);
  separator->n = n;
  separator->box = box;
  memcpy (separator->placings, placings, n * sizeof (SbPlacing));
  for (guint i = 0; i < n; i++)
    if (!separator->placings[i].fixed)
      move_in (separator, &separator->placings[i]);
  for (gsize i = 0; i < (gsize)n * n; i++)
    separator->weights[i] = 1;
  begin_attempt (separator);
}

const SbPlacing *
sb_separator_get (const SbSeparator *separator, guint *n)
{
  *n = separator->n;
  return separator->placings;
}

double
sb_separator_get_overlap (const SbSeparator *separator)
{
  return separator->total;
}

guint64
sb_separator_get_evaluations (const SbSeparator *separator)
{
  return separator->evaluations;
}

SbRandom *
sb_separator_get_random (SbSeparator *separator)
{
  return &separator->random;
}

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
    const SbPose *still = pose_of (separator, placing);
    separator->others[k++] = (Other){
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
view_of (SbSeparator *separator, Other *other)
{
  if (other->view.region == NULL)
    other->view = sb_keep_outs_view (separator->keep_outs, other->shape, other->pose,
                                     separator->moving_shape, separator->moving_pose);
  return &other->view;
}

/* The weighted depth at (x, y); stops early, at some value of `limit` or more, once it is that
 * much. */
static inline double
cost_at (SbSeparator *separator, Other *others, guint n, double x, double y, double limit)
{
  double cost = 0;
  separator->evaluations++;
  for (guint k = 0; k < n; k++) {
    Other *other = &others[k];
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
find_lines (SbSeparator *separator, Other *near, guint n, double x, double y, double reach,
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
  Other *near;
  guint n_near;
  sb_um from_x, from_y;
  double reach;
  Candidate best;
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
slide_to_contact (SbSeparator *separator, guint i, Candidate *candidate)
{
  const SbPose *pose =
      sb_task_get_pose (separator->task, separator->placings[i].shape, candidate->pose);
  double reach = 0.5 * MIN (pose->box.x1 - pose->box.x0, pose->box.y1 - pose->box.y0);
  Slide slide = {separator,       sb_pose_get_room (pose, separator->box),
                 separator->near, 0,
                 candidate->x,    candidate->y,
                 reach,           *candidate};
  for (guint k = 0; k < separator->n_others; k++) {
    const Other *other = &separator->others[k];
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
keep_if_good (Candidate *starts, guint *n, Candidate candidate)
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
        Candidate *starts, guint *n_starts)
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
    Candidate candidate = {pose_index, sb_random_between (&separator->random, from.x0, from.x1),
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
  guint step = 1 + sb_random_below (&separator->random, 3),
        coarse = sb_random_below (&separator->random, MIN (n, COARSE_TURNS));
  tries[0] = (Try){placing->pose, GLOBAL_SAMPLES / 4, NEAR_SAMPLES / 4, TRUE};
  tries[1] = (Try){(placing->pose + step) % n, 0, NEAR_SAMPLES / 4, TRUE};
  tries[2] = (Try){(placing->pose + n - step) % n, 0, NEAR_SAMPLES / 4, TRUE};
  tries[3] = (Try){coarse * n / MIN (n, COARSE_TURNS), GLOBAL_SAMPLES / 2, NEAR_SAMPLES / 4, FALSE};
  return 4;
}

static void
put (SbSeparator *separator, guint i, const Candidate *candidate)
{
  guint n = separator->n;
  SbPlacing *placing = &separator->placings[i];
  placing->pose = candidate->pose;
  placing->x = candidate->x;
  placing->y = candidate->y;
  for (guint j = 0; j < n; j++) {
    if (j == i)
      continue;
    double depth = pair_depth (separator, j, i);
    separator->total += depth - separator->overlaps[i * n + j];
    separator->overlaps[i * n + j] = separator->overlaps[j * n + i] = depth;
  }
}

static double
row_cost (const SbSeparator *separator, guint i)
{
  const double *weights = separator->weights + (gsize)i * separator->n,
               *overlaps = separator->overlaps + (gsize)i * separator->n;
  double cost = 0;
  for (guint j = 0; j < separator->n; j++)
    cost += weights[j] * overlaps[j];
  return cost;
}

static gboolean
fits_box (const SbSeparator *separator, guint shape, guint pose)
{
  SbIBox room = sb_pose_get_room (sb_task_get_pose (separator->task, shape, pose), separator->box);
  return room.x1 >= room.x0;
}

/* Where the copy lies, in another pose that fits the box. */
static Candidate
stay (SbSeparator *separator, const SbPlacing *placing, guint pose_index)
{
  const SbPose *pose = sb_task_get_pose (separator->task, placing->shape, pose_index);
  SbIBox room = sb_pose_get_room (pose, separator->box);
  Candidate candidate = {pose_index, CLAMP (placing->x, room.x0, room.x1),
                         CLAMP (placing->y, room.y0, room.y1), 0};
  candidate.cost = cost_at (separator, separator->others, separator->n_others, candidate.x,
                            candidate.y, G_MAXDOUBLE);
  return candidate;
}

static void
move_copy (SbSeparator *separator, guint i)
{
  const SbPlacing *placing = &separator->placings[i];
  double now = row_cost (separator, i);
  Candidate best = {placing->pose, placing->x, placing->y, now};
  Try tries[MOST_TRIES];
  guint n_tries = choose_tries (separator, placing, tries);
  /* Many turns are many starts already. */
  guint most_starts = has_few_poses (separator, placing) ? STARTS : 1;
  for (guint t = 0; t < n_tries && best.cost > 0; t++) {
    Candidate starts[STARTS + 1];
    guint n_starts = 0;
    look_around (separator, i, tries[t].pose);
    if (tries[t].here && fits_box (separator, placing->shape, tries[t].pose))
      keep_if_good (starts, &n_starts, stay (separator, placing, tries[t].pose));
    sample (separator, i, tries[t].pose, tries[t].n_global, tries[t].n_near, starts, &n_starts);
    for (guint s = 0; s < MIN (n_starts, most_starts) && best.cost > 0; s++) {
      slide_to_contact (separator, i, &starts[s]);
      if (starts[s].cost < best.cost)
        best = starts[s];
    }
  }
  if (best.cost < now)
    put (separator, i, &best);
  sb_keep_outs_tidy (separator->keep_outs);
}

static gboolean
overlaps_any (const SbSeparator *separator, guint i)
{
  const double *overlaps = separator->overlaps + (gsize)i * separator->n;
  for (guint j = 0; j < separator->n; j++)
    if (overlaps[j] > 0)
      return TRUE;
  return FALSE;
}

static void
pass (SbSeparator *separator)
{
  guint n = 0;
  for (guint i = 0; i < separator->n; i++)
    if (!separator->placings[i].fixed && overlaps_any (separator, i))
      separator->order[n++] = i;
  sb_random_shuffle (&separator->random, separator->order, n);
  for (guint k = 0; k < n; k++)
    if (overlaps_any (separator, separator->order[k]))
      move_copy (separator, separator->order[k]);
}

static void
weigh (SbSeparator *separator)
{
  gsize n = (gsize)separator->n * separator->n;
  double most = 0, total = 0;
  for (gsize k = 0; k < n; k++) {
    most = MAX (most, separator->overlaps[k]);
    total += separator->overlaps[k];
  }
  separator->total = total / 2; /* afresh: differences added up leave dust */
  for (gsize k = 0; k < n; k++) {
    double *weight = &separator->weights[k];
    if (separator->overlaps[k] > 0)
      *weight *= WEIGHT_LEAST_RISE +
                 (WEIGHT_MOST_RISE - WEIGHT_LEAST_RISE) * separator->overlaps[k] / most;
    else
      *weight = MAX (1, *weight * WEIGHT_DECAY);
  }
}

static void
go_back_to_best (SbSeparator *separator)
{
  memcpy (separator->placings, separator->best, separator->n * sizeof (SbPlacing));
  measure_all (separator);
}

SbSeparation
sb_separator_run (SbSeparator *separator, guint patience, guint strikes, guint64 evaluations)
{
  guint64 end = separator->evaluations + evaluations;
  while (separator->total > 0) {
    if (separator->failed_strikes >= strikes)
      return SB_SEPARATION_FAILED;
    if (separator->evaluations >= end)
      return SB_SEPARATION_PAUSED;
    pass (separator);
    weigh (separator);
    if (separator->total < separator->best_total) {
      if (separator->total < PROGRESS * separator->best_total)
        separator->without_progress = 0;
      separator->best_total = separator->total;
      if (separator->total < separator->least_total) {
        separator->least_total = separator->total;
        memcpy (separator->best, separator->placings, separator->n * sizeof (SbPlacing));
      }
    }
    if (separator->total > 0 && ++separator->without_progress >= patience) {
      /* A strike that ends well below where it began earns another. */
      if (separator->best_total < PROGRESS * separator->strike_start)
        separator->failed_strikes = 0;
      else
        separator->failed_strikes++;
      go_back_to_best (separator);
      separator->strike_start = separator->best_total = separator->total;
      separator->without_progress = 0;
    }
  }
  return SB_SEPARATION_DONE;
}
