/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/border.h"

#include <math.h>

#include "border/even.h"
#include "border/neck.h"
#include "border/shape.h"
#include "border/silhouette.h"
#include "border/verify.h"

#define LEAST_RADIUS_MM 0.1 /* a growth is evened at least so far that the whole is this much */
#define LEAST_WIDTH_MM                                                                             \
  0.0005                      /* even no border is this wide, so that its parts can be told apart  \
                               */
#define LEAST_OPENING_MM 0.05 /* necks thinner than twice this are cut, always */
#define MOST_OPENING 0.9      /* of the width */

struct _SbGrowth {
  gatomicrefcount refs;
  SbOutline *grown;   /* by the border */
  SbOutline *outline; /* changed by hand */
  guint left_out;
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

/* Ways to make an outline, each surer and less smooth than the one before. */
typedef struct {
  gboolean as_is;   /* no border and no nook: the artwork's own edge */
  gboolean plain;   /* the edge as points */
  double tolerance; /* of what is asked for */
  double opening;   /* likewise */
} Way;

static const Way ways[] = {{TRUE, FALSE, 1, 0},        {FALSE, FALSE, 1, 1},
                           {FALSE, TRUE, 1, 1},        {FALSE, TRUE, 0.002, 1},
                           {FALSE, TRUE, 0.002, 0.25}, {FALSE, TRUE, 0.002, 0}};

/* Outlines of everything within the width, evened by `nook`. NULL when this way does not work. */
static SbPath *
grow_path (SbSilhouette *silhouette, const SbBorderParams *params, double nook, const Way *way)
{
  double width = MAX (params->width_mm, LEAST_WIDTH_MM),
         radius = MAX (width + nook, LEAST_RADIUS_MM);
  double opening = MIN (MAX (params->spike_mm, LEAST_OPENING_MM), MOST_OPENING * width);
  if (way->as_is)
    return params->width_mm + nook > 0 ? NULL
                                       : sb_chain_to_path (silhouette->chain, params->keep_holes);
  const SbCells *cells = sb_silhouette_get_cells (silhouette, params->keep_holes);
  g_autoptr (SbFront) front =
      sb_front_new (silhouette->chain, cells, radius, params->keep_holes, way->plain);
  return sb_even_front (front, width, way->opening * opening);
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

/* How many outlines there are with a nook of so much more. */
static guint
islands_with (SbSilhouette *silhouette, const SbBorderParams *params, double more)
{
  guint islands = 0;
  for (guint i = 0; i < G_N_ELEMENTS (ways) && islands == 0; i++) {
    g_autoptr (SbPath) path = grow_path (silhouette, params, params->nook_mm + more, &ways[i]);
    islands = path != NULL ? count_islands (path) : 0;
  }
  return islands;
}

/* The least widening of the nook that leaves one outline; 0 when none does. */
static double
find_bridge (SbSilhouette *silhouette, const SbBorderParams *params, GCancellable *cancellable)
{
  double low = 0, high = 0.5, most = silhouette->width_mm + silhouette->height_mm;
  if (islands_with (silhouette, params, 0) <= 1)
    return 0;
  while (islands_with (silhouette, params, high) > 1) {
    low = high;
    high *= 2;
    if (high > most || g_cancellable_is_cancelled (cancellable))
      return 0;
  }
  while (high - low > BRIDGE_STEP_MM && !g_cancellable_is_cancelled (cancellable)) {
    double middle = (low + high) / 2;
    if (islands_with (silhouette, params, middle) <= 1)
      high = middle;
    else
      low = middle;
  }
  return high;
}

static void
take_outline (SbGrowth *growth, const SbPath *path, double tolerance, double nook)
{
  g_clear_pointer (&growth->outline, sb_outline_unref);
  growth->outline = sb_path_fit (path, tolerance, nook);
  growth->n_islands = count_islands (path);
}

static gboolean
is_good (const SbGrowth *growth, const SbBorderParams *params)
{
  guint rings = sb_outline_get_n_rings (growth->outline), islands = growth->n_islands;
  return islands > 0 && (params->keep_holes ? rings >= islands : rings == islands) &&
         sb_verify_nooks (growth->outline, params->nook_mm) && sb_verify_simple (growth->outline);
}

/* Tries one way after the other until the outline is fit to be cut. The convex hull always is. When
 * cancelled there may be none. */
static void
grow_outline (SbGrowth *growth, const SbBorderParams *params, GCancellable *cancellable)
{
  SbSilhouette *silhouette = growth->silhouette;
  double tolerance = params->tolerance_um / 1000, nook = params->nook_mm;
  growth->bridge_mm = params->bridge ? find_bridge (silhouette, params, cancellable) : 0;
  for (guint i = 0; i < G_N_ELEMENTS (ways); i++) {
    if (g_cancellable_is_cancelled (cancellable))
      return;
    g_autoptr (SbPath) path = grow_path (silhouette, params, nook + growth->bridge_mm, &ways[i]);
    if (path == NULL)
      continue;
    take_outline (growth, path, tolerance * ways[i].tolerance, nook);
    if (is_good (growth, params))
      return;
  }
  SbBorderParams convex = *params;
  convex.shape = SB_BORDER_HULL;
  g_autoptr (SbPath) hull = sb_shape_path (silhouette->chain, &convex);
  take_outline (growth, hull, tolerance, 0);
}

static SbGrowth *
new_growth (SbSilhouette *silhouette)
{
  SbGrowth *growth = g_new0 (SbGrowth, 1);
  g_atomic_ref_count_init (&growth->refs);
  growth->silhouette = sb_silhouette_ref (silhouette);
  return growth;
}

SbGrowth *
sb_border_grow (SbSilhouette *silhouette, const SbBorderParams *params, GCancellable *cancellable,
                GError **error)
{
  if (g_cancellable_set_error_if_cancelled (cancellable, error) ||
      !sb_silhouette_measure (silhouette, cancellable, error))
    return NULL;
  SbBorderParams p = *params;
  p.width_mm = CLAMP (p.width_mm, 0, 25);
  p.nook_mm = CLAMP (p.nook_mm, 0, 25);
  p.spike_mm = CLAMP (p.spike_mm, 0, 25);
  p.corner_mm = CLAMP (p.corner_mm, 0, 750);
  p.tolerance_um = CLAMP (p.tolerance_um, 0.1, 1000);
  SbGrowth *growth = new_growth (silhouette);
  if (p.shape == SB_BORDER_GROWN) {
    grow_outline (growth, &p, cancellable);
  } else {
    g_autoptr (SbPath) path = sb_shape_path (silhouette->chain, &p);
    take_outline (growth, path, p.tolerance_um / 1000, p.nook_mm);
  }
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    g_clear_pointer (&growth, sb_growth_unref);
  else
    growth->grown = sb_outline_ref (growth->outline);
  return growth;
}

SbGrowth *
sb_growth_change (const SbGrowth *growth, const SbHand *hand)
{
  SbGrowth *changed = new_growth (growth->silhouette);
  changed->grown = sb_outline_ref (growth->grown);
  changed->outline = sb_hand_apply (hand, growth->grown, &changed->left_out);
  changed->n_islands = growth->n_islands;
  changed->bridge_mm = growth->bridge_mm;
  return changed;
}

SbGrowth *
sb_growth_new_known (SbSilhouette *silhouette, SbOutline *grown, guint n_islands, double bridge_mm)
{
  SbGrowth *growth = new_growth (silhouette);
  growth->grown = sb_outline_ref (grown);
  growth->outline = sb_outline_ref (grown);
  growth->n_islands = n_islands;
  growth->bridge_mm = bridge_mm;
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
  g_clear_pointer (&growth->grown, sb_outline_unref);
  g_clear_pointer (&growth->outline, sb_outline_unref);
  sb_silhouette_unref (growth->silhouette);
  g_free (growth);
}

SbOutline *
sb_growth_get_outline (const SbGrowth *growth)
{
  return growth->outline;
}

SbOutline *
sb_growth_get_grown (const SbGrowth *growth)
{
  return growth->grown;
}

guint
sb_growth_get_left_out (const SbGrowth *growth)
{
  return growth->left_out;
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
