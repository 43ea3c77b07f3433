/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The changed outline is made of knots: those of the grown outline and those that changes add. A
 * knot is a place on a grown ring and a shift away from it. Between two knots the grown curve is
 * kept, each of its control points shifted with the knot it belongs to, so that what was smooth
 * stays smooth; where knots were removed a new curve is drawn that leaves and arrives as the grown
 * one does. Private to the room. */
#pragma once

#include "border/hand.h"

G_BEGIN_DECLS

typedef struct _SbTracks SbTracks;

/* `grown` must outlive the tracks. */
SbTracks *sb_tracks_new (const SbHandChange *changes, guint n,
                         const SbOutline *grown) G_GNUC_WARN_UNUSED_RESULT;
void sb_tracks_free (SbTracks *tracks);

SbOutline *sb_tracks_build (const SbTracks *tracks) G_GNUC_WARN_UNUSED_RESULT;

/* Every knot as an SbHandPoint. */
void sb_tracks_append_points (const SbTracks *tracks, GArray *points);

/* The change that puts a point where the outline comes nearest to `near`. FALSE where there is one
 * already. */
gboolean sb_tracks_add_point (const SbTracks *tracks, SbPoint near, SbHandChange *change);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbTracks, sb_tracks_free)

G_END_DECLS
