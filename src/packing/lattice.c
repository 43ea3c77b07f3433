/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/lattice.h"

#include <math.h>

#define SHIFTS 60     /* sideways shifts tried, over one pitch */
#define MOST_TURNS 12 /* of those a shape may take */
#define MOST_ROWS 2000

/* A pattern in its own directions: `along` a row and `across` from row to row. */
typedef struct {
  gboolean columns; /* along is y, across is x */
  guint poses[2];   /* of a pair in a row, or of even and odd rows */
  guint n_unit;     /* 2: pairs in a row */
  gboolean odd_rows_partner;
  double at[2], pitch; /* along: of the unit's members, and of the units */
  double shift;        /* along: of odd rows, or of each row more when it runs on */
  gboolean runs_on;
  double step[2]; /* across: from even to odd rows, from odd to even */
} Pattern;

typedef struct {
  const SbTask *task;
  SbKeepOuts *keep_outs;
  SbIBox box;
  guint shape;
  GArray *best, *trial; /* SbPlacing */
  double best_depth;    /* how far across the best one reaches */
} Lattice;

/* How far along its axis a moving pose must be from a still one, outermost, when it lies `across`
 * from it; 0 or less when they pass each other. */
static double
way_past (const SbKeepOut *region, gboolean along_y, double across)
{
  double most = -G_MAXDOUBLE;
  for (guint i = 0; i < region->n_parts; i++) {
    const SbKeepOutPart *part = &region->parts[i];
    double from = -G_MAXDOUBLE, to = G_MAXDOUBLE;
    for (guint e = 0; e < part->n_edges && from < to; e++) {
      double n = along_y ? part->ny[e] : part->nx[e],
             left = part->c[e] - (along_y ? part->nx[e] : part->ny[e]) * across;
      if (fabs (n) < 1e-12)
        to = left <= SB_CONTACT_UM ? -G_MAXDOUBLE : to;
      else if (n > 0)
        to = MIN (to, left / n);
      else
        from = MAX (from, left / n);
    }
    if (from < to)
      most = MAX (most, to);
  }
  return most;
}

static double
along_past (const Lattice *lattice, const Pattern *pattern, guint still, guint moving,
            double across)
{
  return way_past (
      sb_keep_outs_get (lattice->keep_outs, lattice->shape, still, lattice->shape, moving),
      pattern->columns, across);
}

/* How far across the next row must be when it is shifted by `shift`. */
static double
row_step (const Lattice *lattice, const Pattern *pattern, gboolean from_odd, double shift)
{
  double most = 0;
  guint n = pattern->n_unit;
  for (guint i = 0; i < n; i++)
    for (guint j = 0; j < n; j++) {
      gboolean partners = pattern->odd_rows_partner;
      guint still = pattern->poses[partners ? (guint)from_odd : i],
            moving = pattern->poses[partners ? (guint)!from_odd : j];
      const SbKeepOut *region =
          sb_keep_outs_get (lattice->keep_outs, lattice->shape, still, lattice->shape, moving);
      double least = pattern->columns ? region->y0 : region->x0,
             greatest = pattern->columns ? region->y1 : region->x1;
      double first = shift + pattern->at[j] - pattern->at[i];
      first -= ceil ((first - least) / pattern->pitch) * pattern->pitch;
      for (double along = first; along < greatest; along += pattern->pitch)
        most = MAX (most, way_past (region, !pattern->columns, along));
    }
  return ceil (most);
}

static void
lay_row (Lattice *lattice, const Pattern *pattern, gboolean odd, double shift, double across)
{
  for (guint i = 0; i < pattern->n_unit; i++) {
    guint pose_index = pattern->poses[pattern->odd_rows_partner ? (guint)odd : i];
    const SbPose *pose = sb_task_get_pose (lattice->task, lattice->shape, pose_index);
    SbIBox room = sb_pose_get_room (pose, lattice->box);
    double from = pattern->columns ? room.y0 : room.x0, to = pattern->columns ? room.y1 : room.x1,
           side_from = pattern->columns ? room.x0 : room.y0,
           side_to = pattern->columns ? room.x1 : room.y1;
    if (across < side_from || across > side_to)
      continue;
    SbIBox first_room = sb_pose_get_room (
        sb_task_get_pose (lattice->task, lattice->shape, pattern->poses[0]), lattice->box);
    double start = (pattern->columns ? first_room.y0 : first_room.x0) + shift + pattern->at[i];
    for (double along = start - 2 * pattern->pitch; along <= to; along += pattern->pitch)
      if (along >= from) {
        sb_um a = (sb_um)lround (along), b = (sb_um)lround (across);
        SbPlacing placing = {lattice->shape, pose_index, pattern->columns ? b : a,
                             pattern->columns ? a : b};
        g_array_append_val (lattice->trial, placing);
      }
  }
}

