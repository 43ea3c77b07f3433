/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Takes changed settings of a design to the job. What has to be measured again is measured in a
 * thread; meanwhile newer settings may come, and only the newest are worked on next, so that a
 * slider is followed as fast as borders grow. Results are shown as previews; a pause settles them
 * as one step of history. Other edits of the job go on meanwhile; one of the same design wins over
 * what is on its way for it. Main thread only.
 *
 * Signals: "failed" (const char *reason) when the settings cannot be: the design stays as it was;
 * "settled" when nothing is on its way any more; "taken" when what sb_design_changer_begin gives is
 * another one. */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

#define SB_TYPE_DESIGN_CHANGER (sb_design_changer_get_type ())
G_DECLARE_FINAL_TYPE (SbDesignChanger, sb_design_changer, SB, DESIGN_CHANGER, GObject)

/* For the designs of `job`, which is kept. */
SbDesignChanger *sb_design_changer_new (SbJob *job) G_GNUC_WARN_UNUSED_RESULT;

/* A copy to change: of the settings on their way, else of the design as it is. NULL when there is
 * no such design. */
SbDesign *sb_design_changer_begin (SbDesignChanger *self,
                                   guint design_id) G_GNUC_WARN_UNUSED_RESULT;

/* The changed copy (consumed) and the step's name, a translated format that takes the design's.
 * `live`: more is likely to follow at once (a slider). */
void sb_design_changer_end (SbDesignChanger *self, SbDesign *copy, const char *format,
                            gboolean live);

/* The same for settings that take long to measure and are shown in another way until they are:
 * nothing is previewed. With `own_step` they are one step of history, however soon the next follow;
 * else they are measured after a pause, and those of one name that come without one are a single
 * step. */
void sb_design_changer_end_slow (SbDesignChanger *self, SbDesign *copy, const char *format,
                                 gboolean own_step);

/* Drops the newest settings that are not in the job yet. FALSE when there are none. */
gboolean sb_design_changer_take_back (SbDesignChanger *self);

/* Whether something is on its way. */
gboolean sb_design_changer_is_busy (SbDesignChanger *self);

/* Before a save, an export, a close: settles at once what is measured already. FALSE while
 * something is still being measured; "settled" follows. */
gboolean sb_design_changer_hurry (SbDesignChanger *self);

G_END_DECLS
