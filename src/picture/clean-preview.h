/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A clean-up shown while its recipe changes: the picture is decoded once, at the size it is shown
 * at, and what a change leaves is kept. */
#pragma once

#include "picture/picture.h"

G_BEGIN_DECLS

typedef struct _SbCleanPreview SbCleanPreview;

/* Of `picture` as it came in (where it is cleaned: of what it was cleaned from), its longest side
 * `most_side` px or its own, whichever is less; 0: its own, which gives the result at full
 * resolution. Decodes: slow, run it in a thread. NULL with an error; a vector is one. */
SbCleanPreview *sb_clean_preview_new (SbPicture *picture, int most_side, GCancellable *cancellable,
                                      GError **error) G_GNUC_WARN_UNUSED_RESULT;
void sb_clean_preview_free (SbCleanPreview *preview);

/* The picture before the clean-up: the whole of it, at the preview's scale. Borrowed. */
cairo_surface_t *sb_clean_preview_get_before (const SbCleanPreview *preview);

/* Cleaned by `recipe`; `px_per_mm` is as for sb_picture_clean. For one thread at a time, which may
 * be another each time. A first run, and one after a change of the frame, the paper or the light,
 * takes longer than one after a change of anything else. NULL with an error: cancelled, no
 * memory. */
SbCleanResult *sb_clean_preview_run (SbCleanPreview *preview, const SbCleanup *recipe,
                                     double px_per_mm, SbProgress progress, gpointer progress_data,
                                     GCancellable *cancellable,
                                     GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbCleanPreview, sb_clean_preview_free)

G_END_DECLS
