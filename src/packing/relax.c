/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/relax.h"

#include <math.h>
#include <string.h>

#include "packing/relax-private.h"

/* No pair may miss more of the gap aimed for than this: what is rounded afterwards still keeps the
 * true gap. um */
#define MISSING 4.0

#define MOST_STEPS 600  /* of one going down */
#define CHECK_STEPS 40  /* between two looks at how it goes */
#define LEAST_FALL 0.97 /* of the energy in that time; else it lies at rest */
#define GOOD_FALL 0.7   /* what is to be expected of one far above the layout it is to beat */
#define FAR_ABOVE 2.0

#define PATIENCE 20 /* hops in vain before one that is a little worse is taken */
#define LITTLE_WORSE 1.05

/* A step moves nothing farther than this part of the mean radius; contacts are listed as far out as
 * the skin. */
#define LONGEST_STEP 0.15
#define SKIN 0.2

static const SbShape *
shape_of (const SbRelaxer *relaxer, guint i)
{
  return relaxer->task->shapes->pdata[relaxer->placings[i].shape];
}

static const SbSoftForm *
get_form (SbRelaxer *relaxer, guint shape, guint pose)
{
  gpointer *form = &relaxer->forms->pdata[relaxer->first_form[shape] + pose];
  if (*form == NULL)
    *form = sb_soft_form_new (sb_task_get_pose (relaxer->task, shape, pose));
  return *form;
}

/* A copy that turns is its pose 0 turned; another one is its pose. */
static void
take_form (SbRelaxer *relaxer, guint i)
{
  SbSoftBody *body = &relaxer->bodies[i];
  body->form = get_form (relaxer, relaxer->placings[i].shape,
                         shape_of (relaxer, i)->cyclic ? 0 : relaxer->now.poses[i]);
  memset (body->farthest, 0, sizeof body->farthest);
}

static void
set_pose (SbRelaxer *relaxer, guint i, guint pose)
{
  const SbPose *at = sb_task_get_pose (relaxer->task, relaxer->placings[i].shape, pose);
  SbSoftPlace *place = &relaxer->now.places[i];
  gboolean turns = shape_of (relaxer, i)->cyclic;
  relaxer->now.poses[i] = pose;
  place->cos = turns ? at->cos : 1;
  place->sin = turns ? at->sin : 0;
  take_form (relaxer, i);
}

static void
lying_init (SbSoftLayout *lying, guint n)
{
  *lying = (SbSoftLayout){g_new0 (SbSoftPlace, n), g_new0 (guint, n)};
}

static void
lying_copy (SbSoftLayout *to, const SbSoftLayout *from, guint n)
{
  memcpy (to->places, from->places, n * sizeof *from->places);
  memcpy (to->poses, from->poses, n * sizeof *from->poses);
}

static void
lying_clear (SbSoftLayout *lying)
{
  g_free (lying->places);
  g_free (lying->poses);
}

SbRelaxer *
sb_relaxer_new (const SbTask *task, SbRandom random)
{
  SbRelaxer *relaxer = g_new0 (SbRelaxer, 1);
  relaxer->task = task;
  relaxer->random = random;
  relaxer->forms = g_ptr_array_new ();
  relaxer->first_form = g_new (guint, task->shapes->len);
  for (guint s = 0; s < task->shapes->len; s++) {
    relaxer->first_form[s] = relaxer->forms->len;
    g_ptr_array_set_size (
        relaxer->forms,
        (gint)(relaxer->forms->len + ((const SbShape *)task->shapes->pdata[s])->n_poses));
  }
  relaxer->contacts = g_array_new (FALSE, FALSE, sizeof (SbSoftContact));
  relaxer->listed = g_array_new (FALSE, FALSE, sizeof (SbSoftContact));
  return relaxer;
}

static void
free_layout (SbRelaxer *relaxer)
{
  g_free (relaxer->placings);
  g_free (relaxer->bodies);
  lying_clear (&relaxer->now);
  lying_clear (&relaxer->held);
  g_free (relaxer->forces);
  g_free (relaxer->speeds);
}

void
sb_relaxer_set (SbRelaxer *relaxer, SbIBox box, const SbPlacing *placings, guint n)
{
  free_layout (relaxer);
  relaxer->box = box;
  relaxer->n = n;
  relaxer->placings = g_memdup2 (placings, n * sizeof *placings);
  relaxer->bodies = g_new0 (SbSoftBody, n);
  lying_init (&relaxer->now, n);
  lying_init (&relaxer->held, n);
  relaxer->forces = g_new0 (SbSoftMotion, n);
  relaxer->speeds = g_new0 (SbSoftMotion, n);
  relaxer->begun = FALSE;
  relaxer->in_vain = 0;
  double radii = 0;
  for (guint i = 0; i < n; i++) {
    SbSoftBody *body = &relaxer->bodies[i];
    relaxer->now.places[i].x = placings[i].x;
    relaxer->now.places[i].y = placings[i].y;
    set_pose (relaxer, i, placings[i].pose);
    body->moves = !placings[i].fixed;
    body->turns = body->moves && shape_of (relaxer, i)->cyclic;
    body->arm = body->form->radius / 2;
    radii += body->form->radius;
  }
  relaxer->longest_step = LONGEST_STEP * radii / MAX (n, 1);
  relaxer->skin = SKIN * radii / MAX (n, 1);
}

