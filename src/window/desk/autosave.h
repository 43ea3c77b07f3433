/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Keeps a job for recovery: every few seconds of work, in a thread, until it is safe in its file or
 * thrown away. Main thread only. */
#pragma once

#include "job/recovery.h"
#include "window/desk/document.h"

G_BEGIN_DECLS

#define SB_TYPE_AUTOSAVE (sb_autosave_get_type ())
G_DECLARE_FINAL_TYPE (SbAutosave, sb_autosave, SB, AUTOSAVE, GObject)

/* `recovery` (consumed): where a recovered job was kept before; else NULL. */
SbAutosave *sb_autosave_new (SbDocument *document, SbRecovery *recovery) G_GNUC_WARN_UNUSED_RESULT;

/* The maker has saved or thrown away the work: nothing is to be recovered. Waits for a save under
 * way. */
void sb_autosave_stop (SbAutosave *self);

G_END_DECLS
