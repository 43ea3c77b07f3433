/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which point of the artwork's edge is nearest to a place. Private to the room. */
#pragma once

#include "border/chain.h"

G_BEGIN_DECLS

typedef struct _SbRoots SbRoots;

/* An index of the chain's points; the chain must outlive it. */
SbRoots *sb_roots_new (const SbChain *chain, gboolean with_holes) G_GNUC_WARN_UNUSED_RESULT;
void sb_roots_free (SbRoots *roots);

/* The point nearest to `p` among those around `guess`, or, when none of them lies within `most`
 * (mm) of `p`, among all that do. G_MAXUINT when there is none. */
guint sb_roots_near (const SbRoots *roots, SbPoint p, SbPoint guess, double most);

/* The nearest point of all within `most` of `p`; slower. */
guint sb_roots_nearest (const SbRoots *roots, SbPoint p, double most);

/* Is any point nearer to `p` than `distance`? */
gboolean sb_roots_within (const SbRoots *roots, SbPoint p, double distance);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbRoots, sb_roots_free)

G_END_DECLS
