/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/border.h"

#include <math.h>

#include "border/even.h"
#include "border/neck.h"
#include "border/shape.h"
#include "border/silhouette.h"

#define LEAST_RADIUS_MM 0.1   /* a growth is evened at least so far that the whole is this much */
#define LEAST_OPENING_MM 0.05 /* necks thinner than twice this are cut, always */
#define MOST_OPENING 0.9      /* of the width */

struct _SbGrowth {
  gatomicrefcount refs;
  SbOutline *outline;
  SbSilhouette *silhouette;
  guint n_islands;
  double bridge_mm;
  gsize neck_known;
  double neck_mm;
  SbPoint neck_at;
};

SbBorderParams
sb_border_params_default (void)
{
  return (SbBorderParams){.shape = SB_BORDER_GROWN,
                          .width_mm = 3,
                          .nook_mm = 3,
                          .spike_mm = 0.5,
                          .corner_mm = 3,
                          .tolerance_um = 5};
}

gboolean
sb_border_params_equal (const SbBorderParams *a, const SbBorderParams *b)
{
  return a->shape == b->shape && a->width_mm == b->width_mm && a->nook_mm == b->nook_mm &&
         a->spike_mm == b->spike_mm && a->corner_mm == b->corner_mm &&
         !a->keep_holes == !b->keep_holes && !a->bridge == !b->bridge &&
         a->tolerance_um == b->tolerance_um;
}

#define THIN_MM 0.006        /* the border may be thinner by this before curves are fitted */
#define CHECK_SPACING_MM 0.2 /* places of the outline that are looked at */
#define MOST_HALVED 2

/* Does the outline come too close to the artwork somewhere? It does where two growths pass each
 * other by less than the lattice can tell. */
static gboolean
is_too_close (const SbPath *path, const SbRoots *roots, double width)
{
  SbPoint last = {G_MAXDOUBLE, 0};
  for (guint i = 0; i < path->samples->len; i++) {
    const SbSample *sample = &g_array_index (path->samples, SbSample, i);
    if (fabs (sample->p.x - last.x) + fabs (sample->p.y - last.y) < CHECK_SPACING_MM)
      continue;
    last = sample->p;
    if (sb_roots_within (roots, last, width - THIN_MM))
      return TRUE;
  }
  return FALSE;
}

/* Outlines of everything within the width, evened by `nook`. The lock must be held. */
static SbPath *
grow_path (SbSilhouette *silhouette, const SbBorderParams *params, double nook)
{
  double width = params->width_mm;
  gboolean holes = params->keep_holes;
  if (width + nook < 1e-6)
    return sb_chain_to_path (silhouette->chain, holes);
  double opening = MIN (MAX (params->spike_mm, LEAST_OPENING_MM), MOST_OPENING * width);
  const SbRoots *roots = sb_silhouette_get_roots (silhouette, holes);
  for (int halved = 0;; halved++) {
    double radius = MAX (width + nook, LEAST_RADIUS_MM);
    const SbField *field = sb_silhouette_get_field (silhouette, radius, holes, halved);
    radius = MAX (radius, 2 * field->step);
    g_autoptr (SbFront) front = sb_front_new (silhouette->chain, field, roots, radius);
    SbPath *path = sb_even_front (front, width, opening);
    if (halved == MOST_HALVED || width < THIN_MM || !is_too_close (path, roots, width))
      return path;
    sb_path_free (path);
  }
}

static double
loop_area (const SbPath *path, guint start, guint end)
{
  double twice = 0;
  for (guint i = start; i < end; i++) {
    const SbSample *p = &g_array_index (path->samples, SbSample, i),
                   *q = &g_array_index (path->samples, SbSample, i + 1 < end ? i + 1 : start);
    twice += p->p.x * q->p.y - q->p.x * p->p.y;
  }
  return twice / 2;
}

static guint
count_islands (const SbPath *path)
{
  guint islands = 0, start = 0;
  for (guint l = 0; l < path->ends->len; l++) {
    guint end = g_array_index (path->ends, guint, l);
    islands += loop_area (path, start, end) > 0;
    start = end;
  }
  return islands;
}