void
sb_relaxer_free (SbRelaxer *relaxer)
{
  for (guint i = 0; i < relaxer->forms->len; i++)
    if (relaxer->forms->pdata[i] != NULL)
      sb_soft_form_free (relaxer->forms->pdata[i]);
  g_ptr_array_unref (relaxer->forms);
  g_free (relaxer->first_form);
  free_layout (relaxer);
  g_array_unref (relaxer->contacts);
  g_array_unref (relaxer->listed);
  g_free (relaxer);
}

guint64
sb_relaxer_get_evaluations (const SbRelaxer *relaxer)
{
  return relaxer->evaluations;
}

/* Turns a place by `angle`, a small one. */
static void
turn_place (SbSoftPlace *place, double angle)
{
  double square = angle * angle, c = 1 - square / 2 + square * square / 24,
         s = angle * (1 - square / 6 + square * square / 120);
  double cos = place->cos * c - place->sin * s, sin = place->sin * c + place->cos * s,
         length = sqrt (cos * cos + sin * sin);
  place->cos = cos / length;
  place->sin = sin / length;
}

static void
step (SbRelaxer *relaxer, double time)
{
  double farthest = 0;
  for (guint i = 0; i < relaxer->n; i++) {
    const SbSoftMotion *speed = &relaxer->speeds[i];
    double turn = speed->turn / relaxer->bodies[i].arm * relaxer->bodies[i].form->radius;
    farthest = MAX (farthest, sqrt (speed->x * speed->x + speed->y * speed->y) + fabs (turn));
  }
  farthest *= time;
  if (farthest > relaxer->longest_step) {
    time *= relaxer->longest_step / farthest;
    farthest = relaxer->longest_step;
  }
  for (guint i = 0; i < relaxer->n; i++) {
    const SbSoftMotion *speed = &relaxer->speeds[i];
    SbSoftPlace *place = &relaxer->now.places[i];
    place->x += time * speed->x;
    place->y += time * speed->y;
    if (speed->turn != 0)
      turn_place (place, time * speed->turn / relaxer->bodies[i].arm);
  }
  relaxer->moved += farthest;
}

/* Going down: speeds grow while they point downhill and stop when they do not. */
typedef struct {
  double time, drag;
  guint downhill;
} Pace;

#define PACE_FIRST 0.15
#define PACE_MOST 0.5
#define PACE_LEAST 0.02
#define PACE_DRAG 0.1
#define PACE_DELAY 5

static void
speed_up (SbRelaxer *relaxer, Pace *pace)
{
  double power = 0, speeds = 0, forces = 0;
  for (guint i = 0; i < relaxer->n; i++) {
    const SbSoftMotion *f = &relaxer->forces[i], *v = &relaxer->speeds[i];
    power += f->x * v->x + f->y * v->y + f->turn * v->turn;
    speeds += v->x * v->x + v->y * v->y + v->turn * v->turn;
    forces += f->x * f->x + f->y * f->y + f->turn * f->turn;
  }
  double keep = 0, steer = 0;
  if (power > 0) {
    keep = 1 - pace->drag;
    steer = forces > 0 ? pace->drag * sqrt (speeds / forces) : 0;
    if (++pace->downhill > PACE_DELAY) {
      pace->time = MIN (PACE_MOST, pace->time * 1.1);
      pace->drag *= 0.99;
    }
  } else {
    *pace = (Pace){MAX (PACE_LEAST, pace->time / 2), PACE_DRAG, 0};
  }
  steer += pace->time;
  for (guint i = 0; i < relaxer->n; i++) {
    const SbSoftMotion *f = &relaxer->forces[i];
    SbSoftMotion *v = &relaxer->speeds[i];
    *v = (SbSoftMotion){keep * v->x + steer * f->x, keep * v->y + steer * f->y,
                        keep * v->turn + steer * f->turn};
  }
}

