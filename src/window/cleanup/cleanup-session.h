/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One design while it is cleaned: the newest recipe, and how its picture looks by it. A preview of
 * few pixels is made anew in a thread at every change, the newest one only; the job gets the change
 * through the desk's changer, which measures at full resolution. Main thread only.
 *
 * Signals: "changed" when the recipe, the name or the size is another one; "pixels" when there is
 * something new to show; "gone" when the design is no more; "failed" (const char *reason) when its
 * picture cannot be read. */
#pragma once

#include "picture/clean-preview.h"
#include "window/desk/desk.h"
#include "window/pictures/pixels.h"

G_BEGIN_DECLS

#define SB_TYPE_CLEANUP_SESSION (sb_cleanup_session_get_type ())
G_DECLARE_FINAL_TYPE (SbCleanupSession, sb_cleanup_session, SB, CLEANUP_SESSION, GObject)

/* For a bitmap design of the desk's job; begins to make its preview. */
SbCleanupSession *sb_cleanup_session_new (SbDesk *desk, guint design_id) G_GNUC_WARN_UNUSED_RESULT;

SbDesk *sb_cleanup_session_get_desk (SbCleanupSession *self); /* borrowed */
guint sb_cleanup_session_get_design_id (SbCleanupSession *self);
/* The newest settings; borrowed until the next "changed". */
SbDesign *sb_cleanup_session_get_design (SbCleanupSession *self);

/* A copy to change, then the changed copy (consumed) and the step's translated name, which takes
 * the design's name. `own_step` as for sb_design_changer_end_slow. */
SbDesign *sb_cleanup_session_begin (SbCleanupSession *self) G_GNUC_WARN_UNUSED_RESULT;
void sb_cleanup_session_end (SbCleanupSession *self, SbDesign *copy, const char *format,
                             gboolean own_step);
/* Both for a recipe, which is copied. */
void sb_cleanup_session_set_recipe (SbCleanupSession *self, const SbCleanup *recipe,
                                    const char *format, gboolean own_step);

/* What the newest finished preview gave; NULL until there is one. Borrowed until "pixels". */
SbCleanResult *sb_cleanup_session_get_result (SbCleanupSession *self);
/* The same for what was found small: at the picture's own resolution as soon as the job has the
 * newest recipe, for a preview has too few pixels for all of it. Has no surface. */
SbCleanResult *sb_cleanup_session_get_specks (SbCleanupSession *self);
/* The same part of the picture before and after; NULL until there is one. Where the job has the
 * newest recipe, `after` has as many pixels as `px` (the longest side) asks for, as soon as they
 * are there. Borrowed. */
SbPixels *sb_cleanup_session_get_before (SbCleanupSession *self, int px);
SbPixels *sb_cleanup_session_get_after (SbCleanupSession *self, int px);
/* All of the picture that came in, without its frame. Borrowed, or NULL. */
SbPixels *sb_cleanup_session_get_whole (SbCleanupSession *self);

/* The colour (sRGB) about a place of what is shown before, in parts of its width. FALSE where there
 * is none. */
gboolean sb_cleanup_session_pick (SbCleanupSession *self, double x, double y, guint8 colour[3]);

/* Whether the preview is behind the recipe. */
gboolean sb_cleanup_session_is_busy (SbCleanupSession *self);

G_END_DECLS
