/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Copied pieces: what goes on the clipboard and comes back, into the same job or another one. */
#pragma once

#include <glib-object.h>

#include "job/edit.h"

G_BEGIN_DECLS

#define SB_TYPE_PIECE_CLIP (sb_piece_clip_get_type ())

typedef struct _SbPieceClip SbPieceClip;
GType sb_piece_clip_get_type (void);

/* The pieces as they lie in `state`, which is kept. */
SbPieceClip *sb_piece_clip_new (SbState *state, const guint *ids,
                                guint n) G_GNUC_WARN_UNUSED_RESULT;
SbPieceClip *sb_piece_clip_copy (const SbPieceClip *clip);
void sb_piece_clip_free (SbPieceClip *clip);

guint sb_piece_clip_get_n (const SbPieceClip *clip);

/* Puts copies on a page of `state`, a little aside of where pieces of the same design already lie.
 * Designs that the job does not have are brought along. The new ids are appended to `ids`. */
SbState *sb_piece_clip_paste (const SbPieceClip *clip, const SbState *state, guint page,
                              GArray *ids);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbPieceClip, sb_piece_clip_free)

G_END_DECLS
