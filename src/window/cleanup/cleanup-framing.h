/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A bar above the picture for what is done with handles: cropping, taking the slant out of a photo,
 * turning a line level, and setting the size from a known length. Nothing changes before *Apply*.
 *
 * Signal "ended" when the handles are put away, applied or not. */
#pragma once

#include "window/cleanup/cleanup-session.h"
#include "window/cleanup/cleanup-view.h"

G_BEGIN_DECLS

#define SB_TYPE_CLEANUP_FRAMING (sb_cleanup_framing_get_type ())
G_DECLARE_FINAL_TYPE (SbCleanupFraming, sb_cleanup_framing, SB, CLEANUP_FRAMING, GtkWidget)

typedef enum {
  SB_CLEANUP_FRAMING_CROP,
  SB_CLEANUP_FRAMING_CORNERS,
  SB_CLEANUP_FRAMING_LEVEL,
  SB_CLEANUP_FRAMING_LENGTH,
} SbCleanupFramingKind;

/* Hidden until it starts. Both are kept; the handles are shown in `view`. */
GtkWidget *sb_cleanup_framing_new (SbCleanupSession *session, SbCleanupView *view);

/* Shows the bar, and handles in the view. Nothing happens while there is no preview. */
void sb_cleanup_framing_start (SbCleanupFraming *self, SbCleanupFramingKind kind);
/* Puts the handles away without applying them. */
void sb_cleanup_framing_stop (SbCleanupFraming *self);
gboolean sb_cleanup_framing_is_active (SbCleanupFraming *self);

G_END_DECLS
