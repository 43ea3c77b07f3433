/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The document as the window holds it: the current state, the history of states behind and before
 * it, and the signals that tell of changes. Main thread only.
 *
 * Signals: "changed" after the state is another one (by an edit, undo, redo, or a preview);
 * "history-changed" when what undo and redo would do, or whether the job is saved, changes. */
#pragma once

#include <glib-object.h>

#include "job/state.h"

G_BEGIN_DECLS

#define SB_TYPE_JOB (sb_job_get_type ())
G_DECLARE_FINAL_TYPE (SbJob, sb_job, SB, JOB, GObject)

#define SB_HISTORY_MOST 1000 /* steps */

/* Takes a reference to `state`, which is the saved one. */
SbJob *sb_job_new (SbState *state);

SbState *sb_job_get_state (SbJob *job); /* borrowed */

/* Makes `next` (consumed) the state, as one step of history with a translated name ("Turn radish").
 * A `next` that is the current state changes nothing. `merge_key`: consecutive edits of the same
 * non-NULL key (a slider's run, arrow keys) within one second are one step. */
void sb_job_edit (SbJob *job, SbState *next, const char *name, const char *merge_key);

/* Shows `next` (consumed) without a step of history, while a drag or a slider is under way; the
 * following sb_job_edit or sb_job_drop_preview ends it. */
void sb_job_preview (SbJob *job, SbState *next);
void sb_job_drop_preview (SbJob *job);
/* The state that history knows: without the preview. Borrowed. */
SbState *sb_job_get_settled_state (SbJob *job);

/* Shows one layout from inside: states are then its views (job/layout-view.h), and a view that is
 * given to sb_job_edit is an edit of the layout. 0 shows the job as such again, and so does an undo
 * that takes the layout away. */
void sb_job_set_view (SbJob *job, guint layout_id);
guint sb_job_get_view (SbJob *job);
/* The settled state of the job as such, whatever is shown of it. Borrowed. */
SbState *sb_job_get_whole_state (SbJob *job);

gboolean sb_job_can_undo (SbJob *job);
gboolean sb_job_can_redo (SbJob *job);
const char *sb_job_get_undo_name (SbJob *job); /* NULL when none */
const char *sb_job_get_redo_name (SbJob *job);
void sb_job_undo (SbJob *job);
void sb_job_redo (SbJob *job);

/* Whether the settled state is the one last saved. */
gboolean sb_job_is_modified (SbJob *job);
void sb_job_mark_saved (SbJob *job, SbState *saved);

G_END_DECLS
