/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the panes of one window share about its open job: the document, the selection, decoded
 * artwork, findings and the maker's unit. A desk is made once a job is open and lives as long as
 * its window. Main thread only. */
#pragma once

#include "window/desk/checker.h"
#include "window/desk/design-changer.h"
#include "window/desk/document.h"
#include "window/desk/selection.h"
#include "window/parts/preferences.h"
#include "window/parts/work-card.h"
#include "window/pictures/art-store.h"

G_BEGIN_DECLS

#define SB_TYPE_DESK (sb_desk_get_type ())
G_DECLARE_FINAL_TYPE (SbDesk, sb_desk, SB, DESK, GObject)

/* Keeps both. */
SbDesk *sb_desk_new (SbDocument *document, SbPreferences *preferences) G_GNUC_WARN_UNUSED_RESULT;

/* Tells the maker something in passing: the window shows it as a toast, and sb_desk_say_undo
 * offers to undo what was just done. Signal "said" (text, gboolean can_undo). */
void sb_desk_say (SbDesk *self, const char *text);
void sb_desk_say_undo (SbDesk *self, const char *text);

/* Tells what went wrong; the window shows a dialog. Signal "failed" (heading, reason). */
void sb_desk_fail (SbDesk *self, const char *heading, const char *reason);

/* Shows in the window that slow work goes on, which `cancellable` stops. A new reference: say
 * sb_work_card_done at the end. NULL when no window shows the desk (any more). Signal "work". */
SbWorkCard *sb_desk_show_work (SbDesk *self, const char *title,
                               GCancellable *cancellable) G_GNUC_WARN_UNUSED_RESULT;

/* All borrowed. */
SbDocument *sb_desk_get_document (SbDesk *self);
SbJob *sb_desk_get_job (SbDesk *self);
SbSelection *sb_desk_get_selection (SbDesk *self);
SbArtStore *sb_desk_get_art (SbDesk *self);
SbChecker *sb_desk_get_checker (SbDesk *self);
SbDesignChanger *sb_desk_get_changer (SbDesk *self);
SbPreferences *sb_desk_get_preferences (SbDesk *self);

/* Short forms of what the panes ask most. */
SbState *sb_desk_get_state (SbDesk *self);   /* borrowed, with a preview under way */
SbState *sb_desk_get_settled (SbDesk *self); /* borrowed: what edits start from */
SbState *sb_desk_get_whole (SbDesk *self);   /* borrowed: the job, also while a layout is shown */
/* How many copies of a design lie on the pages of the job. */
int sb_desk_count_placed (SbDesk *self, guint design_id);
SbUnit sb_desk_get_unit (SbDesk *self);

/* The design whose details are shown: the selected one, or that of the last selected piece.
 * Borrowed; NULL when nothing is selected. */
SbDesign *sb_desk_get_current_design (SbDesk *self);

G_END_DECLS
