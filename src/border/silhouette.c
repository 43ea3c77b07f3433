/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "border/silhouette.h"

#include <glib/gi18n.h>
#include <math.h>

#define ARTWORK_FIT_MM 0.01

G_DEFINE_QUARK (sb_border_error, sb_border_error)

SbSilhouetteParams
sb_silhouette_params_default (void)
{
  return (SbSilhouetteParams){.threshold = 0.5, .speck_mm = 0.5, .paper_tolerance = 10};
}

static gboolean
ring_contains (const SbChain *chain, const SbChainRing *ring, SbPoint p)
{
  gboolean in = FALSE;
  if (p.x < ring->box.x0 || p.x > ring->box.x1 || p.y < ring->box.y0 || p.y > ring->box.y1)
    return FALSE;
  for (guint i = ring->first, j = ring->first + ring->n - 1; i < ring->first + ring->n; j = i++) {
    SbPoint a = chain->points[i], b = chain->points[j];
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) * (b.x - a.x) / (b.y - a.y))
      in = !in;
  }
  return in;
}

/* An island inside a hole of another, which counts as filled. */
static gboolean
is_enclosed (const SbChain *chain, const SbChainRing *ring)
{
  for (guint r = 0; r < chain->n_rings; r++) {
    const SbChainRing *other = &chain->rings[r];
    if (other != ring && !other->hole && other->area > ring->area &&
        ring_contains (chain, other, chain->points[ring->first]))
      return TRUE;
  }
  return FALSE;
}

static SbPoint
tangent_between (SbPoint a, SbPoint b)
{
  double dx = b.x - a.x, dy = b.y - a.y, l = sqrt (dx * dx + dy * dy);
  return l > 0 ? (SbPoint){dx / l, dy / l} : (SbPoint){1, 0};
}

SbPath *
sb_chain_to_path (const SbChain *chain, gboolean holes)
{
  SbPath *path = sb_path_new ();
  for (guint r = 0; r < chain->n_rings; r++) {
    const SbChainRing *ring = &chain->rings[r];
    if (ring->n == 1 || (!holes && (ring->hole || is_enclosed (chain, ring))))
      continue;
    for (guint i = ring->first; i < ring->first + ring->n; i++) {
      guint before = sb_chain_previous (chain, i), after = sb_chain_next (chain, i);
      SbPoint p = chain->points[i];
      if (chain->is_corner[i]) {
        sb_path_add (path, p, tangent_between (chain->points[before], p));
        sb_path_add (path, p, tangent_between (p, chain->points[after]));
        continue;
      }
      if (!chain->is_corner[before])
        before = sb_chain_previous (chain, before);
      if (!chain->is_corner[after])
        after = sb_chain_next (chain, after);
      sb_path_add (path, p, tangent_between (chain->points[before], chain->points[after]));
    }
    sb_path_close (path);
  }
  return path;
}

static SbSilhouette *
new_silhouette (double width_mm, double height_mm, const SbSilhouetteParams *params)
{
  SbSilhouette *silhouette = g_new0 (SbSilhouette, 1);
  g_atomic_ref_count_init (&silhouette->refs);
  g_mutex_init (&silhouette->chain_lock);
  g_mutex_init (&silhouette->lock);
  silhouette->width_mm = width_mm;
  silhouette->height_mm = height_mm;
  silhouette->params = *params;
  return silhouette;
}

/* Takes over `coverage`. */
static gboolean
take_chain (SbSilhouette *silhouette, SbCoverage *coverage, GError **error)
{
  const SbSilhouetteParams *params = &silhouette->params;
  SbChain *chain = sb_chain_trace (coverage, silhouette->width_mm, silhouette->height_mm,
                                   params->threshold, params->speck_mm);
  sb_coverage_free (coverage);
  if (chain == NULL) {
    g_set_error (error, SB_BORDER_ERROR, SB_BORDER_ERROR_EMPTY,
                 _ ("Nothing in the picture is more than %.0f %% opaque"), params->threshold * 100);
    return FALSE;
  }
  silhouette->chain = chain;
  silhouette->softness = chain->softness;
  return TRUE;
}

