/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Border growth: from a picture's coverage to the outline a sticker is cut along.
 *
 *   picture -> silhouette (edge found, specks dropped, Voronoi cells; kept per picture and size)
 *           -> growth (grow by width + nook, shrink by nook, holes filled, curves fitted)
 *
 * Outlines are in millimetres in the artwork's frame: its top left corner is 0,0. */
#pragma once

#include "border/hand.h"
#include "picture/picture.h"

G_BEGIN_DECLS

#define SB_BORDER_ERROR (sb_border_error_quark ())
GQuark sb_border_error_quark (void);
typedef enum {
  SB_BORDER_ERROR_EMPTY, /* nothing visible in the picture */
  SB_BORDER_ERROR_SIZE,  /* size out of range */
} SbBorderError;

/* What counts as artwork. Crisp edges are found where they are, whatever the threshold; it decides
 * where coverage fades out slowly: a shadow fainter than it is not artwork. */
typedef struct {
  double threshold;       /* coverage 0..1 from which a pixel is artwork; 0.5 */
  double speck_mm;        /* islands smaller than this across are dropped; 0.5 (handbook 6.7) */
  double paper_tolerance; /* pictures without alpha: Lab distance to the paper's colour; 10 */
} SbSilhouetteParams;

SbSilhouetteParams sb_silhouette_params_default (void);

typedef struct _SbSilhouette SbSilhouette;

/* Measures `picture` printed at width_mm x height_mm (0.5..1500). Slow: decodes. The result does
 * not depend on the border, so it is kept while border settings change. */
SbSilhouette *sb_silhouette_new (const SbPicture *picture, double width_mm, double height_mm,
                                 const SbSilhouetteParams *params, GCancellable *cancellable,
                                 GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* One whose outlines are known already, from an earlier sb_silhouette_new with the same arguments:
 * its softness and its artwork's edge. Fast: the picture is measured when a border is grown. */
SbSilhouette *sb_silhouette_new_known (SbPicture *picture, double width_mm, double height_mm,
                                       const SbSilhouetteParams *params, double softness,
                                       SbOutline *artwork) G_GNUC_WARN_UNUSED_RESULT;
SbSilhouette *sb_silhouette_ref (SbSilhouette *silhouette);
void sb_silhouette_unref (SbSilhouette *silhouette);

/* How far the artwork's edge fades, in partly covered pixels a step along it: 0.8 for crisp art;
 * above SB_SOFTNESS_ASK there is a feathered edge or a soft shadow, and it is worth asking from
 * which coverage on it counts as artwork. */
#define SB_SOFTNESS_ASK 3.0
double sb_silhouette_get_softness (const SbSilhouette *silhouette);

typedef enum {
  SB_BORDER_GROWN,   /* an even margin around the artwork */
  SB_BORDER_BOX,     /* a rectangle with rounded corners around the artwork */
  SB_BORDER_ROUND,   /* the smallest circle around the artwork */
  SB_BORDER_ELLIPSE, /* an ellipse around the artwork's box */
  SB_BORDER_HULL,    /* the convex hull */
} SbBorderShape;

typedef struct {
  SbBorderShape shape;
  double width_mm;     /* border growth, 0..25; 3.0 (handbook 4.1) */
  double nook_mm;      /* tightest inward bend, 0..25; 3.0, the limit of small scissors (4.2) */
  double spike_mm;     /* outward rounding (opening), 0 = off */
  double corner_mm;    /* corner radius of SB_BORDER_BOX */
  gboolean keep_holes; /* keep holes inside the outline */
  gboolean bridge;     /* widen the growth until one outline remains */
  double tolerance_um; /* curve fitting; 5 */
} SbBorderParams;

SbBorderParams sb_border_params_default (void);
gboolean sb_border_params_equal (const SbBorderParams *a, const SbBorderParams *b);

/* Result of one growth. */
typedef struct _SbGrowth SbGrowth;

SbGrowth *sb_border_grow (SbSilhouette *silhouette, const SbBorderParams *params,
                          GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* A growth that is known already, from an earlier sb_border_grow of the same silhouette. */
SbGrowth *sb_growth_new_known (SbSilhouette *silhouette, SbOutline *grown, guint n_islands,
                               double bridge_mm) G_GNUC_WARN_UNUSED_RESULT;
SbGrowth *sb_growth_ref (SbGrowth *growth);
void sb_growth_unref (SbGrowth *growth);

/* The same growth with these changes by hand, and none besides; fast. New. */
SbGrowth *sb_growth_change (const SbGrowth *growth, const SbHand *hand) G_GNUC_WARN_UNUSED_RESULT;

/* The cut line: outer rings first. */
SbOutline *sb_growth_get_outline (const SbGrowth *growth);
/* The cut line as it was before changes by hand. */
SbOutline *sb_growth_get_grown (const SbGrowth *growth);
/* How many of the changes by hand this outline does not bear. */
guint sb_growth_get_left_out (const SbGrowth *growth);
/* The visible artwork itself (growth 0, no nook): what the proof must not lose. */
SbOutline *sb_growth_get_artwork (const SbGrowth *growth);
/* How many separate outlines there are; 1 is the usual sticker. */
guint sb_growth_get_n_islands (const SbGrowth *growth);
/* Extra width that `bridge` took, mm; 0 when none. */
double sb_growth_get_bridge_mm (const SbGrowth *growth);
/* The thinnest neck of the outline, mm (G_MAXDOUBLE when none is under 8 mm), and where. */
double sb_growth_get_neck_mm (const SbGrowth *growth, SbPoint *where);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbSilhouette, sb_silhouette_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbGrowth, sb_growth_unref)

G_END_DECLS
