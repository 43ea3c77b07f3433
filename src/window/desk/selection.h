/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is selected in a window: some pieces, or one design, or nothing (then Details shows the
 * sheet). Shared by canvas, drawer, details and proof pane. Main thread only.
 *
 * Signal "changed" (no arguments) when the selection is another one. Ids that vanish from the job
 * (removed, undone) drop out by themselves. */
#pragma once

#include <glib-object.h>

#include "job/job.h"

G_BEGIN_DECLS

#define SB_TYPE_SELECTION (sb_selection_get_type ())
G_DECLARE_FINAL_TYPE (SbSelection, sb_selection, SB, SELECTION, GObject)

/* Of no job yet. */
SbSelection *sb_selection_new (void) G_GNUC_WARN_UNUSED_RESULT;

/* The job whose ids are selected; clears the selection. NULL lets go of the job. */
void sb_selection_set_job (SbSelection *self, SbJob *job);
SbJob *sb_selection_get_job (SbSelection *self); /* borrowed, or NULL */

/* The selected pieces in the order they were selected; the last one is the one that keyboard
 * commands start from. Borrowed until the next change; `*n` may be 0. */
const guint *sb_selection_get_pieces (SbSelection *self, guint *n);
guint sb_selection_get_n_pieces (SbSelection *self);
gboolean sb_selection_contains (SbSelection *self, guint piece_id);

/* Selects exactly these pieces (repeated ids count once) and no design. Ids that are not in the job
 * are left out. */
void sb_selection_set_pieces (SbSelection *self, const guint *piece_ids, guint n);
void sb_selection_set_piece (SbSelection *self, guint piece_id);
/* Adds the piece, or takes it away when it is selected. */
void sb_selection_toggle_piece (SbSelection *self, guint piece_id);
void sb_selection_clear (SbSelection *self);

/* Selects one design and no pieces; 0 selects nothing. */
void sb_selection_set_design (SbSelection *self, guint design_id);
/* The selected design, or 0. */
guint sb_selection_get_design (SbSelection *self);

G_END_DECLS