SbSilhouette *
sb_silhouette_from_coverage (SbCoverage *coverage, double width_mm, double height_mm,
                             const SbSilhouetteParams *params, GError **error)
{
  g_autoptr (SbSilhouette) silhouette = new_silhouette (width_mm, height_mm, params);
  return take_chain (silhouette, coverage, error) ? g_steal_pointer (&silhouette) : NULL;
}

SbSilhouette *
sb_silhouette_new_known (SbPicture *picture, double width_mm, double height_mm,
                         const SbSilhouetteParams *params, double softness, SbOutline *artwork)
{
  SbSilhouette *silhouette = new_silhouette (width_mm, height_mm, params);
  silhouette->picture = sb_picture_ref (picture);
  silhouette->softness = softness;
  silhouette->artwork = sb_outline_ref (artwork);
  return silhouette;
}

gboolean
sb_silhouette_measure (SbSilhouette *silhouette, GCancellable *cancellable, GError **error)
{
  g_mutex_lock (&silhouette->chain_lock);
  if (silhouette->chain == NULL) {
    SbCoverage *coverage =
        sb_coverage_read (silhouette->picture, silhouette->width_mm, silhouette->height_mm,
                          &silhouette->params, cancellable, error);
    if (coverage != NULL && take_chain (silhouette, coverage, error))
      g_clear_pointer (&silhouette->picture, sb_picture_unref);
  }
  gboolean measured = silhouette->chain != NULL;
  g_mutex_unlock (&silhouette->chain_lock);
  return measured;
}

SbOutline *
sb_silhouette_get_artwork (SbSilhouette *silhouette)
{
  g_mutex_lock (&silhouette->lock);
  if (silhouette->artwork == NULL) {
    g_autoptr (SbPath) path = sb_chain_to_path (silhouette->chain, FALSE);
    silhouette->artwork = sb_path_fit (path, ARTWORK_FIT_MM, 0);
  }
  g_mutex_unlock (&silhouette->lock);
  return silhouette->artwork;
}

SbSilhouette *
sb_silhouette_new (const SbPicture *picture, double width_mm, double height_mm,
                   const SbSilhouetteParams *params, GCancellable *cancellable, GError **error)
{
  if (!(width_mm >= 0.5 && width_mm <= 1500 && height_mm >= 0.5 && height_mm <= 1500)) {
    g_set_error (error, SB_BORDER_ERROR, SB_BORDER_ERROR_SIZE,
                 _ ("Artwork must be between 0.5 and 1500 mm on each side; this is %.1f x %.1f mm"),
                 width_mm, height_mm);
    return NULL;
  }
  SbCoverage *coverage =
      sb_coverage_read (picture, width_mm, height_mm, params, cancellable, error);
  if (coverage == NULL)
    return NULL;
  return sb_silhouette_from_coverage (coverage, width_mm, height_mm, params, error);
}

double
sb_silhouette_get_softness (const SbSilhouette *silhouette)
{
  return silhouette->softness;
}

SbSilhouette *
sb_silhouette_ref (SbSilhouette *silhouette)
{
  g_atomic_ref_count_inc (&silhouette->refs);
  return silhouette;
}

void
sb_silhouette_unref (SbSilhouette *silhouette)
{
  if (silhouette == NULL || !g_atomic_ref_count_dec (&silhouette->refs))
    return;
  sb_cells_free (silhouette->cells[0]);
  sb_cells_free (silhouette->cells[1]);
  sb_chain_free (silhouette->chain);
  g_clear_pointer (&silhouette->picture, sb_picture_unref);
  g_clear_pointer (&silhouette->artwork, sb_outline_unref);
  g_mutex_clear (&silhouette->chain_lock);
  g_mutex_clear (&silhouette->lock);
  g_free (silhouette);
}

const SbCells *
sb_silhouette_get_cells (SbSilhouette *silhouette, gboolean holes)
{
  SbCells **cells = &silhouette->cells[holes ? 1 : 0];
  g_mutex_lock (&silhouette->lock);
  if (*cells == NULL)
    *cells = sb_cells_new (silhouette->chain, holes);
  g_mutex_unlock (&silhouette->lock);
  return *cells;
}