static void
lay_pattern (Lattice *lattice, const Pattern *pattern)
{
  g_array_set_size (lattice->trial, 0);
  double across = -G_MAXDOUBLE, depth = 0, side_end = -G_MAXDOUBLE;
  for (guint i = 0; i < 2; i++) { /* a row that either pose may begin */
    SbIBox room = sb_pose_get_room (
        sb_task_get_pose (lattice->task, lattice->shape, pattern->poses[i]), lattice->box);
    across = MAX (across, pattern->columns ? room.x0 : room.y0);
    side_end = MAX (side_end, pattern->columns ? room.x1 : room.y1);
  }
  for (guint row = 0; across <= side_end && row < MOST_ROWS; row++) {
    gboolean odd = row % 2;
    double shift =
        pattern->runs_on ? fmod (row * pattern->shift, pattern->pitch) : (odd ? pattern->shift : 0);
    lay_row (lattice, pattern, odd, shift, across);
    depth = across;
    across += pattern->step[odd];
  }
  guint n = lattice->trial->len;
  if (n < lattice->best->len || (n == lattice->best->len && depth >= lattice->best_depth) ||
      !sb_task_check (lattice->task, lattice->box,
                      (const SbPlacing *)(gpointer)lattice->trial->data, n))
    return;
  GArray *swap = lattice->best;
  lattice->best = lattice->trial;
  lattice->trial = swap;
  lattice->best_depth = depth;
}

static void
try_shifts (Lattice *lattice, Pattern *pattern)
{
  if (!(pattern->pitch >= 1))
    return;
  for (guint k = 0; k < SHIFTS; k++) {
    pattern->shift = round (pattern->pitch * k / SHIFTS);
    pattern->step[0] = row_step (lattice, pattern, FALSE, pattern->shift);
    for (pattern->runs_on = FALSE; pattern->runs_on <= TRUE; pattern->runs_on++) {
      pattern->step[1] =
          row_step (lattice, pattern, TRUE, pattern->runs_on ? pattern->shift : -pattern->shift);
      if (pattern->step[0] >= 1 && pattern->step[1] >= 1)
        lay_pattern (lattice, pattern);
    }
  }
}

/* The pose half a turn on; the same when there is none. */
static guint
half_turned (const SbShape *shape, guint pose)
{
  gint32 turn = (shape->poses[pose].turn + 180000) % 360000;
  for (guint i = 0; i < shape->n_poses; i++)
    if (shape->poses[i].turn == turn)
      return i;
  return pose;
}

static void
try_pose (Lattice *lattice, const SbShape *shape, guint pose, gboolean columns)
{
  guint partner = half_turned (shape, pose);
  Pattern pattern = {.columns = columns, .poses = {pose, pose}, .n_unit = 1};
  pattern.pitch = ceil (along_past (lattice, &pattern, pose, pose, 0));
  try_shifts (lattice, &pattern);
  if (partner == pose)
    return;
  pattern.poses[1] = partner;
  pattern.odd_rows_partner = TRUE;
  try_shifts (lattice, &pattern);
  pattern.odd_rows_partner = FALSE;
  pattern.n_unit = 2;
  pattern.at[1] = ceil (along_past (lattice, &pattern, pose, partner, 0));
  double back = ceil (along_past (lattice, &pattern, partner, pose, 0));
  pattern.pitch = MAX (pattern.pitch, pattern.at[1] + back);
  try_shifts (lattice, &pattern);
}

GArray *
sb_lattice_lay (const SbTask *task, SbKeepOuts *keep_outs, SbIBox box, guint shape_index)
{
  const SbShape *shape = task->shapes->pdata[shape_index];
  Lattice lattice = {task, keep_outs, box, shape_index};
  lattice.best = g_array_new (FALSE, FALSE, sizeof (SbPlacing));
  lattice.trial = g_array_new (FALSE, FALSE, sizeof (SbPlacing));
  guint n = MIN (shape->n_poses, MOST_TURNS);
  for (guint i = 0; i < n; i++)
    for (guint columns = 0; columns < 2; columns++)
      try_pose (&lattice, shape, i * shape->n_poses / n, columns);
  sb_keep_outs_tidy (keep_outs);
  g_array_unref (lattice.trial);
  return lattice.best;
}