/* Lets the copies come to rest; gives up one that will not come below `hopeless`. */
static void
relax (SbRelaxer *relaxer, double hopeless)
{
  memset (relaxer->speeds, 0, relaxer->n * sizeof (SbSoftMotion));
  g_array_set_size (relaxer->contacts, 0); /* a hop has moved what they tell of */
  sb_relaxer_list_contacts (relaxer);
  Pace pace = {PACE_FIRST, PACE_DRAG, 0};
  relaxer->energy = sb_relaxer_press (relaxer);
  double before = relaxer->energy;
  for (guint k = 1; k <= MOST_STEPS && relaxer->energy > MISSING * MISSING; k++) {
    speed_up (relaxer, &pace);
    step (relaxer, pace.time);
    relaxer->energy = sb_relaxer_press (relaxer);
    if (k % CHECK_STEPS != 0)
      continue;
    if (relaxer->energy > LEAST_FALL * before ||
        (relaxer->energy > hopeless && relaxer->energy > GOOD_FALL * before))
      break;
    before = relaxer->energy;
  }
}

static guint
pick (SbRelaxer *relaxer)
{
  guint i = sb_random_below (&relaxer->random, relaxer->n);
  for (guint k = 0; k < relaxer->n && !relaxer->bodies[i].moves; k++)
    i = i + 1 == relaxer->n ? 0 : i + 1;
  return i;
}

static void
turn_anyhow (SbRelaxer *relaxer, guint i)
{
  const SbShape *shape = shape_of (relaxer, i);
  set_pose (relaxer, i, sb_random_below (&relaxer->random, shape->n_poses));
}

static void
swap_places (SbRelaxer *relaxer)
{
  guint i = pick (relaxer), j = pick (relaxer);
  SbSoftPlace *p = &relaxer->now.places[i], *q = &relaxer->now.places[j], swap = *p;
  p->x = q->x;
  p->y = q->y;
  q->x = swap.x;
  q->y = swap.y;
}

/* The smaller of two copies goes anywhere. */
static void
move_anywhere (SbRelaxer *relaxer)
{
  guint i = pick (relaxer), j = pick (relaxer);
  if (shape_of (relaxer, j)->area < shape_of (relaxer, i)->area)
    i = j;
  turn_anyhow (relaxer, i);
  relaxer->now.places[i].x = sb_random_between (&relaxer->random, relaxer->box.x0, relaxer->box.x1);
  relaxer->now.places[i].y = sb_random_between (&relaxer->random, relaxer->box.y0, relaxer->box.y1);
}

static void
hop (SbRelaxer *relaxer)
{
  guint what = sb_random_below (&relaxer->random, 10);
  if (what < 5)
    swap_places (relaxer);
  else if (what < 9)
    move_anywhere (relaxer);
  else
    turn_anyhow (relaxer, pick (relaxer));
}

static void
hold (SbRelaxer *relaxer)
{
  lying_copy (&relaxer->held, &relaxer->now, relaxer->n);
  relaxer->held_energy = relaxer->energy;
}

static void
go_back (SbRelaxer *relaxer)
{
  lying_copy (&relaxer->now, &relaxer->held, relaxer->n);
  for (guint i = 0; i < relaxer->n; i++)
    take_form (relaxer, i);
  relaxer->energy = relaxer->held_energy;
}

static void
try_hop (SbRelaxer *relaxer)
{
  hop (relaxer);
  relax (relaxer, FAR_ABOVE * relaxer->held_energy);
  double worst = relaxer->held_energy * (relaxer->in_vain > PATIENCE ? LITTLE_WORSE : 1);
  if (relaxer->energy < relaxer->held_energy * 0.999)
    relaxer->in_vain = 0;
  else
    relaxer->in_vain++;
  if (relaxer->energy < worst)
    hold (relaxer);
  else
    go_back (relaxer);
}

gboolean
sb_relaxer_run (SbRelaxer *relaxer, guint64 evaluations)
{
  guint64 end = relaxer->evaluations + evaluations;
  if (!relaxer->begun) {
    relax (relaxer, G_MAXDOUBLE);
    hold (relaxer);
    relaxer->begun = TRUE;
  }
  while (relaxer->energy > MISSING * MISSING && relaxer->evaluations < end)
    try_hop (relaxer);
  return relaxer->energy <= MISSING * MISSING;
}

void
sb_relaxer_disturb (SbRelaxer *relaxer)
{
  hop (relaxer);
  relax (relaxer, G_MAXDOUBLE);
  hold (relaxer);
}

SbPlacing
sb_relaxer_get (const SbRelaxer *relaxer, guint i, gint32 *turn)
{
  SbPlacing placing = relaxer->placings[i];
  const SbSoftPlace *place = &relaxer->now.places[i];
  if (placing.fixed)
    return placing;
  placing.pose = relaxer->now.poses[i];
  placing.x = (sb_um)lround (place->x);
  placing.y = (sb_um)lround (place->y);
  if (shape_of (relaxer, i)->cyclic)
    *turn = ((gint32)lround (atan2 (place->sin, place->cos) * (180000 / G_PI)) + 360000) % 360000;
  return placing;
}
