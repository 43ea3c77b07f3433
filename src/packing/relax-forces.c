/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which parts lie near each other, and the forces with which all that come too near push. */
#include <math.h>
#include <string.h>

#include "packing/relax-private.h"

/* Whether circles about two bodies or parts come nearer than `apart`. */
static gboolean
come_near (double dx, double dy, double apart)
{
  return dx * dx + dy * dy < apart * apart;
}

/* The contact as it was listed before; both lists are in the same order. NULL when it is new. */
static const SbSoftContact *
find_listed (SbRelaxer *relaxer, const SbSoftContact *contact)
{
  for (; relaxer->next_listed < relaxer->listed->len; relaxer->next_listed++) {
    const SbSoftContact *before =
        &g_array_index (relaxer->listed, SbSoftContact, relaxer->next_listed);
    if (before->i == contact->i && before->j == contact->j && before->a == contact->a &&
        before->b == contact->b)
      return before;
    if (before->i > contact->i ||
        (before->i == contact->i &&
         (before->j > contact->j ||
          (before->j == contact->j &&
           (before->a > contact->a || (before->a == contact->a && before->b > contact->b))))))
      return NULL;
  }
  return NULL;
}

static void
list_parts (SbRelaxer *relaxer, guint i, guint j, double reach)
{
  const SbSoftPlace *p = &relaxer->now.places[i], *q = &relaxer->now.places[j];
  const SbSoftForm *a = relaxer->bodies[i].form, *b = relaxer->bodies[j].form;
  for (guint k = 0; k < a->n_parts; k++) {
    const SbSoftPart *on_a = &a->parts[k];
    double x = p->x + p->cos * on_a->centre_x - p->sin * on_a->centre_y,
           y = p->y + p->sin * on_a->centre_x + p->cos * on_a->centre_y;
    for (guint m = 0; m < b->n_parts; m++) {
      const SbSoftPart *on_b = &b->parts[m];
      double dx = q->x + q->cos * on_b->centre_x - q->sin * on_b->centre_y - x,
             dy = q->y + q->sin * on_b->centre_x + q->cos * on_b->centre_y - y;
      if (!come_near (dx, dy, on_a->radius + on_b->radius + reach))
        continue;
      SbSoftContact contact = {.i = i, .j = j, .a = on_a, .b = on_b};
      const SbSoftContact *before = find_listed (relaxer, &contact);
      if (before != NULL)
        contact = *before;
      else
        sb_soft_contact_find (&contact, p, q);
      g_array_append_val (relaxer->contacts, contact);
    }
  }
}

void
sb_relaxer_list_contacts (SbRelaxer *relaxer)
{
  double reach = relaxer->task->gap + SB_RELAX_AIM + relaxer->skin;
  GArray *swap = relaxer->listed;
  relaxer->listed = relaxer->contacts;
  relaxer->contacts = swap;
  g_array_set_size (relaxer->contacts, 0);
  relaxer->next_listed = 0;
  for (guint i = 0; i < relaxer->n; i++)
    for (guint j = 0; j < i; j++) {
      const SbSoftPlace *p = &relaxer->now.places[i], *q = &relaxer->now.places[j];
      const SbSoftBody *a = &relaxer->bodies[i], *b = &relaxer->bodies[j];
      if ((a->moves || b->moves) &&
          come_near (p->x - q->x, p->y - q->y, a->form->radius + b->form->radius + reach))
        list_parts (relaxer, i, j, reach);
    }
  relaxer->moved = 0;
}

/* A force on body i at a point of the page. */
static void
push (SbRelaxer *relaxer, guint i, double fx, double fy, double x, double y)
{
  SbSoftMotion *force = &relaxer->forces[i];
  const SbSoftPlace *place = &relaxer->now.places[i];
  force->x += fx;
  force->y += fy;
  force->turn += ((x - place->x) * fy - (y - place->y) * fx) / relaxer->bodies[i].arm;
}

/* The wall (nx, ny) . v <= limit pushes back what reaches past it; returns the energy. */
static double
press_wall (SbRelaxer *relaxer, guint i, guint wall, double nx, double ny, double limit)
{
  SbSoftBody *body = &relaxer->bodies[i];
  const SbSoftPlace *place = &relaxer->now.places[i];
  double centre = nx * place->x + ny * place->y;
  if (centre + body->form->radius <= limit)
    return 0;
  const SbSoftPart *hull = &body->form->hull;
  double mx = place->cos * nx + place->sin * ny, my = place->cos * ny - place->sin * nx;
  guint corner = sb_soft_part_farthest (hull, mx, my, body->farthest[wall]);
  body->farthest[wall] = corner;
  double x = place->cos * hull->x[corner] - place->sin * hull->y[corner],
         y = place->sin * hull->x[corner] + place->cos * hull->y[corner];
  double past = centre + nx * x + ny * y - limit;
  if (past <= 0)
    return 0;
  push (relaxer, i, -2 * past * nx, -2 * past * ny, place->x + x, place->y + y);
  return past * past;
}

static double
press_walls (SbRelaxer *relaxer, guint i)
{
  /* Of all poses of a shape the margin is the same. */
  double margin =
      sb_task_get_pose (relaxer->task, relaxer->placings[i].shape, 0)->margin + SB_RELAX_AIM;
  SbIBox box = relaxer->box;
  return press_wall (relaxer, i, 0, -1, 0, -box.x0 - margin) +
         press_wall (relaxer, i, 1, 0, -1, -box.y0 - margin) +
         press_wall (relaxer, i, 2, 1, 0, box.x1 - margin) +
         press_wall (relaxer, i, 3, 0, 1, box.y1 - margin);
}

double
sb_relaxer_press (SbRelaxer *relaxer)
{
  double energy = 0, gap = relaxer->task->gap + SB_RELAX_AIM;
  memset (relaxer->forces, 0, relaxer->n * sizeof (SbSoftMotion));
  if (2 * relaxer->moved > relaxer->skin)
    sb_relaxer_list_contacts (relaxer);
  for (guint k = 0; k < relaxer->contacts->len; k++) {
    SbSoftContact *contact = &g_array_index (relaxer->contacts, SbSoftContact, k);
    SbSoftPress press;
    if (!sb_soft_contact_press (contact, &relaxer->now.places[contact->i],
                                &relaxer->now.places[contact->j], gap, &press))
      continue;
    energy += press.depth * press.depth;
    double fx = 2 * press.depth * press.nx, fy = 2 * press.depth * press.ny;
    push (relaxer, contact->i, -fx, -fy, press.x, press.y);
    push (relaxer, contact->j, fx, fy, press.x, press.y);
  }
  relaxer->evaluations += relaxer->n;
  for (guint i = 0; i < relaxer->n; i++) {
    if (relaxer->bodies[i].moves)
      energy += press_walls (relaxer, i);
    else
      relaxer->forces[i] = (SbSoftMotion){0, 0, 0};
    if (!relaxer->bodies[i].turns)
      relaxer->forces[i].turn = 0;
  }
  return energy;
}