#define BRIDGE_STEP_MM 0.01

/* The least widening of the nook that leaves one outline. */
static SbPath *
bridge_path (SbSilhouette *silhouette, const SbBorderParams *params, double *bridge)
{
  double low = 0, high = 0.5;
  SbPath *best = NULL;
  *bridge = 0;
  double most = silhouette->width_mm + silhouette->height_mm;
  while (best == NULL && high < most) {
    SbPath *path = grow_path (silhouette, params, params->nook_mm + high);
    if (count_islands (path) <= 1) {
      best = path;
      break;
    }
    sb_path_free (path);
    low = high;
    high *= 2;
  }
  while (best != NULL && high - low > BRIDGE_STEP_MM) {
    double middle = (low + high) / 2;
    SbPath *path = grow_path (silhouette, params, params->nook_mm + middle);
    if (count_islands (path) <= 1) {
      sb_path_free (best);
      best = path;
      high = middle;
    } else {
      sb_path_free (path);
      low = middle;
    }
  }
  if (best != NULL)
    *bridge = high;
  return best;
}

SbGrowth *
sb_border_grow (SbSilhouette *silhouette, const SbBorderParams *params, GCancellable *cancellable,
                GError **error)
{
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  SbBorderParams p = *params;
  p.width_mm = CLAMP (p.width_mm, 0, 25);
  p.nook_mm = CLAMP (p.nook_mm, 0, 25);
  p.spike_mm = CLAMP (p.spike_mm, 0, 25);
  p.corner_mm = CLAMP (p.corner_mm, 0, 750);
  p.tolerance_um = CLAMP (p.tolerance_um, 0.1, 1000);
  double bridge = 0;
  SbPath *path;
  if (p.shape == SB_BORDER_GROWN) {
    g_mutex_lock (&silhouette->lock);
    path = grow_path (silhouette, &p, p.nook_mm);
    if (p.bridge && count_islands (path) > 1) {
      SbPath *bridged = bridge_path (silhouette, &p, &bridge);
      if (bridged != NULL) {
        sb_path_free (path);
        path = bridged;
      }
    }
    g_mutex_unlock (&silhouette->lock);
  } else {
    path = sb_shape_path (silhouette->chain, &p);
  }

  SbGrowth *growth = g_new0 (SbGrowth, 1);
  g_atomic_ref_count_init (&growth->refs);
  growth->outline = sb_path_fit (path, p.tolerance_um / 1000, p.nook_mm);
  growth->silhouette = sb_silhouette_ref (silhouette);
  growth->n_islands = count_islands (path);
  growth->bridge_mm = bridge;
  sb_path_free (path);
  return growth;
}

SbGrowth *
sb_growth_ref (SbGrowth *growth)
{
  g_atomic_ref_count_inc (&growth->refs);
  return growth;
}

void
sb_growth_unref (SbGrowth *growth)
{
  if (growth == NULL || !g_atomic_ref_count_dec (&growth->refs))
    return;
  sb_outline_unref (growth->outline);
  sb_silhouette_unref (growth->silhouette);
  g_free (growth);
}

SbOutline *
sb_growth_get_outline (const SbGrowth *growth)
{
  return growth->outline;
}

SbOutline *
sb_growth_get_artwork (const SbGrowth *growth)
{
  return sb_silhouette_get_artwork (growth->silhouette);
}

guint
sb_growth_get_n_islands (const SbGrowth *growth)
{
  return growth->n_islands;
}

double
sb_growth_get_bridge_mm (const SbGrowth *growth)
{
  return growth->bridge_mm;
}

double
sb_growth_get_neck_mm (const SbGrowth *growth, SbPoint *where)
{
  /* Worked out when first asked for: a slider does not need it. */
  SbGrowth *self = (SbGrowth *)growth;
  if (g_once_init_enter (&self->neck_known)) {
    self->neck_mm = sb_neck_find (growth->outline, &self->neck_at);
    g_once_init_leave (&self->neck_known, 1);
  }
  if (where != NULL)
    *where = growth->neck_at;
  return growth->neck_mm;
}
