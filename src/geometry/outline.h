/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * An outline: the closed curves along which a sticker is cut, as rings of straight legs and cubic
 * curves in millimetres. Immutable and reference-counted; may be used from any thread. An outer
 * ring has a positive area (clockwise on the screen), a hole a negative one. */
#pragma once

#include "geometry/point.h"
#include "geometry/polygon.h"

G_BEGIN_DECLS

typedef struct {
  gboolean straight; /* a leg to `end`; c1 and c2 are then unused */
  SbPoint c1, c2, end;
} SbCurve;

typedef struct {
  SbPoint start; /* equal to the last curve's end */
  guint n_curves;
  const SbCurve *curves;
} SbRing;

typedef struct _SbOutline SbOutline;
typedef struct _SbOutlineBuilder SbOutlineBuilder;

/* Builder: move_to begins a ring; close ends it with a straight leg where the last point is not the
 * first. Rings of fewer than two curves, of no area or with a coordinate that is not finite or
 * past SB_UM_MOST are dropped. */
SbOutlineBuilder *sb_outline_builder_new (void);
void sb_outline_builder_move_to (SbOutlineBuilder *builder, SbPoint p);
void sb_outline_builder_line_to (SbOutlineBuilder *builder, SbPoint p);
void sb_outline_builder_curve_to (SbOutlineBuilder *builder, SbPoint c1, SbPoint c2, SbPoint end);
void sb_outline_builder_close (SbOutlineBuilder *builder);
/* Consumes the builder. */
SbOutline *sb_outline_builder_end (SbOutlineBuilder *builder) G_GNUC_WARN_UNUSED_RESULT;
void sb_outline_builder_free (SbOutlineBuilder *builder);

SbOutline *sb_outline_ref (SbOutline *outline);
void sb_outline_unref (SbOutline *outline);

guint sb_outline_get_n_rings (const SbOutline *outline);
const SbRing *sb_outline_get_ring (const SbOutline *outline, guint i);

/* The exact box of the curves (extremes solved, not control points). */
SbBox sb_outline_get_box (const SbOutline *outline);

/* Exact area of the curves in mm2 (Green's theorem on each cubic), holes taken off. */
double sb_outline_get_area_mm2 (const SbOutline *outline);

/* Length of all rings in mm, to 1e-6 of itself. */
double sb_outline_get_perimeter_mm (const SbOutline *outline);

SbOutline *sb_outline_transform (const SbOutline *outline, SbTransform t) G_GNUC_WARN_UNUSED_RESULT;

/* The outline after `t` as integer polygons, each vertex rounded once; no point of the curves lies
 * farther than `tolerance_um` (2..1000, beside the rounding) from the polygon. */
SbPolygon *sb_outline_flatten (const SbOutline *outline, SbTransform t,
                               double tolerance_um) G_GNUC_WARN_UNUSED_RESULT;

/* SVG path data in absolute M, L, C and Z with 4 decimals (0.1 um), user unit 1 mm, whatever the
 * locale. Free with g_free. */
char *sb_outline_to_svg (const SbOutline *outline) G_GNUC_WARN_UNUSED_RESULT;
char *sb_ring_to_svg (const SbRing *ring) G_GNUC_WARN_UNUSED_RESULT;

/* Reads what sb_outline_to_svg wrote (M, L, C, Z, absolute). NULL and `error`
 * (SB_MEASURE_ERROR_SYNTAX) on anything else. */
SbOutline *sb_outline_from_svg (const char *path, GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbOutline, sb_outline_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbOutlineBuilder, sb_outline_builder_free)

G_END_DECLS
